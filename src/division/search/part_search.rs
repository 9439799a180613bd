//! One part as the search sees it: its rules by what they remember, its pictures, and what is known of it already.

use std::sync::Arc;

use rustc_hash::FxHashMap;

use super::bound::Bound;
use super::candidates::PanelCandidate;
use super::count::Count;
use super::remembered::Remembered;
use super::roles::RoleTable;
use super::stretches::KnownStretches;
use crate::division::{AreaFacts, Cost, PanelView, Placed, Problem};
use crate::names::{HalfLines, Role};
use crate::plan::RuleName;
use crate::rules::{Memory, Remembers, Rule, Weighed, stanzas_done, weighed};
use crate::stack::Stop;

/// Every combination of what rules remember of words, numbered.
#[derive(Default)]
struct Memories {
    all: Vec<Arc<[Memory]>>,
    numbers: FxHashMap<Arc<[Memory]>, u32>,
}

impl Memories {
    fn number(&mut self, memory: &[Memory]) -> u32 {
        if let Some(&known) = self.numbers.get(memory) {
            return known;
        }
        let memory: Arc<[Memory]> = memory.into();
        let number = self.all.len() as u32;
        self.all.push(Arc::clone(&memory));
        self.numbers.insert(memory, number);
        number
    }
}

/// What is offered to a panel, by panel, pictures placed, and which goes on.
type Offered = FxHashMap<(usize, u32, Option<usize>), Arc<[PanelCandidate]>>;

pub(super) struct PartSearch<'a> {
    pub problem: &'a Problem,
    /// The rules that remember nothing.
    pub(super) plain: Vec<Weighed>,
    /// Where panels need not carry what the author chose for them: what it costs if they do not. It is asked of each
    /// panel by itself, so that panels which differ in nothing else are of one class.
    pub(super) chosen: Option<Weighed>,
    /// The rules that remember words.
    words: Vec<Weighed>,
    /// Whether every panel must carry what the author chose for it.
    pub(super) breaks_hold: bool,
    pub roles: RoleTable,
    pub queue: Vec<usize>,
    /// Whether its pictures come in any order.
    any_order: bool,
    /// How many panels the pictures of the queue from each on take.
    waiting: Vec<usize>,
    /// How many panels from each on may carry a picture of the queue.
    pub slots: Vec<usize>,
    /// How many stanzas are done at each place, where two parts must keep step.
    pub stanzas: Vec<u32>,
    pub(super) offered: Offered,
    pub(super) known: KnownStretches<'a>,
    memories: Memories,
    /// How the bound counts pictures.
    pub(super) count: Count,
    /// Least cost from each panel and place to the end.
    pub(super) bound: Bound,
}

impl<'a> PartSearch<'a> {
    /// A part that nothing is known of.
    pub fn new(problem: &'a Problem, soft: &[RuleName]) -> PartSearch<'a> {
        PartSearch::again(problem, soft, None)
    }

    /// A part of which something may be remembered.
    pub fn again(
        problem: &'a Problem,
        soft: &[RuleName],
        remembered: Option<&'a Remembered>,
    ) -> PartSearch<'a> {
        let (mut plain, mut roles, mut words) = (Vec::new(), Vec::new(), Vec::new());
        for weighed in weighed(problem, soft) {
            match weighed.rule.remembers(problem) {
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
        let holding = remembered.and_then(|known| known.holding(problem, &plain));
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
            known: KnownStretches::new(problem, chosen.is_some(), holding),
            breaks_hold,
            plain,
            chosen,
            words,
            roles: RoleTable::default(),
            queue,
            any_order: problem.any_order(),
            waiting,
            slots,
            stanzas: stanzas_done(problem),
            offered: Offered::default(),
            memories,
            count: Count::default(),
            bound: Bound::default(),
        };
        track.roles = RoleTable::new(&track, &roles);
        track
    }

    /// Which pictures of the queue have been placed, from how a state writes it: so many, or a bit for each.
    pub fn placed(&self, written: u32) -> Placed {
        match self.any_order {
            true => Placed::Any(written),
            false => Placed::First(written as usize),
        }
    }

    /// How a state writes these and one more, which is the next where pictures keep their order.
    pub fn placed_with(&self, written: u32, picture: usize) -> u32 {
        match self.any_order {
            true => written | 1 << self.number_of(picture),
            false => written + 1,
        }
    }

    /// A picture's number in the queue.
    pub fn number_of(&self, picture: usize) -> usize {
        let mut queue = self.queue.iter();
        queue.position(|at| *at == picture).unwrap_or(0)
    }

    /// The pictures of the queue that may begin next.
    pub fn waiting_pictures(&self, written: u32) -> Vec<usize> {
        let placed = self.placed(written);
        let mut waiting = self.queue.iter().enumerate();
        let waiting = waiting
            .by_ref()
            .filter(|(number, _)| !placed.has(*number))
            .map(|(_, picture)| *picture);
        waiting
            .take(if self.any_order { usize::MAX } else { 1 })
            .collect()
    }

    /// How many panels those of the queue take that have not been placed.
    pub fn panels_of_waiting(&self, written: u32) -> usize {
        if !self.any_order {
            return self.waiting[written as usize];
        }
        let waiting = self.waiting_pictures(written).into_iter();
        waiting.map(|at| self.problem.pictures[at].spans).sum()
    }

    pub fn area(&self, panel: usize, role: Role, picture: Option<usize>) -> Option<AreaFacts> {
        let facts = &self.problem.panels[panel];
        match (role, picture) {
            (Role::Title | Role::Text, _) => facts.area,
            (Role::Shared, Some(picture)) => facts.shared[picture],
            // Its captions stand there.
            (Role::Picture, Some(picture)) => facts.shared[picture],
            _ => None,
        }
    }

    pub fn reading<'s>(
        &'s self,
        panel: usize,
        from: usize,
        placed: u32,
        offer: &PanelCandidate,
        area: Option<AreaFacts>,
        stop: Stop,
    ) -> PanelView<'s> {
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
            queue: &self.queue,
            placed: self.placed(placed),
            column: area.map(|area| area.column),
            used: stop.used,
            foot: stop.foot,
            capacity: area.map_or(HalfLines::ZERO, |area| area.capacity),
        }
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

    /// What those pay at least on a panel who wait when it begins: the words of so many pictures for these, so many
    /// pictures for their words.
    pub fn reaching(&self, panel: usize, words: usize, pictures: usize) -> Cost {
        self.soft_words(|rule| rule.reaching(self.problem, panel, words, pictures))
    }

    /// What those pay at least on any panel who still wait behind it.
    pub fn leaving(&self, words: usize, pictures: usize) -> Cost {
        self.soft_words(|rule| rule.leaving(self.problem, words, pictures))
    }

    /// What the rules that remember words and may be broken ask together.
    fn soft_words(&self, asks: impl Fn(&dyn Rule) -> Cost) -> Cost {
        let soft = self.words.iter().filter(|weighed| !weighed.hard);
        soft.map(|weighed| asks(weighed.rule) * weighed.importance)
            .sum()
    }

    /// Whether any rule remembers words.
    pub fn remembers_words(&self) -> bool {
        !self.words.is_empty()
    }

    /// What the rules that remember words ask for a panel, and what they then remember; nothing where it breaks a hard
    /// one.
    pub fn remember(&self, memory: u32, reading: &PanelView<'_>) -> Option<(Vec<Memory>, Cost)> {
        let known = &self.memories.all[memory as usize];
        let mut cost = 0;
        let mut memory = Vec::with_capacity(self.words.len());
        for (weighed, &known) in self.words.iter().zip(known.iter()) {
            let (verdict, remembered) = weighed.rule.read_on(known, reading);
            cost += weighed.price(verdict)?;
            memory.push(remembered);
        }
        Some((memory, cost))
    }

    /// The number of what is remembered.
    pub fn number(&mut self, memory: &[Memory]) -> u32 {
        self.memories.number(memory)
    }
}
