//! Every byte of a manuscript is accounted for once, and every word byte stands in one line.

use std::cell::Cell;

use proptest::prelude::*;
use proptest::test_runner::{Config, TestRunner};
use versefold::text::{Manuscript, TileKind};

use super::{lines, read, texts};

/// What kind of tile each byte is.
fn kinds(manuscript: &Manuscript, text: &str) -> Result<Vec<TileKind>, TestCaseError> {
    let mut kinds = Vec::new();
    for tile in manuscript.tiles() {
        prop_assert_eq!(tile.from, kinds.len(), "the tiles leave a gap or overlap");
        prop_assert!(tile.from < tile.to, "an empty tile");
        prop_assert!(text.is_char_boundary(tile.to), "a tile cuts a character");
        kinds.resize(tile.to, tile.kind);
    }
    prop_assert_eq!(kinds.len(), text.len(), "the tiles end too early");
    Ok(kinds)
}

/// The kinds that a character may have, whatever stands around it.
fn check_kind(c: char, kind: TileKind) -> Result<(), TestCaseError> {
    let right = match c {
        ' ' | '\t' => matches!(kind, TileKind::Space | TileKind::Callout),
        _ if texts::ends_line(c) => kind == TileKind::LineEnd,
        '*' | '\\' | '#' | '>' | '\u{feff}' => !matches!(kind, TileKind::Space | TileKind::LineEnd),
        _ => matches!(kind, TileKind::Word | TileKind::Callout),
    };
    prop_assert!(right, "{:?} is tiled as {:?}", c, kind);
    Ok(())
}

fn check(text: &str, manuscript: &Manuscript) -> Result<(), TestCaseError> {
    let kinds = kinds(manuscript, text)?;
    for (at, c) in text.char_indices() {
        check_kind(c, kinds[at])?;
    }
    let mut at = 0;
    for line in lines(manuscript) {
        for run in &line.runs {
            prop_assert!(at <= run.from && run.from < run.to, "a run out of order");
            prop_assert!(line.bytes.start <= run.from && run.to <= line.bytes.end);
            let between = &kinds[at..run.from];
            prop_assert!(!between.contains(&TileKind::Word), "words in no line");
            let inside = |kind: &TileKind| matches!(kind, TileKind::Word | TileKind::Space);
            prop_assert!(
                kinds[run.from..run.to].iter().all(inside),
                "mark-up in a run"
            );
            at = run.to;
        }
    }
    prop_assert!(!kinds[at..].contains(&TileKind::Word), "words in no line");
    Ok(())
}

#[test]
fn reading_never_panics_and_tiles_every_byte_once() {
    let sound = Cell::new(0);
    let mut runner = TestRunner::new(Config {
        failure_persistence: None,
        ..Config::with_cases(4_000)
    });
    let result = runner.run(&texts::manuscript(2), |text| match read(&text) {
        Ok(manuscript) => {
            sound.set(sound.get() + 1);
            check(&text, &manuscript)
        }
        Err(faults) => {
            prop_assert!(!faults.is_empty(), "refused without a reason");
            Ok(())
        }
    });
    result.unwrap_or_else(|failure| panic!("{failure}"));
    assert!(sound.get() > 1_000, "only {} texts are sound", sound.get());
}
