//! Panels that are passed for press: every line stays where it is printed, but those whose own words were corrected.
//!
//! A corrected line of verse is set again by itself, a corrected paragraph from the first line on that has changed;
//! both must take as many lines as before, unless nothing stands below them. A line that is not corrected must have
//! the very glyphs that it is printed with ([`seal`]).

mod again;
mod keeping;
mod told;

use sha2::{Digest, Sha256};

use keeping::Keeping;
use told::otherwise;
pub(super) use told::{other_page, together};

use super::on_panel::OnPanel;
use super::{LaidLine, LaidPanel};
use crate::layout::breaks::{KeptLine, KeptPanel, bare, between, row_text};
use crate::names::Faults;
use crate::names::Length;
use crate::text::alignment::{align, pieces};

/// What tells a line's glyphs from all others, wherever they stand: their faces, sizes, numbers, advances and colour.
pub fn seal(line: &LaidLine) -> String {
    let mut hash = Sha256::new();
    let mut number = |number: i64| hash.update(number.to_le_bytes());
    for run in &line.runs {
        number(run.size.units());
        number((run.x - line.x).units());
        number((run.baseline - line.baseline).units());
        number(run.face.data().len() as i64);
        run.face
            .name()
            .bytes()
            .for_each(|byte| number(i64::from(byte)));
        for glyph in &run.glyphs {
            number(i64::from(glyph.id));
            for part in [glyph.advance, glyph.dx, glyph.dy] {
                number(i64::from(part));
            }
        }
    }
    hash.update(format!("{:?}", line.ink));
    let digest = hash.finalize();
    digest[..6]
        .iter()
        .map(|byte| format!("{byte:02x}"))
        .collect()
}

/// A line, moved to a place.
fn moved(mut line: LaidLine, left: Length, baseline: Length) -> LaidLine {
    let (right, down) = (left - line.x, baseline - line.baseline);
    for run in &mut line.runs {
        run.x += right;
        run.baseline += down;
    }
    (line.x, line.baseline) = (left, baseline);
    line
}

/// A panel of a part: its lines as they are printed; `laid` are those that would stand there otherwise.
pub(super) fn keep(
    on: &OnPanel<'_>,
    kept: &KeptPanel,
    laid: Vec<LaidLine>,
    faults: &mut Faults,
) -> Vec<LaidLine> {
    let manuscript = on.ready.manuscript;
    let now = between(manuscript, on.part, on.on.rows.clone());
    let now: Vec<Now<'_>> = now
        .into_iter()
        .map(|(row, bytes)| Now {
            row,
            from: bytes.start,
            text: bare(&row_text(manuscript, on.part, &on.part.rows[row])[bytes]),
        })
        .collect();
    let printed = printed(kept);
    let old = printed.iter().map(|row| words(row.text)).collect();
    let new = now.iter().map(|row| words(row.text)).collect();
    let found = align(&old, &new);
    let mut keeping = Keeping {
        on,
        kept,
        laid: &laid,
        lines: Vec::new(),
        faults: Faults::new(),
        sealed_otherwise: false,
    };
    keeping.rows(&printed, &now, &found);
    keeping.finish(faults)
}

fn words(text: &str) -> Vec<&str> {
    pieces(text).into_iter().map(|at| &text[at]).collect()
}

/// A panel whose only words are the program's own, the plan's title; or that has none.
pub(super) fn keep_added(kept: &KeptPanel, panel: &mut LaidPanel, faults: &mut Faults) {
    let printed = kept.passed.iter().flatten();
    let same = panel.lines.len() == printed.clone().count()
        && std::iter::zip(&panel.lines, printed.clone())
            .all(|(line, printed)| bare(&line.text) == printed.words && seal(line) == printed.seal);
    if !same {
        faults.push(otherwise(kept));
        return;
    }
    let lines = std::mem::take(&mut panel.lines).into_iter().zip(printed);
    let lines = lines.map(|(line, printed)| moved(line, printed.left, printed.baseline));
    panel.lines = lines.collect();
}

/// A row, or the part of a paragraph, that is printed on the panel.
struct Printed<'a> {
    text: &'a str,
    lines: &'a [KeptLine],
}

/// The same as the manuscript has it now.
struct Now<'a> {
    row: usize,
    text: &'a str,
    /// Where in the row's text it begins.
    from: usize,
}

/// The rows that are printed, each with its lines; room that is left empty has none.
fn printed(kept: &KeptPanel) -> Vec<Printed<'_>> {
    let mut lines = kept.passed.as_deref().unwrap_or_default();
    let rows = kept.words.lines().map(bare).filter(|line| !line.is_empty());
    let row = |text| {
        let stands = lines
            .first()
            .is_some_and(|first| str::starts_with(text, first.words.as_str()));
        let count = match lines {
            [_, rest @ ..] if stands => 1 + rest.iter().take_while(|line| line.goes_on).count(),
            _ => 0,
        };
        let (own, rest) = lines.split_at(count);
        lines = rest;
        Printed { text, lines: own }
    };
    rows.map(row).collect()
}
