//! Quotation marks and brackets.

use super::gap::{Gap, Reading};

/// What a mark does.
#[derive(Clone, Copy, PartialEq, Eq)]
enum MarkRole {
    Opens,
    Closes,
}

/// Quotation marks and brackets of any kind.
pub(super) fn is_mark_around(c: char) -> bool {
    is_quote(c) || matches!(c, '(' | ')' | '[' | ']' | '{' | '}' | '¿' | '¡' | '\'')
}

/// The quotation marks of languages that write spaces. This is a choice: Unicode's Quotation_Mark counts corner brackets
/// and the typewriter's apostrophe, too.
fn is_quote(c: char) -> bool {
    matches!(
        c,
        '“' | '”' | '„' | '‟' | '‘' | '’' | '‚' | '‛' | '«' | '»' | '‹' | '›' | '"'
    )
}

/// Behind a mark that opens and stands apart, or before one that closes.
pub(super) fn at_spaced_mark(gap: &Gap<'_>) -> bool {
    gap.is_spaced() && (opens(gap) || closes(gap))
}

fn opens(gap: &Gap<'_>) -> bool {
    let last = gap.last();
    let at = gap.end - last.len_utf8();
    is_quote(last)
        && gap.word_before().chars().all(is_mark_around)
        && role(gap.reading, at, last) == Some(MarkRole::Opens)
}

fn closes(gap: &Gap<'_>) -> bool {
    let first = gap.first();
    let around =
        |c: char| is_mark_around(c) || matches!(c, '.' | ',' | ';' | ':' | '!' | '?' | '…');
    is_quote(first)
        && gap.word_behind().chars().all(around)
        && role(gap.reading, gap.next, first) == Some(MarkRole::Closes)
}

/// What a mark that stands apart does. At the text's beginning it opens and at its end it closes; else its shape
/// and the language tell, and of straight ones that they take turns.
fn role(reading: &Reading<'_>, at: usize, mark: char) -> Option<MarkRole> {
    let (before, behind) = (&reading.text[..at], &reading.text[at + mark.len_utf8()..]);
    let nothing = |text: &str| !text.contains(char::is_alphanumeric);
    if before.is_empty() || behind.is_empty() {
        return Some(if before.is_empty() {
            MarkRole::Opens
        } else {
            MarkRole::Closes
        });
    }
    if behind.len() < SHORT && nothing(behind) {
        return Some(MarkRole::Closes);
    }
    let opens = match mark {
        '„' | '‚' | '‟' | '‛' => true,
        '"' => reading.straight_before(at).is_multiple_of(2),
        '«' | '‹' => !turned(reading),
        '»' | '›' => turned(reading),
        '“' | '‘' => !closes_with_six(reading.tongue.main()),
        // Swedish and Finnish open and close with the same mark.
        '”' | '’' if matches!(reading.tongue.main(), "sv" | "fi") => return None,
        '”' | '’' => false,
        _ => return None,
    };
    Some(if opens {
        MarkRole::Opens
    } else {
        MarkRole::Closes
    })
}

/// What stands behind the last mark of a text is looked through for words only so far.
const SHORT: usize = 16;

/// Whether guillemets are turned about: »Halt!«. Danish and German turn them, except in Switzerland and where the
/// text's first is the other; neighbouring languages may.
fn turned(reading: &Reading<'_>) -> bool {
    let tongue = &reading.tongue;
    let (first, both) = reading.guillemets();
    match tongue.main() {
        "de" if tongue.has("ch") || tongue.has("li") => false,
        "da" | "de" => first != Some('«'),
        "bs" | "cs" | "hr" | "hu" | "mk" | "pl" | "sk" | "sl" | "sr" => both && first == Some('»'),
        _ => false,
    }
}

/// Languages whose quotations begin with „ and end with “.
fn closes_with_six(language: &str) -> bool {
    const LANGUAGES: [&str; 18] = [
        "be", "bg", "bs", "cs", "da", "de", "et", "hr", "is", "ka", "lt", "lv", "mk", "ru", "sk",
        "sl", "sr", "uk",
    ];
    LANGUAGES.contains(&language)
}

/// French: before » and behind «.
pub(super) fn at_french_guillemet(gap: &Gap<'_>) -> bool {
    gap.tongue().main() == "fr"
        && (matches!(gap.first(), '»' | '›') || matches!(gap.last(), '«' | '‹'))
}
