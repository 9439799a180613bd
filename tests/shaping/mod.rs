//! Shaping word by word gives what shaping whole lines gives: the glyphs, clusters, advances and offsets of
//! C HarfBuzz (the files in `tests/shaping`, written by its `hb-shape`) and of its Rust port harfrust.

mod apart;
mod line;
mod lines_of;
mod reference;

use std::collections::HashMap;
use std::fs;
use std::path::{Path, PathBuf};

use line::{Faced, Shaped, difference, expected, nothing};
use lines_of::{FACES, lines_of, one_way, two_scripts};
use reference::Reference;
use versefold::typeface::Emphasis;

fn tests() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("tests")
}

/// Source: hb-shape of HarfBuzz 6.0.0, whole lines (tests/shaping/renew.sh).
#[test]
fn lines_are_those_of_harfbuzz() {
    let mut different = Vec::new();
    let mut compared = 0;
    let mut known = HashMap::new();
    for (name, family, stress, floor) in FACES {
        let path = tests().join("shaping").join(format!("{name}.txt"));
        let fixture = fs::read_to_string(path).unwrap();
        let mut here = 0;
        for row in fixture.lines().filter(|row| !row.starts_with('#')) {
            let (asked, glyphs) = row.split_once(" => ").unwrap();
            let [language, script, features, text] =
                asked.splitn(4, '|').collect::<Vec<_>>().try_into().unwrap();
            let faced = known
                .entry((name, features.to_string()))
                .or_insert_with(|| Faced::new(family, stress, features));
            let ours = faced.line(language, text);
            let label = format!("{name} {language} {script} {features}");
            different.extend(difference(&label, text, &ours, &expected(text, glyphs)));
            here += 1;
        }
        assert!(here >= floor, "{name} has only {here} lines");
        compared += here;
    }
    println!("{compared} lines are those of HarfBuzz 6.0.0");
    nothing(&different, compared);
}

/// Compares every line in each face that has it, in each of them at least `floor`; returns how many
/// comparisons were made.
fn compare(lines: &[(String, String)], features: &[&str], floor: usize) -> usize {
    let mut different = Vec::new();
    let mut compared = 0;
    for (name, family, stress, _) in FACES {
        let mut here = 0;
        for &features in features {
            let faced = Faced::new(family, stress, features);
            let reference = Reference::new(&faced);
            let mut languages = faced.languages();
            for (language, text) in lines {
                // A word of two scripts is cut within, and so not shaped as a line of one script is.
                if !faced.has_all(text) || two_scripts(text) || !one_way(text) {
                    continue;
                }
                let ours = languages.line(language, text);
                let theirs = reference.line(language, text);
                let label = format!("{name} {language} {features}");
                different.extend(difference(&label, text, &ours, &theirs));
                here += 1;
            }
        }
        assert!(here >= floor, "only {here} lines in {name}");
        compared += here;
    }
    nothing(&different, compared);
    compared
}

/// Source: harfrust 0.15, which follows HarfBuzz 15.0.
#[test]
fn lines_of_the_texts_are_those_of_harfrust() {
    let lines = lines_of(&tests().join("texts"));
    let compared = compare(&lines, &["", "onum", "smcp"], 15);
    println!(
        "{} lines, {compared} comparisons with harfrust",
        lines.len()
    );
    assert!(lines.len() >= 230, "only {} lines", lines.len());
    // Seven of the faces have Latin letters.
    assert!(compared >= 230 * 7 * 3, "only {compared} comparisons");
}

/// The same for a folder of whole books, where `VERSEFOLD_TEXTS` names one.
#[test]
fn lines_of_whole_books_are_those_of_harfrust() {
    let Some(folder) = std::env::var_os("VERSEFOLD_TEXTS") else {
        println!("VERSEFOLD_TEXTS names no folder: nothing compared");
        return;
    };
    let lines = lines_of(Path::new(&folder));
    let compared = compare(&lines, &[""], 50);
    println!(
        "{} lines, {compared} comparisons with harfrust",
        lines.len()
    );
    assert!(lines.len() >= 1000, "only {} lines", lines.len());
    assert!(compared >= lines.len() * 6, "only {compared} comparisons");
}

/// The comparison sees what cutting at spaces without looking past them would lose.
#[test]
fn the_comparison_tells_words_by_themselves_from_lines() {
    for (family, text) in [
        ("Alegreya", "en el siglo XVI. vio"),
        ("Playpen Sans", "To tell all tales"),
    ] {
        let faced = Faced::new(family, Emphasis::Plain, "");
        let reference = Reference::new(&faced);
        let whole = reference.line("es", text);
        assert_eq!(faced.line("es", text), whole, "{text}");
        let words = text.split(' ').flat_map(|word| reference.line("es", word));
        let ids = |glyphs: Vec<Shaped>| -> Vec<u32> {
            let inked = glyphs.into_iter().filter(|glyph| !glyph.space);
            inked.map(|glyph| glyph.id).collect()
        };
        assert_ne!(ids(words.collect()), ids(whole), "{text}");
    }
}

/// Lines are priced by what words say of themselves: that they look the same without a space beside them, and what is
/// before and behind a place within them. The flags for it are the shaper's own.
#[test]
fn words_that_say_so_are_the_same_when_they_are_parted() {
    let lines = lines_of(&tests().join("texts"));
    let mut compared = apart::Compared::default();
    for (_, family, stress, _) in FACES {
        for features in ["", "smcp"] {
            let faced = Faced::new(family, stress, features);
            let one_way = |text: &str| faced.has_all(text) && one_way(text) && !two_scripts(text);
            let known = lines.iter().filter(|(_, text)| one_way(text));
            for (language, text) in known {
                apart::compare(&faced, language, text, &mut compared);
            }
        }
    }
    let (spaces, within) = (compared.spaces, compared.within);
    println!("{spaces} spaces, {within} places within words");
    nothing(&compared.different, spaces + within);
    assert!(
        spaces >= 60_000 && within >= 100_000,
        "{spaces} spaces, {within} places"
    );
}
