//! Parts that are set otherwise than the book: each is laid out as in a book that is set so throughout. And what is told of
//! leadings that do not go together, or let lines touch.

use std::fs;

use crate::support::{run_in, small_plan, temporary, write_book};
use versefold::assets::Assets;
use versefold::book::Workbench;
use versefold::book::plan_file::vary::{Variation, vary};
use versefold::layout::{LaidLine, LaidPanel, Layout, verify};
use versefold::names::{HalfLines, Length, PanelName, Source};
use versefold::text::{LineKind, Manuscript};

/// Verse that turns over, with quotation marks at both ends of lines, and prose with long words and figures.
const WORDS: &str = "\
“The bus leaves the village at six, and the mail is in the back, and the snow is before it.”
Nobody says a word to the driver, who has the chains on her knees and the road in her head,
“and nobody needs to.”

One more bend, she says to the old engine.

[part: prose]
[set as prose]
In 1974 the administration acknowledged, in correspondence of characteristic thoroughness, the \
responsibilities of “extraordinary winter transportation.” Everybody else called it the bus.

It was the 31st bend that mattered: on 14 February the undercarriage had straightforwardly \
disintegrated, notwithstanding reassurances.
";

/// Pointed Arabic, of our own: the winter bus climbs, and a letter waits beyond the pass.
const POINTED: &str = "\
حَافِلَةُ الشِّتَاءِ تَصْعَدُ فِي الثَّلْجِ
إِلَى الْمَمَرِّ الْأَخِيرِ مِنَ الْجَبَلِ
وَأَكْيَاسُ الْبَرِيدِ خَلْفَ سَائِقَةٍ
تَعُدُّ الْمُنْعَطَفَاتِ عَلَى مَهَلٍ

وَخَلْفَ الْقِمَّةِ رِسَالَةٌ لِمُسَافِرٍ
لَمْ يَفْتَحْهَا أَحَدٌ حَتَّى الْآنَ
مُحِيَ عُنْوَانُهَا تَحْتَ الثُّلُوجِ
وَبَقِيَ فِيهَا ضَوْءٌ لِلْمَكَانِ
";

fn plan(text: &str, body: &str, prose: &str, prose_on: &str) -> String {
    format!(
        "title = \"The Winter Bus\"\nlanguage = \"en-GB\"\nmanuscript = \"winter-bus.txt\"\n\
         [paper]\npanel-width = \"90 mm\"\npanel-height = \"90 mm\"\npanels-per-side = 4\n\
         [text]\n{text}\n\
         [[part]]\nname = \"body\"\non = [\"front 1 to front 2\"]\n{body}\n\
         [[part]]\nname = \"prose\"\non = [\"{prose_on}\"]\n{prose}\n"
    )
}

/// The layout, which must keep every promise.
fn lay_out(plan: &str, words: &str) -> Layout {
    let manuscript = Source::new("winter-bus.txt", words);
    let plan_source = Source::new("concertina.toml", plan);
    let layout = Workbench::new(Assets::memory()).lay_out_texts(&plan_source, &manuscript);
    let layout = layout.unwrap_or_else(|faults| panic!("{plan}\n{faults:?}"));
    let read = Manuscript::read(&manuscript).expect("a manuscript");
    assert_eq!(verify(&read, &layout), Ok(()), "{plan}");
    layout
}

/// What the panels of a part show, spelt out to the last glyph.
fn shown(layout: &Layout, part: &str) -> String {
    let on = &layout
        .parts
        .iter()
        .find(|known| known.name == part)
        .expect("the part")
        .on;
    let panels = layout
        .panels
        .iter()
        .filter(|panel| on.contains(&panel.panel));
    panels.map(|panel| format!("{panel:?}\n")).collect()
}

/// Asserts that settings do to a part alone what they do to a book, and that they do something.
fn assert_alike(own: &str, part: &str) {
    let on = "back 1 to back 3";
    let of_part = match part {
        "body" => plan("", own, "", on),
        _ => plan("", "", own, on),
    };
    let usual = shown(&lay_out(&plan("", "", "", on), WORDS), part);
    let of_book = shown(&lay_out(&plan(own, "", "", on), WORDS), part);
    let of_part = lay_out(&of_part, WORDS);
    assert_eq!(shown(&of_part, part), of_book, "{own} of {part}");
    assert_ne!(of_book, usual, "{own} does nothing to {part}");
    let other = if part == "body" { "prose" } else { "body" };
    let untouched = shown(&lay_out(&plan("", "", "", on), WORDS), other);
    assert_eq!(
        shown(&of_part, other),
        untouched,
        "{own} of {part} moves {other}"
    );
}

#[test]
fn each_setting_of_a_part_does_what_it_does_to_a_book() {
    for (own, part) in [
        ("leading = \"19.3 pt\"", "body"),
        ("leading = \"1.6 em\"", "prose"),
        ("margins = { left = \"13 mm\", right = \"7 mm\" }", "body"),
        (
            "margins = { inner = \"14 mm\", outer = \"9 mm\", foot = \"24 mm\" }",
            "prose",
        ),
        ("vertical = \"optical-centre\"", "body"),
        ("features = [\"lnum\"]", "prose"),
        ("hyphenate = true", "prose"),
        ("turnover = \"right\"", "body"),
        ("turnover = \"4 line\"", "body"),
        ("hang = \"none\"", "body"),
        ("hang = \"none\"", "prose"),
    ] {
        assert_alike(own, part);
    }
}

#[test]
fn a_part_with_its_own_leading_has_a_grid_of_its_own() {
    let own = "leading = \"20 pt\"\nmargins = { head = \"17 mm\", left = \"14 mm\" }\n\
               vertical = \"centre\"\nfeatures = [\"lnum\"]\nhang = \"all\"\n";
    assert_alike(
        &format!("{own}turnover = \"1 line\"\nsize = \"12 pt\""),
        "body",
    );
    assert_alike(&format!("{own}hyphenate = true"), "prose");
    let layout = lay_out(&plan("", "", own, "back 1 to back 3"), WORDS);
    let [body, prose] = &layout.parts[..] else {
        panic!("two parts")
    };
    assert_eq!(body.grid, layout.grid);
    assert_eq!(prose.grid.leading, Length::pt(20));
    // Every file is proved and read back.
    let temp = temporary();
    write_book(temp.path(), &plan("", "", own, "back 1 to back 3"), WORDS);
    run_in(temp.path(), &["layers", "--quiet"]).done();
}

/// What is pinned on a panel is measured by the lines of its part.
#[test]
fn lengths_of_a_panel_are_in_lines_of_its_part() {
    let pinned = |head: &str| {
        let pin = format!("[[panel]]\npanel = \"back 1\"\nmargins = {{ head = \"{head}\" }}\n");
        let own = "leading = \"20 pt\"";
        let layout = lay_out(&(plan("", "", own, "back 1 to back 3") + &pin), WORDS);
        let back = panel(&layout, PanelName::back(1));
        (back.area.expect("an area").top, format!("{:?}", back.lines))
    };
    assert_eq!(pinned("3 lines"), pinned("60 pt"));
    assert_eq!(pinned("3 lines").0, Length::pt(60));
}

fn panel(layout: &Layout, name: PanelName) -> &LaidPanel {
    let mut panels = layout.panels.iter();
    panels.find(|panel| panel.panel == name).expect("the panel")
}

/// Front 2 and front 3 are a spread.
#[test]
fn words_of_a_spread_begin_together_where_they_have_one_grid() {
    let text = "vertical = \"optical-centre\"";
    let words = WORDS.replacen("One more", "[new panel]\nOne more", 1);
    let lead = |prose: &str, on: &str| -> HalfLines {
        let layout = lay_out(&plan(text, "", prose, on), &words);
        panel(&layout, PanelName::front(2)).lead
    };
    let alone = lead("", "back 1 to back 4");
    assert_ne!(
        lead("", "front 3 to front 4"),
        alone,
        "the fuller panel leads"
    );
    let own = "leading = \"14 pt\"";
    assert_eq!(lead(own, "front 3 to front 4"), alone);
    let told = |prose: &str, on: &str| {
        told(
            &lay_out(&plan(text, "", prose, on), &words),
            "facing-leadings",
        )
    };
    let what = "facing panels have different leadings, so their lines do not stand side by side: \
                front 2 (15 pt) and front 3 (14 pt)";
    assert_eq!(told(own, "front 3 to front 4"), [what]);
    assert!(told(own, "back 1 to back 4").is_empty());
    assert!(told("", "front 3 to front 4").is_empty());
}

/// What the remarks of that word say.
fn told(layout: &Layout, word: &str) -> Vec<String> {
    let notes = layout.notes.iter().filter(|note| note.word == word);
    notes.map(|note| note.what.clone()).collect()
}

fn pointed(leading: &str) -> Layout {
    let plan = format!(
        "title = \"The Winter Bus\"\nlanguage = \"ar\"\nmanuscript = \"winter-bus.txt\"\n\
         [paper]\npanel-width = \"90 mm\"\npanel-height = \"90 mm\"\npanels-per-side = 4\n\
         reads = \"right-to-left\"\n[text]\ntypeface = \"Amiri\"\nleading = \"{leading}\"\n"
    );
    lay_out(&plan, POINTED)
}

/// The ink of every glyph of a line: left, right, top, foot, from the panel's top-left corner.
fn ink(line: &LaidLine) -> Vec<[f64; 4]> {
    let mut found = Vec::new();
    for run in &line.runs {
        let em = run.size.as_pt() / f64::from(run.face.metrics().units_per_em);
        let (mut pen, base) = (run.x.as_pt(), run.baseline.as_pt());
        for glyph in &run.glyphs {
            if let Some([left, bottom, right, top]) = run.face.ink_box(glyph.id) {
                let [x, y] = [glyph.dx, glyph.dy].map(|off| f64::from(off) * em);
                let [left, bottom, right, top] =
                    [left, bottom, right, top].map(|at| f64::from(at) * em);
                found.push([
                    pen + x + left,
                    pen + x + right,
                    base - y - top,
                    base - y - bottom,
                ]);
            }
            pen += f64::from(glyph.advance) * em;
        }
    }
    found
}

/// How far the ink of two lines lies over each other down the panel, where it does across; in points.
fn over(upper: &LaidLine, lower: &LaidLine) -> f64 {
    let below = ink(lower);
    let pairs = ink(upper)
        .into_iter()
        .flat_map(|one| below.iter().map(move |other| (one, *other)));
    let beside = pairs.filter(|(one, other)| one[0] < other[1] && other[0] < one[1]);
    beside
        .map(|(one, other)| one[3] - other[2])
        .fold(f64::NEG_INFINITY, f64::max)
}

/// On how many panels lines touch, found by holding every glyph of a line against every one of the next.
fn panels_that_touch(layout: &Layout) -> usize {
    let touch = |panel: &&LaidPanel| {
        panel
            .lines
            .windows(2)
            .any(|pair| over(&pair[0], &pair[1]) > 0.001)
    };
    layout.panels.iter().filter(touch).count()
}

#[test]
fn lines_whose_marks_touch_are_told_once_with_what_would_keep_them_apart() {
    for leading in ["13 pt", "15 pt", "17 pt"] {
        let layout = pointed(leading);
        let touch = panels_that_touch(&layout);
        let remarks = told(&layout, "touching-lines");
        let [what] = &remarks[..] else {
            panic!("at {leading} lines touch on {touch} panels: {remarks:?}")
        };
        let on = match touch {
            1 => "lines touch on front ".to_string(),
            many => format!("lines touch on {many} panels, first on front "),
        };
        assert!(what.starts_with(&on), "{what}");
        let told = what.split("at a leading of ").nth(1).expect("a leading");
        let least: f64 = told
            .split(' ')
            .next()
            .and_then(|pt| pt.parse().ok())
            .expect("points");
        for (leading, touches) in [(least, false), (least - 0.1, true)] {
            let layout = pointed(&format!("{leading:.1} pt"));
            assert_eq!(panels_that_touch(&layout) > 0, touches, "at {leading}");
            let remarks = self::told(&layout, "touching-lines");
            assert_eq!(!remarks.is_empty(), touches, "at {leading}: {remarks:?}");
        }
        let note = layout
            .notes
            .iter()
            .find(|note| note.word == "touching-lines");
        let place = note.and_then(|note| note.place.as_ref()).expect("a place");
        assert_eq!(place.source.name, "winter-bus.txt");
    }
}

/// Descenders over ascenders are told where they really meet, and only there.
#[test]
fn solid_lines_are_told_only_where_their_letters_meet() {
    let solid = |words: &str| {
        let layout = lay_out(&small_plan(2, "[text]\nleading = \"9 pt\"\n"), words);
        (told(&layout, "touching-lines"), panels_that_touch(&layout))
    };
    assert_eq!(solid("a gypsy\nnow a cause\n"), (vec![], 0));
    // The ascenders stand beside the descenders.
    assert_eq!(solid("gyp and so\nas we had all\n"), (vec![], 0));
    let (told, panels) = solid("and gypsy\nhad bad luck\n");
    assert_eq!((told.len(), panels), (1, 1), "{told:?}");
}

#[test]
fn a_new_book_has_the_leading_that_its_marks_need() {
    let temp = temporary();
    let begun = |name: &str, language: &str, words: &str| {
        fs::write(temp.path().join(format!("{name}.txt")), words).expect("written");
        let words = format!("{name}.txt");
        let call = [
            "new",
            name,
            "--manuscript",
            &words,
            "--language",
            language,
            "--quiet",
        ];
        run_in(temp.path(), &call).done();
        let plan =
            fs::read_to_string(temp.path().join(name).join("concertina.toml")).expect("a plan");
        let line = plan
            .lines()
            .find(|line| line.contains("leading = "))
            .expect("a leading");
        let flow = run_in(&temp.path().join(name), &["flow"]).done();
        assert!(!flow.contains("ines touch"), "{flow}");
        line.to_string()
    };
    let own = begun("pointed", "ar", POINTED);
    let points = own
        .strip_prefix("leading = \"")
        .and_then(|rest| rest.split(' ').next());
    let points: f64 = points
        .and_then(|pt| pt.parse().ok())
        .unwrap_or_else(|| panic!("{own}"));
    assert!((18.0..=23.0).contains(&points), "{own}");
    let usual = begun(
        "plain",
        "en-GB",
        "The bus leaves the village at six.\n\nÅh, Ærø, façade.\n",
    );
    assert_eq!(usual, "# leading = \"15 pt\"");
}

/// At another size of the book the leading of a part goes along, unless it has a size of its own.
#[test]
fn the_leading_of_a_part_goes_with_the_size_of_the_book() {
    let varied = |own: &str| {
        let source = Source::new("concertina.toml", plan("", own, "", "back 1 to back 3"));
        let size = Some(Length::pt(22));
        let plan = vary(&source, Variation { size, panels: None }).expect("a sound plan");
        plan.part("body").expect("the part").text.leading
    };
    assert_eq!(varied("leading = \"20 pt\""), Length::pt(40));
    assert_eq!(
        varied("leading = \"20 pt\"\nsize = \"12 pt\""),
        Length::pt(20)
    );
    assert_eq!(varied(""), Length::pt(30));
}

/// The words of headings and of a title that the plan adds stand on the grid of the part's panels.
#[test]
fn headings_and_the_plans_title_stand_on_the_grid_of_a_part() {
    let words = format!(
        "## The village\n\n{}",
        WORDS.replacen("One more", "[new panel]\nOne more", 1)
    );
    let title = "author = \"Her Mother\"\n";
    let pin = "[[panel]]\npanel = \"front 1\"\nrole = \"title\"\n";
    let own = "leading = \"17 pt\"";
    let on = "back 1 to back 4";
    let wide = |plan: String| {
        format!("{title}{plan}{pin}").replace("front 1 to front 2", "front 1 to front 4")
    };
    let of_part = lay_out(&wide(plan("", own, "", on)), &words);
    let of_book = lay_out(&wide(plan(own, "", "", on)), &words);
    assert_eq!(shown(&of_part, "body"), shown(&of_book, "body"));
    let lines = || of_part.panels.iter().flat_map(|panel| &panel.lines);
    for kind in [LineKind::Title, LineKind::Author, LineKind::Heading] {
        assert!(lines().any(|line| line.kind == kind), "{kind:?}");
    }
}
