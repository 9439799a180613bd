//! Small random paragraphs: from every place the pass finds what trying every division finds.

use proptest::prelude::*;
use proptest::sample::select;
use proptest::test_runner::{Config, TestRunner};
use versefold::names::Length;
use versefold::setting::line_breaks::{How, Justified, LineBreaks, Measures, Ragged, best_breaks};

use crate::line_breaks::builder::{Builder, Space};
use crate::line_breaks::plain::{Breached, Paragraph};

/// Paragraphs with more divisions than this from one of their places are passed over.
pub const MOST_DIVISIONS: usize = 1_000;

/// A word: the widths of its pieces, and what stands behind it.
#[derive(Clone, Debug)]
struct Word {
    pieces: Vec<i64>,
    behind: Behind,
    hang: i64,
    penalty: i32,
}

#[derive(Clone, Copy, Debug)]
enum Behind {
    Space(Space),
    HardHyphen,
    Dash,
}

const SPACES: [Space; 5] = [(3, 2, 1), (3, 1, 1), (4, 3, 0), (2, 0, 0), (6, 6, 4)];

fn word(most_pieces: usize) -> impl Strategy<Value = Word> {
    let behind = prop_oneof![
        8 => select(&SPACES[..]).prop_map(Behind::Space),
        1 => Just(Behind::HardHyphen),
        1 => Just(Behind::Dash),
    ];
    let pieces = prop::collection::vec(1i64..12, 1..=most_pieces);
    (pieces, behind, 0i64..2, 0i32..300).prop_map(|(pieces, behind, hang, penalty)| Word {
        pieces,
        behind,
        hang,
        penalty,
    })
}

fn points(
    words: &[Word],
    hyphen: i64,
    signed: bool,
) -> Vec<versefold::setting::line_breaks::Point> {
    let mut builder = Builder::new();
    for (index, word) in words.iter().enumerate() {
        // Of justified lines some breaks are drawn on.
        let penalty = if signed {
            word.penalty - 80
        } else {
            word.penalty
        };
        for (at, &piece) in word.pieces.iter().enumerate() {
            if at > 0 {
                builder.division(hyphen, word.penalty);
            }
            builder.letters(piece);
        }
        if index + 1 == words.len() {
            break;
        }
        match word.behind {
            Behind::Space(space) => builder.space(space, word.hang, penalty),
            Behind::HardHyphen => builder.seam(penalty, true),
            Behind::Dash => builder.seam(penalty, false),
        }
    }
    builder.end()
}

fn ragged() -> impl Strategy<Value = How> {
    let prices = (0u32..40_000, 0u32..40_000);
    (1i64..9, 2u32..8, 0u32..5, 0u32..400, prices).prop_map(
        |(em, uneven_from, uneven_weight, least_last, (short_last, hyphens_in_a_row))| {
            How::Ragged(Ragged {
                em: Length::from_units(em),
                uneven_from,
                uneven_weight,
                least_last,
                short_last,
                hyphens_in_a_row,
            })
        },
    )
}

fn justified() -> impl Strategy<Value = How> {
    let costs = select(&[0u32, 17, 3_000][..]);
    let loose = select(&[0u32, 900, 1_000_000_000][..]);
    let price = select(&[0u32, 4_000, 7_000_000][..]);
    let walls = (price.clone(), price);
    let last = (0i64..12, 0u32..90_000, 0u32..90_000);
    let all = (500u32..4_000, loose, costs.clone(), costs, walls, last);
    all.prop_map(
        |(
            tolerance,
            loose,
            hyphens_in_a_row,
            uneven,
            (ladder, wall),
            (least_last, short_last, cramped),
        )| {
            How::Justified(Justified {
                tolerance,
                loose,
                hyphens_in_a_row,
                uneven,
                least_last: Length::from_units(least_last),
                short_last,
                cramped,
                ladder,
                wall,
            })
        },
    )
}

/// Paragraphs of at most so many words, of at most so many pieces each.
pub fn paragraphs(most_words: usize, most_pieces: usize) -> impl Strategy<Value = Paragraph> {
    let words = prop::collection::vec(word(most_pieces), 1..=most_words);
    let first = prop::collection::vec(2i64..45, 0..4);
    (
        words,
        0i64..5,
        first,
        6i64..45,
        prop_oneof![ragged(), justified()],
    )
        .prop_map(|(words, hyphen, first, rest, how)| Paragraph {
            points: points(&words, hyphen, matches!(how, How::Justified(_))),
            first,
            rest,
            how,
            slots: Vec::new(),
            insets: Vec::new(),
            begins: 0,
        })
}

pub fn fall_of(paragraph: &Paragraph) -> LineBreaks {
    let first: Vec<Length> = paragraph
        .first
        .iter()
        .copied()
        .map(Length::from_units)
        .collect();
    let measures = Measures {
        first: &first,
        rest: Length::from_units(paragraph.rest),
    };
    best_breaks(&paragraph.points, &measures, &paragraph.how)
}

/// Where the lines from a point end.
pub fn breaks_from(fall: &LineBreaks, start: usize) -> Vec<usize> {
    fall.lines_from(start).map(|line| line.to).collect()
}

pub fn runner(cases: u32) -> TestRunner {
    TestRunner::new(Config {
        failure_persistence: None,
        ..Config::with_cases(cases)
    })
}

/// The pass finds from every place what trying all divisions finds, and tells truly what it costs.
fn check(paragraph: &Paragraph, seen: &mut Seen) -> Result<bool, TestCaseError> {
    let fall = fall_of(paragraph);
    for start in 0..paragraph.end() {
        let Some((score, breaks)) = paragraph.try_all(start, MOST_DIVISIONS) else {
            return Ok(false);
        };
        let cost = fall.cost_from(start);
        let told = (cost.overfull, cost.breaches, i128::from(cost.ordinary));
        prop_assert_eq!(
            (score, &breaks),
            (told, &breaks_from(&fall, start)),
            "from {}",
            start
        );
        seen.note(paragraph, start, &breaks);
    }
    prop_assert_eq!(fall.lines_from(paragraph.end()).count(), 0);
    Ok(true)
}

/// How many divisions of each kind were looked at.
#[derive(Debug, Default)]
struct Seen {
    checked: u32,
    overfull: u32,
    hyphens_in_a_row: u32,
    hyphen_before_last: u32,
    one_word_last: u32,
    clean: u32,
}

impl Seen {
    fn note(&mut self, paragraph: &Paragraph, start: usize, breaks: &[usize]) {
        let (score, breached): (_, Breached) = paragraph.account(start, breaks);
        self.overfull += u32::from(breached.overfull > 0);
        self.hyphens_in_a_row += u32::from(breached.hyphens_in_a_row > 0);
        self.hyphen_before_last += u32::from(breached.hyphen_before_last > 0);
        self.one_word_last += u32::from(breached.one_word_last > 0);
        self.clean += u32::from(score.0 == 0 && score.1 == 0 && breaks.len() > 2);
    }
}

#[test]
fn from_every_place_no_division_is_better() {
    let seen = std::cell::RefCell::new(Seen::default());
    // Many plain paragraphs, and some whose long words make rows of hyphens.
    for (words, pieces, cases) in [(14, 2, 2_500), (4, 6, 1_500), (15, 1, 1_500)] {
        runner(cases)
            .run(&paragraphs(words, pieces), |paragraph| {
                let mut seen = seen.borrow_mut();
                let checked = check(&paragraph, &mut seen)?;
                seen.checked += u32::from(checked);
                Ok(())
            })
            .unwrap_or_else(|failure| panic!("{failure}"));
    }
    let seen = seen.into_inner();
    println!("{seen:?}");
    assert!(seen.checked > 4_000, "{seen:?}");
    for walls in [
        seen.overfull,
        seen.hyphens_in_a_row,
        seen.hyphen_before_last,
        seen.one_word_last,
        seen.clean,
    ] {
        assert!(walls > 200, "{seen:?}");
    }
}
