//! How many characters a line holds, and how many the lines of the text have.
//!
//! Sources of the figures. *45 to 75 characters, letters and spaces counted, are held comfortable for prose in one
//! column, and 40 the least for justified English*: R. Bringhurst, *The Elements of Typographic Style*, 2.1.2. *No more
//! than 80 characters, 40 of Chinese, Japanese or Korean*: WCAG 2, success criterion 1.4.8. *28.1 characters to the
//! length of the lower-case alphabet*: the table of the same section of Bringhurst, whose rows are linear with 28.0 to
//! 28.3 for text sizes (read in copies).

use unicode_segmentation::UnicodeSegmentation;

use super::book;
use crate::book::PreparedBook;
use crate::names::Length;
use crate::plan::Align;
use crate::setting::{Row, SetPart};
use crate::typeface::{FontStyle, Script, Shaper};

/// How many characters, letters and spaces counted, a line holds whose measure is as long as this many lower-case
/// alphabets. See the module for its source.
const IN_AN_ALPHABET: f64 = 28.1;

/// The estimate of copyfitting: how many characters, letters and spaces counted, a line of English holds on average.
/// `alphabet` is the length of a to z set in a row at the same size, above zero.
pub fn characters_per_line(measure: Length, alphabet: Length) -> f64 {
    IN_AN_ALPHABET * measure.as_pt() / alphabet.as_pt()
}

/// What of characters to a line is published as comfortable.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Comfort {
    /// For scripts with letters: 45 to 75 (Bringhurst).
    Letters,
    /// For Chinese, Japanese and Korean: at most 40 (WCAG 2).
    Ideographs,
}

/// Characters to a line on the plain panels of the part with most words. A character is what a reader counts as one:
/// a letter with its marks, a space.
#[derive(Clone, Copy, Debug, PartialEq)]
#[non_exhaustive]
pub struct Letters {
    /// The measure.
    pub measure: Length,
    /// How many a line holds: the estimate by the alphabet, and for scripts without one the measure by the text's own
    /// mean character.
    pub holds: f64,
    /// The length of the lower-case alphabet; nothing for scripts without it.
    pub alphabet: Option<Length>,
    /// The mean of the full lines of prose, the last of each paragraph left out; nothing where none is.
    pub prose: Option<f64>,
    /// The middle one and the longest of the lines of verse as they are written; nothing where none is.
    pub verse: Option<(usize, usize)>,
    /// Whether lines of prose are justified.
    pub justified: bool,
    /// What is comfortable.
    pub comfort: Comfort,
}

impl Letters {
    /// The characters to a line of a book; nothing where it has no words on plain panels.
    pub(super) fn of(prepared: &PreparedBook) -> Option<Letters> {
        let parts = prepared.set.parts.iter();
        let part = parts.max_by_key(|part| part.rows.iter().map(count).sum::<usize>())?;
        let column = book::plain_column(&prepared.set, part, &prepared.plan)?;
        let planned = &prepared.plan.parts[part.plan_index];
        let measure = part.columns[column].line(0).measure;
        let shaper = Shaper::new(&part.typeface, &planned.language);
        let text = || {
            let rows = part.rows.iter();
            rows.filter(|row| row.kind.is_verse() || row.kind.is_prose())
        };
        let characters: usize = text().map(count).sum();
        let scripts = || text().flat_map(|row| row.shaped.text.chars().filter_map(Script::of));
        let latin = scripts().filter(|script| *script == Script::LATIN).count();
        let by_alphabet = latin * 2 > scripts().count();
        let width: Length = text()
            .map(|row| {
                let whole = row.shaped.start()..row.shaped.trimmed_end(row.shaped.text.len());
                row.shaped.width(&shaper, whole)
            })
            .sum();
        if characters == 0 || width <= Length::ZERO {
            return None;
        }
        let alphabet = by_alphabet.then(|| alphabet(&shaper, planned.text.size));
        let mean = width.as_pt() / characters as f64;
        Some(Letters {
            measure,
            holds: match alphabet {
                Some(alphabet) => characters_per_line(measure, alphabet),
                None => measure.as_pt() / mean,
            },
            alphabet,
            prose: of_prose(part, column),
            verse: of_verse(part),
            justified: planned.text.align == Align::Justified,
            // Ideographs are as wide as the type is large; no other script's mean comes near that.
            comfort: match mean > planned.text.size.as_pt() * 0.8 {
                true => Comfort::Ideographs,
                false => Comfort::Letters,
            },
        })
    }
}

/// The characters of a row.
fn count(row: &Row) -> usize {
    row.shaped.text.graphemes(true).count()
}

/// The length of a to z in a row.
fn alphabet(shaper: &Shaper<'_>, size: Length) -> Length {
    let voice = FontStyle::plain(size);
    let line = crate::setting::ShapedLine::added("abcdefghijklmnopqrstuvwxyz", voice);
    let whole = 0..line.text.len();
    line.width(shaper, whole)
}

/// The mean of the full lines of prose.
fn of_prose(part: &SetPart, column: usize) -> Option<f64> {
    let (mut lines, mut characters) = (0usize, 0usize);
    for row in part.rows.iter() {
        let (Some(paragraph), Some(at)) = (&row.paragraph, &row.at[column].paragraph) else {
            continue;
        };
        let mut falls: Vec<_> = at.fall.lines_from(0).collect();
        falls.pop();
        for line in falls {
            let (from, to) = (&paragraph.breaks[line.from], &paragraph.breaks[line.to]);
            lines += 1;
            characters += row.shaped.text[from.next..to.end].graphemes(true).count();
        }
    }
    (lines > 0).then(|| characters as f64 / lines as f64)
}

/// The middle one and the longest of the lines of verse.
fn of_verse(part: &SetPart) -> Option<(usize, usize)> {
    let verse = part.rows.iter().filter(|row| row.kind.is_verse());
    let mut counts: Vec<usize> = verse.map(count).collect();
    counts.sort_unstable();
    Some((*counts.get(counts.len() / 2)?, *counts.last()?))
}
