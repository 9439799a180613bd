//! The strip drawn from each of its printed sides, to scale, in rows.

use super::Guide;
use super::legend::{self, Key};
use super::page::Pages;
use super::row_drawn::{NUMBERS, Pen, SHEETS};
use super::rows::{Room, Rows, WHOLE};
use crate::names::{JoinKind, Length, Side, Turned};
use crate::outputs::words::Look;
use crate::typeface::Emphasis;

/// What stands below a row: brackets, roles, what lies behind.
const BELOW: Length = Length::mm(12);
const GAP: Length = Length::mm(3);
/// What a side's own heading takes.
const HEADING: Length = Length::mm(6);

/// Draws both sides and the legend.
pub(super) fn draw<'a>(pages: &mut Pages<'a>, guide: &Guide<'a>) {
    let strip = &guide.layout.strip;
    pages.paragraph(&facts(guide));
    pages.down(Length::mm(2));
    let sheets = if guide.sheets.joins.is_empty() {
        Length::ZERO
    } else {
        SHEETS
    };
    let around = sheets + NUMBERS + BELOW + GAP;
    let keys = keys(guide);
    let room = Room {
        wide: pages.width(),
        high: pages.room() - legend::high(pages, &keys) - HEADING * strip.sides().len() as i64,
        around,
    };
    let rows = Rows::new(strip, &room);
    let high = strip.paper().panel_height.scaled(rows.scale, WHOLE);
    let mut side = None;
    for row in &rows.rows {
        let begins = side != Some(row.side);
        side = Some(row.side);
        pages.need(around + high + if begins { HEADING } else { Length::ZERO });
        if begins {
            side_heading(pages, guide, row.side);
        }
        pages.down(sheets + NUMBERS);
        let mut pen = Pen {
            pages,
            guide,
            row,
            scale: rows.scale,
            head: Length::ZERO,
            high,
        };
        pen.head = pen.pages.y();
        pen.draw();
        pages.down(high + BELOW + GAP);
    }
    legend::draw(pages, &keys, rows.scale);
}

fn side_heading(pages: &mut Pages<'_>, guide: &Guide<'_>, side: Side) {
    let look = Look::of(120, Emphasis::Bold, 0);
    let words = match side {
        Side::Front => "The front",
        Side::Back => "The back",
    };
    let at = (pages.left(), pages.y() - Length::mm(4));
    let wide = pages.words(words, at, look);
    let how = match (side, guide.layout.strip.paper().turned) {
        (Side::Front, _) => "",
        (Side::Back, Turned::HeadToHead) => "as seen when the strip is turned over sideways",
        (Side::Back, Turned::HeadToFoot) => {
            "as seen when the strip is turned over the top, head to foot"
        }
    };
    pages.words(how, (at.0 + wide + Length::mm(4), at.1), Look::SMALL);
    pages.down(HEADING);
}

/// What the legend must explain.
fn keys(guide: &Guide<'_>) -> Vec<Key> {
    let strip = &guide.layout.strip;
    let mut keys = vec![Key::Valley, Key::Mountain];
    let sides = strip.sides().iter();
    if sides.flat_map(|&side| strip.spreads(side)).next().is_some() {
        keys.push(Key::Spread);
    }
    if strip
        .outside()
        .iter()
        .any(|panel| strip.sides().contains(&panel.side))
    {
        keys.push(Key::Outside);
    }
    if let Some(join) = guide.sheets.joins.first() {
        keys.push(Key::Edge);
        keys.push(match join.kind {
            JoinKind::Hinge => Key::Tissue,
            _ => Key::Tab,
        });
    }
    if !guide.facts.crossovers.is_empty() {
        keys.push(Key::Crossover);
    }
    keys
}

/// What the page says above the strip.
pub(super) fn facts(guide: &Guide<'_>) -> String {
    let strip = &guide.layout.strip;
    let paper = strip.paper();
    let ends = paper.ends;
    let mut facts = format!(
        "{} panels of {} × {}",
        paper.panels.per_side,
        paper.panel_width.without_unit(),
        paper.panel_height
    );
    if ends.first != paper.panel_width || ends.last != paper.panel_width {
        facts += &format!(
            " (front 1: {}; front {}: {} wide)",
            ends.first, paper.panels.per_side, ends.last
        );
    }
    facts += match strip.sides().len() {
        2 => " on each of two sides",
        _ => " on one side; the back is not printed",
    };
    let length = strip.length().without_unit();
    facts += &format!(". The whole strip is {length} × {}", paper.panel_height);
    facts += &match guide.sheets.sheets.len() {
        1 => ", in one piece".to_string(),
        many => format!(", joined from {many} sheets"),
    };
    if paper.reads.is_right_to_left() {
        facts += "; it reads from right to left, front 1 at the right";
    }
    let outside: Vec<String> = strip.outside().iter().map(ToString::to_string).collect();
    facts + &format!(". Outside, when it is closed: {}.", outside.join(" and "))
}
