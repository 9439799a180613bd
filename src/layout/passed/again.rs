//! Setting lines again as they were printed, where they would fall otherwise now.

use super::{Now, Printed, is_printed};
use crate::layout::LaidLine;
use crate::layout::breaks::KeptLine;
use crate::layout::on_panel::OnPanel;
use crate::names::{Direction, HalfLines, Length};
use crate::setting::{self, DropCap, Paragraph, Piece};
use crate::text::alignment::pieces;

/// No corrected paragraph is set in so many more lines than are printed that it takes more than a panel.
const MOST_MORE: usize = 40;

impl OnPanel<'_> {
    /// The lines of a row whose words are as they were, divided as they are printed; nothing where that cannot be.
    pub(super) fn lines_again(&self, is: &Now<'_>, printed: &[KeptLine]) -> Option<Vec<LaidLine>> {
        if !self.column().is_plain() {
            return None;
        }
        let row = &self.part.rows[is.row];
        // A large initial is printed with its line, whose words begin behind it.
        let start = row.shaped.start();
        let mut at = 0;
        let stretches = printed.iter().map(|line| {
            let found = is.text[at..].find(line.words.as_str())? + at;
            at = found + line.words.len();
            Some((is.from + found).max(start)..is.from + at)
        });
        let stretches: Vec<std::ops::Range<usize>> = stretches.collect::<Option<_>>()?;
        if let Some(paragraph) = &row.paragraph {
            let breaks = stretches.iter().map(|line| {
                let from = paragraph
                    .breaks
                    .iter()
                    .position(|known| known.next == line.start)?;
                let to = paragraph
                    .breaks
                    .iter()
                    .rposition(|known| known.end == line.end)?;
                (from < to).then_some((from, to))
            });
            return self.prose_printed(is.row, &breaks.collect::<Option<Vec<_>>>()?, printed);
        }
        let measure = self.column().line(0).measure;
        let lines = stretches.into_iter().enumerate().map(|(number, text)| {
            let piece = Piece {
                width: row.shaped.width(self.shaper, text.clone()),
                text,
                x: Length::ZERO,
                baseline: HalfLines::ZERO,
                turnover: number > 0,
                broken: false,
            };
            let line = self.line(is.row, &piece, number == 0, (Length::ZERO, measure));
            let drop = row.shaped.drop.as_ref().filter(|_| number == 0);
            let before = drop.map(|drop| by_advance(&line, drop, self.planned().reads));
            let before = before.filter(|before| is_printed(before, &printed[number]));
            before.unwrap_or(line)
        });
        Some(lines.collect())
    }

    /// The lines of a corrected paragraph: as they are printed down to the first that has changed, the rest set
    /// again, in as many lines as are printed if that can be, else in as few more or less as can be.
    pub(super) fn paragraph_again(
        &self,
        was: &Printed<'_>,
        is: &Now<'_>,
        usual: Vec<&LaidLine>,
    ) -> Vec<LaidLine> {
        let usual = || usual.iter().map(|line| (*line).clone()).collect();
        let again = || {
            let row = &self.part.rows[is.row];
            let paragraph = row.paragraph.as_deref()?;
            let kept = unchanged_lines(was, is);
            let first = self.lines_again(is, &was.lines[..kept])?;
            let mut places = self.part.places[self.on.rows.clone()].iter();
            let own = places.find(|place| place.row == is.row)?;
            let (begins, to) = self.breaks(*own)?;
            let from = match first.last() {
                None => begins,
                Some(_) => behind(paragraph, is, &was.lines[..kept])?,
            };
            let here = self.prose_context(is.row, 0);
            let number = (begins == 0).then_some(kept);
            let rest = was.lines.len() - kept;
            let in_lines = |count| setting::prose_lines_in(&here, (from, to), number, count);
            let found = in_lines(rest)
                .or_else(|| (rest + 1..=rest + MOST_MORE).find_map(in_lines))
                .or_else(|| (1..rest).rev().find_map(in_lines))?;
            let rest = found.windows(2).enumerate().map(|(at, pair)| {
                let number = number.map(|number| number + at);
                let inset = setting::prose_inset(&here, number);
                let last = self.ends_paragraph(is.row, pair[1]);
                self.prose_line_in(
                    is.row,
                    (pair[0], pair[1]),
                    (inset, (last, false)),
                    number == Some(0),
                )
            });
            let rest: Vec<LaidLine> = rest.collect::<Option<_>>()?;
            Some(first.into_iter().chain(rest).collect())
        };
        match self.column().is_plain() {
            true => again().unwrap_or_else(usual),
            false => usual(),
        }
    }

    /// By how much a line of verse is too wide for one line, and about how many letters that is.
    pub(super) fn too_wide(&self, is: &Now<'_>) -> Option<(Length, String)> {
        let row = &self.part.rows[is.row];
        if row.paragraph.is_some() || !self.column().is_plain() {
            return None;
        }
        let width = row.shaped.width(self.shaper, 0..row.shaped.text.len());
        let over = width + row.indent - self.column().line(0).measure;
        if over <= Length::ZERO {
            return None;
        }
        let letters = row.shaped.text.chars().count() as i64;
        let of_one = (width / letters.max(1)).max(Length::from_units(1));
        let count = (over.units() + of_one.units() - 1) / of_one.units();
        let letters = match count {
            1 => "1 letter".to_string(),
            count => format!("{count} letters"),
        };
        Some((over, letters))
    }

    /// Lines between breaks, each as it is printed: a paragraph may have become the first of its part, or be the first
    /// no longer, and would stand in otherwise now; or a line may have become the last of its paragraph.
    fn prose_printed(
        &self,
        row: usize,
        breaks: &[(usize, usize)],
        printed: &[KeptLine],
    ) -> Option<Vec<LaidLine>> {
        let begins = breaks.first().is_some_and(|(from, _)| *from == 0);
        let here = self.prose_context(row, 0);
        let indent = here.row.indent;
        let lines = breaks
            .iter()
            .zip(printed)
            .enumerate()
            .map(|(at, (between, printed))| {
                let usual = setting::prose_inset(&here, begins.then_some(at));
                let drop = here.row.shaped.drop.as_ref();
                let beside = drop.map_or(usual, |drop| usual + wider(drop));
                let stands_in = indent + self.planned().text.paragraph_indent;
                let insets = [usual, indent, stands_in, beside];
                let last = self.ends_paragraph(row, between.1);
                let opens = begins && at == 0;
                // Where a paragraph ends now, a space may be printed that parted it from words that are gone.
                let ends = [(last, false), (!last, false), (!last, true)];
                let ways = ends.map(|ends| {
                    insets.map(|inset| self.prose_line_in(row, *between, (inset, ends), opens))
                });
                let mut ways = ways.concat();
                if let Some(drop) = drop.filter(|_| opens) {
                    let before = |line: &LaidLine| by_advance(line, drop, self.planned().reads);
                    let before: Vec<_> = ways.iter().map(|way| way.as_ref().map(before)).collect();
                    ways.extend(before);
                }
                let same = |line: &&Option<LaidLine>| {
                    line.as_ref().is_some_and(|line| is_printed(line, printed))
                };
                let found = ways.iter().find(same).cloned();
                found.unwrap_or_else(|| ways[0].clone())
            });
        lines.collect()
    }

    /// A line between two breaks that stands in so far, set as its paragraph's last or not; `parted` from what follows
    /// by a space though nothing does.
    fn prose_line_in(
        &self,
        row: usize,
        between: (usize, usize),
        (inset, (last, parted)): (Length, (bool, bool)),
        opens: bool,
    ) -> Option<LaidLine> {
        let here = self.prose_context(row, 0);
        let mut line = setting::prose_line_between(&here, between, inset, last)?;
        line.glued &= !parted;
        let measure = here.column.line(0).measure;
        let placed = self.placed(row, opens, &[line], |_| (Length::ZERO, measure));
        placed.into_iter().next()
    }
}

/// A line that opens with a large initial as older versions of the program set it: the white at the initial's sides stood
/// within the text area.
fn by_advance(line: &LaidLine, drop: &DropCap, reads: Direction) -> LaidLine {
    let mut line = line.clone();
    let (wider, mut right) = (wider(drop), drop.bearing);
    if reads == Direction::LeftToRight {
        right += -wider;
        line.x += -wider;
    }
    let own = line.baseline;
    let initial = line.runs.iter_mut().filter(|run| run.baseline > own);
    initial.for_each(|run| run.x += right);
    line.width += wider;
    line
}

/// How much more room the words beside a large initial kept then.
fn wider(drop: &DropCap) -> Length {
    drop.advance + drop.gap - drop.width
}

/// How many lines from the head of a corrected paragraph have no changed word.
fn unchanged_lines(was: &Printed<'_>, is: &Now<'_>) -> usize {
    let same = pieces(was.text).into_iter().zip(pieces(is.text));
    let same = same.take_while(|(old, new)| was.text[old.clone()] == is.text[new.clone()]);
    let same = same.last().map_or(0, |(old, _)| old.end);
    let mut at = 0;
    let ends = was.lines.iter().map_while(|line| {
        let found = was.text[at..].find(line.words.as_str())? + at;
        at = found + line.words.len();
        Some(at)
    });
    ends.take_while(|end| *end <= same).count()
}

/// The break behind lines that stand at the head of a paragraph's stretch.
fn behind(paragraph: &Paragraph, is: &Now<'_>, lines: &[KeptLine]) -> Option<usize> {
    let mut at = 0;
    for line in lines {
        at += is.text[at..].find(line.words.as_str())? + line.words.len();
    }
    let end = is.from + at;
    paragraph.breaks.iter().rposition(|known| known.end == end)
}
