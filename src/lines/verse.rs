//! Setting a line of verse: its indent, what hangs, and its pieces where it turns over.

use std::ops::Range;

use super::part::{Here, Setter};
use super::stack::{one_line, stack};
use super::turnover::{Break, begins_phrase, breaks_among, divide};
use super::{Row, RowAt};
use crate::plan::{Align, Hang, Turnover};
use crate::units::Length;

impl Setter<'_> {
    pub(super) fn set_verse(&self, row: &Row, here: &Here<'_>) -> RowAt {
        let measure = here.setting.measure;
        let text = &row.shaped.text;
        let all = row.shaped.start()..row.shaped.trimmed_end(text.len());
        let hang = self.hanging(row, &all, here.setting.hang_left);
        let width = row.shaped.width(self.shaper, all.clone());
        let net = width - hang.0 - hang.1.min(here.setting.hang_right);
        let indent = self.indent(row, here, net);
        if here.drop + indent + net <= measure {
            let x = self.x_of(row, here, indent + here.drop, net) - hang.0;
            return one_line(all, x, width);
        }
        self.turn_over(row, here, indent)
    }

    /// A line's indent; a stepped one begins where the line above ended, drawn back as far as it takes to
    /// fit, but not beyond the left edge.
    pub(super) fn indent(&self, row: &Row, here: &Here<'_>, net: Length) -> Length {
        if !row.stepped {
            return match self.style.align {
                Align::Right => Length::ZERO,
                _ => row.indent,
            };
        }
        let reached = here.run_end - here.setting.left - here.drop;
        let room = here.setting.measure - here.drop - net;
        reached.min(room).max(Length::ZERO)
    }

    /// Where a line of this width begins; a stepped one, even among centred lines, where the line above ended.
    pub(super) fn x_of(&self, row: &Row, here: &Here<'_>, indent: Length, net: Length) -> Length {
        let measure = here.setting.measure;
        here.setting.left
            + match self.style.align {
                Align::Right => measure - net,
                Align::Centre if row.stepped => indent,
                Align::Centre => (measure - net - indent) / 2 + indent,
                _ => indent,
            }
    }

    pub(super) fn turn_over(&self, row: &Row, here: &Here<'_>, indent: Length) -> RowAt {
        let em = self.style.size;
        let asked = match self.style.turnover {
            Turnover::Indent(asked) => asked,
            Turnover::Right => Length::ZERO,
        };
        let full = asked.max(em * 2).max(here.deepest + em);
        let centred = self.style.align == Align::Centre;
        let indents = if centred {
            [Length::ZERO; 4]
        } else {
            [full, em * 2, em, Length::ZERO]
        };
        let measure = here.setting.measure;
        let drop = if here.drop_lines > 1 {
            here.drop
        } else {
            Length::ZERO
        };
        let divided = |indent: Length| {
            indents.into_iter().find_map(|turned| {
                let first = measure - indent - here.drop;
                let pieces = self.pieces_from(row, here, first, measure - turned - drop)?;
                Some(self.place_pieces(row, here, indent, turned, pieces))
            })
        };
        // Where a line stands in so far that it cannot even be divided, it is drawn back: to where it just
        // fits, or else almost to the edge.
        divided(indent)
            .or_else(|| self.drawn_back(row, here))
            .or_else(|| divided(indent.min(em * 2)))
            .unwrap_or_else(|| self.broken(row, here, indent.min(em * 2)))
    }

    /// A whole line as far in as it fits.
    fn drawn_back(&self, row: &Row, here: &Here<'_>) -> Option<RowAt> {
        let all = row.shaped.start()..row.shaped.trimmed_end(row.shaped.text.len());
        let width = row.shaped.width(self.shaper, all.clone());
        let room = here.setting.measure - here.drop - width;
        (room >= Length::ZERO).then(|| one_line(all, here.setting.left + here.drop + room, width))
    }

    pub(super) fn place_pieces(
        &self,
        row: &Row,
        here: &Here<'_>,
        indent: Length,
        turned: Length,
        pieces: Vec<Range<usize>>,
    ) -> RowAt {
        let measure = here.setting.measure;
        let last = pieces.len() - 1;
        let placed = pieces.into_iter().enumerate().map(|(index, text)| {
            let width = row.shaped.width(self.shaper, text.clone());
            if index == 0 {
                let hang = self.hanging(row, &text, here.setting.hang_left).0;
                let x = self.x_of(row, here, indent + here.drop, width - hang) - hang;
                return (text, x, width);
            }
            let drop = if index < here.drop_lines as usize {
                here.drop
            } else {
                Length::ZERO
            };
            let x = match (self.style.align, self.style.turnover) {
                (Align::Centre, _) => (measure - width) / 2,
                (Align::Right, _) => measure - width - turned,
                (_, Turnover::Right) if index == last => measure - width,
                _ => turned + drop,
            };
            (text, here.setting.left + x, width)
        });
        stack(placed.collect(), true)
    }

    /// The pieces of a whole row that has no large initial.
    pub(super) fn pieces(
        &self,
        row: &Row,
        first: Length,
        rest: Length,
    ) -> Option<Vec<Range<usize>>> {
        let found = self.breaks(row);
        let width = |stretch| row.shaped.width(self.shaper, stretch);
        divide(
            &row.shaped.text,
            row.shaped.start(),
            &found,
            first,
            rest,
            width,
        )
        .map(|divided| divided.pieces)
    }

    pub(super) fn pieces_from(
        &self,
        row: &Row,
        here: &Here<'_>,
        first: Length,
        rest: Length,
    ) -> Option<Vec<Range<usize>>> {
        let found = self.breaks(row);
        let start = row.shaped.start();
        let width = |stretch: Range<usize>| {
            let limit = if stretch.start == start { first } else { rest };
            let estimate = row.shaped.estimate(self.shaper, stretch.clone());
            if let Some(estimate) = estimate
                && clear_of(estimate, limit, row.voice.size)
            {
                return estimate;
            }
            let wide = row.shaped.width(self.shaper, stretch.clone());
            let hang = self.hanging(row, &stretch, here.setting.hang_left);
            let left = if stretch.start == start {
                hang.0
            } else {
                Length::ZERO
            };
            wide - left - hang.1.min(here.setting.hang_right)
        };
        divide(&row.shaped.text, start, &found, first, rest, width).map(|divided| divided.pieces)
    }

    pub(super) fn breaks(&self, row: &Row) -> Vec<Break> {
        let phrase = |words: &str| begins_phrase(self.language, words);
        let start = row.shaped.start();
        let text = &row.shaped.text;
        let places = row.shaped.opportunities(0..text.len(), self.language);
        breaks_among(places, text, start, phrase)
    }

    /// What of a stretch may hang out: opening quotation marks at the left, and with `hang = "all"` closing
    /// ones, full stops, commas and hyphens at the right. Nothing hangs of centred lines, nor of a line that
    /// reads another way than its part.
    pub(super) fn hanging(
        &self,
        row: &Row,
        stretch: &Range<usize>,
        room_left: Length,
    ) -> (Length, Length) {
        if self.style.hang == Hang::None
            || self.style.align == Align::Centre
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

/// Whether a width that was only estimated tells as much as the exact one: whether it lies clear of the limit
/// it must keep and of two thirds of it, by an em, a twentieth of the width and what may hang out.
pub(super) fn clear_of(estimate: Length, limit: Length, em: Length) -> bool {
    let doubt = em * 2 + estimate / 20;
    let clear = |of: Length| (estimate - of).max(of - estimate) > doubt;
    clear(limit) && clear(limit * 2 / 3)
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
