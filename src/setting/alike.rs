//! A part as it was set the last time, handed out again where it would be set alike in all: with other rules, or on
//! another number of panels, its lines are the same.

use std::sync::Arc;

use super::part::Setter;
use super::{Column, Row, RowNote, RowPlace};
use crate::names::{Length, Source};
use crate::text::Part;

/// What a part's lines came to, and what they were set from besides the part's style.
#[derive(Clone)]
pub(super) struct WholePart {
    from: SetFrom,
    /// Its columns, as its setter knows them.
    pub columns: Vec<Column>,
    pub rows: Arc<Vec<Row>>,
    pub places: Arc<Vec<RowPlace>>,
    pub notes: Vec<RowNote>,
}

/// What lines are set from besides their style and their columns. What is read is compared by where it lies: it is kept
/// here, so that nothing else can come to lie there.
#[derive(Clone)]
struct SetFrom {
    source: Arc<Source>,
    parts: Arc<[Part]>,
    /// Which of these it is.
    index: usize,
    /// How wide the narrowest and the widest of its areas are.
    widths: Option<(Length, Length)>,
}

impl SetFrom {
    fn of(setter: &Setter<'_>, index: usize) -> SetFrom {
        let areas = setter.own_areas.iter();
        let widths = areas.map(|id| setter.areas.get(*id).width);
        SetFrom {
            source: Arc::clone(setter.manuscript.source()),
            parts: Arc::clone(setter.manuscript.shared_parts()),
            index,
            widths: widths.clone().min().zip(widths.max()),
        }
    }

    fn is(&self, other: &SetFrom) -> bool {
        Arc::ptr_eq(&self.source, &other.source)
            && Arc::ptr_eq(&self.parts, &other.parts)
            && (self.index, self.widths) == (other.index, other.widths)
    }
}

impl WholePart {
    /// What a setter has made of the part of that number.
    pub fn of(
        (setter, index): (&Setter<'_>, usize),
        columns: Vec<Column>,
        rows: Vec<Row>,
        notes: Vec<RowNote>,
    ) -> WholePart {
        WholePart {
            from: SetFrom::of(setter, index),
            columns,
            places: Arc::new(RowPlace::all(&rows)),
            rows: Arc::new(rows),
            notes,
        }
    }

    /// Whether a setter of the same style would make the same of the part of that number, if its columns are the same.
    pub fn is_of(&self, setter: &Setter<'_>, index: usize) -> bool {
        self.from.is(&SetFrom::of(setter, index))
    }
}
