//! Two runs at once: one that changes what is kept is told to wait.

use versefold::cli::files::hold;

use super::{Copy, VERSE};
use crate::support::tree;

#[test]
fn while_one_run_changes_what_is_kept_no_other_does() {
    let book = Copy::of(VERSE);
    book.run(&["flow", "--keep", "--quiet"]).done();
    book.run(&["pass", "front 4", "--quiet"]).done();
    let before = tree(book.folder());
    let words = book.words(&[]);
    let held = hold(book.folder()).expect("nobody else holds it");
    for call in [
        &["flow", "--keep"][..],
        &["flow", "--afresh", "--keep"],
        &["pass", "front 5"],
        &["pass", "--release", "front 4"],
        &["trials", "--choose", "2"],
    ] {
        let told = book.run(call).at_fault();
        assert!(told.contains("another run is changing the book"), "{told}");
        let told = book.run(&[call, &["--json"]].concat());
        assert_eq!(told.status, Some(2));
        assert!(
            (told.stdout + &told.stderr).contains("\"busy\""),
            "{call:?}"
        );
        assert!(
            tree(book.folder()) == before,
            "{call:?} has written something"
        );
    }
    // Who only looks need not wait.
    assert_eq!(book.words(&[]), words);
    drop(held);
    book.run(&["pass", "front 5", "--quiet"]).done();
    assert!(tree(book.folder()) != before);
}
