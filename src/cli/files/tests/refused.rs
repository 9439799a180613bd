//! What is refused before anything is written.

use std::fs;

use super::{ALL, file, first, write_all};
use crate::cli::files::Written;
use crate::names::Fault;

fn word(result: Result<Written, Fault>) -> &'static str {
    result.unwrap_err().word
}

#[test]
fn bad_names_are_refused_before_anything_is_written() {
    let temp = tempfile::tempdir().unwrap();
    let out = temp.path().join("out");
    for names in [
        &["../a"][..],
        &["/a"],
        &["a//b"],
        &[".a"],
        &["a\\b"],
        &["manifest.json"],
        &["a.pdf", "A.pdf"],
        &["a", "a/b"],
        &[""],
    ] {
        let files: Vec<_> = names.iter().map(|name| file(name, "snow")).collect();
        assert_eq!(
            word(write_all(&out, None, &files, ALL)),
            "bad-name",
            "{names:?}"
        );
    }
    assert!(!out.exists());
}

#[cfg(unix)]
#[test]
fn links_that_lead_out_are_refused() {
    use std::os::unix::fs::symlink;
    let temp = tempfile::tempdir().unwrap();
    let book = temp.path().join("book");
    let elsewhere = temp.path().join("elsewhere");
    fs::create_dir_all(book.join("out/layers")).unwrap();
    fs::create_dir(&elsewhere).unwrap();
    symlink(&elsewhere, book.join("linked")).unwrap();
    symlink(temp.path().join("nowhere"), book.join("dangling")).unwrap();
    symlink(book.join("out"), book.join("fine")).unwrap();
    for name in [
        "linked",
        "linked/deeper",
        "dangling",
        "../elsewhere",
        "no/../../x",
    ] {
        let result = write_all(&book.join(name), Some(&book), &first(), ALL);
        assert_eq!(word(result), "leads-out", "{name}");
    }
    write_all(&book.join("fine"), Some(&book), &first(), ALL).unwrap();

    let out = book.join("out");
    fs::remove_dir_all(out.join("layers")).unwrap();
    symlink(&elsewhere, out.join("layers")).unwrap();
    assert_eq!(
        word(write_all(&out, Some(&book), &first(), ALL)),
        "leads-out"
    );
    fs::remove_file(out.join("layers")).unwrap();
    fs::remove_file(out.join("proof.pdf")).unwrap();
    symlink(elsewhere.join("proof.pdf"), out.join("proof.pdf")).unwrap();
    assert_eq!(word(write_all(&out, None, &first(), ALL)), "leads-out");
    assert_eq!(fs::read_dir(&elsewhere).unwrap().count(), 0);
}

#[test]
fn a_folder_that_cannot_be_written_is_told_plainly() {
    let temp = tempfile::tempdir().unwrap();
    fs::write(temp.path().join("file"), "snow").unwrap();
    let fault = write_all(&temp.path().join("file/out"), None, &first(), ALL).unwrap_err();
    assert_eq!(fault.word, "cannot-write");
    assert!(
        fault.what.contains("a file where a folder is needed"),
        "{}",
        fault.what
    );
    fs::write(temp.path().join("layers"), "snow").unwrap();
    assert_eq!(
        word(write_all(temp.path(), None, &first(), ALL)),
        "cannot-write"
    );
    assert_eq!(
        fs::read_to_string(temp.path().join("layers")).unwrap(),
        "snow"
    );
}

#[test]
fn two_runs_at_once_are_refused() {
    let temp = tempfile::tempdir().unwrap();
    let lock = fs::File::create(temp.path().join(".lock")).unwrap();
    lock.lock().unwrap();
    assert_eq!(word(write_all(temp.path(), None, &first(), ALL)), "busy");
    drop(lock);
    write_all(temp.path(), None, &first(), ALL).unwrap();
}
