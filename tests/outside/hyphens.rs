//! Hyphenation, as another program (PyPI `pyphen`) reads the same patterns.

use std::collections::BTreeSet;
use std::fs;
use std::path::{Path, PathBuf};
use std::process::Command;

use hyphenation::Language;
use unicode_segmentation::UnicodeSegmentation;
use versefold::typeface::Hyphenator;

use super::says;
use super::support::temporary;
use super::support::texts::every_file;

/// Prints, for each word of the last file, its points as the dictionary has them; a dictionary is a file or the
/// name of one that comes with pyphen. The first two arguments are the fewest letters before and behind.
const DIVIDE: &str = "
import sys
from pathlib import Path
from pyphen import Pyphen
left, right, dictionary, words = sys.argv[1:]
named = {'filename': Path(dictionary)} if dictionary.endswith('.dic') else {'lang': dictionary}
divide = Pyphen(left=int(left), right=int(right), **named)
for word in Path(words).read_text('utf-8').split():
    print(word, *divide.positions(word))
";

/// Exceptions published with the patterns, which are no part of the crate's files: see `tests/hyphenation.rs`.
const PUBLISHED: &str = "associate associates declination obligatory philanthropic present presents project \
    projects reciprocity recognizance reformation retribution table";

/// Where the crate `hyphenation` keeps its patterns as text.
fn patterns() -> PathBuf {
    let ran = Command::new(env!("CARGO"))
        .args(["metadata", "--format-version", "1"])
        .output();
    let said = ran.expect("cargo runs").stdout;
    let said: serde_json::Value = serde_json::from_slice(&said).expect("JSON");
    let packages = said["packages"].as_array().expect("packages");
    let package = packages
        .iter()
        .find(|package| package["name"] == "hyphenation");
    let manifest = package
        .and_then(|package| package["manifest_path"].as_str())
        .expect("its manifest");
    Path::new(manifest).with_file_name("patterns")
}

/// A dictionary in the other program's form. It knows no exceptions: each becomes a pattern of the strongest levels.
fn dictionary(patterns: &Path, code: &str) -> String {
    let read = |kind: &str| fs::read_to_string(patterns.join(format!("hyph-{code}.{kind}.txt")));
    let mut dictionary = format!("UTF-8\n{}\n", read("pat").expect("patterns"));
    for word in read("hyp").unwrap_or_default().lines() {
        let levels = word.trim().replace('-', "\u{0}");
        let mut signs = levels.chars().peekable();
        dictionary.push('.');
        while let Some(sign) = signs.next() {
            let hyphen = signs.next_if_eq(&'\u{0}').is_some();
            dictionary.push(sign);
            dictionary.push(if hyphen { '9' } else { '8' });
        }
        dictionary.push_str(".\n");
    }
    dictionary
}

/// Of more words than these, every so-manieth is looked at.
const MOST: usize = 4_000;

/// Words of the texts in small letters, of two letters or more.
fn words() -> Vec<String> {
    let mut words = BTreeSet::new();
    for (_, text) in every_file() {
        let found = text
            .split(|c: char| !c.is_alphabetic())
            .map(str::to_lowercase);
        words.extend(found.filter(|word| word.chars().count() > 1));
    }
    words.retain(|word| !PUBLISHED.split(' ').any(|own| own == word));
    let step = words.len().div_ceil(MOST).max(1);
    words.into_iter().step_by(step).collect()
}

/// What both make of words: the word, our points and theirs, counted in characters. They count the fewest letters in
/// characters, we in grapheme clusters, so that what is left of theirs is what leaves clusters enough.
type Divided = (String, Vec<usize>, Vec<usize>);

fn divided(
    words: &[String],
    language: &str,
    minima: (usize, usize),
    dictionary: &Path,
) -> Vec<Divided> {
    let temp = temporary();
    let file = temp.path().join("words.txt");
    fs::write(&file, words.join("\n")).expect("written");
    let (before, behind) = (minima.0.to_string(), minima.1.to_string());
    let said = says(
        "python3",
        &["-c", DIVIDE, &before, &behind],
        &[dictionary.into(), file],
    );
    let hyphenator = Hyphenator::new(language, &[]).expect("patterns");
    let said = said.expect("it divides");
    let line = |line: &str| {
        let (word, points) = line.split_once(' ').unwrap_or((line, ""));
        let borders: Vec<usize> = word.grapheme_indices(true).map(|(at, _)| at).collect();
        let whole = |at: &usize| {
            let byte = word
                .char_indices()
                .nth(*at)
                .map_or(word.len(), |(byte, _)| byte);
            let before = borders.partition_point(|&border| border < byte);
            let enough = before >= minima.0 && borders.len() - before >= minima.1;
            enough && borders.contains(&byte)
        };
        let theirs = points.split(' ').filter_map(|at| at.parse().ok());
        let theirs = theirs.filter(whole).collect();
        let ours = hyphenator.points(word).into_iter();
        let ours = ours.map(|at| word[..at].chars().count()).collect();
        (word.to_string(), ours, theirs)
    };
    said.lines().map(line).collect()
}

fn minima(code: &str) -> (usize, usize) {
    let (before, behind) = Language::try_from_code(code).expect("a language").minima();
    (before.max(2), behind.max(2))
}

/// Every word of every text, divided by the patterns of every language that writes its letters: all points agree.
/// The words need not be the language's own, for it is the reading of patterns that is looked at.
#[test]
#[ignore = "needs Python with pyphen"]
fn another_program_divides_alike_by_the_same_patterns() {
    let temp = temporary();
    let patterns = patterns();
    let all = words();
    let (mut languages, mut points) = (0, 0);
    for code in Hyphenator::languages() {
        let file = temp.path().join(format!("{code}.dic"));
        fs::write(&file, dictionary(&patterns, code)).expect("written");
        let mut found = 0;
        for (word, ours, theirs) in divided(&all, code, minima(code), &file) {
            found += ours.len();
            assert_eq!(ours, theirs, "{word}, by the patterns {code}");
        }
        languages += usize::from(found > 200);
        points += found;
    }
    println!(
        "{} words, {languages} languages, {points} points",
        all.len()
    );
    assert!(
        languages > 30 && points > 20_000,
        "{languages} languages, {points} points"
    );
}

/// The Danish patterns that come with pyphen are the crate's and four more; where the two differ, one of those four
/// matches.
#[test]
#[ignore = "needs Python with pyphen"]
fn a_dictionary_of_its_own_differs_by_what_was_added() {
    let added = ["nævnt", "guds", "husk"];
    let mut all = words();
    all.extend(["nævnt", "gudstro", "huske", "vinterbus"].map(String::from));
    let divided = divided(&all, "da", minima("da"), Path::new("da_DK"));
    let differing = divided.iter().filter(|(_, ours, theirs)| ours != theirs);
    let differing: Vec<&str> = differing.map(|(word, ..)| word.as_str()).collect();
    println!(
        "{} of {} words differ: {differing:?}",
        differing.len(),
        divided.len()
    );
    assert!(!differing.is_empty());
    for word in differing {
        assert!(added.iter().any(|part| word.contains(part)), "{word}");
    }
}
