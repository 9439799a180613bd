//! Where a text may be broken into lines: UAX #14 (Unicode 15.0), the words of scripts written without spaces, and
//! a small layer of tailorings, each with its name and its reason.
//!
//! The standard proposes, a few tailorings propose more, and each of the others may forbid what is proposed.
//! [`judgements`] tells of every place what was proposed and which tailoring decided; [`opportunities`] gives what
//! is left.

mod addresses;
mod dashes;
mod east_asian;
mod gap;
mod hyphens;
mod marks;
mod names;
mod numbers;
mod standard;

use gap::{Gap, Reading};
pub(super) use names::shortens_name;
pub(super) use standard::is_unspaced;

/// A place where a line may end.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Opportunity {
    /// Where the words of the line end.
    pub end: usize,
    /// Where the words of the next line begin; between the two are only spaces and tabs.
    pub next: usize,
    /// What kind of place it is.
    pub kind: BreakKind,
}

/// What a line is broken at.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum BreakKind {
    /// At spaces: the line ends before them, the next begins behind them.
    Space,
    /// Within a word that counts as divided, though nothing is added: behind a hard hyphen or a slash, within a web
    /// address, behind the dash of a range of years.
    Within,
    /// Between words that no space parts: Thai words, ideographs, behind an em dash. No word is divided.
    Between,
}

/// Why a place is judged otherwise than UAX #14 judges it.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Tailoring {
    /// Breaks that rules of UAX #14 allow and unicode-linebreak does not know: before a wide bracket behind letters
    /// (LB30 of 15.0 itself), between a quotation that has ended and a bracket (LB15 until 15.0), before a
    /// fraction without its nought, `.04` (LB15c of 16.0), and behind a hyphen between Hebrew letters (LB21a of 16.0).
    LaterRules,
    /// No grapheme cluster is broken, not even where a mark stands behind a space.
    WholeClusters,
    /// Thai, Lao, Khmer and Burmese are written without spaces; their words are found in a dictionary. The standard
    /// leaves them to implementations (class SA). Where the dictionary does not know a word, no vowel is parted from its
    /// consonant.
    ComplexScripts,
    /// Web and e-mail addresses are broken behind `://` and other colons and before `/ . , - _ ~ ? # % = & @ +`, never
    /// behind a hyphen, which would seem to be added (common practice, as in the Chicago Manual of Style). At least
    /// three characters stand on either side.
    Addresses,
    /// A soft hyphen adds a hyphen, and so it is for hyphenation to offer.
    SoftHyphens,
    /// A word is broken behind its own hyphen only where two letters or more stand on either side (common practice):
    /// not behind the hyphen of `-ing`, `e-mail` or `1974-75`.
    Hyphens,
    /// A slash is broken behind only between longer words, of four letters or more (common practice): `driver/conductor`,
    /// not `and/or` or `km/h`.
    Slashes,
    /// A dash ends a line and does not begin one: the break is behind it, also before an opening quotation mark, and
    /// for a dash between spaces behind those that follow (common practice). Chinese and Japanese lines may begin
    /// with a dash (CLREQ, JLREQ).
    DashesEndLines,
    /// A dash that clings to the word behind it alone is not parted from it (`—dijo`, as the Spanish raya), nor is the
    /// dash that opens a paragraph of dialogue from its first word, with or without a space (common practice in
    /// Spanish, French, Polish, Russian and others).
    DashesCling,
    /// No line begins with an ellipsis, nor does one end behind the ellipsis that the text begins with (common
    /// practice).
    Ellipses,
    /// A quotation mark that stands apart by spaces stays with what it encloses: `« le col »`. Whether
    /// it opens or closes is told by its place, its shape and the language, for some turn them about.
    SpacedMarks,
    /// French: a space before » and behind « is never a break, even if what is written next to it is no word
    /// (common practice). UAX #14 has the same of `; : ! ?`.
    FrenchGuillemets,
    /// A number stays with its unit or sign, though an ordinary space is between: `10 km`, `5 %`, `§ 12`, `No. 7`
    /// (common practice).
    Units,
    /// Spaces within a number part its thousands: `1 000 000` (ISO 80000-1).
    Thousands,
    /// The initials of a name stay together and with the name: `J. S. Brown` (common practice).
    Initials,
    /// An abbreviation before a name stays with it, `Dr. Brown`, `Mme Vidal`, `г. Тверь`, and one of several words, of which
    /// the first is a single letter, is not parted: `z. B.`, `p. ej.` (common practice).
    Abbreviations,
    /// Czech, Slovak, Polish and Russian: a preposition or conjunction of one letter stays with the next word: `v lese`,
    /// `w lesie`, `в лесу` (ČSN 01 6910 and STN 01 6910, from memory; in Polish and Russian common practice).
    OneLetterWords,
    /// Korean is broken at spaces (common practice for books).
    KoreanWords,
    /// Chinese and Japanese: ‘ and “ are opening brackets, ’ and ” closing ones, which may be parted from the
    /// ideographs around (CLREQ, JLREQ; UAX #14 has it since version 16.0).
    EastAsianQuotes,
    /// Chinese and Japanese: no line begins with a middle dot or a wave dash, whatever sign is used for them (CLREQ,
    /// JLREQ). The rules for small kana, iteration marks, brackets and stops are those of UAX #14, whose class CJ is
    /// taken for NS.
    EastAsianLineStarts,
}

/// What came of a place.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Judgement {
    /// The place.
    pub place: Opportunity,
    /// Whether UAX #14 allows a break there, tabs being taken for spaces.
    pub standard: bool,
    /// Whether it is allowed here.
    pub allowed: bool,
    /// Which tailoring made the difference, or forbade what another had proposed.
    pub tailoring: Option<Tailoring>,
}

/// Where the text of a paragraph or verse line may be broken, in order; `language` is a BCP 47 tag. Nothing before
/// the first word and behind the last.
pub fn opportunities(text: &str, language: &str) -> Vec<Opportunity> {
    let judged = judgements(text, language).into_iter();
    judged
        .filter(|judgement| judgement.allowed)
        .map(|judgement| judgement.place)
        .collect()
}

/// Every place at which the standard or a tailoring proposes a break, in order, with what came of it.
pub fn judgements(text: &str, language: &str) -> Vec<Judgement> {
    let reading = Reading::new(text, language);
    let mut proposed: Vec<(usize, Option<Tailoring>)> = Vec::new();
    let mut propose = |by: Option<Tailoring>, places: Vec<usize>| {
        proposed.extend(places.into_iter().map(|at| (at, by)));
    };
    propose(None, standard::breaks(text));
    propose(Some(Tailoring::LaterRules), standard::later_rules(text));
    propose(
        Some(Tailoring::ComplexScripts),
        standard::words_of_complex_scripts(text),
    );
    propose(Some(Tailoring::Addresses), reading.address_breaks());
    propose(Some(Tailoring::DashesEndLines), dashes::behind_dashes(text));
    propose(
        Some(Tailoring::EastAsianQuotes),
        east_asian::quotes(&reading),
    );
    proposed.sort_unstable();
    let mut gaps: Vec<Gap<'_>> = Vec::new();
    for (at, by) in proposed {
        match gaps.last_mut() {
            // Several places in one run of spaces are one, and so are several reasons for one place.
            Some(last) if at <= last.next => last.proposed_by(by),
            _ => gaps.extend(Gap::at(&reading, at, by)),
        }
    }
    gaps.iter().map(judge).collect()
}

/// Whether a tailoring forbids a break.
type Forbids = fn(&Gap<'_>) -> bool;

/// The tailorings that forbid, in the order in which they are asked. Within an address they have no say.
const FORBIDDING: [(Tailoring, Forbids); 18] = [
    (Tailoring::SoftHyphens, hyphens::behind_soft_hyphen),
    (Tailoring::Hyphens, hyphens::behind_hyphen),
    (Tailoring::Slashes, hyphens::behind_slash),
    (Tailoring::DashesEndLines, dashes::before_dash),
    (Tailoring::DashesCling, dashes::behind_clinging_dash),
    (Tailoring::Ellipses, dashes::at_ellipsis),
    (Tailoring::SpacedMarks, marks::at_spaced_mark),
    (Tailoring::FrenchGuillemets, marks::at_french_guillemet),
    (Tailoring::Units, numbers::at_unit),
    (Tailoring::Thousands, numbers::within_thousands),
    (Tailoring::Initials, names::behind_initial),
    (Tailoring::Abbreviations, names::before_name),
    (Tailoring::Abbreviations, names::within_abbreviation),
    (Tailoring::OneLetterWords, names::behind_one_letter),
    (
        Tailoring::ComplexScripts,
        standard::within_word_of_complex_script,
    ),
    (Tailoring::KoreanWords, east_asian::within_korean),
    (Tailoring::EastAsianLineStarts, east_asian::at_line_start),
    (Tailoring::WholeClusters, |gap| gap.within_cluster()),
];

fn judge(gap: &Gap<'_>) -> Judgement {
    let (allowed, tailoring) = if gap.in_address() {
        let allowed = gap.by == Some(Tailoring::Addresses);
        (allowed, Some(Tailoring::Addresses))
    } else {
        let forbidding = FORBIDDING.iter().find(|(_, forbids)| forbids(gap));
        (
            forbidding.is_none(),
            forbidding.map(|(name, _)| *name).or(gap.by),
        )
    };
    Judgement {
        place: Opportunity {
            end: gap.end,
            next: gap.next,
            kind: kind(gap),
        },
        standard: gap.standard,
        allowed,
        tailoring: tailoring.filter(|_| !(gap.standard && allowed)),
    }
}

fn kind(gap: &Gap<'_>) -> BreakKind {
    if gap.is_spaced() {
        BreakKind::Space
    } else if gap.in_address() || hyphens::divides(gap) {
        BreakKind::Within
    } else {
        BreakKind::Between
    }
}
