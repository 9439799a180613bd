//! What held unless the plan said otherwise in older editions ([`DEFAULTS`]), and the keys with which it holds still.

use super::change::Change;
use super::vary::entered;
use super::written::{Importances, RulesWritten, TextWritten, Written};
use crate::names::{Location, SetAs, and_list};
use crate::plan::{Align, DEFAULTS, Hang, RuleName, Window};
use crate::reading::{At, Switch, Whole};

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
    /// Nothing hung of prose.
    ProseHangsNothing,
    /// Words of justified prose were not divided.
    HyphenateOff,
}

impl Older {
    /// What a plan does not speak of that held otherwise in an edition; `alone` are the pictures that stand alone for
    /// want of a word.
    pub fn than(edition: u64, written: &Written, alone: Vec<String>) -> Vec<Older> {
        if edition >= DEFAULTS {
            return Vec::new();
        }
        let mut older = match edition < 2 {
            true => Older::than_second(written, alone),
            false => Vec::new(),
        };
        let usual = TextWritten::default();
        let text = written.text.as_ref().map_or(&usual, |text| &text.value);
        // Of verse other marks hang unless said, so that one key keeps both only where all is prose.
        if text.hang.is_none() && text.set_as() == SetAs::Prose {
            older.push(Older::ProseHangsNothing);
        }
        let parts = written.part.iter().flat_map(|parts| &parts.value);
        let silent = parts.filter(|part| part.value.hyphenate.is_none());
        let aligns = silent.map(|part| &part.value.align).chain([&text.align]);
        let justified = |align: &At<Align>| align.value == Align::Justified;
        if text.hyphenate.is_none() && aligns.flatten().any(justified) {
            older.push(Older::HyphenateOff);
        }
        older
    }

    /// What held otherwise before the second edition.
    fn than_second(written: &Written, alone: Vec<String>) -> Vec<Older> {
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
            Older::ProseHangsNothing => text(written, here).hang = Some(at(Hang::None, here)),
            Older::HyphenateOff => text(written, here).hyphenate = Some(at(Switch(false), here)),
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
            Older::ProseHangsNothing => "hang = \"none\" in [text]".to_string(),
            Older::HyphenateOff => "hyphenate = false in [text]".to_string(),
        }
    }
}

/// The rules that say where panels stay blank that nothing is there for.
const SPARE: [RuleName; 2] = [RuleName::SparePanels, RuleName::SectionsApart];

fn rules<'a>(written: &'a mut Written, here: &Location) -> &'a mut RulesWritten {
    &mut entered(&mut written.rules, here).value
}

fn text<'a>(written: &'a mut Written, here: &Location) -> &'a mut TextWritten {
    &mut entered(&mut written.text, here).value
}

fn at<T>(value: T, here: &Location) -> At<T> {
    At {
        value,
        place: here.clone(),
    }
}
