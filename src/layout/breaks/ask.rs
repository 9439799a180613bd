//! From what was chosen and passed to what is asked of the division.

use std::sync::Arc;

use super::refused::{claimed_twice, other_book, panels_gone, released};
use super::text::PartText;
use super::word_panels::WordPanels;
use super::{Breaks, KeptPanel};
use crate::division::{Chosen, ChosenWords, Passed, Problem};
use crate::names::{Fault, Faults, PanelName, Role};
use crate::paper::Strip;
use crate::plan::Plan;
use crate::setting::{SetLines, SetPart};
use crate::text::Manuscript;

/// A file with fewer of its words in the manuscript than this share of them is of another book.
const LEAST_FOUND: (usize, usize) = (1, 3);
/// A file with no more words than this is too short to tell.
const TOO_FEW: usize = 12;

/// What became of the breaks that were asked of the division.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct BreaksOutcome {
    /// The panels whose own words have been changed since they were chosen or passed, in order.
    pub touched: Vec<PanelName>,
    /// The panels of which nothing is left that was chosen: all their words, or their picture, are gone.
    pub lost: Vec<PanelName>,
}

/// The problems of all parts, asked what was chosen and passed; and what became of that.
///
/// # Errors
/// Panels that the strip does not have, words of another book, words that two panels claim; passed panels that the
/// plan asks something else of, or whose words can no longer stand by themselves.
pub fn ask(
    breaks: &Breaks,
    manuscript: &Manuscript,
    (plan, strip, set): (&Plan, &Strip, &SetLines),
    problems: &[Arc<Problem>],
) -> Result<(Vec<Problem>, BreaksOutcome), Faults> {
    let mut problems: Vec<Problem> = problems.iter().map(|own| (**own).clone()).collect();
    let gone = panels_gone(breaks, strip);
    if !gone.is_empty() {
        return Err(gone);
    }
    let (mut faults, mut outcome) = (Faults::new(), BreaksOutcome::default());
    let (mut kept, mut found) = (0, 0);
    let mut of_parts = Vec::with_capacity(set.parts.len());
    for (part, problem) in set.parts.iter().zip(problems.iter()) {
        let panels = problem.panels.iter();
        let panels: Vec<Option<&KeptPanel>> =
            panels.map(|facts| breaks.panel(facts.name)).collect();
        let text = PartText::new(manuscript, part);
        let owners = WordPanels::new(&panels, &text);
        kept += owners.kept;
        found += owners.found;
        of_parts.push((part, panels, text, owners));
    }
    let texts = of_parts.iter().map(|(_, _, text, _)| text);
    faults.extend(claimed_twice(breaks, texts, (kept, found)));
    if kept > TOO_FEW && found * LEAST_FOUND.1 < kept * LEAST_FOUND.0 {
        faults.push(other_book(breaks, (kept, found)));
    }
    if !faults.is_empty() {
        return Err(faults);
    }
    for ((part, panels, text, owners), problem) in of_parts.into_iter().zip(&mut problems) {
        let on = OnPart {
            part,
            panels: &panels,
            text: &text,
            owners: &owners,
            plan,
        };
        on.ask(problem, &mut faults);
        let lost = problem.panels.iter().zip(&panels).filter(|(facts, kept)| {
            let chosen = kept.is_some_and(|kept| kept.chosen && kept.passed.is_none());
            chosen && facts.chosen.is_none()
        });
        outcome.lost.extend(lost.map(|(facts, _)| facts.name));
        let touched = problem.panels.iter().enumerate();
        let touched = touched.filter(|(at, _)| panels[*at].is_some() && owners.touched(*at));
        outcome.touched.extend(touched.map(|(_, facts)| facts.name));
    }
    match faults.is_empty() {
        true => Ok((problems, outcome)),
        false => Err(faults),
    }
}

/// A part with what was kept of its panels.
struct OnPart<'a> {
    part: &'a SetPart,
    panels: &'a [Option<&'a KeptPanel>],
    text: &'a PartText<'a>,
    owners: &'a WordPanels,
    plan: &'a Plan,
}

impl OnPart<'_> {
    fn ask(&self, problem: &mut Problem, faults: &mut Faults) {
        let (mut ends, mut printed) = (Vec::new(), Vec::new());
        for at in 0..self.panels.len() {
            let Some(kept) = self.panels[at] else {
                continue;
            };
            if kept.passed.is_some() {
                match self.passed(at, kept, problem) {
                    Ok(passed) => {
                        printed.extend(passed.words.into_iter().flat_map(|(from, to)| [from, to]));
                        problem.panels[at].passed = Some(passed);
                    }
                    Err(fault) => faults.push(match &kept.place {
                        Some(place) => fault.at(place.clone()),
                        None => fault,
                    }),
                }
            } else if kept.chosen
                && let Some(chosen) = self.chosen(at, kept, problem)
            {
                ends.extend(
                    chosen
                        .words
                        .into_iter()
                        .flat_map(|words| [words.ends.0, words.ends.1]),
                );
                problem.panels[at].chosen = Some(chosen);
            }
        }
        for ends in [&mut ends, &mut printed] {
            ends.sort_unstable();
            ends.dedup();
        }
        (problem.chosen_ends, problem.printed_ends) = (ends, printed);
    }

    /// What was chosen for a panel; nothing where its picture or all its words are gone.
    fn chosen(&self, at: usize, kept: &KeptPanel, problem: &Problem) -> Option<Chosen> {
        let picture = match &kept.picture {
            Some(name) => Some(picture(problem, name)?),
            None => None,
        };
        if self.owners.had_words(at) && !self.owners.has_words(at) {
            return None;
        }
        let places = |(from, to): (usize, usize)| {
            let (first, last) = (self.text.place_from(from), self.text.place_to(to));
            (first.min(last), last)
        };
        let words = self.owners.has_words(at).then(|| ChosenWords {
            begins: places(self.owners.begins(at)),
            ends: places(self.owners.ends(at)),
        });
        Some(Chosen {
            role: kept.role,
            picture,
            words,
            touched: self.owners.touched(at),
        })
    }

    /// What stands on a panel that is passed: the role and the picture it is passed with, and its words.
    fn passed(&self, at: usize, kept: &KeptPanel, problem: &mut Problem) -> Result<Passed, Fault> {
        let panel = kept.panel;
        let facts = &problem.panels[at];
        let pinned = self.plan.pin(panel);
        if let Some(role) = pinned
            .and_then(|pin| pin.role)
            .filter(|role| *role != kept.role)
        {
            let what = format!(
                "{panel} is passed for press in the role `{}`, and the plan pins it to `{}`",
                kept.role.word(),
                role.word()
            );
            return Err(released(what, panel));
        }
        if let Some(name) = &kept.picture {
            let Some(index) = picture(problem, name) else {
                let what = format!(
                    "{panel} is passed for press with the picture `{name}`, and no callout of the part `{}` names it",
                    self.part.name
                );
                let help = "put [picture: …] back into the manuscript, or release the panel";
                return Err(Fault::new("passed", what).or_release(help, panel));
            };
            if facts.picture.is_some_and(|other| other != index) {
                let what = format!(
                    "{panel} is passed for press with the picture `{name}`, and the plan pins another to it"
                );
                return Err(released(what, panel));
            }
            self.pin_picture(at, index, problem);
        } else if facts.picture.is_some() && kept.role != Role::Picture {
            let what = format!(
                "{panel} is passed for press without a picture, and the plan pins one to it"
            );
            return Err(released(what, panel));
        }
        let facts = &mut problem.panels[at];
        let (role, begins) = (pinned.and_then(|pin| pin.role), facts.begins);
        (facts.role, facts.begins, facts.ends) = (Some(kept.role), None, None);
        let words = match self.owners.had_words(at) {
            false => None,
            true => Some(self.passed_words(at, panel)?),
        };
        Ok(Passed {
            words,
            exempt: false,
            role,
            begins,
            unpinned: !self.plans(kept),
        })
    }

    /// Whether the plan pins the picture that a panel is kept with.
    fn plans(&self, kept: &KeptPanel) -> bool {
        let mut pins = self.plan.panels.iter();
        kept.picture.is_some() && pins.any(|pin| pin.picture == kept.picture)
    }

    /// A picture stands on the panels it is printed on: it leaves the queue.
    fn pin_picture(&self, at: usize, index: usize, problem: &mut Problem) {
        let mut first = at;
        while first > 0
            && problem.panels[first].follows
            && self.panels[first - 1].is_some_and(|before| {
                before.passed.is_some()
                    && before.picture == self.panels[at].and_then(|kept| kept.picture.clone())
            })
        {
            first -= 1;
        }
        let facts = &mut problem.pictures[index];
        facts.panel = facts.panel.or(Some(first));
        facts.queued = false;
        let spans = facts.spans;
        for panel in problem.panels.iter_mut().skip(first).take(spans) {
            panel.picture = Some(index);
        }
    }

    /// The places that the words of a passed panel begin and end at. What has been added beside them belongs to the
    /// panel before or behind, unless that is passed too.
    fn passed_words(&self, at: usize, panel: PanelName) -> Result<(usize, usize), Fault> {
        if !self.owners.has_words(at) {
            let what = format!("{panel} is passed for press, and all its words are gone");
            return Err(released(what, panel));
        }
        let passed = |at: usize| self.panels[at].is_some_and(|kept| kept.passed.is_some());
        // Whether nothing but passed panels lies between this one and the next that has words, or the part's end.
        let shut = |mut others: Box<dyn Iterator<Item = usize>>| loop {
            match others.next() {
                None => break true,
                Some(other) if !passed(other) => break false,
                Some(other) if self.owners.has_words(other) => break true,
                Some(_) => {}
            }
        };
        let last_words = (at + 1..self.panels.len()).any(|other| self.owners.has_words(other));
        let first_words = (0..at).any(|other| self.owners.has_words(other));
        let shut_before = shut(Box::new((0..at).rev()));
        let shut_after = shut(Box::new(at + 1..self.panels.len()));
        let from = match (first_words, shut_before) {
            (false, true) => 0,
            _ => self.owners.begins(at).1,
        };
        let ends = self.owners.ends(at);
        let to = match (last_words, shut_after) {
            (false, true) => self.text.count(),
            (true, true) => ends.1,
            (_, false) => ends.0,
        };
        let place = |words: usize| {
            let place = self.text.place_from(words);
            (self.text.before[place] == words).then_some(place)
        };
        place(from).zip(place(to)).ok_or_else(|| {
            let what = format!(
                "{panel} is passed for press, and its words now run into those of its neighbours where no panel \
                 can end"
            );
            released(what, panel)
        })
    }
}

fn picture(problem: &Problem, name: &str) -> Option<usize> {
    problem
        .pictures
        .iter()
        .position(|picture| picture.name == name)
}
