//! Every rule is told wherever rules are told: to editors, in a new plan, in the read-me, and where it is given up.

use std::collections::BTreeSet;
use std::path::Path;

use versefold::book::plan_file::sample::{self, Answers};
use versefold::book::plan_file::schema;
use versefold::names::{Length, SetAs};
use versefold::plan::{RuleName, Rules};
use versefold::rules::{Asks, Visitor};

use super::support;

/// The rules that have a key.
#[derive(Default)]
struct Keys(BTreeSet<RuleName>);

impl Visitor for Keys {
    fn visit<R: Asks>(&mut self, name: RuleName, _asked: &mut R::Asked) {
        assert_eq!(R::ABOUT, *name.about());
        assert!(self.0.insert(name), "{name:?} has two keys");
    }
}

fn keys() -> BTreeSet<RuleName> {
    let mut keys = Keys::default();
    Rules::default().visit(&mut keys);
    keys.0
}

/// All rules, group by group.
fn all() -> Vec<RuleName> {
    let mut all = RuleName::ALL.map(|(name, ..)| name).to_vec();
    all.sort_by_key(|name| (name.about().group, *name));
    all
}

#[test]
fn every_rule_has_a_name_and_words_of_its_own() {
    let words: BTreeSet<&str> = all().iter().map(|name| name.about().words).collect();
    let names: BTreeSet<&str> = all().iter().map(|name| name.word()).collect();
    assert_eq!((words.len(), names.len()), (all().len(), all().len()));
    let rules = Rules::default();
    for name in all() {
        let (word, about) = (name.word(), name.about());
        let plain = |c: char| c.is_ascii_lowercase() || c == '-';
        assert!(word.chars().all(plain), "{word}");
        let begins = about.words.chars().next();
        assert!(
            begins.is_some_and(char::is_uppercase) && about.words.ends_with('.'),
            "{word}"
        );
        assert!(!name.rule().in_words(&rules).is_empty(), "{word}");
        match name.rule().given_up(&rules) {
            Some(clause) => assert!(clause.from > 0 && !clause.one.is_empty(), "{word}"),
            // These are told in figures: how full a panel is, and what was asked.
            None => assert!(word.ends_with("-fullness"), "{word} has no clause"),
        }
    }
}

#[test]
fn editors_and_new_plans_know_every_rule_that_has_a_key() {
    let schema = schema::schema();
    let schema = &schema["properties"]["rules"]["properties"];
    let plan = sample::plan(
        &Answers {
            title: "The Winter Bus".to_string(),
            language: "en-GB".to_string(),
            panel: (Length::mm(105), Length::mm(148)),
            panels: 8,
            both_sides: true,
            set_as: SetAs::Verse,
            pictures: 0,
            families: Vec::new(),
            leading: None,
        },
        "winter-bus.txt",
    );
    let keys = keys();
    assert!(keys.len() > 15, "{keys:?}");
    for name in all() {
        let (word, usual) = (name.word(), name.unless_said());
        assert!(
            !schema["importance"]["properties"][word].is_null(),
            "{word}"
        );
        let key = &schema[word];
        assert_eq!(key.is_null(), !keys.contains(&name), "{word}");
        if key.is_null() {
            assert_eq!(usual, None);
            continue;
        }
        assert_eq!(key["description"], name.about().words);
        // A table's keys have their defaults each.
        let default = usual
            .as_ref()
            .and_then(|usual| serde_json::from_str(usual).ok());
        assert_eq!(key.get("default"), default.as_ref(), "{word}");
        let shown = match &usual {
            Some(usual) => format!("\n# {word} = {usual}"),
            None => format!("\n#   {word} = "),
        };
        assert!(plan.contains(&shown), "{shown} in {plan}");
    }
}

/// The table of all rules in the read-me. `UPDATE=1` writes it anew.
#[test]
fn the_read_me_has_every_rule() {
    let mut table = "| rule | what it is for | unless you say | must be kept |\n".to_string();
    table += "| --- | --- | --- | --- |\n";
    let keys = keys();
    for name in all() {
        let usual = match name.unless_said() {
            Some(usual) => format!("`{usual}`"),
            None if keys.contains(&name) => "off".to_string(),
            None => String::new(),
        };
        let kept = if name.hard_by_default() { "yes" } else { "" };
        let (word, words) = (name.word(), name.about().words);
        table += &format!("| `{word}` | {words} | {usual} | {kept} |\n");
    }
    let path = Path::new(env!("CARGO_MANIFEST_DIR")).join("README.md");
    let page = std::fs::read_to_string(&path).expect("the read-me");
    let (above, rest) = page
        .split_once("<!-- rules -->\n")
        .expect("where rules begin");
    let (_, below) = rest
        .split_once("<!-- end of rules -->")
        .expect("where they end");
    let page = format!("{above}<!-- rules -->\n{table}<!-- end of rules -->{below}");
    let stale = support::golden::differs(&path, &page);
    assert_eq!(stale, None, "{}", stale.clone().unwrap_or_default());
}
