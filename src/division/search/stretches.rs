//! The words that a panel may carry from a place on, and what rules that remember nothing ask for them: found once for
//! all panels that are alike.

use std::cell::Cell;
use std::sync::Arc;

use rayon::prelude::*;
use rustc_hash::{FxHashMap, FxHashSet};

use super::candidates::PanelCandidate;
use super::part_search::PartSearch;
use super::remembered::Holding;
use crate::division::{AreaFacts, Behind, Cost, PanelFacts, PanelView, Passed, Problem};
use crate::names::{HalfLines, Role};
use crate::stack::Stop;

/// Words that may stand on a panel, and what rules without memory ask for them.
#[derive(Clone, Copy, Debug)]
pub(super) struct Stretch {
    pub to: u32,
    pub used: HalfLines,
    pub foot: u32,
    pub cost: Cost,
}

/// All stretches from a place.
pub(super) type Stretches = Arc<[Stretch]>;

/// What has been found from a place on.
#[derive(Clone)]
pub(super) struct Found {
    pub stretches: Stretches,
    /// The last place that was looked at.
    pub seen: u32,
}

impl Stretch {
    /// Where it ends.
    pub fn stop(&self) -> Stop {
        Stop {
            to: self.to as usize,
            used: self.used,
            foot: self.foot,
        }
    }
}

/// What a panel may carry as far as rules without memory can tell: panels of one class in one role with one
/// text area cost the same for the same stretch. Of a picture with captions, or one chosen for the panel, it matters
/// which it is; of others, whether they have a name.
#[derive(Clone, Copy, PartialEq, Eq, Hash)]
pub(super) struct Kind {
    class: usize,
    role: Role,
    area: Option<AreaFacts>,
    picture: Option<usize>,
    /// Whether its picture has a name.
    named: bool,
}

/// The stretches that have been found already, and what tells which panels are alike.
pub(super) struct KnownStretches<'k> {
    class_of: Vec<usize>,
    /// Which pictures have captions.
    captioned: Vec<bool>,
    kinds: FxHashMap<Kind, usize>,
    /// The stretches from each place on, by kind, found when first asked for.
    by_kind: Vec<Vec<Option<Found>>>,
    /// The kinds, by number.
    numbered: Vec<Kind>,
    /// What an earlier search has found that holds still.
    holding: Option<Holding<'k>>,
    /// Where stretches are gathered, again and again.
    room: Vec<Stretch>,
}

impl<'k> KnownStretches<'k> {
    /// None yet. `apart`: panels are alike whatever is chosen for them.
    pub fn new(problem: &Problem, apart: bool, holding: Option<Holding<'k>>) -> KnownStretches<'k> {
        KnownStretches {
            class_of: classify(&problem.panels, apart),
            captioned: captioned(problem),
            kinds: FxHashMap::default(),
            by_kind: Vec::new(),
            numbered: Vec::new(),
            holding,
            room: Vec::new(),
        }
    }

    /// All that has been found, by kind.
    pub fn found(self) -> Vec<(Kind, Vec<Option<Found>>)> {
        self.numbered.into_iter().zip(self.by_kind).collect()
    }
}

impl PartSearch<'_> {
    /// The kind of a panel in a role, by its number.
    pub fn kind(&mut self, panel: usize, role: Role, picture: Option<usize>) -> usize {
        let chosen = self.problem.panels[panel].chosen.as_ref();
        let chosen = chosen.and_then(|chosen| chosen.picture);
        let matters = |&picture: &usize| self.known.captioned[picture] || chosen == Some(picture);
        let kind = Kind {
            class: self.known.class_of[panel],
            role,
            area: self.area(panel, role, picture),
            picture: picture.filter(matters),
            named: picture.is_some(),
        };
        let count = self.known.kinds.len();
        let number = *self.known.kinds.entry(kind).or_insert(count);
        if number == count {
            let places = self.problem.rows.len() + 1;
            self.known.by_kind.push(vec![None; places]);
            self.known.numbered.push(kind);
        }
        number
    }

    /// Whether a panel may cost more than others of its class, for what is chosen for it.
    pub fn costs_its_own(&self, panel: usize) -> bool {
        self.chosen.is_some() && self.problem.panels[panel].chosen.is_some()
    }

    /// The stretches from a place on that a panel may carry.
    pub fn stretches(&mut self, panel: usize, offer: &PanelCandidate, from: usize) -> Stretches {
        let found = self.stretches_of_kind(panel, offer, from);
        let Some(chosen) = self.chosen.filter(|_| self.costs_its_own(panel)) else {
            return found;
        };
        let with_chosen = |stretch: &Stretch| {
            let area = self.area(panel, offer.role, offer.picture);
            let reading = self.reading(panel, from, 0, offer, area, stretch.stop());
            let cost = stretch.cost + chosen.price(chosen.rule.read(&reading))?;
            Some(Stretch { cost, ..*stretch })
        };
        found.iter().filter_map(with_chosen).collect()
    }

    /// The stretches of any panel of a kind: what only this one has chosen costs nothing.
    pub fn stretches_of_kind(
        &mut self,
        panel: usize,
        offer: &PanelCandidate,
        from: usize,
    ) -> Stretches {
        if let Some(known) = &self.known.by_kind[offer.kind][from] {
            return Arc::clone(&known.stretches);
        }
        let kind = &self.known.numbered[offer.kind];
        let holding = self.known.holding.as_ref();
        if let Some(found) = holding.and_then(|holding| holding.stretches(kind, from)) {
            let stretches = Arc::clone(&found.stretches);
            self.known.by_kind[offer.kind][from] = Some(found);
            return stretches;
        }
        let mut room = std::mem::take(&mut self.known.room);
        room.clear();
        let seen = self.find_stretches(panel, offer, from, &mut room);
        let found: Stretches = room.as_slice().into();
        self.known.room = room;
        self.known.by_kind[offer.kind][from] = Some(Found {
            stretches: Arc::clone(&found),
            seen: seen as u32,
        });
        found
    }

    /// Finds the stretches of kinds that are not known yet, on all cores: from a place on, of a panel that carries what is
    /// offered.
    pub fn find_stretches_of_kinds(&mut self, mut asked: Vec<(usize, &PanelCandidate, usize)>) {
        let mut met: FxHashSet<(usize, usize)> = FxHashSet::default();
        asked.retain(|&(_, offer, from)| {
            self.known.by_kind[offer.kind][from].is_none() && met.insert((offer.kind, from))
        });
        let find = |room: &mut Vec<Stretch>,
                    &(panel, offer, from): &(_, &PanelCandidate, usize)| {
            if let Some(holding) = self.known.holding.as_ref()
                && let Some(found) = holding.stretches(&self.known.numbered[offer.kind], from)
            {
                return found;
            }
            room.clear();
            let seen = self.find_stretches(panel, offer, from, room) as u32;
            let stretches = Stretches::from(room.as_slice());
            Found { stretches, seen }
        };
        let found: Vec<Found> = asked.par_iter().map_init(Vec::new, find).collect();
        for ((_, offer, from), found) in asked.into_iter().zip(found) {
            self.known.by_kind[offer.kind][from] = Some(found);
        }
    }

    /// Finds them, with what the rules without memory ask for each; gives the last place that was looked at.
    fn find_stretches(
        &self,
        panel: usize,
        offer: &PanelCandidate,
        from: usize,
        found: &mut Vec<Stretch>,
    ) -> usize {
        let seen = Cell::new(from);
        let facts = &self.problem.panels[panel];
        if facts.begins.is_some_and(|row| row != from) {
            return from;
        }
        let area = self.area(panel, offer.role, offer.picture);
        if let Some(passed) = facts.passed {
            found.extend(self.printed(panel, from, offer, passed));
            return self.problem.rows.len();
        }
        let chosen = facts.chosen.as_ref().and_then(|chosen| chosen.words);
        if self.breaks_hold && chosen.is_some_and(|words| !words.may_begin(from)) {
            return from;
        }
        let add = |stop: Stop| {
            let reading = self.reading(panel, from, 0, offer, area, stop);
            found.extend(self.price(&reading).map(|cost| Stretch {
                to: stop.to as u32,
                used: stop.used,
                foot: stop.foot,
                cost,
            }));
        };
        self.each_end((offer, area), from, &seen, add);
        if let Some(end) = facts.ends {
            found.retain(|stretch| stretch.to as usize == end);
        }
        if facts.begins.is_some() {
            // A panel with no words begins with none.
            found.retain(|stretch| stretch.to as usize > from);
        }
        seen.get()
    }

    /// Shows every place where the words of a panel may end, as far as its role, its area and captions go; in `seen` stays
    /// the last that was looked at.
    fn each_end(
        &self,
        (offer, area): (&PanelCandidate, Option<AreaFacts>),
        from: usize,
        seen: &Cell<usize>,
        mut show: impl FnMut(Stop),
    ) {
        let problem = self.problem;
        match (offer.role, area) {
            (Role::Title, Some(area)) => {
                let to = if from == 0 { problem.opening } else { from };
                seen.set(problem.rows.len());
                let stop = problem.stop(area.column, from, to);
                if stop.used <= area.capacity {
                    show(Stop { to, ..stop });
                }
            }
            (Role::Text | Role::Shared, Some(area)) => {
                // A panel with nothing but captions is one of its picture.
                let first = problem.words_from(from).unwrap_or(problem.rows.len());
                let words = |stop: &Stop| stop.to > first;
                self.stops(offer, area, from, seen)
                    .filter(words)
                    .for_each(show);
            }
            (Role::Picture, area) => {
                show(Stop::nothing(from));
                if let Some(area) = area {
                    self.stops(offer, area, from, seen).for_each(show);
                }
            }
            (Role::Blank, _) => show(Stop::nothing(from)),
            _ => {}
        }
    }

    /// What stands on a panel that is passed for press; nothing from a place that it does not begin at.
    fn printed(
        &self,
        panel: usize,
        from: usize,
        offer: &PanelCandidate,
        passed: Passed,
    ) -> Option<Stretch> {
        if passed.words.is_some_and(|(begins, _)| begins != from) {
            return None;
        }
        let to = passed.words.map_or(from, |(_, ends)| ends);
        let area = self.area(panel, offer.role, offer.picture);
        let stop = area.map(|area| self.problem.stop(area.column, from, to));
        let stop = Stop {
            to,
            ..stop.unwrap_or_default()
        };
        let reading = self.reading(panel, from, 0, offer, area, stop);
        let cost = if passed.exempt {
            let costs = self.plain.iter();
            let costs = costs.filter_map(|weighed| weighed.price(weighed.rule.read(&reading)));
            costs.sum()
        } else {
            self.price(&reading)?
        };
        let to = to as u32;
        Some(Stretch {
            to,
            used: stop.used,
            foot: stop.foot,
            cost,
        })
    }

    /// Where a panel's words may end, as far as its area and captions go: a caption stands on a panel of its
    /// picture, and on a panel in the role of a picture nothing else stands.
    fn stops<'b>(
        &'b self,
        offer: &'b PanelCandidate,
        area: AreaFacts,
        from: usize,
        last: &'b Cell<usize>,
    ) -> impl Iterator<Item = Stop> + 'b {
        let rows = &self.problem.rows;
        let may_stand = move |row: usize| match rows[row].caption {
            None => offer.role != Role::Picture,
            caption => caption == offer.picture,
        };
        let mut seen = from;
        let stops = self.problem.stops(area.column, from);
        stops.take_while(move |stop| {
            let stand = (seen..stop.to).all(may_stand);
            seen = stop.to;
            last.set(stop.to);
            stand && stop.used <= area.capacity
        })
    }

    /// What the rules without memory ask for a panel; nothing where it breaks a hard one.
    fn price(&self, reading: &PanelView<'_>) -> Option<Cost> {
        self.plain.iter().try_fold(0, |sum, weighed| {
            Some(sum + weighed.price(weighed.rule.read(reading))?)
        })
    }
}

/// Which pictures have captions.
fn captioned(problem: &Problem) -> Vec<bool> {
    let mut found = vec![false; problem.pictures.len()];
    for picture in problem.rows.iter().filter_map(|row| row.caption) {
        found[picture] = true;
    }
    found
}

/// Panels that may carry the same for the same cost are of one class; `apart`: what is chosen for them aside.
fn classify(panels: &[PanelFacts], apart: bool) -> Vec<usize> {
    let mut classes: FxHashMap<PanelFacts, usize> = FxHashMap::default();
    let mut class_of = Vec::with_capacity(panels.len());
    for panel in panels {
        // Where it lies is no matter for rules that remember nothing.
        let alike = PanelFacts {
            name: panels[0].name,
            spread: 0,
            opens_spread: false,
            follows: false,
            behind: None,
            back: Behind::default(),
            chosen: panel.chosen.clone().filter(|_| !apart),
            ..panel.clone()
        };
        let count = classes.len();
        class_of.push(*classes.entry(alike).or_insert(count));
    }
    class_of
}
