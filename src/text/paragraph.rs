//! How the physical lines of a paragraph join: what is one word space, and what is none.

use std::ops::Range;

use icu_properties::props::{EastAsianWidth, EmojiPresentation, Script};
use icu_properties::script::ScriptWithExtensions;
use icu_properties::{CodePointMapData, CodePointSetData};

use super::{Style, TextLine};

/// A stretch of a paragraph's words without white space, in one style.
pub struct ParagraphPiece {
    /// Its bytes in the manuscript.
    pub bytes: Range<usize>,
    /// How it is stressed.
    pub style: Style,
    /// Whether a word space stands before it.
    pub space_before: bool,
}

/// Gives the words of a paragraph piece by piece. Runs of spaces, tabs and line ends are one word space.
pub fn join(source: &str, line: &TextLine, mut take: impl FnMut(ParagraphPiece)) {
    let mut joints = line.joints.iter().map(|joint| joint.bytes.start).peekable();
    let mut last: Option<usize> = None;
    for run in &line.runs {
        let words = &source[run.from..run.to];
        for part in words.split([' ', '\t']).filter(|part| !part.is_empty()) {
            let from = run.from + (part.as_ptr() as usize - words.as_ptr() as usize);
            let line_end = joints.next_if(|joint| *joint <= from).is_some();
            while joints.next_if(|joint| *joint <= from).is_some() {}
            let space_before = last.is_some_and(|last| {
                let between = &source[last..from];
                let spaced = between.contains([' ', '\t']) && !line_end;
                spaced || line_end && parts_words(&source[..last], &source[from..])
            });
            take(ParagraphPiece {
                bytes: from..from + part.len(),
                style: run.style,
                space_before,
            });
            last = Some(from + part.len());
        }
    }
}

/// Whether a line end between these texts stands for a word space. It does not between signs of scripts that
/// write without spaces: Chinese and Japanese (CSS Text Level 4, "Segment Break Transformation Rules").
pub fn parts_words(before: &str, behind: &str) -> bool {
    let unspaced = |c: Option<char>| c.is_some_and(is_unspaced);
    !(unspaced(before.chars().next_back()) && unspaced(behind.chars().next()))
}

/// Ideographs, kana, and the signs of their width (East_Asian_Width): what is written without spaces between. Emoji are
/// as wide, but stand in every script.
pub fn is_unspaced(c: char) -> bool {
    use EastAsianWidth as Width;
    if c.is_ascii() {
        return false;
    }
    let scripts = ScriptWithExtensions::new();
    match (scripts.get_script_val(c), CodePointMapData::new().get(c)) {
        (Script::Han | Script::Hiragana | Script::Katakana | Script::Bopomofo, _)
        | (_, Width::Fullwidth) => true,
        (Script::Common | Script::Inherited, Width::Wide) => {
            !CodePointSetData::new::<EmojiPresentation>().contains(c)
        }
        // Of half their width are kana and their signs, but signs of other scripts, too.
        (Script::Common, Width::Halfwidth) => scripts.has_script(c, Script::Katakana),
        _ => false,
    }
}

/// Whether a character is of a script that is written without spaces between words: such signs, and the scripts of
/// South-East Asia whose words a dictionary tells apart.
pub fn is_of_unspaced_script(c: char) -> bool {
    is_unspaced(c)
        || matches!(
            ScriptWithExtensions::new().get_script_val(c),
            Script::Thai | Script::Lao | Script::Khmer | Script::Myanmar
        )
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn signs_of_east_asian_width_have_no_spaces_between_but_emoji_have() {
        for c in "雪ゆきユキㄅ〇々、。・ー゠「（Ａ！｡ｰﾞ\u{3000}\u{3099}〒".chars()
        {
            assert!(is_unspaced(c), "{c:?}");
        }
        for c in "a1é!“…—·한ไ₩🚌".chars() {
            assert!(!is_unspaced(c), "{c:?}");
        }
        assert!("ไລខမ雪".chars().all(is_of_unspaced_script));
        assert!(!parts_words("雪｡", "ﾕｷ"));
        assert!(parts_words("🚌", "🚌"));
    }
}
