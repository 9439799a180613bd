//! What setting a book's lines has found, kept for the next time: after one changed word nearly all rows are as
//! they were.
//!
//! A row is known again by all that it is made of but where it stands in the manuscript; a part by all that its rows
//! are set by; a place by what the row's setting hangs on there. All of these are compared as they are: a hash only
//! tells where to look. What is kept is only what the last time used.

use std::collections::HashMap;
use std::hash::{Hash, Hasher};
use std::sync::Arc;

use rustc_hash::{FxHashMap, FxHasher};

use super::alike::WholePart;
use super::here::{Beside, LineContext, OfOthers};
use super::paragraph::Paragraph;
use super::part::Setter;
use super::shaped::{DropCap, SetWord};
use super::{Row, RowAt, Setting};
use crate::names::{Direction, Length};
use crate::plan::TextStyle;
use crate::text::{LineKind, Ruby};
use crate::typeface::{Base, FontStyle};

/// What has been found of a book's lines, by part.
#[derive(Default)]
pub struct Remembered {
    parts: HashMap<String, OfPart>,
    /// Parts as they were set the last time, each with what it was set by.
    whole: HashMap<String, (SetBy, WholePart)>,
}

impl Remembered {
    /// How many rows had to be set the last time, in place of being remembered as they were set before. Rows that are
    /// alike count as one; those on the slots of a shape are always set, and do not count.
    pub fn set_anew(&self) -> usize {
        let rows = self.parts.values().flat_map(|part| &part.rows);
        rows.filter(|row| row.set_anew).count()
    }
}

/// What has been found of the rows of one part.
struct OfPart {
    set_by: SetBy,
    rows: Vec<OfRow>,
}

/// What all rows of a part are set by.
#[derive(Clone, PartialEq)]
struct SetBy {
    style: TextStyle,
    language: String,
    reads: Direction,
    base: Base,
}

/// What has been found of all rows that are alike.
struct OfRow {
    content: RowContent,
    before: RowResults,
    now: RowResults,
    /// Whether this time has such a row.
    used: bool,
    /// Whether this time had to set it.
    set_anew: bool,
}

/// What was found of such a row in one run.
#[derive(Default)]
struct RowResults {
    whole: Option<Arc<[SetWord]>>,
    /// By how narrow its narrowest line is.
    paragraph: Option<(Length, Arc<Paragraph>)>,
    /// By where it is set.
    at: Vec<(At, RowAt)>,
}

/// What a row is made of: all but where it stands in the manuscript.
#[derive(PartialEq)]
struct RowContent {
    text: String,
    voices: Vec<(usize, FontStyle)>,
    drop: Option<DropCap>,
    rubies: Vec<Ruby>,
    caesura: Option<(usize, Length)>,
    kind: LineKind,
    indent: Length,
    first_indent: Length,
    stepped: bool,
}

/// What the setting of a row hangs on where it stands.
pub(super) struct At {
    setting: Setting,
    beside: Option<Beside>,
    /// What it asked of the part's other rows.
    others: OfOthers,
}

/// Which row of those that are known, by number.
#[derive(Clone, Copy)]
pub(super) struct RowNumber(usize);

/// What is known while a part is set: what was known before, and what this time uses of it and adds.
pub(super) struct Memory {
    set_by: SetBy,
    rows: Vec<OfRow>,
    /// The numbers of rows with the same hash.
    by_hash: FxHashMap<u64, Vec<usize>>,
}

impl SetBy {
    fn of(setter: &Setter<'_>) -> SetBy {
        SetBy {
            // Where the plan asks for a typeface is no matter of how it looks.
            style: setter.style.clone().without_places(),
            language: setter.language.to_string(),
            reads: setter.reads,
            base: setter.base,
        }
    }
}

impl RowContent {
    fn of(row: &Row) -> RowContent {
        let shaped = &row.shaped;
        RowContent {
            text: shaped.text.clone(),
            voices: shaped.voices.clone(),
            drop: shaped.drop.clone(),
            rubies: shaped.rubies.clone(),
            caesura: shaped.caesura,
            kind: row.kind.clone(),
            indent: row.indent,
            first_indent: row.first_indent,
            stepped: row.stepped,
        }
    }

    /// Whether a row is made of this.
    fn is_of(&self, row: &Row) -> bool {
        let shaped = &row.shaped;
        let words = (&shaped.text, &shaped.voices, &shaped.drop, &shaped.rubies);
        let stands = (&row.kind, row.indent, row.first_indent, row.stepped);
        words == (&self.text, &self.voices, &self.drop, &self.rubies)
            && shaped.caesura == self.caesura
            && stands == (&self.kind, self.indent, self.first_indent, self.stepped)
    }
}

/// Where to look for rows with this text and indent.
fn hash(text: &str, indent: Length) -> u64 {
    let mut hasher = FxHasher::default();
    (text, indent).hash(&mut hasher);
    hasher.finish()
}

impl At {
    pub fn of(here: &LineContext<'_>) -> At {
        At {
            setting: here.column.line(0),
            beside: here.beside,
            others: here.others.asked(),
        }
    }

    /// Whether a row that was set there would be set alike here.
    fn is(&self, here: &LineContext<'_>) -> bool {
        (self.setting, self.beside) == (here.column.line(0), here.beside)
            && self.others.hold(here.others)
    }
}

impl Remembered {
    /// What is known of a part that is set by the same as before.
    pub(super) fn part(&mut self, name: &str, setter: &Setter<'_>) -> Memory {
        let set_by = SetBy::of(setter);
        let known = self.parts.remove(name);
        let known = known.filter(|known| known.set_by == set_by);
        let mut memory = Memory {
            set_by,
            rows: Vec::new(),
            by_hash: FxHashMap::default(),
        };
        for row in known.into_iter().flat_map(|known| known.rows) {
            memory.add(OfRow {
                before: row.now,
                now: RowResults::default(),
                used: false,
                set_anew: false,
                content: row.content,
            });
        }
        memory
    }

    /// A part as it was set the last time, if it would be set alike now, but for its columns.
    pub(super) fn whole(&self, name: &str, setter: &Setter<'_>, index: usize) -> Option<WholePart> {
        let (set_by, whole) = self.whole.get(name)?;
        let alike = whole.is_of(setter, index) && *set_by == SetBy::of(setter);
        alike.then(|| whole.clone())
    }

    /// Notes that a part was handed out as it was.
    pub(super) fn reused(&mut self, name: &str) {
        let known = self.parts.get_mut(name);
        let rows = known.into_iter().flat_map(|known| &mut known.rows);
        rows.for_each(|row| row.set_anew = false);
    }

    /// As much of it as hands out parts that would be set alike in all: it shares them, and takes no room of its own.
    pub(crate) fn of_whole_parts(&self) -> Remembered {
        Remembered {
            whole: self.whole.clone(),
            ..Remembered::default()
        }
    }

    /// Hands out, from now on, the whole parts of another in place of its own.
    pub(crate) fn take_whole_parts(&mut self, of: &Remembered) {
        self.whole.clone_from(&of.whole);
    }

    /// Keeps what was used of a part, and the whole of it where that may be handed out again.
    pub(super) fn keep(&mut self, name: &str, memory: Memory, whole: Option<WholePart>) {
        let rows = memory.rows.into_iter().filter(|row| row.used);
        match whole {
            Some(whole) => self
                .whole
                .insert(name.to_string(), (memory.set_by.clone(), whole)),
            None => self.whole.remove(name),
        };
        let kept = OfPart {
            set_by: memory.set_by,
            rows: rows
                .map(|row| OfRow {
                    before: RowResults::default(),
                    ..row
                })
                .collect(),
        };
        self.parts.insert(name.to_string(), kept);
    }
}

impl Memory {
    fn add(&mut self, row: OfRow) -> usize {
        let number = self.rows.len();
        let hash = hash(&row.content.text, row.content.indent);
        self.by_hash.entry(hash).or_default().push(number);
        self.rows.push(row);
        number
    }

    /// Which of the known rows a row is like; from now on there is one.
    pub fn number_of(&mut self, row: &Row) -> RowNumber {
        let alike = self.by_hash.get(&hash(&row.shaped.text, row.indent));
        let mut alike = alike.into_iter().flatten();
        let found = alike.find(|&&number| self.rows[number].content.is_of(row));
        let number = match found {
            Some(&number) => number,
            None => self.add(OfRow {
                content: RowContent::of(row),
                before: RowResults::default(),
                now: RowResults::default(),
                used: true,
                set_anew: false,
            }),
        };
        self.rows[number].used = true;
        RowNumber(number)
    }

    /// Hands a row the shaped words that are known of it; false where none are.
    pub fn recall(&mut self, number: RowNumber, row: &Row) -> bool {
        let found = &mut self.rows[number.0];
        let Some(whole) = found.before.whole.clone() else {
            return false;
        };
        found.now.whole = Some(Arc::clone(&whole));
        row.shaped.whole.set(whole).is_ok()
    }

    /// Keeps the shaped words of a row.
    pub fn keep(&mut self, number: RowNumber, row: &Row) {
        if let Some(whole) = row.shaped.whole.get() {
            self.rows[number.0].now.whole = Some(Arc::clone(whole));
        }
    }

    /// A paragraph that is known as measured for lines as narrow as that.
    pub fn measured(&self, number: RowNumber, narrowest: Length) -> Option<Arc<Paragraph>> {
        let row = &self.rows[number.0];
        let measured = |found: &RowResults| {
            let (room, paragraph) = found.paragraph.as_ref()?;
            (*room == narrowest).then(|| Arc::clone(paragraph))
        };
        measured(&row.now).or_else(|| measured(&row.before))
    }

    /// Keeps a paragraph measured for lines as narrow as that.
    pub fn keep_measured(
        &mut self,
        number: RowNumber,
        narrowest: Length,
        paragraph: &Arc<Paragraph>,
    ) {
        self.rows[number.0].now.paragraph = Some((narrowest, Arc::clone(paragraph)));
    }

    /// Whether a row is remembered as it stands in the plain column that `here` says.
    pub fn knows(&self, number: RowNumber, here: &LineContext<'_>) -> bool {
        let remembered = &self.rows[number.0];
        let known = remembered.before.at.iter().chain(&remembered.now.at);
        known.into_iter().any(|(at, _)| at.is(here))
    }

    /// A row in the plain column that `here` says.
    pub fn row_at(
        &mut self,
        number: RowNumber,
        here: &LineContext<'_>,
        set: impl FnOnce() -> (RowAt, At),
    ) -> RowAt {
        let remembered = &mut self.rows[number.0];
        let is_here = |(at, _): &(At, RowAt)| at.is(here);
        if let Some((_, found)) = remembered.now.at.iter().find(|one| is_here(one)) {
            return found.clone();
        }
        let found = match remembered.before.at.iter().position(is_here) {
            Some(at) => remembered.before.at.swap_remove(at),
            None => {
                remembered.set_anew = true;
                let (found, at) = set();
                (at, found)
            }
        };
        remembered.now.at.push(found);
        remembered.now.at[remembered.now.at.len() - 1].1.clone()
    }
}
