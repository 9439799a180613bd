//! The four fullnesses: how full a panel should be, by what it carries and where in the body it stands.
//!
//! A panel answers to one of them. What is pinned to it comes first, then whether it begins or ends the
//! body, then its role. Captions take room beside words as words do; but the body begins and ends with words that
//! are no captions, and a picture alone with its captions is asked for no fullness.

use super::{Rule, Verdict};
use crate::division::PanelView;
use crate::names::Role;
use crate::plan::{Percent, RuleName};

pub(super) struct TextFullness;
pub(super) struct SharedFullness;
pub(super) struct FirstFullness;
pub(super) struct LastFullness;

/// What is asked of a panel by one of the four; nothing where it answers to another. This is asked for every
/// stretch of words that might stand on a panel: each looks no farther than it must.
fn asked(name: RuleName, reading: &PanelView<'_>) -> Option<Percent> {
    let rules = &reading.problem.rules;
    let pinned = reading.problem.panels[reading.panel].fullness;
    let own_end = pinned.is_none() && reading.problem.body && reading.has_words();
    let by_role = |role: Role, usual: Percent| {
        let answers =
            reading.role == role && !(own_end && (reading.begins_part() || reading.ends_part()));
        answers.then_some(pinned.unwrap_or(usual))
    };
    match name {
        RuleName::TextFullness => by_role(Role::Text, rules.text_fullness),
        RuleName::SharedFullness => by_role(Role::Shared, rules.shared_fullness),
        RuleName::FirstFullness => {
            (own_end && reading.begins_part()).then_some(rules.first_fullness)
        }
        _ => {
            let ends = own_end && reading.ends_part() && !reading.begins_part();
            ends.then_some(rules.last_fullness)
        }
    }
}

fn read(name: RuleName, reading: &PanelView<'_>) -> Verdict {
    match asked(name, reading) {
        Some(percent) => Verdict::points_off(reading.off(percent)),
        None => Verdict::KEPT,
    }
}

macro_rules! fullness {
    ($($rule:ident),*) => {$(
        impl Rule for $rule {
            fn name(&self) -> RuleName {
                RuleName::$rule
            }

            fn read(&self, reading: &PanelView<'_>) -> Verdict {
                read(RuleName::$rule, reading)
            }
        }
    )*};
}

fullness!(TextFullness, SharedFullness, FirstFullness, LastFullness);
