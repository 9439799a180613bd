//! `fullest`: no panel of words takes a larger share of its text area.
//!
//! Captions count beside words; a picture alone with its captions is no panel of words, and only its text area
//! bounds them. Where the rule may give way, a panel that is *d* percentage points fuller costs d² ÷ 10.

use super::{
    About, Asks, Clause, Declared, Form, Group, Judges, PanelView, Percent, Rule, Rules, Shown,
    Verdict,
};

pub struct Fullest;

impl Declared for Fullest {
    const ABOUT: About = About {
        name: "fullest",
        group: Group::Bounds,
        hard: true,
        judges: Judges::Words,
        words: "No panel with words is fuller than this.",
    };
}

impl Asks for Fullest {
    type Asked = Percent;
    const UNLESS_SAID: Percent = Percent(95);
    const FORM: Form<Percent> = Form::SHARE;
    const SHOWN: Shown<Percent> = Shown::Usual("");
}

impl Rule for Fullest {
    fn read(&self, reading: &PanelView<'_>) -> Verdict {
        let most = reading.problem.rules.fullest;
        let over = u64::from(reading.used) * 100 > u64::from(most.0) * u64::from(reading.capacity);
        if reading.has_words() && over {
            Verdict {
                broken: true,
                ..Verdict::points_off(reading.off(most))
            }
        } else {
            Verdict::KEPT
        }
    }

    fn in_words(&self, rules: &Rules) -> String {
        format!("no panel is fuller than {} %", rules.fullest.0)
    }

    fn given_up(&self, _rules: &Rules) -> Option<Clause> {
        Some(Clause::new(
            "is fuller than `fullest`",
            "are fuller than `fullest`",
        ))
    }
}
