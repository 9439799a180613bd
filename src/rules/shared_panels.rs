//! `shared-panels`: whether words and pictures share panels.
//!
//! Each panel that is shared against "never" costs 100, and so does each picture that stands alone against "always". A
//! caption makes no panel a shared one: it belongs to the picture. Of a picture without a name it is not known yet
//! whether it leaves room.

use super::{
    About, Asks, Clause, Declared, Form, Group, Judges, PanelView, Problem, Rule, Rules, Shown,
    Verdict,
};
use crate::names::Role;

/// What each panel costs that should not share, or should and does not.
const COST: u64 = 100;

/// Whether words and pictures share panels.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum SharedPanels {
    /// Where that is best.
    Allowed,
    /// No panel has both.
    Never,
    /// Every picture has words beside it.
    Always,
}

pub struct SharedPanelsRule;

impl Declared for SharedPanelsRule {
    const ABOUT: About = About {
        name: "shared-panels",
        group: Group::Order,
        hard: false,
        judges: Judges::Division,
        words: "Whether words and pictures share panels: where that is best, on no panel, or at every picture.",
    };
}

impl Asks for SharedPanelsRule {
    type Asked = SharedPanels;
    const UNLESS_SAID: SharedPanels = SharedPanels::Allowed;
    const FORM: Form<SharedPanels> = Form::Words(&[
        ("allowed", |asked| *asked = SharedPanels::Allowed),
        ("never", |asked| *asked = SharedPanels::Never),
        ("always", |asked| *asked = SharedPanels::Always),
    ]);
    const SHOWN: Shown<SharedPanels> =
        Shown::Usual("words and pictures on one panel; or \"never\", \"always\"");
}

impl Rule for SharedPanelsRule {
    fn idle(&self, problem: &Problem) -> bool {
        problem.rules.shared_panels == SharedPanels::Allowed
    }

    fn read(&self, reading: &PanelView<'_>) -> Verdict {
        let wrong = match reading.problem.rules.shared_panels {
            SharedPanels::Allowed => return Verdict::KEPT,
            SharedPanels::Never => Role::Shared,
            SharedPanels::Always => Role::Picture,
        };
        match reading.role == wrong && !reading.has_unnamed_picture() {
            true => Verdict::broken(COST),
            false => Verdict::KEPT,
        }
    }

    fn in_words(&self, rules: &Rules) -> String {
        let asked = match rules.shared_panels {
            SharedPanels::Allowed => "words and pictures may share panels",
            SharedPanels::Never => "words and pictures never share a panel",
            SharedPanels::Always => "every picture has words beside it",
        };
        asked.to_string()
    }

    fn given_up(&self, rules: &Rules) -> Option<Clause> {
        Some(match rules.shared_panels {
            SharedPanels::Always => Clause::new(
                "lacks the words beside its picture that `shared-panels` asks for",
                "lack the words beside their pictures that `shared-panels` asks for",
            ),
            SharedPanels::Allowed | SharedPanels::Never => Clause::new(
                "has words beside its picture, against `shared-panels`",
                "have words beside their pictures, against `shared-panels`",
            ),
        })
    }
}
