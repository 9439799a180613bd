//! Every cell of the table is the book whose plan is written so.

use std::collections::{HashMap, HashSet};
use std::fs;
use std::path::Path;

use versefold::assets::Assets;
use versefold::book::{CastOff, CastOffRequest, Cell, Figures, SizeRow, Workbench};
use versefold::layout::{LaidPanel, Layout};
use versefold::names::Role;
use versefold::text::LineKind;

use crate::cast_off::{Book, Numbers, tenths};
use crate::support::examples;

/// The figures of a cell, read from the layout that `flow` shows; of panels without words, how many there are.
fn figures(layout: &Layout) -> (f64, usize, usize, usize) {
    let of_manuscript = |panel: &&LaidPanel| {
        panel.role.has_words() && panel.lines.iter().any(|line| line.part.is_some())
    };
    let shares = layout.panels.iter().filter(of_manuscript);
    let shares: Vec<f64> = shares.filter_map(LaidPanel::share).collect();
    let fullness = shares.iter().sum::<f64>() / shares.len().max(1) as f64;
    let mut stanzas: HashMap<_, HashSet<_>> = HashMap::new();
    for panel in &layout.panels {
        let verse = |kind: &LineKind| matches!(kind, LineKind::Verse | LineKind::Epigraph);
        for line in panel.lines.iter().filter(|line| verse(&line.kind)) {
            let stanza = (line.part.clone(), line.block);
            stanzas
                .entry(stanza)
                .or_default()
                .insert(panel.panel.to_string());
        }
    }
    let divided = stanzas.values().filter(|on| on.len() > 1).count();
    let without = layout.panels.iter();
    let without = without.filter(|panel| matches!(panel.role, Role::Picture | Role::Blank));
    (fullness, layout.turned_over(), divided, without.count())
}

fn check(book: &Book, sizes: &[i64], panels: &[u16]) -> (usize, usize) {
    let asked = CastOffRequest {
        sizes: sizes.iter().map(|&size| tenths(size)).collect(),
        panels: panels.to_vec(),
        any_number: false,
    };
    let name = book.folder.display();
    let mut bench = Workbench::new(Assets::folder(&book.folder));
    let Ok(cast) = bench.cast_off_texts(&book.source(), &book.manuscript, &asked) else {
        let refused = asked.sizes.iter().chain([&tenths(0)]).any(|&size| {
            let type_size = (size > tenths(0)).then_some((size, size * 4 / 3));
            let plan = book.written(type_size, None);
            Workbench::new(Assets::folder(&book.folder))
                .prepare_texts(&plan, &book.manuscript)
                .is_err()
        });
        assert!(
            refused,
            "{name} has no cast-off, and nothing is wrong with it"
        );
        return (0, 0);
    };
    let (mut fits, mut not) = (0, 0);
    for row in &cast.rows {
        for (&panels, cell) in cast.tried.iter().zip(&row.cells) {
            let own = cast.panels == Some(panels);
            if book.names_panels() && !own {
                continue;
            }
            let written = book.written(Some((row.size, row.leading)), Some(panels));
            let here = format!("{name} at {} pt on {panels} panels", row.size.as_pt());
            match (
                Workbench::new(Assets::folder(&book.folder))
                    .lay_out_texts(&written, &book.manuscript),
                cell,
            ) {
                (Ok(layout), Cell::Fits(found)) => {
                    let (fullness, turned_over, divided, without) = figures(&layout);
                    assert!(
                        (found.fullness - fullness).abs() < 1e-9,
                        "{here}: {fullness} {found:?}"
                    );
                    assert_eq!(
                        (found.turned_over, found.stanzas_divided),
                        (turned_over, divided),
                        "{here}"
                    );
                    assert!(!book.is_words_alone() || found.free >= without, "{here}");
                    check_free(book, &cast, (row, panels), found);
                    fits += 1;
                }
                (Err(_), Cell::TooMuch | Cell::Wrong(_)) => not += 1,
                (Ok(_), other) => panic!("{here} fits, and is told as {other:?}"),
                (Err(faults), Cell::Fits(_)) => panic!("{here} is refused: {}", faults[0].what),
            }
        }
    }
    (fits, not)
}

/// So many panels can carry pictures as are told to be free, and never more than the words do not need at the fewest.
fn check_free(book: &Book, cast: &CastOff, (row, panels): (&SizeRow, u16), found: &Figures) {
    if !book.is_words_alone() {
        return;
    }
    let all = usize::from(panels) * cast.sides;
    let carries = |pictures| book.carries((row.size, row.leading), panels, pictures);
    let here = || format!("{} on {panels} panels: {found:?}", book.folder.display());
    assert!(carries(found.free), "{}", here());
    let most = row.fewest.map(|fewest| all - fewest);
    assert!(most.is_none_or(|most| !carries(most + 1)), "{}", here());
}

#[test]
fn every_cell_of_the_small_books_is_what_flow_gives() {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/books");
    let mut folders: Vec<_> = fs::read_dir(folder)
        .expect("tests/books is there")
        .map(|entry| entry.expect("the folder can be read").path())
        .collect();
    folders.sort();
    let mut numbers = Numbers(1970);
    let (mut fits, mut not) = (0, 0);
    for folder in folders {
        let Some(book) = Book::read(&folder) else {
            continue;
        };
        // A book that is wrong whatever its size has no cast-off, as it has no flow.
        if Workbench::new(Assets::folder(&folder))
            .prepare_texts(&book.source(), &book.manuscript)
            .is_err()
        {
            let asked = CastOffRequest::default();
            let cast = Workbench::new(Assets::folder(&folder)).cast_off(&asked);
            assert!(cast.is_err(), "{}", folder.display());
            continue;
        }
        let sizes = [
            70 + numbers.below(60) as i64,
            90 + numbers.below(110) as i64,
        ];
        let own: toml::Table = toml::from_str(&book.plan).expect("TOML");
        let own = own["paper"]["panels-per-side"]
            .as_integer()
            .expect("a number") as u16;
        let panels = [own, (own + 1 + numbers.below(3) as u16).min(400)];
        let (more_fit, more_not) = check(&book, &sizes, &panels);
        fits += more_fit;
        not += more_not;
    }
    assert!(fits > 100 && not > 20, "{fits} fit, {not} do not");
}

#[test]
fn every_cell_of_the_examples_is_what_flow_gives() {
    for folder in examples() {
        let book = Book::read(&folder).expect("an example");
        let (fits, _) = check(&book, &[85, 113, 127], &[]);
        assert!(fits > 0, "{}", folder.display());
    }
}

/// The body of the demo runs on over the turn up to the colophon on the last panel: on another number of panels it still
/// does.
#[test]
fn a_part_that_runs_over_the_turn_grows_and_shrinks_with_the_strip() {
    let book = Book::read(&crate::support::demo()).expect("the demo");
    let asked = CastOffRequest {
        sizes: vec![tenths(110)],
        panels: vec![11, 13],
        any_number: false,
    };
    let cast = Workbench::new(Assets::folder(&book.folder)).cast_off_texts(
        &book.source(),
        &book.manuscript,
        &asked,
    );
    let cast = cast.expect("a cast-off");
    for (panels, cell) in cast.tried.iter().zip(&cast.rows[0].cells) {
        let written = book
            .plan
            .replace(
                "panels-per-side = 12",
                &format!("panels-per-side = {panels}"),
            )
            .replace(
                "front 1 to back 11",
                &format!("front 1 to back {}", panels - 1),
            )
            .replace("on = [\"back 12\"]", &format!("on = [\"back {panels}\"]"));
        let written = versefold::names::Source::new("concertina.toml", written);
        let layout =
            Workbench::new(Assets::folder(&book.folder)).lay_out_texts(&written, &book.manuscript);
        let (fullness, turned_over, divided, without) = figures(&layout.expect("it fits"));
        let Cell::Fits(found) = cell else {
            panic!("{panels} panels: {cell:?}")
        };
        assert!(
            (found.fullness - fullness).abs() < 1e-9,
            "{panels}: {fullness} {found:?}"
        );
        assert_eq!(
            (found.turned_over, found.stanzas_divided),
            (turned_over, divided)
        );
        assert!(found.free >= without, "{panels}: {without} {found:?}");
    }
}
