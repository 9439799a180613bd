//! Which way things follow each other, and which way languages are written.

/// Which way the panels of a side follow each other, or words on a line.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Direction {
    /// The first one is at the left.
    LeftToRight,
    /// The first one is at the right.
    RightToLeft,
}

/// Languages written from right to left unless a script subtag says otherwise. Source: the likely subtags of
/// Unicode CLDR, from memory.
const LANGUAGES: [&str; 24] = [
    "ar", "arc", "arz", "ary", "apc", "ckb", "dv", "fa", "glk", "he", "iw", "ji", "ks", "lrc",
    "mzn", "nqo", "pnb", "ps", "sd", "skr", "syr", "ug", "ur", "yi",
];

/// Scripts written from right to left. Source: the Unicode Standard 15.0, by the Bidi_Class of their letters.
const SCRIPTS: [&str; 32] = [
    "adlm", "arab", "aran", "armi", "avst", "chrs", "cprt", "elym", "hatr", "hebr", "hung", "khar",
    "lydi", "mand", "mani", "mend", "merc", "mero", "narb", "nbat", "nkoo", "orkh", "palm", "phli",
    "phlp", "phnx", "prti", "rohg", "samr", "sarb", "syrc", "thaa",
];

impl Direction {
    /// Which way a language is written, by its BCP 47 tag: as its script subtag says, or else as the language
    /// usually is.
    pub fn of_language(tag: &str) -> Direction {
        let tag = tag.to_ascii_lowercase();
        let mut subtags = tag.split('-');
        let language = subtags.next().unwrap_or_default();
        let script = subtags
            .take_while(|subtag| subtag.len() > 1)
            .find(|subtag| subtag.len() == 4 && subtag.bytes().all(|b| b.is_ascii_alphabetic()));
        let right_to_left = match script {
            Some(script) => SCRIPTS.contains(&script),
            None => LANGUAGES.contains(&language),
        };
        match right_to_left {
            true => Direction::RightToLeft,
            false => Direction::LeftToRight,
        }
    }

    /// Whether it is from right to left.
    pub fn is_right_to_left(self) -> bool {
        self == Direction::RightToLeft
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_tag_tells_which_way_its_language_is_written() {
        for tag in [
            "he",
            "ar-EG",
            "fa",
            "ur-PK",
            "az-Arab",
            "AZ-ARAB-IR",
            "pa-Aran",
            "ku-Hebr",
            "sd",
        ] {
            assert_eq!(Direction::of_language(tag), Direction::RightToLeft, "{tag}");
        }
        for tag in [
            "en",
            "az",
            "ar-Latn",
            "sd-Deva-IN",
            "he-Latn",
            "hi",
            "th",
            "en-x-arab",
            "sr-Cyrl",
        ] {
            assert_eq!(Direction::of_language(tag), Direction::LeftToRight, "{tag}");
        }
    }
}
