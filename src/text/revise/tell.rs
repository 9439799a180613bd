//! What the client changed, told line by line.

use super::matching::Matching;
use super::view::ClientView;

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
    /// The line of the new manuscript, from 1, where it begins, or where it first differs. For what was cut, the line that it
    /// stood after; 0 at the head.
    pub line: usize,
    /// The line of the old manuscript, from 1, where it began, if it was there.
    pub was: Option<usize>,
    /// Whether it is a paragraph of prose.
    pub paragraph: bool,
    /// Its words, with the differences where it reads otherwise.
    pub words: Vec<Wording>,
}

/// Every change, in the order of the new manuscript. `made` is that manuscript: it has the units and words of `new`.
pub(super) fn changes(
    (old, new, matched): (&ClientView, &ClientView, &Matching),
    unchanged: impl Fn(usize) -> bool,
    made: &ClientView,
) -> Vec<Change> {
    let mut found = Vec::new();
    let mut behind = cut_behind(old, new, matched);
    let cut_at_head = behind.remove(0);
    found.extend(cut_at_head.into_iter().map(|gone| cut(old, gone, 0)));
    for (unit, gone) in behind.into_iter().enumerate() {
        if let Some(kind) = kind_of_change((old, new, matched), unit, unchanged(unit)) {
            found.push(change((old, new, matched), made, unit, kind));
        }
        let last = made.units.get(unit).and_then(|unit| unit.lines.last());
        let line = last.map_or(0, |line| line + 1);
        found.extend(gone.into_iter().map(|gone| cut(old, gone, line)));
    }
    found
}

/// The old units that are gone, behind what stood before them and is still in its place: first those at the head, then
/// those behind each new unit.
fn cut_behind(old: &ClientView, new: &ClientView, matched: &Matching) -> Vec<Vec<usize>> {
    let in_place = |unit: usize| matched.new_of[unit].filter(|&new| !matched.moved[new]);
    let mut behind: Vec<Vec<usize>> = vec![Vec::new(); new.units.len() + 1];
    let mut after = 0;
    for unit in 0..old.units.len() {
        match matched.new_of[unit] {
            None => behind[after].push(unit),
            Some(_) => after = in_place(unit).map_or(after, |new| new + 1),
        }
    }
    behind
}

/// An old unit that is gone; `line` is the line of the new manuscript that it stood after.
fn cut(old: &ClientView, unit: usize, line: usize) -> Change {
    let unit = &old.units[unit];
    Change {
        kind: ChangeKind::Cut,
        line,
        was: Some(unit.lines[0] + 1),
        paragraph: unit.prose,
        words: vec![Wording::Same(unit.key.clone())],
    }
}

/// What happened to a new unit, if anything did.
fn kind_of_change(
    (old, new, matched): (&ClientView, &ClientView, &Matching),
    unit: usize,
    unchanged: bool,
) -> Option<ChangeKind> {
    let Some(partner) = matched.old_of[unit] else {
        return Some(ChangeKind::Added);
    };
    if !unchanged {
        return Some(ChangeKind::Changed);
    }
    if matched.moved[unit] {
        return Some(ChangeKind::Moved);
    }
    let before = unit.checked_sub(1).and_then(|unit| matched.old_of[unit]);
    let follows = before.is_some_and(|before| before + 1 == partner);
    let (blanks, (most, all)) = (new.blanks(unit).0, old.blanks(partner));
    (follows && blanks != most && blanks != all).then_some(ChangeKind::Spaced)
}

/// The change of a new unit, with its words and where it stands in the new manuscript.
fn change(
    (old, new, matched): (&ClientView, &ClientView, &Matching),
    made: &ClientView,
    unit: usize,
    kind: ChangeKind,
) -> Change {
    let own = &new.units[unit];
    let partner = matched.old_of[unit];
    let (words, differs) = match (kind, partner) {
        (ChangeKind::Changed, Some(partner)) => differences(old, new, matched, partner, unit),
        _ => (vec![Wording::Same(own.key.clone())], None),
    };
    let first = made.words.get(differs.unwrap_or(own.words.start));
    Change {
        kind,
        line: first.map_or(0, |word| word.line + 1),
        was: partner.map(|partner| old.units[partner].lines[0] + 1),
        paragraph: own.prose,
        words,
    }
}

/// The words of a unit with what they were, and the first new word that is another or stands where one was cut.
fn differences(
    old: &ClientView,
    new: &ClientView,
    matched: &Matching,
    from: usize,
    to: usize,
) -> (Vec<Wording>, Option<usize>) {
    let (was, now) = (&old.units[from].words, &new.units[to].words);
    let mut found: Vec<Wording> = Vec::new();
    let mut first = None;
    let mut at = was.start;
    let mut open = now.start;
    let text = |view: &ClientView, words: std::ops::Range<usize>| joined(view, words);
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

/// Words of a text with what stands between them; a space for a line end.
fn joined(view: &ClientView, words: std::ops::Range<usize>) -> String {
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
