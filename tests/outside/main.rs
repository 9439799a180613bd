//! What programs that we did not write say of our files: each needs a tool that is not always there, so that
//! these tests run only when they are asked for, and then a missing tool is a failure. `prose/optimum` needs none.

mod accessible;
mod art;
mod bidi;
#[path = "../art/files.rs"]
mod files;
mod hyphens;
mod joined;
#[path = "../shaping/line.rs"]
mod line;
#[path = "../shaping/lines_of.rs"]
mod lines_of;
#[path = "../art/lossless.rs"]
mod lossless;
mod paper;
mod plans;
#[path = "../x4/press.rs"]
mod press;
#[path = "../x4/profile.rs"]
mod profile;
mod prose;
mod readers;
mod shaping;
mod sheets;
#[path = "../support/mod.rs"]
mod support;
mod unicode;
mod vertical;

use std::fs;
use std::path::{Path, PathBuf};
use std::process::Command;
use std::sync::OnceLock;

use support::texts::every_text;
use support::{copy_of, copy_of_demo, examples, files_ending, language_of, run_in, tree};
use versefold::names::Direction;

/// The demo, the other examples, small books of the tests that read from right to left, and every text there is,
/// each with its layers; the demo also with its words as paths.
struct Books {
    below: PathBuf,
    names: Vec<(String, Direction)>,
}

/// Small books of `tests/books` that read from right to left, at least in part.
const RIGHT_TO_LEFT: [&str; 2] = ["hebrew-poem", "two-directions"];

/// The books, made once for all tests, in a folder that the next run clears.
fn books() -> &'static Books {
    static BOOKS: OnceLock<Books> = OnceLock::new();
    BOOKS.get_or_init(|| Books::make(Path::new(env!("CARGO_TARGET_TMPDIR")).join("outside")))
}

impl Books {
    fn make(below: PathBuf) -> Books {
        let _ = fs::remove_dir_all(&below);
        let demo = below.join("winter-bus");
        copy_of_demo(&demo);
        run_in(&demo, &["layers", "--quiet"]).done();
        let as_paths = ["layers", "--quiet", "--as-paths", "--out", "paths"];
        run_in(&demo, &as_paths).done();
        let mut names = vec![("winter-bus".to_string(), Direction::LeftToRight)];
        let small = Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/books");
        let small = RIGHT_TO_LEFT.map(|name| (small.join(name), Direction::RightToLeft));
        let others = examples()
            .into_iter()
            .filter(|book| *book != support::demo());
        let others = others.map(|book| {
            let reads = Direction::of_language(&language_of(&book));
            (book, reads)
        });
        for (from, reads) in others.chain(small) {
            let name = from.file_name().expect("a name").to_string_lossy();
            copy_of(&from, &below.join(&*name));
            run_in(&below.join(&*name), &["layers", "--quiet"]).done();
            names.push((name.into_owned(), reads));
        }
        for text in every_text() {
            text.make_book(&below);
            println!("set, written, and read back: {}", text.name());
            names.push((text.name(), Direction::of_language(&text.language)));
        }
        Books { below, names }
    }

    /// A layer of the demo.
    fn of_demo(&self, name: &str) -> PathBuf {
        self.below.join("winter-bus/out/layers").join(name)
    }

    /// Every PDF of the demo, and the two sides of every text.
    fn all(&self) -> Vec<PathBuf> {
        let demo = self.below.join("winter-bus");
        let mut all: Vec<PathBuf> = files_ending(&tree(&demo), ".pdf")
            .iter()
            .map(|name| demo.join(name))
            .collect();
        for needed in [
            "out/contact-sheet.pdf",
            "out/layers/front-02.pdf",
            "paths/layers/back.pdf",
        ] {
            assert!(all.contains(&demo.join(needed)), "{needed} is missing");
        }
        all.extend(self.sides().into_iter().skip(2));
        all
    }

    /// `front.pdf` and `back.pdf` of every book, those that are there.
    fn sides(&self) -> Vec<PathBuf> {
        let ways = [Direction::LeftToRight, Direction::RightToLeft];
        ways.into_iter()
            .flat_map(|reads| self.sides_in(reads))
            .collect()
    }

    /// Those of the books that read this way.
    fn sides_in(&self, reads: Direction) -> Vec<PathBuf> {
        let names = self.names.iter().filter(|name| name.1 == reads);
        let layers = names.map(|name| self.below.join(&name.0).join("out/layers"));
        layers
            .flat_map(|layers| [layers.join("front.pdf"), layers.join("back.pdf")])
            .filter(|side| side.exists())
            .collect()
    }
}

/// What a tool says on standard output; nothing where it ends with another status than nought.
fn says(tool: &str, arguments: &[&str], files: &[PathBuf]) -> Option<String> {
    let mut call = Command::new(tool);
    let ran = call.args(arguments).args(files).output();
    let ran = ran.unwrap_or_else(|error| panic!("{tool} cannot be run: {error}"));
    let text = String::from_utf8(ran.stdout).expect("it says UTF-8");
    if !ran.status.success() {
        println!("{tool}: {text}{}", String::from_utf8_lossy(&ran.stderr));
        return None;
    }
    Some(text)
}
