//! What the standards say: the one file that knows unicode-linebreak and icu_segmenter.

use icu_segmenter::LineSegmenter;
use unicode_linebreak::{BreakClass, break_property, linebreaks};

use super::gap::Gap;

/// Where UAX #14 allows a break or asks for one, tabs being taken for spaces: before the byte. Not at the text's end.
pub(super) fn breaks(text: &str) -> Vec<usize> {
    let without_tabs;
    let text = if text.contains('\t') {
        without_tabs = text.replace('\t', " ");
        without_tabs.as_str()
    } else {
        text
    };
    let found = linebreaks(text).map(|(at, _)| at);
    found.filter(|&at| at < text.len()).collect()
}

/// Where words of complex scripts meet, as a dictionary has them.
pub(super) fn words_of_complex_scripts(text: &str) -> Vec<usize> {
    let mut breaks = Vec::new();
    let mut from = None;
    for (at, c) in text.char_indices() {
        match (from, class(c) == BreakClass::ComplexContext) {
            (None, true) => from = Some(at),
            (Some(start), false) => {
                words(text, start, at, &mut breaks);
                from = None;
            }
            _ => {}
        }
    }
    if let Some(start) = from {
        words(text, start, text.len(), &mut breaks);
    }
    breaks
}

fn words(text: &str, from: usize, to: usize, breaks: &mut Vec<usize>) {
    let run = &text[from..to];
    let segments = LineSegmenter::new_dictionary(Default::default()).segment_str(run);
    let inner = segments.filter(|&at| at > 0 && at < run.len());
    breaks.extend(inner.map(|at| from + at));
}

/// Signs of repetition and abbreviation belong to the word before them: ๆ and ฯ, and those of Lao and Khmer (common
/// practice).
pub(super) fn before_repetition(gap: &Gap<'_>) -> bool {
    matches!(gap.first(), 'ๆ' | 'ฯ' | 'ໆ' | 'ຯ' | 'ៗ')
}

fn class(c: char) -> BreakClass {
    break_property(c as u32)
}

/// Whether a character is an ideograph, kana or hangul.
pub(super) fn is_east_asian_letter(c: char) -> bool {
    use BreakClass as B;
    matches!(
        class(c),
        B::Ideographic
            | B::ConditionalJapaneseStarter
            | B::HangulLvSyllable
            | B::HangulLvtSyllable
            | B::HangulLJamo
            | B::HangulVJamo
            | B::HangulTJamo
    )
}

/// Whether a character is an East Asian letter, or a sign set as wide as one that closes.
pub(super) fn may_end_before_opening(c: char) -> bool {
    use BreakClass as B;
    let closes = matches!(
        class(c),
        B::ClosePunctuation | B::Exclamation | B::NonStarter
    );
    is_east_asian_letter(c) || (closes && !c.is_ascii())
}

/// Whether a character belongs to a script without spaces.
pub(super) fn is_complex(c: char) -> bool {
    class(c) == BreakClass::ComplexContext
}

/// Whether a character is a mark on the one before it.
pub(super) fn is_mark(c: char) -> bool {
    matches!(
        class(c),
        BreakClass::CombiningMark | BreakClass::ZeroWidthJoiner
    )
}
