//! Small books as an author writes them, and what she may do to their files.

use std::collections::BTreeSet;
use std::fmt::Write;

use toml::{Table, Value};
use versefold::assets::Assets;
use versefold::book::Workbench;
use versefold::division::{Limits, divide_together};
use versefold::names::{Fault, PanelName, Source};
use versefold::plan::RuleName;

/// A book's two files.
#[derive(Clone, Debug)]
pub struct Book {
    pub plan: Table,
    pub words: String,
}

/// Something done to them.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Edit {
    /// A rule is no longer hard: out of `must`, and in `may-give` if it is hard unless said.
    GivesWay(String),
    /// It is put in `may-give`, and nothing else.
    MayGive(String),
    /// It is taken out of `must`, and nothing else.
    NoMust(String),
    Role(PanelName),
    Picture(PanelName),
    Begins(PanelName),
    /// A picture leaves its whole panel to words.
    LeavesAll(String),
    Spans(String),
    WholeSpread(String),
    Caption(String),
    Pairs,
    Size(String, String),
    Margins(String, String),
    Panels {
        per_side: u16,
        parts: Vec<(String, Vec<String>)>,
        moves: bool,
    },
}

/// The rules that are hard unless said, as `README.md` has them; `undivided` gives way by itself unless it must hold.
pub const HARD: [&str; 8] = [
    "fullest",
    "emptiest",
    "couplets",
    "keep-together",
    "new-panel",
    "fewest-lines",
    "picture-comes",
    "picture-order",
];

impl Book {
    /// Every single thing that it demands, as what to leave out.
    pub fn demands(&self) -> Vec<Edit> {
        let may_give = self.rules("may-give");
        let hard = HARD.iter().map(|rule| (*rule).to_string());
        let hard = hard.filter(|rule| !may_give.contains(rule));
        let musts = self.rules("must");
        let musts = musts
            .into_iter()
            .filter(|rule| !HARD.contains(&rule.as_str()));
        let mut found: Vec<Edit> = hard.chain(musts).map(Edit::GivesWay).collect();
        for pin in self.list("panel") {
            let on = panel_of(pin);
            found.extend(pin.get("role").map(|_| Edit::Role(on)));
            found.extend(pin.get("picture").map(|_| Edit::Picture(on)));
            found.extend(pin.get("begins").map(|_| Edit::Begins(on)));
        }
        for picture in self.list("picture") {
            let name = picture["name"].as_str().expect("a name");
            found.extend(picture.get("spans").map(|_| Edit::Spans(name.to_string())));
            let whole = picture.get("whole-spread");
            found.extend(whole.map(|_| Edit::WholeSpread(name.to_string())));
        }
        found.extend(self.standing_alone().into_iter().map(Edit::LeavesAll));
        let mut parts = self.list("part").into_iter();
        found.extend(
            parts
                .any(|part| part.contains_key("pairs-with"))
                .then_some(Edit::Pairs),
        );
        let callouts = self
            .words
            .lines()
            .map(|line| line.strip_prefix("[caption: "));
        for name in callouts.flatten() {
            let caption = Edit::Caption(name.trim_end_matches(']').to_string());
            if !found.contains(&caption) {
                found.push(caption);
            }
        }
        found
    }

    /// The pictures that leave no room to words, for nothing says that they do.
    fn standing_alone(&self) -> BTreeSet<String> {
        let callouts = self.words.lines();
        let called = callouts.filter_map(|line| line.strip_prefix("[picture: "));
        let called = called.map(|name| name.trim_end_matches(']'));
        let named = |key: &'static str, list: &'static str| {
            let tables = self.list(list).into_iter();
            tables.filter_map(move |table| table.get(key)?.as_str())
        };
        let all = called.chain(named("name", "picture"));
        let all = all.chain(named("picture", "panel"));
        let leaving = self.list("picture").into_iter();
        let leaving = leaving.filter(|picture| picture.contains_key("leaves"));
        let leaving: Vec<&str> = leaving
            .filter_map(|picture| picture["name"].as_str())
            .collect();
        let alone = all.filter(|name| !leaving.contains(name));
        alone.map(str::to_string).collect()
    }

    /// Whether a panel is pinned to be the title panel.
    pub fn is_title(&self, panel: PanelName) -> bool {
        let mut pins = self.list("panel").into_iter();
        pins.any(|pin| {
            let role = pin.get("role").and_then(Value::as_str);
            panel_of(pin) == panel && role == Some("title")
        })
    }

    /// The book with something done to it.
    pub fn with<'a>(&self, edits: impl IntoIterator<Item = &'a Edit>) -> Book {
        let mut book = self.clone();
        edits.into_iter().for_each(|edit| book.edit(edit));
        book
    }

    fn edit(&mut self, edit: &Edit) {
        match edit {
            Edit::GivesWay(rule) => {
                self.change("must", |list| list.retain(|other| other != rule));
                if HARD.contains(&rule.as_str()) {
                    self.change("may-give", |list| list.push(rule.clone()));
                }
            }
            Edit::MayGive(rule) => self.change("may-give", |list| list.push(rule.clone())),
            Edit::NoMust(rule) => {
                assert!(self.rules("must").contains(rule), "{rule} is in no `must`");
                self.change("must", |list| list.retain(|other| other != rule));
            }
            Edit::Role(on) => self.drop("panel", |pin| panel_of(pin) == *on, "role"),
            Edit::Picture(on) => self.drop("panel", |pin| panel_of(pin) == *on, "picture"),
            Edit::Begins(on) => self.drop("panel", |pin| panel_of(pin) == *on, "begins"),
            Edit::LeavesAll(name) => self.leave_all(name),
            Edit::Spans(name) => self.drop("picture", |picture| is_called(picture, name), "spans"),
            Edit::WholeSpread(name) => {
                self.drop(
                    "picture",
                    |picture| is_called(picture, name),
                    "whole-spread",
                );
            }
            Edit::Caption(name) => {
                let callout = format!("[caption: {name}]\n");
                assert!(self.words.contains(&callout), "no caption of {name}");
                self.words = self.words.replace(&callout, "");
            }
            Edit::Pairs => self.drop("part", |part| part.contains_key("pairs-with"), "pairs-with"),
            Edit::Size(size, leading) => {
                self.text()
                    .insert("size".to_string(), Value::from(size.as_str()));
                self.text()
                    .insert("leading".to_string(), Value::from(leading.as_str()));
            }
            Edit::Margins(left, right) => {
                let margins = self.text().entry("margins").or_insert(Table::new().into());
                let margins = margins.as_table_mut().expect("a table");
                margins.insert("left".to_string(), Value::from(left.as_str()));
                margins.insert("right".to_string(), Value::from(right.as_str()));
            }
            Edit::Panels {
                per_side,
                parts,
                moves,
            } => self.grow(*per_side, parts, *moves),
        }
    }

    /// Gives each side so many panels, and parts these of them; with `moves`, what lies behind a part's last panel of a
    /// side moves along.
    fn grow(&mut self, per_side: u16, parts: &[(String, Vec<String>)], moves: bool) {
        let was = self.plan["paper"]["panels-per-side"]
            .as_integer()
            .expect("a number") as u16;
        let paper = self.plan["paper"].as_table_mut().expect("a table");
        paper.insert(
            "panels-per-side".to_string(),
            Value::from(i64::from(per_side)),
        );
        for (name, on) in parts {
            let last = self.last_panels(name);
            if moves {
                self.move_along(name, &last, per_side - was);
            }
            let list = self.plan.get_mut("part").and_then(Value::as_array_mut);
            for part in list.expect("parts") {
                if is_called(part.as_table().expect("a table"), name) {
                    part["on"] = Value::from(on.clone());
                }
            }
        }
    }

    /// The last panel of a part on each side that it has panels of.
    fn last_panels(&self, name: &str) -> Vec<PanelName> {
        let parts = self.list("part").into_iter();
        let own = parts.filter(|part| is_called(part, name));
        let on = own.flat_map(|part| part["on"].as_array().expect("a list"));
        let ends = on.map(|on| on.as_str().expect("panels").rsplit(" to ").next());
        ends.map(|end| end.and_then(|end| end.parse().ok()).expect("a panel"))
            .collect()
    }

    fn move_along(&mut self, but: &str, last: &[PanelName], by: u16) {
        let moved = |name: &str| -> String {
            let panel: PanelName = name.parse().expect("a panel");
            let behind = |end: &&PanelName| end.side == panel.side && panel.number > end.number;
            let number = panel.number
                + if last.iter().any(|end| behind(&end)) {
                    by
                } else {
                    0
                };
            PanelName { number, ..panel }.to_string()
        };
        let pins = self.plan.get_mut("panel").and_then(Value::as_array_mut);
        for pin in pins.into_iter().flatten() {
            pin["panel"] = Value::from(moved(pin["panel"].as_str().expect("a panel")));
        }
        let parts = self.plan.get_mut("part").and_then(Value::as_array_mut);
        for part in parts.into_iter().flatten() {
            if is_called(part.as_table().expect("a table"), but) {
                continue;
            }
            for on in part["on"].as_array_mut().expect("a list") {
                let ends = on.as_str().expect("panels").split(" to ").map(moved);
                *on = Value::from(ends.collect::<Vec<_>>().join(" to "));
            }
        }
    }

    fn list(&self, key: &str) -> Vec<&Table> {
        let list = self.plan.get(key).and_then(Value::as_array);
        let tables = list.into_iter().flatten().map(|one| one.as_table());
        tables.map(|one| one.expect("a table")).collect()
    }

    fn rules(&self, key: &str) -> Vec<String> {
        let rules = self.plan.get("rules").and_then(|rules| rules.get(key));
        let names = rules.and_then(Value::as_array).into_iter().flatten();
        names
            .map(|name| name.as_str().expect("a rule").to_string())
            .collect()
    }

    fn change(&mut self, key: &str, change: impl FnOnce(&mut Vec<String>)) {
        let mut names = self.rules(key);
        change(&mut names);
        let rules = self.plan.entry("rules").or_insert(Table::new().into());
        let rules = rules.as_table_mut().expect("a table");
        rules.insert(key.to_string(), Value::from(names));
    }

    fn drop(&mut self, list: &str, of: impl Fn(&Table) -> bool, key: &str) {
        let list = self.plan.get_mut(list).and_then(Value::as_array_mut);
        let tables = list.into_iter().flatten();
        let mut tables = tables.map(|one| one.as_table_mut().expect("a table"));
        let table = tables.find(|table| of(table)).expect("it is there");
        table
            .remove(key)
            .unwrap_or_else(|| panic!("no `{key}` there"));
    }

    fn leave_all(&mut self, name: &str) {
        let pictures = self.plan.entry("picture");
        let pictures = pictures.or_insert(Value::Array(Vec::new())).as_array_mut();
        let pictures = pictures.expect("a list");
        let mut tables = pictures.iter_mut().filter_map(Value::as_table_mut);
        let leaves = ("leaves".to_string(), Value::from("all"));
        match tables.find(|picture| is_called(picture, name)) {
            Some(picture) => picture.extend([leaves]),
            None => {
                let named = [("name".to_string(), Value::from(name)), leaves];
                pictures.push(Table::from_iter(named).into());
            }
        }
    }

    fn text(&mut self) -> &mut Table {
        let text = self.plan.entry("text").or_insert(Table::new().into());
        text.as_table_mut().expect("a table")
    }

    /// What is wrong with it; nothing where it can be divided.
    pub fn faults(&self, assets: &Assets) -> Vec<Fault> {
        let plan = Source::new("concertina.toml", self.plan.to_string());
        let words = Source::new("winter-bus.txt", self.words.as_str());
        let divided = Workbench::new(assets.clone()).divide_texts(&plan, &words);
        divided.err().into_iter().flatten().collect()
    }

    /// The names of the parts that cannot be divided; nothing where the files contradict each other. What would help
    /// is not asked, so that this is soon known.
    pub fn stuck(&self, assets: &Assets) -> Option<Vec<String>> {
        let plan = Source::new("concertina.toml", self.plan.to_string());
        let words = Source::new("winter-bus.txt", self.words.as_str());
        let mut bench = Workbench::new(assets.clone());
        let prepared = bench.prepare_texts(&plan, &words).ok()?;
        let musts = self.rules("must").iter().any(|rule| rule == "undivided");
        let soft: &[RuleName] = if musts { &[] } else { &[RuleName::Undivided] };
        let stuck = prepared.groups().into_iter().filter(|group| {
            let problems = prepared.problems_of(group);
            divide_together(&problems, soft, Limits::default())
                .0
                .is_none()
        });
        let names = stuck
            .flatten()
            .map(|at| prepared.set.parts[at].name.clone());
        Some(names.collect())
    }

    /// Both files, as a test that fails shows them.
    pub fn shown(&self) -> String {
        let mut shown = String::new();
        let _ = write!(shown, "{}\n----\n{}", self.plan, self.words);
        shown
    }
}

fn panel_of(pin: &Table) -> PanelName {
    let name = pin["panel"].as_str().expect("a panel");
    name.parse().expect("a panel")
}

fn is_called(table: &Table, name: &str) -> bool {
    table["name"].as_str() == Some(name)
}
