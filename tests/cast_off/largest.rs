//! The two largest sizes, against trying every size from the largest that a plan may have, none passed over.

use std::collections::HashMap;

use versefold::assets::Assets;
use versefold::book::plan_file::vary::{Variation, vary};
use versefold::book::{CastOffRequest, PreparedBook, Workbench};
use versefold::division::{Limits, divide_together};
use versefold::names::Length;
use versefold::plan::RuleName;
use versefold::setting::Piece;
use versefold::text::LineKind;

use crate::cast_off::{Book, tenths};

/// Whether a line of verse turns over on the panels of words alone: where nothing is pinned, with the column that most
/// of these have.
fn turns(prepared: &PreparedBook) -> bool {
    prepared.set.parts.iter().any(|part| {
        let panels = prepared.plan.parts[part.plan_index].on.iter();
        let mut counts: HashMap<usize, usize> = HashMap::new();
        for panel in panels.filter(|panel| prepared.plan.pin(**panel).is_none()) {
            let area = prepared.set.areas.of(*panel, None).expect("an area");
            let column = part.column_of_area[area.0].expect("a column");
            *counts.entry(column).or_default() += 1;
        }
        counts.retain(|column, _| part.columns[*column].is_plain());
        let most = counts
            .iter()
            .max_by_key(|(column, count)| (**count, usize::MAX - **column));
        let Some((&column, _)) = most else {
            return false;
        };
        part.rows.iter().any(|row| {
            let verse = matches!(row.kind, LineKind::Verse | LineKind::Epigraph);
            let turned = |piece: &Piece| piece.turnover;
            verse && row.at[column].stand(0).pieces.iter().any(turned)
        })
    })
}

fn fits(prepared: &PreparedBook) -> bool {
    prepared.groups().iter().all(|group| {
        let problems = prepared.problems_of(group);
        let rules = &problems[0].rules;
        let gives = rules.is_hard(RuleName::Undivided)
            && rules.weight(RuleName::Undivided).hard != Some(true);
        let with = |soft: &[RuleName]| divide_together(&problems, soft, Limits::default()).0;
        with(&[]).is_some() || gives && with(&[RuleName::Undivided]).is_some()
    })
}

/// The first sizes from 144 pt down to 6 pt at which no line turns over, and at which the book fits.
fn firsts(book: &Book, bench: &mut Workbench) -> (Option<Length>, Option<Length>) {
    let (mut whole, mut fitting) = (None, None);
    for size in (60..=1440).rev().map(tenths) {
        let variation = Variation {
            size: Some(size),
            panels: None,
        };
        let Ok(plan) = vary(&book.source(), variation) else {
            continue;
        };
        let written = book.written(Some((size, plan.text.leading)), None);
        let Ok(prepared) = bench.prepare_texts(&written, &book.manuscript) else {
            continue;
        };
        whole = whole.or_else(|| (!turns(&prepared)).then_some(size));
        fitting = fitting.or_else(|| fits(&prepared).then_some(size));
        if whole.is_some() && fitting.is_some() {
            break;
        }
    }
    (whole, fitting)
}

/// Holds both sizes against what trying every size finds, and gives those.
fn compare(name: &str, book: &Book) -> (Option<Length>, Option<Length>) {
    let mut bench = Workbench::new(Assets::folder(&book.folder));
    let asked = CastOffRequest {
        sizes: vec![tenths(110)],
        ..CastOffRequest::default()
    };
    let cast = bench.cast_off_texts(&book.source(), &book.manuscript, &asked);
    let cast = cast.unwrap_or_else(|faults| panic!("{name}: {}", faults[0].what));
    let (whole, fitting) = firsts(book, &mut bench);
    // Prose has no lines to turn over.
    let whole = whole.filter(|_| cast.verse > 0);
    assert_eq!(cast.whole_lines.map(|found| found.size), whole, "{name}");
    assert_eq!(cast.fits.map(|found| found.size), fitting, "{name}");
    (whole, fitting)
}

#[test]
fn both_are_what_trying_every_size_finds() {
    for name in [
        "turnovers-left",
        "undivided-gives-way",
        "words-in-boxes",
        "parts",
        "hebrew-poem",
        "prose-hyphenated",
        "japanese-readings",
    ] {
        compare(name, &Book::small(name));
    }
}

/// Rules about what follows what are hard where the author says so: sizes are then passed over for their sake too.
#[test]
fn rules_about_the_order_are_kept_at_every_size() {
    let order = [
        (
            "pictures-on-the-next-spread",
            "\"picture-with\", \"blank-before\", \"ends-with\"",
        ),
        ("pictures-apart", "\"text-in-a-row\", \"pictures-in-a-row\""),
    ];
    for (name, must) in order {
        let mut book = Book::small(name);
        let rules = format!("[rules]\nmust = [{must}]\n");
        book.plan = book.plan.replace("[rules]\n", &rules);
        let (_, fitting) = compare(name, &book);
        assert!(fitting.is_some(), "{name} fits at no size");
    }
}
