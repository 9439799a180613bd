//! The four fullnesses: how full a panel should be, by what it carries and where in the body it stands.
//!
//! A panel answers to one of them. What is pinned to it comes first, then whether it begins or ends the
//! body, then its role. Captions take room beside words as words do; but the body begins and ends with words that
//! are no captions, and a picture alone with its captions is asked for no fullness.

use super::{Rule, Verdict};
use crate::panels::Reading;
use crate::plan::{Percent, Role, RuleName};

pub(super) struct TextFullness;
pub(super) struct SharedFullness;
pub(super) struct FirstFullness;
pub(super) struct LastFullness;

/// Which fullness a panel of words answers to, and what is asked of it.
fn asked(reading: &Reading<'_>) -> Option<(RuleName, Percent)> {
    let rules = &reading.problem.rules;
    let by_role = match reading.role {
        Role::Text => (RuleName::TextFullness, rules.text_fullness),
        Role::Shared => (RuleName::SharedFullness, rules.shared_fullness),
        _ => return None,
    };
    let pinned = reading.problem.panels[reading.panel].fullness;
    Some(match pinned {
        Some(pinned) => (by_role.0, pinned),
        None if reading.problem.body && reading.begins_part() => {
            (RuleName::FirstFullness, rules.first_fullness)
        }
        None if reading.problem.body && reading.ends_part() => {
            (RuleName::LastFullness, rules.last_fullness)
        }
        None => by_role,
    })
}

fn read(name: RuleName, reading: &Reading<'_>) -> Verdict {
    match asked(reading) {
        Some((rule, percent)) if rule == name => Verdict::points_off(reading.off(percent)),
        _ => Verdict::KEPT,
    }
}

macro_rules! fullness {
    ($($rule:ident),*) => {$(
        impl Rule for $rule {
            fn name(&self) -> RuleName {
                RuleName::$rule
            }

            fn read(&self, reading: &Reading<'_>) -> Verdict {
                read(RuleName::$rule, reading)
            }
        }
    )*};
}

fullness!(TextFullness, SharedFullness, FirstFullness, LastFullness);
