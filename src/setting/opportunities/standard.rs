//! What the standards say: the one file that knows unicode-linebreak and icu_segmenter.

use icu_properties::props::{EastAsianWidth, IndicSyllabicCategory, LogicalOrderException};
use icu_properties::{CodePointMapData, CodePointSetData};
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

/// What [`Tailoring::LaterRules`](super::Tailoring::LaterRules) allows: before the byte.
pub(super) fn later_rules(text: &str) -> Vec<usize> {
    use BreakClass as B;
    let mut found = Vec::new();
    // The last two visible characters that are no marks, and whether a space follows the last, or follows the one
    // before it.
    let (mut before, mut last) = ((' ', true), (' ', true));
    let mut signs = text.char_indices().peekable();
    while let Some((at, c)) = signs.next() {
        if matches!(c, ' ' | '\t') {
            last.1 = true;
            continue;
        }
        let allowed = if last.1 {
            let closing = class(last.0) == B::Quotation && !before.1;
            let point = matches!(c, '.' | ',');
            (closing && class(c) == B::OpenPunctuation)
                || (point && signs.peek().is_some_and(|(_, c)| c.is_numeric()))
        } else {
            let hebrew = |c: char| class(c) == B::HebrewLetter;
            let hyphen = matches!(last.0, '-' | '‐' | '־');
            (hyphen && hebrew(c) && hebrew(before.0))
                || (is_wide_opening(c) && is_letter_or_figure(last.0))
        };
        if allowed && !text[..at].ends_with('\u{200d}') {
            found.push(at);
        }
        if last.1 || !is_mark(c) {
            (before, last) = (last, (c, false));
        }
    }
    found
}

/// Classes AL, HL and NU, what is taken for them, and marks that stand on nothing.
fn is_letter_or_figure(c: char) -> bool {
    use BreakClass as B;
    matches!(
        class(c),
        B::Alphabetic
            | B::Ambiguous
            | B::ComplexContext
            | B::CombiningMark
            | B::HebrewLetter
            | B::Numeric
            | B::Unknown
    )
}

/// Opening brackets as wide as an ideograph, or as half of one (East_Asian_Width F, W and H, as rule LB30 has it).
fn is_wide_opening(c: char) -> bool {
    use EastAsianWidth as Width;
    class(c) == BreakClass::OpenPunctuation
        && matches!(
            CodePointMapData::new().get(c),
            Width::Fullwidth | Width::Wide | Width::Halfwidth
        )
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

/// Between characters that no word of a complex script can be parted at, whatever a dictionary makes of words that it
/// does not know. Source: the sets of letters that begin and end words in ICU4C's `dictbe.cpp`, from memory. Signs of
/// repetition and abbreviation belong to the word before them, too: ๆ and ฯ, and those of Lao and Khmer (common
/// practice).
pub(super) fn within_word_of_complex_script(gap: &Gap<'_>) -> bool {
    let repeats = matches!(gap.first(), 'ๆ' | 'ฯ' | 'ໆ' | 'ຯ' | 'ៗ');
    let together = !gap.is_spaced() && is_complex(gap.first()) && is_complex(gap.last());
    repeats || together && !(begins_word(gap.first()) && ends_word(gap.last()))
}

/// Consonants, vowels that stand for themselves, and vowels that are written before their consonant begin words.
fn begins_word(c: char) -> bool {
    use IndicSyllabicCategory as Syllable;
    is_before_consonant(c)
        || matches!(
            CodePointMapData::new().get(c),
            Syllable::Consonant | Syllable::VowelIndependent | Syllable::ConsonantPlaceholder
        )
}

/// Vowels that are written before their consonant end no word, nor does the sign that puts a consonant below another,
/// nor U+0E31, a vowel of Thai that a consonant always closes.
fn ends_word(c: char) -> bool {
    use IndicSyllabicCategory as Syllable;
    let stacks = matches!(
        CodePointMapData::new().get(c),
        Syllable::Virama | Syllable::InvisibleStacker
    );
    !(is_before_consonant(c) || stacks || c == '\u{e31}')
}

/// Vowels of Thai, Lao and their like, written before the consonant that is spoken before them.
fn is_before_consonant(c: char) -> bool {
    CodePointSetData::new::<LogicalOrderException>().contains(c)
}

/// Whether a character is of a script that is written without spaces between words.
pub(in crate::setting) fn is_unspaced(c: char) -> bool {
    is_complex(c) || crate::text::paragraph::is_unspaced(c)
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
