//! Which places panels can begin at.

use std::sync::Arc;

use rustc_hash::{FxHashMap, FxHashSet};

use super::candidates::PanelCandidate;
use super::part_search::PartSearch;

/// Something that panels of one kind may carry, and which panels those are.
struct Carried {
    /// One of the panels.
    panel: usize,
    offer: PanelCandidate,
    panels: PanelBits,
}

/// Some of a part's panels, a bit for each; one more stands for the end.
pub(super) type PanelBits = Vec<u64>;

/// At which of the panels each place can be the first.
pub(super) struct Reach {
    /// How many words of bits a place has.
    words: usize,
    bits: Vec<u64>,
    /// The most places that any panel's words span.
    pub longest: usize,
    /// The kinds of which some panel may carry words.
    pub with_words: FxHashSet<usize>,
}

impl Reach {
    fn of(&self, place: usize) -> &[u64] {
        &self.bits[place * self.words..(place + 1) * self.words]
    }

    /// Whether a place can be the first of some panels.
    pub fn meets(&self, place: usize, panels: &[u64]) -> bool {
        let mut both = self.of(place).iter().zip(panels);
        both.any(|(here, those)| here & those != 0)
    }

    /// The first and the last panel that a place can be the first of; nothing where there is none.
    pub fn ends(&self, place: usize) -> Option<(usize, usize)> {
        let words = self.of(place);
        let first = words.iter().position(|word| *word != 0)?;
        let last = words.iter().rposition(|word| *word != 0)?;
        let low = first * 64 + words[first].trailing_zeros() as usize;
        let high = last * 64 + 63 - words[last].leading_zeros() as usize;
        Some((low, high))
    }

    /// Adds the panels behind some, up to the last that may be, to those of a place.
    fn add(&mut self, place: usize, before: &[u64], last: usize) {
        let words = &mut self.bits[place * self.words..(place + 1) * self.words];
        let mut carry = 0;
        for (at, (word, before)) in words.iter_mut().zip(before).enumerate() {
            let next = before << 1 | carry;
            carry = before >> 63;
            *word |= match (last + 1).saturating_sub(at * 64) {
                kept @ 0..64 => next & ((1 << kept) - 1),
                _ => next,
            };
        }
    }

    /// Adds the panels, up to the last that may be, that begin at a place because those before stand still there.
    fn add_still(&mut self, place: usize, still: &[u64], last: usize) {
        let words = &mut self.bits[place * self.words..(place + 1) * self.words];
        for panel in 0..last {
            let stands = words[panel / 64] & still[panel / 64];
            let next = stands >> (panel % 64) & 1;
            words[(panel + 1) / 64] |= next << ((panel + 1) % 64);
        }
    }
}

impl PartSearch<'_> {
    /// The places at which each panel can begin, those left out that need more panels than follow.
    pub(super) fn reach(&mut self, offers: &[Arc<[PanelCandidate]>]) -> Reach {
        let kinds = by_kind(offers);
        let (needed, longest, with_words) = self.needed(&kinds);
        let (panels, places) = (self.problem.panels.len(), self.problem.rows.len() + 1);
        let mut reach = Reach {
            words: no_panels(panels).len(),
            bits: no_panels(panels).repeat(places),
            longest,
            with_words,
        };
        reach.bits[0] = 1;
        // The last panel that can begin at each place.
        let last = |place: usize| panels.checked_sub(needed[place]);
        for place in 0..places {
            if reach.ends(place).is_none() {
                continue;
            }
            if let Some(last) = last(place) {
                self.reach_standing(&kinds, place, last, &mut reach);
            }
            for carried in &kinds {
                let both = reach.of(place).iter().zip(&carried.panels);
                let here: PanelBits = both.map(|(here, those)| here & those).collect();
                if here.iter().all(|word| *word == 0) {
                    continue;
                }
                let found = self.stretches_of_kind(carried.panel, &carried.offer, place);
                for to in found.iter().map(|stretch| stretch.to as usize) {
                    if let Some(last) = last(to).filter(|_| to > place) {
                        reach.add(to, &here, last);
                    }
                }
            }
        }
        reach
    }

    /// Adds the panels that begin at a place because those before carry no words, up to the last that may.
    fn reach_standing(&mut self, kinds: &[Carried], place: usize, last: usize, reach: &mut Reach) {
        let mut still = no_panels(self.problem.panels.len());
        let mut tried = vec![false; kinds.len()];
        // Panels that are come to this way may themselves be of other kinds.
        let mut more = true;
        while std::mem::take(&mut more) {
            for (carried, tried) in kinds.iter().zip(&mut tried) {
                if *tried || !reach.meets(place, &carried.panels) {
                    continue;
                }
                (*tried, more) = (true, true);
                let found = self.stretches_of_kind(carried.panel, &carried.offer, place);
                let first = found.first().map(|stretch| stretch.to as usize);
                if first == Some(place) {
                    let both = still.iter_mut().zip(&carried.panels);
                    both.for_each(|(still, panels)| *still |= panels);
                }
            }
            reach.add_still(place, &still, last);
        }
    }

    /// The fewest panels that can take the words from each place on that any panel can begin at, if every panel
    /// could be of the kind that suits best; the most places that any panel's words span; and the kinds that carry words.
    fn needed(&mut self, kinds: &[Carried]) -> (Vec<usize>, usize, FxHashSet<usize>) {
        // A panel without words takes none.
        let takes =
            |carried: &&Carried| carried.offer.role.has_words() || carried.offer.picture.is_some();
        let kinds: Vec<&Carried> = kinds.iter().filter(takes).collect();
        let places = self.problem.rows.len() + 1;
        // Lines from different places soon fall alike: panels can begin at few of all places.
        let mut met = vec![false; places];
        met[0] = true;
        let mut longest = 0;
        let mut with_words: FxHashSet<usize> = FxHashSet::default();
        for place in 0..places - 1 {
            if !met[place] {
                continue;
            }
            for carried in &kinds {
                let found = self.stretches_of_kind(carried.panel, &carried.offer, place);
                for to in found.iter().map(|stretch| stretch.to as usize) {
                    met[to] = true;
                    longest = longest.max(to - place);
                }
                if found
                    .last()
                    .is_some_and(|stretch| stretch.to as usize > place)
                {
                    with_words.insert(carried.offer.kind);
                }
            }
        }
        let mut needed = vec![usize::MAX; places];
        needed[places - 1] = 0;
        for place in (0..places - 1).rev().filter(|&place| met[place]) {
            for carried in &kinds {
                let found = self.stretches_of_kind(carried.panel, &carried.offer, place);
                for to in found.iter().map(|stretch| stretch.to as usize) {
                    if to > place && needed[to] < usize::MAX {
                        needed[place] = needed[place].min(needed[to] + 1);
                    }
                }
            }
        }
        (needed, longest, with_words)
    }
}

/// No panel of so many, nor the end.
pub(super) fn no_panels(panels: usize) -> PanelBits {
    vec![0; panels / 64 + 1]
}

/// What panels may carry, by kind.
fn by_kind(offers: &[Arc<[PanelCandidate]>]) -> Vec<Carried> {
    let mut kinds: Vec<Carried> = Vec::new();
    let mut numbers: FxHashMap<usize, usize> = FxHashMap::default();
    for (panel, offer) in every(offers) {
        let at = *numbers.entry(offer.kind).or_insert(kinds.len());
        if at == kinds.len() {
            kinds.push(Carried {
                panel,
                offer: *offer,
                panels: no_panels(offers.len()),
            });
        }
        kinds[at].panels[panel / 64] |= 1 << (panel % 64);
    }
    kinds
}

/// Everything that panels are offered, each with its panel.
pub(super) fn every(
    offers: &[Arc<[PanelCandidate]>],
) -> impl Iterator<Item = (usize, &PanelCandidate)> {
    let offers = offers.iter().enumerate();
    offers.flat_map(|(panel, offers)| offers.iter().map(move |offer| (panel, offer)))
}
