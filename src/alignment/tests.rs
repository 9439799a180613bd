//! What is known by heart of two texts, and what must hold of any two.

use proptest::prelude::*;

use super::{Alignment, Lines, align, pieces};

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

proptest! {
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
