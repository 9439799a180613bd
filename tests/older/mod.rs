//! Books as other versions of the program left them. `book` was written by the version before files had a `format` and
//! seals a number: its plan and manuscript by hand, `breaks.toml` by `pass "front 2, front 3"`, `layout.json` and
//! `manifest.json` by `layers`. `pictures` was written when pictures left their panels to words unless said.

use std::fs;
use std::path::{Path, PathBuf};

use serde_json::Value;
use tempfile::TempDir;
use versefold::assets::Assets;
use versefold::book::Workbench;
use versefold::layout::{seal, shown};

use crate::support::{Ran, golden, run_in, temporary, tree};

/// A copy of the older book, with the record of its layers.
struct Older {
    temp: TempDir,
}

impl Older {
    fn new() -> Older {
        let older = Older::of("book");
        fs::copy(kept("breaks.toml"), older.path("breaks.toml")).expect("copied");
        older
    }

    fn of(name: &str) -> Older {
        let older = Older { temp: temporary() };
        let from = Path::new(env!("CARGO_MANIFEST_DIR"))
            .join("tests/older")
            .join(name);
        for file in ["concertina.toml", "winter-bus.txt"] {
            fs::copy(from.join(file), older.path(file)).expect("copied");
        }
        fs::create_dir(older.path("out")).expect("made");
        for file in ["layout.json", "manifest.json"] {
            fs::copy(from.join(file), older.path("out").join(file)).expect("copied");
        }
        older
    }

    /// Writes into the plan what keeps the pictures as they were.
    fn as_before(&self) {
        let pictures = ["the chains", "the lantern", "the horn"];
        let leaves = pictures
            .map(|name| format!("[[picture]]\nname = \"{name}\"\nleaves = \"all\"\n\n"))
            .concat();
        let rules = "[rules]\npicture-comes = { soonest = 0, latest = 1 }\nnearness = false";
        self.change("concertina.toml", "[rules]", &format!("{leaves}{rules}"));
    }

    fn path(&self, file: &str) -> PathBuf {
        self.temp.path().join(file)
    }

    fn run(&self, arguments: &[&str]) -> Ran {
        run_in(self.temp.path(), arguments)
    }

    fn read(&self, file: &str) -> String {
        fs::read_to_string(self.path(file)).expect("it is there")
    }

    /// Writes another layout, for which the manifest vouches: so it is what another version wrote.
    fn vouch_for(&self, layout: &str) {
        let sum = |text: &str| {
            use sha2::{Digest, Sha256};
            let digest = Sha256::digest(text);
            digest
                .iter()
                .map(|byte| format!("{byte:02x}"))
                .collect::<String>()
        };
        let (old, new) = (sum(&self.read("out/layout.json")), sum(layout));
        fs::write(self.path("out/layout.json"), layout).expect("written");
        self.change("out/manifest.json", &old, &new);
    }

    fn change(&self, file: &str, from: &str, to: &str) {
        let text = self.read(file);
        assert!(text.contains(from), "“{from}” in {text}");
        fs::write(self.path(file), text.replace(from, to)).expect("written");
    }
}

fn kept(file: &str) -> PathBuf {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/older/book");
    folder.join(file)
}

/// The same book has the same fingerprints, whatever types are called and however they are printed.
#[test]
fn the_fingerprints_of_a_book_stay_what_they_are() {
    let layout = Workbench::new(Assets::folder(kept("")))
        .lay_out()
        .expect("it is sound");
    let mut told = String::new();
    for (panel, shown) in layout.panels.iter().zip(shown(&layout)) {
        told.push_str(&format!("{} {shown}\n", panel.panel));
        for line in &panel.lines {
            told.push_str(&format!("  {} {}\n", seal(line), line.text));
        }
    }
    let golden = Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/older/fingerprints.txt");
    assert_eq!(golden::differs(&golden, &told), None);
}

/// The seals of `breaks.toml` in order, and the rest of it.
fn seals(breaks: &str) -> (Vec<&str>, String) {
    let mut pieces = breaks.split("seal = \"");
    let mut rest = pieces.next().unwrap_or_default().to_string();
    let mut seals = Vec::new();
    for piece in pieces {
        let (seal, behind) = piece.split_once('"').expect("a seal ends");
        seals.push(seal);
        rest.push_str(behind);
    }
    (seals, rest)
}

fn is_of_today(seal: &str) -> bool {
    let digits = seal.strip_prefix("1-");
    digits.is_some_and(|digits| digits.len() == 12)
}

#[test]
fn panels_that_an_older_version_passed_are_sealed_anew_where_they_are_the_same() {
    let book = Older::new();
    let before = book.read("breaks.toml");
    let remark = "– Front 2, front 3 were passed for press by an older version of the program; the lines are those that \
                  are printed, and are sealed anew when breaks.toml is next written.\n";
    let flow = book.run(&["flow"]).done();
    assert!(flow.contains(remark), "{flow}");
    assert_eq!(book.read("breaks.toml"), before, "`flow` wrote it");
    let pass = book.run(&["pass", "front 2"]);
    assert_eq!(pass.stderr, "");
    pass.done();
    let after = book.read("breaks.toml");
    let ((old, old_rest), (new, new_rest)) = (seals(&before), seals(&after));
    assert_eq!(
        (old.len(), old_rest),
        (new.len(), new_rest),
        "only seals are new"
    );
    assert!(new.iter().all(|seal| is_of_today(seal)), "{new:?}");
    assert!(!book.run(&["flow"]).done().contains("older version"));
    // From then on what only a seal knows is seen: another ink.
    book.change("concertina.toml", "Rust", "Soot");
    let said = book.run(&["flow"]).at_fault();
    assert!(
        said.contains(
            "front 2 and front 3 are passed for press, and their words would be set otherwise"
        ),
        "{said}"
    );
}

#[test]
fn panels_that_an_older_version_passed_are_refused_where_they_are_not_the_same() {
    let book = Older::new();
    book.change("concertina.toml", "[text]\n", "[text]\nsize = \"12 pt\"\n");
    let files = tree(book.temp.path());
    for command in [
        &["flow"][..],
        &["layers"],
        &["pass", "front 1"],
        &["flow", "--keep"],
    ] {
        let said = book.run(command).at_fault();
        let what = "Fault: front 2 and front 3 are passed for press, by an older version of the program, which leaves \
                    only their words and their places to know their lines by: and their words would now stand \
                    elsewhere than they are printed";
        assert!(said.starts_with(what), "{said}");
        let mended = "pass again what is printed, which seals it anew, and correct then; or release the panels: \
                      versefold pass --release \"front 2, front 3\"";
        assert!(said.contains(mended), "{said}");
    }
    assert!(tree(book.temp.path()) == files, "something was written");
}

/// A line that was corrected since is not the one that is sealed; all others are.
#[test]
fn a_corrected_line_keeps_its_older_seal() {
    let book = Older::new();
    book.change(
        "winter-bus.txt",
        "Snow lay on the step,",
        "Snow lay on the stop,",
    );
    let before = book.read("breaks.toml");
    book.run(&["flow", "--keep"]).done();
    let after = book.read("breaks.toml");
    let (old, new) = (seals(&before).0, seals(&after).0);
    assert_eq!(old[0], new[0]);
    assert!(new[1..].iter().all(|seal| is_of_today(seal)), "{new:?}");
    book.run(&["layers", "--quiet"]).done();
}

#[test]
fn seals_of_a_newer_version_are_told() {
    let book = Older::new();
    book.change("breaks.toml", "seal = \"", "seal = \"7-");
    let said = book.run(&["flow"]).at_fault();
    let what = "Fault: front 2 and front 3 are passed for press, by a newer version of the program, whose seals this \
                one cannot read";
    assert!(said.starts_with(what), "{said}");
    assert!(
        said.contains("versefold pass --release \"front 2, front 3\""),
        "{said}"
    );
}

const BY_LINES: &str = "An older version of the program wrote the last layers: only pages and lines were compared. Another \
                        ink or bleed would not be seen.\n";

#[test]
fn the_layout_of_an_older_version_is_compared_by_its_lines() {
    let book = Older::new();
    let flow = book.run(&["flow"]);
    assert_eq!(flow.stderr, BY_LINES);
    let same = "\n\nAll would be as in the last layers: no layer would have to be replaced.\n";
    assert!(flow.done().ends_with(same));
    book.change("winter-bus.txt", "Chains go on", "Chains come on");
    let changed = "Since the last layers, `versefold layers` would bring:\n  \
                     front 1   “Chains [go → come] on before”\n\
                   Replace   front-01.pdf, front.pdf\n\
                   Keep      front-02.pdf, front-03.pdf\n";
    let flow = book.run(&["flow"]);
    assert_eq!(flow.stderr, BY_LINES);
    assert!(flow.done().ends_with(changed));
    fs::copy(kept("layout.json"), book.path("kept.json")).expect("copied");
    let against = book
        .run(&["flow", "--json", "--against", "kept.json"])
        .done();
    let against: Value = serde_json::from_str(&against).expect("JSON");
    assert_eq!(against["changed"]["lines_alone"], true);
    assert_eq!(against["changed"]["keep"].as_array().map(Vec::len), Some(2));
    // Where a line is as wide as before in no face but its own.
    book.change("winter-bus.txt", "Chains come on", "Chains go on");
    book.run(&["pass", "--release", "front 2, front 3", "--quiet"])
        .done();
    book.change(
        "concertina.toml",
        "[text]\n",
        "[text]\nfeatures = [\"-kern\"]\n",
    );
    let flow = book.run(&["flow"]).done();
    assert!(flow.contains("look otherwise"), "{flow}");
    // What this version writes it compares by what is shown.
    book.run(&["layers", "--quiet"]).done();
    assert_eq!(book.run(&["flow"]).stderr, "");
}

#[test]
fn files_of_a_newer_version_are_told_and_left() {
    let book = Older::new();
    book.run(&["layers", "--quiet"]).done();
    let newer = book
        .read("out/layout.json")
        .replacen("\"format\": 1", "\"format\": 2", 1);
    fs::write(book.path("kept.json"), &newer).expect("written");
    let why = "it is of format 2, which a newer version of the program wrote, and this one reads format 1: use that \
               version, or make the layers anew with this one";
    let said = book.run(&["flow", "--against", "kept.json"]).at_fault();
    let what = format!("Fault: `kept.json` is no layout to compare with: {why}\n");
    assert!(said.starts_with(&what), "{said}");
    book.vouch_for(&newer);
    let flow = book.run(&["flow"]);
    assert_eq!(
        flow.stderr,
        format!("./out/layout.json cannot be compared with: {why}.\n")
    );
    flow.done();
    book.change("out/manifest.json", "\"format\": 1", "\"format\": 2");
    let files = tree(book.temp.path());
    let said = book.run(&["layers"]).at_fault();
    let what = "Fault: a newer version of the program wrote `./out/manifest.json` (format 2, and this one reads 1)";
    assert!(said.starts_with(what), "{said}");
    assert!(tree(book.temp.path()) == files, "something was written");
}

/// What has moved by new defaults, as `flow` tells programs.
fn new_defaults(book: &Older) -> Value {
    let said = book.run(&["flow", "--json"]).done();
    let mut told: Value = serde_json::from_str(&said).expect("JSON");
    told["new_defaults"].take()
}

#[test]
fn what_moves_by_new_defaults_is_told_with_the_keys_that_keep_it() {
    let book = Older::of("pictures");
    let told = new_defaults(&book);
    assert_eq!(
        told["panels"],
        serde_json::json!(["front 1", "front 3", "front 4"])
    );
    let keys = told["keys"].as_array().expect("keys").iter();
    let keys: Vec<&str> = keys.map(|key| key.as_str().expect("a key")).collect();
    let alone = "leaves = \"all\" for `the chains`, `the lantern` and `the horn`";
    let comes = "picture-comes = { soonest = 0, latest = 1 } in [rules]";
    let near = "nearness = false in [rules]";
    assert_eq!(keys, [alone, comes, near]);
    let flow = book.run(&["flow"]).done();
    let words = "\nSome defaults have changed since the last layers were written. For that reason alone front 1, front 3 and \
                 front 4 look different.\nTo keep all as it was, write into concertina.toml:\n  ";
    let keys = format!("{alone}\n  {comes}\n  {near}\n");
    assert!(flow.ends_with(&format!("{words}{keys}")), "{flow}");
    // With them nothing moves, and nothing is told.
    book.as_before();
    let flow = book.run(&["flow"]).done();
    let same = "All would be as in the last layers: no layer would have to be replaced.\n";
    assert!(flow.ends_with(same), "{flow}");
}

/// Prose had nothing outside its edges, and justified lines were not hyphenated, unless the plan said so.
#[test]
fn what_hangs_and_is_divided_of_prose_by_new_defaults_is_told() {
    let book = Older { temp: temporary() };
    let from = Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/books/prose-justified");
    for file in ["concertina.toml", "winter-bus.txt"] {
        fs::copy(from.join(file), book.path(file)).expect("copied");
    }
    book.change("concertina.toml", "hyphenate = true\n", "");
    book.run(&["layers", "--quiet"]).done();
    assert_eq!(new_defaults(&book), Value::Null);
    let layout = book.read("out/layout.json");
    let older = layout.replacen("\"defaults\": 3", "\"defaults\": 2", 1);
    assert_ne!(layout, older);
    book.vouch_for(&older);
    let told = new_defaults(&book);
    let keys = ["hang = \"none\" in [text]", "hyphenate = false in [text]"];
    assert_eq!(told["keys"], serde_json::json!(keys));
    book.change(
        "concertina.toml",
        "set-as",
        "hang = \"none\"\nhyphenate = false\nset-as",
    );
    assert_eq!(new_defaults(&book), Value::Null);
}

/// What was chosen stands as it was, and so does what new layers were made of.
#[test]
fn new_defaults_move_nothing_that_is_chosen_and_are_told_once() {
    let book = Older::of("pictures");
    let before = book.read("concertina.toml");
    book.as_before();
    book.run(&["flow", "--keep", "--quiet"]).done();
    fs::write(book.path("concertina.toml"), before).expect("written");
    assert_eq!(new_defaults(&book), Value::Null);
    let flow = book.run(&["flow"]).done();
    assert!(!flow.contains("defaults have changed"), "{flow}");
    fs::remove_file(book.path("breaks.toml")).expect("removed");
    assert_ne!(new_defaults(&book), Value::Null);
    book.run(&["layers", "--quiet"]).done();
    assert_eq!(new_defaults(&book), Value::Null);
}
