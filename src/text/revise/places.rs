//! Where callouts stand in the client's text: beside the words that they belonged to.

use super::super::callout::Callout;
use super::matching::Matching;
use super::view::{ClientView, TextUnit};

/// On which side of a callout the words stand that it belongs to.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub(super) enum AnchorSide {
    Before,
    After,
}

/// What became of a callout.
#[derive(Clone, Debug)]
pub(super) enum CalloutFate {
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
pub(super) struct PlacedCallout {
    /// How many new words stand before it.
    pub at: usize,
    pub side: AnchorSide,
    pub fate: CalloutFate,
}

/// What is known of both texts when callouts are placed.
pub(super) struct CalloutPlacer<'a> {
    pub old: &'a ClientView,
    /// The old units, or blocks.
    pub old_units: &'a [TextUnit],
    /// The new units, or blocks.
    pub new_units: &'a [TextUnit],
    pub matched: &'a Matching,
}

/// Whether a part or a kind of text begins with a callout: such a callout keeps the order of the text.
pub(super) fn is_structural(says: &Callout) -> bool {
    matches!(says, Callout::Part(_) | Callout::SetAs(_))
}

fn unit_at(units: &[TextUnit], word: usize) -> usize {
    units.partition_point(|unit| unit.words.end <= word)
}

impl CalloutPlacer<'_> {
    /// Where each callout of the manuscript goes.
    pub(super) fn place_all(&self) -> Vec<PlacedCallout> {
        let calls = self.old.calls.iter().enumerate();
        let mut placed: Vec<PlacedCallout> = calls
            .map(|(number, call)| self.place(call.at, self.side(number), number))
            .collect();
        self.mend_groups(&mut placed);
        placed
    }

    fn new_words(&self) -> usize {
        self.matched.to_old.len()
    }

    /// Which words a callout belongs to: those before it, if there are any in its part.
    fn side(&self, number: usize) -> AnchorSide {
        let call = &self.old.calls[number];
        let backward = matches!(
            call.says,
            Callout::Picture(_) | Callout::EndTogether | Callout::Space(_)
        );
        let above = self.old.calls[..number].iter();
        let begins = |other: &&super::view::ViewCallout| {
            other.at == call.at && matches!(other.says, Callout::Part(_))
        };
        match backward && call.at > 0 && above.filter(begins).count() == 0 {
            true => AnchorSide::Before,
            false => AnchorSide::After,
        }
    }

    fn place(&self, at: usize, side: AnchorSide, number: usize) -> PlacedCallout {
        let says = &self.old.calls[number].says;
        let structural = is_structural(says);
        let map = match structural {
            true => &self.matched.in_order,
            false => &self.matched.to_new,
        };
        let kept = |at: usize| PlacedCallout {
            at,
            side,
            fate: CalloutFate::Kept,
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
            AnchorSide::Before => self.beside_before(at, map, structural),
            AnchorSide::After => self.beside_after(at, map, structural),
        };
        match own {
            Some(at) => kept(at),
            None => self.stray(at, side, says),
        }
    }

    /// The place behind the words before a callout, if something of them is left.
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

    /// The place before the words behind a callout, if something of them is left.
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
    fn stray(&self, at: usize, side: AnchorSide, says: &Callout) -> PlacedCallout {
        let map = &self.matched.in_order;
        let before = || map[..at].iter().rev().find_map(|word| word.map(|w| w + 1));
        let after = || {
            map.get(at..)
                .and_then(|rest| rest.iter().find_map(|word| *word))
        };
        let (at, side) = match (is_structural(says), side) {
            // The words that now stand where the old ones were belong to the new part.
            (true, _) => (before().or(after()).unwrap_or(0), AnchorSide::After),
            (_, AnchorSide::Before) => match (before(), after()) {
                (Some(at), _) => (at, AnchorSide::Before),
                (None, Some(at)) => (at, AnchorSide::After),
                (None, None) => (self.new_words(), AnchorSide::Before),
            },
            (_, AnchorSide::After) => match (after(), before()) {
                (Some(at), _) => (at, AnchorSide::After),
                (None, Some(at)) => (at, AnchorSide::Before),
                (None, None) => (self.new_words(), AnchorSide::Before),
            },
        };
        // Epigraphs, attributions, captions and their like say what the very next words are.
        let of_its_words = matches!(
            says,
            Callout::Epigraph
                | Callout::Attribution
                | Callout::Subtitle
                | Callout::Author
                | Callout::Caption(_)
        );
        let fate = if of_its_words {
            CalloutFate::BrokenPromise
        } else {
            CalloutFate::Strayed
        };
        PlacedCallout { at, side, fate }
    }

    /// A `[keep together]` and its end stand around what is left between them, or not at all.
    fn mend_groups(&self, placed: &mut [PlacedCallout]) {
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

    /// Places one such pair of callouts, by their numbers.
    fn mend_group(&self, first: usize, last: usize, placed: &mut [PlacedCallout]) {
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
        let is_kept = [first, last].map(|number| matches!(placed[number].fate, CalloutFate::Kept));
        let in_turn = placed[first].at < placed[last].at;
        if in_turn && is_kept[0] && is_kept[1] {
            return;
        }
        match ends.or_else(moved).or_else(by_place) {
            Some((from, to)) => {
                if !(is_kept[0] && in_turn) {
                    placed[first] = PlacedCallout {
                        at: from,
                        side: AnchorSide::After,
                        fate: CalloutFate::Kept,
                    };
                }
                if !(is_kept[1] && in_turn) || placed[first].at >= placed[last].at {
                    placed[last] = PlacedCallout {
                        at: to,
                        side: AnchorSide::Before,
                        fate: CalloutFate::Kept,
                    };
                }
            }
            None => {
                placed[first].fate = CalloutFate::BrokenPromise;
                placed[last].fate = CalloutFate::BrokenPromise;
            }
        }
    }
}
