//! Which way things follow each other, and which way languages are written.

use icu_locale::subtags::{Language, Region, Script};
use icu_locale::{LanguageIdentifier, Locale, LocaleCanonicalizer, LocaleDirectionality};
use oxilangtag::LanguageTag;

/// Which way the panels of a side follow each other, or words on a line.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Direction {
    /// The first one is at the left.
    LeftToRight,
    /// The first one is at the right.
    RightToLeft,
}

impl Direction {
    /// Which way a language is written, by its BCP 47 tag: as its script subtag says, or else as the language usually
    /// is in the tag's region (the likely subtags of Unicode CLDR). From left to right where nobody knows.
    pub fn of_language(tag: &str) -> Direction {
        let Ok(tag) = LanguageTag::parse(tag) else {
            return Direction::LeftToRight;
        };
        let language = Language::try_from_str(tag.primary_language()).unwrap_or(Language::UNKNOWN);
        // Nastaliq is a style of Arabic, which CLDR does not count among the scripts.
        let script = match tag.script() {
            Some(style) if style.eq_ignore_ascii_case("Aran") => Some("Arab"),
            script => script,
        };
        let script = script.and_then(|script| Script::try_from_str(script).ok());
        let region = tag
            .region()
            .and_then(|region| Region::try_from_str(region).ok());
        let mut known = Locale::from(LanguageIdentifier::from((language, script, region)));
        // Some languages have several tags: `pnb` is `lah`, and `heb` is `he`.
        LocaleCanonicalizer::new_extended().canonicalize(&mut known);
        match LocaleDirectionality::new_extended().is_right_to_left(&known.id) {
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
            "iw",
            "ji",
            "arc",
            "ar-arb",
            "pnb",
            "heb",
            "zz-Adlm",
            "az-IR",
            "pa-PK",
            "az-arab-x-home",
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
            "und",
            "zz",
            "ug-KZ",
            "i-klingon",
            "x-arab",
            "no tag",
            "",
        ] {
            assert_eq!(Direction::of_language(tag), Direction::LeftToRight, "{tag}");
        }
    }
}
