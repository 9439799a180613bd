//! Folding text so that two readings of the same words compare equal.

use icu_properties::CodePointSetData;
use icu_properties::props::DefaultIgnorableCodePoint;

/// The text with default-ignorable code points dropped, every run of white space (Unicode
/// White_Space) made one U+0020, and none at either end. Nothing is normalised.
pub fn folded(text: &str) -> String {
    let ignorable = CodePointSetData::new::<DefaultIgnorableCodePoint>();
    let mut out = String::with_capacity(text.len());
    let mut space = false;
    // None of ASCII is.
    let kept = |c: &char| c.is_ascii() || !ignorable.contains(*c);
    for c in text.chars().filter(kept) {
        if c.is_whitespace() {
            space = true;
            continue;
        }
        if space && !out.is_empty() {
            out.push(' ');
        }
        space = false;
        out.push(c);
    }
    out
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn white_space_folds_and_ignorables_go() {
        assert_eq!(
            folded("\u{feff} the\u{a0}\u{2009}bus\r\n\u{200b}\tturned "),
            "the bus turned"
        );
        assert_eq!(folded("moun\u{ad}tain \u{2060} pass"), "mountain pass");
        assert_eq!(folded("\u{85}\u{3000}"), "");
        assert_eq!(folded("cafe\u{301} ﬁr"), "cafe\u{301} ﬁr");
    }
}
