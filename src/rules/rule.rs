//! What a rule is: it reads a part panel by panel, and says what it asks and what was given up.

use super::{PanelView, Problem, RuleName, Rules};

/// The coin that rules' costs are counted in.
pub type Cost = u64;

/// What a rule remembers from panel to panel; nought at the start of a part.
pub type Memory = u128;

/// What a rule says of a panel.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Verdict {
    /// Whether the rule is broken here.
    pub broken: bool,
    /// What the panel costs by it: where it is broken, if the rule is soft; a hard one too may ask something of what
    /// it allows.
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

    /// The rule is kept, and yet there is a better way.
    pub const fn allowed(cost: Cost) -> Verdict {
        Verdict {
            broken: false,
            cost,
        }
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

/// What is said of panels where a rule was given up.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Clause {
    /// What is said of one panel: "is fuller than `fullest`".
    pub one: &'static str,
    /// What is said of several.
    pub many: &'static str,
    /// The least cost that is worth a word.
    pub from: Cost,
}

impl Clause {
    /// A clause that is said of every panel where the rule costs something.
    pub const fn new(one: &'static str, many: &'static str) -> Clause {
        Clause { one, many, from: 1 }
    }

    /// Whether what a panel pays under a rule is worth a word, however much the author weighs it.
    pub fn is_worth_a_word(&self, paid: Cost, rules: &Rules, name: RuleName) -> bool {
        paid >= self.from * Cost::from(rules.weight(name).importance.max(1))
    }
}

/// A rule of the balance.
pub trait Rule: Sync {
    /// Reads a panel by itself.
    fn read(&self, reading: &PanelView<'_>) -> Verdict;

    /// Whether no division of this part could break it: then it is not asked at all.
    fn idle(&self, _problem: &Problem) -> bool {
        false
    }

    /// What it remembers from panel to panel of a part. If anything, [`Rule::read_on`] is asked instead.
    fn remembers(&self, _problem: &Problem) -> Remembers {
        Remembers::Nothing
    }

    /// Reads a panel with what it remembers of the panels before.
    fn read_on(&self, memory: Memory, reading: &PanelView<'_>) -> (Verdict, Memory) {
        (self.read(reading), memory)
    }

    /// Of a rule that remembers words: what it costs at least to come to a panel while the words of so many pictures of
    /// the queue wait for these, or so many of these for their words. The search then knows early what waiting comes to.
    fn reaching(&self, _problem: &Problem, _panel: usize, _words: usize, _pictures: usize) -> Cost {
        0
    }

    /// The same of what it costs on any panel that so many still wait behind it.
    fn leaving(&self, _problem: &Problem, _words: usize, _pictures: usize) -> Cost {
        0
    }

    /// What it asks as the plan has it: "no panel is fuller than 95 %".
    fn in_words(&self, rules: &Rules) -> String;

    /// What is said where it was given up; nothing where that is told in figures.
    fn given_up(&self, rules: &Rules) -> Option<Clause>;
}

/// A rule in use as the author weighs it.
#[derive(Clone, Copy)]
pub struct Weighed {
    /// Its name.
    pub name: RuleName,
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
            _ => Some(verdict.cost * self.importance),
        }
    }
}

/// The rules in use for a part that it could break, those of `soft` made soft whatever the plan says.
pub fn weighed(problem: &Problem, soft: &[RuleName]) -> Vec<Weighed> {
    let names = RuleName::ALL.iter().map(|&(name, ..)| name);
    names
        .map(|name| Weighed {
            name,
            rule: name.rule(),
            hard: problem.rules.is_hard(name) && !soft.contains(&name),
            importance: Cost::from(problem.rules.weight(name).importance),
        })
        .filter(|weighed| weighed.hard || weighed.importance > 0)
        .filter(|weighed| !weighed.rule.idle(problem))
        .collect()
}
