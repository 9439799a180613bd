//! Setting a line of verse: its indent, what hangs, and its pieces where it turns over.

use std::ops::Range;

use super::here::LineContext;
use super::part::Setter;
use super::turnover::{Break, Divided, begins_phrase, breaks_among, divide_along};
use super::{Row, Setting, Stand};
use crate::names::Length;
use crate::plan::{Align, Hang, Turnover};

impl Setter<'_> {
    /// A line of verse whose words need not be broken; nothing where that cannot be.
    pub(super) fn set_verse(&self, row: &Row, here: &LineContext<'_>) -> Option<Stand> {
        let setting = here.line(0);
        let all = whole(row);
        let hang = self.hanging(row, &all, setting.hang_left);
        let width = self.width(row, here, all.clone());
        let net = self.net_width(row, &setting, &all, width);
        let indent = self.indent(row);
        if indent + net <= setting.measure {
            let x = self.x_of(row, &setting, indent, net) - hang.0;
            return Some(Stand::one_line((all, x, width)));
        }
        self.turn_over(row, here, indent)
    }

    /// A line's indent. One that steps begins where the line above ended, which is found when it is placed.
    fn indent(&self, row: &Row) -> Length {
        match self.style.align {
            Align::Right => Length::ZERO,
            _ if row.stepped => Length::ZERO,
            _ => row.indent,
        }
    }

    /// The indent of a line whose words have to be broken.
    pub(super) fn least_indent(&self, row: &Row) -> Length {
        match row.kind.is_verse() {
            true => self.indent(row).min(self.style.size * 2),
            false => Length::ZERO,
        }
    }

    /// The width of a stretch without what hangs outside.
    pub(super) fn net_width(
        &self,
        row: &Row,
        setting: &Setting,
        stretch: &Range<usize>,
        width: Length,
    ) -> Length {
        let hang = self.hanging(row, stretch, setting.hang_left);
        width - hang.0 - hang.1.min(setting.hang_right)
    }

    /// Where a line of this width begins; a stepped one, even among centred lines, where the line above ended.
    pub(super) fn x_of(&self, row: &Row, setting: &Setting, indent: Length, net: Length) -> Length {
        let measure = setting.measure;
        setting.left
            + match self.style.align {
                Align::Right => measure - net,
                Align::Centre if row.stepped => indent,
                Align::Centre => (measure - net - indent) / 2 + indent,
                _ => indent,
            }
    }

    fn turn_over(&self, row: &Row, here: &LineContext<'_>, indent: Length) -> Option<Stand> {
        let em = self.style.size;
        let asked = match self.style.turnover {
            Turnover::Indent(asked) => asked,
            Turnover::Right => Length::ZERO,
        };
        // What clears the lines that stand in must leave two thirds of the measure.
        let clear = here.others.deepest() + em;
        let clear = Some(clear).filter(|clear| *clear * 3 <= here.line(0).measure);
        let full = asked.max(em * 2).max(clear.unwrap_or_default());
        let centred = self.style.align == Align::Centre;
        let indents = if centred {
            [Length::ZERO; 4]
        } else {
            [full, em * 2, em, Length::ZERO]
        };
        let divided = |indent: Length| {
            let mut least: Option<(usize, Length, Vec<Range<usize>>)> = None;
            for turned in indents {
                let limits = limits(here, indent, turned);
                let found = self.divided_along(row, here, &limits);
                let Some(found) = found.filter(|found| found.pieces.len() <= here.most_lines())
                else {
                    continue;
                };
                // Where words are written without spaces, a smaller indent is better than parting them where no space is.
                let parted = found.giving.unspaced;
                if least.as_ref().is_none_or(|(known, ..)| parted < *known) {
                    least = Some((parted, turned, found.pieces));
                }
                if least.as_ref().is_some_and(|(known, ..)| *known == 0) {
                    break;
                }
            }
            let (_, turned, pieces) = least?;
            Some(self.place_pieces(row, here, indent, turned, pieces))
        };
        // Where a line stands in so far that it cannot even be divided, it is drawn back: to where it just
        // fits, or else almost to the edge.
        divided(indent)
            .or_else(|| self.drawn_back(row, here))
            .or_else(|| divided(indent.min(em * 2)))
    }

    /// A whole line as far in as it fits.
    fn drawn_back(&self, row: &Row, here: &LineContext<'_>) -> Option<Stand> {
        let setting = here.line(0);
        let all = whole(row);
        let width = self.width(row, here, all.clone());
        let room = setting.measure - width;
        (room >= Length::ZERO).then(|| Stand::one_line((all, setting.left + room, width)))
    }

    fn place_pieces(
        &self,
        row: &Row,
        here: &LineContext<'_>,
        indent: Length,
        turned: Length,
        pieces: Vec<Range<usize>>,
    ) -> Stand {
        let last = pieces.len() - 1;
        let placed = pieces.into_iter().enumerate().map(|(index, text)| {
            let setting = here.line(index);
            let measure = setting.measure;
            let width = self.width(row, here, text.clone());
            let (left, right) = self.hanging(row, &text, setting.hang_left);
            // What hangs was left aside when the line was divided.
            let right = right.min(setting.hang_right);
            if index == 0 {
                let x = self.x_of(row, &setting, indent, width - left - right) - left;
                return (text, x, width);
            }
            let x = match (self.style.align, self.style.turnover) {
                (Align::Centre, _) => (measure - width) / 2,
                (Align::Right, _) => measure - (width - right) - turned,
                (_, Turnover::Right) if index == last => measure - (width - right),
                _ => turned,
            };
            (text, setting.left + x, width)
        });
        Stand::turned_over(placed.collect(), &[])
    }

    /// The pieces of a row that is no verse.
    pub(super) fn pieces(&self, row: &Row, here: &LineContext<'_>) -> Option<Vec<Range<usize>>> {
        divide_along(
            &row.shaped.text,
            row.shaped.start(),
            self.breaks(row, here),
            &limits(here, Length::ZERO, Length::ZERO),
            |_, stretch| self.width(row, here, stretch),
        )
        .map(|divided| divided.pieces)
    }

    fn divided_along(
        &self,
        row: &Row,
        here: &LineContext<'_>,
        limits: &[Length],
    ) -> Option<Divided> {
        let found = self.breaks(row, here);
        let start = row.shaped.start();
        let setting = here.line(0);
        let width = |limit: Length, stretch: Range<usize>| {
            // On slots the same stretches are asked for again and again.
            let estimate = match here.column.is_plain() {
                false => None,
                true => row.shaped.estimate(self.shaper, stretch.clone()),
            };
            if let Some(estimate) = estimate
                && clear_of(estimate, limit, row.voice.size)
            {
                return estimate;
            }
            let wide = self.width(row, here, stretch.clone());
            if (setting.hang_left, setting.hang_right) == (Length::ZERO, Length::ZERO) {
                return wide;
            }
            let hang = self.hanging(row, &stretch, setting.hang_left);
            let left = if stretch.start == start {
                hang.0
            } else {
                Length::ZERO
            };
            wide - left - hang.1.min(setting.hang_right)
        };
        divide_along(&row.shaped.text, start, found, limits, width)
    }

    /// Where a row may be broken.
    fn breaks<'b>(&self, row: &Row, here: &LineContext<'b>) -> &'b [Break] {
        here.findings.breaks.get_or_init(|| {
            let phrase = |before: &str, behind: &str| begins_phrase(self.language, before, behind);
            let start = row.shaped.start();
            let text = &row.shaped.text;
            let places = row.shaped.opportunities(0..text.len(), self.language);
            breaks_among(places, text, start, phrase)
        })
    }

    /// The width of a stretch of a row.
    pub(super) fn width(&self, row: &Row, here: &LineContext<'_>, stretch: Range<usize>) -> Length {
        let key = (stretch.start, stretch.end);
        let mut widths = here.findings.widths.borrow_mut();
        *widths
            .entry(key)
            .or_insert_with(|| row.shaped.width(self.shaper, stretch))
    }

    /// What of a stretch may hang out: opening quotation marks at the left, and with `hang = "all"` closing
    /// ones, full stops, commas and hyphens at the right. Nothing hangs of centred lines or of lines that run down, nor of a line that
    /// reads another way than its part.
    pub(super) fn hanging(
        &self,
        row: &Row,
        stretch: &Range<usize>,
        room_left: Length,
    ) -> (Length, Length) {
        if self.style.hang == Hang::None
            || self.style.align == Align::Centre
            || self.style.lines_run.is_down()
            || row.shaped.reads() != self.reads
            || stretch.is_empty()
        {
            return (Length::ZERO, Length::ZERO);
        }
        let text = &row.shaped.text[stretch.clone()];
        let mut left = Length::ZERO;
        let marks = text.len() - text.trim_start_matches(is_opening_quote).len();
        if marks > 0 && marks < text.len() && stretch.start == 0 && self.style.align != Align::Right
        {
            left = row
                .shaped
                .width(self.shaper, stretch.start..stretch.start + marks);
        }
        let mut right = Length::ZERO;
        let marks = text.len() - text.trim_end_matches(hangs_right).len();
        if self.style.hang == Hang::All && marks > 0 && marks < text.len() {
            right = row
                .shaped
                .width(self.shaper, stretch.end - marks..stretch.end);
        }
        (left.min(room_left), right)
    }
}

/// How wide the pieces of a row may be, of which the first stands in, and the others otherwise.
fn limits(here: &LineContext<'_>, indent: Length, turned: Length) -> Vec<Length> {
    let limit = |piece: usize| {
        let inset = if piece == 0 { indent } else { turned };
        here.line(piece).measure - inset
    };
    (0..=here.lines_that_differ().max(1)).map(limit).collect()
}

/// All words of a row, a large initial aside.
fn whole(row: &Row) -> Range<usize> {
    row.shaped.start()..row.shaped.trimmed_end(row.shaped.text.len())
}

/// Whether a width that was only estimated tells as much as the exact one: whether it lies clear of the limit
/// it must keep, of two thirds, of half and of a third of it, by an em, a twentieth of the width and what may hang out.
pub(super) fn clear_of(estimate: Length, limit: Length, em: Length) -> bool {
    let doubt = em * 2 + estimate / 20;
    let clear = |of: Length| (estimate - of).max(of - estimate) > doubt;
    clear(limit) && clear(limit * 2 / 3) && clear(limit / 2) && clear(limit / 3)
}

/// Whether a mark may hang outside an edge of its text area: quotation marks, full stops, commas and hyphens.
pub fn may_hang(c: char) -> bool {
    is_opening_quote(c) || hangs_right(c)
}

pub(super) fn is_opening_quote(c: char) -> bool {
    matches!(
        c,
        '“' | '‘' | '„' | '‚' | '«' | '‹' | '»' | '›' | '"' | '\''
    )
}

pub(super) fn hangs_right(c: char) -> bool {
    matches!(
        c,
        '.' | ',' | '-' | '‐' | '”' | '’' | '"' | '\'' | '»' | '›' | '،' | '۔' | '־'
    )
}
