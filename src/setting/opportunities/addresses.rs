//! Web and e-mail addresses: finding them, and where they are broken.

use std::ops::Range;

use super::standard::{is_complex, is_east_asian_letter};

/// Fewest characters of an address on either side of a break.
const FEWEST: usize = 3;

/// What an address is broken before.
const BEFORE: [char; 14] = [
    '/', '.', ',', '-', '_', '~', '?', '#', '%', '=', '&', '@', '+', ';',
];

/// Where addresses stand: runs of letters, figures and signs with `://`, a leading `www.`, an `@` before a name with
/// a dot, or a name with a dot before a slash. Punctuation around them is no part of them.
pub(super) fn find(text: &str) -> Vec<Range<usize>> {
    if !text.contains(['/', '@']) && !text.contains("www.") {
        return Vec::new();
    }
    let mut found = Vec::new();
    let mut from = 0;
    for run in text.split(is_no_address_sign) {
        let inner = run.trim_start_matches(is_around);
        let start = from + run.len() - inner.len();
        let inner = inner.trim_end_matches(is_around);
        if is_address(inner) {
            found.push(start..start + inner.len());
        }
        let behind = text.get(from + run.len()..).unwrap_or_default();
        from += run.len() + behind.chars().next().map_or(0, char::len_utf8);
    }
    found
}

fn is_no_address_sign(c: char) -> bool {
    let plain = c.is_ascii_graphic() || c.is_alphanumeric();
    !plain || is_east_asian_letter(c) || is_complex(c) || matches!(c, '<' | '>' | '"' | '|')
}

fn is_around(c: char) -> bool {
    matches!(
        c,
        '(' | ')' | '[' | ']' | '{' | '}' | '\'' | '.' | ',' | ':' | ';' | '!' | '?' | '*' | '-'
    )
}

fn is_address(run: &str) -> bool {
    let name = |part: &str| {
        let mut labels = part.split('.');
        let plain = |label: &str| {
            !label.is_empty() && label.chars().all(|c| c.is_alphanumeric() || c == '-')
        };
        part.contains('.') && part.contains(char::is_alphabetic) && labels.all(plain)
    };
    if let Some((scheme, rest)) = run.split_once("://") {
        return !rest.is_empty() && scheme.ends_with(|c: char| c.is_ascii_alphanumeric());
    }
    if let Some((user, host)) = run.rsplit_once('@') {
        return user.ends_with(char::is_alphanumeric) && name(host);
    }
    let www = run
        .get(..4)
        .is_some_and(|head| head.eq_ignore_ascii_case("www."));
    let host = run.split_once('/').map(|(host, _)| host);
    (www && run.len() > 4)
        || host.is_some_and(|host| name(host) && host.split('.').next_back().is_some_and(is_top))
}

/// Whether a name may be a top-level domain: letters alone, two or more.
fn is_top(label: &str) -> bool {
    label.chars().count() > 1 && label.chars().all(char::is_alphabetic)
}

/// Where an address may be broken.
pub(super) fn breaks(address: &str) -> Vec<usize> {
    let mut breaks = Vec::new();
    let mut last = ' ';
    for (number, (at, c)) in address.char_indices().enumerate() {
        let (before, behind) = (&address[..at], &address[at..]);
        let behind_colon = before.ends_with("://") || (last == ':' && c != '/');
        let before_sign =
            BEFORE.contains(&c) && last != c && last != ':' && !before.ends_with("://");
        let enough = number >= FEWEST && behind.chars().nth(FEWEST - 1).is_some();
        if enough && (behind_colon || before_sign) {
            breaks.push(at);
        }
        last = c;
    }
    breaks
}
