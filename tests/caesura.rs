//! Second halves of verse lines below each other: where their first glyphs stand.

use versefold::assets::Assets;
use versefold::book::Workbench;
use versefold::layout::{LaidLine, Layout};
use versefold::names::Length;

/// Lines whose halves are parted by spaces or a tab, of which one has none and one no room.
const ALLITERATIVE: &str = "\
Frost on the mirror,    fog on the road.
Bells under the mail sacks\tbefore it was day.
Nobody came.
  Brakes and a bend,   and a bend again.
“Hold on,” I said,  and they held on to me.

Out of the tunnel that nobody ever had called by a name of its own in the winter,   the sun.
Snow.   Snow.
";

fn laid(text: &str, manuscript: &str) -> Layout {
    let plan = crate::support::small_plan(8, &format!("[text]\nsize = \"7 pt\"\n{text}\n"));
    let plan = match text.contains("Amiri") {
        true => plan.replace("en-GB", "ar"),
        false => plan,
    };
    let assets = Assets::memory()
        .with("concertina.toml", plan)
        .with("winter-bus.txt", manuscript);
    Workbench::new(assets).lay_out().expect("a layout")
}

/// Where the glyph of a line stands whose text begins at a byte.
fn place_of(line: &LaidLine, byte: usize) -> Length {
    for run in &line.runs {
        let mut pen = 0;
        for glyph in &run.glyphs {
            if glyph.text.start == byte && !glyph.text.is_empty() {
                return run.x + run.face.scale(pen, run.size);
            }
            pen += glyph.advance;
        }
    }
    panic!("no glyph at {byte} of {}", line.text);
}

/// For each line of two halves, where the second begins.
fn second_halves(layout: &Layout) -> Vec<(String, Length)> {
    let lines = layout.panels.iter().flat_map(|panel| &panel.lines);
    let halves = lines.filter_map(|line| {
        let wide = line.text.find("  ").or_else(|| line.text.find('\t'))?;
        let second = line.text[wide..].trim_start();
        let at = line.text.len() - second.len();
        Some((second.to_string(), place_of(line, at)))
    });
    halves.collect()
}

#[test]
fn second_halves_stand_below_each_other() {
    let as_written = second_halves(&laid("", ALLITERATIVE));
    assert!(as_written.windows(2).any(|pair| pair[0].1 != pair[1].1));
    let aligned = second_halves(&laid("caesura = \"aligned\"", ALLITERATIVE));
    let first = aligned[0].1;
    for (half, at) in aligned.iter().filter(|(half, _)| half != "the sun.") {
        let off = (*at - first).units().abs();
        assert!(
            off <= Length::mm(1).units() / 100,
            "{half} stands {off} off"
        );
    }
    assert_eq!(aligned.len(), as_written.len());
    // The one without room keeps its own space, and that is told.
    let layout = laid("caesura = \"aligned\"", ALLITERATIVE);
    let told = layout
        .notes
        .iter()
        .filter(|note| note.word == "half-without-room");
    let lines: Vec<usize> = told
        .filter_map(|note| Some(note.place.as_ref()?.line()))
        .collect();
    assert_eq!(lines, [7]);
}

/// The bayt of a couplet in Arabic: its halves stand at one place, counted from the right.
#[test]
fn halves_of_lines_that_run_from_right_to_left_do_too() {
    let poem = "الثلج على الطريق    والحافلة تصعد\nوالليل طويل\tوالجرس يرن في البعيد\nوأنا  أسوق\n";
    let text = "typeface = \"Amiri\"\nfallback = [\"Alegreya\"]\ncaesura = \"aligned\"";
    let layout = laid(text, poem);
    let lines = layout.panels.iter().flat_map(|panel| &panel.lines);
    let places: Vec<Length> = lines
        .filter_map(|line| {
            let wide = line.text.find("  ").or_else(|| line.text.find('\t'))?;
            let at = line.text.len() - line.text[wide..].trim_start().len();
            let second = line.runs.iter().flat_map(|run| {
                let mut pen = 0;
                run.glyphs.iter().map(move |glyph| {
                    pen += glyph.advance;
                    (glyph, run.x + run.face.scale(pen, run.size))
                })
            });
            // The first letter of the half is the one that stands farthest to the right.
            let own = second.filter(|(glyph, _)| glyph.text.start >= at && !glyph.text.is_empty());
            own.map(|(_, right)| right).max()
        })
        .collect();
    assert_eq!(places.len(), 3);
    for place in &places {
        let off = (*place - places[0]).units().abs();
        assert!(off <= Length::mm(1).units() / 100, "{places:?}");
    }
}
