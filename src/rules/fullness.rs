//! The four fullnesses: how full a panel should be, by what it carries and where in the body it stands.
//!
//! A panel answers to one of them. What is pinned to it comes first, then whether it begins or ends the
//! body, then its role. Captions take room beside words as words do; but the body begins and ends with words that
//! are no captions, and a picture alone with its captions is asked for no fullness. A panel that is *d* whole
//! percentage points off, rounded down, costs d² ÷ 10, rounded down.
//!
//! A fullness is asked for every stretch of words that might stand on a panel: each looks no farther than it must.

use super::{
    About, Asks, Clause, Declared, Form, Group, Judges, PanelView, Percent, Rule, Rules, Shown,
    Verdict,
};
use crate::names::Role;

/// The fullness that is pinned to a panel.
fn pinned(reading: &PanelView<'_>) -> Option<Percent> {
    reading.problem.panels[reading.panel].fullness
}

/// Whether a panel answers to a fullness of the body's ends, if it has one.
fn own_end(reading: &PanelView<'_>) -> bool {
    pinned(reading).is_none() && reading.problem.body && reading.has_words()
}

/// What is asked of a panel in a role; nothing where it answers to another.
fn by_role(role: Role, usual: Percent, reading: &PanelView<'_>) -> Option<Percent> {
    let at_end = || own_end(reading) && (reading.begins_part() || reading.ends_part());
    let answers = reading.role == role && !at_end();
    answers.then(|| pinned(reading).unwrap_or(usual))
}

/// Declares one of them: what is said of it, what it asks unless said, of which panels it asks it, and which panels
/// those are in words.
macro_rules! fullness {
    ($(
        $rule:ident $name:literal $field:ident $percent:literal $words:literal, $panels:literal,
        |$usual:ident, $reading:ident| $asked:expr;
    )+) => { $(
        pub struct $rule;

        impl Declared for $rule {
            const ABOUT: About = About {
                name: $name,
                group: Group::Amount,
                hard: false,
                judges: Judges::Room,
                words: $words,
            };
        }

        impl Asks for $rule {
            type Asked = Percent;
            const UNLESS_SAID: Percent = Percent($percent);
            const FORM: Form<Percent> = Form::SHARE;
            const SHOWN: Shown<Percent> = Shown::Usual("");
        }

        impl Rule for $rule {
            fn read(&self, $reading: &PanelView<'_>) -> Verdict {
                let $usual = $reading.problem.rules.$field;
                let asked: Option<Percent> = $asked;
                match asked {
                    Some(percent) => Verdict::points_off($reading.off(percent)),
                    None => Verdict::KEPT,
                }
            }

            fn in_words(&self, rules: &Rules) -> String {
                format!("{} {} % full", $panels, rules.$field.0)
            }

            fn given_up(&self, _rules: &Rules) -> Option<Clause> {
                None
            }
        }
    )+ };
}

fullness! {
    TextFullness "text-fullness" text_fullness 60
    "How full a panel of words should be.", "panels of words are",
    |usual, reading| by_role(Role::Text, usual, reading);

    SharedFullness "shared-fullness" shared_fullness 35
    "How full a panel of words and a picture should be.", "panels shared with a picture are",
    |usual, reading| by_role(Role::Shared, usual, reading);

    FirstFullness "first-fullness" first_fullness 40
    "How full the panel that begins the body should be.", "the first panel of the body is",
    |usual, reading| (own_end(reading) && reading.begins_part()).then_some(usual);

    LastFullness "last-fullness" last_fullness 35
    "How full the panel that ends the body should be.", "the last panel of the body is",
    |usual, reading| {
        let ends = own_end(reading) && reading.ends_part() && !reading.begins_part();
        ends.then_some(usual)
    };
}
