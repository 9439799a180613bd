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
            found.extend(Demand::of_part(part, problem));
        }
        found
    }

    /// What the author fixed of one part.
    fn of_part(part: usize, problem: &Problem) -> Vec<Demand> {
        let mut found = Vec::new();
        let pictures = || problem.pictures.iter().enumerate();
        let panels = || problem.panels.iter().enumerate();
        let captioned = |at: usize| problem.rows.iter().any(|row| row.caption == Some(at));
        found.extend(
            pictures()
                .filter(|(at, _)| captioned(*at))
                .map(|(picture, _)| Demand::Caption { part, picture }),
        );
        found.extend(
            pictures()
                .filter(|(_, facts)| !facts.leaves_room)
                .map(|(picture, _)| Demand::Alone { part, picture }),
        );
        found.extend(
            pictures()
                .filter(|(_, facts)| facts.whole_spread)
                .map(|(picture, _)| Demand::WholeSpread { part, picture }),
        );
        found.extend(
            pictures()
                .filter(|(_, facts)| facts.spans > 1)
                .map(|(picture, _)| Demand::Spans { part, picture }),
        );
        found.extend(
            pictures()
                .filter(|(_, facts)| facts.panel.is_some())
                .map(|(picture, _)| Demand::Picture { part, picture }),
        );
        found.extend(
            panels()
                .filter(|(_, facts)| facts.role.is_some())
                .map(|(panel, _)| Demand::Role { part, panel }),
        );
        found.extend(
            panels()
                .filter(|(_, facts)| facts.begins.is_some())
                .map(|(panel, _)| Demand::Begins { part, panel }),
        );
        found.extend(
            panels()
                .filter(|(_, facts)| facts.ends.is_some())
                .map(|(panel, _)| Demand::Ends { part, panel }),
        );
        found.extend(
            panels()
                .filter(|(_, facts)| facts.passed.is_some())
                .map(|(panel, _)| Demand::Passed { part, panel }),
        );
        found
    }

    /// Changes parts so that this is asked no more. A pairing is none of one part alone: there nothing changes.
    pub(super) fn give_way(&self, problems: &mut [Problem]) {
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
            Demand::Spans { part, picture } => {
                let problem = &mut problems[part];
                problem.pictures[picture].spans = 1;
                // There its captions stand, whether it leaves room or not.
                let_words_in(problem, picture);
                if let Some(first) = problem.pictures[picture].panel {
                    let later = problem.panels.iter_mut().skip(first + 1);
                    later
                        .filter(|panel| panel.picture == Some(picture))
                        .for_each(|panel| panel.picture = None);
                }
            }
            Demand::Role { part, panel } => {
                let problem = &mut problems[part];
                // A title panel takes the headings, which else stand above the first words.
                let role = &mut problem.panels[panel].role;
                *role = role.take().filter(|role| *role == Role::PasteDown);
            }
            Demand::Picture { part, picture } => {
                let problem = &mut problems[part];
                for panel in &mut problem.panels {
                    panel.picture = panel.picture.filter(|&other| other != picture);
                }
                let facts = &mut problem.pictures[picture];
                facts.panel = None;
                facts.queued = facts.word_row.is_some();
            }
            Demand::Begins { part, panel } => problems[part].panels[panel].begins = None,
            Demand::Ends { part, panel } => problems[part].panels[panel].ends = None,
            Demand::Passed { part, panel } => problems[part].panels[panel].passed = None,
        }
        for problem in problems {
            problem.mark_long_stanzas();
        }
    }
}

/// Lets words stand beside a picture wherever they stand on its panel without it.
fn let_words_in(problem: &mut Problem, picture: usize) {
    for panel in &mut problem.panels {
        panel.shared[picture] = panel.shared[picture].or(panel.area);
    }
}
