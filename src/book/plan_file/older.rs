//! What held unless the plan said otherwise in older editions ([`DEFAULTS`]), and the keys with which it holds still.

use super::change::Change;
use super::vary::entered;
use super::written::{Importances, RulesWritten, Written};
use crate::names::{Location, and_list};
use crate::plan::{DEFAULTS, RuleName, Window};
use crate::reading::{At, Whole};

/// Something that held in an older edition and holds no more.
#[derive(Clone, Debug, PartialEq)]
pub enum Older {
    /// Pictures left their whole panel to words; these say nothing of it.
    LeavesAll(Vec<String>),
    /// A picture came on the panel of its words or the next, wherever its spread was not asked.
    PictureComes,
    /// It was not asked how near pictures stand to their words as a reader leafs.
    NearnessOff,
    /// Panels that nothing is there for might stand anywhere.
    SparePanelsOff,
}

impl Older {
    /// What a plan does not speak of that held otherwise in an edition; `alone` are the pictures that stand alone for
    /// want of a word.
    pub fn than(edition: u64, written: &Written, alone: Vec<String>) -> Vec<Older> {
        if edition >= DEFAULTS {
            return Vec::new();
        }
        let says = |key: &str| {
            let rules = written.rules.as_ref();
            rules.is_some_and(|rules| rules.value.places.contains_key(key))
        };
        let mut older = Vec::new();
        if !alone.is_empty() {
            older.push(Older::LeavesAll(alone));
        }
        if !says("picture-comes") && !says("picture-with") {
            older.push(Older::PictureComes);
        }
        if !says("nearness") {
            older.push(Older::NearnessOff);
        }
        older.push(Older::SparePanelsOff);
        older
    }

    /// Changes the plan so that it holds again.
    pub(super) fn enter(&self, written: &mut Written, here: &Location) {
        match self {
            Older::LeavesAll(names) => {
                for name in names {
                    Change::LeavesAll(name.clone()).enter(written, here);
                }
            }
            Older::PictureComes => rules(written, here).asked.picture_comes = Some(Window::USUAL),
            Older::NearnessOff => rules(written, here).asked.nearness = false,
            Older::SparePanelsOff => {
                let importance = &mut rules(written, here).weights.importance;
                let list = importance.get_or_insert_with(|| at(Importances(Vec::new()), here));
                for rule in SPARE {
                    let said = list.value.0.iter().any(|(known, _)| *known == rule);
                    let off = Whole::new(0).filter(|_| !said);
                    list.value.0.extend(off.map(|off| (rule, at(off, here))));
                }
            }
        }
    }

    /// What she writes so that it holds again.
    pub fn told(&self) -> String {
        match self {
            Older::LeavesAll(names) => {
                let names: Vec<String> = names.iter().map(|name| format!("`{name}`")).collect();
                format!("leaves = \"all\" for {}", and_list(&names))
            }
            Older::PictureComes => {
                let Window { soonest, latest } = Window::USUAL;
                format!("picture-comes = {{ soonest = {soonest}, latest = {latest} }} in [rules]")
            }
            Older::NearnessOff => "nearness = false in [rules]".to_string(),
            Older::SparePanelsOff => {
                let rules = SPARE.map(|rule| format!("{} = 0", rule.word()));
                format!("{} in `importance` of [rules]", rules.join(", "))
            }
        }
    }
}

/// The rules that say where panels stay blank that nothing is there for.
const SPARE: [RuleName; 2] = [RuleName::SparePanels, RuleName::SectionsApart];

fn rules<'a>(written: &'a mut Written, here: &Location) -> &'a mut RulesWritten {
    &mut entered(&mut written.rules, here).value
}

fn at<T>(value: T, here: &Location) -> At<T> {
    At {
        value,
        place: here.clone(),
    }
}
