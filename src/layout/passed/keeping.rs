//! Putting the lines of a passed panel where they are printed.

use super::told::{lines, otherwise};
use super::{Now, Printed, is_printed, moved};
use crate::layout::LaidLine;
use crate::layout::breaks::{KeptPanel, bare};
use crate::layout::on_panel::OnPanel;
use crate::names::{Faults, HalfLines, Length};
use crate::stack::{Baselines, Boxes, below_a_line};
use crate::text::alignment::Alignment;

/// Puts the lines of a passed panel where they are printed.
pub(super) struct Keeping<'a> {
    pub on: &'a OnPanel<'a>,
    pub kept: &'a KeptPanel,
    /// The lines as they would stand if the panel were not passed.
    pub laid: &'a [LaidLine],
    pub lines: Vec<LaidLine>,
    pub faults: Faults,
    /// Whether a line that is not corrected has other glyphs.
    pub sealed_otherwise: bool,
}

impl Keeping<'_> {
    pub fn rows(&mut self, printed: &[Printed<'_>], now: &[Now<'_>], found: &Alignment) {
        let last_pair = found.lines.last().copied();
        let is_last = |old: usize| last_pair.is_none_or(|(last, _)| old >= last);
        let mut pairs = found.lines.iter().copied();
        let (mut old, mut new) = (0, 0);
        loop {
            let (next_old, next_new) = pairs.next().unwrap_or((printed.len(), now.len()));
            let ends = next_old == printed.len();
            for gone in &printed[old..next_old] {
                if !ends && !gone.lines.is_empty() {
                    self.gone(gone, printed, next_old);
                }
            }
            for added in &now[new..next_new] {
                self.added(added, ends, printed, next_old);
            }
            if ends {
                break;
            }
            let (was, is) = (&printed[next_old], &now[next_new]);
            if was.text == is.text {
                self.unchanged(was, is);
            } else {
                let below = printed[next_old + 1..]
                    .iter()
                    .map(|row| row.lines.len())
                    .sum();
                self.changed(was, is, is_last(next_old), below);
            }
            (old, new) = (next_old + 1, next_new + 1);
        }
    }

    /// The lines of a row as they would stand if the panel were not passed.
    fn usual(&self, row: usize) -> Vec<&LaidLine> {
        self.laid.iter().filter(|line| line.row == row).collect()
    }

    fn unchanged(&mut self, was: &Printed<'_>, is: &Now<'_>) {
        let sealed = |lines: &Vec<LaidLine>| {
            lines.len() == was.lines.len()
                && std::iter::zip(lines, was.lines).all(|(line, printed)| is_printed(line, printed))
        };
        // What is printed stands however lines would fall now: at another place of its part, or beside other lines.
        let usual: Vec<LaidLine> = self.usual(is.row).into_iter().cloned().collect();
        let again = || self.on.lines_again(is, was.lines).filter(sealed);
        let Some(lines) = Some(usual).filter(sealed).or_else(again) else {
            self.sealed_otherwise = true;
            return;
        };
        for (line, printed) in lines.into_iter().zip(was.lines) {
            self.lines.push(moved(line, printed.left, printed.baseline));
        }
    }

    fn changed(&mut self, was: &Printed<'_>, is: &Now<'_>, last: bool, below: usize) {
        let set = match self.on.part.rows[is.row].paragraph.is_some() {
            true => self.on.paragraph_again(was, is, self.usual(is.row)),
            false => self.usual(is.row).into_iter().cloned().collect(),
        };
        if letters(set.iter().map(|line| line.text.as_str())) != letters([is.text].into_iter()) {
            self.faults.push(self.does_not_end_there(&set));
            return;
        }
        let more = set.len() as i64 - was.lines.len() as i64;
        if more != 0 && !(last && self.has_room(was, more)) {
            self.faults.push(self.moves(was, is, (more, below), &set));
            return;
        }
        let right = self.aside();
        let printed = |at: usize| match was.lines.get(at) {
            Some(line) => line.baseline,
            None => {
                let above = was.lines.last().map_or(Length::ZERO, |line| line.baseline);
                self.on
                    .below(above, HalfLines::lines(at + 1 - was.lines.len()))
            }
        };
        for (at, line) in set.into_iter().enumerate() {
            let same = was
                .lines
                .get(at)
                .filter(|printed| printed.words == bare(&line.text) && is_printed(&line, printed));
            let left = same.map_or(line.x + right, |printed| printed.left);
            self.lines.push(moved(line, left, printed(at)));
        }
    }

    /// How far printed lines stand to the right of where they would stand now.
    fn aside(&self) -> Length {
        let kept = self.kept.passed.iter().flatten();
        let mut both = kept.filter_map(|printed| {
            let same = |line: &&LaidLine| bare(&line.text) == printed.words && !line.turnover;
            let line = self.laid.iter().find(same)?;
            Some(printed.left - line.x)
        });
        both.next().unwrap_or_default()
    }

    /// Whether so many more lines have room below a row that is the panel's last.
    fn has_room(&self, was: &Printed<'_>, more: i64) -> bool {
        let last = was.lines.last().map_or(Length::ZERO, |line| line.baseline);
        last + self.on.leading() * more <= self.on.last_baseline()
    }

    /// A row that was not there when the panel was passed.
    fn added(&mut self, is: &Now<'_>, ends: bool, printed: &[Printed<'_>], before: usize) {
        let set: Vec<LaidLine> = self.usual(is.row).into_iter().cloned().collect();
        if set.is_empty() {
            return;
        }
        let row = &self.on.part.rows[is.row];
        let above = self.lines.last().map(|line| line.baseline);
        let first = match above {
            Some(above) => self.on.below(above, below_a_line(row.space_above)),
            None => set[0].baseline,
        };
        let line = |at: usize| self.on.below(first, HalfLines::lines(at));
        let last = line(set.len() - 1);
        if ends && last <= self.on.last_baseline() {
            let right = self.aside();
            let baselines: Vec<Length> = (0..set.len()).map(line).collect();
            for (line, baseline) in set.into_iter().zip(baselines) {
                let left = line.x + right;
                self.lines.push(moved(line, left, baseline));
            }
            return;
        }
        let panel = self.kept.panel;
        let by = Boxes::plain().below(Baselines::of_lines(set.len()).height(), row.space_above);
        let by = by.at(self.on.leading());
        let what = match ends {
            true => format!(
                "{panel} is passed for press, and a line has been added for which it has no room: it would stand {} \
                 below the last line that fits",
                last - self.on.last_baseline()
            ),
            false => {
                let below: usize = printed[before..].iter().map(|row| row.lines.len()).sum();
                format!(
                    "{panel} is passed for press, and a line has been added among its own: the {} below would move \
                     down by {by}",
                    lines(below)
                )
            }
        };
        let help = "take the line out or put it on another panel; or release this one";
        let fault = self.at_words(&set, what).or_release(help, panel);
        self.faults.push(fault);
    }

    pub fn finish(mut self, faults: &mut Faults) -> Vec<LaidLine> {
        if self.sealed_otherwise {
            self.faults.push(otherwise(self.kept));
        }
        faults.extend(self.faults);
        self.lines
    }
}

/// The letters and figures of texts, in order.
fn letters<'a>(texts: impl Iterator<Item = &'a str>) -> String {
    let all = texts.flat_map(str::chars);
    all.filter(|c| c.is_alphanumeric()).collect()
}
