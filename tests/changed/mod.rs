//! What has changed between two layouts, and which layers must be replaced: held against the PDFs themselves, with all
//! that a file says of itself taken out, and against the words and glyphs of both layouts.

mod edits;
mod told;

use std::collections::{BTreeMap, BTreeSet};
use std::fs;
use std::path::{Path, PathBuf};

use edits::{Book, edits};
use lopdf::{Document, Object};
use proptest::prelude::*;
use proptest::test_runner::{Config, RngAlgorithm, TestRng, TestRunner};
use versefold::assets::Assets;
use versefold::book::Workbench;
use versefold::book::compare::{Changes, Record, What, compare};
use versefold::layout::{LaidPanel, Layout};
use versefold::names::Source;
use versefold::outputs::{OutputFile, WordsAs, json};

/// A book, laid out, with its layers by name.
struct LaidOutBook {
    layout: Layout,
    files: BTreeMap<String, Vec<u8>>,
}

/// Makes a book; nothing where the edits left one that is at fault.
fn made(book: &Book) -> Option<LaidOutBook> {
    let plan = Source::new("concertina.toml", book.plan.as_str());
    let manuscript = Source::new("winter-bus.txt", book.manuscript());
    let mut bench = Workbench::new(Assets::folder(&book.folder));
    let layout = bench.lay_out_texts(&plan, &manuscript).ok()?;
    let files = bench.output_files(&layout, WordsAs::Text).expect("files");
    let named =
        |OutputFile { name, bytes }| Some((name.strip_prefix("layers/")?.to_string(), bytes));
    Some(LaidOutBook {
        layout,
        files: files.into_iter().filter_map(named).collect(),
    })
}

/// The objects of a PDF without what it says of itself: title, producer, date and language.
fn without_properties(pdf: &[u8]) -> BTreeMap<(u32, u16), Object> {
    let mut document = Document::load_mem(pdf).expect("a PDF");
    let reference = |object: Option<&Object>| object.and_then(|object| object.as_reference().ok());
    let info = reference(document.trailer.get(b"Info").ok());
    let catalog = document.catalog_mut().expect("a catalog");
    let metadata = reference(catalog.get(b"Metadata").ok());
    catalog.remove(b"Lang");
    for own in info.into_iter().chain(metadata) {
        document.objects.remove(&own);
    }
    document.objects
}

/// The words of a panel and, apart from them, its glyphs in their places.
fn shown(panel: &LaidPanel) -> (Vec<String>, String) {
    let words = panel.words().join(" ");
    let words = words.split_whitespace().map(String::from).collect();
    let lines = panel.lines.iter();
    let glyphs = lines.map(|line| {
        let runs = line.runs.iter().map(|run| {
            let glyphs = run.glyphs.iter();
            let glyphs: Vec<_> = glyphs.map(|g| (g.id, g.advance, g.dx, g.dy)).collect();
            (run.face.name(), run.size, run.x, run.baseline, glyphs)
        });
        format!("{:?} {:?}", line.ink, runs.collect::<Vec<_>>())
    });
    (words, glyphs.collect::<Vec<_>>().join("\n"))
}

fn panels_by_name(layout: &Layout) -> BTreeMap<String, (Vec<String>, String)> {
    let panels = layout.panels.iter();
    panels
        .map(|panel| (panel.panel.to_string(), shown(panel)))
        .collect()
}

/// What `compare` must find, by reading the layouts alone: each panel with other words, and each with other glyphs.
fn check_panels(old: &Layout, new: &Layout, changes: &Changes) {
    let (before, after) = (panels_by_name(old), panels_by_name(new));
    let names: BTreeSet<&String> = before.keys().chain(after.keys()).collect();
    let paper = |layout: &Layout| layout.strip.paper().bleed;
    let nothing = (Vec::new(), String::new());
    let of = |what: fn(What) -> bool| -> BTreeSet<String> {
        let panels = changes.panels.iter().filter(|panel| what(panel.what));
        panels.map(|panel| panel.panel.to_string()).collect()
    };
    let (mut words, mut looks) = (BTreeSet::new(), BTreeSet::new());
    for name in names {
        let one = before.get(name).unwrap_or(&nothing);
        let other = after.get(name).unwrap_or(&nothing);
        if one.0 != other.0 {
            words.insert(name.clone());
        } else if !one.0.is_empty() && (one.1 != other.1 || paper(old) != paper(new)) {
            looks.insert(name.clone());
        }
    }
    assert_eq!(of(|what| what == What::Words), words);
    assert_eq!(of(|what| what != What::Words), looks);
}

/// The old words, those told as taken out left out and those told as put in added, are the new words.
fn check_words(old: &Layout, new: &Layout, changes: &Changes) {
    let words = |layout: &Layout| -> Vec<String> {
        let panels = layout.panels.iter().map(|panel| shown(panel).0);
        panels.flatten().collect()
    };
    let mut counts: BTreeMap<String, i64> = BTreeMap::new();
    let mut count = |text: &str, by: i64| {
        // Signs of scripts without spaces are compared one by one; a soft hyphen is not seen, and not told.
        let seen = |c: &char| !c.is_whitespace() && *c != '\u{ad}';
        for sign in text.chars().filter(seen) {
            *counts.entry(sign.to_string()).or_default() += by;
        }
    };
    words(old).iter().for_each(|word| count(word, 1));
    words(new).iter().for_each(|word| count(word, -1));
    for difference in changes.panels.iter().flat_map(|panel| &panel.differences) {
        count(&difference.old, -1);
        count(&difference.new, 1);
    }
    let left: Vec<_> = counts.iter().filter(|(_, count)| **count != 0).collect();
    assert_eq!(left, [], "{:#?}", changes.panels);
}

/// The layers that are told to be replaced are those whose PDFs show something else.
fn check_layers(old: &LaidOutBook, new: &LaidOutBook, changes: &Changes) {
    let names = |list: &[String]| list.iter().cloned().collect::<BTreeSet<String>>();
    let has = |made: &LaidOutBook| made.files.keys().cloned().collect::<BTreeSet<String>>();
    let (before, after) = (has(old), has(new));
    let only = |one: &BTreeSet<String>, other: &BTreeSet<String>| {
        one.difference(other).cloned().collect::<BTreeSet<String>>()
    };
    assert_eq!(names(&changes.layers.place), only(&after, &before));
    assert_eq!(names(&changes.layers.take_out), only(&before, &after));
    let (same, other): (BTreeSet<String>, BTreeSet<String>) =
        before.intersection(&after).cloned().partition(|name| {
            let (old, new) = (&old.files[name], &new.files[name]);
            old == new || without_properties(old) == without_properties(new)
        });
    assert_eq!(names(&changes.layers.keep), same);
    assert_eq!(names(&changes.layers.replace), other);
}

fn check(old: &LaidOutBook, new: &LaidOutBook) -> Changes {
    let record = |made: &LaidOutBook| Record::of(&made.layout, Some(WordsAs::Text));
    for made in [old, new] {
        let text = String::from_utf8(json(&made.layout, WordsAs::Text)).expect("UTF-8");
        assert_eq!(
            Record::read(&text),
            Ok(record(made)),
            "the file tells the same"
        );
    }
    let changes = compare(&record(old), &record(new));
    check_layers(old, new, &changes);
    check_panels(&old.layout, &new.layout, &changes);
    check_words(&old.layout, &new.layout, &changes);
    changes
}

/// The small books of `tests/books` that are no fault, and the examples.
fn books() -> Vec<PathBuf> {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/books");
    let entries = fs::read_dir(folder).expect("tests/books is there");
    let paths = entries.map(|entry| entry.expect("the folder can be read").path());
    let mut books: Vec<PathBuf> = paths
        .filter(|path| path.join("expected/flow.txt").exists())
        .chain(crate::support::examples())
        .collect();
    books.sort();
    books
}

#[test]
fn what_is_told_after_random_edits_is_what_the_layers_show() {
    let books = books();
    assert!(books.len() > 50, "only {}", books.len());
    let rng = TestRng::deterministic_rng(RngAlgorithm::ChaCha);
    let config = Config {
        cases: 300,
        failure_persistence: None,
        ..Config::default()
    };
    let (mut compared, mut replaced, mut kept, mut moved) = (0, 0, 0, 0);
    let counted = std::cell::RefCell::new((&mut compared, &mut replaced, &mut kept, &mut moved));
    let books = prop::sample::select(books);
    TestRunner::new_with_rng(config, rng)
        .run(&(books, edits()), |(folder, edits)| {
            let before = Book::read(&folder);
            let mut after = before.clone();
            edits.iter().for_each(|edit| after.make(edit));
            let old = made(&before).expect("the book was sound");
            let Some(new) = made(&after) else {
                return Ok(());
            };
            let changes = check(&old, &new);
            if before == after {
                prop_assert_eq!(changes.none(), true);
            }
            let mut counted = counted.borrow_mut();
            *counted.0 += 1;
            *counted.1 += changes.layers.replace.len();
            *counted.2 += changes.layers.keep.len();
            *counted.3 += changes.moved.len();
            Ok(())
        })
        .unwrap_or_else(|failure| panic!("{failure}"));
    println!("{compared} books compared, {replaced} layers replaced, {kept} kept, {moved} moves");
    assert!(compared > 250 && replaced > 300 && kept > 300 && moved > 50);
}
