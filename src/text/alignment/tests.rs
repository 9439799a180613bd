//! What is known by heart of two texts, and what must hold of any two.

use proptest::prelude::*;

use super::{Alignment, Lines, align, align_set, pieces};

fn lines(text: &str) -> Lines<'_> {
    let lines = text.lines().filter(|line| !line.trim().is_empty());
    lines
        .map(|line| pieces(line).into_iter().map(|at| &line[at]).collect())
        .collect()
}

fn aligned(earlier: &str, later: &str) -> Alignment {
    align(&lines(earlier), &lines(later))
}

#[test]
fn words_are_what_spaces_and_hyphens_part() {
    let text = "the mail-bus, 7—8 漢字 ok";
    let words: Vec<&str> = pieces(text).into_iter().map(|at| &text[at]).collect();
    let expected = ["the", "mail-", "bus,", "7—", "8", "漢", "字", "ok"];
    assert_eq!(words, expected);
}

#[test]
fn a_refrain_is_not_taken_for_another() {
    let earlier = "snow on the road\nand on and on\nice in the wheel\nand on and on\nhome";
    let later = "and on and on\nice in the wheel\nand on and on\nhome";
    let found = aligned(earlier, later);
    assert_eq!(found.lines, [(1, 0), (2, 1), (3, 2), (4, 3)]);
}

#[test]
fn a_line_cut_in_two_keeps_its_words() {
    let earlier = "one two three four five six\nseven eight";
    let later = "one two three\nfour five six\nseven eight";
    let found = aligned(earlier, later);
    assert_eq!(found.later, (0..8).map(Some).collect::<Vec<_>>());
}

#[test]
fn a_stanza_that_went_elsewhere_is_moved() {
    let earlier = "a b c\nd e f\ng h i\nj k l\nm n o";
    let later = "g h i\nj k l\nm n o\na b c\nd e f";
    let found = aligned(earlier, later);
    assert_eq!(found.lines, [(2, 0), (3, 1), (4, 2)]);
    assert_eq!(found.moved, [(0, 3), (1, 4)]);
}

/// What differs, where texts are aligned as they are set.
fn told<'t>(earlier: &'t str, later: &'t str) -> Vec<(String, String)> {
    let (old, new) = (lines(earlier).concat(), lines(later).concat());
    let gaps = align_set(&lines(earlier), &lines(later)).gaps();
    gaps.into_iter()
        .map(|(from, to)| (old[from].join(" "), new[to].join(" ")))
        .collect()
}

#[test]
fn a_word_that_ends_every_line_elsewhere_is_all_that_differs() {
    let earlier = "one two three four\nfive six seven eight\nnine ten eleven";
    let later = "one and two three\nfour five six seven\neight nine ten eleven";
    assert_eq!(told(earlier, later), [(String::new(), "and".to_string())]);
    // That holds too where everything is set to another measure, in more lines than can be held against each other.
    let words: Vec<String> = (0..6000).map(|at| format!("w{}", at % 1009)).collect();
    let set = |measure| {
        let lines = words.chunks(measure).map(|line| line.join(" "));
        lines.collect::<Vec<_>>().join("\n")
    };
    assert_eq!(told(&set(9), &set(7)), []);
}

#[test]
fn a_line_of_verse_that_is_replaced_is_told_in_one_piece() {
    let earlier = "the road was long and the snow\nfell on it\nwe went home";
    let later = "a bell in the tower of the church\nfell on it\nwe came home";
    let line = |text: &str| text.lines().next().map(String::from);
    assert_eq!(
        told(earlier, later),
        [
            (
                line(earlier).unwrap_or_default(),
                line(later).unwrap_or_default()
            ),
            ("went".to_string(), "came".to_string())
        ]
    );
}

proptest! {
    #[test]
    fn words_of_set_lines_are_matched_once_in_order_or_have_moved(
        earlier in prop::collection::vec("([abc] ){1,6}", 0..12),
        later in prop::collection::vec("([abc] ){1,6}", 0..12),
    ) {
        let (earlier, later) = (earlier.join("\n"), later.join("\n"));
        let found = align_set(&lines(&earlier), &lines(&later));
        let (old_lines, new_lines) = (lines(&earlier), lines(&later));
        let (old, new) = (old_lines.concat(), new_lines.concat());
        let mut last = None;
        for (one, other) in found.later.iter().enumerate() {
            let Some(other) = *other else { continue };
            prop_assert_eq!(old[one], new[other]);
            prop_assert_eq!(found.earlier[other], Some(one));
            prop_assert!(last.is_none_or(|last| last < other));
            last = Some(other);
        }
        prop_assert_eq!(found.earlier.iter().flatten().count(), found.kept());
        let differing: usize = found.gaps().iter().map(|(from, to)| from.len() + to.len()).sum();
        prop_assert_eq!(differing + 2 * found.kept(), old.len() + new.len());
        for &(from, to) in &found.moved {
            prop_assert_eq!(&old_lines[from], &new_lines[to]);
            let words = super::spans(&old_lines)[from].clone();
            prop_assert!(words.into_iter().all(|word| found.later[word].is_none()));
        }
    }

    #[test]
    fn words_are_matched_once_in_order_with_themselves(
        earlier in prop::collection::vec("([abc] ){1,6}", 0..12),
        later in prop::collection::vec("([abc] ){1,6}", 0..12),
    ) {
        let (earlier, later) = (earlier.join("\n"), later.join("\n"));
        let found = aligned(&earlier, &later);
        let (old, new) = (lines(&earlier).concat(), lines(&later).concat());
        let mut last = None;
        for (one, other) in found.later.iter().enumerate() {
            let Some(other) = *other else { continue };
            prop_assert_eq!(old[one], new[other]);
            prop_assert_eq!(found.earlier[other], Some(one));
            prop_assert!(last.is_none_or(|last| last < other));
            last = Some(other);
        }
        prop_assert_eq!(found.earlier.iter().flatten().count(), found.kept());
        if earlier == later {
            prop_assert_eq!(found.kept(), old.len());
        }
    }

    #[test]
    fn a_text_is_wholly_its_own(text in prop::collection::vec("([ab] ){1,5}", 1..20)) {
        let text = text.join("\n");
        let found = aligned(&text, &text);
        prop_assert!(found.later.iter().enumerate().all(|(at, to)| *to == Some(at)));
        prop_assert!(found.moved.is_empty());
    }
}

/// A line that stands elsewhere now is not taken for one that is like it and stands where it went.
#[test]
fn a_line_that_moved_is_itself_before_it_is_like_another() {
    let found = aligned(
        "the bus at the pass\nsnow fell\nand ice\nthe bus at the hut\nnight came",
        "the bus at the hut\nsnow fell\nand ice\nnight came",
    );
    assert_eq!(found.moved, [(3, 0)]);
    assert_eq!(found.lines, [(1, 1), (2, 2), (4, 3)]);
}
