//! Names with their initials and abbreviations, and words of one letter.

use super::gap::{BLANK, Gap, Tongue};
use super::marks::is_mark_around;
use super::numbers::is_closing;

/// Words of one letter that stay with the next word, by language: prepositions and conjunctions.
fn one_letter_words(language: &str) -> &'static str {
    match language {
        // ČSN 01 6910 and STN 01 6910, from memory: k, s, v, z, o, u and the conjunctions a, i.
        "cs" | "sk" => "ksvzouai",
        "pl" => "aiouwz",
        "ru" => "вкосуаи",
        _ => "",
    }
}

/// Abbreviations that stand before a name, by language.
fn before_names(language: &str) -> &'static str {
    match language {
        "en" => {
            "Mr. Mr Mrs. Mrs Ms. Ms Messrs. Messrs Dr. Dr Prof. St. St Mt. Rev. Fr. Hon. Capt. Col. Gen. Lt. Maj. \
             Sgt. Gov. Sen. Rep."
        }
        "de" => "Hr. Hrn. Fr. Frl. Dr. Prof. Mag. Ing. St. Sr. Ew. Hl. hl.",
        "fr" => "M. MM. Mme Mmes Mlle Mlles Mgr Me Dr Pr St Ste",
        "es" | "gl" => "Sr. Sra. Srta. Sres. D. Dña. Dr. Dra. Prof. Sto. Sta. S. Fr. Gral. Cap.",
        "pt" => "Sr. Sra. D. Dr. Dra. Prof. Sto. Sta. S. Fr. Gen. Cap.",
        "ca" => "Sr. Sra. Dr. Dra. St. Sta. Mn.",
        "it" => {
            "Sig. Sig.ra Sig.na sig. sig.ra Dott. Dott.ssa dott. Prof. prof. Ing. Avv. Mons. S. Gen. Cap."
        }
        "nl" => "dhr. mevr. mw. dr. drs. ir. mr. prof. ds. St. H. kapt.",
        "da" | "nb" | "nn" | "no" => "hr. Hr. fr. Fr. frk. Frk. dr. Dr. prof. Prof. St. kapt.",
        "sv" => "hr Hr fru fr. frk. dr Dr dr. Dr. prof. Prof. S:t S:ta kapt.",
        "fi" => "hra Hra rva Rva nti Nti tri Tri tri. prof. Prof. kapt.",
        "pl" => "p. pp. dr prof. mgr inż. ks. św. gen. płk mjr kpt. hr. im.",
        "cs" | "sk" => {
            "p. pí sl. dr. Dr. prof. Prof. Ing. Mgr. JUDr. MUDr. PhDr. sv. gen. plk. kpt."
        }
        "sl" | "hr" | "bs" => "g. ga. gdč. dr. Dr. prof. sv. gen.",
        "hu" => "dr. Dr. id. ifj. özv. prof. Szt. Sz. gr. br. gen. kpt.",
        "ro" => "dl. Dl. dna. d-na D-na d-l dr. Dr. prof. Prof. Sf. sf. gen. cpt.",
        "tr" => "Sn. Dr. Prof. Av. Hz.",
        "el" => "κ. Κ. κκ. κ.κ. δρ. Δρ. Αγ. αγ. καθ.",
        "ru" => "г. гг. г-н г-жа гр. тов. д-р проф. акад. св. им. ген. кн. о.",
        "uk" => "п. д-р проф. акад. св. ім. ген. о.",
        "be" => "сп. д-р праф. акад. св. ген.",
        "bg" => "г. г-н г-жа д-р проф. акад. св. ген.",
        "sr" => "г. г-дин г-ђа др проф. св. ген.",
        _ => "",
    }
}

/// Behind a word of one letter that stays with the next.
pub(super) fn behind_one_letter(gap: &Gap<'_>) -> bool {
    let mut signs = opened(gap.word_before()).chars();
    let (Some(letter), None) = (signs.next(), signs.next()) else {
        return false;
    };
    let listed = one_letter_words(gap.tongue().main());
    let mut small = letter.to_lowercase();
    gap.is_spaced() && small.all(|letter| listed.contains(letter)) && starts_word(gap)
}

/// Between two initials, and between an initial and the name behind it.
pub(super) fn behind_initial(gap: &Gap<'_>) -> bool {
    if !gap.is_spaced() || !is_initial(opened(gap.word_before())) {
        return false;
    }
    // In `z. B. Bergen` it is no name that is shortened.
    let shortened = word_further_before(gap);
    let is_phrase = shortened.ends_with('.')
        && shortened.chars().count() == 2
        && shortened.starts_with(char::is_lowercase);
    is_initial(gap.word_behind().trim_matches(is_closing)) || (!is_phrase && starts_name(gap))
}

/// Between an abbreviation and the name behind it.
pub(super) fn before_name(gap: &Gap<'_>) -> bool {
    let list = before_names(gap.tongue().main());
    let word = opened(gap.word_before());
    // Behind a number the same letters are a unit: `20 Fr.`, `1900 г.`
    let is_unit = || word_further_before(gap).ends_with(char::is_numeric);
    gap.is_spaced()
        && list.split(' ').any(|own| own == word && !own.is_empty())
        && starts_name(gap)
        && !is_unit()
}

/// Whether a word is an initial or an abbreviation that stands before a name in a language, so that no phrase ends behind it.
pub(in crate::setting) fn shortens_name(word: &str, language: &str) -> bool {
    let word = opened(word);
    let list = before_names(Tongue::new(language).main());
    is_initial(word) || list.split(' ').any(|own| own == word && !own.is_empty())
}

/// Within an abbreviation of several words, of which the first is one small letter: `z. B.`, `p. ej.`, `т. е.`
pub(super) fn within_abbreviation(gap: &Gap<'_>) -> bool {
    let shortened = |word: &str, most: usize| {
        let letters = word.strip_suffix('.').unwrap_or_default();
        let count = letters.chars().count();
        (1..=most).contains(&count) && letters.chars().all(char::is_alphabetic)
    };
    let first = opened(gap.word_before());
    let next = gap.word_behind().trim_end_matches([',', ';', ':', ')']);
    gap.is_spaced()
        && first.starts_with(char::is_lowercase)
        && shortened(first, 1)
        && shortened(next, 3)
}

/// The word before the one that stands before a gap.
fn word_further_before<'r>(gap: &Gap<'r>) -> &'r str {
    let before = gap.before();
    let others = before[..before.len() - gap.word_before().len()].trim_end_matches(BLANK);
    others.rsplit(BLANK).next().unwrap_or_default()
}

/// A word without the marks that open before it.
fn opened(word: &str) -> &str {
    word.trim_start_matches(is_mark_around)
}

/// Whether a name, or any word with a capital, stands behind a gap.
fn starts_name(gap: &Gap<'_>) -> bool {
    let mut letters = opened(gap.word_behind()).chars();
    letters.next().is_some_and(char::is_uppercase)
}

/// Whether a word or a number stands behind a gap.
fn starts_word(gap: &Gap<'_>) -> bool {
    opened(gap.word_behind()).starts_with(char::is_alphanumeric)
}

fn is_initial(word: &str) -> bool {
    let mut signs = word.chars();
    let capital = signs.next().is_some_and(char::is_uppercase);
    capital && signs.next() == Some('.') && signs.next().is_none()
}
