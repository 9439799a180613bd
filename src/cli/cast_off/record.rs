//! The cast-off as JSON.

use super::super::report::{self, FaultRecord};
use crate::book::{CastOff, Cell, Comfort, Largest, Letters, PartRoom, SizeRow};
use crate::json::{Figure, Format, records};

records! {
    /// `cast-off`: how many panels the text takes.
    pub(in crate::cli) struct CastOffRecord {
        /// The number of the form that this record has.
        format: Format,
        /// The book's title.
        title: String,
        /// How wide a panel is.
        panel_width_mm: Figure,
        /// How high it is.
        panel_height_mm: Figure,
        /// Which sides are printed: `both`, or `front`.
        sides: &'static str,
        /// How many panels a side has. Null where nobody has said.
        panels_per_side: Option<u16>,
        /// The plan's type size.
        size_pt: Figure,
        /// The plan's leading.
        leading_pt: Figure,
        /// How many lines are verse.
        lines_of_verse: usize,
        /// The largest size at which no line of verse turns over. Null where there is none.
        largest_without_turnovers: Option<LargestRecord>,
        /// The largest size that fits the plan's panels. Null where there is none.
        largest_that_fits: Option<LargestRecord>,
        /// How many characters a line holds. Null where no words stand on plain panels.
        characters: Option<CharactersRecord>,
        /// The table, from the smallest size.
        sizes: Vec<SizeRecord>,
        /// What each part has and needs at the plan's size.
        parts: Vec<PartRoomRecord>,
    }

    /// The panels of a part.
    pub(in crate::cli) struct PartRoomRecord {
        /// The part.
        part: String,
        /// How many panels it has.
        panels: usize,
        /// The fewest that its words take. Null where there is no number.
        fewest_panels: Option<usize>,
        /// The same with all stanzas whole. Null where there is no number.
        fewest_panels_stanzas_whole: Option<usize>,
    }

    /// A largest size.
    pub(in crate::cli) struct LargestRecord {
        /// The size.
        size_pt: Figure,
        /// The leading that goes with it.
        leading_pt: Figure,
        /// How many lines then turn over.
        lines_turned_over: usize,
        /// How many stanzas then stand on more than one panel.
        stanzas_divided: usize,
    }

    /// Characters to a line at the plan's size, letters and spaces counted.
    pub(in crate::cli) struct CharactersRecord {
        /// The measure.
        measure_mm: Figure,
        /// How many a line holds.
        line_holds: Figure,
        /// How long the lower-case alphabet is. Null for scripts without one.
        alphabet_pt: Option<Figure>,
        /// How many full lines of prose have on the mean. Null where there is none.
        mean_of_full_lines: Option<Figure>,
        /// How many the middle one of the lines of verse has. Null where there is none.
        verse_middle: Option<usize>,
        /// How many the longest has. Null where there is none.
        verse_longest: Option<usize>,
        /// Whether lines of prose are justified.
        justified: bool,
        /// How many are published as comfortable.
        comfortable: ComfortableRecord,
    }

    /// How many characters to a line are comfortable.
    pub(in crate::cli) struct ComfortableRecord {
        /// At least so many. Null where the source does not say.
        least: Option<u64>,
        /// At most so many.
        most: u64,
        /// Who says so.
        source: &'static str,
    }

    /// One type size.
    pub(in crate::cli) struct SizeRecord {
        /// The size.
        size_pt: Figure,
        /// Its leading.
        leading_pt: Figure,
        /// How many characters a line holds. Null where no words stand on plain panels.
        line_holds: Option<Figure>,
        /// How many lines turn over on panels of words alone.
        lines_turned_over: usize,
        /// The fewest panels that the words take. Null where there is no number.
        fewest_panels: Option<usize>,
        /// The same with all stanzas whole. Null where there is no number.
        fewest_panels_stanzas_whole: Option<usize>,
        /// What becomes of it on each number of panels that was tried.
        on_panels: Vec<CellRecord>,
    }

    /// One type size on one number of panels.
    pub(in crate::cli) struct CellRecord {
        /// How many panels a side has.
        panels_per_side: u16,
        /// Whether the words fit.
        fits: bool,
        /// The share of their text areas' depth that words take on the mean. Null where they do not fit.
        fullness: Option<Figure>,
        /// How many lines turn over. Null where they do not fit.
        lines_turned_over: Option<usize>,
        /// How many stanzas stand on more than one panel. Null where they do not fit.
        stanzas_divided: Option<usize>,
        /// How many panels could carry pictures and no words. Null where they do not fit.
        free_panels: Option<usize>,
        /// What is wrong with the plan, written so.
        faults: Vec<FaultRecord>,
    }
}

pub(super) fn record(found: &CastOff) -> CastOffRecord {
    CastOffRecord {
        format: Format,
        title: found.title.clone(),
        panel_width_mm: Figure::mm(found.panel.0),
        panel_height_mm: Figure::mm(found.panel.1),
        sides: if found.sides > 1 { "both" } else { "front" },
        panels_per_side: found.panels,
        size_pt: Figure::pt(found.size.0),
        leading_pt: Figure::pt(found.size.1),
        lines_of_verse: found.verse,
        largest_without_turnovers: found.whole_lines.as_ref().map(largest),
        largest_that_fits: found.fits.as_ref().map(largest),
        characters: found.letters.as_ref().map(characters),
        sizes: found.rows.iter().map(|row| size(found, row)).collect(),
        parts: found.parts.iter().map(part).collect(),
    }
}

fn part(part: &PartRoom) -> PartRoomRecord {
    PartRoomRecord {
        part: part.name.clone(),
        panels: part.has,
        fewest_panels: part.fewest,
        fewest_panels_stanzas_whole: part.fewest_whole,
    }
}

fn largest(largest: &Largest) -> LargestRecord {
    LargestRecord {
        size_pt: Figure::pt(largest.size),
        leading_pt: Figure::pt(largest.leading),
        lines_turned_over: largest.turned_over,
        stanzas_divided: largest.stanzas_divided,
    }
}

fn characters(letters: &Letters) -> CharactersRecord {
    CharactersRecord {
        measure_mm: Figure::mm(letters.measure),
        line_holds: Figure::of(letters.holds),
        alphabet_pt: letters.alphabet.map(Figure::pt),
        mean_of_full_lines: letters.prose.map(Figure::of),
        verse_middle: letters.verse.map(|verse| verse.0),
        verse_longest: letters.verse.map(|verse| verse.1),
        justified: letters.justified,
        comfortable: match letters.comfort {
            Comfort::Letters => ComfortableRecord {
                least: Some(45),
                most: 75,
                source: "Bringhurst",
            },
            Comfort::Ideographs => ComfortableRecord {
                least: None,
                most: 40,
                source: "WCAG 2",
            },
        },
    }
}

fn size(found: &CastOff, row: &SizeRow) -> SizeRecord {
    let cells = found.tried.iter().zip(&row.cells);
    SizeRecord {
        size_pt: Figure::pt(row.size),
        leading_pt: Figure::pt(row.leading),
        line_holds: row.characters.map(Figure::of),
        lines_turned_over: row.turned_over,
        fewest_panels: row.fewest,
        fewest_panels_stanzas_whole: row.fewest_whole,
        on_panels: cells
            .map(|(panels, cell)| on_panels(*panels, cell))
            .collect(),
    }
}

fn on_panels(panels: u16, cell: &Cell) -> CellRecord {
    let figures = match cell {
        Cell::Fits(figures) => Some(figures),
        _ => None,
    };
    CellRecord {
        panels_per_side: panels,
        fits: figures.is_some(),
        fullness: figures.map(|figures| Figure::of(figures.fullness)),
        lines_turned_over: figures.map(|figures| figures.turned_over),
        stanzas_divided: figures.map(|figures| figures.stanzas_divided),
        free_panels: figures.map(|figures| figures.free),
        faults: match cell {
            Cell::Wrong(faults) => report::fault_records(faults),
            _ => Vec::new(),
        },
    }
}
