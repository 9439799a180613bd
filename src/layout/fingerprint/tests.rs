//! Fingerprints stand in files that authors keep, so they stay what they are.
//!
//! The values were worked out by another program from the description of the encoding, with the SHA-256 of Python's
//! `hashlib`.

use std::sync::Arc;

use super::{Age, age, seal, shown_of};
use crate::assets::Assets;
use crate::layout::{GlyphRun, LaidGlyph, LaidLine, LaidPanel};
use crate::names::{Direction, HalfLines, Ink, Length, LinesRun, PanelName, Role};
use crate::text::LineKind;
use crate::typeface::{Face, Family, FontLibrary};

const LEFT: Length = Length::mm(11);

fn baseline() -> Length {
    Length::mm(16) + Length::from_units(7)
}

fn family() -> Family {
    let family = FontLibrary::new(Assets::memory()).open_family("Alegreya");
    family.expect("it comes with the program")
}

fn run(face: &Arc<Face>, size: i64, (x, up): (Length, Length), glyphs: &[[i32; 4]]) -> GlyphRun {
    let glyph = |&[id, advance, dx, dy]: &[i32; 4]| LaidGlyph {
        id: u16::try_from(id).expect("a glyph"),
        advance,
        dx,
        dy,
        text: 0..0,
        added: None,
        dots: None,
    };
    GlyphRun {
        face: Arc::clone(face),
        size: Length::pt(size),
        x: LEFT + x,
        baseline: baseline() - up,
        reads: Direction::LeftToRight,
        capitals: false,
        upright: false,
        glyphs: glyphs.iter().map(glyph).collect(),
    }
}

fn line(ink: Ink, runs: Vec<GlyphRun>) -> LaidLine {
    LaidLine {
        part: None,
        language: "en-GB".to_string(),
        kind: LineKind::Verse,
        block: 0,
        row: 0,
        space_above: HalfLines::ZERO,
        lines_run: LinesRun::Across,
        text: String::new(),
        stretch: 0..0,
        x: LEFT,
        baseline: baseline(),
        width: Length::mm(20),
        measure: Length::mm(83),
        size: Length::pt(11),
        turnover: false,
        added: None,
        glued: false,
        sources: Vec::new(),
        ink,
        runs,
    }
}

/// Two upright glyphs, the second drawn back and raised.
fn one_run() -> Vec<GlyphRun> {
    let glyphs = [[36, 500, 0, 0], [37, 510, -3, 12]];
    let here = (Length::ZERO, Length::ZERO);
    vec![run(&family().regular, 11, here, &glyphs)]
}

/// Those runs with a small raised italic glyph, whose advance goes back.
fn two_runs() -> Vec<GlyphRun> {
    let mut runs = one_run();
    let italic = family().italic.expect("it has one");
    let behind = (Length::mm(20), Length::pt(1));
    runs.push(run(&italic, 8, behind, &[[4, -250, 0, 0]]));
    runs
}

fn spot() -> Ink {
    Ink::Spot {
        name: "Rust".to_string(),
        cmyk: [0, 600, 800, 200],
    }
}

fn panel(lines: Vec<LaidLine>) -> LaidPanel {
    LaidPanel {
        panel: PanelName::front(1),
        size: (Length::mm(90), Length::mm(90)),
        role: Role::Text,
        picture: None,
        picture_panels: Vec::new(),
        area: None,
        shape: Vec::new(),
        slots: Vec::new(),
        lead: HalfLines::ZERO,
        rooms: Vec::new(),
        fullness: None,
        costs: Vec::new(),
        pinned: false,
        passed: false,
        continues: false,
        lines,
    }
}

#[test]
fn seals_of_lines_stay_what_they_are() {
    let sealed = [
        (Ink::Black, Vec::new(), "1-989e598605cb"),
        (Ink::Black, one_run(), "1-b4640fd651a9"),
        (Ink::ReversedOut, one_run(), "1-0874b4d7c8e0"),
        (Ink::Grey(300), one_run(), "1-a810953c3e54"),
        (Ink::Cmyk([1, 2, 3, 4]), one_run(), "1-57d007749ff5"),
        (Ink::Rgb([5, 6, 7]), one_run(), "1-9d8f939f2e2e"),
        (spot(), two_runs(), "1-41ac6587b963"),
    ];
    for (ink, runs, expected) in sealed {
        let told = format!("{ink:?}");
        assert_eq!(seal(&line(ink, runs)), expected, "{told}");
    }
}

/// Wherever a line stands, its seal is the same.
#[test]
fn a_line_that_is_moved_keeps_its_seal() {
    let still = line(spot(), two_runs());
    let mut moved = still.clone();
    let by = Length::from_units(12_345);
    (moved.x, moved.baseline) = (moved.x + by, moved.baseline - by);
    for run in &mut moved.runs {
        (run.x, run.baseline) = (run.x + by, run.baseline - by);
    }
    assert_eq!(seal(&moved), seal(&still));
    moved.runs[1].x += Length::from_units(1);
    assert_ne!(seal(&moved), seal(&still));
}

#[test]
fn fingerprints_shown_ofs_stay_what_they_are() {
    let lines = vec![line(Ink::Black, one_run()), line(spot(), two_runs())];
    for (lines, expected) in [
        (Vec::new(), "1-0362ebe39703c2e795b2bee4bc16d409"),
        (lines, "1-652bfeaeab7ecd004d061a6d41ab80c2"),
    ] {
        assert_eq!(shown_of(&panel(lines), Length::mm(3)), expected);
    }
}

#[test]
fn a_fingerprint_tells_how_old_it_is() {
    for (fingerprint, expected) in [
        ("1-5b0c5f2a9d13", Age::Ours),
        ("0-5b0c5f2a9d13", Age::Older),
        ("5b0c5f2a9d13", Age::Older),
        ("2-5b0c", Age::Newer),
        ("11-5b0c", Age::Newer),
        ("by hand", Age::Ours),
        ("", Age::Ours),
    ] {
        assert_eq!(age(fingerprint), expected, "{fingerprint}");
    }
}
