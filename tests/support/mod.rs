//! What the tests of whole books share: running the program, folders to work in, and texts to set.

#![allow(
    dead_code,
    reason = "each test file is a crate of its own and uses its own share of this"
)]

pub mod golden;
pub mod refusals;
pub mod share;
pub mod texts;

use std::collections::BTreeMap;
use std::fs;
use std::path::{Path, PathBuf};
use std::process::{Command, Stdio};

use tempfile::TempDir;

/// A call of the program, without colours and without a terminal.
pub fn versefold() -> Command {
    let mut call = Command::new(env!("CARGO_BIN_EXE_versefold"));
    call.env("NO_COLOR", "1").stdin(Stdio::null());
    call
}

/// What a call came to.
#[derive(Debug)]
pub struct Ran {
    pub status: Option<i32>,
    pub stdout: String,
    pub stderr: String,
}

impl Ran {
    pub fn of(call: &mut Command) -> Ran {
        let output = call.output().expect("the program runs");
        Ran {
            status: output.status.code(),
            stdout: String::from_utf8(output.stdout).expect("results are UTF-8"),
            stderr: String::from_utf8(output.stderr).expect("messages are UTF-8"),
        }
    }

    /// The result of a call that must do its work.
    pub fn done(self) -> String {
        assert_eq!(self.status, Some(0), "{}{}", self.stdout, self.stderr);
        self.stdout
    }

    /// The messages of a call that must find a fault, and must then give no result.
    pub fn at_fault(self) -> String {
        assert_eq!(self.status, Some(2), "{}{}", self.stdout, self.stderr);
        assert_eq!(self.stdout, "");
        self.stderr
    }
}

/// Runs a command in a folder, the book being that folder.
pub fn run_in(folder: &Path, arguments: &[&str]) -> Ran {
    Ran::of(versefold().current_dir(folder).args(arguments))
}

/// A folder that is gone when it is dropped.
pub fn temporary() -> TempDir {
    tempfile::tempdir().expect("a temporary folder")
}

/// The demo.
pub fn demo() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("examples/winter-bus")
}

/// Every book below `examples`, in the order of their names.
pub fn examples() -> Vec<PathBuf> {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("examples");
    let entries = fs::read_dir(folder).expect("the examples are there");
    let paths = entries.map(|entry| entry.expect("the folder can be read").path());
    let mut books: Vec<PathBuf> = paths
        .filter(|path| path.join("concertina.toml").exists())
        .collect();
    books.sort();
    books
}

/// The file name of a book's manuscript.
pub fn manuscript_of(book: &Path) -> String {
    said_in_plan(book, "manuscript")
}

/// The language of a book.
pub fn language_of(book: &Path) -> String {
    said_in_plan(book, "language")
}

fn said_in_plan(book: &Path, key: &str) -> String {
    let plan = fs::read_to_string(book.join("concertina.toml")).expect("a plan");
    let plan: toml::Table = toml::from_str(&plan).expect("TOML");
    plan[key].as_str().expect("a string").to_string()
}

/// A copy of a book without what the program may have written there.
pub fn copy_of(book: &Path, to: &Path) {
    fs::create_dir_all(to).expect("a folder for the copy");
    for name in ["concertina.toml", &manuscript_of(book)] {
        fs::copy(book.join(name), to.join(name)).expect("the book can be copied");
    }
    let Ok(scans) = fs::read_dir(book.join("art")) else {
        return;
    };
    fs::create_dir_all(to.join("art")).expect("a folder for scans");
    for scan in scans {
        let scan = scan.expect("the folder can be read");
        let copy = to.join("art").join(scan.file_name());
        fs::copy(scan.path(), copy).expect("the scan can be copied");
    }
}

/// A copy of the demo without what the program may have written there.
pub fn copy_of_demo(to: &Path) {
    copy_of(&demo(), to);
}

/// Writes a book with this plan and manuscript.
pub fn write_book(folder: &Path, plan: &str, manuscript: impl AsRef<[u8]>) {
    fs::create_dir_all(folder).expect("a folder for the book");
    fs::write(folder.join("concertina.toml"), plan).expect("the plan is written");
    fs::write(folder.join("winter-bus.txt"), manuscript).expect("the manuscript is written");
}

/// A plan for panels of 90 × 90 mm that hold ten lines; `more` goes on after `[paper]`.
pub fn small_plan(panels: usize, more: &str) -> String {
    format!(
        "title = \"The Winter Bus\"\nlanguage = \"en-GB\"\nmanuscript = \"winter-bus.txt\"\n\n\
         [paper]\npanel-width = \"90 mm\"\npanel-height = \"90 mm\"\npanels-per-side = {panels}\n\
         sides = \"front\"\n{more}"
    )
}

/// Everything below a folder: the name and, for a file, its bytes. Links are not followed.
pub fn tree(folder: &Path) -> BTreeMap<String, Option<Vec<u8>>> {
    let mut found = BTreeMap::new();
    let mut folders = vec![folder.to_path_buf()];
    while let Some(at) = folders.pop() {
        for entry in fs::read_dir(&at).expect("the folder can be read") {
            let path = entry.expect("the folder can be read").path();
            let name = path.strip_prefix(folder).expect("it lies below");
            let kind = path.symlink_metadata().expect("it is there").file_type();
            let bytes = kind.is_file().then(|| fs::read(&path).expect("a file"));
            found.insert(name.to_string_lossy().into_owned(), bytes);
            if kind.is_dir() {
                folders.push(path);
            }
        }
    }
    found
}

/// The files among these whose name ends so.
pub fn files_ending(tree: &BTreeMap<String, Option<Vec<u8>>>, end: &str) -> Vec<String> {
    let files = tree.iter().filter(|(_, bytes)| bytes.is_some());
    files
        .map(|(name, _)| name.clone())
        .filter(|name| name.ends_with(end))
        .collect()
}
