//! One panel with what it might carry.

use super::{Percent, Placed, Problem, RowFacts};
use crate::names::{HalfLines, Role};

/// One panel with what it might carry: what a rule reads.
#[derive(Clone, Copy, Debug)]
pub struct PanelView<'a> {
    /// The part.
    pub problem: &'a Problem,
    /// Which of the part's panels.
    pub panel: usize,
    /// What it carries.
    pub role: Role,
    /// First row on it.
    pub from: usize,
    /// One past the last row on it; `from` where no row is.
    pub to: usize,
    /// Its picture.
    pub picture: Option<usize>,
    /// Whether that picture begins here: the panel is the first that it stands on.
    pub begins_picture: bool,
    /// The pictures of the queue, by the problem's pictures ([`Problem::queue`]).
    pub queue: &'a [usize],
    /// Which of them begin on panels before this one.
    pub placed: Placed,
    /// The column of its lines; nothing where no words stand.
    pub column: Option<usize>,
    /// What its words take.
    pub used: HalfLines,
    /// How many lines of its last paragraph stand here, if its last words are of one.
    pub foot: u32,
    /// How much fits.
    pub capacity: HalfLines,
}

impl PanelView<'_> {
    /// Whether ordinary words stand here: a title panel's do not count.
    pub fn has_words(&self) -> bool {
        matches!(self.role, Role::Text | Role::Shared)
    }

    /// Whether a picture without a name stands here.
    pub fn has_unnamed_picture(&self) -> bool {
        self.role == Role::Picture && self.picture.is_none()
    }

    /// Whether this is the part's last panel.
    pub fn is_last(&self) -> bool {
        self.panel + 1 == self.problem.panels.len()
    }

    /// Whether the part's first words, headings and captions aside, stand here; of a part of headings alone, the
    /// last.
    pub fn begins_part(&self) -> bool {
        let problem = self.problem;
        let first = problem.words_from(problem.opening);
        self.has(first.or_else(|| problem.words_before(problem.opening)))
    }

    /// Whether the part's last words, captions aside, stand here.
    pub fn ends_part(&self) -> bool {
        self.has(self.problem.words_before(self.problem.rows.len()))
    }

    fn has(&self, row: Option<usize>) -> bool {
        self.has_words() && row.is_some_and(|row| (self.from..self.to).contains(&row))
    }

    /// The first row here that is no caption, if there is one.
    pub fn first_words(&self) -> Option<usize> {
        let first = self.problem.words_from(self.from);
        first.filter(|row| *row < self.to)
    }

    /// The section whose heading is the first of the panel's words, where others stand before it in the part.
    pub fn begins_section(&self) -> Option<usize> {
        let problem = self.problem;
        let section = problem.rows[self.first_words()?].section;
        let above = problem.words_before(self.from)?;
        (problem.rows[above].section != section).then_some(section)
    }

    /// How many headings stand on the panel below words of an earlier section.
    pub fn headings_below_words(&self) -> u64 {
        let problem = self.problem;
        let first = self
            .first_words()
            .filter(|_| problem.sections_between(self.from, self.to) > 0);
        let Some(first) = first else {
            return 0;
        };
        let rows = problem.rows[first..self.to].iter();
        let words = rows.filter(|row| row.caption.is_none());
        let mut section = problem.rows[first].section;
        let mut next = words.map(|row| row.section);
        let begin = next
            .by_ref()
            .filter(|next| std::mem::replace(&mut section, *next) != *next);
        begin.count() as u64
    }

    /// Whether the part's next panel lies on the same spread.
    pub fn spread_goes_on(&self) -> bool {
        let panels = &self.problem.panels;
        let next = panels.get(self.panel + 1);
        next.is_some_and(|next| next.spread == panels[self.panel].spread)
    }

    /// Whether the part's panel before lies on another spread, or there is none.
    pub fn begins_spread(&self) -> bool {
        let panels = &self.problem.panels;
        let before = self.panel.checked_sub(1);
        before.is_none_or(|before| panels[before].spread != panels[self.panel].spread)
    }

    /// How many whole percentage points the fullness lies off `asked`.
    pub fn off(&self, asked: Percent) -> u64 {
        if self.capacity == HalfLines::ZERO {
            return 0;
        }
        let capacity = u64::from(self.capacity);
        let used = u64::from(self.used) * 100;
        used.abs_diff(u64::from(asked.0) * capacity) / capacity
    }

    /// How many stanzas and paragraphs have lines here; captions are looked through.
    pub fn stanzas(&self) -> u64 {
        let mut last = None;
        let begins = self
            .pieces()
            .map(|piece| &self.problem.rows[piece.from])
            .filter(|row| row.caption.is_none())
            .map(|row| (row.verse || row.prose).then_some(row.block))
            .filter(|block| std::mem::replace(&mut last, *block) != *block && block.is_some());
        begins.count() as u64
    }

    /// How many verse lines and lines of paragraphs stand here.
    pub fn lines(&self) -> u64 {
        self.pieces().map(|piece| piece.lines).sum()
    }

    /// The pieces of paragraphs and the single rows that stand here, in order.
    pub fn pieces(&self) -> impl Iterator<Item = PieceHere> + '_ {
        let mut at = self.from;
        let mut steps = self
            .column
            .map(|column| self.problem.steps(column, self.from));
        std::iter::from_fn(move || {
            let row = self.problem.rows[..self.to].get(at)?;
            let from = at;
            let verse = u64::from(row.verse);
            let Some(steps) = &mut steps else {
                at += 1;
                return Some(PieceHere { from, lines: verse });
            };
            loop {
                let stop = steps.next()?;
                at = stop.to;
                if !steps.within_paragraph() || at >= self.to {
                    let lines = match stop.foot {
                        0 => verse,
                        lines => u64::from(lines),
                    };
                    return Some(PieceHere { from, lines });
                }
            }
        })
    }

    /// How many lines of the first stanza or paragraph stand here, counted up to `most`; captions are looked
    /// through.
    pub fn lines_at_head(&self, most: u64) -> u64 {
        let rows = &self.problem.rows[..self.to];
        let Some(first) = self
            .problem
            .words_from(self.from)
            .filter(|at| *at < self.to)
        else {
            return 0;
        };
        if !rows[first].prose {
            let text = rows[first..].iter().filter(|row| row.caption.is_none());
            let of_stanza = |row: &&RowFacts| row.block == rows[first].block && row.verse;
            return text.take_while(of_stanza).take(most as usize).count() as u64;
        }
        // Mostly enough of its lines follow at once.
        if first == self.from && self.begins_with_lines(most) {
            return most;
        }
        let lines = self.lines_of_text(rows[first].block);
        lines.map_while(|lines| lines).sum::<u64>().min(most)
    }

    /// Whether the paragraph that begins here has so many lines before a caption or its end.
    fn begins_with_lines(&self, most: u64) -> bool {
        let steps = self
            .column
            .map(|column| self.problem.steps(column, self.from));
        let rows = &self.problem.rows;
        let mut lines = 0;
        for stop in steps.into_iter().flatten() {
            // The next paragraph may have more lines before the first place where a panel may end.
            let same = rows[stop.to - 1].block == rows[self.from].block;
            if !same || u64::from(stop.foot) <= lines || stop.to > self.to {
                return false;
            }
            lines = u64::from(stop.foot);
            if lines >= most {
                return true;
            }
        }
        false
    }

    /// The lines of each piece here that is no caption; nothing for those that are of no paragraph or another.
    fn lines_of_text(&self, block: usize) -> impl Iterator<Item = Option<u64>> + '_ {
        let rows = &self.problem.rows;
        let text = self.pieces().map(|piece| (&rows[piece.from], piece.lines));
        text.filter(|(row, _)| row.caption.is_none())
            .map(move |(row, lines)| (row.prose && row.block == block).then_some(lines))
    }

    /// How many lines of the last stanza or paragraph stand here, counted up to `most`; captions are looked
    /// through.
    pub fn lines_at_foot(&self, most: u64) -> u64 {
        let rows = &self.problem.rows[..self.to];
        let Some(last) = self
            .problem
            .words_before(self.to)
            .filter(|at| *at >= self.from)
        else {
            return 0;
        };
        if !rows[last].prose {
            let text = rows[self.from..].iter().rev();
            let text = text.filter(|row| row.caption.is_none());
            let of_stanza = |row: &&RowFacts| row.block == rows[last].block && row.verse;
            return text.take_while(of_stanza).take(most as usize).count() as u64;
        }
        if last + 1 == self.to && u64::from(self.foot) >= most {
            return most;
        }
        let lines = self.lines_of_text(rows[last].block);
        let of_last = lines.fold(0, |above, lines| lines.map_or(0, |lines| above + lines));
        of_last.min(most)
    }
}

/// The part of a paragraph that stands on a panel, or a single row.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct PieceHere {
    /// Its first row.
    pub from: usize,
    /// How many verse lines or lines of the paragraph it has.
    pub lines: u64,
}
