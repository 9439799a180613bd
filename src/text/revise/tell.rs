//! What the client changed, told line by line.

use super::matching::Matched;
use super::view::View;

/// What happened to a line of verse or a paragraph.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum ChangeKind {
    /// It reads otherwise.
    Changed,
    /// It is new.
    Added,
    /// It is gone.
    Cut,
    /// It stands elsewhere, word for word.
    Moved,
    /// There are more or fewer blank lines above it.
    Spaced,
}

/// Words as they stand, or what was there and what is there now.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Wording {
    /// Words that stayed.
    Same(String),
    /// Words that gave way to others; either may be empty.
    Other {
        /// What was there.
        was: String,
        /// What is there now.
        now: String,
    },
}

/// One change of the client's.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Change {
    /// What happened.
    pub kind: ChangeKind,
    /// The line of the new manuscript where it begins, or where it first differs; of what was cut, the line it stood after, 0 at the head.
    pub line: usize,
    /// The line of the old manuscript where it began, if it was there.
    pub was: Option<usize>,
    /// Whether it is a paragraph of prose.
    pub paragraph: bool,
    /// Its words; of what changed, with the differences.
    pub words: Vec<Wording>,
}

/// Every change, in the order of the new manuscript, which is `made`: it has the units and words of `new`.
pub(super) fn changes(
    (old, new, matched): (&View, &View, &Matched),
    unchanged: impl Fn(usize) -> bool,
    made: &View,
) -> Vec<Change> {
    let mut found = Vec::new();
    let old_line = |unit: usize| old.units[unit].lines[0] + 1;
    let last = |unit: usize| made.units.get(unit).and_then(|unit| unit.lines.last());
    let end = |unit: Option<usize>| unit.and_then(last).map_or(0, |line| line + 1);
    let mut cut: Vec<usize> = Vec::new();
    // What was cut is told behind what stood before it and is still in its place.
    let in_place = |unit: usize| matched.new_of[unit].filter(|&new| !matched.moved[new]);
    let mut behind: Vec<Vec<usize>> = vec![Vec::new(); new.units.len() + 1];
    let mut after = 0;
    for unit in 0..old.units.len() {
        match matched.new_of[unit] {
            None => behind[after].push(unit),
            Some(_) => after = in_place(unit).map_or(after, |new| new + 1),
        }
    }
    for (unit, own) in new.units.iter().enumerate() {
        cut.append(&mut behind[unit]);
        tell_cut(old, &mut cut, end(unit.checked_sub(1)), &mut found);
        let partner = matched.old_of[unit];
        let kind = match partner {
            None => ChangeKind::Added,
            Some(_) if !unchanged(unit) => ChangeKind::Changed,
            Some(_) if matched.moved[unit] => ChangeKind::Moved,
            Some(partner) => {
                let before = unit.checked_sub(1).and_then(|unit| matched.old_of[unit]);
                let follows = before.is_some_and(|before| before + 1 == partner);
                let (blanks, (most, all)) = (new.blanks(unit).0, old.blanks(partner));
                if !follows || blanks == most || blanks == all {
                    continue;
                }
                ChangeKind::Spaced
            }
        };
        let mut first = own.words.start;
        let words = match (kind, partner) {
            (ChangeKind::Changed, Some(partner)) => {
                let (words, differs) = differences(old, new, matched, partner, unit);
                first = differs.unwrap_or(first);
                words
            }
            _ => vec![Wording::Same(own.key.clone())],
        };
        let line = made.words.get(first).map_or(0, |word| word.line + 1);
        found.push(Change {
            kind,
            line,
            was: partner.map(old_line),
            paragraph: own.prose,
            words,
        });
    }
    cut.append(&mut behind[new.units.len()]);
    tell_cut(
        old,
        &mut cut,
        end(new.units.len().checked_sub(1)),
        &mut found,
    );
    found
}

fn tell_cut(old: &View, cut: &mut Vec<usize>, line: usize, found: &mut Vec<Change>) {
    found.extend(cut.drain(..).map(|unit| Change {
        kind: ChangeKind::Cut,
        line,
        was: Some(old.units[unit].lines[0] + 1),
        paragraph: old.units[unit].prose,
        words: vec![Wording::Same(old.units[unit].key.clone())],
    }));
}

/// The words of a unit with what they were, and the first new word that is another or stands where one was cut.
fn differences(
    old: &View,
    new: &View,
    matched: &Matched,
    from: usize,
    to: usize,
) -> (Vec<Wording>, Option<usize>) {
    let (was, now) = (&old.units[from].words, &new.units[to].words);
    let mut found: Vec<Wording> = Vec::new();
    let mut first = None;
    let mut at = was.start;
    let mut open = now.start;
    let text = |view: &View, words: std::ops::Range<usize>| joined(view, words);
    let mut same = now.start..now.start;
    let close = |same: &mut std::ops::Range<usize>, found: &mut Vec<Wording>| {
        if same.start < same.end {
            found.push(Wording::Same(text(new, same.clone())));
        }
    };
    for word in now.clone() {
        let partner = matched.to_old[word].filter(|old| was.contains(old) && *old >= at);
        let Some(partner) = partner else { continue };
        if open < word || at < partner {
            first.get_or_insert(open);
            close(&mut same, &mut found);
            found.push(Wording::Other {
                was: text(old, at..partner),
                now: text(new, open..word),
            });
            same = word..word;
        }
        same.end = word + 1;
        (at, open) = (partner + 1, word + 1);
    }
    close(&mut same, &mut found);
    if open < now.end || at < was.end {
        first.get_or_insert(open.min(now.end - 1));
        found.push(Wording::Other {
            was: text(old, at..was.end),
            now: text(new, open..now.end),
        });
    }
    (found, first)
}

/// Words with what stands between them.
fn joined(view: &View, words: std::ops::Range<usize>) -> String {
    let mut text = String::new();
    for word in words.clone() {
        let own = &view.words[word];
        let line = &view.lines[own.line];
        if word > words.start {
            let before = &view.words[word - 1];
            match before.line == own.line {
                true => text.push_str(&line.view[before.at.end..own.at.start]),
                false => text.push(' '),
            }
        }
        text.push_str(view.word(word));
    }
    text
}
