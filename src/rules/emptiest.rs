//! `emptiest`: no panel of words takes a smaller share of its text area.
//!
//! Captions count beside words; a picture alone with its captions is no panel of words, and only its text area
//! bounds them. Where the rule may give way, a panel that is *d* percentage points emptier costs d² ÷ 10.

use super::{
    About, Asks, Clause, Declared, Form, Group, Judges, PanelView, Percent, Problem, Rule, Rules,
    Shown, Verdict,
};

pub struct Emptiest;

impl Declared for Emptiest {
    const ABOUT: About = About {
        name: "emptiest",
        group: Group::Bounds,
        hard: true,
        judges: Judges::Room,
        words: "No panel with words is emptier than this.",
    };
}

impl Asks for Emptiest {
    type Asked = Percent;
    const UNLESS_SAID: Percent = Percent(0);
    const FORM: Form<Percent> = Form::SHARE;
    const SHOWN: Shown<Percent> = Shown::Usual("");
}

impl Rule for Emptiest {
    fn idle(&self, problem: &Problem) -> bool {
        problem.rules.emptiest.0 == 0
    }

    fn read(&self, reading: &PanelView<'_>) -> Verdict {
        let least = reading.problem.rules.emptiest;
        let under =
            u64::from(reading.used) * 100 < u64::from(least.0) * u64::from(reading.capacity);
        if reading.has_words() && under {
            Verdict {
                broken: true,
                ..Verdict::points_off(reading.off(least))
            }
        } else {
            Verdict::KEPT
        }
    }

    fn in_words(&self, rules: &Rules) -> String {
        format!("no panel is emptier than {} %", rules.emptiest.0)
    }

    fn given_up(&self, _rules: &Rules) -> Option<Clause> {
        Some(Clause::new(
            "is emptier than `emptiest`",
            "are emptier than `emptiest`",
        ))
    }
}
