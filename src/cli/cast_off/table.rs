//! The table of type sizes and numbers of panels.

use unicode_width::UnicodeWidthStr;

use super::told::folded;
use crate::book::{CastOff, Cell, Figures, PartRoom, SizeRow};
use crate::cli::speak;
use crate::names::{Length, capitalized, decimals};

/// No line is wider, in columns of a terminal.
pub(super) const WIDEST: usize = 100;

/// One column, or several under one heading.
struct Column {
    /// Its heading, line by line from above.
    heading: Vec<String>,
    /// What stands in it, row by row.
    entries: Vec<String>,
}

impl Column {
    fn new(heading: &[&str], entries: impl IntoIterator<Item = String>) -> Column {
        Column {
            heading: heading.iter().map(|line| (*line).to_string()).collect(),
            entries: entries.into_iter().collect(),
        }
    }

    fn width(&self) -> usize {
        let all = self.heading.iter().chain(&self.entries);
        all.map(|text| text.width()).max().unwrap_or(0)
    }
}

/// The columns of one number of panels, under the number.
struct Group {
    heading: String,
    columns: Vec<Column>,
}

impl Group {
    fn width(&self) -> usize {
        let columns = self.columns.iter().map(|column| column.width() + 1);
        columns.sum::<usize>().max(self.heading.width() + 1)
    }
}

/// The words do not fit.
const NO_FIT: &str = "–";
/// How many panels the words need cannot be told.
const UNKNOWN: &str = "?";
const GAP: &str = "  ";
const BETWEEN: &str = "│";

pub(super) fn table(found: &CastOff) -> String {
    let first = first_columns(found);
    let left: usize = first.iter().map(|column| column.width() + GAP.len()).sum();
    let groups = groups(found);
    let mut text = String::new();
    let mut rest = groups.as_slice();
    loop {
        let mut width = left;
        let fits = rest.iter().take_while(|group| {
            width += BETWEEN.width() + group.width();
            width <= WIDEST
        });
        let count = fits.count().max(1).min(rest.len());
        let (here, later) = rest.split_at(count);
        text.push_str(&drawn(found, &first, here));
        rest = later;
        if rest.is_empty() {
            break;
        }
        text.push('\n');
    }
    text.push_str(&legend(found));
    text
}

/// What is of a size alone.
fn first_columns(found: &CastOff) -> Vec<Column> {
    let rows = || found.rows.iter();
    let mark = |row: &SizeRow| if row.size == found.size.0 { "›" } else { " " };
    let number = |length: Length| decimals(length.as_pt(), 2);
    let of_type = |row: &SizeRow| format!("{} on {}", number(row.size), row.leading.in_points());
    let wide = rows().map(|row| of_type(row).width()).max().unwrap_or(0);
    let typed = rows().map(|row| format!("{} {:>wide$}", mark(row), of_type(row)));
    let mut columns = vec![Column::new(&["", "type on leading"], typed)];
    let turned: Vec<String> = rows().map(turned_over).collect();
    if !found.mostly_prose || turned.iter().any(|turned| turned != "0") {
        columns.push(Column::new(&["lines", "turn over"], turned));
    }
    columns.push(Column::new(&["panels", "needed"], rows().map(needed)));
    if found.tried.is_empty() && found.sides > 1 {
        let least = |row: &SizeRow| row.fewest_whole.or(row.fewest);
        let a_side = |row: &SizeRow| least(row).map(|panels| panels.div_ceil(found.sides));
        let entries = rows().map(|row| a_side(row).map_or(UNKNOWN.to_string(), |n| n.to_string()));
        columns.push(Column::new(&["that is", "a side"], entries));
    }
    columns
}

/// Whether dividing stanzas spares any panel at any size.
fn dividing_spares(found: &CastOff) -> bool {
    found.rows.iter().any(|row| row.fewest != row.fewest_whole)
}

/// The fewest panels with all stanzas whole, and where dividing some spares any, the fewest then.
fn needed(row: &SizeRow) -> String {
    fewest(row.fewest_whole, row.fewest)
}

fn fewest(whole: Option<usize>, divided: Option<usize>) -> String {
    match (whole, divided) {
        (None, None) => UNKNOWN.to_string(),
        (Some(whole), Some(divided)) if whole != divided => format!("{whole} ({divided})"),
        (Some(whole), _) => whole.to_string(),
        (None, Some(divided)) => format!("({divided})"),
    }
}

/// The lines that turn over: as they stand in the divisions, from the fewest to the most where those differ.
fn turned_over(row: &SizeRow) -> String {
    let turned = || fitting(row).map(|figures| figures.turned_over);
    match (turned().min(), turned().max()) {
        (Some(least), Some(most)) if least < most => format!("{least}–{most}"),
        (Some(all), _) => all.to_string(),
        (None, _) => row.turned_over.to_string(),
    }
}

fn fitting(row: &SizeRow) -> impl Iterator<Item = &Figures> {
    row.cells.iter().filter_map(|cell| match cell {
        Cell::Fits(figures) => Some(figures),
        _ => None,
    })
}

/// Whether any stanza is divided in any cell.
fn any_divided(found: &CastOff) -> bool {
    let mut all = found.rows.iter().flat_map(fitting);
    all.any(|figures| figures.stanzas_divided > 0)
}

fn groups(found: &CastOff) -> Vec<Group> {
    let divided = any_divided(found);
    let tried = found.tried.iter().enumerate();
    tried
        .map(|(at, panels)| {
            let entries = |told: &dyn Fn(&Figures) -> String| -> Vec<String> {
                let cells = found.rows.iter().map(|row| &row.cells[at]);
                cells
                    .map(|cell| match cell {
                        Cell::Fits(figures) => told(figures),
                        _ => NO_FIT.to_string(),
                    })
                    .collect()
            };
            let mut columns = vec![
                Column::new(
                    &["full"],
                    entries(&|of| format!("{:.0} %", of.fullness * 100.0)),
                ),
                Column::new(&["free"], entries(&|of| of.free.to_string())),
            ];
            if divided {
                let of_cell = entries(&|of| of.stanzas_divided.to_string());
                columns.push(Column::new(&["divided"], of_cell));
            }
            let heading = match found.sides {
                1 => format!("{panels} panels"),
                _ => format!("{panels} panels a side"),
            };
            Group { heading, columns }
        })
        .collect()
}

/// The table with some of the groups.
fn drawn(found: &CastOff, first: &[Column], groups: &[Group]) -> String {
    let right = |text: &str, width: usize| {
        format!("{}{text}", " ".repeat(width.saturating_sub(text.width())))
    };
    let mut text = String::new();
    for line in 0..2 {
        let mut row = String::new();
        for column in first {
            row.push_str(&right(&column.heading[line], column.width()));
            row.push_str(GAP);
        }
        for group in groups {
            row.push_str(BETWEEN);
            if line == 0 {
                row.push_str(&right(&group.heading, group.width()));
                continue;
            }
            row.push_str(&columns(group, |column| &column.heading[0]));
        }
        text.push_str(&format!("{}\n", speak::dim(row.trim_end())));
    }
    for (at, of_size) in found.rows.iter().enumerate() {
        let mut row = String::new();
        for column in first {
            row.push_str(&right(&column.entries[at], column.width()));
            row.push_str(GAP);
        }
        for group in groups {
            row.push_str(BETWEEN);
            row.push_str(&columns(group, |column| &column.entries[at]));
        }
        let row = row.trim_end();
        let own = of_size.size == found.size.0;
        text.push_str(&format!(
            "{}\n",
            if own {
                speak::bold(row)
            } else {
                row.to_string()
            }
        ));
    }
    text
}

/// One line of the columns of a group.
fn columns<'g>(group: &'g Group, of: impl Fn(&'g Column) -> &'g String) -> String {
    let mut line = String::new();
    for column in &group.columns {
        let text = of(column);
        let blank = (column.width() + 1).saturating_sub(text.width());
        line.push_str(&" ".repeat(blank));
        line.push_str(text);
    }
    let blank = group.width().saturating_sub(line.width());
    format!("{}{line}", " ".repeat(blank))
}

/// What the columns mean, as far as they are there.
fn legend(found: &CastOff) -> String {
    let usual = match found.panels {
        Some(_) => "› as the plan is",
        None => "› the usual size",
    };
    let brackets = match dividing_spares(found) {
        true => ", and in brackets with stanzas divided",
        false => "",
    };
    let needed = format!("needed: for the words alone, at the fewest{brackets}");
    let unknown = match found.rows.iter().any(needed_is_unknown) {
        true => format!("; {UNKNOWN} cannot be told"),
        false => String::new(),
    };
    let mut told = vec![format!("{usual}; {needed}{unknown}")];
    let mut cells = found.rows.iter().flat_map(|row| &row.cells);
    let none = match cells.any(|cell| !matches!(cell, Cell::Fits(_))) {
        true => format!("; {NO_FIT} does not fit"),
        false => String::new(),
    };
    if !found.tried.is_empty() {
        told.push(format!(
            "full: how far words fill their panels on average; free: panels that could carry pictures alone{none}"
        ));
    }
    if any_divided(found) {
        told.push("divided: stanzas on more than one panel".to_string());
    }
    let mut text: String = told.iter().map(|line| speak::dim(&folded(line))).collect();
    text.extend(parts(found).map(|parts| folded(&parts)));
    for (panels, why) in wrong(found) {
        text.push_str(&folded(&format!("On {panels} panels a side: {why}.")));
    }
    text
}

fn needed_is_unknown(row: &SizeRow) -> bool {
    row.fewest_whole.or(row.fewest).is_none()
}

/// What each part needs of what it has, where there are several, and all of them together.
fn parts(found: &CastOff) -> Option<String> {
    if found.parts.len() < 2 {
        return None;
    }
    let told = |name: &str, needs: String, has: usize| format!("{name} {needs} of {has}");
    let mut each: Vec<String> = found
        .parts
        .iter()
        .map(|part| {
            let needs = fewest(part.fewest_whole, part.fewest);
            told(&format!("`{}`", part.name), needs, part.has)
        })
        .collect();
    let sum = |of: fn(&PartRoom) -> Option<usize>| found.parts.iter().map(of).sum();
    let needs = fewest(sum(|part| part.fewest_whole), sum(|part| part.fewest));
    let has = found.parts.iter().map(|part| part.has).sum();
    each.push(told("all", needs, has));
    let size = found.size.0.in_points();
    Some(format!(
        "Panels needed at {size}, part by part: {}.",
        each.join(", ")
    ))
}

/// Numbers of panels that the plan itself does not allow at some size, and why.
fn wrong(found: &CastOff) -> Vec<(u16, String)> {
    let mut told: Vec<(u16, String)> = Vec::new();
    for row in &found.rows {
        for (panels, cell) in found.tried.iter().zip(&row.cells) {
            if let Cell::Wrong(faults) = cell
                && let Some(fault) = faults.first()
                && !told.iter().any(|(known, _)| known == panels)
            {
                told.push((*panels, capitalized(&fault.what)));
            }
        }
    }
    told
}
