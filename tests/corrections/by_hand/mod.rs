//! Corrections by hand, through the program: what an illustrator does with a book whose art is half printed.

mod held;
mod naming;
mod printed;
mod revised;
mod ways;

use std::collections::{BTreeMap, BTreeSet};
use std::fs;
use std::path::Path;

use serde_json::Value;
use tempfile::TempDir;

use crate::support::{Ran, copy_of, run_in, temporary, tree};

/// A copy of a book.
struct Copy {
    temp: TempDir,
    manuscript: String,
}

impl Copy {
    /// A copy of a folder of this crate.
    fn of(folder: &str) -> Copy {
        let book = Path::new(env!("CARGO_MANIFEST_DIR")).join(folder);
        let temp = temporary();
        copy_of(&book, temp.path());
        let manuscript = crate::support::manuscript_of(&book);
        Copy { temp, manuscript }
    }

    fn folder(&self) -> &Path {
        self.temp.path()
    }

    fn run(&self, arguments: &[&str]) -> Ran {
        run_in(self.folder(), arguments)
    }

    fn read(&self, file: &str) -> String {
        fs::read_to_string(self.folder().join(file)).expect("it is there")
    }

    /// Puts words in the place of others, which are there once.
    fn change(&self, file: &str, find: &str, put: &str) {
        let text = self.read(file);
        assert_eq!(text.matches(find).count(), 1, "“{find}” in {text}");
        let text = text.replacen(find, put, 1);
        fs::write(self.folder().join(file), text).expect("written");
    }

    /// Corrects the manuscript.
    fn correct(&self, find: &str, put: &str) {
        self.change(&self.manuscript, find, put);
    }

    /// Makes the layers and gives them by name.
    fn layers(&self) -> BTreeMap<String, Vec<u8>> {
        self.run(&["layers", "--quiet"]).done();
        let files = tree(&self.folder().join("out/layers"));
        let files = files.into_iter();
        files
            .filter_map(|(name, bytes)| Some((name, bytes?)))
            .collect()
    }

    /// The lines of each panel, each with where it begins and its baseline, as `flow` tells them.
    fn flow(&self, arguments: &[&str]) -> Vec<(String, Vec<(String, String)>)> {
        let told = self.run(&[&["flow", "--json"], arguments].concat()).done();
        let told: Value = serde_json::from_str(&told).expect("JSON");
        let line = |line: &Value| {
            let text = line["text"].as_str().expect("words").to_string();
            (text, format!("{} {}", line["x_mm"], line["baseline_mm"]))
        };
        let panel = |panel: &Value| {
            let name = panel["panel"].as_str().expect("a name").to_string();
            let lines = panel["lines"].as_array().expect("lines").iter();
            (name, lines.map(line).collect())
        };
        let panels = told["panels"].as_array().expect("panels").iter();
        panels.map(panel).collect()
    }

    /// The words of each panel.
    fn words(&self, arguments: &[&str]) -> Vec<(String, Vec<String>)> {
        let panels = self.flow(arguments).into_iter();
        let words = |lines: Vec<(String, String)>| lines.into_iter().map(|line| line.0).collect();
        panels.map(|(panel, lines)| (panel, words(lines))).collect()
    }
}

/// The names of the layers that are not the same.
fn others(
    before: &BTreeMap<String, Vec<u8>>,
    after: &BTreeMap<String, Vec<u8>>,
) -> BTreeSet<String> {
    let names = before.keys().chain(after.keys());
    let other = names.filter(|name| before.get(*name) != after.get(*name));
    other.cloned().collect()
}

fn named(names: &[&str]) -> BTreeSet<String> {
    names.iter().map(ToString::to_string).collect()
}

const VERSE: &str = "examples/winter-bus";
const PROSE: &str = "examples/winter-bus-prose";

/// A book, kept, with three panels passed.
fn passed(folder: &str, panels: &str) -> Copy {
    let book = Copy::of(folder);
    book.run(&["flow", "--keep", "--quiet"]).done();
    book.run(&["pass", panels, "--quiet"]).done();
    book
}

#[test]
fn a_corrected_word_changes_one_layer_and_its_sides() {
    let cases = [
        (
            VERSE,
            "front 4, front 9, back 5",
            "breathing in the road.",
            "breathing in the rust.",
            "front-04.pdf",
        ),
        (
            PROSE,
            "front 3, front 8, back 4",
            "told me to come away from",
            "bade me to come away from",
            "front-03.pdf",
        ),
    ];
    for (folder, panels, find, put, layer) in cases {
        let book = passed(folder, panels);
        let before = book.layers();
        book.correct(find, put);
        let after = book.layers();
        assert_eq!(
            others(&before, &after),
            named(&[layer, "front.pdf"]),
            "{folder}"
        );
        assert_eq!(after.len(), before.len());
    }
}

#[test]
fn a_line_that_grows_too_long_is_refused_until_its_panel_is_released() {
    let book = passed(VERSE, "front, back");
    let before = book.layers();
    book.correct(
        "smooth side up, and back the bus along them",
        "smooth side up, and then you back the bus along the whole of them",
    );
    let whole = tree(book.folder());
    for command in [
        &["layers"][..],
        &["flow"],
        &["flow", "--keep"],
        &["pass", "front 4"],
    ] {
        let told = book.run(command).at_fault();
        // One line of 15 pt more is 5.29 mm.
        for says in [
            "front 4 is passed for press, and the corrected words take 2 lines where 1 is printed",
            "would move down by 5.29 mm",
            "too wide: shorten them by about",
            "versefold pass --release \"front 4\"",
            "winter-bus.txt",
        ] {
            assert!(told.contains(says), "{command:?}: {told}");
        }
        assert!(
            tree(book.folder()) == whole,
            "{command:?} has written something"
        );
    }
    book.run(&["pass", "--release", "front 4", "--quiet"])
        .done();
    let after = book.layers();
    assert_eq!(
        others(&before, &after),
        named(&["front-04.pdf", "front.pdf"])
    );
}

/// As much as the program says is too much.
#[test]
fn a_line_shortened_as_it_was_told_goes_through() {
    let book = passed(VERSE, "front, back");
    let before = book.layers();
    let long = "smooth side up, and then you back the bus along the whole of them";
    book.correct("smooth side up, and back the bus along them", long);
    let told = book.run(&["layers"]).at_fault();
    let (_, count) = told
        .split_once("shorten them by about ")
        .expect("it is told");
    let count: usize = count
        .split(' ')
        .next()
        .expect("a number")
        .parse()
        .expect("a number");
    assert!((1..20).contains(&count), "{told}");
    // Two letters more, for letters are not all as wide as each other.
    let short: String = long
        .chars()
        .take(long.chars().count() - count - 2)
        .collect();
    book.correct(long, short.trim_end());
    let after = book.layers();
    assert_eq!(
        others(&before, &after),
        named(&["front-04.pdf", "front.pdf"])
    );
}

#[test]
fn words_added_to_passed_prose_stay_in_as_many_lines() {
    let book = passed(PROSE, "front 3, front 4, back 4");
    let before = (book.layers(), book.flow(&[]));
    // Its last line has room.
    book.correct("It had not been torn.", "It had never been torn.");
    let after = (book.layers(), book.flow(&[]));
    assert_eq!(
        others(&before.0, &after.0),
        named(&["front-03.pdf", "front.pdf"])
    );
    for ((panel, was), (_, is)) in before.1.iter().zip(&after.1) {
        assert_eq!(was.len(), is.len(), "{panel}");
        let changed = was.iter().zip(is).filter(|(was, is)| was != is).count();
        assert_eq!(
            changed,
            usize::from(panel == "front 3"),
            "{panel}: {was:?} {is:?}"
        );
    }
}

#[test]
fn a_line_carried_by_hand_is_followed() {
    let book = Copy::of(VERSE);
    book.run(&["flow", "--keep", "--quiet"]).done();
    let before = book.words(&[]);
    let line = "as if to sell it. Yellow to the sills.";
    book.change("breaks.toml", &format!("'''\n{line}\n"), "'''\n");
    book.change(
        "breaks.toml",
        "\nThe foreman walked me once around the bus\n",
        &format!("\nThe foreman walked me once around the bus\n\n{line}\n"),
    );
    let mut carried = before.clone();
    let own = carried[2].1.remove(0);
    assert_eq!(own, line);
    carried[1].1.push(own);
    assert_eq!(book.words(&[]), carried);
    assert_eq!(book.words(&["--afresh"]), before);
}

#[test]
fn a_chosen_trial_is_kept_and_afresh_is_the_best_again() {
    let book = Copy::of(VERSE);
    let best = book.words(&[]);
    let told: Value = serde_json::from_str(&book.run(&["trials", "--json"]).done()).expect("JSON");
    let second = &told["trials"][1]["panels"];
    book.run(&["trials", "--choose", "2", "--quiet"]).done();
    let chosen: Value = serde_json::from_str(&book.run(&["flow", "--json"]).done()).expect("JSON");
    let of = |panels: &Value| -> Vec<Value> {
        let panels = panels.as_array().expect("panels").iter();
        let panel =
            |panel: &Value| serde_json::json!([panel["panel"], panel["role"], panel["picture"]]);
        panels.map(panel).collect()
    };
    assert_eq!(of(&chosen["panels"]), of(second));
    assert_ne!(of(second), of(&told["trials"][0]["panels"]));
    assert_ne!(book.words(&[]), best);
    assert_eq!(book.words(&["--afresh"]), best);
    book.run(&["flow", "--afresh", "--keep", "--quiet"]).done();
    assert_eq!(book.words(&[]), best);
}

#[test]
fn breaks_edited_by_hand_are_kept_when_they_are_replaced() {
    let book = Copy::of(VERSE);
    book.run(&["flow", "--keep", "--quiet"]).done();
    let own = book.read("breaks.toml");
    book.run(&["flow", "--afresh", "--keep", "--quiet"]).done();
    assert_eq!(book.read("breaks.toml"), own);
    let edited = format!("# The client likes front 4.\n{own}");
    fs::write(book.folder().join("breaks.toml"), &edited).expect("written");
    let told = book.run(&["flow", "--keep"]).done();
    assert!(told.contains("kept as breaks.1.toml"), "{told}");
    assert_eq!(book.read("breaks.1.toml"), edited);
    assert_eq!(book.read("breaks.toml"), own);
    // What the program wrote itself is replaced without a copy.
    book.run(&["pass", "front 4", "--quiet"]).done();
    book.run(&["pass", "--release", "front 4", "--quiet"])
        .done();
    assert!(!book.folder().join("breaks.2.toml").exists());
    assert_eq!(book.read("breaks.toml"), own);
}
