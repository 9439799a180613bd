//! UAX #14 of Unicode 15.0, from which the tailorings start, against another maker's of 17.0, on every text there is:
//! they differ only where the rules were changed between the two, and each such place is named.

use std::collections::{BTreeMap, BTreeSet};

use icu_segmenter::LineSegmenter;
use unicode_linebreak::{BreakClass, break_property, linebreaks};
use versefold::setting::{Tailoring, judgements};

use crate::support::texts::every_file;

/// What was changed; from the lists of modifications of UAX #14.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
enum Change {
    /// LB20a, 16.0: no break behind a hyphen that begins a word. Our tailorings say the same.
    HyphenBeginsWord,
    /// LB15a, 15.1: no break behind an opening quotation mark that stands apart.
    OpeningMarkApart,
    /// LB15 until 15.0: no break at spaces between a quotation mark and an opening bracket.
    BracketBehindQuotation,
    /// LB15c, 16.0: a break before a fraction without its nought.
    FractionWithoutNought,
    /// LB21a until 15.1: no break behind a hyphen between Hebrew letters.
    HebrewHyphen,
}

fn change(line: &str, at: usize, older: bool) -> Option<Change> {
    use BreakClass as B;
    let class = |c: Option<char>| c.map(|c| break_property(c as u32));
    let before = line[..at].trim_end_matches(' ');
    let spaced = before.len() < at;
    let mut behind = line[at..].chars();
    let (last, first) = (class(before.chars().next_back())?, class(behind.next())?);
    let next = class(behind.next());
    let word = before.strip_suffix('-');
    let begins = word.is_some_and(|word| word.is_empty() || word.ends_with(' '));
    match (older, last, spaced, first) {
        (true, B::Hyphen, false, B::Alphabetic) if begins => Some(Change::HyphenBeginsWord),
        (true, B::Quotation, true, B::Alphabetic) => Some(Change::OpeningMarkApart),
        (false, B::Quotation, true, B::OpenPunctuation) => Some(Change::BracketBehindQuotation),
        (false, _, true, B::InfixSeparator) if next == Some(B::Numeric) => {
            Some(Change::FractionWithoutNought)
        }
        (false, B::After, false, B::HebrewLetter) => Some(Change::HebrewHyphen),
        _ => None,
    }
}

#[test]
fn real_texts_are_broken_as_another_segmenter_breaks_them() {
    let newer = LineSegmenter::new_17_for_non_complex_scripts(Default::default());
    let mut changes: BTreeMap<Change, usize> = BTreeMap::new();
    let mut breaks = 0;
    for (language, text) in every_file() {
        // Neither is asked for the words of scripts without spaces.
        for line in text.lines().filter(|_| language != "th") {
            let older: BTreeSet<usize> = linebreaks(line).map(|(at, _)| at).collect();
            let newer: BTreeSet<usize> = newer.segment_str(line).filter(|&at| at > 0).collect();
            breaks += older.len();
            let judged = judgements(line, &language);
            for &at in older.symmetric_difference(&newer) {
                let change = change(line, at, older.contains(&at));
                let change = change.unwrap_or_else(|| panic!("{}|{}", &line[..at], &line[at..]));
                *changes.entry(change).or_default() += 1;
                // Whatever they disagree about, we do as the newer rules have it, or a tailoring says why not.
                let ours = judged.iter().find(|judgement| judgement.place.next == at);
                let allowed = ours.is_some_and(|judgement| judgement.allowed);
                let name = ours.and_then(|judgement| judgement.tailoring);
                let own = name.is_some_and(|name| name != Tailoring::LaterRules);
                assert!(allowed == newer.contains(&at) || own, "{line}: {ours:?}");
            }
        }
    }
    println!("{breaks} breaks, of which these differ: {changes:?}");
    assert!(breaks > 2_000, "only {breaks} breaks");
}
