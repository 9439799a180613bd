//! Folders that cannot be written, lead elsewhere, or run full half way.

use std::fs;
use std::os::unix::fs::{MetadataExt, PermissionsExt, symlink};
use std::path::Path;
use std::process::Command;

use super::refused;
use crate::support::{copy_of_demo, run_in, temporary, tree};

fn is_root() -> bool {
    fs::metadata("/proc/self").is_ok_and(|own| own.uid() == 0)
}

#[test]
fn a_file_where_the_folder_should_be_is_left_alone() {
    let temp = temporary();
    copy_of_demo(temp.path());
    fs::write(temp.path().join("out"), "the client's own").expect("written");
    assert_eq!(
        refused(temp.path(), &["layers", "."]),
        "Fault: cannot write `./out`: there is a file where a folder is needed\n"
    );
    fs::remove_file(temp.path().join("out")).expect("removed");
    fs::create_dir(temp.path().join("out")).expect("made");
    fs::write(temp.path().join("out/layers"), "the client's own").expect("written");
    assert_eq!(
        refused(temp.path(), &["layers"]),
        "Fault: cannot write `./out/layers`: there is a file where a folder is needed\n"
    );
}

#[test]
fn a_link_that_leads_out_of_the_book_is_refused() {
    let temp = temporary();
    let (book, elsewhere) = (temp.path().join("book"), temp.path().join("elsewhere"));
    copy_of_demo(&book);
    fs::create_dir(&elsewhere).expect("made");
    for (link, made) in [("out", false), ("out/layers", true)] {
        if made {
            fs::create_dir(book.join("out")).expect("made");
        }
        symlink(&elsewhere, book.join(link)).expect("a link");
        let said = refused(&book, &["layers"]);
        let inside = if made { "./out" } else { "." };
        let end = fs::canonicalize(&elsewhere).expect("there");
        assert!(
            said.starts_with(&format!(
                "Fault: `./{link}` leads out of `{inside}`: it ends at `{}",
                end.display()
            )),
            "{said}"
        );
        assert!(
            said.ends_with("help: replace the link with a real folder or file\n"),
            "{said}"
        );
        assert!(tree(&elsewhere).is_empty(), "something was written there");
        fs::remove_file(book.join(link)).expect("removed");
    }
}

#[test]
fn a_folder_that_may_not_be_written_is_told() {
    let temp = temporary();
    copy_of_demo(temp.path());
    if is_root() {
        // Root may write everywhere but on a disk that can only be read.
        let script = "mount -o remount,ro \"$DISK\"";
        if let Some(said) = on_a_small_disk("2m", script, temp.path()) {
            assert_eq!(
                said,
                "Fault: cannot write `./out`: the disk can only be read\nstatus 2\n"
            );
        }
        return;
    }
    let mode = |mode| fs::set_permissions(temp.path(), fs::Permissions::from_mode(mode));
    mode(0o555).expect("the mode is set");
    let said = refused(temp.path(), &["layers"]);
    mode(0o755).expect("the mode is set");
    assert_eq!(
        said,
        "Fault: cannot write `./out`: you do not have permission\n"
    );
}

/// The disk has room for what is there and for half of what comes; the old files stay whole.
#[test]
fn a_disk_that_runs_full_leaves_the_old_files_whole() {
    let temp = temporary();
    copy_of_demo(temp.path());
    run_in(temp.path(), &["layers", "--quiet"]).done();
    // Another title changes every file.
    let plan = fs::read_to_string(temp.path().join("concertina.toml")).expect("a plan");
    let (first, rest) = plan.split_once('\n').expect("lines");
    assert!(first.starts_with("title = "), "{first}");
    let plan = format!("title = \"The Last Run\"\n{rest}");
    fs::write(temp.path().join("concertina.toml"), plan).expect("written");
    let pages = |folder: &Path| -> usize {
        let sizes = tree(folder)
            .into_values()
            .map(|bytes| bytes.map_or(1, |b| b.len() + 1));
        sizes.map(|size| size.div_ceil(4096)).sum()
    };
    let room = pages(temp.path()) + pages(&temp.path().join("out")) / 2;
    if let Some(said) = on_a_small_disk(&format!("{}k", room * 4), "true", temp.path()) {
        let (what, status) = said.split_once('\n').expect("two lines");
        assert!(what.starts_with("Fault: cannot write `./out/"), "{said}");
        assert!(what.ends_with("`: the disk is full"), "{said}");
        assert_eq!(status, "status 2\n");
    }
}

/// Copies a book to a disk of its own that is so large, runs `prepare` and then `layers` there, and gives
/// the messages and the status. What is on the disk afterwards must be what was there before. Nothing where
/// this machine lets nobody mount a disk; where `VERSEFOLD_CI` is set that is a failure.
fn on_a_small_disk(size: &str, prepare: &str, book: &Path) -> Option<String> {
    let temp = temporary();
    let (disk, after) = (temp.path().join("disk"), temp.path().join("after"));
    fs::create_dir(&disk).expect("made");
    let script = format!(
        "mount -t tmpfs -o size={size} tmpfs \"$DISK\" && echo mounted || exit 0\n\
         cp -a \"$BOOK/.\" \"$DISK\" && cd \"$DISK\" && {prepare} || exit 1\n\
         \"$PROGRAM\" layers >&2; echo \"status $?\" >&2\n\
         cp -a \"$DISK\" \"$AFTER\""
    );
    let as_root: &[&str] = if is_root() {
        &[]
    } else {
        &["--user", "--map-root-user"]
    };
    let ran = Command::new("unshare")
        .args(as_root)
        .args(["--mount", "sh", "-c", &script])
        .env("NO_COLOR", "1")
        .env("DISK", &disk)
        .env("AFTER", &after)
        .env("BOOK", book)
        .env("PROGRAM", env!("CARGO_BIN_EXE_versefold"))
        .output();
    let ran = ran.ok().filter(|ran| ran.stdout.starts_with(b"mounted"));
    let Some(ran) = ran else {
        let needed = std::env::var_os("VERSEFOLD_CI").is_some();
        assert!(
            !needed,
            "no disk can be mounted here, and VERSEFOLD_CI asks for it"
        );
        println!("skipped: no disk can be mounted here");
        return None;
    };
    let said = String::from_utf8_lossy(&ran.stderr).into_owned();
    assert!(ran.status.success(), "{said}");
    assert!(tree(&after) == tree(book), "something was changed: {said}");
    Some(said)
}
