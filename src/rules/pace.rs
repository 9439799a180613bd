//! `pace`: pictures come at an even pace.
//!
//! The panels with words between two pictures are a stretch, and so are those before the first picture and those behind
//! the last; a panel that a picture shares ends with the picture. A stretch that is *d* tenths longer or shorter than
//! the mean, rounded down, costs d²: a tenth is one of the mean, or of a panel where that is longer. Beyond three times
//! the mean each panel more costs what the one before it did. The mean is the number of panels that words should take,
//! divided by one more than the pictures the plan asks for. Words should take as many panels as `each-panel` asks,
//! rounded up; else one for `first-fullness`, one for `last-fullness` and the rest at `text-fullness`, rounded to the
//! nearest; never more than pictures without a name leave of the part. The rule is asked where pictures have no name
//! yet: others stand by their words.
//!
//! It remembers how long the stretch is so far, up to that length; what it is too long is charged at once.

use super::{
    About, Asks, Clause, Declared, Form, Group, Judges, Memory, PanelView, Problem, Remembers,
    Rule, Rules, Shown, Verdict,
};

/// At what pace pictures come.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Pace {
    /// After about as many panels with words each.
    Even,
    /// As it happens.
    Free,
}

pub struct PaceRule;

impl Declared for PaceRule {
    const ABOUT: About = About {
        name: "pace",
        group: Group::Order,
        hard: false,
        judges: Judges::Division,
        words: "Whether pictures come after about as many panels of words each, while some have no name: \"even\" or \"free\".",
    };
}

impl Asks for PaceRule {
    type Asked = Pace;
    const UNLESS_SAID: Pace = Pace::Even;
    const FORM: Form<Pace> = Form::Words(&[
        ("even", |asked| *asked = Pace::Even),
        ("free", |asked| *asked = Pace::Free),
    ]);
    const SHOWN: Shown<Pace> =
        Shown::Usual("about as many panels of words before each picture; or \"free\"");
}

impl Rule for PaceRule {
    fn idle(&self, problem: &Problem) -> bool {
        problem.rules.pace == Pace::Free || problem.unnamed_pictures() == 0
    }

    fn read(&self, reading: &PanelView<'_>) -> Verdict {
        self.read_on(0, reading).0
    }

    fn remembers(&self, _problem: &Problem) -> Remembers {
        Remembers::Roles
    }

    fn read_on(&self, before: Memory, reading: &PanelView<'_>) -> (Verdict, Memory) {
        if self.idle(reading.problem) {
            return (Verdict::KEPT, before);
        }
        let mean = Mean::of(reading.problem);
        let mut length = u64::try_from(before).unwrap_or(u64::MAX);
        let mut cost = 0;
        if reading.has_words() {
            cost += mean.one_more(length);
            length = (length + 1).min(mean.most());
        }
        if reading.has_unnamed_picture() || reading.begins_picture {
            cost += mean.too_short(length);
            length = 0;
        }
        if reading.is_last() {
            cost += mean.too_short(length);
        }
        let verdict = match cost {
            0 => Verdict::KEPT,
            cost => Verdict::broken(cost),
        };
        (verdict, Memory::from(length))
    }

    fn in_words(&self, _rules: &Rules) -> String {
        "pictures come at an even pace".to_string()
    }

    fn given_up(&self, _rules: &Rules) -> Option<Clause> {
        Some(Clause {
            // None between two pictures, or twice as many as elsewhere.
            from: 100,
            ..Clause::new(
                "is where pictures stand much closer together, or farther apart, than elsewhere",
                "are where pictures stand much closer together, or farther apart, than elsewhere",
            )
        })
    }
}

/// The mean of all stretches: so many panels for so many of them.
#[derive(Clone, Copy)]
struct Mean {
    panels: u64,
    stretches: u64,
}

impl Mean {
    fn of(problem: &Problem) -> Mean {
        Mean {
            panels: problem.word_panels as u64,
            stretches: (problem.named_pictures() + problem.unnamed_pictures() + 1) as u64,
        }
    }

    fn is_too_short(self, length: u64) -> bool {
        length * self.stretches < self.panels
    }

    /// What a stretch of this length costs.
    fn cost(self, length: u64) -> u64 {
        let off = (length * self.stretches).abs_diff(self.panels);
        let tenths = 10 * off / self.panels.max(self.stretches);
        tenths * tenths
    }

    /// Beyond this length, all are told alike: each panel more costs the same.
    fn most(self) -> u64 {
        (3 * self.panels).div_ceil(self.stretches).max(1)
    }

    /// What a stretch costs that ends here and is too short.
    fn too_short(self, length: u64) -> u64 {
        match self.is_too_short(length) {
            true => self.cost(length),
            false => 0,
        }
    }

    /// What one panel more costs a stretch of this length, for being too long.
    fn one_more(self, length: u64) -> u64 {
        let length = length.min(self.most() - 1);
        let too_long = |length: u64| match self.is_too_short(length) {
            true => 0,
            false => self.cost(length),
        };
        too_long(length + 1) - too_long(length)
    }
}
