//! What a division must keep, one thing at a time.

use crate::division::Problem;
use crate::names::Role;
use crate::plan::RuleName;

/// Something that a division must keep. Parts are told by their place among those that are divided at once,
/// panels and pictures by theirs in the part.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Demand {
    /// A hard rule.
    Rule(RuleName),
    /// Two parts end at the same stanza, panel by panel.
    Pairing,
    /// A picture's caption stands with it.
    Caption {
        /// The part.
        part: usize,
        /// The picture.
        picture: usize,
    },
    /// A picture stands alone, for it leaves no room to words.
    Alone {
        /// The part.
        part: usize,
        /// The picture.
        picture: usize,
    },
    /// A picture begins on the first panel of a spread.
    WholeSpread {
        /// The part.
        part: usize,
        /// The picture.
        picture: usize,
    },
    /// A picture stands on several panels.
    Spans {
        /// The part.
        part: usize,
        /// The picture.
        picture: usize,
    },
    /// A panel is pinned to a role.
    Role {
        /// The part.
        part: usize,
        /// The panel.
        panel: usize,
    },
    /// A picture is pinned to a panel.
    Picture {
        /// The part.
        part: usize,
        /// The picture.
        picture: usize,
    },
    /// A panel is pinned to begin with some words.
    Begins {
        /// The part.
        part: usize,
        /// The panel.
        panel: usize,
    },
    /// A panel is passed for press.
    Passed {
        /// The part.
        part: usize,
        /// The panel.
        panel: usize,
    },
    /// A panel must end at a place.
    Ends {
        /// The part.
        part: usize,
        /// The panel.
        panel: usize,
    },
}

impl Demand {
    /// Every demand of a part, or of two that are paired: first the rules that are hard unless said, in their
    /// order, then what the author fixed herself.
    pub fn all(problems: &[&Problem], soft: &[RuleName]) -> Vec<Demand> {
        let mut found = Vec::new();
        // A rule that nothing could break as things are may count once something else has given way.
        for (name, ..) in RuleName::ALL {
            if problems[0].rules.is_hard(name) && !soft.contains(&name) {
                found.push(Demand::Rule(name));
            }
        }
        // Rules that bound how full panels are come last of all: they tell most.
        found.sort_by_key(|demand| *demand == Demand::Rule(RuleName::Fullest));
        if problems.len() == 2 {
            found.push(Demand::Pairing);
        }
        for (part, problem) in problems.iter().enumerate() {
            found.extend(of_pictures(part, problem));
            found.extend(of_panels(part, problem));
        }
        found
    }

    /// Whether giving this up leaves every division that there was. A caption then stands among the words, a picture
    /// that is set free waits for its turn, or stands on fewer panels than before, and without a title panel headings
    /// stand above the first words.
    pub(super) fn only_frees(&self, problems: &[&Problem]) -> bool {
        match *self {
            Demand::Caption { .. }
            | Demand::Picture { .. }
            | Demand::Spans { .. }
            | Demand::Passed { .. } => false,
            Demand::Role { part, panel } => problems[part].panels[panel].role != Some(Role::Title),
            _ => true,
        }
    }

    /// Changes parts so that some demands are asked no more. A pairing is none of one part alone: there nothing changes.
    pub(super) fn give_way(given_up: &[Demand], problems: &mut [Problem]) {
        given_up.iter().for_each(|demand| demand.lift(problems));
        for problem in problems {
            problem.ask_usual_blanks();
            problem.mark_long_stanzas();
        }
    }

    fn lift(&self, problems: &mut [Problem]) {
        match *self {
            Demand::Rule(name) => {
                for problem in problems.iter_mut() {
                    problem.rules.weights.entry(name).or_default().hard = Some(false);
                }
            }
            Demand::Pairing => {}
            Demand::Caption { part, picture } => {
                for row in &mut problems[part].rows {
                    row.caption = row.caption.filter(|&other| other != picture);
                }
            }
            Demand::Alone { part, picture } => {
                problems[part].pictures[picture].leaves_room = true;
                let_words_in(&mut problems[part], picture);
            }
            Demand::WholeSpread { part, picture } => {
                problems[part].pictures[picture].whole_spread = false;
            }
            Demand::Spans { part, picture } => on_one_panel(&mut problems[part], picture),
            // The panel has its text area back with its freedom.
            Demand::Role { part, panel } => problems[part].panels[panel].role = None,
            Demand::Picture { part, picture } => set_free(&mut problems[part], picture),
            Demand::Begins { part, panel } => problems[part].panels[panel].begins = None,
            Demand::Ends { part, panel } => problems[part].panels[panel].ends = None,
            Demand::Passed { part, panel } => release(&mut problems[part], panel),
        }
    }
}

/// Lets words stand beside a picture wherever they stand on its panel without it.
fn let_words_in(problem: &mut Problem, picture: usize) {
    for panel in &mut problem.panels {
        panel.shared[picture] = panel.shared[picture].or(panel.area);
    }
}

/// What is asked of a part's pictures, one kind of demand after the other. Where a picture is printed, the plan's pin
/// of it asks nothing more.
fn of_pictures(part: usize, problem: &Problem) -> Vec<Demand> {
    let pictures = || problem.pictures.iter().enumerate();
    let captioned = |at: usize| problem.rows.iter().any(|row| row.caption == Some(at));
    let printed = |panel: usize| problem.panels[panel].passed.is_some();
    let captions = pictures()
        .filter(|(at, _)| captioned(*at))
        .map(|(picture, _)| Demand::Caption { part, picture });
    let alone = pictures()
        .filter(|(_, facts)| !facts.leaves_room)
        .map(|(picture, _)| Demand::Alone { part, picture });
    let whole_spreads = pictures()
        .filter(|(_, facts)| facts.whole_spread)
        .map(|(picture, _)| Demand::WholeSpread { part, picture });
    let spans = pictures()
        .filter(|(_, facts)| facts.spans > 1)
        .map(|(picture, _)| Demand::Spans { part, picture });
    let pins = pictures()
        .filter(|(_, facts)| facts.panel.is_some_and(|panel| !printed(panel)))
        .map(|(picture, _)| Demand::Picture { part, picture });
    let found = captions.chain(alone).chain(whole_spreads).chain(spans);
    found.chain(pins).collect()
}

/// What is asked of a part's panels, one kind of demand after the other. A panel that is glued to a board is no matter
/// of the author's; of one that is printed, nothing is asked but what it is printed with.
fn of_panels(part: usize, problem: &Problem) -> Vec<Demand> {
    let panels = || problem.panels.iter().enumerate();
    let pinned = |role: Option<Role>| role.is_some_and(|role| role != Role::PasteDown);
    let roles = panels()
        .filter(|(_, facts)| pinned(facts.role) && facts.passed.is_none())
        .map(|(panel, _)| Demand::Role { part, panel });
    let begins = panels()
        .filter(|(_, facts)| facts.begins.is_some())
        .map(|(panel, _)| Demand::Begins { part, panel });
    let ends = panels()
        .filter(|(_, facts)| facts.ends.is_some())
        .map(|(panel, _)| Demand::Ends { part, panel });
    let passed = panels()
        .filter(|(_, facts)| facts.passed.is_some())
        .map(|(panel, _)| Demand::Passed { part, panel });
    roles.chain(begins).chain(ends).chain(passed).collect()
}

/// A picture stands on one panel, and its captions with it whether it leaves room or not.
fn on_one_panel(problem: &mut Problem, picture: usize) {
    problem.pictures[picture].spans = 1;
    let_words_in(problem, picture);
    if let Some(first) = problem.pictures[picture].panel {
        let later = problem.panels.iter_mut().skip(first + 1);
        later
            .filter(|panel| panel.picture == Some(picture))
            .for_each(|panel| panel.picture = None);
    }
}

/// A picture is pinned nowhere: it waits in the queue, if a callout names it.
fn set_free(problem: &mut Problem, picture: usize) {
    for panel in &mut problem.panels {
        panel.picture = panel.picture.filter(|&other| other != picture);
    }
    let facts = &mut problem.pictures[picture];
    facts.panel = None;
    facts.queued = facts.word_row.is_some();
}

/// A panel is printed no more: of it the plan's pins are asked again.
fn release(problem: &mut Problem, panel: usize) {
    let facts = &mut problem.panels[panel];
    let Some(passed) = facts.passed.take() else {
        return;
    };
    (facts.role, facts.begins) = (passed.role, passed.begins);
    let Some(picture) = facts.picture.filter(|_| passed.unpinned) else {
        return;
    };
    let mut panels = problem.panels.iter();
    if !panels.any(|panel| panel.passed.is_some() && panel.picture == Some(picture)) {
        set_free(problem, picture);
    }
}
