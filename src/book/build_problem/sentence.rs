//! How words leave the sentence, in every script.
//!
//! What may follow a mark that ends or pauses a sentence is looked through: white space of every kind (French sets some
//! before its marks), closing brackets, quotation marks, and marks that show nothing. Which characters end a sentence
//! is the standard's word: Sentence_Break (UAX #29, table 4), and with it the ellipsis, which the standard leaves open.

use icu_properties::props::{
    Dash, GeneralCategory, QuotationMark, SentenceBreak, TerminalPunctuation,
};
use icu_properties::{CodePointMapData, CodePointSetData};

use crate::rules::Ending;

/// How the last word of a line leaves the sentence.
pub(super) fn ending(text: &str) -> Ending {
    match text.trim_end_matches(follows_mark).chars().next_back() {
        Some(last) if ends_sentence(last) => Ending::Sentence,
        Some(last) if pauses(last) => Ending::Pause,
        _ => Ending::RunsOn,
    }
}

/// Whether a character may stand between the mark and the end of the line.
fn follows_mark(c: char) -> bool {
    let category = CodePointMapData::<GeneralCategory>::new().get(c);
    let shows_nothing = matches!(
        sentence_break(c),
        SentenceBreak::Format | SentenceBreak::Extend
    );
    let closes = matches!(
        category,
        GeneralCategory::ClosePunctuation | GeneralCategory::FinalPunctuation
    );
    // Ethiopic sets a mark of its own between words.
    let space = c.is_whitespace() || c == '\u{1361}';
    let quotes = CodePointSetData::new::<QuotationMark>().contains(c);
    space || closes || quotes || shows_nothing
}

/// `…`, as one sets it on the line, in Chinese and upright in vertical lines.
const ELLIPSES: [char; 3] = ['…', '⋯', '︙'];

fn ends_sentence(c: char) -> bool {
    let ends = matches!(
        sentence_break(c),
        SentenceBreak::STerm | SentenceBreak::ATerm
    );
    ends || ELLIPSES.contains(&c)
}

/// Whether a character pauses a sentence: commas, colons and semicolons of all scripts, and dashes.
fn pauses(c: char) -> bool {
    let pauses = CodePointSetData::new::<TerminalPunctuation>().contains(c)
        || CodePointSetData::new::<Dash>().contains(c)
        || sentence_break(c) == SentenceBreak::SContinue;
    // The raised point of Greek is the middle dot in normal form.
    pauses || c == '·'
}

fn sentence_break(c: char) -> SentenceBreak {
    CodePointMapData::<SentenceBreak>::new().get(c)
}

#[cfg(test)]
mod tests {
    use unicode_segmentation::UnicodeSegmentation;

    use super::*;
    use Ending::{Pause, RunsOn, Sentence};

    #[test]
    #[expect(clippy::too_many_lines, reason = "a table of endings")]
    fn white_space_and_closing_marks_are_looked_through() {
        let ends = [
            "fin ?",
            "fin\u{a0}?",
            "fin\u{202f}!",
            "fin ? »",
            "fin\u{a0}?\u{a0}»",
            "fin\u{202f}!\u{202f}»",
            "Ende.“",
            "Ende.«",
            "end.’”)",
            "終。」",
            "終！』",
            "完？》",
            "【完。】",
            "انتهى؟",
            "ختم۔",
            "अंत।",
            "अंत॥",
            "ቃል።",
            "բան։",
            "end.\u{2003}\u{200b}",
            "end.\u{200f}",
            "end…",
            "end . . .",
            "終⋯⋯",
            "（完。）",
        ];
        for text in ends {
            assert_eq!(ending(text), Sentence, "{text:?}");
        }
        let pauses = [
            "dit\u{a0}:",
            "dit\u{202f};\u{a0}»",
            "said,”",
            "word —",
            "word –”",
            "他说：「",
            "他、",
            "قال،",
            "قال؛",
            "ቃል፣",
            "λόγος·",
            "λόγος\u{387}",
            "word ―",
            "բառ՝",
        ];
        for text in pauses {
            assert_eq!(ending(text), Pause, "{text:?}");
        }
        for text in [
            "",
            "»",
            "word",
            "word’",
            "«\u{a0}mot\u{a0}»",
            "goin'",
            "50 %",
            "ቃል፡",
        ] {
            assert_eq!(ending(text), RunsOn, "{text:?}");
        }
    }

    /// UAX #29, "Sentence Boundaries", as unicode-segmentation has it: every character that it lets end a sentence, alone
    /// and with what its rules SB9 and SB10 let follow, ends one here, and no other does but the ellipsis.
    #[test]
    fn a_sentence_ends_where_the_standard_ends_it() {
        let behind = ["", " ", "\u{a0}", "”", "\u{a0}»", ")\u{202f}", "\u{301}’ "];
        // A line has no line ends within.
        let line_ends = ['\n', '\r', '\u{85}', '\u{2028}', '\u{2029}'];
        // The standard library has the same version of the standard as the other crate: what it cannot print is younger.
        let known = |c: &char| c.escape_debug().count() == 1;
        for c in ('\0'..=char::MAX).filter(|c| !line_ends.contains(c) && known(c)) {
            for behind in behind {
                let text = format!("a{c}{behind}");
                let standard = standard_ends(&text);
                let own = ELLIPSES.contains(&c);
                assert_eq!(
                    ending(&text) == Sentence,
                    standard || own,
                    "U+{:04X} {text:?}",
                    c as u32
                );
            }
        }
    }

    /// Whether the standard has a sentence end behind the last letter of a line that the next word follows.
    fn standard_ends(line: &str) -> bool {
        let text = format!("{line} A");
        let mut begins = text.split_sentence_bound_indices().map(|(at, _)| at);
        begins.any(|at| at > 1)
    }
}
