//! Setting a part: its settings, and its rows at each of them, one after the other.

use super::areas::{Areas, Shape};
use super::here::{Known, LineContext, Others};
use super::on_slots::RowsOnSlots;
use super::paragraph::Divider;
use super::remembered::{Known as KnownRow, Memory, Remembered};
use super::usual::Usual;
use super::{Row, RowAt, Setting, mirror, missing, usual};
use crate::names::Direction;
use crate::names::Length;
use crate::names::{Fault, Faults};
use crate::plan::{Align, Opening, PartPlan, TextStyle};
use crate::text::{LineKind, Manuscript, Part, RoomRequest};
use crate::typeface::{Base, Emphasis, FontLibrary, Shaper, Typeface};
use std::sync::Arc;

/// Half lines of the grid in a line.
pub(super) const LINE: u32 = 2;

/// A part, set; see [`super::SetPart`].
pub(super) struct PartSet {
    pub typeface: Typeface,
    pub rows: Vec<Row>,
    pub settings: Vec<Setting>,
    pub shaped: Vec<RowsOnSlots>,
    pub setting_of_area: Vec<Option<usize>>,
}

/// What a part is set from.
pub(super) struct Given<'a> {
    pub manuscript: &'a Manuscript,
    pub part: &'a Part,
    pub plan: &'a PartPlan,
    pub areas: &'a Areas,
    pub shelf: &'a FontLibrary,
}

/// Sets every line of a part at every setting that its panels use.
pub(super) fn set_part(
    given: &Given<'_>,
    typeface: Typeface,
    remembered: &mut Remembered,
) -> Result<PartSet, Faults> {
    let &Given {
        manuscript,
        part,
        plan,
        areas,
        shelf,
    } = given;
    let shaper = Shaper::new(&typeface, &plan.language);
    let mirrored = plan.reads.is_right_to_left().then(|| areas.mirrored());
    let setter = Setter {
        manuscript,
        part,
        style: &mirror::style_seen(&plan.text, plan.reads),
        language: &plan.language,
        reads: plan.reads,
        base: base(plan),
        shaper: &shaper,
        areas: mirrored.as_ref().unwrap_or(areas),
    };
    let mut faults = setter.opening_faults(plan);
    let mut rows = setter.rows();
    faults.extend(setter.beyond_limits(&rows, plan));
    if !faults.is_empty() {
        return Err(faults);
    }
    let search = missing::Search {
        style: &plan.text,
        typeface: &typeface,
        shelf,
    };
    let mut memory = remembered.part(&part.name, &setter);
    let known: Vec<KnownRow> = rows.iter().map(|row| memory.known(row)).collect();
    let with_known = || rows.iter().zip(&known);
    // Of words that were set before, no face was missing.
    let new: Vec<&Row> = with_known()
        .filter(|(row, known)| !memory.recall(**known, row))
        .map(|(row, _)| row)
        .collect();
    faults.extend(search.faults(&new, (manuscript, &part.lines), &shaper));
    with_known().for_each(|(row, known)| memory.keep(*known, row));
    if !faults.is_empty() {
        return Err(faults);
    }
    let (mut settings, shapes, setting_of_area) = setter.settings(plan, &rows);
    setter.measure_paragraphs(&mut rows, (&settings, &shapes), (&known, &mut memory));
    let usual = setter.usual(&rows);
    for setting in &settings {
        let set = setter.set_rows(&rows, setting, &usual, (&known, &mut memory));
        for (row, at) in rows.iter_mut().zip(set) {
            row.at.push(at);
        }
    }
    let mut shaped: Vec<RowsOnSlots> = shapes
        .iter()
        .map(|shape| setter.set_on_slots(&rows, &shape.slots, &usual))
        .collect();
    setter.join_drop(&mut rows, &shaped);
    if let Some(mirrored) = &mirrored {
        mirror::turn_back(mirrored, &mut rows, &mut settings);
        shaped.iter_mut().for_each(|rows| rows.turn_back(mirrored));
    }
    drop(shaper);
    remembered.keep(&part.name, memory);
    Ok(PartSet {
        typeface,
        rows,
        settings,
        shaped,
        setting_of_area,
    })
}

/// Where the base direction of a part's lines comes from.
fn base(plan: &PartPlan) -> Base {
    match plan.reads_said {
        true => Base::Given(plan.reads),
        false => Base::Found {
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
}

impl Setter<'_> {
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

    /// Measures every paragraph.
    fn measure_paragraphs(
        &self,
        rows: &mut [Row],
        (settings, shapes): (&[Setting], &[Arc<Shape>]),
        (known, memory): (&[KnownRow], &mut Memory),
    ) {
        let mut divider = Divider::new(self.style, self.language);
        let slots = shapes.iter().flat_map(|shape| shape.slots.all());
        let measures = settings.iter().map(|setting| setting.measure);
        let narrowest = measures.chain(slots.map(|slot| slot.measure)).min();
        let narrowest = narrowest.unwrap_or(Length::ZERO);
        let paragraphs = rows.iter_mut().zip(known);
        for (row, known) in paragraphs.filter(|(row, _)| row.kind.is_prose()) {
            let initial = row.shaped.drop.as_ref().map(|drop| drop.width);
            let stands_in = row.indent * 2 + row.first_indent + initial.unwrap_or_default();
            let room = (narrowest - stands_in).max(self.style.size);
            let measure = || self.measure_paragraph(&row.shaped, &mut divider, room);
            row.paragraph = Some(memory.paragraph(*known, room, measure));
        }
    }

    /// The width that the part is centred by, where its alignment asks for one.
    pub(super) fn longest(&self, rows: &[Row]) -> Option<Length> {
        let find = match self.style.align {
            Align::LongestLine => usual::longest,
            Align::UsualLongest => usual::usual_longest,
            _ => return None,
        };
        let verse = rows
            .iter()
            .filter(|row| row.kind.is_verse() && !row.stepped);
        let widths: Vec<Length> = verse
            .map(|row| row.indent + self.natural_width(row))
            .collect();
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

    fn set_rows(
        &self,
        rows: &[Row],
        setting: &Setting,
        usual: &Usual,
        (known, memory): (&[KnownRow], &mut Memory),
    ) -> Vec<RowAt> {
        let mut set: Vec<RowAt> = Vec::with_capacity(rows.len());
        let deepest = self.deepest_indent(rows);
        let mut run_end = setting.left;
        // Grid lines that the large initial still stands over, and how far it pushes them in.
        let mut dropped = (0u32, Length::ZERO);
        for (row, known) in rows.iter().zip(known) {
            if row.kind == LineKind::Caption {
                // It may stand on another panel: the initial ends above it.
                if let Some(above) = set.last_mut() {
                    above.height += dropped.0;
                }
                dropped.0 = 0;
            }
            match &row.shaped.drop {
                Some(drop) => dropped = (drop.lines * LINE, drop.width),
                None => dropped.0 = dropped.0.saturating_sub(row.space_above),
            }
            let here = LineContext {
                setting,
                slots: None,
                known: &Known::default(),
                others: Others::new(deepest, usual),
                run_end,
                drop: if dropped.0 > 0 {
                    dropped.1
                } else {
                    Length::ZERO
                },
                drop_lines: dropped.0 / LINE,
            };
            let at = memory.row_at((*known, row), &here, || self.set_row(row, &here));
            if let (true, Some(last)) = (row.kind.is_verse(), at.pieces.last()) {
                run_end = last.x + last.width;
            }
            dropped.0 = dropped.0.saturating_sub(at.height);
            set.push(at);
        }
        set
    }

    pub(super) fn deepest_indent(&self, rows: &[Row]) -> Length {
        let verse = rows
            .iter()
            .filter(|row| row.kind.is_verse() && !row.stepped);
        verse.map(|row| row.indent).fold(Length::ZERO, Length::max)
    }

    /// How wide the part's lines usually run: what ornaments and attributions stand by.
    fn usual(&self, rows: &[Row]) -> Usual {
        let follows_left = matches!(
            self.style.align,
            Align::Left | Align::LongestLine | Align::UsualLongest
        );
        let stands_by = |row: &Row| matches!(row.kind, LineKind::Ornament | LineKind::Attribution);
        if !follows_left || !rows.iter().any(stands_by) {
            return Usual::default();
        }
        let verse = rows
            .iter()
            .filter(|row| row.kind.is_verse() && !row.stepped);
        Usual::of(
            verse
                .map(|row| row.indent + self.natural_width(row))
                .collect(),
        )
    }

    /// How many lines room takes that is left empty.
    pub(super) fn room_lines(&self, asked: &RoomRequest) -> u32 {
        let leading = self.areas.leading();
        let room = asked.resolve(self.style.size, leading).units();
        let lines = (room + leading.units() - 1) / leading.units();
        u32::try_from(lines)
            .unwrap_or(u32::MAX / 4)
            .min(u32::MAX / 4)
    }

    pub(super) fn set_row(&self, row: &Row, here: &LineContext<'_>) -> RowAt {
        match &row.kind {
            LineKind::Room(asked) => RowAt {
                height: self.room_lines(asked) * LINE,
                ..RowAt::default()
            },
            LineKind::Title | LineKind::Heading => self.set_heading(row, here),
            LineKind::Ornament => self.set_centred(row, here),
            LineKind::Attribution => self.set_attribution(row, here),
            LineKind::Caption => self.set_caption(row, here),
            LineKind::Verse | LineKind::Epigraph => self.set_verse(row, here),
            LineKind::Prose | LineKind::ProseEpigraph => self.set_paragraph(row, here),
        }
    }
}
