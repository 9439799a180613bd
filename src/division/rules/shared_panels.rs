//! `shared-panels`: whether words and pictures share panels.
//!
//! A caption makes no panel a shared one: it belongs to the picture.

use super::{Rule, Verdict};
use crate::division::{PanelView, Problem};
use crate::names::Role;
use crate::plan::{RuleName, SharedPanels};

/// What each panel costs that should not share, or should and does not.
const COST: u64 = 100;

pub(super) struct SharedPanelsRule;

impl Rule for SharedPanelsRule {
    fn name(&self) -> RuleName {
        RuleName::SharedPanels
    }

    fn idle(&self, problem: &Problem) -> bool {
        problem.rules.shared_panels == SharedPanels::Allowed
    }

    fn read(&self, reading: &PanelView<'_>) -> Verdict {
        let wrong = match reading.problem.rules.shared_panels {
            SharedPanels::Allowed => return Verdict::KEPT,
            SharedPanels::Never => Role::Shared,
            SharedPanels::Always => Role::Picture,
        };
        match reading.role == wrong {
            true => Verdict::broken(COST),
            false => Verdict::KEPT,
        }
    }
}
