//! Turnovers: where a verse line that does not fit its measure is broken.
//!
//! As few pieces as can be; then, in the order in which rules are kept longest: words that are written without spaces
//! are parted at a space, every turned-over piece has at least two words, the first piece fills at least two thirds of the
//! measure (half of it, where the next piece starts well; a third of it in any case), and each turned-over piece starts after punctuation or before a
//! phrase. Among what is then alike, the first piece is as full as can be, then the second, and so on. The indent gives way last of all, so it is the caller who tries
//! smaller ones. No piece is ever hyphenated, and none starts with a dash or an ellipsis.

use std::ops::Range;

use icu_properties::CodePointMapData;
use icu_properties::props::GeneralCategory;

use super::opportunities::{BreakKind, Opportunity, is_unspaced, opportunities};
use crate::names::Length;

/// A place where a line may be broken.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Break {
    /// Where the first piece's words end.
    pub end: usize,
    /// Where the next piece's words begin.
    pub next: usize,
    /// Whether the next piece starts after punctuation or before a phrase; where words are written without spaces,
    /// a space is such a place.
    pub good: bool,
    /// Whether it parts words that are written without spaces, where no space is.
    pub unspaced: bool,
}

/// Which rules a division could not keep; compared in this order, less is better.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, PartialOrd, Ord)]
pub struct Giving {
    /// How many pieces there are.
    pub pieces: usize,
    /// Turned-over pieces before which no space is, in a script without spaces between words.
    pub unspaced: usize,
    /// Turned-over pieces of a single word.
    pub single_words: usize,
    /// 1 where the first piece fills less than two thirds, or less than half where what follows starts well; 2 where it
    /// fills less than a third.
    pub short_first: usize,
    /// Turned-over pieces that start neither after punctuation nor before a phrase.
    pub bad_starts: usize,
}

/// A line, divided.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Divided {
    /// The bytes of each piece.
    pub pieces: Vec<Range<usize>>,
    /// What it could not keep.
    pub giving: Giving,
}

/// The breaks of a line's text from byte `from` on: its [`opportunities`], but never within a word, never before a
/// dash or an ellipsis, and never after a hyphen, which would read as a hyphenated word. `phrase` tells whether a phrase
/// begins between the words before and behind a place: see [`begins_phrase`].
pub fn breaks(
    text: &str,
    from: usize,
    language: &str,
    phrase: impl Fn(&str, &str) -> bool,
) -> Vec<Break> {
    breaks_among(opportunities(text, language), text, from, phrase)
}

/// The breaks of a line, as [`breaks`] finds them, among the places where a text may be broken at all.
pub(super) fn breaks_among(
    places: Vec<Opportunity>,
    text: &str,
    from: usize,
    phrase: impl Fn(&str, &str) -> bool,
) -> Vec<Break> {
    places
        .into_iter()
        .filter(|place| place.kind != BreakKind::Within)
        .filter_map(|Opportunity { end, next, kind }| {
            let (before, behind) = (text.get(from..end)?, &text[next..]);
            let words = !before.trim_matches([' ', '\t']).is_empty();
            (words && may_begin(behind) && !ends_in_hyphen(before)).then(|| Break {
                end,
                next,
                good: ends_in_pause(before)
                    || phrase(before, behind)
                    || kind == BreakKind::Space && before.ends_with(is_unspaced),
                unspaced: kind != BreakKind::Space
                    && (before.ends_with(is_unspaced) || behind.starts_with(is_unspaced)),
            })
        })
        .collect()
}

/// Whether a sign closes a bracket or a quotation (Unicode Standard, 4.5: general categories Pe and Pf). Some languages
/// turn quotation marks about and open with these, but none of those sets them apart by spaces.
fn closes(c: char) -> bool {
    closes_bracket(c) || category(c) == GeneralCategory::FinalPunctuation
}

fn category(c: char) -> GeneralCategory {
    CodePointMapData::new().get(c)
}

/// Whether a sign closes a bracket, such as `)`, `}` or `」`, which no language opens with.
fn closes_bracket(c: char) -> bool {
    category(c) == GeneralCategory::ClosePunctuation
}

/// Whether a piece may begin with these words: never with a dash or an ellipsis, nor with a bracket that closes, nor with
/// a quotation mark that closes and stands apart.
pub fn may_begin(words: &str) -> bool {
    let opens = ['“', '‘', '„', '‚', '«', '‹', '»', '›', '"', '\'', '(', '['];
    let first = words.trim_start_matches(opens);
    let first = if first.is_empty() { words } else { first };
    let word = words.split([' ', '\t']).next().unwrap_or_default();
    let closing =
        words.starts_with(closes_bracket) || (!word.is_empty() && word.chars().all(closes));
    !(closing || starts_with_dash(first) || first.starts_with('…') || first.starts_with(".."))
}

fn starts_with_dash(words: &str) -> bool {
    words.starts_with(['–', '—', '―', '‒', '-', '‐', '‑', '−'])
}

fn ends_in_hyphen(words: &str) -> bool {
    // A hyphen that stands alone between spaces is a dash.
    words.ends_with(['-', '‐', '\u{ad}']) && !words.ends_with(" -") && !words.ends_with("--")
}

fn ends_in_pause(words: &str) -> bool {
    let bare = words.trim_end_matches(|c| closes(c) || matches!(c, '"' | '\'' | '*'));
    bare.ends_with([
        ',', ';', ':', '.', '!', '?', '…', '—', '–', '·', ';', '،', '؛', '，', '、', '；', '：',
        '。', '！', '？',
    ]) || bare.ends_with(" -")
        || bare.ends_with("--")
}

/// Divides the text from byte `from` into pieces that fit: the first within `first`, the others within
/// `rest`. `width` measures a stretch.
///
/// Nothing where no division fits.
pub fn divide(
    text: &str,
    from: usize,
    breaks: &[Break],
    first: Length,
    rest: Length,
    width: impl Fn(Range<usize>) -> Length,
) -> Option<Divided> {
    let limits = [first, rest];
    divide_along(text, from, breaks, &limits, |_, stretch| width(stretch))
}

/// Divides the text as [`divide`] does where each piece has a limit of its own; all behind those have the last. `width` is
/// also told the limit.
pub(super) fn divide_along(
    text: &str,
    from: usize,
    breaks: &[Break],
    limits: &[Length],
    width: impl Fn(Length, Range<usize>) -> Length,
) -> Option<Divided> {
    let end = text.trim_end_matches([' ', '\t']).len();
    // Pieces behind these have the same limit, and so the same ways to go on. The first is judged otherwise.
    let alike = limits.iter().rev();
    let alike = alike.take_while(|limit| Some(*limit) == limits.last());
    let steady = limits.len().saturating_sub(alike.count()).max(1);
    let first = *limits.first()?;
    let mut search = Search {
        text,
        end,
        breaks,
        limits,
        steady,
        width: &width,
        known: vec![None; (breaks.len() + 1) * steady],
    };
    let mut best: Option<Candidate> = None;
    for (index, at) in search.ends_from(0) {
        let wide = width(first, from..at);
        if wide > first {
            break;
        }
        let short = shortness(wide, first, breaks.get(index));
        let Some(tail) = search.tail_behind(index, 1) else {
            continue;
        };
        let giving = Giving {
            pieces: tail.giving.pieces + 1,
            short_first: short,
            ..tail.giving
        };
        consider(&mut best, index, giving);
    }
    let best = best?;
    let mut pieces = Vec::new();
    let (mut start, mut index) = (from, best.index);
    loop {
        let piece_end = search.end_of(index);
        pieces.push(start..piece_end);
        if index == breaks.len() {
            break;
        }
        start = breaks[index].next;
        index = search.known[search.key(index, pieces.len())]
            .as_ref()
            .and_then(|tail| tail.as_ref())?
            .index;
    }
    Some(Divided {
        pieces,
        giving: best.giving,
    })
}

/// How much too little of its measure a first piece this wide fills, which ends at a break if it is not the whole line.
fn shortness(wide: Length, measure: Length, at: Option<&Break>) -> usize {
    match at {
        None => 0,
        Some(_) if wide * 3 < measure => 2,
        Some(at) if at.good => usize::from(wide * 2 < measure),
        Some(_) => usize::from(wide * 3 < measure * 2),
    }
}

/// The best way to go on from some place: which break ends the next piece, and what it costs to the end.
#[derive(Clone, Copy)]
struct Candidate {
    index: usize,
    giving: Giving,
}

/// Later candidates win where all is alike: their piece is fuller.
fn consider(best: &mut Option<Candidate>, index: usize, giving: Giving) {
    if best.is_none_or(|known| giving <= known.giving) {
        *best = Some(Candidate { index, giving });
    }
}

struct Search<'a> {
    text: &'a str,
    end: usize,
    breaks: &'a [Break],
    /// The limit of each piece.
    limits: &'a [Length],
    /// From this piece on, which is none of the first, all have the last limit.
    steady: usize,
    width: &'a dyn Fn(Length, Range<usize>) -> Length,
    /// The best tail behind each break, by the number of the piece that begins there.
    known: Vec<Option<Option<Candidate>>>,
}

impl Search<'_> {
    /// Ends of a piece that begins behind break `from − 1`: break indices, and the text's own end last.
    fn ends_from(&self, from: usize) -> Vec<(usize, usize)> {
        (from..=self.breaks.len())
            .map(|index| (index, self.end_of(index)))
            .collect()
    }

    fn end_of(&self, index: usize) -> usize {
        self.breaks.get(index).map_or(self.end, |at| at.end)
    }

    /// Where what is known of a break is kept, if the piece of this number (from 0, never the first) follows it.
    fn key(&self, index: usize, piece: usize) -> usize {
        index * self.steady + piece.min(self.steady) - 1
    }

    /// The best way to set all that follows break `index`, from the piece of this number on; nothing costs nothing.
    fn tail_behind(&mut self, index: usize, piece: usize) -> Option<Candidate> {
        if index == self.breaks.len() {
            return Some(Candidate {
                index,
                giving: Giving::default(),
            });
        }
        let key = self.key(index, piece);
        if let Some(known) = self.known[key] {
            return known;
        }
        let here = self.breaks[index];
        let limit = self.limits[piece.min(self.limits.len() - 1)];
        let mut best = None;
        for (next, at) in self.ends_from(index + 1) {
            if (self.width)(limit, here.next..at) > limit {
                break;
            }
            let Some(tail) = self.tail_behind(next, piece + 1) else {
                continue;
            };
            // Where words are not parted by spaces, they are where it may be broken.
            let spaced = super::sources::words_of(&self.text[here.next..at]).nth(1);
            let single = next == index + 1 && spaced.is_none();
            let giving = Giving {
                pieces: tail.giving.pieces + 1,
                single_words: tail.giving.single_words + usize::from(single),
                unspaced: tail.giving.unspaced + usize::from(here.unspaced),
                short_first: 0,
                bad_starts: tail.giving.bad_starts + usize::from(!here.good),
            };
            consider(&mut best, next, giving);
        }
        self.known[key] = Some(best);
        best
    }
}

/// Whether a phrase begins with the words behind a place: with one of the commonest prepositions, conjunctions and
/// relatives. Behind such a word it has begun already, so that none is left at a line's end (`and / on the right`),
/// but for a conjunction: what stands before that may be an adverb (`looked up / and saw`).
/// For languages without a list only punctuation counts.
pub fn begins_phrase(language: &str, before: &str, behind: &str) -> bool {
    let last = before.rsplit([' ', '\t']).next().unwrap_or_default();
    let first = behind.split([' ', '\t']).next().unwrap_or_default();
    let Some([joining, others]) = phrase_words(language) else {
        return false;
    };
    let holds = |list: &str, word: &str| list.split(' ').any(|own| own == word);
    let (last, first) = (bare(last), bare(first));
    let is_behind_one = holds(joining, &last) || holds(others, &last);
    holds(joining, &first) || (holds(others, &first) && !is_behind_one)
}

/// A word in small letters without what stands around it.
fn bare(word: &str) -> String {
    let letters = word.chars().filter(|c| c.is_alphabetic() || *c == '’');
    letters.flat_map(char::to_lowercase).collect()
}

/// Words that begin a phrase: conjunctions that join what is alike, and the others.
fn phrase_words(language: &str) -> Option<[&'static str; 2]> {
    Some(match language.split('-').next().unwrap_or_default() {
        "en" => EN,
        "de" => DE,
        "fr" => FR,
        "es" => ES,
        "it" => IT,
        "da" | "nb" | "nn" | "no" => DA,
        "sv" => SV,
        "nl" => NL,
        "pl" => PL,
        "ru" => RU,
        _ => return None,
    })
}

const EN: [&str; 2] = [
    "and or but nor",
    "for yet so as if when where while till until that which who whose whom \
    than then of in on at by with without to from into onto upon over under above below beneath beside \
    between among through across against along around about after before behind beyond near off out up \
    down like unto toward towards amid amidst because though although",
];
const DE: [&str; 2] = [
    "und oder aber denn",
    "doch als wenn wo wie weil daß dass ob bis damit der die das den dem \
    des in im an am auf aus bei beim mit nach von vom zu zum zur über unter vor hinter neben zwischen \
    durch für gegen ohne um",
];
const FR: [&str; 2] = [
    "et ou mais ni car",
    "que qui dont où quand comme si lorsque puisque de du des dans en à au \
    aux par pour sur sous avec sans vers chez entre devant derrière après avant contre depuis",
];
const ES: [&str; 2] = [
    "y e o u pero ni",
    "que quien cuyo donde cuando como si aunque porque de del en a al por \
    para con sin sobre bajo ante tras entre desde hasta hacia contra según",
];
const IT: [&str; 2] = [
    "e ed o ma né",
    "che cui dove quando come se perché di del della dei delle in nel nella a \
    al alla da dal dalla con su sul sulla per tra fra senza sotto sopra verso",
];
const DA: [&str; 2] = [
    "og eller men",
    "for som der at hvor når da hvis fordi mens i på af til fra med uden over \
    under ved om efter før bag mellem gennem mod hos",
];
const SV: [&str; 2] = [
    "och eller men",
    "för som att där när då om medan i på av till från med utan över under vid \
    efter före bakom mellan genom mot hos",
];
const NL: [&str; 2] = [
    "en of maar",
    "want dat die wie waar als toen omdat terwijl in op aan van voor met zonder \
    naar uit bij over onder door tussen tegen om na achter",
];
const PL: [&str; 2] = [
    "i a lub albo ale",
    "lecz że który która które gdzie gdy kiedy jak jeśli bo w we na z ze do \
    od po za przed przez pod nad o u przy dla bez między",
];
const RU: [&str; 2] = [
    "и а но или",
    "что чтобы который которая где когда как если ибо в во на с со к ко от из у о \
    об по за под над перед при для без через между до",
];
