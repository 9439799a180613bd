//! `[rules]` as the author wrote it. Which keys there are, what they take and what holds unless said is for the rules
//! to declare ([`Asks`]): here each form of value is read and described once.

use std::collections::{BTreeMap, BTreeSet};

use serde_json::{Map, Value as Json, json};
use toml::de::DeTable;

use super::home_of;
use super::numbers::Importances;
use crate::names::{Fault, Location, nearest};
use crate::plan::{Percent, RuleName, Rules};
use crate::reading::{
    At, Entries, InSample, Key, Name, Node, Reader, Switch, Table, Value, braced, described,
    read_table, read_whole, read_word, table_schema, tables, tell_unknown,
};
use crate::rules::{Asks, Counted, Entry, Form, Shown, Visitor, Word};

/// The balance between words and pictures.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct RulesWritten {
    /// What is asked of the rules; what is not soundly written is as unless said.
    pub asked: Rules,
    /// Where the plan asks something of a rule: its value; and each value of a table, as `blanks.count`.
    pub places: BTreeMap<String, Location>,
    /// Rules of which something is written that could not be read, in part or in whole.
    pub unsound: BTreeSet<RuleName>,
    /// The pictures that rules name.
    pub pictures: BTreeMap<RuleName, At<Vec<At<Name>>>>,
    /// Rules that must hold, rules that may give way, and how much each weighs.
    pub weights: WeightsWritten,
}

tables! {
    homes home_of;

    /// How rules weigh.
    WeightsWritten "[rules]" {
        /// Rules that must hold.
        optional must: Vec<At<RuleName>> = Vec::new(), note "rules that may never be broken";
        /// Rules that may give way.
        optional may_give: Vec<At<RuleName>> = Vec::new(), note "rules that may give way";
        /// How much a rule weighs: 1 unless said, 0 switches it off.
        optional importance: Importances, shown "{}", note "such as { text-fullness = 3 }";
    }
}

impl RulesWritten {
    /// The keys of the rules, group by group.
    pub fn keys_of_rules() -> Vec<Key> {
        struct Keys(Vec<(RuleName, Key)>);
        impl Visitor for Keys {
            fn visit<R: Asks>(&mut self, name: RuleName, _asked: &mut R::Asked) {
                let key = Key {
                    field: R::ABOUT.name,
                    about: R::ABOUT.words,
                    required: false,
                    default: default_of::<R>,
                    sample: sample_of::<R>,
                    schema: OfRule::<R>::schema,
                };
                self.0.push((name, key));
            }
        }
        let mut keys = Keys(Vec::new());
        Rules::default().visit(&mut keys);
        keys.0.sort_by_key(|(name, _)| (name.about().group, *name));
        keys.0.into_iter().map(|(_, key)| key).collect()
    }
}

impl Table for RulesWritten {
    const NAME: &'static str = WeightsWritten::NAME;
    const ABOUT: &'static str = "The balance between words and pictures.";

    fn keys() -> Vec<Key> {
        let mut keys = RulesWritten::keys_of_rules();
        keys.extend(WeightsWritten::keys());
        keys
    }

    fn home_of(name: &str) -> Option<&'static str> {
        home_of(name)
    }

    fn from_entries(entries: Entries<'_>, reader: &mut Reader) -> Self {
        let mut written = RulesWritten::default();
        let mut asked = Rules::default();
        asked.visit(&mut Filling {
            entries,
            reader,
            written: &mut written,
        });
        written.asked = asked;
        written.weights = WeightsWritten::from_entries(entries, reader);
        written
    }
}

impl Value for RulesWritten {
    const HEADED: bool = true;

    fn read(node: Node<'_>, reader: &mut Reader) -> Option<Self> {
        read_table(node, reader)
    }

    fn schema() -> Json {
        table_schema::<Self>()
    }
}

/// What holds unless said, as an author would write it; nothing of a table, whose keys have their defaults each.
fn default_of<R: Asks>() -> Option<String> {
    match R::FORM {
        Form::Table(..) => None,
        form => form.written(&R::UNLESS_SAID),
    }
}

fn sample_of<R: Asks>() -> Option<InSample> {
    let (asked, note, off) = match R::SHOWN {
        Shown::Usual(note) => (R::UNLESS_SAID, note, false),
        Shown::Example(asked, note) => (asked, note, true),
    };
    let value = R::FORM.written(&asked)?;
    Some(InSample { value, note, off })
}

/// Reads the rules of a table one by one.
struct Filling<'a, 'b> {
    entries: Entries<'a>,
    reader: &'b mut Reader,
    written: &'b mut RulesWritten,
}

impl Visitor for Filling<'_, '_> {
    fn visit<R: Asks>(&mut self, name: RuleName, asked: &mut R::Asked) {
        let Some(node) = self.entries.node(name.word()) else {
            return;
        };
        if matches!(R::FORM, Form::Pictures) {
            match self.reader.read(node) {
                Some(pictures) => drop(self.written.pictures.insert(name, pictures)),
                None => drop(self.written.unsound.insert(name)),
            }
            return;
        }
        match self.reader.read::<OfRule<R>>(node) {
            Some(At { value, place }) => {
                *asked = value.asked;
                let key = name.word().to_string();
                for (entry, place) in value.places {
                    self.written.places.insert(format!("{key}.{entry}"), place);
                }
                self.written.places.insert(key, place);
                if !value.sound {
                    self.written.unsound.insert(name);
                }
            }
            None => drop(self.written.unsound.insert(name)),
        }
    }
}

/// What is asked of a rule, in `[rules]` or where a picture has its own.
#[derive(Clone, Debug, PartialEq)]
pub struct OfRule<R: Asks> {
    /// What is asked; what is not soundly written is as unless said.
    pub asked: R::Asked,
    /// Where each value of a table stands.
    pub places: Vec<(&'static str, Location)>,
    /// Whether every value could be read.
    pub sound: bool,
}

impl<R: Asks> Value for OfRule<R> {
    fn read(node: Node<'_>, reader: &mut Reader) -> Option<Self> {
        let mut of_rule = OfRule {
            asked: R::UNLESS_SAID,
            places: Vec::new(),
            sound: true,
        };
        let table = match R::FORM {
            Form::Table(empty, entries) => Some((empty, entries)),
            Form::WordsOrTable(_, empty, entries) if node.value().as_table().is_some() => {
                Some((empty, entries))
            }
            _ => None,
        };
        let Some((empty, entries)) = table else {
            read_form(&R::FORM, node, reader, &mut of_rule.asked)?;
            return Some(of_rule);
        };
        let keys: Vec<String> = entries.iter().map(|entry| entry.key.to_string()).collect();
        let table: &DeTable<'_> = braced(node, &keys, reader)?;
        tell_unknown(
            table,
            &format!("`{}`", R::ABOUT.name),
            &keys,
            home_of,
            reader,
        );
        of_rule.asked = empty();
        for Entry { key, form, .. } in entries {
            let Some(node) = Entries::new(table)
                .node(key)
                .filter(|node| !node.span().is_empty())
            else {
                continue;
            };
            match read_form(form, node, reader, &mut of_rule.asked) {
                Some(()) => of_rule.places.push((key, reader.place(node.span()))),
                None => of_rule.sound = false,
            }
        }
        Some(of_rule)
    }

    fn schema() -> Json {
        schema_of(&R::FORM)
    }
}

/// Reads a value that is no table.
fn read_form<T>(form: &Form<T>, node: Node<'_>, reader: &mut Reader, asked: &mut T) -> Option<()> {
    match form {
        Form::Share(piece) => (piece.set)(asked, Percent::read(node, reader)?),
        Form::Whole(least, most, piece) => {
            (piece.set)(asked, read_whole(node, reader, *least..=*most)?);
        }
        Form::Switch(piece) => (piece.set)(asked, Switch::read(node, reader)?.0),
        Form::Words(words) => read_word(node, reader, words, |_| None)?(asked),
        Form::WordsOrTable(words, _, entries) => {
            if node.text().is_none() {
                let keys: Vec<&str> = entries.iter().map(|entry| entry.key).collect();
                let kind = format!(
                    "a word in quotation marks, such as \"{}\", or a table in curly brackets, with {}",
                    words[0].0,
                    keys.join(", ")
                );
                return reader.wrong_type(node, &kind);
            }
            read_word(node, reader, words, |_| None)?(asked);
        }
        Form::WordsOrCounts(words, counted) => {
            let Some(text) = node.text() else {
                let counts = COUNTS;
                let example = node.whole().filter(|n| counts.contains(n)).unwrap_or(4);
                let many: Vec<&str> = counted.iter().map(|of| of.many).collect();
                let kind = format!(
                    "a word, or {} in quotation marks, such as \"{example} {}\"",
                    many.join(" or "),
                    many[0]
                );
                return reader.wrong_type(node, &kind);
            };
            match word(words, text) {
                Some(set) => set(asked),
                None => {
                    let (of, count) = read_count(text, words, counted, node, reader)?;
                    (of.piece.set)(asked, Some(count));
                }
            }
        }
        // These are read by whoever keeps their places.
        Form::Pictures | Form::Table(..) => {}
    }
    Some(())
}

/// How many of something may be asked for.
const COUNTS: std::ops::RangeInclusive<i64> = 1..=99;

fn word<T>(words: &[Word<T>], text: &str) -> Option<fn(&mut T)> {
    let found = words.iter().find(|(word, _)| *word == text);
    found.map(|(_, set)| *set)
}

/// Reads `4 lines`, where a word might stand too: what is counted, and how many.
fn read_count<'a, T>(
    text: &str,
    words: &[Word<T>],
    counted: &'a [Counted<T>],
    node: Node<'_>,
    reader: &mut Reader,
) -> Option<(&'a Counted<T>, u32)> {
    let mut of_each = counted.iter().filter_map(|of| {
        let before = text.strip_suffix(of.many);
        let number = before.or_else(|| text.strip_suffix(of.one))?;
        let number = number.strip_suffix(' ')?;
        let figures = !number.is_empty() && number.bytes().all(|b| b.is_ascii_digit());
        // More figures than two are more than may be asked for, whatever they say.
        let count = if number.len() > 2 {
            Some(u32::MAX)
        } else {
            number.parse().ok()
        };
        Some((of, count.filter(|_| figures)?))
    });
    match of_each.next() {
        Some((of, count)) if COUNTS.contains(&i64::from(count)) => Some((of, count)),
        Some((of, _)) => {
            let what = format!("{} must be from 1 to 99 {}", node.name(), of.many);
            reader.refuse(node, Fault::new("out-of-range", what))
        }
        None => {
            let words: Vec<&str> = words.iter().map(|(word, _)| *word).collect();
            let what = format!("`{text}` is no word for `{}`", node.key);
            let examples: Vec<String> = counted
                .iter()
                .map(|of| format!("\"4 {}\"", of.many))
                .collect();
            let allowed = format!(
                "{}, or a number such as {}",
                words.join(", "),
                examples.join(" or ")
            );
            let meant = nearest(text, words);
            let fault = Fault::new("wrong-word", what).allowed(allowed).meant(meant);
            reader.refuse(node, fault)
        }
    }
}

/// A form of value as a JSON Schema.
fn schema_of<T: Clone + PartialEq>(form: &Form<T>) -> Json {
    let names = |words: &[Word<T>]| -> Vec<&str> { words.iter().map(|(word, _)| *word).collect() };
    match form {
        Form::Share(_) => Percent::schema(),
        Form::Whole(least, most, _) => {
            json!({ "type": "integer", "minimum": least, "maximum": most })
        }
        Form::Switch(_) => Switch::schema(),
        Form::Words(words) => json!({ "enum": names(words) }),
        Form::WordsOrCounts(words, counted) => {
            let words = names(words).join("|");
            let of: Vec<&str> = counted.iter().flat_map(|of| [of.one, of.many]).collect();
            let pattern = format!("^({words}|(0?[1-9]|[1-9][0-9]) ({}))$", of.join("|"));
            json!({ "type": "string", "pattern": pattern })
        }
        Form::Pictures => Vec::<At<Name>>::schema(),
        Form::Table(empty, entries) => schema_of_table(empty(), entries),
        Form::WordsOrTable(words, empty, entries) => {
            json!({ "anyOf": [{ "enum": names(words) }, schema_of_table(empty(), entries)] })
        }
    }
}

/// A table with what is asked where it is empty.
fn schema_of_table<T: Clone + PartialEq>(empty: T, entries: &[Entry<T>]) -> Json {
    let entry = |entry: &Entry<T>| {
        let default = entry.form.written(&empty);
        let schema = described(schema_of(&entry.form), entry.words, default);
        (entry.key.to_string(), schema)
    };
    let properties: Map<String, Json> = entries.iter().map(entry).collect();
    json!({ "type": "object", "properties": properties, "additionalProperties": false })
}
