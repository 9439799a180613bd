//! Where callouts stand in the client's text: beside the words that they belonged to.

use super::super::callout::Callout;
use super::matching::Matched;
use super::view::{Unit, View};

/// Which words a callout belongs to.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub(super) enum Side {
    Before,
    After,
}

/// What became of a callout.
#[derive(Clone, Debug)]
pub(super) enum Fate {
    /// It stands where it stood.
    Kept,
    /// Its words are gone; it stands at the nearest place.
    Strayed,
    /// What it said has no words any more.
    BrokenPromise,
    /// The client's own file has it.
    There,
}

/// A callout in the new text.
#[derive(Clone, Debug)]
pub(super) struct Placed {
    /// How many new words stand before it.
    pub at: usize,
    pub side: Side,
    pub fate: Fate,
}

/// What is laid out for placing.
pub(super) struct Table<'a> {
    pub old: &'a View,
    /// The old units, or blocks, and the new ones.
    pub old_units: &'a [Unit],
    pub new_units: &'a [Unit],
    pub matched: &'a Matched,
}

/// Whether parts and kinds of text begin with it: such a callout keeps the order of the text.
pub(super) fn is_structural(says: &Callout) -> bool {
    matches!(says, Callout::Part(_) | Callout::SetAs(_))
}

fn unit_at(units: &[Unit], word: usize) -> usize {
    units.partition_point(|unit| unit.words.end <= word)
}

impl Table<'_> {
    /// Where each callout of the manuscript goes.
    pub(super) fn place_all(&self) -> Vec<Placed> {
        let calls = self.old.calls.iter().enumerate();
        let mut placed: Vec<Placed> = calls
            .map(|(number, call)| self.place(call.at, self.side(number), number))
            .collect();
        self.mend_groups(&mut placed);
        placed
    }

    fn new_words(&self) -> usize {
        self.matched.to_old.len()
    }

    /// Which words a callout belongs to: those before it, if there are any in its part.
    fn side(&self, number: usize) -> Side {
        let call = &self.old.calls[number];
        let backward = matches!(
            call.says,
            Callout::Picture(_) | Callout::EndTogether | Callout::Space(_)
        );
        let above = self.old.calls[..number].iter();
        let begins = |other: &&super::view::Call| {
            other.at == call.at && matches!(other.says, Callout::Part(_))
        };
        match backward && call.at > 0 && above.filter(begins).count() == 0 {
            true => Side::Before,
            false => Side::After,
        }
    }

    fn place(&self, at: usize, side: Side, number: usize) -> Placed {
        let says = &self.old.calls[number].says;
        let structural = is_structural(says);
        let map = match structural {
            true => &self.matched.in_order,
            false => &self.matched.to_new,
        };
        let kept = |at: usize| Placed {
            at,
            side,
            fate: Fate::Kept,
        };
        let all = &self.matched.to_new;
        let before = at.checked_sub(1).and_then(|word| all[word]);
        let after = all.get(at).copied().flatten();
        let untouched = match (at, before, after) {
            (0, _, Some(after)) => after == 0,
            (_, Some(before), Some(after)) => before + 1 == after,
            (_, Some(before), None) => at == map.len() && before + 1 == self.new_words(),
            _ => false,
        };
        if untouched {
            return kept(after.unwrap_or(self.new_words()));
        }
        let own = match side {
            Side::Before => self.beside_before(at, map, structural),
            Side::After => self.beside_after(at, map, structural),
        };
        match own {
            Some(at) => kept(at),
            None => self.stray(at, side, says),
        }
    }

    /// Behind the words before it, if something of them is left.
    fn beside_before(&self, at: usize, map: &[Option<usize>], structural: bool) -> Option<usize> {
        let last = at - 1;
        if let Some(word) = map[last] {
            return Some(word + 1);
        }
        let number = unit_at(self.old_units, last);
        let unit = &self.old_units[number];
        if at < unit.words.end
            && let Some(word) = map[at]
        {
            return Some(word);
        }
        let partner = self.matched.new_of[number].map(|new| (new, &self.new_units[new]));
        let partner = partner.filter(|(new, _)| !(structural && self.matched.moved[*new]));
        if let (true, Some((_, partner))) = (at == unit.words.end, partner) {
            return Some(partner.words.end);
        }
        let left = (unit.words.start..last).rev().find_map(|word| map[word]);
        left.map(|word| word + 1)
            .or(partner.map(|(_, partner)| partner.words.start))
    }

    /// Before the words behind it, if something of them is left.
    fn beside_after(&self, at: usize, map: &[Option<usize>], structural: bool) -> Option<usize> {
        if let Some(word) = map.get(at).copied().flatten() {
            return Some(word);
        }
        let number = unit_at(self.old_units, at);
        let unit = self.old_units.get(number)?;
        if at > unit.words.start
            && let Some(word) = map[at - 1]
        {
            return Some(word + 1);
        }
        let partner = self.matched.new_of[number].map(|new| (new, &self.new_units[new]));
        let partner = partner.filter(|(new, _)| !(structural && self.matched.moved[*new]));
        if let (true, Some((_, partner))) = (at == unit.words.start, partner) {
            return Some(partner.words.start);
        }
        let left = (at + 1..unit.words.end).find_map(|word| map[word]);
        left.or(partner.map(|(_, partner)| partner.words.end))
    }

    /// The nearest place for a callout whose words are gone.
    fn stray(&self, at: usize, side: Side, says: &Callout) -> Placed {
        let map = &self.matched.in_order;
        let before = || map[..at].iter().rev().find_map(|word| word.map(|w| w + 1));
        let after = || {
            map.get(at..)
                .and_then(|rest| rest.iter().find_map(|word| *word))
        };
        let (at, side) = match (is_structural(says), side) {
            // What stands now where the words were is of the new part.
            (true, _) => (before().or(after()).unwrap_or(0), Side::After),
            (_, Side::Before) => match (before(), after()) {
                (Some(at), _) => (at, Side::Before),
                (None, Some(at)) => (at, Side::After),
                (None, None) => (self.new_words(), Side::Before),
            },
            (_, Side::After) => match (after(), before()) {
                (Some(at), _) => (at, Side::After),
                (None, Some(at)) => (at, Side::Before),
                (None, None) => (self.new_words(), Side::Before),
            },
        };
        // These say what the very next words are.
        let of_its_words = matches!(
            says,
            Callout::Epigraph | Callout::Attribution | Callout::Caption(_)
        );
        let fate = if of_its_words {
            Fate::BrokenPromise
        } else {
            Fate::Strayed
        };
        Placed { at, side, fate }
    }

    /// A `[keep together]` and its end stand around what is left between them, or not at all.
    fn mend_groups(&self, placed: &mut [Placed]) {
        let calls = &self.old.calls;
        let mut open = None;
        for (number, call) in calls.iter().enumerate() {
            match call.says {
                Callout::KeepTogether => open = Some(number),
                Callout::EndTogether => {
                    if let Some(first) = open.take() {
                        self.mend_group(first, number, placed);
                    }
                }
                _ => {}
            }
        }
    }

    fn mend_group(&self, first: usize, last: usize, placed: &mut [Placed]) {
        let within = self.old.calls[first].at..self.old.calls[last].at;
        let mut left = self.matched.in_order[within.clone()].iter().flatten();
        let ends = left
            .next()
            .map(|head| (*head, left.next_back().unwrap_or(head) + 1));
        let moved = || {
            let all = self.matched.to_new[within.clone()].iter().flatten();
            Some((*all.clone().min()?, all.max()? + 1))
        };
        let by_place = || {
            let new = |word| {
                self.matched
                    .new_of
                    .get(unit_at(self.old_units, word))
                    .copied()
                    .flatten()
            };
            let units = || within.clone().filter_map(new);
            let (from, to) = (units().min()?, units().max()?);
            Some((
                self.new_units[from].words.start,
                self.new_units[to].words.end,
            ))
        };
        let is_kept = [first, last].map(|number| matches!(placed[number].fate, Fate::Kept));
        let in_turn = placed[first].at < placed[last].at;
        if in_turn && is_kept[0] && is_kept[1] {
            return;
        }
        match ends.or_else(moved).or_else(by_place) {
            Some((from, to)) => {
                if !(is_kept[0] && in_turn) {
                    placed[first] = Placed {
                        at: from,
                        side: Side::After,
                        fate: Fate::Kept,
                    };
                }
                if !(is_kept[1] && in_turn) || placed[first].at >= placed[last].at {
                    placed[last] = Placed {
                        at: to,
                        side: Side::Before,
                        fate: Fate::Kept,
                    };
                }
            }
            None => {
                placed[first].fate = Fate::BrokenPromise;
                placed[last].fate = Fate::BrokenPromise;
            }
        }
    }
}
