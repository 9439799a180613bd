//! The exact search: a dynamic program over (panel, place, pictures placed, what the rules remember).
//!
//! For each part, a backward pass ([`bound`]) gives a lower bound on what the rest must cost from every panel and
//! place: it knows what the rules remember of roles, and leaves aside the pictures' order and what rules
//! remember of words. A forward pass ([`graph`]) then goes panel by panel over full states, two parts at once
//! where they are paired, and drops states whose cost and bound together pass a ceiling. If it reaches the end
//! under the ceiling, nothing cheaper was dropped: the answer is proved. Otherwise the ceiling is raised.
//!
//! Among divisions of one cost, the one whose panels end latest wins, from the first panel on (words come as
//! early as they can, and blank panels gather at the end), then by the order of roles, then of pictures
//! ([`narrow`]). [`trials`] finds the best division of each of the best patterns.

mod bound;
mod candidates;
mod choices;
mod count;
mod graph;
mod narrow;
mod part_search;
mod possible;
mod reach;
mod remembered;
mod roles;
mod room;
mod stretches;
mod tell;
mod trials;

use super::{Cost, PartDivision};
use crate::names::Role;
use crate::plan::RuleName;
use crate::rules::Problem;
use graph::{Graph, Keeps};
use part_search::PartSearch;
pub use remembered::Remembered;
use tell::describe;

/// How far a search may go.
#[derive(Clone, Copy, Debug)]
pub struct Limits {
    /// The most states kept for one panel; past it the answer is the best that was found and says that it
    /// is not proved. Only where none is found that way are more kept.
    pub states_per_panel: usize,
    /// The most states kept in one pass, over all panels; of each panel then its share, with what those before it left
    /// of theirs, but never less than a thousand.
    pub states: usize,
}

impl Default for Limits {
    fn default() -> Limits {
        Limits {
            states_per_panel: 200_000,
            states: 2_000_000,
        }
    }
}

impl Limits {
    /// The most states kept for each of so many panels.
    fn of_panel(self, panels: usize) -> usize {
        let share = (self.states / panels.max(1)).max(LEAST_SHARE);
        self.states_per_panel.min(share)
    }
}

/// How far the ceiling is raised at first.
const FIRST_GAP: Cost = 32;
/// After so many passes that reach no end it is asked whether there is any.
const IN_VAIN: usize = 2;
/// So many states are looked at for one first, the most promising first, with all that is asked.
const FIRST_LOOK: usize = 10_000;
/// So many states for each panel are looked at before bounds are filled.
const GLANCE: usize = 16;
/// A pass that keeps more states than this is worth a short look for a division before the next.
const WORTH_A_GUESS: usize = 50_000;
const GUESS: Limits = Limits {
    states_per_panel: 1_000,
    states: usize::MAX,
};
/// Every panel of a long strip keeps as many states as this, if it has them.
const LEAST_SHARE: usize = 1_000;

/// What a search had to do.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Work {
    /// Panels with places and memories of roles that the backward pass priced.
    pub bounds: usize,
    /// States that the forward passes kept, all passes together.
    pub states: usize,
    /// Steps from state to state, all passes together.
    pub steps: usize,
    /// How many forward passes there were.
    pub passes: usize,
    /// Bytes that bounds, and states and steps of the largest pass, take.
    pub bytes: usize,
}

/// Which divisions count as different trials.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum Pattern {
    /// Divisions that a reader tells apart: some spread carries something else; see [`super::best_divisions`].
    #[default]
    Kind,
    /// Divisions in which some panel has another role or another picture.
    Coarse,
    /// Those too in which some panel ends in another stanza or paragraph.
    Fine,
}

/// The cheapest division of a part that keeps the hard rules; nothing where none does. Rules of `soft` are
/// weighed instead of kept.
pub fn divide(problem: &Problem, soft: &[RuleName], limits: Limits) -> Option<PartDivision> {
    divide_together(&[problem], soft, limits).0?.pop()
}

/// The cheapest division of a part, or of two parts that are paired: panel by panel both then end at the same
/// stanza. Nothing where none keeps the hard rules.
///
/// # Panics
/// Where there are not one or two problems, or two with unlike numbers of panels.
pub fn divide_together(
    problems: &[&Problem],
    soft: &[RuleName],
    limits: Limits,
) -> (Option<Vec<PartDivision>>, Work) {
    if any_without_room(problems, soft) {
        return (None, Work::default());
    }
    let mut search = Search::new(problems, soft, limits);
    let found = search.best();
    let parts = found.map(|steps| search.describe(&steps, soft));
    (parts, search.work)
}

/// Divides as [`divide_together`] does; what is remembered of earlier searches is used, and what this one finds is
/// remembered.
///
/// # Panics
/// As [`divide_together`].
pub fn divide_again(
    problems: &[&Problem],
    soft: &[RuleName],
    limits: Limits,
    remembered: &mut Remembered,
) -> Option<Vec<PartDivision>> {
    if any_without_room(problems, soft) {
        return None;
    }
    let mut search = Search::again(problems, soft, limits, Some(remembered));
    let found = search.best();
    let parts = found.map(|steps| search.describe(&steps, soft));
    let tracks = search.tracks.into_iter();
    let found: Vec<_> = tracks
        .map(|track| (track.plain, track.known.found()))
        .collect();
    for (problem, (rules, kinds)) in problems.iter().zip(found) {
        remembered.keep(problem, &rules, kinds);
    }
    parts
}

/// Whether some part has words that no panels of its own have room for, which is seen without a search.
fn any_without_room(problems: &[&Problem], soft: &[RuleName]) -> bool {
    let mut parts = problems.iter();
    parts.any(|problem| room::has_surely_no_room(problem, soft))
}

/// A division told again under what a part is asked now, with what each rule costs.
pub(super) fn retell(problem: &Problem, part: &PartDivision) -> PartDivision {
    let track = PartSearch::new(problem, &part.gave_way);
    let mut before = None;
    let steps = part.panels.iter().enumerate().map(|(panel, carried)| {
        let picture = carried.picture.map(|at| at as u16);
        let pinned = carried.picture.and_then(|at| problem.pictures[at].panel);
        let begins = match pinned {
            Some(first) => first == panel,
            None => picture.is_some() && before != picture,
        };
        before = picture;
        Step {
            to: carried.rows.end as u32,
            role: carried.role,
            picture,
            begins,
        }
    });
    let told = describe(&track, steps, &part.gave_way);
    PartDivision {
        proved: part.proved,
        bound: part.bound,
        ..told
    }
}

/// Whether any division keeps the hard rules but those of `soft`. What it costs is not asked, which is answered sooner
/// than what costs least.
///
/// # Panics
/// As [`divide_together`].
pub fn is_possible(problems: &[&Problem], soft: &[RuleName], limits: Limits) -> bool {
    let bare = problems
        .iter()
        .map(|problem| problem.with_hard_rules_alone(soft));
    let bare: Vec<Problem> = bare.collect();
    has_division(&bare.iter().collect::<Vec<_>>(), limits)
}

/// Whether the words of some part are surely more than its panels have room for.
pub(super) fn have_surely_no_room(problems: &[Problem]) -> bool {
    let mut problems = problems.iter();
    problems.any(|problem| room::has_surely_no_room(problem, &[]))
}

/// Whether there is any division of parts that are asked nothing but what must be kept.
pub(super) fn has_division(bare: &[&Problem], limits: Limits) -> bool {
    if any_without_room(bare, &[]) {
        return false;
    }
    // Where nothing but words asks for room, the first way that fills its panels is one.
    let mut search = Search::before_bounds(bare, &[], limits, None);
    let glance = search.panels * GLANCE;
    search.look(glance).unwrap_or_else(|| {
        search.fill_bounds();
        search.has_division()
    })
}

/// The best division of each of the `most` best patterns, kinds as coarse ones, cheapest first; fewer where there are not so many.
/// Of patterns that cost the same, the one whose division wins among equals comes first.
///
/// # Panics
/// As [`divide_together`].
pub(super) fn best_patterns(
    problems: &[&Problem],
    soft: &[RuleName],
    limits: Limits,
    pattern: Pattern,
    most: usize,
) -> Vec<Vec<PartDivision>> {
    let mut search = Search::new(problems, soft, limits);
    let found = search.patterns(pattern, most);
    let parts = found.iter().map(|steps| search.describe(steps, soft));
    parts.collect()
}

/// What one panel carries, as the search decides it.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
struct Step {
    to: u32,
    role: Role,
    picture: Option<u16>,
    /// Whether the picture begins on this panel.
    begins: bool,
}

/// The step on one panel of each part; the second stands still where there is one part.
type Steps = [Step; 2];

const STILL: Step = Step {
    to: 0,
    role: Role::Blank,
    picture: None,
    begins: false,
};

struct Search<'a> {
    tracks: Vec<PartSearch<'a>>,
    /// The rules that are weighed instead of kept.
    soft: Vec<RuleName>,
    panels: usize,
    limits: Limits,
    /// Whether no pass has left states aside for want of room.
    proved: bool,
    /// What no division can cost less than.
    lower: Cost,
    work: Work,
}

impl<'a> Search<'a> {
    fn new(problems: &[&'a Problem], soft: &[RuleName], limits: Limits) -> Search<'a> {
        Search::again(problems, soft, limits, None)
    }

    /// A search that takes over what is remembered of earlier ones.
    fn again(
        problems: &[&'a Problem],
        soft: &[RuleName],
        limits: Limits,
        remembered: Option<&'a Remembered>,
    ) -> Search<'a> {
        let mut search = Search::before_bounds(problems, soft, limits, remembered);
        search.fill_bounds();
        search
    }

    /// A search that does not know yet what the rest costs at least.
    fn before_bounds(
        problems: &[&'a Problem],
        soft: &[RuleName],
        limits: Limits,
        remembered: Option<&'a Remembered>,
    ) -> Search<'a> {
        let panels = problems[0].panels.len();
        assert!(problems.len() <= 2 && problems.iter().all(|p| p.panels.len() == panels));
        let tracks = problems.iter();
        let tracks = tracks.map(|problem| PartSearch::again(problem, soft, remembered));
        Search {
            tracks: tracks.collect(),
            soft: soft.to_vec(),
            panels,
            limits,
            proved: true,
            lower: 0,
            work: Work::default(),
        }
    }

    fn fill_bounds(&mut self) {
        for track in &mut self.tracks {
            track.fill_bound(&mut self.work);
        }
    }

    /// What no division can cost less than; nothing where there is none.
    fn least(&self) -> Option<Cost> {
        let least = self.tracks.iter().map(|track| track.least(0, 0, 0, 0));
        least.sum()
    }

    /// Whether there is any division, whatever it costs.
    fn is_possible(&mut self) -> bool {
        if let Some(known) = self.look(FIRST_LOOK) {
            return known;
        }
        let problems: Vec<&Problem> = self.tracks.iter().map(|track| track.problem).collect();
        is_possible(&problems, &self.soft, self.limits)
    }

    fn best(&mut self) -> Option<Vec<Steps>> {
        let mut best = None;
        self.deepen(Keeps::Cheapest, |graph| {
            best = narrow::best(graph, &narrow::Within::all());
            best.as_ref().map(|best| best.cost)
        });
        best.map(|best| best.steps)
    }

    /// Goes forward under higher and higher ceilings until `settled` names a cost under the ceiling, up to which
    /// it needs to know every division, or until nothing is left aside.
    fn deepen(&mut self, keeps: Keeps, mut settled: impl FnMut(&Graph) -> Option<Cost>) {
        let Some(least) = self.least() else { return };
        self.lower = least;
        // Where the bound knows all that costs, nothing costs more than it.
        let mut gap: Cost = 0;
        let mut ceiling = least;
        let mut in_vain = 0;
        let mut guess = None;
        loop {
            let states = self.work.states;
            let graph = Graph::new(self, ceiling, keeps);
            let reached = settled(&graph);
            self.proved = !graph.trimmed;
            if !graph.dropped || reached.is_some_and(|cost| cost <= ceiling) {
                return;
            }
            if graph.trimmed && reached.is_some() {
                return;
            }
            if !graph.trimmed && !graph.reaches_end() {
                self.lower = ceiling.saturating_add(1);
                in_vain += 1;
                if in_vain == IN_VAIN && !self.is_possible() {
                    return;
                }
            }
            if !graph.cut {
                // The only way may be among those left aside for want of room: next time more go on.
                let kept = self.limits.of_panel(self.panels).max(1).saturating_mul(4);
                self.limits.states_per_panel = kept;
                self.limits.states = kept.saturating_mul(self.panels);
            }
            gap = gap.saturating_mul(2).max(FIRST_GAP);
            ceiling = match reached {
                // Nothing dearer than what has been found need be known.
                Some(cost) => cost,
                None => least.saturating_add(gap),
            };
            if keeps == Keeps::Cheapest && self.work.states - states > WORTH_A_GUESS {
                guess = guess.or_else(|| self.guess(ceiling));
            }
            // Where even that leaves too much aside, it is of no use.
            let dearest = guess.filter(|_| !graph.trimmed);
            ceiling = ceiling.min(dearest.unwrap_or(Cost::MAX));
        }
    }

    /// What a division costs that a short look finds under a ceiling, if it finds one: the best costs no more.
    fn guess(&mut self, ceiling: Cost) -> Option<Cost> {
        let limits = std::mem::replace(&mut self.limits, GUESS);
        let graph = Graph::new(self, ceiling, Keeps::Cheapest);
        self.limits = limits;
        graph.rest(0, 0)
    }
}
