//! Words wholly of capitals within a text: a little apart, or as small capitals.

use harfrust::{Buffer, Feature, Font, ShapeOptions, ShaperFont, Tag};
use versefold::assets::Assets;
use versefold::book::Workbench;
use versefold::layout::{LaidLine, Layout};
use versefold::names::{Length, Source};

fn laid(text: &str, words: &str) -> Layout {
    let plan = format!(
        "title = \"The Winter Bus\"\nlanguage = \"en-GB\"\nmanuscript = \"winter-bus.txt\"\n\
         [paper]\npanel-width = \"200 mm\"\npanel-height = \"148 mm\"\npanels-per-side = 4\nsides = \"front\"\n\
         [text]\nsize = \"10 pt\"\nleading = \"15 pt\"\n{text}\n"
    );
    let plan = Source::new("concertina.toml", plan.as_str());
    let words = Source::new("winter-bus.txt", words);
    let laid = Workbench::new(Assets::memory()).lay_out_texts(&plan, &words);
    laid.unwrap_or_else(|faults| panic!("{faults:#?}"))
}

/// The byte that each glyph of a line stands for, its number, and where it stands.
fn glyphs(line: &LaidLine) -> Vec<(usize, u16, Length)> {
    let mut found = Vec::new();
    for run in &line.runs {
        let mut pen = 0;
        for glyph in &run.glyphs {
            let x = run.x + run.face.scale(pen + glyph.dx, run.size);
            found.push((glyph.text.start, glyph.id, x));
            pen += glyph.advance;
        }
    }
    found
}

/// Words of three capitals and more, and shorter ones beside them: of which letters another of the same word follows.
const LINE: &str = "He AVERTED it: “NATO” (VAT IS LAW), a TVA’s map, I AM Mr ÉVA, but U.S. AV";
const FOLLOWED: &str = "AVERTE NAT VA I LA TV ÉV";

/// Every glyph is the one that it was; it stands to the right of where it stood by a twentieth of the size for each letter
/// before it that is followed by another of its word. So kerning is what it was.
#[test]
fn words_in_capitals_stand_a_twentieth_apart() {
    let plain = laid("", LINE);
    let apart = laid("capitals = \"letterspaced\"", LINE);
    let (plain, apart) = (&plain.panels[0].lines[0], &apart.panels[0].lines[0]);
    assert_eq!((plain.text.as_str(), apart.text.as_str()), (LINE, LINE));
    let mut spaced: Vec<usize> = Vec::new();
    let mut from = 0;
    for word in FOLLOWED.split(' ') {
        let at = LINE[from..].find(word).expect("a word of the line") + from;
        spaced.extend(
            LINE[at..at + word.len()]
                .char_indices()
                .map(|(i, _)| at + i),
        );
        from = at + word.len();
    }
    assert_eq!(glyphs(plain).len(), glyphs(apart).len());
    for (was, is) in glyphs(plain).into_iter().zip(glyphs(apart)) {
        assert_eq!((was.0, was.1), (is.0, is.1));
        let before = spaced.iter().filter(|at| **at < was.0).count();
        let expected = (Length::pt(10) / 20 * before as i64).as_pt();
        let moved = (is.2 - was.2).as_pt();
        assert!(
            (moved - expected).abs() < 0.05,
            "{:?}: {moved}, not {expected}",
            &LINE[was.0..]
        );
    }
}

/// The glyphs of a text in Alegreya as harfrust shapes it with a feature.
fn reference(text: &str, feature: &[u8; 4]) -> Vec<u16> {
    let data = std::fs::read("fonts-open/alegreya/Alegreya-Regular.ttf").expect("a font");
    let font = Font::new(data, 0).expect("a font");
    let mut buffer = Buffer::new();
    buffer.push_str(text);
    buffer.guess_segment_properties();
    let features = [Feature::new(Tag::new(feature), 1, ..)];
    let options = ShapeOptions::new().features(&features);
    harfrust::shape(&ShaperFont::new(&font), &mut buffer, options).expect("shaped");
    buffer
        .glyph_infos()
        .iter()
        .map(|glyph| glyph.glyph_id as u16)
        .collect()
}

/// Source of the small capitals: harfrust, the feature c2sc of the same face.
#[test]
fn words_in_capitals_become_small_capitals() {
    let layout = laid(
        "capitals = \"small\"",
        "The men of NATO’s road: I say.\n\n## FROM ROME\n\nA road.\n",
    );
    let line = &layout.panels[0].lines[0];
    let own = |word: &str| -> Vec<u16> {
        let at = line.text.find(word).expect("a word");
        let own = glyphs(line).into_iter();
        let own = own.filter(|(from, ..)| (at..at + word.len()).contains(from));
        own.map(|(_, id, _)| id).collect()
    };
    assert_eq!(own("NATO’s"), reference("NATO’s", b"c2sc"));
    assert_ne!(own("NATO’s"), reference("NATO’s", b"liga"));
    assert_eq!(own("The"), reference("The", b"liga"));
    assert_eq!(own("I"), reference("I", b"liga"));
    let heading = &layout.panels[0].lines[1];
    let shown: Vec<u16> = glyphs(heading)
        .iter()
        .map(|glyph| glyph.1)
        .take(4)
        .collect();
    assert_eq!(
        shown,
        reference("FROM", b"smcp"),
        "headings have their own style"
    );
}

#[test]
fn what_is_not_set_so() {
    let apart = |text: &str, words: &str| {
        let spaced = laid(&format!("{text}\ncapitals = \"letterspaced\""), words);
        let (spaced, plain) = (
            &spaced.panels[0].lines[0],
            &laid(text, words).panels[0].lines[0],
        );
        (spaced.width - plain.width).as_pt()
    };
    // A word that a large initial begins; the next is.
    assert!(
        apart(
            "opening = { drop = 2 }",
            "SNOW on the road\nand on the bus\n"
        )
        .abs()
            < 0.01
    );
    assert!(apart("", "SNOW on the road\nand on the bus\n") > 1.4);
    // Letters that join have no capitals; Hebrew beside capitals is left as it is.
    let hebrew = "typeface = \"Noto Serif Hebrew\"\nfallback = [\"Alegreya\"]";
    assert!((apart(hebrew, "אוטובוס-NATO") - 1.5).abs() < 0.05);
    let told = laid(
        "typeface = \"Amiri\"\ncapitals = \"small\"",
        "Snow\nNATO and NATO\n",
    );
    let notes: Vec<_> = told
        .notes
        .iter()
        .filter(|note| note.word == "no-small-caps")
        .collect();
    assert_eq!(notes.len(), 1, "{notes:?}");
    let place = notes[0].place.as_ref().expect("a place");
    assert_eq!((place.line(), notes[0].what.contains("Amiri")), (2, true));
}

#[test]
fn a_part_may_have_its_own() {
    let parts = "capitals = \"letterspaced\"\n[[part]]\nname = \"body\"\non = [\"front 1\"]\n\
                 [[part]]\nname = \"colophon\"\non = [\"front 2\"]\ncapitals = \"as-written\"";
    let layout = laid(parts, "NATO\n\n[part: colophon]\n\nNATO\n");
    let width = |panel: usize| layout.panels[panel].lines[0].width;
    let more = (width(0) - width(1)).as_pt();
    assert!((more - 1.5).abs() < 0.05, "{more}");
}
