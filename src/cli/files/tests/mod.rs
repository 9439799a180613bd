//! Output folders written, written again and disturbed.

mod cut_short;
mod refused;

use std::collections::BTreeMap;
use std::fs;
use std::path::Path;

use super::manifest::Manifest;
use super::*;

/// A run that has all names for its own.
const ALL: fn(&str) -> bool = |_| true;

/// Stands for files of which nobody says what they are made from.
const ANYHOW: fn(&str) -> Option<String> = |_| None;

fn write_all(
    folder: &Path,
    within: Option<&Path>,
    files: &[OutputFile],
    mine: fn(&str) -> bool,
) -> Result<Written, Fault> {
    super::write_all(folder, within, files, ANYHOW, |name, _| mine(name))
}

fn file(name: &str, text: &str) -> OutputFile {
    OutputFile {
        name: name.into(),
        bytes: text.into(),
    }
}

fn first() -> Vec<OutputFile> {
    vec![
        file("proof.pdf", "proof 1"),
        file("layers/front-01.pdf", "The bus climbed"),
        file("layers/front-02.pdf", "over the pass"),
        file("notes/old.txt", "no longer wanted"),
    ]
}

fn second() -> Vec<OutputFile> {
    vec![
        file("proof.pdf", "proof 2"),
        file("layers/front-01.pdf", "The bus climbed"),
        file("layers/front-02.pdf", "over the pass in snow"),
        file("layers/back-01.pdf", "and down again"),
    ]
}

/// Every file below `folder` but the lock, by name.
fn all(folder: &Path) -> BTreeMap<String, String> {
    fn walk(root: &Path, folder: &Path, found: &mut BTreeMap<String, String>) {
        for entry in fs::read_dir(folder).unwrap() {
            let path = entry.unwrap().path();
            if path.is_dir() {
                walk(root, &path, found);
                continue;
            }
            let name = path.strip_prefix(root).unwrap().display().to_string();
            if name != ".lock" {
                found.insert(name, fs::read_to_string(&path).unwrap());
            }
        }
    }
    let mut found = BTreeMap::new();
    walk(folder, folder, &mut found);
    found
}

/// So many that the file system may be asked for all of them at once.
#[test]
fn many_files_are_written_as_few_are() {
    let temp = tempfile::tempdir().unwrap();
    let out = temp.path();
    let many = |words: &str| -> Vec<OutputFile> {
        let name = |number: usize| format!("{}/{number}.pdf", if number < 25 { "a" } else { "b" });
        let files = (0..60).map(|number| file(&name(number), &format!("{words} {number}")));
        files.collect()
    };
    let written = write_all(out, None, &many("snow"), ALL).unwrap();
    assert_eq!(written.written.len(), 60);
    assert_eq!(without_manifest(out), wanted(&many("snow")));
    let mut half = many("snow");
    half.truncate(30);
    half.extend(many("thaw").into_iter().skip(30).take(20));
    let written = write_all(out, None, &half, ALL).unwrap();
    let counts = (
        written.unchanged.len(),
        written.written.len(),
        written.removed.len(),
    );
    assert_eq!(counts, (30, 20, 10));
    assert_eq!(without_manifest(out), wanted(&half));
}

/// Two commands write to one folder: what one no longer wants it removes, what the other wrote stays its own.
#[test]
fn a_command_leaves_what_another_wrote() {
    let temp = tempfile::tempdir().unwrap();
    let out = temp.path();
    let trials: fn(&str) -> bool = |name| name == "trials.pdf";
    let others: fn(&str) -> bool = |name| name != "trials.pdf";
    write_all(out, None, &first(), others).unwrap();
    write_all(out, None, &[file("trials.pdf", "five trials")], trials).unwrap();
    let written = write_all(out, None, &second(), others).unwrap();
    assert_eq!(written.removed, ["notes/old.txt"]);
    assert_eq!(without_manifest(out)["trials.pdf"], "five trials");
    let written = write_all(out, None, &[file("trials.pdf", "four trials")], trials).unwrap();
    assert_eq!((written.written.len(), written.moved_aside.len()), (1, 0));
    let written = write_all(out, None, &[], trials).unwrap();
    assert_eq!(written.removed, ["trials.pdf"]);
    let mut expected: BTreeMap<String, String> = BTreeMap::new();
    for file in second() {
        expected.insert(file.name, String::from_utf8(file.bytes).unwrap());
    }
    assert_eq!(without_manifest(out), expected);
}

/// What is made from something else now is told where another command wrote it, and removed where this one may: whatever its
/// bytes; and never where it was changed by hand.
#[test]
fn what_is_out_of_date_is_told_or_removed() {
    let temp = tempfile::tempdir().unwrap();
    let out = temp.path();
    let run = |words: &str, files: &[OutputFile], mine: &dyn Fn(&str, bool) -> bool| {
        let made_from = |_: &str| Some(words.to_string());
        super::write_all(out, None, files, made_from, mine).unwrap()
    };
    let sheets: &dyn Fn(&str, bool) -> bool = &|name, _| name.starts_with("sheet");
    let strip: &dyn Fn(&str, bool) -> bool =
        &|name, out_of_date| name.starts_with("sheet") || out_of_date && name.starts_with("plate");
    let dummy: &dyn Fn(&str, bool) -> bool = &|name, _| name == "dummy.pdf";
    run("snow", &[file("dummy.pdf", "a dummy")], dummy);
    let plates = ["plate-1", "plate-2"].map(|name| file(name, "a plate"));
    run("snow", &plates, &|name, _| name.starts_with("plate"));
    let written = run(
        "snow",
        &[file("sheet-1", "one"), file("sheet-2", "two")],
        sheets,
    );
    assert_eq!((written.out_of_date.len(), written.removed.len()), (0, 0));
    fs::write(out.join("plate-2"), "scratched by hand").unwrap();
    let written = run("thaw", &[file("sheet-1", "one")], strip);
    assert_eq!(written.out_of_date, ["dummy.pdf"]);
    assert_eq!(written.removed, ["plate-1", "sheet-2"]);
    let aside = ("plate-2".to_string(), "plate-2.kept-1".to_string());
    assert_eq!(written.moved_aside, [aside]);
    assert_eq!(without_manifest(out)["plate-2.kept-1"], "scratched by hand");
    // It is told until it is made anew, even with the same bytes.
    let written = run("thaw", &[file("sheet-1", "one")], strip);
    assert_eq!(written.out_of_date, ["dummy.pdf"]);
    run("thaw", &[file("dummy.pdf", "a dummy")], dummy);
    let written = run("thaw", &[file("sheet-1", "one")], strip);
    assert!(written.out_of_date.is_empty());
}

fn without_manifest(folder: &Path) -> BTreeMap<String, String> {
    let mut found = all(folder);
    found.remove("manifest.json").unwrap();
    found
}

fn wanted(files: &[OutputFile]) -> BTreeMap<String, String> {
    files
        .iter()
        .map(|file| {
            (
                file.name.clone(),
                String::from_utf8(file.bytes.clone()).unwrap(),
            )
        })
        .collect()
}

#[test]
fn a_second_run_changes_nothing_and_a_shorter_list_removes() {
    let temp = tempfile::tempdir().unwrap();
    let out = temp.path().join("book/out");
    let written = write_all(&out, None, &first(), ALL).unwrap();
    assert_eq!(written.written.len(), 4);
    assert_eq!(without_manifest(&out), wanted(&first()));
    let manifest = Manifest::read(&out.join("manifest.json")).unwrap();
    assert_eq!(manifest.files[0].name, "layers/front-01.pdf");
    assert_eq!(manifest.files[0].bytes, 15);

    let before = all(&out);
    let again = write_all(&out, None, &first(), ALL).unwrap();
    assert_eq!((again.written.len(), again.unchanged.len()), (0, 4));
    assert_eq!(all(&out), before);

    let shorter = write_all(&out, None, &second(), ALL).unwrap();
    assert_eq!(shorter.removed, ["notes/old.txt"]);
    assert_eq!(shorter.unchanged, ["layers/front-01.pdf"]);
    assert_eq!(shorter.moved_aside, []);
    assert_eq!(without_manifest(&out), wanted(&second()));
    assert!(!out.join("notes").exists());
}

#[test]
fn somebodys_own_work_is_moved_aside() {
    let temp = tempfile::tempdir().unwrap();
    let out = temp.path();
    write_all(out, None, &first(), ALL).unwrap();
    fs::write(out.join("layers/front-02.pdf"), "my own").unwrap();
    fs::write(out.join("layers/front-02.kept-1.pdf"), "older").unwrap();
    fs::write(out.join("layers/back-01.pdf"), "also mine").unwrap();
    fs::write(out.join("notes/old.txt"), "edited").unwrap();
    let written = write_all(out, None, &second(), ALL).unwrap();
    let name = |text: &str| text.to_string();
    assert_eq!(
        written.moved_aside,
        [
            (
                name("layers/front-02.pdf"),
                name("layers/front-02.kept-2.pdf")
            ),
            (
                name("layers/back-01.pdf"),
                name("layers/back-01.kept-1.pdf")
            ),
            (name("notes/old.txt"), name("notes/old.kept-1.txt")),
        ]
    );
    assert_eq!(written.removed.len(), 0);
    let mut expected = wanted(&second());
    expected.insert(name("layers/front-02.kept-1.pdf"), name("older"));
    expected.insert(name("layers/front-02.kept-2.pdf"), name("my own"));
    expected.insert(name("layers/back-01.kept-1.pdf"), name("also mine"));
    expected.insert(name("notes/old.kept-1.txt"), name("edited"));
    assert_eq!(without_manifest(out), expected);
}

#[test]
fn a_manifest_that_is_none_is_moved_aside_and_its_names_are_not_trusted() {
    let temp = tempfile::tempdir().unwrap();
    let out = temp.path().join("out");
    fs::create_dir(&out).unwrap();
    fs::write(out.join("manifest.json"), "my list").unwrap();
    let written = write_all(&out, None, &first(), ALL).unwrap();
    assert_eq!(written.moved_aside[0].1, "manifest.kept-1.json");
    assert_eq!(
        fs::read_to_string(out.join("manifest.kept-1.json")).unwrap(),
        "my list"
    );

    let victim = temp.path().join("victim");
    fs::write(&victim, "proof 1").unwrap();
    let json = fs::read_to_string(out.join("manifest.json")).unwrap();
    for name in [
        "../victim",
        victim.to_str().unwrap(),
        "a\\\\..\\\\victim",
        "./../victim",
    ] {
        fs::write(out.join("manifest.json"), json.replace("proof.pdf", name)).unwrap();
        let written = write_all(&out, None, &second()[1..], ALL).unwrap();
        assert!(
            !written
                .moved_aside
                .iter()
                .any(|(from, _)| from.contains("victim"))
        );
        assert!(!written.removed.iter().any(|n| n.contains("victim")));
        assert!(victim.exists());
        fs::remove_dir_all(&out).unwrap();
        write_all(&out, None, &first(), ALL).unwrap();
    }
}

#[test]
fn new_files_never_replace() {
    let temp = tempfile::tempdir().unwrap();
    let path = temp.path().join("book.toml");
    write_new(&path, b"title").unwrap();
    assert_eq!(write_new(&path, b"other").unwrap_err().word, "exists");
    let nowhere = write_new(&temp.path().join("no/book.toml"), b"title").unwrap_err();
    assert_eq!(nowhere.word, "cannot-write");
    assert_eq!(all(temp.path()).len(), 1);
    assert_eq!(fs::read(&path).unwrap(), b"title");
}
