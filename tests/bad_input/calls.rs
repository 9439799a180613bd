//! Calls that cannot be followed, and a reader that goes away.

use std::fs;
use std::process::Stdio;

use super::{refused, told};
use crate::support::{Ran, copy_of_demo, run_in, temporary, tree, versefold};

#[test]
fn a_new_book_never_overwrites_an_old_one() {
    let temp = temporary();
    copy_of_demo(&temp.path().join("winter-bus"));
    fs::write(temp.path().join("poem.txt"), "Two short.\n").expect("written");
    let before = tree(temp.path());
    for arguments in [
        &["new", "winter-bus"][..],
        &["new", "winter-bus", "--manuscript", "poem.txt"],
    ] {
        assert_eq!(
            run_in(temp.path(), arguments).at_fault(),
            "Fault: the folder winter-bus already holds concertina.toml\n  \
             help: name a folder that does not exist yet; nothing was changed\n"
        );
    }
    assert_eq!(
        run_in(temp.path(), &["new", "poem.txt"]).at_fault(),
        "Fault: poem.txt is a file, not a folder\n"
    );
    assert!(tree(temp.path()) == before, "something was changed");
}

#[test]
fn answers_that_cannot_be_used_are_all_told_and_nothing_is_begun() {
    let temp = temporary();
    let said = run_in(
        temp.path(),
        &[
            "new",
            "winter-bus",
            "--panel",
            "a5",
            "--panels",
            "1",
            "--sides",
            "three",
        ],
    )
    .at_fault();
    let faults: Vec<&str> = said
        .lines()
        .filter(|line| line.starts_with("Fault"))
        .collect();
    assert_eq!(
        faults,
        [
            "Fault: `--panel a5` cannot be used",
            "Fault: `--panels 1` cannot be used",
            "Fault: `--sides three` cannot be used",
        ]
    );
    assert!(tree(temp.path()).is_empty());
}

#[test]
fn a_missing_manuscript_of_the_client_begins_nothing() {
    let temp = temporary();
    let said = run_in(temp.path(), &["new", "bus", "--manuscript", "poem.txt"]).at_fault();
    assert!(
        said.starts_with("Fault: `poem.txt` is missing; it was looked for at `"),
        "{said}"
    );
    fs::write(temp.path().join("poem.txt"), " \n\n").expect("written");
    let said = run_in(temp.path(), &["new", "bus", "--manuscript", "poem.txt"]).at_fault();
    assert_eq!(said, "Fault: there is not a word in poem.txt\n");
    assert!(!temp.path().join("bus").exists());
}

/// `--against` names a file of the author's: it must be a layout, whole.
#[test]
#[expect(clippy::too_many_lines, reason = "a table of files")]
fn an_earlier_layout_that_is_none_is_refused() {
    let temp = temporary();
    let book = temp.path();
    copy_of_demo(book);
    run_in(book, &["layers", "--quiet"]).done();
    let layout = fs::read_to_string(book.join("out/layout.json")).expect("the record");
    let twice = layout.replacen("\"front 2\"", "\"front 1\"", 1);
    assert_ne!(twice, layout);
    fs::create_dir(book.join("folder.json")).expect("made");
    let is_none = "is no layout to compare with: it";
    for (name, text, what) in [
        (
            "cut.json",
            &layout[..layout.len() / 2],
            format!("{is_none} is cut short after line "),
        ),
        (
            "torn.json",
            &layout.replacen("\"x_mm\": ", "\"x_mm\" ", 1),
            format!("{is_none} is damaged at line "),
        ),
        (
            "other.json",
            "{\"files\": []}",
            format!("{is_none} is not written as this program writes layouts"),
        ),
        (
            "list.json",
            "[1]",
            format!("{is_none} is not written as this program writes layouts"),
        ),
        (
            "words.json",
            "Two short.",
            format!("{is_none} is damaged at line 1, column 1, or no JSON"),
        ),
        ("twice.json", &twice, format!("{is_none} has front 1 twice")),
        (
            "missing.json",
            "",
            "is missing; it was looked for at ".to_string(),
        ),
        (
            "folder.json",
            "",
            "is a folder, where a text file is needed".to_string(),
        ),
    ] {
        if !text.is_empty() {
            fs::write(book.join(name), text).expect("written");
        }
        for command in ["flow", "layers"] {
            let said = refused(book, &[command, "--against", name]);
            let begins = format!("Fault: `{name}` {what}");
            assert!(said.starts_with(&begins), "{said}");
            let right =
                "\n  allowed: a `layout.json` that `versefold layers` wrote, or a copy of one\n";
            assert!(said.ends_with(right), "{said}");
        }
    }
    // What is wrong with the book is told with it.
    fs::write(
        book.join("winter-bus.txt"),
        "Two short.\n[pictre: the hut]\n",
    )
    .expect("written");
    let said = refused(book, &["flow", "--against", "missing.json"]);
    assert!(
        said.ends_with("2 things to mend; nothing was written.\n"),
        "{said}"
    );
    assert_eq!(told(book).len(), 1);
}

#[test]
fn a_call_that_is_none_ends_as_a_fault() {
    for arguments in [
        &["lyers"][..],
        &["flow", "--coast"],
        &["flow", ".", "there"],
        &[],
    ] {
        let said = Ran::of(versefold().args(arguments)).at_fault();
        assert!(said.contains("Usage: versefold"), "{said}");
    }
}

/// A reader that goes away, as `head` does, is no fault, and the work is still done whole.
#[test]
fn a_closed_pipe_is_no_fault() {
    let temp = temporary();
    copy_of_demo(temp.path());
    for command in [&["flow", "--json"][..], &["layers"]] {
        let mut call = versefold();
        call.current_dir(temp.path()).args(command);
        call.stdout(Stdio::piped()).stderr(Stdio::piped());
        let mut child = call.spawn().expect("the program runs");
        drop(child.stdout.take());
        let ended = child.wait_with_output().expect("it ends");
        assert_eq!(ended.status.code(), Some(0), "{command:?}");
        assert_eq!(String::from_utf8_lossy(&ended.stderr), "", "{command:?}");
    }
    assert!(temp.path().join("out/manifest.json").is_file());
}

/// Standard output that takes nothing, as a full disk does: every command says so and ends as a fault. `/dev/full` is
/// Linux's (full(4)).
#[cfg(target_os = "linux")]
#[test]
fn what_cannot_be_said_is_a_fault() {
    let temp = temporary();
    let book = temp.path().join("winter-bus");
    copy_of_demo(&book);
    fs::write(
        temp.path().join("same.txt"),
        fs::read(book.join("winter-bus.txt")).expect("a text"),
    )
    .expect("written");
    let calls: [&[&str]; 16] = [
        &["--help"],
        &["strip", "--help"],
        &["--version"],
        &["completions", "fish"],
        &["new", "other"],
        &["flow", "winter-bus"],
        &["flow", "--why", "front 4", "winter-bus"],
        &["flow", "--keep", "winter-bus"],
        &["cast-off", "winter-bus"],
        &["layers", "winter-bus"],
        &["trials", "winter-bus"],
        &["dummy", "winter-bus"],
        &["strip", "winter-bus"],
        &["pass", "front 3", "winter-bus"],
        &["pass", "--release", "front 3", "winter-bus"],
        &["revise", "same.txt", "winter-bus"],
    ];
    let what = "cannot write to standard output: the disk is full";
    for call in calls {
        let full = || {
            let full = fs::OpenOptions::new().write(true).open("/dev/full");
            full.expect("a full device")
        };
        let run = |call: &[&str]| {
            let mut run = versefold();
            run.current_dir(temp.path()).args(call).stdout(full());
            run.output().expect("the program runs")
        };
        let ran = run(call);
        let said = String::from_utf8_lossy(&ran.stderr);
        assert_eq!(ran.status.code(), Some(2), "{call:?}: {said}");
        assert!(
            said.contains(&format!("Fault: {what}\n")),
            "{call:?}: {said}"
        );
        // A release takes back what was passed: the second time there is nothing to take back.
        let again = matches!(call[0], "--help" | "--version" | "completions" | "new")
            || call.contains(&"--help")
            || call.contains(&"--release");
        if !again {
            let ran = run(&[call, &["--json"]].concat());
            let said = String::from_utf8_lossy(&ran.stderr);
            assert_eq!(ran.status.code(), Some(2), "{call:?} --json: {said}");
            let from = said.find('{').unwrap_or_default();
            let said: serde_json::Value = serde_json::from_str(&said[from..]).expect("JSON");
            assert_eq!(said["faults"][0]["what"], what, "{call:?} --json");
        }
    }
    // What a command writes to files is written all the same.
    assert!(book.join("out/dummy.pdf").is_file());
    assert!(temp.path().join("other/concertina.toml").is_file());
}
