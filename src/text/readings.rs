//! Readings: in a part whose language is Japanese, `漢字《かんじ》` sets the reading above its base.
//!
//! The base is the ideographs right before the bracket, or other letters of one script. `｜` before a base shows
//! where it begins: `歌の｜峠の灯《とうげのひ》`. Both signs are those that plain texts in Japanese are commonly annotated
//! with. A backslash makes them plain.

use std::ops::Range;

use icu_properties::CodePointMapData;
use icu_properties::props::Script;

use super::Ruby;

/// What is found in one physical line.
#[derive(Debug, Default)]
pub(super) struct FoundReadings {
    pub rubies: Vec<Ruby>,
    /// The signs that are mark-up.
    pub markup: Vec<Range<usize>>,
    /// Brackets that enclose no reading, and why.
    pub wrong: Vec<(Range<usize>, WrongBracket)>,
}

/// Why a bracket encloses no reading.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum WrongBracket {
    /// It is not closed on its line.
    Open,
    /// There is nothing in it, or more than one word.
    NoWord,
    /// Nothing stands before it that it could be the reading of.
    NoBase,
}

/// Whether words in a language, by its BCP 47 tag, have readings written like this.
pub fn has_readings(language: &str) -> bool {
    let main = language.split('-').next().unwrap_or_default();
    main.eq_ignore_ascii_case("ja")
}

/// Whether a sign is one that a backslash makes plain where readings are read.
pub(super) fn is_sign(c: char) -> bool {
    matches!(c, '《' | '》' | '｜')
}

/// Finds the readings of a physical line.
pub(super) fn find(text: &str, line: &Range<usize>) -> FoundReadings {
    let mut found = FoundReadings::default();
    // The base lies behind what was read last.
    let mut from = line.start;
    let mut bar: Option<usize> = None;
    let mut at = line.start;
    while let Some(c) = text[at..line.end].chars().next() {
        let next = at + c.len_utf8();
        match c {
            '\\' => {
                let plain = text[next..line.end].chars().next();
                let plain = plain.filter(|c| c.is_ascii_punctuation() || is_sign(*c));
                at = next + plain.map_or(0, char::len_utf8);
                continue;
            }
            '｜' => bar = Some(at),
            '《' => match reading(text, next..line.end) {
                Err((wrong, end)) => {
                    found.wrong.push((at..end, wrong));
                    (from, bar, at) = (end, None, end);
                    continue;
                }
                Ok(reading) => {
                    let end = reading.end + '》'.len_utf8();
                    let start = base(text, from..at, bar);
                    if start < at {
                        let signs = [at..next, reading.end..end];
                        found
                            .markup
                            .extend(bar.map(|bar| bar..bar + '｜'.len_utf8()));
                        found.markup.extend(signs);
                        let base = start..at;
                        found.rubies.push(Ruby { base, reading });
                    } else {
                        found.wrong.push((at..end, WrongBracket::NoBase));
                    }
                    (from, bar, at) = (end, None, end);
                    continue;
                }
            },
            _ => {}
        }
        at = next;
    }
    found
}

/// The bytes of a reading; `rest` is the line behind its opening bracket. The error is what is wrong, and where the
/// bracket ends.
fn reading(text: &str, rest: Range<usize>) -> Result<Range<usize>, (WrongBracket, usize)> {
    let behind = &text[rest.clone()];
    let Some(length) = behind.find('》') else {
        return Err((WrongBracket::Open, rest.end));
    };
    let words = &behind[..length];
    let is_word = |c: char| !c.is_whitespace() && !matches!(c, '*' | '\\' | '《' | '｜');
    if words.is_empty() || !words.chars().all(is_word) {
        return Err((WrongBracket::NoWord, rest.start + length + '》'.len_utf8()));
    }
    Ok(rest.start..rest.start + length)
}

/// Where the base of a reading begins, `before` being what stands before it; its end where there is none.
fn base(text: &str, before: Range<usize>, bar: Option<usize>) -> usize {
    if let Some(bar) = bar {
        return bar + '｜'.len_utf8();
    }
    let mut start = before.end;
    let mut kind = None;
    for (at, c) in text[before.clone()].char_indices().rev() {
        let own = script(c);
        if own.is_none() || *kind.get_or_insert(own) != own {
            break;
        }
        start = before.start + at;
    }
    start
}

/// The script of a letter that may bear a reading; nothing for other signs. Signs that stand for ideographs are
/// taken for such.
fn script(c: char) -> Option<Script> {
    match (c, CodePointMapData::<Script>::new().get(c)) {
        ('々' | '〆' | '〇' | 'ヶ' | '〻', _) => Some(Script::Han),
        ('ー', _) => Some(Script::Katakana),
        (_, Script::Common | Script::Inherited | Script::Unknown) => None,
        (_, script) => Some(script),
    }
}
