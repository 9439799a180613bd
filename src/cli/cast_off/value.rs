//! The cast-off as JSON.

use serde_json::{Value, json};

use crate::book::{CastOff, Cell, Comfort, Largest, Letters, SizeRow};
use crate::cli::report;
use crate::names::Length;

pub(super) fn value(found: &CastOff) -> Value {
    json!({
        "title": found.title,
        "panel_width_mm": found.panel.0.as_mm(),
        "panel_height_mm": found.panel.1.as_mm(),
        "sides": found.sides,
        "panels_per_side": found.panels,
        "size_pt": found.size.0.as_pt(),
        "leading_pt": found.size.1.as_pt(),
        "lines_of_verse": found.verse,
        "largest_without_turnovers": found.whole_lines.as_ref().map(largest),
        "largest_that_fits": found.fits.as_ref().map(largest),
        "characters": found.letters.as_ref().map(letters),
        "sizes": found.rows.iter().map(|row| size(found, row)).collect::<Vec<_>>(),
    })
}

fn largest(largest: &Largest) -> Value {
    json!({
        "size_pt": largest.size.as_pt(),
        "leading_pt": largest.leading.as_pt(),
        "lines_turned_over": largest.turned_over,
        "stanzas_divided": largest.stanzas_divided,
    })
}

fn letters(letters: &Letters) -> Value {
    json!({
        "measure_mm": letters.measure.as_mm(),
        "line_holds": letters.holds,
        "alphabet_pt": letters.alphabet.map(Length::as_pt),
        "mean_of_full_lines": letters.prose,
        "verse_middle": letters.verse.map(|verse| verse.0),
        "verse_longest": letters.verse.map(|verse| verse.1),
        "justified": letters.justified,
        "comfortable": match letters.comfort {
            Comfort::Letters => json!({ "least": 45, "most": 75, "source": "Bringhurst" }),
            Comfort::Ideographs => json!({ "least": null, "most": 40, "source": "WCAG 2" }),
        },
    })
}

fn size(found: &CastOff, row: &SizeRow) -> Value {
    let cells = found.tried.iter().zip(&row.cells).map(|(panels, cell)| {
        let figures = match cell {
            Cell::Fits(figures) => Some(figures),
            _ => None,
        };
        let faults = match cell {
            Cell::Wrong(faults) => faults.iter().map(report::fault_value).collect(),
            _ => Vec::new(),
        };
        json!({
            "panels_per_side": panels,
            "fits": figures.is_some(),
            "fullness": figures.map(|figures| figures.fullness),
            "lines_turned_over": figures.map(|figures| figures.turned_over),
            "stanzas_divided": figures.map(|figures| figures.stanzas_divided),
            "free_panels": figures.map(|figures| figures.free),
            "faults": faults,
        })
    });
    json!({
        "size_pt": row.size.as_pt(),
        "leading_pt": row.leading.as_pt(),
        "line_holds": row.characters,
        "lines_turned_over": row.turned_over,
        "fewest_panels": row.fewest,
        "fewest_panels_stanzas_whole": row.fewest_whole,
        "on_panels": cells.collect::<Vec<_>>(),
    })
}
