//! Large initials that are printed: an older version of the program set them by their advance, the white at their sides within
//! the text area. The files are what that version wrote.

use versefold::assets::Assets;
use versefold::book::{BookTexts, BreaksPolicy, Workbench};
use versefold::names::{Length, Source};

use super::{first_line, initial, plan};

const VERSE: &str =
    "Ten to seven on the pass,\nand seven of them in the snow\nwith the mail between them.\n";

const VERSE_PRINTED: &str = r#"words = 18

[[panel]]
panel = "front 1"
role = "text"
words = '''
Ten to seven on the pass,
and seven of them in the snow
with the mail between them.
'''
width = "105 mm"
height = "148 mm"
bleed = "3 mm"
passed = [
  { left = "11 mm", baseline = "16.879361 mm", words = "Ten to seven on the pass,", seal = "1-8962bb30bb96" },
  { left = "22.675278 mm", baseline = "22.171028 mm", words = "and seven of them in the snow", seal = "1-87c88ffa2419" },
  { left = "22.675278 mm", baseline = "27.462694 mm", words = "with the mail between them.", seal = "1-b83b9f50db0b" },
]

[[panel]]
panel = "front 2"
role = "blank"
"#;

const PROSE: &str = "Ten to seven on the pass, and seven of them stood in the snow with the mail between them, \
                     waiting for the driver, who had gone to look at the road below the tunnel, and who did not come \
                     back before the lamps were lit and the snow was over the wheels.\n";

const PROSE_PRINTED: &str = r#"words = 52

[[panel]]
panel = "front 1"
role = "text"
words = '''
Ten to seven on the pass, and seven of them stood in the snow with the mail between them, waiting for the driver, who had gone to look at the road below the tunnel, and who did not come back before the lamps were lit and the snow was over the wheels.
'''
width = "105 mm"
height = "148 mm"
bleed = "3 mm"
passed = [
  { left = "11 mm", baseline = "16.879361 mm", words = "Ten to seven on the pass, and seven of them", seal = "1-7d81367b7eb6" },
  { left = "22.675278 mm", baseline = "22.171028 mm", goes-on = true, words = "stood in the snow with the mail between them,", seal = "1-456fc22de8c8" },
  { left = "22.675278 mm", baseline = "27.462694 mm", goes-on = true, words = "waiting for the driver, who had gone to look", seal = "1-db8b4b3e0488" },
  { left = "11 mm", baseline = "32.754361 mm", goes-on = true, words = "at the road below the tunnel, and who did not come", seal = "1-b069b6c3b8a9" },
  { left = "11 mm", baseline = "38.046028 mm", goes-on = true, words = "back before the lamps were lit and the snow was over", seal = "1-48fc464d9371" },
  { left = "11 mm", baseline = "43.337694 mm", goes-on = true, words = "the wheels.", seal = "1-85536ec9e791" },
]

[[panel]]
panel = "front 2"
role = "blank"
"#;

#[test]
fn a_printed_initial_stays_where_it_stands() {
    for (set_as, align, words, breaks) in [
        ("verse", "left", VERSE, VERSE_PRINTED),
        ("prose", "justified", PROSE, PROSE_PRINTED),
    ] {
        let text = format!("set-as = \"{set_as}\"\nalign = \"{align}\"\nopening = {{ drop = 3 }}");
        let plan = plan("en-GB", &text).replace("panels-per-side = 4", "panels-per-side = 2");
        let texts = BookTexts {
            plan: Source::new("concertina.toml", plan.as_str()),
            manuscript: Source::new("winter-bus.txt", words),
            breaks: Some(Source::new("breaks.toml", breaks)),
        };
        let laid = Workbench::new(Assets::memory()).lay_out_book(&texts, BreaksPolicy::All);
        let layout = laid.unwrap_or_else(|faults| panic!("{faults:#?}"));
        let line = first_line(&layout);
        assert_eq!(
            initial(line).x,
            Length::mm(11),
            "its white stands within the area"
        );
        let beside = layout.panels[0].lines[1].x.as_mm();
        assert!((beside - 22.675).abs() < 0.001, "{beside}");
    }
}
