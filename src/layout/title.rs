//! The plan's own words on a title panel: the title, where its part has none, and the author, where the manuscript has none.

use super::compose::ComposeInput;
use super::glyphs::RunBuilder;
use super::on_panel::lead;
use super::{LaidLine, LaidPanel};
use crate::names::{Fault, Faults, HalfLines, Length, PanelName, Role};
use crate::setting::{self, AddedLine, AreaId, Areas, Column};
use crate::text::LineKind;
use crate::typeface::Shaper;

/// A line that the program adds, and how far below the first line of its panel it begins.
pub(super) struct Added {
    line: AddedLine,
    depth: HalfLines,
    space_above: HalfLines,
}

impl Added {
    /// How far down it reaches.
    pub fn end(&self) -> HalfLines {
        self.depth + self.line.stand.height
    }
}

/// How much stands between a title and its author.
const ABOVE_AUTHOR: HalfLines = HalfLines::new(4);

/// The author in a column, below words that go down to `used`, on the book's first title panel; nothing where the manuscript
/// or the plan has none, or it is another panel. Where the author has no room that is told.
pub(super) fn author(
    ready: ComposeInput<'_>,
    panel: PanelName,
    (column, area): (&Column, AreaId),
    used: HalfLines,
    faults: &mut Faults,
) -> Option<Added> {
    let author = ready.plan.author.as_ref()?;
    let pins = ready.plan.panels.iter();
    let titles = pins.filter(|pin| pin.role == Some(Role::Title));
    let first = titles.map(|pin| pin.panel).min();
    let lines = ready.manuscript.parts().iter().flat_map(|part| &part.lines);
    let mut written = lines.filter(|line| line.kind == LineKind::Author);
    if first != Some(panel) || written.next().is_some() {
        return None;
    }
    let depth = column.boxes().below(used, ABOVE_AUTHOR);
    let words = (LineKind::Author, author.words.as_str());
    let from = column.boxes().slot(depth);
    let leading = ready.set.areas.grid_of(area).leading;
    let lines_run = ready.set.areas.lines_run(panel);
    let stands = (column, from, leading);
    let set = setting::added_line(ready.plan, ready.typeface, words, stands, lines_run);
    let added = set
        .ok()
        .flatten()
        .map(|line| placed(line, column, (depth, ABOVE_AUTHOR)));
    let room = ready.set.areas.get(area).depth();
    let fits = added.filter(|added| added.end() <= room);
    if fits.is_none() {
        let what = format!("{panel} has no room for the author below its title");
        let fault = Fault::new("author", what).at(author.place.clone());
        faults.push(fault.help("make the title smaller, or leave `author` out"));
    }
    fits
}

/// A line in its column, from so far down on or from its slot.
fn placed(line: AddedLine, column: &Column, (depth, space_above): (HalfLines, HalfLines)) -> Added {
    // On slots those above it count too.
    let depth = match column.is_plain() {
        true => depth,
        false => HalfLines::lines(line.slot),
    };
    Added {
        line,
        depth,
        space_above,
    }
}

/// Sets the plan's title on a title panel whose part has no title of its own, and the author below it. `column` is the one
/// that the part has there, if it is a part's.
pub(super) fn add_title(
    ready: ComposeInput<'_>,
    laid: &mut LaidPanel,
    column: Option<&Column>,
    faults: &mut Faults,
) {
    let areas: &Areas = &ready.set.areas;
    let Some(id) = areas.of(laid.panel, None) else {
        return;
    };
    let area = *areas.get(id);
    let column = column.cloned().unwrap_or_else(|| areas.column(id));
    if let Some(shape) = areas.shape(id) {
        laid.shape = shape.rectangles.clone();
        laid.slots = shape.slots.all().to_vec();
    }
    let words = (LineKind::Title, ready.plan.title.as_str());
    let from = (&column, 0, areas.grid_of(id).leading);
    let lines_run = areas.lines_run(laid.panel);
    let title = match setting::added_line(ready.plan, ready.typeface, words, from, lines_run) {
        Ok(Some(title)) => placed(title, &column, (HalfLines::ZERO, HalfLines::ZERO)),
        Ok(None) => return,
        Err(fault) => {
            faults.push(fault);
            return;
        }
    };
    if title.end() > area.depth() {
        faults.push(too_high(ready, laid.panel, &title, area.capacity));
        return;
    }
    let author = author(ready, laid.panel, (&column, id), title.end(), faults);
    let used = author.as_ref().map_or(title.end(), Added::end);
    laid.lead = lead(
        ready,
        column.boxes(),
        (laid.panel, Role::Title),
        (used, area.depth()),
    );
    laid.area = Some(area);
    laid.fullness = Some((used, area.depth()));
    for added in [Some(title), author].into_iter().flatten() {
        lay(ready, laid, &added, (&column, id));
    }
}

fn too_high(ready: ComposeInput<'_>, panel: PanelName, title: &Added, has: u32) -> Fault {
    let lines = title.line.stand.height.whole_lines();
    let what = format!("the title takes {lines} lines of the grid on {panel}, which has {has}");
    let fault = Fault::new("heading-size", what).help("make the title smaller or shorter");
    let size = &ready.plan.text.headings.title.places.size;
    let title = ready.plan.labels.first().map(|title| &title.place);
    match size.as_ref().or(title) {
        Some(place) => fault.at(place.clone()),
        None => fault,
    }
}

/// Lays an added line on its panel.
pub(super) fn lay(
    ready: ComposeInput<'_>,
    laid: &mut LaidPanel,
    added: &Added,
    (column, area): (&Column, AreaId),
) {
    let AddedLine {
        kind,
        line: shaped,
        stand,
        ..
    } = &added.line;
    let first = laid.lead + added.depth;
    let measure = column.line(column.boxes().slot(first)).measure;
    let shaper = Shaper::new(ready.typeface, &ready.plan.language);
    for (number, piece) in stand.pieces.iter().enumerate() {
        let baseline = ready.set.areas.baseline(area, first + piece.baseline);
        let start = piece.text.start;
        let mut builder = RunBuilder::new(&shaper, shaped, start, piece.x, baseline);
        builder.add(piece.text.clone());
        let text = shaped.text[piece.text.clone()].to_string();
        laid.lines.push(LaidLine {
            part: None,
            language: ready.plan.language.clone(),
            kind: kind.clone(),
            block: usize::from(*kind == LineKind::Author),
            row: usize::from(*kind == LineKind::Author),
            space_above: match number {
                0 => added.space_above,
                _ => HalfLines::ZERO,
            },
            added: Some(text.clone()),
            glued: false,
            lines_run: ready.set.areas.lines_run(laid.panel),
            stretch: 0..text.len(),
            text,
            x: piece.x,
            baseline,
            width: piece.width,
            measure,
            size: shaped
                .voice_at(start)
                .map_or(Length::ZERO, |voice| voice.size),
            turnover: false,
            sources: Vec::new(),
            ink: ready.plan.text.ink.clone(),
            runs: builder.finish(),
        });
    }
}
