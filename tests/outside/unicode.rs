//! Unicode's own conformance files (version 15.0, as Debian's `unicode-data` has them): breaks of lines and of
//! grapheme clusters.

use std::collections::{BTreeMap, BTreeSet};
use std::fs;
use std::path::Path;

use unicode_linebreak::linebreaks;
use unicode_segmentation::UnicodeSegmentation;
use versefold::setting::{Judgement, Tailoring, judgements, opportunities};

/// Where the files are.
const FOLDER: &str = "/usr/share/unicode/auxiliary";

/// A case of a file: how it is written, its text, and where it is to be broken.
struct Case {
    written: String,
    text: String,
    breaks: BTreeSet<usize>,
}

fn cases(file: &str) -> Vec<Case> {
    let path = Path::new(FOLDER).join(file);
    let lines =
        fs::read_to_string(&path).unwrap_or_else(|error| panic!("{}: {error}", path.display()));
    assert!(
        lines.contains("-15.0.0.txt"),
        "{file} is of another version"
    );
    let written = lines
        .lines()
        .map(|line| line.split('#').next().unwrap_or_default().trim());
    written
        .filter(|case| !case.is_empty())
        .map(read_case)
        .collect()
}

fn read_case(written: &str) -> Case {
    let (mut text, mut breaks) = (String::new(), BTreeSet::new());
    for sign in written.split_whitespace() {
        match sign {
            "÷" => {
                breaks.insert(text.len());
            }
            "×" => {}
            code => {
                let code = u32::from_str_radix(code, 16).expect("a code point");
                text.push(char::from_u32(code).expect("a character"));
            }
        }
    }
    Case {
        written: written.to_string(),
        text,
        breaks,
    }
}

/// Cases and reasons of a list beside this file: a reason in brackets stands above its cases.
fn listed(list: &str) -> BTreeMap<String, String> {
    let mut reason = "";
    let mut known = BTreeMap::new();
    for line in list
        .lines()
        .filter(|line| !line.starts_with('#') && !line.is_empty())
    {
        match line.strip_prefix('[') {
            Some(named) => reason = named.trim_end_matches(']'),
            None => {
                known.insert(line.to_string(), reason.to_string());
            }
        }
    }
    known
}

/// The cases that unicode-linebreak fails, no more and no fewer than those that are listed with their reasons.
#[test]
#[ignore = "needs Debian's unicode-data"]
fn the_standard_keeps_its_conformance_file_but_for_what_is_listed() {
    let cases = cases("LineBreakTest.txt");
    assert_eq!(cases.len(), 7_654);
    let fails = |case: &&Case| {
        let found: BTreeSet<usize> = linebreaks(&case.text).map(|(at, _)| at).collect();
        found != case.breaks
    };
    let failing: BTreeSet<&str> = cases
        .iter()
        .filter(fails)
        .map(|case| &*case.written)
        .collect();
    let known = listed(include_str!("line_break_failures.txt"));
    let known: BTreeSet<&str> = known.keys().map(String::as_str).collect();
    assert_eq!(failing, known);
    assert_eq!(failing.len(), 59);
}

/// Whether a tailoring can have anything to say about a place, told by what stands around it alone.
fn concerns(name: Tailoring, before: &str, behind: &str) -> bool {
    let word = before.trim_end_matches([' ', '\t']);
    let (last, first) = (word.chars().next_back(), behind.chars().next());
    let last = |signs: &str| last.is_some_and(|c| signs.contains(c));
    let first = |signs: &str| first.is_some_and(|c| signs.contains(c));
    let spaced = word.len() < before.len();
    match name {
        Tailoring::LaterRules => first("([{〈（「.,") || last("-‐־"),
        Tailoring::WholeClusters => true,
        Tailoring::ComplexScripts => !spaced && behind.chars().next() > Some('\u{e00}'),
        Tailoring::Addresses => !spaced,
        Tailoring::SoftHyphens => !spaced && last("\u{ad}"),
        Tailoring::Hyphens => !spaced && last("-‐֊־"),
        Tailoring::Slashes => !spaced && last("/"),
        Tailoring::DashesEndLines => first("–—―‒-") || last("–—―‒-"),
        Tailoring::DashesCling => last("–—―‒-"),
        Tailoring::Ellipses => first("…‥.") || last("….‥"),
        Tailoring::SpacedMarks => spaced && (first("“”‘’«»‹›\"„") || last("“”‘’«»‹›\"„")),
        Tailoring::FrenchGuillemets => first("»›") || last("«‹"),
        Tailoring::Units
        | Tailoring::Thousands
        | Tailoring::Initials
        | Tailoring::Abbreviations
        | Tailoring::OneLetterWords => spaced,
        Tailoring::KoreanWords => !spaced,
        Tailoring::EastAsianQuotes => first("“‘") || last("”’"),
        Tailoring::EastAsianLineStarts => first("·‧•･～〜"),
    }
}

/// Each place where we break otherwise than the standard: it is at a text's end, in a run of spaces with tabs, among
/// the failures that are listed, or decided by a tailoring that has to do with it.
#[test]
#[ignore = "needs Debian's unicode-data"]
fn every_difference_from_the_standard_has_a_name() {
    let failures = listed(include_str!("line_break_failures.txt"));
    for language in ["en", "fr", "ja", "ko", "th"] {
        let mut names: BTreeMap<String, usize> = BTreeMap::new();
        for case in cases("LineBreakTest.txt") {
            for (at, name) in differences(&case, language, &failures) {
                let (before, behind) = case.text.split_at(at);
                let name =
                    name.unwrap_or_else(|| panic!("{}: {before:?}|{behind:?}", case.written));
                *names.entry(name).or_default() += 1;
            }
        }
        println!("{language}: {names:?}");
        assert!(names.len() > 6, "{names:?}");
    }
}

fn differences(
    case: &Case,
    language: &str,
    failures: &BTreeMap<String, String>,
) -> Vec<(usize, Option<String>)> {
    let blank = |text: &str| text.chars().all(|c| c == ' ' || c == '\t');
    let judged = judgements(&case.text, language);
    let ours: BTreeSet<usize> = opportunities(&case.text, language)
        .iter()
        .map(|place| place.next)
        .collect();
    let breaks = |text: &str| -> BTreeSet<usize> { linebreaks(text).map(|(at, _)| at).collect() };
    let standard = breaks(&case.text);
    let without_tabs = breaks(&case.text.replace('\t', " "));
    let inner = |at: &&usize| **at > 0 && **at < case.text.len();
    let differing = case.breaks.symmetric_difference(&ours).filter(inner);
    let name = |&at: &usize| {
        let (before, behind) = case.text.split_at(at);
        let of_gap =
            |judgement: &&Judgement| (judgement.place.end..=judgement.place.next).contains(&at);
        let judgement = judged.iter().find(of_gap);
        let tailoring = judgement.and_then(|judgement| judgement.tailoring);
        let gap = case
            .text
            .split_at(judgement.map_or(at, |judgement| judgement.place.next));
        let as_one_place = |judgement: &Judgement| {
            let mut run = judgement.place.end..=judgement.place.next;
            let anywhere = run.any(|at| case.breaks.contains(&at));
            judgement.place.end < judgement.place.next && judgement.allowed == anywhere
        };
        let name = match tailoring {
            Some(name) if concerns(name, gap.0, gap.1) => format!("{name:?}"),
            // A text comes without line ends, behind which spaces would be apart.
            _ if judgement.is_some_and(as_one_place) => "a run of spaces is one place".to_string(),
            _ if blank(before) || blank(behind) => "at an end".to_string(),
            _ if standard.contains(&at) != without_tabs.contains(&at) => {
                "tabs are spaces".to_string()
            }
            _ if failures.contains_key(&case.written)
                && standard.contains(&at) == ours.contains(&at) =>
            {
                "a listed failure".to_string()
            }
            _ => return (at, None),
        };
        (at, Some(name))
    };
    differing.map(name).collect()
}

/// Grapheme clusters as unicode-segmentation (Unicode 17.0) has them, but for the cases that later versions changed;
/// and no break of ours lies within one.
#[test]
#[ignore = "needs Debian's unicode-data"]
fn clusters_are_those_of_the_conformance_file() {
    let cases = cases("GraphemeBreakTest.txt");
    assert_eq!(cases.len(), 602);
    let mut differing = BTreeSet::new();
    for case in &cases {
        let mut found: BTreeSet<usize> =
            case.text.grapheme_indices(true).map(|(at, _)| at).collect();
        found.insert(case.text.len());
        for place in ["en", "ja", "th"]
            .iter()
            .flat_map(|language| opportunities(&case.text, language))
        {
            assert!(
                found.contains(&place.end) && found.contains(&place.next),
                "{}",
                case.written
            );
        }
        if found != case.breaks {
            differing.insert(case.written.as_str());
        }
    }
    let known = listed(include_str!("cluster_changes.txt"));
    assert_eq!(differing, known.keys().map(String::as_str).collect());
}
