//! Books that cannot be divided: what is told of them is true, and can be used.
//!
//! What is told is read as its author reads it, her files are changed as it says, and the book is divided again.

mod books;
mod random;
mod told;
mod why;

use std::collections::BTreeSet;
use std::fs;
use std::path::Path;

use books::{Book, Edit};
use told::Told;
use versefold::assets::Assets;

/// Panels that a side may have.
const MOST_PANELS: u16 = 400;
/// A line of what is told is no longer than this.
const LONGEST: usize = 200;

/// What becomes of a book, or of some of its parts.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Outcome {
    Divided,
    NoWay,
    /// Its files contradict each other.
    Wrong,
}

struct Tried<'a> {
    book: &'a Book,
    assets: &'a Assets,
}

impl Tried<'_> {
    /// What becomes of the book once this is done.
    fn whole<'e>(&self, edits: impl IntoIterator<Item = &'e Edit>) -> Outcome {
        match self.book.with(edits).stuck(self.assets) {
            None => Outcome::Wrong,
            Some(stuck) if stuck.is_empty() => Outcome::Divided,
            Some(_) => Outcome::NoWay,
        }
    }

    /// What becomes of some of its parts.
    fn parts<'e>(&self, edits: impl IntoIterator<Item = &'e Edit>, parts: &[String]) -> Outcome {
        match self.book.with(edits).stuck(self.assets) {
            None => Outcome::Wrong,
            Some(stuck) if parts.iter().any(|part| stuck.contains(part)) => Outcome::NoWay,
            Some(_) => Outcome::Divided,
        }
    }
}

/// Checks all that is told of a book; false where it can be divided, or is at fault otherwise.
fn check(book: &Book, assets: &Assets, with_room: bool) -> bool {
    let faults = book.faults(assets);
    if faults.is_empty() || faults.iter().any(|fault| fault.word != "no-way") {
        return false;
    }
    let tried = Tried { book, assets };
    let all: Vec<Told> = faults.iter().map(Told::read).collect();
    for told in &all {
        check_words(told, book);
        check_conflict(told, &tried);
        check_ways(told, &tried, all.len());
        if with_room {
            check_room(told, &tried);
        }
    }
    let named = |edit: &Edit| {
        all.iter().any(|told| {
            let mut ways = told.ways.iter();
            told.against.as_ref().is_none_or(|told| told.contains(edit))
                || ways.any(|way| way.len() == 1 && same(&way[0], edit))
        })
    };
    for edit in book.demands() {
        let enough = tried.whole([&edit]) == Outcome::Divided;
        assert!(
            !enough || named(&edit),
            "{edit:?} is enough\n{all:#?}\n{}",
            book.shown()
        );
    }
    true
}

/// A rule may be told to give way in three ways.
fn same(told: &Edit, edit: &Edit) -> bool {
    match (told, edit) {
        (Edit::MayGive(rule) | Edit::NoMust(rule), Edit::GivesWay(other)) => rule == other,
        _ => told == edit,
    }
}

/// It is short, quotes nothing that is not there, and says nothing twice.
fn check_words(told: &Told, book: &Book) {
    let shown = || format!("{told:#?}\n{}", book.shown());
    for line in &told.lines[..told.ways.len()] {
        assert!(line.chars().count() <= LONGEST, "{line}\n{}", shown());
    }
    for line in &told.lines {
        assert!(
            !line.contains("“”") && !line.contains("``"),
            "{line}\n{}",
            shown()
        );
        assert!(!line.contains('\n'), "{line}\n{}", shown());
    }
    let ways = told.ways.iter().map(|way| way.iter().cloned().collect());
    let ways: Vec<BTreeSet<Edit>> = ways.collect();
    for (at, way) in ways.iter().enumerate() {
        assert!(!ways[..at].contains(way), "{way:?} twice\n{}", shown());
        assert!(
            ways.iter()
                .enumerate()
                .all(|(other, less)| other == at || !less.is_subset(way)),
            "less than {way:?} is enough\n{}",
            shown()
        );
    }
    assert!(told.ways.is_sorted_by_key(Vec::len), "{}", shown());
}

/// What stands against each other cannot all be met, whatever else gives way; all but any one of it can.
fn check_conflict(told: &Told, tried: &Tried<'_>) {
    let shown = || format!("{told:#?}\n{}", tried.book.shown());
    let all = tried.book.demands();
    let against = told.against.as_deref().unwrap_or_default();
    for edit in against {
        assert!(all.contains(edit), "{edit:?} is not asked\n{}", shown());
    }
    let others: Vec<&Edit> = all.iter().filter(|edit| !against.contains(edit)).collect();
    let without = |edits: &[&Edit]| tried.parts(edits.iter().copied(), &told.parts);
    // A caption without its callout is a line among the words, and takes room there; so do headings without a title
    // panel.
    let captions = |edit: &Edit| matches!(edit, Edit::Caption(_));
    let titles = |edit: &Edit| matches!(edit, Edit::Role(on) if tried.book.is_title(*on));
    let but = |these: &dyn Fn(&Edit) -> bool| -> Vec<&Edit> {
        let some = others.iter().copied().filter(|edit| !these(edit));
        some.collect()
    };
    let others_but_captions = but(&captions);
    let fewest = but(&|edit| captions(edit) || titles(edit));
    for given_up in [&others_but_captions, &fewest] {
        let outcome = without(given_up);
        assert_ne!(outcome, Outcome::Divided, "it can be met\n{}", shown());
    }
    for edit in against {
        let met = [&others, &others_but_captions, &fewest]
            .iter()
            .any(|others| {
                let less = [&others[..], &[edit]].concat();
                without(&less) != Outcome::NoWay
            });
        assert!(met, "{edit:?} can be spared\n{}", shown());
    }
}

/// Every way out, gone as it is told, leads out. Where all parts are told of at once, one alone need not.
fn check_ways(told: &Told, tried: &Tried<'_>, faults: usize) {
    for way in &told.ways {
        let outcome = match faults {
            1 => tried.whole(way),
            _ => tried.parts(way, &told.parts),
        };
        let shown = || format!("{way:?}\n{told:#?}\n{}", tried.book.shown());
        assert_eq!(outcome, Outcome::Divided, "{}", shown());
        let faults_then = tried.book.with(way).faults(tried.assets);
        assert!(faults_then.len() < faults, "{}", shown());
        if let [Edit::Panels { per_side, .. }] = &way[..] {
            assert!(*per_side <= MOST_PANELS, "{}", shown());
        }
    }
}

/// Where smaller type or more panels help, that is told.
fn check_room(told: &Told, tried: &Tried<'_>) {
    let helps = |edit: Edit| tried.whole([&edit]) == Outcome::Divided;
    let tells = |what: fn(&Edit) -> bool| told.ways.iter().any(|way| way.iter().any(what));
    let shown = || format!("{told:#?}\n{}", tried.book.shown());
    if !tells(|edit| matches!(edit, Edit::Size(..))) {
        let smaller = (12..=21).map(|halves| {
            let size = f64::from(halves) / 2.0;
            let leading = (size * 150.0 / 11.0).round() / 10.0;
            Edit::Size(format!("{size} pt"), format!("{leading} pt"))
        });
        let found = smaller.into_iter().find(|edit| helps(edit.clone()));
        assert!(found.is_none(), "{found:?} is not told\n{}", shown());
    }
    if !tells(|edit| matches!(edit, Edit::Panels { .. })) && !tried.book.plan.contains_key("part") {
        let was = tried.book.plan["paper"]["panels-per-side"].as_integer();
        let was = was.expect("a number") as u16;
        let more = (was + 1..was + 8).map(|per_side| Edit::Panels {
            per_side,
            parts: Vec::new(),
            moves: false,
        });
        let found = more.into_iter().find(|edit| helps(edit.clone()));
        assert!(found.is_none(), "{found:?} is not told\n{}", shown());
    }
}

#[test]
fn what_is_told_of_random_books_is_true_and_can_be_used() {
    let assets = Assets::from(Assets::memory());
    let asked = |name: &str, usual: u64| {
        std::env::var(name).map_or(usual, |asked| asked.parse().expect("a number"))
    };
    // On a desk fewer are enough.
    let usual = if std::env::var_os("VERSEFOLD_CI").is_some() {
        500
    } else {
        150
    };
    let (wanted, first) = (asked("VERSEFOLD_CASES", usual), asked("VERSEFOLD_SEED", 0));
    let (mut checked, mut seed) = (0, first);
    while checked < wanted {
        println!("seed {seed}");
        let without = check(&random::book(seed), &assets, seed % 8 == 0);
        checked += u64::from(without);
        seed += 1;
        assert!(
            seed - first < 50 * wanted,
            "too few of these books have no way"
        );
    }
}

#[test]
fn what_is_told_of_the_books_without_a_way_is_true_and_can_be_used() {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/books");
    let mut without = Vec::new();
    for entry in fs::read_dir(folder).expect("the books are there") {
        let path = entry.expect("the folder can be read").path();
        let faults = fs::read_to_string(path.join("expected/faults.txt"));
        let told = |faults: &String| {
            faults.contains("cannot be divided") || faults.contains("not fit on its")
        };
        if !faults.as_ref().is_ok_and(told) {
            continue;
        }
        let read = |name: &str| fs::read_to_string(path.join(name)).expect("a text");
        let book = Book {
            plan: read("concertina.toml").parse().expect("TOML"),
            words: read("winter-bus.txt"),
        };
        assert!(
            check(&book, &Assets::from(Assets::memory()), true),
            "{}",
            path.display()
        );
        without.push(path);
    }
    assert!(without.len() > 1, "{without:?}");
}

fn small(panels: usize, more: &str, words: &str) -> (Book, Vec<Told>) {
    let plan = crate::support::small_plan(panels, more);
    let book = Book {
        plan: plan.parse().expect("TOML"),
        words: words.to_string(),
    };
    let assets = Assets::from(Assets::memory());
    let told = book.faults(&assets).iter().map(Told::read).collect();
    assert!(check(&book, &assets, true), "{}", book.shown());
    (book, told)
}

fn pin(panel: u8, asked: &str) -> String {
    format!("[[panel]]\npanel = \"front {panel}\"\n{asked}\n")
}

/// Three stanzas that fill a panel each, on two panels, for three more are pinned blank.
#[test]
fn a_pin_that_is_lifted_gives_its_panel_back_with_its_room() {
    let stanza = |name: &str| {
        (1..=9)
            .map(|line| format!("{name} {line} of snow\n"))
            .collect::<String>()
            + "\n"
    };
    let words = ["A", "B", "C"].map(stanza).concat();
    let blank: String = (3..=5)
        .map(|panel| pin(panel, "role = \"blank\""))
        .collect();
    let (_, told) = small(5, &blank, &words);
    let against = told[0].against.clone().expect("a conflict");
    for panel in 3..=5 {
        let role = Edit::Role(format!("front {panel}").parse().expect("a panel"));
        assert!(against.contains(&role), "{against:?}");
    }
    let horn = "[[picture]]\nname = \"the horn\"\nleaves = \"all\"\n".to_string()
        + &pin(2, "role = \"picture\"\npicture = \"the horn\"");
    let (_, told) = small(3, &horn, &words);
    let role = Edit::Role("front 2".parse().expect("a panel"));
    assert!(
        told[0]
            .against
            .as_ref()
            .is_some_and(|told| told.contains(&role))
    );
    assert!(told[0].ways.contains(&vec![role.clone()]), "{told:#?}");
    // One that stands alone must leave room besides.
    let (_, told) = small(3, &horn.replace("leaves = \"all\"\n", ""), &words);
    let leaves = Edit::LeavesAll("the horn".to_string());
    assert!(told[0].ways.contains(&vec![role, leaves]), "{told:#?}");
}

/// Two short stanzas and a long one beside a long one and two short: either has room by itself, both in step have not.
#[test]
fn parts_that_cannot_keep_step_may_go_apart() {
    let parts = "[rules]\nmust = [\"undivided\"]\n\
                 [[part]]\nname = \"body\"\non = [\"front 2\", \"front 4\"]\n\
                 [[part]]\nname = \"translation\"\non = [\"front 3\", \"front 5\"]\npairs-with = \"body\"\n";
    let stanza = |lines: usize| "Down the pass\n".repeat(lines) + "\n";
    let body = [2, 2, 9].map(stanza).concat();
    let words = body + "[part: translation]\n" + &[9, 2, 2].map(stanza).concat();
    let (_, told) = small(5, parts, &words);
    assert!(
        told[0]
            .against
            .as_ref()
            .is_some_and(|told| told.contains(&Edit::Pairs))
    );
    assert!(told[0].ways.contains(&vec![Edit::Pairs]), "{told:#?}");
}
