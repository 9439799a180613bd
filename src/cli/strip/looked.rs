//! What is to be looked at: joins through pictures, and scans.

use crate::art::Fit;
use crate::book::{CutBook, ScanNote};
use crate::layout::LaidPanel;
use crate::names::{Length, PanelName};
use crate::outputs::Scans;

/// What is said of scans, each thing once.
pub(super) fn of_scans(notes: &[ScanNote]) -> Vec<String> {
    let mut found: Vec<(&str, Vec<String>)> = Vec::new();
    for note in notes {
        let name = format!("“{}”", note.picture);
        match found.iter_mut().find(|(said, _)| *said == note.note) {
            Some((_, names)) => names.push(name),
            None => found.push((&note.note, vec![name])),
        }
    }
    let sentences = found.into_iter().map(|(said, names)| match names.len() {
        1 => format!("The scan of {}: {said}.", names[0]),
        _ => format!("The scans of {}: {said}.", names.join(", ")),
    });
    sentences.collect()
}

/// Joins that go through a picture.
pub(super) fn parted(book: &CutBook) -> Vec<String> {
    let mut found = Vec::new();
    for join in &book.sheets.joins {
        let next = PanelName::front(join.after.number + 1);
        let sides = [
            Some((join.after, next)),
            book.layout
                .strip
                .behind(join.after)
                .zip(book.layout.strip.behind(next)),
        ];
        for (one, other) in sides.into_iter().flatten() {
            let picture = |panel: PanelName| {
                let laid = book.layout.panels.iter().find(|laid| laid.panel == panel)?;
                laid.picture.clone()
            };
            if let Some(name) = picture(one).filter(|name| picture(other).as_ref() == Some(name)) {
                found.push(format!(
                    "The join after {} goes through “{name}”, between {one} and {other}: match the two prints there.",
                    join.after
                ));
            }
        }
    }
    found
}

/// Scans with too few pixels: below 149 to the inch they are at fault, below 224 to be looked at (Ghent Workgroup 2015,
/// 4.26; line art has limits of its own).
pub(super) fn coarse(book: &CutBook, scans: &Scans) -> Vec<String> {
    let strip = &book.layout.strip;
    let paper = strip.paper();
    let mut found = Vec::new();
    for (name, scan) in scans {
        let on = |panel: &&LaidPanel| panel.picture.as_ref() == Some(name);
        let Some(panel) = book.layout.panels.iter().find(on) else {
            continue;
        };
        let beyond = match scan.fit {
            Fit::WithBleed => paper.bleed * 2,
            Fit::Trimmed => Length::ZERO,
        };
        let widths = panel
            .picture_panels
            .iter()
            .map(|&panel| strip.width_of(panel));
        let width: Length = widths.sum();
        let ppi = scan.art.ppi_on(width + beyond, paper.panel_height + beyond);
        if scan.art.is_line_art() || ppi >= 224.0 {
            continue;
        }
        let how = if ppi < 149.0 {
            "will look coarse"
        } else {
            "may look coarse"
        };
        found.push(format!(
            "The scan of “{name}” has {ppi:.0} pixels to the inch where it is printed, and {how}: 300 are usual."
        ));
    }
    found
}
