//! Chinese, Japanese and Korean.

use super::gap::{Gap, Reading};
use super::standard::{is_east_asian_letter, may_end_before_opening};

/// Before an opening quotation mark behind ideographs, and behind a closing one before them: in Chinese and Japanese.
pub(super) fn quotes(reading: &Reading<'_>) -> Vec<usize> {
    if !reading.tongue.is_chinese_or_japanese() {
        return Vec::new();
    }
    let mut found = Vec::new();
    let mut last = None;
    for (at, c) in reading.text.char_indices() {
        let opens = matches!(c, '“' | '‘') && last.is_some_and(may_end_before_opening);
        let closed = matches!(last, Some('”' | '’')) && is_east_asian_letter(c);
        if opens || closed {
            found.push(at);
        }
        last = Some(c);
    }
    found
}

/// Korean: anywhere but at spaces, next to hangul or ideographs. A dash, a hyphen or a slash may part them.
pub(super) fn within_korean(gap: &Gap<'_>) -> bool {
    let last = gap.last();
    let parts = matches!(
        last,
        '-' | '‐' | '/' | '–' | '—' | '―' | '\u{200b}' | '\u{3000}'
    );
    gap.tongue().main() == "ko"
        && !gap.is_spaced()
        && !parts
        && (is_east_asian_letter(last) || is_east_asian_letter(gap.first()))
}

/// Chinese and Japanese: before signs that begin no line, though UAX #14 does not know them as such.
pub(super) fn at_line_start(gap: &Gap<'_>) -> bool {
    gap.tongue().is_chinese_or_japanese()
        && !gap.is_spaced()
        && matches!(gap.first(), '·' | '‧' | '•' | '･' | '～' | '〜')
}
