//! Words as capitals, for drawing alone. The one file that knows icu_casemap.

use icu_casemap::CaseMapper;
use icu_locale::LanguageIdentifier;
use icu_locale::subtags::Language;
use unicode_segmentation::UnicodeSegmentation;

/// A text as capitals, and which of its characters each capital was written as.
pub struct Capitals {
    text: String,
    /// Where each grapheme cluster begins: byte of the capitals, byte of the text as written.
    begins: Vec<(usize, usize)>,
}

impl Capitals {
    /// The capitals of a text in a language, given as a BCP 47 tag: full case mapping with the rules of the language (Unicode
    /// Standard, 3.13, and CLDR), by which German ß becomes SS, Turkish i keeps its dot and Greek letters lose their accents.
    pub fn of(written: &str, language: &str) -> Capitals {
        let primary = language.split('-').next().unwrap_or_default();
        let primary = Language::try_from_str(primary).unwrap_or(Language::UNKNOWN);
        let language = LanguageIdentifier::from(primary);
        let mapper = CaseMapper::new();
        let upper = |text: &str| mapper.uppercase_to_string(text, &language).into_owned();
        let text = upper(written);
        // A letter's capital may hang on the letters before it, never on how many there are behind it: what is made of the
        // beginning of a text is the beginning of what is made of the whole. Where it is not, letters are not told apart.
        let begins = written.grapheme_indices(true).filter_map(|(at, _)| {
            let before = upper(&written[..at]);
            text.starts_with(&before).then_some((before.len(), at))
        });
        Capitals {
            begins: begins.collect(),
            text,
        }
    }

    /// The capitals.
    pub fn text(&self) -> &str {
        &self.text
    }

    /// The byte of the text as written that the cluster begins at which a byte of the capitals stands for.
    pub fn written(&self, capital: usize) -> usize {
        let next = self.begins.partition_point(|begins| begins.0 <= capital);
        next.checked_sub(1).map_or(0, |at| self.begins[at].1)
    }

    /// The capitals of the clusters that begin within these bytes of the text as written.
    pub fn of_written(&self, written: std::ops::Range<usize>) -> &str {
        let first = self
            .begins
            .partition_point(|begins| begins.1 < written.start);
        let behind = self.begins.partition_point(|begins| begins.1 < written.end);
        let byte = |at: usize| {
            self.begins
                .get(at)
                .map_or(self.text.len(), |begins| begins.0)
        };
        &self.text[byte(first)..byte(behind)]
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Unicode's SpecialCasing.txt and CLDR: one letter that becomes two, letters that lose accents, a dot that stays.
    #[test]
    fn each_capital_stands_for_what_was_written() {
        let of = |text: &str, language: &str| {
            let capitals = Capitals::of(text, language);
            let written = capitals.text().char_indices();
            let written = written.map(|(at, c)| format!("{c}{}", capitals.written(at)));
            written.collect::<Vec<_>>().join(" ")
        };
        assert_eq!(of("Maß!", "de"), "M0 A1 S2 S2 !4");
        assert_eq!(of("kış i", "tr"), "K0 I1 Ş3 5 İ6".replace("Ş3 5", "Ş3  5"));
        assert_eq!(of("άι", "el"), "Α0 Ϊ2");
        assert_eq!(of("ﬁn", "en"), "F0 I0 N3");
        let capitals = Capitals::of("Maße", "de");
        assert_eq!(capitals.of_written(2..4), "SS");
        assert_eq!(capitals.of_written(4..5), "E");
    }
}
