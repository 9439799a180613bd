//! Setting a part: its columns, and its rows in each of them, one after the other.

use std::collections::BTreeSet;
use std::ops::Range;
use std::sync::Arc;

use rayon::prelude::*;

use super::agree::PartPair;
use super::alike::WholePart;
use super::areas::{AreaId, Areas};
use super::paragraph::{Divider, Paragraph};
use super::remembered::{Memory, Remembered, RowNumber};
use super::shaped::ShapedLine;
use super::usual::{Usual, deepest_of_stanza, usual_deepest};
use super::{Column, Row, RowNote, SetPart, broken, mirror, missing, solid, titling, usual};
use crate::names::{Direction, Fault, Faults, HalfLines, Length, Location};
use crate::plan::{Align, HeadingAlign, Opening, PartPlan, Plan, TextStyle};
use crate::text::{LineKind, Manuscript, Part, RoomRequest};
use crate::typeface::{Base, Emphasis, FontLibrary, Shaper, Typeface};

/// What a part is set from.
pub(super) struct Given<'a> {
    pub manuscript: &'a Manuscript,
    pub plan: &'a Plan,
    pub areas: &'a Areas,
    pub fonts: &'a FontLibrary,
}

/// Sets every line of a part in every column that its panels have.
pub(super) fn set_part(
    given: &Given<'_>,
    pair: &PartPair,
    typeface: Typeface,
    remembered: &mut Remembered,
) -> Result<SetPart, Faults> {
    let part = &given.manuscript.parts()[pair.manuscript];
    let plan = &given.plan.parts[pair.plan];
    let shaper = Shaper::new(&typeface, &plan.language);
    let right_to_left = plan.reads.is_right_to_left();
    let mirrored = right_to_left.then(|| given.areas.mirrored());
    let setter = Setter {
        manuscript: given.manuscript,
        part,
        style: &mirror::style_seen(&plan.text, plan.reads),
        language: &plan.language,
        reads: plan.reads,
        base: base(plan),
        shaper: &shaper,
        areas: mirrored.as_ref().unwrap_or(given.areas),
        own_areas: given.areas.on(&plan.on),
    };
    let index = pair.manuscript;
    let set = match as_before(&setter, (plan, index), remembered) {
        Some((whole, column_of_area)) => {
            remembered.reused(&part.name);
            let mut faults = Faults::from_iter(setter.far_too_much(&whole.rows, plan));
            faults.extend(setter.without_room(&whole.rows, &whole.columns, plan));
            match faults.is_empty() {
                true => Ok((whole, column_of_area)),
                false => Err(faults),
            }
        }
        None => {
            let mirrored = mirrored.as_ref();
            set_anew(given, pair, (&setter, &typeface, mirrored), remembered)
        }
    };
    drop(shaper);
    let (whole, column_of_area) = set?;
    Ok(SetPart {
        name: part.name.clone(),
        plan_index: pair.plan,
        manuscript_index: index,
        typeface,
        rows: whole.rows,
        columns: whole.columns,
        column_of_area,
        places: whole.places,
        notes: whole.notes,
    })
}

/// Sets a part that is not as it was the last time, and tells which of its columns each area is.
fn set_anew(
    given: &Given<'_>,
    pair: &PartPair,
    (setter, typeface, mirrored): (&Setter<'_>, &Typeface, Option<&Areas>),
    remembered: &mut Remembered,
) -> Result<(WholePart, Vec<Option<usize>>), Faults> {
    let (part, plan) = (setter.part, &given.plan.parts[pair.plan]);
    let mut rows = setter.rows();
    setter.align_halves(&mut rows);
    let mut faults = setter.opening_faults(plan);
    faults.extend(setter.beyond_limits(&rows, plan));
    faults.extend(setter.parted_headings(&rows));
    faults.extend(solid::script_faults(given.manuscript, &rows));
    if !faults.is_empty() {
        return Err(faults);
    }
    let search = missing::Search {
        style: &plan.text,
        typeface,
        fonts: given.fonts,
    };
    let mut memory = remembered.part(&part.name, setter);
    let numbers = setter.numbers(&rows, &search, &mut memory)?;
    let (mut columns, column_of_area) = setter.columns(plan, &rows);
    setter.set_rows(&mut rows, &columns, (&numbers, &mut memory));
    let faults = setter.without_room(&rows, &columns, plan);
    if !faults.is_empty() {
        return Err(faults);
    }
    let mut notes = setter.notes(&rows, columns.len());
    notes.extend(setter.opening_notes(&rows, columns.len()));
    notes.extend(setter.capitals_notes(&rows, columns.len()));
    notes.extend(setter.emphasis_notes(&rows, columns.len()));
    if let Some(mirrored) = mirrored {
        mirror::turn_back(mirrored, &mut rows, &mut columns);
    }
    notes.extend(own_notes(given, pair, (&rows, &columns), setter.shaper));
    let whole = WholePart::of((setter, pair.manuscript), columns, rows, notes);
    // What is turned back is not what its setter would know again.
    let known = mirrored.is_none().then(|| whole.clone());
    remembered.keep(&part.name, memory, known);
    Ok((whole, column_of_area))
}

/// The part of that number as it was set the last time, if it would be set alike in all, and which of its columns each area
/// is now.
fn as_before(
    setter: &Setter<'_>,
    (plan, index): (&PartPlan, usize),
    remembered: &Remembered,
) -> Option<(WholePart, Vec<Option<usize>>)> {
    let whole = remembered.whole(&setter.part.name, setter, index)?;
    let (columns, column_of_area) = setter.columns(plan, &whole.rows);
    (columns == whole.columns).then_some((whole, column_of_area))
}

/// What is told of a part's lines: words that are broken, readings without enough room, and signs without a form for lines
/// that run down.
fn own_notes(
    given: &Given<'_>,
    pair: &PartPair,
    (rows, columns): (&[Row], &[Column]),
    shaper: &Shaper<'_>,
) -> Vec<RowNote> {
    let manuscript = given.manuscript;
    let part = &manuscript.parts()[pair.manuscript];
    let leading = given.plan.parts[pair.plan].text.leading;
    let mut notes = broken::notes(manuscript, part, rows, columns);
    notes.extend(solid::notes(manuscript, rows, columns.len(), leading));
    notes.extend(solid::notes_down(manuscript, rows, columns.len(), shaper));
    notes
}

/// Where the base direction of a part's lines comes from.
fn base(plan: &PartPlan) -> Base {
    match plan.reads_said {
        true => Base::Given(plan.reads),
        false => Base::FirstStrong {
            otherwise: plan.reads,
        },
    }
}

/// Sets one part. What is left and right here is as in a mirror where the part reads from right to left.
pub(super) struct Setter<'a> {
    pub manuscript: &'a Manuscript,
    pub part: &'a Part,
    pub style: &'a TextStyle,
    pub language: &'a str,
    /// Which way the part reads.
    pub reads: Direction,
    /// Where the base direction of its lines comes from.
    pub base: Base,
    pub shaper: &'a Shaper<'a>,
    pub areas: &'a Areas,
    /// Which of these are on the part's panels.
    pub own_areas: BTreeSet<AreaId>,
}

impl Setter<'_> {
    /// What is told of rows that cannot be set as they were asked for.
    fn notes(&self, rows: &[Row], columns: usize) -> Vec<RowNote> {
        let mut notes = self.heading_notes(rows, columns);
        notes.extend(self.notes_of_halves(rows, columns));
        notes
    }

    /// Where the manuscript has the first words of a stretch of a line.
    pub(super) fn place_in(&self, line: &ShapedLine, stretch: Range<usize>) -> Option<Location> {
        let sources = line.sources(stretch);
        let first = sources.first().map(|first| first.0..first.1);
        first.map(|bytes| self.manuscript.place(bytes))
    }

    /// Small capitals are never faked.
    fn opening_faults(&self, plan: &PartPlan) -> Faults {
        let lacks = !self.shaper.face(Emphasis::Plain).has_feature(b"smcp");
        if self.style.opening != Opening::SmallCaps || !lacks {
            return Faults::new();
        }
        let fault = Fault::new(
            "opening",
            "`opening = \"small-caps\"` asks for small capitals, which this typeface does not have",
        )
        .allowed("\"none\", { drop = 2 }, or a typeface with the OpenType feature smcp");
        let place = self
            .style
            .typeface
            .place
            .clone()
            .or_else(|| plan.place.clone());
        Faults::from(match place {
            Some(place) => fault.at(place),
            None => fault,
        })
    }

    /// Headings that no panel of the part has room for at the size that the plan asks for.
    fn without_room(&self, rows: &[Row], columns: &[Column], plan: &PartPlan) -> Faults {
        let settings = columns.iter().flat_map(Column::settings);
        let widest = settings.map(|setting| setting.measure).max();
        let areas = plan
            .on
            .iter()
            .filter_map(|panel| self.areas.of(*panel, None));
        let most = areas.map(|id| self.areas.get(id).capacity).max();
        match widest.zip(most) {
            Some((widest, most)) => self.headings_without_room(rows, widest, most),
            None => Faults::new(),
        }
    }

    /// The number of each row. Characters that no face has are looked for in the rows that were not set before: of
    /// the others, none was missing.
    fn numbers(
        &self,
        rows: &[Row],
        search: &missing::Search<'_>,
        memory: &mut Memory,
    ) -> Result<Vec<RowNumber>, Faults> {
        let numbers: Vec<RowNumber> = rows.iter().map(|row| memory.number_of(row)).collect();
        let numbered = || rows.iter().zip(&numbers);
        let new: Vec<&Row> = numbered()
            .filter(|(row, number)| !memory.recall(**number, row))
            .map(|(row, _)| row)
            .collect();
        // Each row shapes its words once; the two or more that are shaped at a time share what they know.
        new.par_iter().for_each(|row| row.shaped.shape(self.shaper));
        let mut faults = Faults::new();
        faults.extend(search.faults(&new, (self.manuscript, &self.part.lines), self.shaper));
        numbered().for_each(|(row, number)| memory.keep(*number, row));
        match faults.is_empty() {
            true => Ok(numbers),
            false => Err(faults),
        }
    }

    /// Sets rows in every column, one after the other.
    fn set_rows(
        &self,
        rows: &mut [Row],
        columns: &[Column],
        (numbers, memory): (&[RowNumber], &mut Memory),
    ) {
        self.measure_paragraphs(rows, columns, (numbers, memory));
        let usual = self.usual(rows);
        for column in columns {
            let set = self.fill_column(rows, column, &usual, (numbers, memory));
            for (row, at) in rows.iter_mut().zip(set) {
                row.at.push(at);
            }
        }
        super::drop::join(rows);
    }

    /// Measures every paragraph.
    fn measure_paragraphs(
        &self,
        rows: &mut [Row],
        columns: &[Column],
        (numbers, memory): (&[RowNumber], &mut Memory),
    ) {
        let settings = columns.iter().flat_map(Column::settings);
        let narrowest = settings.map(|setting| setting.measure).min();
        let narrowest = narrowest.unwrap_or(Length::ZERO);
        let room = |row: &Row| {
            let initial = row.shaped.drop.as_ref().map(|drop| drop.width);
            let stands_in = row.indent * 2 + row.first_indent + initial.unwrap_or_default();
            (narrowest - stands_in).max(self.style.size)
        };
        let paragraphs = rows.iter_mut().zip(numbers);
        let paragraphs = paragraphs.filter(|(row, _)| row.kind.is_prose());
        let paragraphs: Vec<(&mut Row, &RowNumber)> = paragraphs.collect();
        let divider = Divider::new(self.style, self.language);
        let of_row = |(row, number): &(&mut Row, &RowNumber)| {
            let room = room(row);
            let known = memory.measured(**number, room);
            let measure = || Arc::new(self.measure_paragraph(&row.shaped, &divider, room));
            (room, known.unwrap_or_else(measure))
        };
        let measured: Vec<(Length, Arc<Paragraph>)> = paragraphs.par_iter().map(of_row).collect();
        for ((row, number), (room, paragraph)) in paragraphs.into_iter().zip(measured) {
            memory.keep_measured(*number, room, &paragraph);
            row.paragraph = Some(paragraph);
        }
    }

    /// The width that the part is centred by, where its alignment asks for one.
    pub(super) fn longest(&self, rows: &[Row]) -> Option<Length> {
        let find = match self.style.align {
            Align::LongestLine => usual::longest,
            Align::UsualLongest => usual::usual_longest,
            _ => return None,
        };
        let widths = ordinary_verse(rows).map(|row| row.indent + self.natural_width(row));
        let widths: Vec<Length> = widths.collect();
        // A part without verse is as wide as its measure.
        (!widths.is_empty()).then(|| find(&widths))
    }

    /// The width of a whole row on one line, what hangs left aside.
    fn natural_width(&self, row: &Row) -> Length {
        let text = &row.shaped.text;
        let all = row.shaped.start()..row.shaped.trimmed_end(text.len());
        let drop = row
            .shaped
            .drop
            .as_ref()
            .map_or(Length::ZERO, |drop| drop.width);
        drop + row.shaped.width(self.shaper, all.clone())
            - self.hanging(row, &all, Length::mm(1000)).0
    }

    /// How deep the indents are that the turned-over pieces of each row clear: those of its own stanza, and those that are
    /// usual in the part.
    pub(super) fn depths_to_clear(&self, rows: &[Row]) -> Vec<Length> {
        let usual = usual_deepest(ordinary_verse(rows).map(|row| row.indent));
        let stanzas = rows.chunk_by(|one, next| one.block == next.block);
        let depths = stanzas.flat_map(|stanza| {
            let own = deepest_of_stanza(ordinary_verse(stanza).map(|row| row.indent));
            let depth = own.max(usual);
            stanza.iter().map(move |_| depth)
        });
        depths.collect()
    }

    /// How wide the part's lines usually run: what ornaments, attributions and some headings stand by.
    fn usual(&self, rows: &[Row]) -> Usual {
        let follows_left = matches!(
            self.style.align,
            Align::Left | Align::LongestLine | Align::UsualLongest
        );
        let stands_by = |row: &Row| match row.kind {
            LineKind::Ornament | LineKind::Attribution => true,
            _ if row.kind.is_titling() => {
                let align = titling::align(&row.kind, &row.shaped.text, self.style);
                align == HeadingAlign::LongestLine
            }
            _ => false,
        };
        if !follows_left || !rows.iter().any(stands_by) {
            return Usual::default();
        }
        let widths = ordinary_verse(rows).map(|row| row.indent + self.natural_width(row));
        Usual::of(widths.collect())
    }

    /// How much room that is left empty takes: whole lines.
    pub(super) fn room(&self, asked: &RoomRequest) -> HalfLines {
        let leading = self.style.leading;
        HalfLines::lines_covering(asked.resolve(self.style.size, leading), leading)
    }
}

/// The lines of verse that others are measured by: neither those of epigraphs, which stand in as a whole, nor those that
/// step.
fn ordinary_verse(rows: &[Row]) -> impl Iterator<Item = &Row> {
    let ordinary = |row: &&Row| row.kind == LineKind::Verse && !row.stepped;
    rows.iter().filter(ordinary)
}
