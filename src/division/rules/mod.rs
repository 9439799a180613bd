//! The author's rules, one file each.
//!
//! A rule reads a part panel by panel: (what it remembers, this panel) → (verdict, what it remembers).
//! Most remember nothing. Whether a rule is hard, and how much it weighs, is not the rule's business: it
//! says whether it is kept, and what it costs where it is soft. To add a rule, write its file, name it in
//! [`RuleName`] and give it a line in [`all`].

mod blank_before;
mod blanks;
mod chosen_breaks;
mod couplets;
mod each_panel;
mod emptiest;
mod ends_with;
mod even_fullness;
mod fewest_lines;
mod fullest;
mod fullness;
mod keep_together;
mod new_panel;
mod picture_comes;
mod picture_with;
mod pictures_in_a_row;
mod shared_panels;
mod text_in_a_row;
mod undivided;
mod waits;

use super::{Cost, PanelView, Problem};
use crate::plan::RuleName;

/// What a rule remembers from panel to panel; nought at the start of a part.
pub type Memory = u128;

/// What a rule says of a panel.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Verdict {
    /// Whether the rule is broken here.
    pub broken: bool,
    /// What that costs where the rule is soft.
    pub cost: Cost,
}

impl Verdict {
    /// The rule is kept.
    pub const KEPT: Verdict = Verdict {
        broken: false,
        cost: 0,
    };

    /// The rule is broken, at a cost where it is soft.
    pub const fn broken(cost: Cost) -> Verdict {
        Verdict { broken: true, cost }
    }

    /// Broken if there is anything off; `off` whole percentage points cost off² ÷ 10.
    pub fn points_off(off: u64) -> Verdict {
        Verdict {
            broken: off > 0,
            cost: off * off / 10,
        }
    }
}

/// What a rule remembers from panel to panel.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Remembers {
    /// Nothing.
    Nothing,
    /// Roles and pictures of the panels before. Of a panel it then reads these alone, never which words stand
    /// there; and it tells few memories apart, so that the search knows early what they come to.
    Roles,
    /// Anything else.
    Words,
}

/// A rule of the balance.
pub trait Rule: Sync {
    /// Its name.
    fn name(&self) -> RuleName;

    /// Reads a panel by itself.
    fn read(&self, reading: &PanelView<'_>) -> Verdict;

    /// Whether no division of this part could break it: then it is not asked at all.
    fn idle(&self, _problem: &Problem) -> bool {
        false
    }

    /// What it remembers from panel to panel. If anything, [`Rule::read_on`] is asked instead.
    fn remembers(&self) -> Remembers {
        Remembers::Nothing
    }

    /// Reads a panel with what it remembers of the panels before.
    fn read_on(&self, memory: Memory, reading: &PanelView<'_>) -> (Verdict, Memory) {
        (self.read(reading), memory)
    }
}

/// Every rule there is.
pub fn all() -> [&'static dyn Rule; 22] {
    [
        &fullest::Fullest,
        &emptiest::Emptiest,
        &couplets::Couplets,
        &keep_together::KeepTogether,
        &new_panel::NewPanel,
        &undivided::Undivided,
        &fewest_lines::FewestLines,
        &each_panel::EachPanelRule,
        &fullness::TextFullness,
        &fullness::SharedFullness,
        &fullness::FirstFullness,
        &fullness::LastFullness,
        &picture_comes::PictureComes,
        &shared_panels::SharedPanelsRule,
        &even_fullness::EvenFullness,
        &picture_with::PictureWithRule,
        &text_in_a_row::TextInARow,
        &pictures_in_a_row::PicturesInARow,
        &blanks::BlanksRule,
        &ends_with::EndsWith,
        &blank_before::BlankBefore,
        &chosen_breaks::ChosenBreaks,
    ]
}

/// A rule as the author weighs it.
#[derive(Clone, Copy)]
pub struct Weighed {
    /// The rule.
    pub rule: &'static dyn Rule,
    /// Whether no division may break it.
    pub hard: bool,
    /// Multiplier on its cost.
    pub importance: Cost,
}

impl Weighed {
    /// What a verdict comes to: nothing where a hard rule is broken.
    pub fn price(&self, verdict: Verdict) -> Option<Cost> {
        match (self.hard, verdict.broken) {
            (true, true) => None,
            (true, false) => Some(0),
            (false, _) => Some(verdict.cost * self.importance),
        }
    }
}

/// The rules in use for a part that it could break, those of `soft` made soft whatever the plan says.
pub fn weighed(problem: &Problem, soft: &[RuleName]) -> Vec<Weighed> {
    all()
        .into_iter()
        .map(|rule| Weighed {
            rule,
            hard: problem.rules.is_hard(rule.name()) && !soft.contains(&rule.name()),
            importance: Cost::from(problem.rules.weight(rule.name()).importance),
        })
        .filter(|weighed| weighed.hard || weighed.importance > 0)
        .filter(|weighed| !weighed.rule.idle(problem))
        .collect()
}
