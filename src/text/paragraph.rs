//! How the physical lines of a paragraph join: what is one word space, and what is none.

use std::ops::Range;

use unicode_script::{Script, UnicodeScript};

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

/// Ideographs, kana, and the punctuation of their width: what is written without spaces between.
pub fn is_unspaced(c: char) -> bool {
    let script = matches!(
        c.script(),
        Script::Han | Script::Hiragana | Script::Katakana | Script::Bopomofo
    );
    script
        || matches!(c, '\u{3000}'..='\u{303f}' | '\u{30fb}' | '\u{30fc}' | '\u{ff01}'..='\u{ff60}')
}
