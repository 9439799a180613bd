//! Numbers with their units and signs.

use super::gap::Gap;
use super::marks::is_mark_around;

/// Units that stand behind a number, in any language.
const UNITS: &str = "% ‰ ° °C °F K km m dm cm mm µm ha kg g mg t l dl cl ml km² m² cm² m³ h min s ms km/h m/s kWh kW W \
    V A Hz € $ £ ¥ ¢ kr Kč zł Ft CHF EUR USD GBP SEK NOK DKK pt px";

/// Signs that stand before a number, in any language.
const SIGNS: &str = "§ §§ ¶ № # € $ £ ¥ CHF EUR USD GBP p. pp. ± ~ ≈";

/// More units of some languages.
fn more_units(language: &str) -> &'static str {
    match language {
        "en" => "am pm a.m. p.m. AM PM A.M. P.M. o’clock o'clock mph mi ft yd lb lbs oz bhp",
        "de" => "Uhr Std. Min. Sek. Mio. Mrd. Fr. Rp.",
        "fr" => "h. fr. F",
        "da" | "nb" | "nn" | "no" | "sv" => "kr. kl. mil",
        "ru" | "uk" | "bg" | "be" => "км м см мм кг г г. гг. р. руб. ч мин с %",
        "pl" => "r. w. zł. gr godz.",
        "fi" => "mk p",
        _ => "",
    }
}

/// More signs of some languages.
fn more_signs(language: &str) -> &'static str {
    match language {
        "en" => "No. Nos. no. nos. vol. ch. fig. Fig. ca. c. l. ll.",
        "de" => "Nr. Nrn. S. Bd. Kap. Abb. Art. ca. Fr. Z.",
        "fr" => "n° N° nº no no. vol. chap. fig. art. t. f. h",
        "es" | "pt" | "gl" | "ca" => "n.º N.º n.° nº núm. núms. pág. págs. cap. fig. vol. art.",
        "it" => "n. nn. pag. pagg. cap. fig. vol. art.",
        "da" | "nb" | "nn" | "no" | "sv" => "nr. nr s. kap. bd. fig. kl. ca.",
        "nl" => "nr. nrs. blz. hfdst. afb. art. ca.",
        "pl" => "nr Nr nry s. str. t. rozdz. rys. art. ok.",
        "ru" | "uk" | "bg" | "be" => "с. стр. гл. т. рис. ст. п. ок.",
        "cs" | "sk" | "sl" | "hr" => "č. str. s. kap. obr. sv. čl. st.",
        "fi" => "nro n:o s. ss. luku",
        "hu" => "kb. kötet",
        "el" => "αρ. σελ. κεφ. τ.",
        _ => "",
    }
}

/// Between a number and its unit, or a sign and its number.
pub(super) fn at_unit(gap: &Gap<'_>) -> bool {
    if !gap.is_spaced() {
        return false;
    }
    let language = gap.tongue().main();
    let (before, behind) = (gap.word_before(), gap.word_behind());
    let listed = |list: &str, word: &str| list.split(' ').any(|own| !own.is_empty() && own == word);
    if before.ends_with(char::is_numeric) {
        let bare = behind.trim_end_matches(is_closing);
        let unit = |word| listed(UNITS, word) || listed(more_units(language), word);
        if unit(bare) || unit(bare.trim_end_matches('.')) {
            return true;
        }
    }
    if behind.starts_with(char::is_numeric) {
        let bare = before.trim_start_matches(is_mark_around);
        return listed(SIGNS, bare) || listed(more_signs(language), bare);
    }
    false
}

/// What may close behind a unit; a full stop may belong to it.
pub(super) fn is_closing(c: char) -> bool {
    is_mark_around(c) || matches!(c, ',' | ';' | ':' | '!' | '?' | '…')
}

/// Between figures: one to three before, and three behind.
pub(super) fn within_thousands(gap: &Gap<'_>) -> bool {
    if !gap.is_spaced() {
        return false;
    }
    let is_figure = |c: &char| c.is_ascii_digit();
    let mut before = gap.before().chars().rev();
    let behind = gap.behind().chars();
    let figures_before = before.clone().take_while(is_figure).take(4).count();
    let figures_behind = behind.take_while(is_figure).take(4).count();
    // In `1.5 000` or `A4 000` they are no thousands.
    let alone = before.nth(figures_before).is_none_or(|c| {
        c.is_whitespace()
            || is_mark_around(c)
            || matches!(c, '−' | '-' | '+' | '–' | '$' | '€' | '£')
    });
    (1..=3).contains(&figures_before) && figures_behind == 3 && alone
}
