//! Books that are printed whole, of every kind that places its lines otherwise than from the left edge: one letter is
//! corrected, and nothing else moves.

use std::fs;

use super::{Copy, named, others};
use crate::support::{run_in, small_plan, write_book};

/// Corrects one letter in a book whose panels are all passed.
fn correct_one(folder: &str, find: &str, put: &str) {
    let book = Copy::of(folder);
    let flow = book.flow(&[]);
    let panels: Vec<&str> = flow.iter().map(|(panel, _)| panel.as_str()).collect();
    book.run(&["pass", &panels.join(", "), "--quiet"]).done();
    assert_eq!(book.flow(&[]), flow, "{folder}: passing moves nothing");
    let before = book.layers();
    book.correct(find, put);
    let now = book.flow(&[]);
    let mut changed = Vec::new();
    for ((panel, was), (_, is)) in flow.iter().zip(&now) {
        assert_eq!(was.len(), is.len(), "{folder}, {panel}");
        let pairs = was.iter().zip(is);
        changed.extend(pairs.filter(|(was, is)| was != is).map(|(was, is)| {
            assert!(
                was.0.contains(find) && is.0.contains(put),
                "{folder}: {was:?} is {is:?}"
            );
            let down = |line: &(String, String)| line.1.split(' ').nth(1).map(str::to_string);
            assert_eq!(down(was), down(is), "{folder}: it stands on its own line");
            panel.clone()
        }));
    }
    let [panel] = &changed[..] else {
        panic!("{folder}: lines changed on {changed:?}")
    };
    let (side, number) = panel.split_once(' ').expect("a panel's name");
    let layer = format!("{side}-{number:0>2}.pdf");
    let after = book.layers();
    assert_eq!(
        others(&before, &after),
        named(&[&layer, &format!("{side}.pdf")]),
        "{folder}"
    );
}

#[test]
fn words_from_right_to_left() {
    correct_one(
        "examples/winter-bus-he",
        "צפירה אחת, ארוכה",
        "צפירה אחת, ארוכח",
    );
    correct_one(
        "examples/winter-bus-he",
        "היום יש מנהרה חדשה",
        "היום יש מנהרה חדשת",
    );
    correct_one("tests/books/hebrew-poem", "על ההגה הקר", "על ההגה הקל");
}

#[test]
fn words_in_boxes_and_in_a_mask() {
    correct_one(
        "tests/books/words-in-boxes",
        "the engine sang itself",
        "the engine sung itself",
    );
    correct_one(
        "tests/books/words-in-boxes",
        "someone's hand until",
        "someone's hand untie",
    );
    correct_one(
        "tests/books/words-in-a-mask",
        "as if we had been",
        "as if we hid been",
    );
    correct_one("tests/books/prose-in-boxes", "already lit", "already lid");
}

#[test]
fn a_large_initial_stays() {
    correct_one("tests/books/drop-initial", "a stranger", "a strangar");
    correct_one(
        "tests/books/drop-initial",
        "had barrier, stove",
        "had barrier, stone",
    );
}

#[test]
fn lines_that_are_centred_stand_on_their_own_axis() {
    correct_one("tests/books/align-centre", "wet wool", "wet woof");
    correct_one("tests/books/align-centre", "a hand to ask", "a hind to ask");
}

/// The part is aligned by its longest line: where that is corrected, all others would follow it.
#[test]
fn the_longest_line_moves_no_other() {
    correct_one(
        "tests/books/align-longest-line",
        "Each one had a window",
        "Each one had a winnow",
    );
    correct_one(
        "tests/books/align-longest-line",
        "three meanings",
        "three meenings",
    );
    correct_one(
        "tests/books/align-usual-longest",
        "A hundred metres",
        "A hundred metras",
    );
}

/// The first paragraph of a part stands flush, and in justified prose an indent widens its first line's spaces: a
/// paragraph that comes to be the first is still printed with its indent.
#[test]
fn a_paragraph_stays_as_indented_as_it_is_printed() {
    let book = super::temporary();
    let prose = "[text]\nset-as = \"prose\"\nalign = \"justified\"\n";
    let first = "The coat came with the job, and the job came with the pass.\n\n";
    let rest = "[new panel]\nI turned the cuffs back twice and sewed them down, and in the left pocket there was a \
                stub of pencil, which I kept, and in the right one a ticket.\n";
    write_book(book.path(), &small_plan(3, prose), format!("{first}{rest}"));
    let run = |arguments: &[&str]| run_in(book.path(), arguments).done();
    run(&["pass", "front 2", "--quiet"]);
    run(&["layers", "--quiet"]);
    let layer = book.path().join("out/layers/front-02.pdf");
    let before = fs::read(&layer).expect("a layer");
    // The first paragraph is gone, and the second the first of its part.
    write_book(book.path(), &small_plan(3, prose), rest);
    run(&["layers", "--quiet"]);
    assert!(fs::read(&layer).expect("a layer") == before);
}
