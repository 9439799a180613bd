//! Text that no book has: it is refused before it is set, which would take hours or all the memory there is.

use std::ops::Range;

use unicode_normalization::char::canonical_combining_class;

use super::Row;
use super::opportunities::opportunities;
use super::part::Setter;
use crate::names::{Fault, Faults, Length, PanelName};
use crate::plan::PartPlan;
use crate::text::LineKind;
use crate::typeface::is_ignorable;

/// Letters of a line of verse or a caption: the longest that poets wrote have some hundreds.
const LONGEST_LINE: usize = 1000;

/// Letters of a word that can be divided nowhere.
const LONGEST_WORD: usize = 2000;

/// Marks in a row: as many as Unicode's stream-safe text format has (UAX #15, section 13).
const MOST_MARKS: usize = 30;

/// How many times as many panels as there are a text of prose may need and still be set, to tell how many.
const MOST_TIMES: usize = 4;

impl Setter<'_> {
    /// What must not be set.
    pub(super) fn beyond_limits(&self, rows: &[Row], plan: &PartPlan) -> Faults {
        let mut faults: Faults = rows.iter().filter_map(|row| self.too_long(row)).collect();
        if faults.is_empty() {
            faults.extend(rows.iter().filter_map(|row| self.heaped_marks(row)));
            faults.extend(self.far_too_much(rows, plan));
        }
        faults
    }

    /// A letter under a heap of marks.
    fn heaped_marks(&self, row: &Row) -> Option<Fault> {
        let text = &row.shaped.text;
        let mut marks = 0;
        let mut found = text.char_indices().filter(|(_, c)| {
            marks = if canonical_combining_class(*c) == 0 {
                0
            } else {
                marks + 1
            };
            marks > MOST_MARKS
        });
        let (at, c) = found.next()?;
        let sources = row.shaped.sources(at..at + c.len_utf8());
        let whole = self.part.lines[row.line].bytes.clone();
        let place = sources.first().map_or(whole, |first| first.0..first.1);
        let what = format!("a letter has more than {MOST_MARKS} marks above and below it");
        let fault = Fault::new("endless", what).at(self.manuscript.place(place));
        Some(fault.help("no language writes so many: take most of them out"))
    }

    fn too_long(&self, row: &Row) -> Option<Fault> {
        let text = &row.shaped.text;
        if text.len() <= LONGEST_LINE {
            return None;
        }
        let (stretch, most, what, help) = if row.kind.is_prose() {
            let mut words = row.shaped.words.iter();
            let stretch = words.find_map(|word| self.undivided(text, word.text.clone()))?;
            let what = "one word of prose";
            (
                stretch,
                LONGEST_WORD,
                what,
                "put spaces between its words".to_string(),
            )
        } else {
            let what = match row.kind {
                _ if row.kind.is_verse() => "one line of verse",
                LineKind::Caption => "one caption",
                _ => "one line",
            };
            let help = match row.kind {
                LineKind::Caption => "shorten it, or let its words be a part of their own",
                _ => {
                    "prose is set as prose below the callout [set as prose], or all of it with \
                     set-as = \"prose\" in the plan"
                }
            };
            (0..text.len(), LONGEST_LINE, what, help.to_string())
        };
        let letters = letters(&text[stretch.clone()]);
        let whole = self.part.lines[row.line].bytes.clone();
        let sources = row.shaped.sources(stretch);
        let first = sources.first().map_or(whole, |first| first.0..first.1);
        (letters > most).then(|| {
            Fault::new("endless", format!("{what} has {letters} letters"))
                .at(self
                    .manuscript
                    .place(beginning(&self.manuscript.source().text, first)))
                .allowed(format!("at most {most} letters"))
                .help(help)
        })
    }

    /// A stretch of a word that may be divided nowhere and is too long.
    fn undivided(&self, text: &str, word: Range<usize>) -> Option<Range<usize>> {
        if word.len() <= LONGEST_WORD {
            return None;
        }
        let inner = opportunities(&text[word.clone()], self.language).into_iter();
        let mut from = word.start;
        let ends = inner.map(|at| word.start + at.end).chain([word.end]);
        ends.map(|to| std::mem::replace(&mut from, to)..to)
            .find(|stretch| letters(&text[stretch.clone()]) > LONGEST_WORD)
    }

    /// Whether prose is so much that to tell how many panels it needs is no use. A letter is taken for a fifth of
    /// an em, about half of what it is.
    pub(super) fn far_too_much(&self, rows: &[Row], plan: &PartPlan) -> Option<Fault> {
        let prose = rows.iter().filter(|row| row.kind.is_prose());
        let letters: usize = prose.map(|row| row.shaped.text.chars().count()).sum();
        let area = |panel: &PanelName| Some(self.areas.get(self.areas.of(*panel, None)?));
        let areas = || plan.on.iter().filter_map(area);
        let widest = areas().map(|area| area.width).max()?.max(Length::pt(1));
        let lines = areas().map(|area| area.capacity).max()?.max(1) as usize;
        let width = self.style.size.units() as u128 * letters as u128 / 5;
        let needed = (width / widest.units() as u128) as usize / lines;
        let has = plan.on.len();
        (needed > has.saturating_mul(MOST_TIMES)).then(|| {
            let what = format!(
                "the part `{}` has {letters} letters and needs more than {needed} panels, and the plan gives it \
                 {has}",
                self.part.name
            );
            Fault::new("far-too-much", what).help("choose from the text what this book can hold")
        })
    }
}

/// Characters of a text, those not counted that are never seen.
fn letters(text: &str) -> usize {
    text.chars().filter(|c| !is_ignorable(*c)).count()
}

/// The first bytes of a stretch: a whole line of that length would hide the message.
fn beginning(source: &str, stretch: Range<usize>) -> Range<usize> {
    const SHOWN: usize = 12;
    let text = &source[stretch.clone()];
    let shown = text.char_indices().nth(SHOWN);
    stretch.start..stretch.start + shown.map_or(text.len(), |(at, _)| at)
}
