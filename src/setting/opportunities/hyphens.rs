//! Hyphens, soft hyphens and slashes.

use super::gap::Gap;
use super::standard::is_mark;

/// Hard hyphens: hyphen-minus, hyphen, and those of Armenian and Hebrew. This is a choice: Unicode's Hyphen counts soft
/// and non-breaking ones, too, but not the Hebrew one.
const HYPHENS: [char; 4] = ['-', '‐', '֊', '־'];

/// Fewest letters on either side of a hyphen that a word is broken behind.
const FEWEST: usize = 2;

/// Fewest letters of a word before and behind a slash that is broken behind.
const LONGER: usize = 4;

/// Nothing is broken at a soft hyphen itself.
pub(super) fn behind_soft_hyphen(gap: &Gap<'_>) -> bool {
    !gap.is_spaced() && gap.last() == '\u{ad}'
}

/// Behind a hyphen that has too few letters on a side. Two hyphens are a dash.
pub(super) fn behind_hyphen(gap: &Gap<'_>) -> bool {
    let Some(before) = gap.before().strip_suffix(HYPHENS) else {
        return false;
    };
    let dash = gap.last() == '-' && before.ends_with('-');
    !(gap.is_spaced() || dash || between_letters(before, gap.behind(), FEWEST))
}

/// Behind a slash between short words.
pub(super) fn behind_slash(gap: &Gap<'_>) -> bool {
    let before = gap.before().strip_suffix('/');
    let short = |before| !between_letters(before, gap.behind(), LONGER);
    !gap.is_spaced() && before.is_some_and(short)
}

/// Whether a break at a place without spaces divides a word.
pub(super) fn divides(gap: &Gap<'_>) -> bool {
    let figure = |c: Option<char>| c.is_some_and(char::is_numeric);
    match gap.last() {
        '/' => true,
        '–' => {
            let before = gap.before().trim_end_matches('–').chars().next_back();
            figure(before) && figure(Some(gap.first()))
        }
        hyphen => HYPHENS.contains(&hyphen) && !gap.before().ends_with("--"),
    }
}

/// Whether so many letters stand on either side; figures count as letters before, and an apostrophe is skipped there.
fn between_letters(before: &str, behind: &str, fewest: usize) -> bool {
    let letters = |c: &char| c.is_alphanumeric() || is_mark(*c);
    let enough = |run: usize| run >= fewest;
    let end = before
        .trim_end_matches(['’', '\''])
        .chars()
        .rev()
        .take_while(letters)
        .filter(|c| !is_mark(*c));
    let begin = behind
        .chars()
        .take_while(|c| c.is_alphabetic() || is_mark(*c));
    enough(end.take(fewest).count()) && enough(begin.filter(|c| !is_mark(*c)).take(fewest).count())
}
