//! Where the words of the two panels of a spread begin that stand at the optical centre: on one line of the grid, that of the
//! panel which is fuller. What is printed keeps its place and leads. Panels whose lines stand on different grids begin each by
//! itself.

use std::collections::HashMap;

use super::compose::ComposeInput;
use super::on_panel::lead;
use crate::names::{HalfLines, Length, PanelName, Role, Vertical};
use crate::setting::Grid;

/// How far below the head of their panels words begin, where those of a spread begin together.
pub(super) type Leads = HashMap<PanelName, HalfLines>;

/// The words of a panel that stand at its optical centre.
struct Centred {
    used: HalfLines,
    capacity: HalfLines,
    grid: Grid,
    /// The first baseline of the text area.
    head: Length,
    /// How far below that the words begin by themselves.
    lead: HalfLines,
    /// The first baseline that is printed, if the panel is passed for press.
    printed: Option<Length>,
}

impl Centred {
    /// The baseline of the first line.
    fn first(&self) -> Length {
        let lead = self.lead.at(self.grid.leading);
        self.printed.unwrap_or(self.head + lead)
    }

    /// How far below the head the words begin if their first line stands there, or as near as the area lets it.
    fn towards(&self, first: Length) -> HalfLines {
        let leading = self.grid.leading.units().max(1);
        let lines = (first - self.head).units().div_euclid(leading);
        let free = (self.capacity - self.used).whole_lines();
        HalfLines::lines(usize::try_from(lines).unwrap_or(0).min(free))
    }
}

/// The leads of panels that begin with the other of their spread.
pub(super) fn of_spreads(ready: ComposeInput<'_>) -> Leads {
    let centred = centred(ready);
    let mut leads = Leads::new();
    let sides = ready.strip.sides().iter();
    for (one, other) in sides.flat_map(|side| ready.strip.spreads(*side)) {
        let (Some(first), Some(second)) = (centred.get(&one), centred.get(&other)) else {
            continue;
        };
        if first.grid != second.grid {
            continue;
        }
        let leads_other = match (&first.printed, &second.printed) {
            (Some(_), Some(_)) => continue,
            (Some(_), None) => true,
            (None, Some(_)) => false,
            (None, None) => first.used >= second.used,
        };
        let (from, panel, to) = match leads_other {
            true => (first, other, second),
            false => (second, one, first),
        };
        leads.insert(panel, to.towards(from.first()));
    }
    leads
}

/// The panels whose words stand at the optical centre of an ordinary text area, title panels aside.
fn centred(ready: ComposeInput<'_>) -> HashMap<PanelName, Centred> {
    let mut found = HashMap::new();
    let parts = ready.set.parts.iter().zip(ready.problems);
    for ((part, problem), divided) in parts.zip(&ready.division.parts) {
        for on in divided.panels.iter().filter(|on| !on.rows.is_empty()) {
            let vertical = ready.set.areas.vertical(on.panel);
            let centre = vertical == Vertical::OpticalCentre;
            if !centre || on.role == Role::Title || !on.role.has_words() {
                continue;
            }
            let picture = on.picture.filter(|_| on.role.has_picture());
            let picture = picture.map(|picture| problem.pictures[picture].name.as_str());
            let Some(id) = ready.set.areas.of(on.panel, picture) else {
                continue;
            };
            let Some(column) = part.column_of_area[id.0] else {
                continue;
            };
            let boxes = part.columns[column].boxes();
            if !boxes.is_plain() {
                continue;
            }
            let used = (on.used, on.capacity);
            let kept = ready.passed(on.panel).and_then(|kept| kept.passed.as_ref());
            let printed = kept.and_then(|lines| lines.first());
            let words = Centred {
                used: on.used,
                capacity: on.capacity,
                grid: ready.set.areas.grid_of(id),
                head: ready.set.areas.get(id).first_baseline,
                lead: lead(ready, boxes, (on.panel, on.role), used),
                printed: printed.map(|line| line.baseline),
            };
            found.insert(on.panel, words);
        }
    }
    found
}
