//! Dashes and ellipses.

use super::gap::{BLANK, Gap};
use super::marks::is_mark_around;

/// En dash, em dash, horizontal bar, figure dash, two-em and three-em dash. This is a choice: Unicode's Dash counts
/// hyphens, minus signs and wave dashes, too.
const DASHES: [char; 6] = ['–', '—', '―', '‒', '⸺', '⸻'];

/// Where dashes end that letters or an opening quotation mark follow at once.
pub(super) fn behind_dashes(text: &str) -> Vec<usize> {
    let mut found = Vec::new();
    let mut from = 0;
    while let Some(at) = text[from..].find(|c| c == '-' || DASHES.contains(&c)) {
        let dash = from + at;
        let length = dash_length(&text[dash..]).max(hyphen_length(&text[dash..]));
        from = dash + length;
        let behind = text[from..].trim_start_matches(is_mark_around);
        let word = behind.starts_with(char::is_alphanumeric);
        if word && dash_length(&text[dash..]) > 0 {
            found.push(from);
        }
    }
    found
}

/// Before a dash, unless it clings to the word behind it alone. Chinese and Japanese lines may begin with one.
pub(super) fn before_dash(gap: &Gap<'_>) -> bool {
    let behind = gap.behind();
    let lone = behind
        .strip_prefix('-')
        .is_some_and(|rest| rest.starts_with(BLANK));
    let length = dash_length(behind);
    if gap.tongue().is_chinese_or_japanese() {
        return false;
    }
    let clings = gap.is_spaced()
        && !behind[length..].starts_with(char::is_whitespace)
        && length < behind.len();
    lone || (length > 0 && !clings)
}

/// Behind a dash that clings to the word behind it, or that opens the text.
pub(super) fn behind_clinging_dash(gap: &Gap<'_>) -> bool {
    let before = gap.before();
    let bare = before_dash_at_end(before);
    let opening = bare.trim_end_matches(is_mark_around);
    let begins = |text: &str| text.chars().all(|c| is_mark_around(c) || c.is_whitespace());
    if bare.len() == before.len() {
        false
    } else if gap.is_spaced() {
        begins(opening)
    } else {
        opening.is_empty() || opening.ends_with(char::is_whitespace)
    }
}

/// Before an ellipsis, and behind one that the text begins with.
pub(super) fn at_ellipsis(gap: &Gap<'_>) -> bool {
    let behind = gap.behind();
    let spaced = |rest: &str| {
        rest.trim_start_matches([' ', '\u{a0}', '\u{202f}'])
            .starts_with('.')
            && !rest.starts_with('.')
    };
    let before = behind.starts_with(['…', '‥'])
        || behind.starts_with("..")
        || behind.strip_prefix('.').is_some_and(spaced);
    before || is_opening_ellipsis(gap.before())
}

fn is_opening_ellipsis(before: &str) -> bool {
    let dots = before.trim_start_matches(is_mark_around);
    let sign = |c: char| matches!(c, '.' | '…' | '‥' | ' ' | '\u{a0}' | '\u{202f}');
    dots.starts_with(sign)
        && dots.chars().all(sign)
        && (dots.contains(['…', '‥']) || dots.matches('.').count() > 1)
}

/// The length of the dash that a text begins with: dashes of any kind, or two hyphens or more.
fn dash_length(text: &str) -> usize {
    let dashes = text.len() - text.trim_start_matches(DASHES).len();
    let hyphens = hyphen_length(text);
    if hyphens > 1 { hyphens } else { dashes }
}

fn hyphen_length(text: &str) -> usize {
    text.len() - text.trim_start_matches('-').len()
}

/// A text without the dash that it ends with. A single hyphen is one where nothing but a space or the text's
/// beginning is before it, and a space behind it: what calls this knows that.
fn before_dash_at_end(before: &str) -> &str {
    let bare = before.trim_end_matches(DASHES);
    if bare.len() < before.len() {
        return bare;
    }
    before.trim_end_matches('-')
}
