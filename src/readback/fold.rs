//! Folding text so that two readings of the same words compare equal.

/// Default_Ignorable_Code_Point, from the Unicode Character Database 15.0,
/// `DerivedCoreProperties.txt`.
const IGNORABLE: [(u32, u32); 17] = [
    (0x00AD, 0x00AD),
    (0x034F, 0x034F),
    (0x061C, 0x061C),
    (0x115F, 0x1160),
    (0x17B4, 0x17B5),
    (0x180B, 0x180F),
    (0x200B, 0x200F),
    (0x202A, 0x202E),
    (0x2060, 0x206F),
    (0x3164, 0x3164),
    (0xFE00, 0xFE0F),
    (0xFEFF, 0xFEFF),
    (0xFFA0, 0xFFA0),
    (0xFFF0, 0xFFF8),
    (0x1BCA0, 0x1BCA3),
    (0x1D173, 0x1D17A),
    (0xE0000, 0xE0FFF),
];

/// The text with default-ignorable code points dropped, every run of white space (Unicode
/// White_Space) made one U+0020, and none at either end. Nothing is normalised.
pub fn folded(text: &str) -> String {
    let mut out = String::with_capacity(text.len());
    let mut space = false;
    for c in text.chars().filter(|&c| !is_ignorable(c)) {
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

fn is_ignorable(c: char) -> bool {
    let code = u32::from(c);
    IGNORABLE
        .iter()
        .any(|&(first, last)| (first..=last).contains(&code))
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
