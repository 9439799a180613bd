//! The lines that `strip` and `plates` print about the sheets.

use super::looked::{coarse, of_scans, parted};
use crate::book::{CutBook, GroundsMeet, ScanNote};
use crate::names::{Cover, Grain, JoinKind, Length, Side};
use crate::outputs::Scans;
use crate::paper::{Flip, GrainAdvice, Join, LONGEST_PAGE};

/// What the reader is told.
pub(super) struct StripReport {
    /// How the strip is made.
    pub facts: Vec<String>,
    /// What to look at.
    pub remarks: Vec<String>,
    /// Advice that holds for all sheets; the guide gives it at length.
    care: Option<&'static str>,
}

const CARE: &str = "Before anything is printed, agree folds, marks, duplex and glue with the print shop: its rules come before \
                    these. Blades: a sharp one, along a steel rule, on a cutting mat, away from the hand.";

impl StripReport {
    pub fn of_plates(book: &CutBook, ink: &str, mirrored: bool) -> StripReport {
        let seen = match mirrored {
            true => "They are mirrored: as they are seen from the back of the film.",
            false => "They read right way round; --mirrored turns them about.",
        };
        StripReport {
            facts: vec![
                format!(
                    "Plates of the words in {ink}: solid, on {} of {}, with register marks. {seen}",
                    count(book.sheets.sheets.len(), "sheet"),
                    size(book.sheets.page)
                ),
                "Register them on the prints with the marks outside the trim; ask the plate maker whether the emulsion \
                 side is to be up before you order."
                    .to_string(),
            ],
            remarks: Vec::new(),
            care: None,
        }
    }

    pub fn of_sheets(
        book: &CutBook,
        scans: &Scans,
        words_only: bool,
        notes: &[ScanNote],
        grounds: &[GroundsMeet],
    ) -> StripReport {
        let mut facts = vec![cut(book)];
        facts.extend(joined(book));
        facts.push(printed(book));
        facts.push(grain(book));
        facts.push(closed(book));
        let mut remarks = Vec::new();
        remarks.extend(long_page(book));
        remarks.extend(without_art(book, scans).filter(|_| !words_only));
        remarks.extend(narrow_joins(book));
        remarks.extend(costly_spare(book));
        remarks.extend(parted(book));
        remarks.extend(coarse(book, scans));
        remarks.extend(of_scans(notes));
        remarks.extend(grounds.iter().map(grounds_meet));
        StripReport {
            facts,
            remarks,
            care: Some(CARE),
        }
    }

    /// All facts, remarks and advice, a line each.
    pub fn text(&self) -> String {
        let care = self.care.iter().map(|care| care.to_string());
        let lines = self.facts.iter().chain(&self.remarks).cloned().chain(care);
        lines.map(|line| format!("{line}\n")).collect()
    }
}

/// A page that PDF measures in larger units.
fn long_page(book: &CutBook) -> Option<String> {
    let long = book.sheets.page.0;
    (long > LONGEST_PAGE).then(|| {
        format!(
            "The page is {long} long. PDF measures a page beyond {LONGEST_PAGE} in larger units, and some readers do not \
             know that: ask the print shop to check its length before it prints."
        )
    })
}

/// The pictures for which no art is named.
fn without_art(book: &CutBook, scans: &Scans) -> Option<String> {
    let pictures = book.layout.panels.iter().filter(|panel| !panel.goes_on());
    let names = pictures.filter_map(|panel| panel.picture.as_deref());
    let bare = names.filter(|name| !scans.contains_key(*name));
    let bare: Vec<String> = bare.map(|name| format!("“{name}”")).collect();
    let places = match bare.len() {
        0 => return None,
        1 => "its place",
        _ => "their places",
    };
    Some(format!(
        "No art is named for {}: the sheets leave {places} to the paper. [[picture]] art = \"…\" names a scan.",
        bare.join(", ")
    ))
}

/// Joins that are narrower than the plan asks.
fn narrow_joins(book: &CutBook) -> Option<String> {
    let (join, asked) = (book.sheets.joins.first()?, book.plan.sheets.tab);
    (join.kind != JoinKind::Doubled && join.width < asked).then(|| {
        format!(
            "Joins are {} wide instead of {asked}, for words stand so near to the folds; wider margins there leave room for \
             more.",
            join.width
        )
    })
}

/// Spare paper that costs a sheet.
fn costly_spare(book: &CutBook) -> Option<String> {
    book.spare_costs_a_sheet.then(|| {
        format!(
            "The {} that are spare at the strip's end cost a sheet: with a smaller `spare` in [sheets] there would be \
             fewer.",
            book.plan.sheets.spare
        )
    })
}

/// Two grounds that meet at a fold.
fn grounds_meet(grounds: &GroundsMeet) -> String {
    format!(
        "Between {} and {} two grounds meet at the fold, those of “{}” and “{}”. There is no bleed at a fold: let \
         one of them run 1.5 mm over the other, with runs-over = \"1.5 mm\" in its [[picture]].",
        grounds.panels.0, grounds.panels.1, grounds.pictures.0, grounds.pictures.1
    )
}

fn count(number: usize, what: &str) -> String {
    match number {
        1 => format!("1 {what}"),
        n => format!("{n} {what}s"),
    }
}

fn size((width, height): (Length, Length)) -> String {
    format!("{} × {height}", width.to_string().trim_end_matches(" mm"))
}

fn cut(book: &CutBook) -> String {
    let strip = &book.layout.strip;
    let panels = strip.paper().panels.per_side;
    let whole = size((strip.length(), strip.paper().panel_height));
    let page = match &book.plan.sheets.size {
        Some(sheet) => match &sheet.name {
            Some(name) => format!("{name} ({})", size(book.sheets.page)),
            None => size(book.sheets.page),
        },
        None => format!("{}, marks and all", size(book.sheets.page)),
    };
    format!(
        "The strip of {panels} panels, {whole}, comes from {} of {page}.",
        count(book.sheets.sheets.len(), "sheet")
    )
}

/// Where and how the sheets are joined.
fn joined(book: &CutBook) -> Option<String> {
    let joins = &book.sheets.joins;
    let first = joins.first()?;
    let places = some(joins.iter());
    let how = match first.kind {
        JoinKind::Tab => format!("a tab of {} pasted behind its neighbour", first.width),
        JoinKind::Hinge => format!("a tissue of {} over the fold", first.width),
        JoinKind::Doubled => "a whole panel pasted behind its neighbour".to_string(),
    };
    let front = |join: &&Join| join.kind == JoinKind::Hinge && join.tissue_on == Side::Front;
    let where_ = match joins.iter().any(|join| front(&join)) {
        false => String::new(),
        true => format!(
            " On the front after {}, for words stand behind it.",
            some(joins.iter().filter(front))
        ),
    };
    Some(format!("Joined after {places}, each with {how}.{where_}"))
}

/// The panels after which joins lie; only the first few of very many.
fn some<'a>(joins: impl Iterator<Item = &'a Join>) -> String {
    let places: Vec<String> = joins.map(|join| join.after.to_string()).collect();
    let most = 12;
    match places.len() {
        many if many > most => format!("{} and {} more", places[..most].join(", "), many - most),
        _ => places.join(", "),
    }
}

/// How it goes through the printer.
fn printed(book: &CutBook) -> String {
    let strip = &book.layout.strip;
    if strip.sides().len() < 2 {
        return "Print on one side, at 100 %, not scaled to fit.".to_string();
    }
    let flip = Flip::of(book.sheets.page, strip.paper().turned);
    format!(
        "Print on both sides, flipped on the {}, at 100 %, not scaled to fit. The file does not turn the back: that \
         setting does, never both.",
        flip.words()
    )
}

fn grain(book: &CutBook) -> String {
    let named = || {
        let size = book.plan.sheets.size.as_ref();
        size.and_then(|size| size.name.clone())
            .map_or("paper".to_string(), |name| name)
    };
    match book.sheets.grain {
        GrainAdvice::Laid => "The grain runs from head to tail, as it must.".to_string(),
        GrainAdvice::AskFor(Grain::Short) => format!(
            "The grain must run from head to tail: ask for short-grain {}.",
            named()
        ),
        GrainAdvice::AskFor(Grain::Long) => format!(
            "The grain must run from head to tail: ask for long-grain {}.",
            named()
        ),
        GrainAdvice::CutAcross => {
            "The grain must run from head to tail: have the sheet cut with its grain across the strip's length."
                .to_string()
        }
        GrainAdvice::Roll => {
            "So long a sheet is cut from a roll, and a roll's grain runs along it: across your folds, which crack and \
             spring open sooner. Join the strip from shorter sheets (longest-sheet in [sheets]), or try the roll on an offcut."
                .to_string()
        }
    }
}

fn closed(book: &CutBook) -> String {
    let closed = &book.closed;
    let mut said = match closed.thickness {
        Some((least, most)) => {
            let (boards, measure) = match book.plan.paper.cover {
                Cover::SelfCover => ("", ""),
                Cover::Boards => (
                    ", boards and all",
                    ": fold one of the real paper and measure it before you cut the boards",
                ),
                Cover::Wrapper => (
                    "",
                    ": fold one of the real paper and measure it before you cut the wrapper",
                ),
            };
            format!(
                "Closed, its {} leaves are {} to {} thick{boards}{measure}.",
                closed.leaves,
                tenths(least),
                tenths(most)
            )
        }
        None => format!(
            "Closed, it has {} leaves; with `thickness`, or `grammage` and `bulk`, in [paper] it is told how thick they are.",
            closed.leaves
        ),
    };
    if let Some(weight) = closed.weight_mg {
        said += &format!(" The paper of one copy weighs {} g.", (weight + 500) / 1000);
    }
    said
}

/// A length in millimetres to the nearest tenth.
fn tenths(length: Length) -> String {
    format!("{:.1} mm", length.as_mm())
}
