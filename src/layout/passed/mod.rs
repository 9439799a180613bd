//! Panels that are passed for press: every line stays where it is printed, but those whose own words were corrected.
//!
//! A corrected line of verse is set again by itself, a corrected paragraph from the first line on that has changed;
//! both must take as many lines as before, unless nothing stands below them. A line that is not corrected must have
//! the very glyphs that it is printed with ([`is_printed`]).

mod again;
mod keeping;
mod told;

use keeping::Keeping;
use told::otherwise;
pub(super) use told::{other_page, together};

use super::fingerprint::{self, Age, seal};
use super::on_panel::OnPanel;
use super::{LaidLine, LaidPanel};
use crate::layout::breaks::{BREAKS_FILE, Breaks, KeptLine, KeptPanel, bare, between, row_text};
use crate::names::{Faults, Length};
use crate::setting::Note;
use crate::text::alignment::{align, pieces};

/// Whether a line is the one that is printed. A seal that an older version of the program made cannot be held against
/// it: then it is the same if it has the same words and stands in the same place.
pub(super) fn is_printed(line: &LaidLine, printed: &KeptLine) -> bool {
    match fingerprint::age(&printed.seal) {
        Age::Older => {
            let place = (printed.left, printed.baseline);
            bare(&line.text) == printed.words && (line.x, line.baseline) == place
        }
        Age::Ours | Age::Newer => seal(line) == printed.seal,
    }
}

/// Whether a panel's lines have a seal of that age.
pub(super) fn has_seals(kept: &KeptPanel, age: Age) -> bool {
    let mut lines = kept.passed.iter().flatten();
    lines.any(|line| fingerprint::age(&line.seal) == age)
}

/// What to say where an older version of the program passed panels, and they stand as they are printed.
pub(super) fn by_an_older_version(breaks: Option<&Breaks>) -> Option<Note> {
    let passed = breaks.into_iter().flat_map(Breaks::passed);
    let older = passed.filter(|kept| has_seals(kept, Age::Older));
    let older: Vec<String> = older.map(|kept| kept.panel.to_string()).collect();
    let who = match older.as_slice() {
        [] => return None,
        [one] => format!("{one} was"),
        many if many.len() > 8 => format!("{} panels were", many.len()),
        few => format!("{} were", few.join(", ")),
    };
    Some(Note {
        word: "older-seals",
        what: format!(
            "{who} passed for press by an older version of the program; the lines are those that are printed, and are \
             sealed anew when {BREAKS_FILE} is next written"
        ),
        place: None,
    })
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

/// A panel whose only words are the program's own, the plan's title and author; or that has none.
pub(super) fn keep_added(kept: &KeptPanel, panel: &mut LaidPanel, faults: &mut Faults) {
    let printed: Vec<&KeptLine> = kept.passed.iter().flatten().collect();
    as_printed(kept, panel, (0, &printed), faults);
}

/// The program's own words below those of a part, which are the lines of a panel from `from` on.
pub(super) fn keep_below(
    kept: &KeptPanel,
    panel: &mut LaidPanel,
    from: usize,
    faults: &mut Faults,
) {
    let printed = kept.passed.iter().flatten();
    let printed: Vec<&KeptLine> = printed.filter(|line| line.added).collect();
    as_printed(kept, panel, (from, &printed), faults);
}

/// Lines that the program adds stand as they are printed, or that is told.
fn as_printed(
    kept: &KeptPanel,
    panel: &mut LaidPanel,
    (from, printed): (usize, &[&KeptLine]),
    faults: &mut Faults,
) {
    let lines = &panel.lines[from..];
    let same = lines.len() == printed.len()
        && std::iter::zip(lines, printed)
            .all(|(line, printed)| bare(&line.text) == printed.words && is_printed(line, printed));
    if !same {
        faults.push(otherwise(kept));
        return;
    }
    let lines = panel.lines.split_off(from).into_iter().zip(printed);
    let lines = lines.map(|(line, printed)| moved(line, printed.left, printed.baseline));
    panel.lines.extend(lines);
}

/// A row, or the part of a paragraph, that is printed on the panel.
struct Printed<'a> {
    text: &'a str,
    lines: &'a [KeptLine],
}

/// A printed row as the manuscript has it now.
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
