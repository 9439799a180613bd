//! What setting a book's lines has found, kept for the next time: after one changed word nearly all rows are as
//! they were.
//!
//! A row is known again by a fingerprint of all that it is made of but where it stands in the manuscript; a part by
//! one of all that its rows are set by. What is kept is only what the last time used.

use std::collections::HashMap;
use std::hash::{DefaultHasher, Hash, Hasher};
use std::sync::Arc;

use rustc_hash::FxHashMap;

use super::here::LineContext;
use super::paragraph::Paragraph;
use super::part::Setter;
use super::shaped::SetWord;
use super::{Row, RowAt};
use crate::names::Length;

/// What has been found of a book's lines, by part.
#[derive(Default)]
pub struct Remembered {
    parts: HashMap<String, OfPart>,
}

/// What has been found of the rows of one part.
#[derive(Default)]
pub(super) struct OfPart {
    print: u64,
    rows: FxHashMap<u64, OfRow>,
}

/// What has been found of all rows that are alike.
#[derive(Clone, Default)]
struct OfRow {
    whole: Option<Arc<[SetWord]>>,
    /// By how narrow its narrowest line is.
    paragraph: Option<(Length, Arc<Paragraph>)>,
    /// By where it is set.
    at: Vec<(u64, RowAt)>,
}

/// What is known while a part is set: what was known before, and what this time uses of it and adds.
pub(super) struct Memory {
    print: u64,
    before: FxHashMap<u64, OfRow>,
    now: FxHashMap<u64, OfRow>,
}

fn print(what: impl Hash) -> u64 {
    let mut hasher = DefaultHasher::new();
    what.hash(&mut hasher);
    hasher.finish()
}

impl Remembered {
    /// What is known of a part that is set by the same as before.
    pub(super) fn part(&mut self, name: &str, setter: &Setter<'_>) -> Memory {
        let leading = setter.areas.leading();
        let (style, language) = (setter.style, setter.language);
        let set_by = format!(
            "{style:?} {language} {:?} {:?} {leading:?}",
            setter.reads, setter.base
        );
        let print = print(set_by);
        let known = self.parts.remove(name).filter(|known| known.print == print);
        Memory {
            print,
            before: known.map(|known| known.rows).unwrap_or_default(),
            now: FxHashMap::default(),
        }
    }

    /// Keeps what was used of a part.
    pub(super) fn keep(&mut self, name: &str, memory: Memory) {
        let kept = OfPart {
            print: memory.print,
            rows: memory.now,
        };
        self.parts.insert(name.to_string(), kept);
    }
}

/// The fingerprint of a row.
pub(super) fn of_row(row: &Row) -> u64 {
    let shaped = &row.shaped;
    let made_of = (&shaped.text, &shaped.words, &shaped.drop, &shaped.rubies);
    let kind = format!("{:?}", row.kind);
    print((made_of, kind, row.indent, row.first_indent, row.stepped))
}

impl Memory {
    /// Hands rows the shaped words that are known of them; those of which none are.
    pub fn recall<'a>(&mut self, prints: &[u64], rows: &'a [Row]) -> Vec<&'a Row> {
        let mut recall = |print: u64, row: &Row| {
            let known = self.before.get(&print);
            let Some(whole) = known.and_then(|known| known.whole.clone()) else {
                return false;
            };
            self.now.entry(print).or_default().whole = Some(Arc::clone(&whole));
            row.shaped.whole.set(whole).is_ok()
        };
        let rows = rows.iter().zip(prints);
        let new = rows.filter(|(row, print)| !recall(**print, row));
        new.map(|(row, _)| row).collect()
    }

    /// Keeps the shaped words of rows.
    pub fn keep(&mut self, prints: &[u64], rows: &[Row]) {
        for (row, &print) in rows.iter().zip(prints) {
            if let Some(whole) = row.shaped.whole.get() {
                self.now.entry(print).or_default().whole = Some(Arc::clone(whole));
            }
        }
    }

    /// A paragraph measured for lines as narrow as that.
    pub fn paragraph(
        &mut self,
        print: u64,
        narrowest: Length,
        measure: impl FnOnce() -> Paragraph,
    ) -> Arc<Paragraph> {
        let known = |of: &FxHashMap<u64, OfRow>| {
            let known = of.get(&print)?.paragraph.as_ref()?;
            (known.0 == narrowest).then(|| Arc::clone(&known.1))
        };
        let found = known(&self.now).or_else(|| known(&self.before));
        let found = found.unwrap_or_else(|| Arc::new(measure()));
        self.now.entry(print).or_default().paragraph = Some((narrowest, Arc::clone(&found)));
        found
    }

    /// A row in the plain column that `here` says.
    pub fn row_at(
        &mut self,
        print_of_row: u64,
        here: &LineContext<'_>,
        set: impl FnOnce() -> RowAt,
    ) -> RowAt {
        let setting = here.column.line(0);
        let usual = here.usual.within(setting.measure);
        let place = print((setting, here.deepest, usual, here.beside));
        let known = |of: &FxHashMap<u64, OfRow>| {
            let known = of.get(&print_of_row)?.at.iter();
            known
                .clone()
                .find(|(at, _)| *at == place)
                .map(|(_, row)| row.clone())
        };
        if let Some(found) = known(&self.now) {
            return found;
        }
        let found = known(&self.before).unwrap_or_else(set);
        let rows = self.now.entry(print_of_row).or_default();
        rows.at.push((place, found.clone()));
        found
    }
}
