//! Motifs that cross from panel to panel: which edges meet, and at which heights.

use super::Guide;
use super::page::Pages;
use super::rows::{StripRow, WHOLE};
use crate::names::{Crossover, Length, PanelName};
use crate::outputs::words::{Look, letter};
use crate::paper::Strip;

/// How thick the mark along an edge is, how far it lies from the edge, and how far its ticks reach.
const THICK: Length = Length::from_units(Length::mm(7).units() / 10);
const TICK: Length = Length::mm(2);

/// Whether a panel meets another at its right edge, both edges seen from the panel's own side.
fn at_right(strip: &Strip, panel: PanelName, other: PanelName) -> bool {
    match panel.side == other.side {
        true => strip.left_of(other) > strip.left_of(panel),
        // It goes around an end of the strip.
        false => strip.left_of(panel) > Length::ZERO,
    }
}

/// A mark beside an edge of a drawn panel.
pub(super) struct Mark {
    /// Where the edge lies on the page.
    edge: Length,
    /// Whether the panel lies at the left of it.
    at_right: bool,
    top: Length,
    foot: Length,
    letter: String,
}

impl Mark {
    pub fn draw(&self, pages: &mut Pages<'_>) {
        let off = Length::mm(1) / 2;
        let left = match self.at_right {
            true => self.edge - off - THICK,
            false => self.edge + off,
        };
        let at = [left, self.foot, THICK, self.top - self.foot];
        pages.boxed(at, Some(0.0), None);
        let inner = if self.at_right {
            self.edge - TICK
        } else {
            self.edge + TICK
        };
        for y in [self.top, self.foot] {
            pages.rule((self.edge, y), (inner, y), 0.0, &[]);
        }
        let look = Look::SMALL_BOLD;
        let y = (self.top + self.foot) / 2 - look.size() / 3;
        // The panel's words may stand there.
        let wide = look.size() * self.letter.len() as i64 * 3 / 4 + off * 2;
        let white = match self.at_right {
            true => left - wide,
            false => left + THICK,
        };
        pages.boxed([white, y - off, wide, look.size()], Some(1.0), None);
        match self.at_right {
            true => pages.ending(&self.letter, (left - off, y), look),
            false => {
                pages.words(&self.letter, (left + THICK + off, y), look);
            }
        }
    }
}

/// The marks of a row whose panels have their heads at a height of the page; `x` tells where a distance along the side
/// lies there.
pub(super) fn marks(
    guide: &Guide<'_>,
    row: &StripRow,
    x: &dyn Fn(Length) -> Length,
    head: Length,
    scale: i64,
) -> Vec<Mark> {
    let strip = &guide.layout.strip;
    let mut marks = Vec::new();
    for (at, crossover) in guide.facts.crossovers.iter().enumerate() {
        let ends = [
            (crossover.from, crossover.to),
            (crossover.to, crossover.from),
        ];
        for (panel, other) in ends {
            if !row.panels.contains(&panel) {
                continue;
            }
            let at_right = at_right(strip, panel, other);
            let left = strip.left_of(panel);
            let edge = if at_right {
                left + strip.width_of(panel)
            } else {
                left
            };
            let (top, foot) = strip.heights_on(crossover, panel);
            marks.push(Mark {
                edge: x(edge),
                at_right,
                top: head - top.scaled(scale, WHOLE),
                foot: head - foot.scaled(scale, WHOLE),
                letter: letter(at),
            });
        }
    }
    marks
}

/// Tells of each.
pub(super) fn tell(pages: &mut Pages<'_>, guide: &Guide<'_>) {
    let crossovers = guide.facts.crossovers;
    if crossovers.is_empty() {
        return;
    }
    pages.heading("Motifs that cross");
    pages.paragraph(
        "Lay the two pieces of art edge to edge before you score: a step of half a millimetre shows. The letters are those \
         of the drawing.",
    );
    for (at, crossover) in crossovers.iter().enumerate() {
        pages.led(&letter(at), &told(guide, crossover));
    }
}

fn told(guide: &Guide<'_>, crossover: &Crossover) -> String {
    let strip = &guide.layout.strip;
    let (from, to) = (crossover.from, crossover.to);
    let named = |panel: PanelName| {
        let panels = guide.layout.panels.iter();
        let found = panels.filter(|laid| laid.panel == panel);
        let picture = found.filter_map(|laid| laid.picture.as_ref()).next();
        let Some(picture) = picture else {
            return panel.to_string();
        };
        let mut scans = guide.facts.scans.iter();
        match scans.find(|(name, _)| name == picture) {
            Some((_, file)) => format!("{panel} ({picture}: {file})"),
            None => format!("{panel} ({picture})"),
        }
    };
    let edge = |panel, other| match at_right(strip, panel, other) {
        true => "right",
        false => "left",
    };
    let span = |panel| {
        let (top, foot) = strip.heights_on(crossover, panel);
        format!("from {} to {foot}", top.without_unit())
    };
    let mut told = format!(
        "the {} edge of {} meets the {} edge of {}, {} below the head",
        edge(from, to),
        named(from),
        edge(to, from),
        named(to),
        span(from)
    );
    if from.side != to.side {
        if span(from) != span(to) {
            told += &format!(" of {from}, which is {} below the head of {to}", span(to));
        }
        told += ". It goes around the end of the strip, so the trimmed edge shows the colour of the paper";
    }
    let along = strip.meeting(from, to);
    let joins = guide.sheets.joins.iter();
    let join = joins
        .enumerate()
        .find(|(_, join)| Some(join.along) == along);
    if let Some((at, _)) = join {
        told += &format!(
            ". Two sheets meet there, at join {}: paste it by the motif",
            at + 1
        );
    }
    told + "."
}
