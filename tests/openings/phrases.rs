//! The first phrase of a part, in small capitals or capitals.

use harfrust::{Buffer, Feature, Font, ShapeOptions, ShaperFont, Tag};
use versefold::layout::{LaidLine, Layout};
use versefold::outputs::{WordsAs, layers};

use super::{first_line, laid, lay_out, plan};

/// The glyphs of a line's words on its baseline: the bytes that each stands for, and its number.
fn glyphs(line: &LaidLine) -> Vec<(usize, u16)> {
    let runs = line.runs.iter().filter(|run| run.baseline == line.baseline);
    let glyphs = runs.flat_map(|run| &run.glyphs);
    let glyphs = glyphs.map(|glyph| (glyph.text.start, glyph.id));
    glyphs
        .filter(|(at, _)| !line.text[*at..].starts_with(' '))
        .collect()
}

/// The glyphs of a word in Alegreya as harfrust shapes it with these features.
fn reference(word: &str, features: &[&[u8; 4]]) -> Vec<u16> {
    let data = std::fs::read("fonts-open/alegreya/Alegreya-Regular.ttf").expect("a font");
    let font = Font::new(data, 0).expect("a font");
    let features = features
        .iter()
        .map(|tag| Feature::new(Tag::new(tag), 1, ..));
    let features: Vec<Feature> = features.collect();
    let mut buffer = Buffer::new();
    buffer.push_str(word);
    buffer.guess_segment_properties();
    let options = ShapeOptions::new().features(&features);
    harfrust::shape(&ShaperFont::new(&font), &mut buffer, options).expect("shaped");
    let glyphs = buffer.glyph_infos().iter();
    glyphs.map(|glyph| glyph.glyph_id as u16).collect()
}

/// How many bytes of a line are drawn as small capitals, and whether all behind them are drawn as they are.
#[track_caller]
fn small_up_to(line: &LaidLine, phrase: &str) {
    let initial = line.text.chars().next().map_or(0, char::len_utf8);
    let shown = glyphs(line);
    let mut at = initial;
    for word in line.text[initial..].split(' ') {
        let small = at < phrase.len();
        let expected = match small {
            true => reference(word, &[b"smcp"]),
            false => reference(word, &[]),
        };
        let own = shown
            .iter()
            .filter(|(from, _)| (at..at + word.len()).contains(from));
        let own: Vec<u16> = own.map(|(_, id)| *id).collect();
        assert_eq!(own, expected, "“{word}” of “{}”", line.text);
        at += word.len() + 1;
    }
}

fn opening(words: &str, set_as: &str, then: &str) -> Layout {
    let text = format!("set-as = \"{set_as}\"\nopening = {{ drop = 2, then = \"{then}\" }}");
    laid(&plan("en-GB", &text), words)
}

const PROSE: &str = "Ten to seven, and then seven of them stood in the snow with the mail between them, \
                     waiting for the driver, who had gone to look at the road below the tunnel.\n";

/// Source of the small capitals: harfrust, the feature smcp of the same face.
#[test]
fn the_phrase_behind_an_initial_is_in_small_capitals() {
    let layout = opening(PROSE, "prose", "small-caps");
    let line = first_line(&layout);
    assert!(PROSE.starts_with(&line.text), "the words are as written");
    small_up_to(line, "Ten to seven,");
    reads_as_written(&layout, PROSE);
    let verse = "No one but the driver knew\nhow the road was.\n";
    let layout = opening(verse, "verse", "small-caps");
    small_up_to(first_line(&layout), "No one but the driver");
    // A phrase goes no farther than its line of verse.
    let verse = "No one came\nfor the mail, they say.\n";
    let layout = opening(verse, "verse", "small-caps");
    small_up_to(first_line(&layout), "No one came");
    assert_eq!(
        glyphs(&layout.panels[0].lines[1])[0].1,
        reference("f", &[])[0]
    );
    reads_as_written(&layout, verse);
}

#[test]
fn a_phrase_without_an_initial_is_drawn_too() {
    let text = "set-as = \"prose\"\nopening = { then = \"capitals\" }";
    let layout = laid(&plan("en-GB", text), PROSE);
    let line = first_line(&layout);
    let shown: Vec<u16> = glyphs(line).iter().take(10).map(|(_, id)| *id).collect();
    let expected = ["TEN", "TO", "SEVEN"]
        .map(|word| reference(word, &[]))
        .concat();
    assert_eq!(shown, expected);
    assert!(line.runs.iter().all(|run| run.baseline == line.baseline));
    reads_as_written(&layout, PROSE);
}

/// What a reader gets of the layers is what is written.
#[track_caller]
fn reads_as_written(layout: &Layout, written: &str) {
    for layer in layers(layout, WordsAs::Text).expect("layers") {
        versefold::readback::proof::read_back(&layer.bytes, &layer.words, &layer.name)
            .expect("as written");
        let words = layer.words.join(" ");
        let written: Vec<&str> = written.split_whitespace().collect();
        assert_eq!(words.split_whitespace().collect::<Vec<_>>(), written);
    }
}

#[test]
fn small_capitals_that_a_face_lacks_are_told() {
    let text = "typeface = \"Amiri\"\nopening = { drop = 2, then = \"small-caps\" }";
    let layout = laid(&plan("en-GB", text), "No one came\nfor the mail.\n");
    let note = layout
        .notes
        .iter()
        .find(|note| note.word == "no-small-caps");
    let note = note.expect("a remark");
    assert!(
        note.what.contains("Amiri-Regular does not have"),
        "{note:?}"
    );
    let place = note.place.as_ref().expect("a place");
    assert_eq!(place.line(), 1);
    let line = first_line(&layout);
    let run = line
        .runs
        .iter()
        .find(|run| run.baseline == line.baseline)
        .expect("words");
    assert_eq!(Some(run.glyphs[0].id), run.face.glyph('o'));
    // Hebrew has no small letters: nothing is lacking.
    let text = "typeface = \"Noto Serif Hebrew\"\nopening = { drop = 2, then = \"small-caps\" }";
    let layout = laid(&plan("he", text), "אוטובוס החורף\n");
    assert!(layout.notes.iter().all(|note| note.word != "no-small-caps"));
}

#[test]
fn what_an_opening_may_be() {
    for (opening, told) in [
        ("{ drop = 1 }", "`drop` must be from 2 to 6, or 0 for none"),
        ("{ drop = 7 }", "`drop` must be from 2 to 6, or 0 for none"),
        (
            "{ drop = 2, then = \"bold\" }",
            "`bold` is no word for `then`",
        ),
        ("{ drop = 2, than = \"capitals\" }", "`than`"),
        ("\"small-cap\"", "`small-cap` is no word for `opening`"),
        ("\"small-caps\"\nopening = { drop = 3 }", "opening"),
    ] {
        let plan = plan("en-GB", &format!("opening = {opening}"));
        let faults = lay_out(&plan, "No one came\n").expect_err(opening);
        assert!(faults[0].what.contains(told), "{opening}: {faults:#?}");
    }
}
