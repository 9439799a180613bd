//! Real words as running text, at several measures: never worse than filling each line as far as it goes, and the
//! costs that are told are those of the plain definition.
//!
//! The texts are the English ones of `tests/texts`; widths of letters and places to divide words are made up.

use std::path::Path;

use versefold::names::Length;
use versefold::setting::line_breaks::{How, Justified, Point, Ragged};

use crate::line_breaks::builder::Builder;
use crate::line_breaks::plain::Paragraph;
use crate::line_breaks::random::{breaks_from, fall_of};

/// An em, in the unit of these widths; so many make a measure.
const EM: i64 = 1000;
const MEASURES: [i64; 5] = [9, 14, 20, 27, 40];
/// A division begins at each of so many points.
const EVERY: usize = 7;

/// A made-up width, much like that of a text face.
fn width(letter: char) -> i64 {
    match letter.to_ascii_lowercase() {
        'i' | 'j' | 'l' | '.' | ',' | '’' | '\'' | '!' => 260,
        'f' | 't' | 'r' | 's' => 380,
        'm' | 'w' => 800,
        _ if letter.is_uppercase() => 680,
        _ => 500,
    }
}

/// All words of a text as one paragraph. Long words may be divided behind every third letter, but for the last.
fn paragraph(text: &str, penalty: i32) -> Vec<Point> {
    let mut builder = Builder::new();
    for (number, word) in text.split_whitespace().enumerate() {
        if number > 0 {
            builder.space((250, 125, 80), 0, 0);
        }
        let letters: Vec<char> = word.chars().collect();
        for (index, &letter) in letters.iter().enumerate() {
            if index > 0 && index % 3 == 0 && index + 3 <= letters.len() && letters.len() > 5 {
                builder.division(330, penalty);
            }
            builder.letters(width(letter));
        }
    }
    builder.end()
}

/// Each line as long as it fits without narrower spaces, or else at all; a word of its own where nothing fits.
fn first_fit(paragraph: &Paragraph, start: usize) -> Vec<usize> {
    let mut breaks = Vec::new();
    let mut from = start;
    while from < paragraph.end() {
        let measure = Length::from_units(paragraph.measure(start, breaks.len()));
        let ends = paragraph.ends_near(from, measure.units());
        let natural =
            |&&to: &&usize| paragraph.points[to].end - paragraph.points[from].start <= measure;
        let to = ends.iter().filter(natural).max().or(ends.iter().max());
        from = *to.expect("a line may always end somewhere");
        breaks.push(from);
    }
    breaks
}

fn check(paragraph: &Paragraph, better: &mut usize) -> usize {
    let fall = fall_of(paragraph);
    let mut checked = 0;
    for start in (0..paragraph.end()).step_by(EVERY) {
        let breaks = breaks_from(&fall, start);
        let score = paragraph.score(start, &breaks);
        let cost = fall.cost_from(start);
        assert_eq!(
            (cost.overfull, cost.breaches, i128::from(cost.ordinary)),
            score,
            "from {start}"
        );
        let greedy = paragraph.score(start, &first_fit(paragraph, start));
        assert!(
            score <= greedy,
            "from {start}: {score:?} is worse than {greedy:?}"
        );
        *better += usize::from(score < greedy);
        checked += 1;
    }
    checked
}

#[test]
fn never_worse_than_filling_each_line() {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/texts");
    let entries = std::fs::read_dir(folder).expect("the texts are there");
    let paths = entries.map(|entry| entry.expect("an entry").path());
    let mut paths: Vec<_> = paths
        .filter(|path| {
            path.file_name()
                .is_some_and(|name| name.to_string_lossy().starts_with("en_"))
        })
        .collect();
    paths.sort();
    let hows = [
        How::Ragged(Ragged::of(Length::from_units(EM))),
        How::Justified(Justified::default()),
    ];
    let (mut checked, mut better) = (0, 0);
    for path in paths {
        let text = std::fs::read_to_string(&path).expect("the text is UTF-8");
        for how in hows {
            let penalty = if matches!(how, How::Ragged(_)) {
                20_000
            } else {
                50
            };
            let points = paragraph(&text, penalty);
            for measure in MEASURES {
                let rest = measure * EM;
                let first = vec![rest - 2 * EM, rest - 2 * EM, rest + EM];
                checked += check(
                    &Paragraph {
                        points: points.clone(),
                        first,
                        rest,
                        how,
                        slots: Vec::new(),
                        insets: Vec::new(),
                        begins: 0,
                    },
                    &mut better,
                );
            }
        }
    }
    println!("{better} of {checked} divisions cost less than first-fit");
    assert!(
        checked > 1_000 && better * 10 > checked * 7,
        "{better} of {checked}"
    );
}
