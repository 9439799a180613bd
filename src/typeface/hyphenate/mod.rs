//! Hyphenation: where a word may be divided with a hyphen. This file and `carried` alone know the crate `hyphenation`.
//!
//! Points come from patterns made after F. M. Liang, *Word Hy-phen-a-tion by Com-put-er* (Stanford, 1983).
//! Around them stand guards for what patterns know nothing of: letters whose case changes their length, marks
//! written apart from their letters, compounds with hyphens of their own, addresses, and what the author says.

mod carried;
mod fold;
mod tags;

use std::collections::BTreeMap;

use hyphenation::{Hyphenator as _, Standard};

use fold::{ClusterKind, FoldedWord, WordCluster, fold};

/// The sign where an author wishes a word divided.
const SOFT_HYPHEN: char = '\u{ad}';

/// The signs that may show the points of an author's exceptions.
const WRITTEN: [char; 3] = ['-', '\u{2010}', SOFT_HYPHEN];

/// Words wholly in capitals of at most so many letters are not divided (common practice: they are mostly
/// abbreviations).
const SHORT_CAPITALS: usize = 4;

/// Fewest letters before and behind a hyphen, whatever the patterns of a language allow (common practice).
const FEWEST: usize = 2;

/// Exceptions that D. E. Knuth published with F. M. Liang's patterns for American English and put in the public
/// domain. The crate holds a later and longer list, which lacks them.
const PUBLISHED: [&str; 14] = [
    "as-so-ciate",
    "as-so-ciates",
    "dec-li-na-tion",
    "oblig-a-tory",
    "phil-an-thropic",
    "present",
    "presents",
    "project",
    "projects",
    "reci-procity",
    "re-cog-ni-zance",
    "ref-or-ma-tion",
    "ret-ri-bu-tion",
    "ta-ble",
];

/// Divides the words of one language.
#[derive(Clone, Debug)]
pub struct Hyphenator {
    patterns: Standard,
    /// Fewest letters before and behind a hyphen that patterns give.
    minima: (usize, usize),
    /// For each of the author's words, folded: how many clusters stand before each of its points.
    exceptions: BTreeMap<String, Vec<usize>>,
    /// Whether apostrophes belong to the words of the patterns.
    apostrophes: bool,
    turkish: bool,
}

impl Hyphenator {
    /// A hyphenator for a BCP 47 tag and the author's exceptions, which are words with a hyphen at each point
    /// (`win-ter-berg`; a word without any is never divided) and go before the patterns. They hold
    /// in every case and spelling of Unicode, and for a part of a word that hyphens or apostrophes set off.
    ///
    /// There is none where there are no patterns for the language. The patterns are loaded here, once.
    pub fn new(language: &str, exceptions: &[String]) -> Option<Hyphenator> {
        let code = tags::patterns_for(language)?;
        let mut patterns = carried::patterns(code)?;
        let (before, behind) = patterns.minima;
        // The crate counts characters, we count letters: it shall leave that to us.
        patterns.minima = (1, 1);
        let mut hyphenator = Hyphenator {
            patterns,
            minima: (before.max(FEWEST), behind.max(FEWEST)),
            exceptions: BTreeMap::new(),
            apostrophes: tags::APOSTROPHES.contains(&code),
            turkish: code == "tr",
        };
        if code == "en-us" {
            PUBLISHED.iter().for_each(|word| hyphenator.except(word));
        }
        exceptions.iter().for_each(|word| hyphenator.except(word));
        Some(hyphenator)
    }

    /// Whether there are patterns for a BCP 47 tag. Nothing is loaded.
    pub fn knows(language: &str) -> bool {
        tags::patterns_for(language).is_some()
    }

    /// The tags of the languages that there are patterns for, in alphabetical order.
    pub fn languages() -> Vec<&'static str> {
        tags::languages().collect()
    }

    /// Byte offsets at which a hyphen may be added in `word`, a token without spaces that may carry quotes,
    /// punctuation and dashes. All are borders of grapheme clusters, strictly inside and in order.
    ///
    /// Where a word has soft hyphens, its points are those behind them and no others; nothing is to be added
    /// to the text but the hyphen itself. Each part of a compound with hyphens of its own is divided by itself.
    pub fn points(&self, word: &str) -> Vec<usize> {
        if word.contains(SOFT_HYPHEN) {
            return behind_soft_hyphens(word);
        }
        if is_no_plain_word(word) {
            return Vec::new();
        }
        let folded = fold(word, self.turkish);
        let mut points = Vec::new();
        for core in folded.cores() {
            self.points_of(word, &folded, core, &mut points);
        }
        points
    }

    /// Remembers an exception.
    fn except(&mut self, written: &str) {
        let mut word = String::new();
        let mut marks = Vec::new();
        for c in written.trim().chars() {
            if WRITTEN.contains(&c) {
                marks.push(word.len());
            } else {
                word.push(c);
            }
        }
        let folded = fold(&word, self.turkish);
        let clusters = &folded.clusters;
        let place = |mark| clusters.iter().position(|cluster| cluster.at == mark);
        let mut points: Vec<usize> = marks.into_iter().filter_map(place).collect();
        points.retain(|&before| before > 0);
        points.dedup();
        self.exceptions.insert(folded.key(clusters), points);
    }

    /// The points of a run of letters.
    fn points_of(
        &self,
        word: &str,
        folded: &FoldedWord,
        core: &[WordCluster],
        points: &mut Vec<usize>,
    ) {
        if let Some(known) = self.exceptions.get(&folded.key(core)) {
            points.extend(
                known
                    .iter()
                    .filter_map(|&before| core.get(before))
                    .map(|cluster| cluster.at),
            );
            return;
        }
        let whole = self
            .apostrophes
            .then(|| self.by_patterns(word, folded, core));
        for piece in core.split(|cluster| cluster.kind == ClusterKind::Apostrophe) {
            let (Some(first), Some(last)) = (piece.first(), piece.last()) else {
                continue;
            };
            if let Some(known) = self.exceptions.get(&folded.key(piece)) {
                let at = known.iter().filter_map(|&before| piece.get(before));
                points.extend(at.map(|cluster| cluster.at));
            } else if let Some(whole) = &whole {
                points.extend(
                    whole
                        .iter()
                        .filter(|at| (first.at + 1..=last.at).contains(*at)),
                );
            } else {
                points.extend(self.by_patterns(word, folded, piece));
            }
        }
    }

    /// The points that patterns give, within the minima.
    fn by_patterns(&self, word: &str, folded: &FoldedWord, core: &[WordCluster]) -> Vec<usize> {
        let letters = core
            .iter()
            .filter(|cluster| cluster.kind == ClusterKind::Letter)
            .count();
        let (Some(first), Some(last)) = (core.first(), core.last()) else {
            return Vec::new();
        };
        let short =
            letters <= SHORT_CAPITALS && is_capitals(&word[first.at..last.at + last.length]);
        if short || letters < self.minima.0 + self.minima.1 {
            return Vec::new();
        }
        let found = self.patterns.opportunities(&folded.key(core));
        let mut before = 0;
        let mut points = Vec::new();
        for (cluster, behind) in core.iter().zip(core.iter().skip(1)) {
            before += usize::from(cluster.kind == ClusterKind::Letter);
            let far = before >= self.minima.0 && letters - before >= self.minima.1;
            let between = cluster.kind == ClusterKind::Letter && behind.kind == ClusterKind::Letter;
            if far && between && found.binary_search(&(behind.folded - first.folded)).is_ok() {
                points.push(behind.at);
            }
        }
        points
    }
}

/// The points behind each soft hyphen, or each run of them, that has something before and behind it.
fn behind_soft_hyphens(word: &str) -> Vec<usize> {
    let begin = word.len() - word.trim_start_matches(SOFT_HYPHEN).len();
    let found = word
        .match_indices(SOFT_HYPHEN)
        .map(|(at, sign)| at + sign.len());
    found
        .filter(|&at| at > begin && !word[at..].starts_with(SOFT_HYPHEN) && at < word.len())
        .collect()
}

/// Whether a word is an address or a path, or holds a figure: nothing is added within those.
fn is_no_plain_word(word: &str) -> bool {
    let within = |sign: char| {
        word.split(sign)
            .zip(word.split(sign).skip(1))
            .any(|(before, behind)| {
                before.ends_with(char::is_alphabetic) && behind.starts_with(char::is_alphabetic)
            })
    };
    word.contains(|c: char| c.is_numeric() || matches!(c, '@' | '/' | '\\' | '_'))
        || within('.')
        || within(':')
}

fn is_capitals(letters: &str) -> bool {
    letters.contains(char::is_uppercase) && !letters.contains(char::is_lowercase)
}
