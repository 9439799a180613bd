//! One of the author's own files, replaced and cut short.

use std::collections::BTreeMap;
use std::fs;
use std::path::Path;

use super::bad_disk::{BadDisk, Failure};
use super::own::{hold, replace};
use crate::names::Fault;

const OLD: &str = "The bus climbed\nover the pass";
const NEW: &str = "The bus crept\nover the pass in snow";

/// A book's folder with its manuscript.
fn book() -> tempfile::TempDir {
    let temp = tempfile::tempdir().unwrap();
    fs::write(temp.path().join("poem.txt"), OLD).unwrap();
    temp
}

fn all(folder: &Path) -> BTreeMap<String, String> {
    let name = |path: &Path| path.file_name().unwrap().to_string_lossy().into_owned();
    let files = fs::read_dir(folder)
        .unwrap()
        .map(|entry| entry.unwrap().path());
    files
        .map(|path| (name(&path), fs::read_to_string(&path).unwrap()))
        .collect()
}

fn files(list: &[(&str, &str)]) -> BTreeMap<String, String> {
    let own = |(name, text): &(&str, &str)| (name.to_string(), text.to_string());
    list.iter().map(own).collect()
}

#[test]
fn the_old_file_is_kept_under_the_first_free_number() {
    let temp = book();
    let held = hold(temp.path()).unwrap();
    let replace = |old: &str, new: &str, keep| {
        let old = Some(old.as_bytes());
        held.replace("poem.txt", old, new.as_bytes(), keep).unwrap()
    };
    assert_eq!(replace(OLD, NEW, true).as_deref(), Some("poem.1.txt"));
    fs::write(temp.path().join("poem.2.txt"), "her own").unwrap();
    assert_eq!(replace(NEW, OLD, true).as_deref(), Some("poem.3.txt"));
    assert_eq!(replace(OLD, "third", false), None);
    let kept = [
        ("poem.1.txt", OLD),
        ("poem.2.txt", "her own"),
        ("poem.3.txt", NEW),
    ];
    let mut expected = files(&kept);
    expected.insert("poem.txt".into(), "third".into());
    assert_eq!(all(temp.path()), expected);

    let first = held.replace("breaks.toml", None, b"[front]", true).unwrap();
    assert_eq!((first, all(temp.path()).len()), (None, 5));
}

#[test]
fn what_was_changed_meanwhile_or_is_protected_is_not_replaced() {
    let temp = book();
    let held = hold(temp.path()).unwrap();
    let word = |old: Option<&str>, name| {
        let old = old.map(str::as_bytes);
        let fault: Fault = held.replace(name, old, NEW.as_bytes(), true).unwrap_err();
        fault.word
    };
    assert_eq!(word(Some("The bus"), "poem.txt"), "changed");
    assert_eq!(word(None, "poem.txt"), "changed");
    assert_eq!(word(Some(OLD), "breaks.toml"), "changed");
    let path = temp.path().join("poem.txt");
    let mut permissions = fs::metadata(&path).unwrap().permissions();
    permissions.set_readonly(true);
    fs::set_permissions(&path, permissions).unwrap();
    assert_eq!(word(Some(OLD), "poem.txt"), "write-protected");
    assert_eq!(all(temp.path()), files(&[("poem.txt", OLD)]));
}

#[test]
fn two_runs_on_one_book_are_refused_and_nothing_is_left() {
    let temp = book();
    let held = hold(temp.path()).unwrap();
    assert_eq!(hold(temp.path()).unwrap_err().word, "busy");
    drop(held);
    drop(hold(temp.path()).unwrap());
    #[cfg(unix)]
    assert_eq!(all(temp.path()), files(&[("poem.txt", OLD)]));
}

#[cfg(unix)]
#[test]
fn behind_a_link_the_file_itself_is_replaced_and_none_outside() {
    use std::os::unix::fs::{PermissionsExt, symlink};
    let temp = book();
    let elsewhere = tempfile::tempdir().unwrap();
    let path = temp.path().join("poem.txt");
    fs::set_permissions(&path, fs::Permissions::from_mode(0o640)).unwrap();
    symlink(&path, temp.path().join("linked.txt")).unwrap();
    fs::write(elsewhere.path().join("out.txt"), OLD).unwrap();
    symlink(
        elsewhere.path().join("out.txt"),
        temp.path().join("out.txt"),
    )
    .unwrap();
    let held = hold(temp.path()).unwrap();
    let old = Some(OLD.as_bytes());
    held.replace("linked.txt", old, NEW.as_bytes(), true)
        .unwrap();
    assert_eq!(fs::read_to_string(&path).unwrap(), NEW);
    assert_eq!(
        fs::metadata(&path).unwrap().permissions().mode() & 0o777,
        0o640
    );
    let leads_out = held
        .replace("out.txt", old, NEW.as_bytes(), true)
        .unwrap_err();
    assert_eq!(leads_out.word, "leads-out");
}

#[test]
fn a_failure_at_any_step_leaves_all_as_it_was() {
    for failure in [Failure::Once, Failure::Full] {
        let mut failed = 0;
        for at in 1..12 {
            let temp = book();
            let disk = BadDisk::new(failure, at);
            let old = Some(OLD.as_bytes());
            match replace(&disk, temp.path(), "poem.txt", old, NEW.as_bytes(), true) {
                Err(fault) => {
                    failed += 1;
                    assert!(fault.what.contains("the disk is full"), "{}", fault.what);
                    assert_eq!(
                        all(temp.path()),
                        files(&[("poem.txt", OLD)]),
                        "{failure:?} {at}"
                    );
                }
                Ok(kept) => {
                    assert_eq!(kept.as_deref(), Some("poem.1.txt"));
                    let there = all(temp.path());
                    assert_eq!((&*there["poem.txt"], &*there["poem.1.txt"]), (NEW, OLD));
                }
            }
        }
        assert!(failed >= 3, "{failure:?} failed {failed} times");
    }
}

/// Cut short at any instant, the manuscript is whole, the old one is there, and the next run ends the work and
/// clears up.
#[test]
fn a_run_that_was_killed_leaves_a_whole_file_and_the_old_one() {
    let (mut whole_old, mut whole_new) = (0, 0);
    for at in 1..12 {
        let temp = book();
        let old = Some(OLD.as_bytes());
        let disk = BadDisk::new(Failure::Killed, at);
        let _ = replace(&disk, temp.path(), "poem.txt", old, NEW.as_bytes(), true);
        let there = all(temp.path());
        let plain: Vec<&String> = there
            .iter()
            .filter(|(name, _)| !name.starts_with('.'))
            .map(|(_, text)| text)
            .collect();
        assert!(
            plain.iter().all(|text| [OLD, NEW].contains(&text.as_str())),
            "{there:?}"
        );
        assert!(plain.iter().any(|text| *text == OLD), "{there:?}");
        match there["poem.txt"].as_str() {
            OLD => whole_old += 1,
            NEW => {
                whole_new += 1;
                continue;
            }
            other => panic!("killed at {at}: {other}"),
        }
        let kept = hold(temp.path())
            .unwrap()
            .replace("poem.txt", old, NEW.as_bytes(), true);
        assert_eq!(kept.unwrap().as_deref(), Some("poem.1.txt"));
        assert_eq!(
            all(temp.path()),
            files(&[("poem.1.txt", OLD), ("poem.txt", NEW)])
        );
    }
    assert!(whole_old >= 3 && whole_new >= 1, "{whole_old} {whole_new}");
}
