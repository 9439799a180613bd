//! Runs that fail or are killed at any step: all is as it was, or the next run finishes them.

use std::fs;
use std::path::Path;

use super::{ALL, ANYHOW, all, first, second, wanted, without_manifest, write_all};
use crate::cli::files::bad_disk::{BadDisk, Failure};
use crate::cli::files::{Whose, Written, folder};
use crate::names::Fault;

/// A folder after a first run, with one file of somebody's own in the way of the second.
fn disturbed() -> tempfile::TempDir {
    let temp = tempfile::tempdir().unwrap();
    write_all(temp.path(), None, &first(), ALL).unwrap();
    fs::write(temp.path().join("layers/back-01.pdf"), "mine").unwrap();
    temp
}

/// The second run on a disk that fails at its `at`th change.
fn failing(out: &Path, failure: Failure, at: usize) -> Result<Written, Fault> {
    let whose = Whose {
        made_from: &ANYHOW,
        mine: &|_, _| true,
    };
    folder::write_all(&BadDisk::new(failure, at), out, None, &second(), whose)
}

#[test]
fn a_failure_at_any_step_leaves_all_as_it_was() {
    for failure in [Failure::Once, Failure::Full] {
        let mut failed = 0;
        for at in 1..40 {
            let temp = disturbed();
            let before = all(temp.path());
            match failing(temp.path(), failure, at) {
                Err(fault) => {
                    failed += 1;
                    assert_eq!(fault.word, "cannot-write");
                    assert!(fault.what.contains("the disk is full"), "{}", fault.what);
                    assert_eq!(all(temp.path()), before, "{failure:?} at {at}");
                    assert!(!temp.path().join(".versefold-writing").exists());
                }
                Ok(_) => {
                    let name = "layers/back-01.kept-1.pdf";
                    assert_eq!(fs::read_to_string(temp.path().join(name)).unwrap(), "mine");
                }
            }
        }
        assert!(failed >= 10, "{failure:?} failed {failed} times");
    }
}

#[test]
fn a_run_that_was_killed_is_finished_by_the_next() {
    for at in 1..40 {
        let temp = disturbed();
        let out = temp.path();
        let _ = failing(out, Failure::Killed, at);
        // A second killed run with other words must not forget what the first one left.
        let mut third = second();
        third[0].bytes = b"proof 3".to_vec();
        let disk = BadDisk::new(Failure::Killed, at / 2 + 1);
        let whose = Whose {
            made_from: &ANYHOW,
            mine: &|_, _| true,
        };
        let _ = folder::write_all(&disk, out, None, &third, whose);
        let written = write_all(out, None, &second(), ALL).unwrap();
        assert!(written.moved_aside.len() <= 1, "killed at {at}");
        let mut expected = wanted(&second());
        expected.insert("layers/back-01.kept-1.pdf".into(), "mine".into());
        assert_eq!(without_manifest(out), expected, "killed at {at}");
    }
}
