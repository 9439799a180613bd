//! One part as the search sees it: what its panels may carry, and what rules that remember nothing ask for it.

use std::rc::Rc;

use rustc_hash::FxHashMap;

use super::bound::{Count, Rest};
use super::candidates::PanelCandidate;
use super::roles::RoleTable;
use crate::division::{AreaFacts, Cost, PanelFacts, PanelView, Passed, Problem};
use crate::names::{HalfLines, Role};
use crate::plan::RuleName;
use crate::rules::{Memory, Remembers, Weighed, stanzas_done, weighed};
use crate::stack::Stop;

/// What a panel may carry as far as rules without memory can tell: panels of one class in one role with one
/// text area cost the same for the same stretch. Of a picture with captions, or one chosen for the panel, it matters
/// which it is.
#[derive(Clone, Copy, PartialEq, Eq, Hash)]
struct Kind {
    class: usize,
    role: Role,
    area: Option<AreaFacts>,
    picture: Option<usize>,
}

/// Words that may stand on a panel, and what rules without memory ask for them.
#[derive(Clone, Copy, Debug)]
pub(super) struct Stretch {
    pub to: u32,
    pub used: HalfLines,
    pub foot: u32,
    pub cost: Cost,
}

/// All stretches from a place.
pub(super) type Stretches = Rc<[Stretch]>;

/// Every combination of what rules remember of words, numbered.
#[derive(Default)]
struct Memories {
    all: Vec<Rc<[Memory]>>,
    numbers: FxHashMap<Rc<[Memory]>, u32>,
}

impl Memories {
    fn number(&mut self, memory: &[Memory]) -> u32 {
        if let Some(&known) = self.numbers.get(memory) {
            return known;
        }
        let memory: Rc<[Memory]> = memory.into();
        let number = self.all.len() as u32;
        self.all.push(Rc::clone(&memory));
        self.numbers.insert(memory, number);
        number
    }
}

/// What is offered to a panel, by panel, pictures placed, and whether one goes on.
type Offered = FxHashMap<(usize, u16, bool), Rc<[PanelCandidate]>>;

pub(super) struct PartSearch<'a> {
    pub problem: &'a Problem,
    plain: Vec<Weighed>,
    /// Where panels need not carry what the author chose for them: what it costs if they do not. It is asked of each
    /// panel by itself, so that panels which differ in nothing else are of one class.
    chosen: Option<Weighed>,
    words: Vec<Weighed>,
    /// Whether every panel must carry what the author chose for it.
    breaks_hold: bool,
    pub roles: RoleTable,
    pub queue: Vec<usize>,
    /// How many panels the pictures of the queue from each on take.
    pub waiting: Vec<usize>,
    /// How many panels from each on may carry a picture of the queue.
    pub slots: Vec<usize>,
    /// How many stanzas are done at each place, where two parts must keep step.
    pub stanzas: Vec<u32>,
    pub(super) offered: Offered,
    class_of: Vec<usize>,
    /// Which pictures have captions.
    captioned: Vec<bool>,
    kinds: FxHashMap<Kind, usize>,
    /// The stretches from each place on, by kind, found when first asked for.
    known: Vec<Vec<Option<Stretches>>>,
    /// Where stretches are gathered, again and again.
    room: Vec<Stretch>,
    memories: Memories,
    /// How the bound counts pictures.
    pub(super) count: Count,
    /// Least cost from each panel and place to the end.
    pub(super) bound: Vec<Rest>,
}

impl<'a> PartSearch<'a> {
    pub fn new(problem: &'a Problem, soft: &[RuleName]) -> PartSearch<'a> {
        let (mut plain, mut roles, mut words) = (Vec::new(), Vec::new(), Vec::new());
        for weighed in weighed(problem, soft) {
            match weighed.rule.remembers() {
                Remembers::Nothing => plain.push(weighed),
                Remembers::Roles => roles.push(weighed),
                Remembers::Words => words.push(weighed),
            }
        }
        let breaks_hold = problem.rules.is_hard(RuleName::ChosenBreaks)
            && !soft.contains(&RuleName::ChosenBreaks);
        let is_chosen = |weighed: &Weighed| weighed.name == RuleName::ChosenBreaks;
        let chosen = plain.iter().position(is_chosen).filter(|_| !breaks_hold);
        let chosen = chosen.map(|at| plain.remove(at));
        let queue = problem.queue();
        let mut waiting = vec![0; queue.len() + 1];
        for (at, &picture) in queue.iter().enumerate().rev() {
            waiting[at] = waiting[at + 1] + problem.pictures[picture].spans;
        }
        let mut slots = vec![0; problem.panels.len() + 1];
        for (index, panel) in problem.panels.iter().enumerate().rev() {
            let takes = panel.picture.is_none() && panel.role.is_none_or(Role::has_picture);
            slots[index] = slots[index + 1] + usize::from(takes);
        }
        let mut memories = Memories::default();
        memories.number(&vec![0; words.len()]);
        let mut track = PartSearch {
            problem,
            class_of: classify(&problem.panels, chosen.is_some()),
            breaks_hold,
            plain,
            chosen,
            words,
            roles: RoleTable::default(),
            queue,
            waiting,
            slots,
            stanzas: stanzas_done(problem),
            offered: Offered::default(),
            captioned: captioned(problem),
            kinds: FxHashMap::default(),
            known: Vec::new(),
            room: Vec::new(),
            memories,
            count: Count::default(),
            bound: Vec::new(),
        };
        track.roles = RoleTable::new(&track, &roles);
        track
    }

    pub fn area(&self, panel: usize, role: Role, picture: Option<usize>) -> Option<AreaFacts> {
        let facts = &self.problem.panels[panel];
        match (role, picture) {
            (Role::Title | Role::Text, _) => facts.area,
            (Role::Shared, Some(picture)) => facts.shared[picture],
            // Where its captions stand.
            (Role::Picture, Some(picture)) => facts.shared[picture],
            _ => None,
        }
    }

    pub fn kind(&mut self, panel: usize, role: Role, picture: Option<usize>) -> usize {
        let chosen = self.problem.panels[panel].chosen.as_ref();
        let chosen = chosen.and_then(|chosen| chosen.picture);
        let matters = |&picture: &usize| self.captioned[picture] || chosen == Some(picture);
        let kind = Kind {
            class: self.class_of[panel],
            role,
            area: self.area(panel, role, picture),
            picture: picture.filter(matters),
        };
        let count = self.kinds.len();
        let number = *self.kinds.entry(kind).or_insert(count);
        if number == count {
            self.known.push(vec![None; self.problem.rows.len() + 1]);
        }
        number
    }

    /// The stretches from a place on that a panel may carry.
    pub fn stretches(&mut self, panel: usize, offer: &PanelCandidate, from: usize) -> Stretches {
        let found = self.stretches_of_kind(panel, offer, from);
        let Some(chosen) = &self.chosen else {
            return found;
        };
        if self.problem.panels[panel].chosen.is_none() {
            return found;
        }
        let with_chosen = |stretch: &Stretch| {
            let stop = Stop {
                to: stretch.to as usize,
                used: stretch.used,
                foot: stretch.foot,
            };
            let area = self.area(panel, offer.role, offer.picture);
            let reading = self.reading(panel, from, 0, offer, area, stop);
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
        if let Some(known) = &self.known[offer.kind][from] {
            return Rc::clone(known);
        }
        let mut room = std::mem::take(&mut self.room);
        room.clear();
        self.find_stretches(panel, offer, from, &mut room);
        let found: Stretches = room.as_slice().into();
        self.room = room;
        self.known[offer.kind][from] = Some(Rc::clone(&found));
        found
    }

    fn find_stretches(
        &self,
        panel: usize,
        offer: &PanelCandidate,
        from: usize,
        found: &mut Vec<Stretch>,
    ) {
        let problem = self.problem;
        let facts = &problem.panels[panel];
        if facts.begins.is_some_and(|row| row != from) {
            return;
        }
        let area = self.area(panel, offer.role, offer.picture);
        if let Some(passed) = facts.passed {
            found.extend(self.printed(panel, from, offer, passed));
            return;
        }
        let chosen = facts.chosen.as_ref().and_then(|chosen| chosen.words);
        if self.breaks_hold && chosen.is_some_and(|words| !words.may_begin(from)) {
            return;
        }
        let mut add = |stop: Stop| {
            let reading = self.reading(panel, from, 0, offer, area, stop);
            found.extend(self.price(&reading).map(|cost| Stretch {
                to: stop.to as u32,
                used: stop.used,
                foot: stop.foot,
                cost,
            }));
        };
        let nothing = Stop::nothing(from);
        match (offer.role, area) {
            (Role::Title, Some(area)) => {
                let to = if from == 0 { problem.opening } else { from };
                let stop = problem.stop(area.column, from, to);
                if stop.used <= area.capacity {
                    add(Stop { to, ..stop });
                }
            }
            (Role::Text | Role::Shared, Some(area)) => {
                // A panel with nothing but captions is one of its picture.
                let first = problem.words_from(from).unwrap_or(problem.rows.len());
                let words = |stop: &Stop| stop.to > first;
                self.stops(offer, area, from).filter(words).for_each(add);
            }
            (Role::Picture, area) => {
                add(nothing);
                if let Some(area) = area {
                    self.stops(offer, area, from).for_each(add);
                }
            }
            (Role::Blank, _) => add(nothing),
            _ => {}
        }
        if let Some(end) = facts.ends {
            found.retain(|stretch| stretch.to as usize == end);
        }
        if facts.begins.is_some() {
            // A panel with no words begins with none.
            found.retain(|stretch| stretch.to as usize > from);
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
            stand && stop.used <= area.capacity
        })
    }

    pub fn reading(
        &self,
        panel: usize,
        from: usize,
        placed: usize,
        offer: &PanelCandidate,
        area: Option<AreaFacts>,
        stop: Stop,
    ) -> PanelView<'a> {
        let stands = offer.role != Role::Picture || stop.to > from;
        let area = area.filter(|_| stands);
        PanelView {
            problem: self.problem,
            panel,
            role: offer.role,
            from,
            to: stop.to,
            picture: offer.picture,
            begins_picture: offer.begins,
            placed,
            column: area.map(|area| area.column),
            used: stop.used,
            foot: stop.foot,
            capacity: area.map_or(HalfLines::ZERO, |area| area.capacity),
        }
    }

    /// What the rules without memory ask for a panel; nothing where it breaks a hard one.
    fn price(&self, reading: &PanelView<'_>) -> Option<Cost> {
        self.plain.iter().try_fold(0, |sum, weighed| {
            Some(sum + weighed.price(weighed.rule.read(reading))?)
        })
    }

    /// Whether no division may break a rule that remembers words.
    pub fn is_hard(&self, name: RuleName) -> bool {
        let mut words = self.words.iter();
        words.any(|weighed| weighed.name == name && weighed.hard)
    }

    /// Whether a rule that remembers words is in use.
    pub fn is_in_use(&self, name: RuleName) -> bool {
        self.words.iter().any(|weighed| weighed.name == name)
    }

    /// What it costs at least to come to a panel while the words of so many pictures wait for these, and so many of
    /// these for their words.
    pub fn reaching(&self, panel: usize, words: usize, pictures: usize) -> Cost {
        let soft = self.words.iter().filter(|weighed| !weighed.hard);
        let costs = soft.map(|weighed| {
            weighed.rule.reaching(self.problem, panel, words, pictures) * weighed.importance
        });
        costs.sum()
    }

    /// Whether any rule remembers words.
    pub fn remembers_words(&self) -> bool {
        !self.words.is_empty()
    }

    /// What the rules that remember words ask for a panel, and what they then remember, by its number; nothing
    /// where it breaks a hard one.
    pub fn remember(&mut self, memory: u32, reading: &PanelView<'_>) -> Option<(u32, Cost)> {
        let known = Rc::clone(&self.memories.all[memory as usize]);
        let mut cost = 0;
        let mut memory = Vec::with_capacity(self.words.len());
        for (weighed, &known) in self.words.iter().zip(known.iter()) {
            let (verdict, remembered) = weighed.rule.read_on(known, reading);
            cost += weighed.price(verdict)?;
            memory.push(remembered);
        }
        Some((self.memories.number(&memory), cost))
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
            chosen: panel.chosen.clone().filter(|_| !apart),
            ..panel.clone()
        };
        let count = classes.len();
        class_of.push(*classes.entry(alike).or_insert(count));
    }
    class_of
}
