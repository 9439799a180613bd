//! The client's corrected text, where panels are printed.

use std::fs;

use crate::support::{run_in, small_plan, temporary, tree, write_book};

/// It is not taken in where it would move printed lines, or leaves no room around them.
#[test]
fn revise_refuses_what_would_move_printed_lines() {
    let temp = temporary();
    let book = temp.path();
    let plan = small_plan(3, "[rules]\ntext-in-a-row = 10\nfullest = \"100 %\"\n");
    let bends = |from: usize| {
        let lines = (from..from + 8).map(|bend| format!("Bend {bend} of the road.\n"));
        lines.collect::<String>()
    };
    let poem = [bends(1), bends(9), bends(17)].join("\n");
    write_book(book, &plan, &poem);
    run_in(book, &["pass", "front 2"]).done();
    let before = tree(book);
    let longer = "Bend 12 of the road, which nobody who has driven it in January forgets.";
    let more = "One bend before.\n".repeat(6);
    for (text, said) in [
        (
            poem.replace("Bend 12 of the road.", longer),
            "Fault: front 2 is passed for press, and the corrected words take 2 lines",
        ),
        (
            poem.replacen("Bend 1 of the road.\n", &more, 1),
            "Fault: the part `body` cannot be divided",
        ),
    ] {
        fs::write(book.join("corrected.txt"), text).expect("written");
        let told = run_in(book, &["revise", "corrected.txt"]).at_fault();
        assert!(told.starts_with(said), "{told}");
        fs::remove_file(book.join("corrected.txt")).expect("removed");
        assert!(tree(book) == before, "something was changed");
    }
    // What would have no room anyhow is told once it is in.
    let too_long = format!("{poem}\n{}", "And one bend more.\n".repeat(60));
    fs::write(book.join("corrected.txt"), too_long).expect("written");
    let ran = run_in(book, &["revise", "corrected.txt"]);
    assert!(
        ran.status == Some(0) && ran.stderr.contains("The words are in"),
        "{ran:?}"
    );
}
