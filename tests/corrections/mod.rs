//! Living with corrections: random books are divided, kept and passed for press, then corrected at random.
//!
//! What must hold: no word is lost; layers of passed panels whose own words are untouched keep their bytes; chosen
//! breaks survive every edit that does not touch them, and of those that cannot, as few change as possible.

mod book;
mod by_hand;
mod edits;
mod every_book;
mod least;
mod texts;
mod why;

use std::collections::{BTreeMap, BTreeSet};

use proptest::prelude::*;
use versefold::assets::Assets;
use versefold::book::{BookTexts, BreaksPolicy, Workbench};
use versefold::layout::Layout;
use versefold::names::{Fault, PanelName, Source};
use versefold::outputs::{WordsAs, layers};
use versefold::plan::RuleName;

use crate::support::share::Share;

use book::{Book, LineId};
use edits::Edit;

/// The texts of a book, with what is kept of it.
fn texts(book: &Book, breaks: Option<&str>) -> BookTexts {
    BookTexts {
        plan: Source::new("concertina.toml", book.plan()),
        manuscript: Source::new("book.txt", book.manuscript()),
        breaks: breaks.map(|text| Source::new("breaks.toml", text)),
    }
}

/// The bytes of each panel's layer.
fn bytes(layout: &Layout) -> BTreeMap<String, Vec<u8>> {
    let made = layers(layout, WordsAs::Text).expect("the fonts can be subset");
    made.into_iter()
        .map(|layer| (layer.name, layer.bytes))
        .collect()
}

fn layer_name(panel: PanelName) -> String {
    format!("{}-{:02}.pdf", panel.side.word(), panel.number)
}

/// Which of the book's lines stand on each panel, in whole or in part.
fn stands(book: &Book, layout: &Layout) -> BTreeMap<PanelName, BTreeSet<LineId>> {
    let spans = book.spans();
    let mut found: BTreeMap<PanelName, BTreeSet<LineId>> = BTreeMap::new();
    for panel in &layout.panels {
        let here = found.entry(panel.panel).or_default();
        for (from, _) in panel.lines.iter().flat_map(|line| &line.sources) {
            let line = spans.iter().find(|(_, span)| span.contains(from));
            here.extend(line.map(|(line, _)| *line));
        }
    }
    found
}

fn words(layout: &Layout) -> BTreeMap<PanelName, Vec<String>> {
    let panels = layout.panels.iter();
    panels.map(|panel| (panel.panel, panel.words())).collect()
}

fn told(faults: &[Fault]) -> String {
    let told = faults
        .iter()
        .map(|fault| format!("{}: {}", fault.word, fault.what));
    told.collect::<Vec<_>>().join("\n")
}

/// A book, kept with some panels passed; nothing where the book does not fit.
fn kept(book: &Book, choose: bool, passed: &[usize]) -> Option<(Layout, String, Vec<PanelName>)> {
    let mut bench = Workbench::new(Assets::memory());
    let before = bench
        .lay_out_book(&texts(book, None), BreaksPolicy::All)
        .ok()?;
    let panels: Vec<PanelName> = before.panels.iter().map(|panel| panel.panel).collect();
    let mut passed: Vec<PanelName> = passed.iter().map(|at| panels[at % panels.len()]).collect();
    passed.sort_unstable();
    passed.dedup();
    let taken = bench.take_book(&texts(book, None), BreaksPolicy::All, choose, &passed);
    let taken =
        taken.unwrap_or_else(|faults| panic!("what was laid out is kept: {}", told(&faults)));
    assert_eq!(words(&taken.layout), words(&before));
    Some((taken.layout, taken.text, passed))
}

/// Whether a panel pays for not being as chosen.
fn moved(layout: &Layout) -> BTreeSet<PanelName> {
    let pays = |panel: &&versefold::layout::LaidPanel| {
        panel
            .costs
            .iter()
            .any(|(rule, _)| *rule == RuleName::ChosenBreaks)
    };
    layout
        .panels
        .iter()
        .filter(pays)
        .map(|panel| panel.panel)
        .collect()
}

fn cases(usual: u32) -> ProptestConfig {
    ProptestConfig {
        cases: std::env::var("VERSEFOLD_CASES")
            .map_or(usual, |cases| cases.parse().expect("a number")),
        failure_persistence: None,
        ..ProptestConfig::default()
    }
}

proptest! {
    #![proptest_config(cases(160))]

    /// Nothing changes where nothing was corrected, and what is kept can be kept again.
    #[test]
    fn a_book_that_is_kept_stands_as_it_did(
        book in book::book(),
        choose in any::<bool>(),
        passed in prop::collection::vec(0usize..16, 0..4),
    ) {
        static CASES: Share = Share::new();
        let Some((before, breaks, _)) = kept(&book, choose, &passed) else {
            CASES.passed_over(50);
            return Ok(());
        };
        CASES.ran();
        let mut bench = Workbench::new(Assets::memory());
        let again = bench.take_book(&texts(&book, Some(&breaks)), BreaksPolicy::All, choose, &[]);
        let again = again.map_err(|faults| TestCaseError::fail(told(&faults)))?;
        prop_assert_eq!(&again.text, &breaks);
        prop_assert_eq!(words(&again.layout), words(&before));
        prop_assert!(bytes(&again.layout) == bytes(&before), "layers have other bytes");
        prop_assert_eq!(moved(&again.layout), BTreeSet::new());
    }

    /// Whatever is corrected, layers of passed panels whose own words are untouched keep their bytes; and where the
    /// correction is refused, it touched a passed panel.
    #[test]
    fn passed_panels_stay_as_they_are_printed(
        book in book::book(),
        choose in any::<bool>(),
        passed in prop::collection::vec(0usize..16, 1..5),
        edits in prop::collection::vec(edits::edit(), 1..3),
    ) {
        static CASES: Share = Share::new();
        let Some((before, breaks, passed)) = kept(&book, choose, &passed) else {
            CASES.passed_over(50);
            return Ok(());
        };
        CASES.ran();
        let stood = stands(&book, &before);
        let mut corrected = book.clone();
        let mut touched: BTreeSet<LineId> = BTreeSet::new();
        for edit in &edits {
            touched.extend(edit.make(&mut corrected));
        }
        let touches = |panel: &PanelName| stood[panel].iter().any(|line| touched.contains(line));
        let mut bench = Workbench::new(Assets::memory());
        let after = bench.lay_out_book(&texts(&corrected, Some(&breaks)), BreaksPolicy::All);
        match after {
            Err(faults) => {
                let refused = faults.iter().any(|fault| fault.word == "passed");
                prop_assert!(
                    !refused || passed.iter().any(touches),
                    "refused though no passed panel is touched: {}\n{breaks}", told(&faults)
                );
            }
            Ok(after) => {
                let (then, now) = (bytes(&before), bytes(&after));
                for panel in passed.iter().filter(|panel| !touches(panel)) {
                    let name = layer_name(*panel);
                    prop_assert!(then.get(&name) == now.get(&name), "{name} has changed\n{breaks}");
                }
            }
        }
    }

    /// A panel that a correction does not touch stays as it was chosen; where it does not, the touched panels could
    /// not hold what they have to hold.
    #[test]
    fn chosen_breaks_survive_what_does_not_touch_them(
        book in book::book(),
        edit in edits::edit(),
    ) {
        static CASES: Share = Share::new();
        let Some((before, breaks, _)) = kept(&book, true, &[]) else {
            CASES.passed_over(50);
            return Ok(());
        };
        let stood = stands(&book, &before);
        let mut corrected = book.clone();
        let touched: BTreeSet<LineId> = edit.make(&mut corrected).into_iter().collect();
        let texts = texts(&corrected, Some(&breaks));
        let mut bench = Workbench::new(Assets::memory());
        let Ok(after) = bench.lay_out_book(&texts, BreaksPolicy::All) else {
            CASES.passed_over(50);
            return Ok(());
        };
        CASES.ran();
        let (then, now) = (words(&before), words(&after));
        let changed: BTreeSet<PanelName> = then
            .iter()
            .filter(|(panel, words)| now[panel] != **words)
            .map(|(panel, _)| *panel)
            .collect();
        let own: BTreeSet<PanelName> = stood
            .iter()
            .filter(|(_, lines)| lines.iter().any(|line| touched.contains(line)))
            .map(|(panel, _)| *panel)
            .collect();
        if changed.is_subset(&own) {
            return Ok(());
        }
        // What more has changed had to: no division touches fewer panels.
        let prepared = bench.prepare_book(&texts, BreaksPolicy::All).expect("it was laid out");
        if let Some(least) = least::fewest_moved(&prepared) {
            let pays = moved(&after);
            prop_assert!(
                pays.len() <= least,
                "{} panels moved ({pays:?}) where {least} had to: {edit:?}\n{breaks}", pays.len()
            );
        }
    }
}

/// The edits reach every kind, and most books fit.
#[test]
fn random_books_fit_and_edits_are_of_every_kind() {
    use proptest::strategy::ValueTree;
    use proptest::test_runner::TestRunner;
    let mut runner = TestRunner::deterministic();
    let (mut fit, mut several) = (0, 0);
    let mut kinds: BTreeMap<String, usize> = BTreeMap::new();
    for _ in 0..60 {
        let book = book::book()
            .new_tree(&mut runner)
            .expect("a book")
            .current();
        let edit = edits::edit()
            .new_tree(&mut runner)
            .expect("an edit")
            .current();
        let kind = format!("{edit:?}")
            .split([' ', '{'])
            .next()
            .unwrap_or_default()
            .to_string();
        let touched = edit.make(&mut book.clone());
        *kinds.entry(kind).or_default() +=
            usize::from(!touched.is_empty() || matches!(edit, Edit::MoveCallout { .. }));
        if let Some((layout, ..)) = kept(&book, true, &[]) {
            fit += 1;
            let with_words = layout.panels.iter().filter(|panel| !panel.lines.is_empty());
            several += usize::from(with_words.count() > 3);
        }
    }
    assert!(
        fit >= 40 && several >= 30,
        "{fit} of 60 fit, {several} over several panels"
    );
    assert!(
        kinds.len() >= 7 && kinds.values().all(|count| *count > 0),
        "{kinds:?}"
    );
}
