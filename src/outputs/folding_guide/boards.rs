//! Boards: what they and their covering are cut to.

use super::Guide;
use super::cover::outside;
use super::page::{Pages, Point};
use crate::names::Length;
use crate::outputs::words::{Look, bare};
use crate::paper::{Board, Boards};

/// Tells of the boards.
pub(super) fn tell(pages: &mut Pages<'_>, guide: &Guide<'_>) {
    let paper = &guide.plan.paper;
    let strip = &guide.layout.strip;
    let boards = Boards::new(paper, guide.plan.boards);
    pages.heading("Boards");
    let all = strip.panels().count();
    let faces = strip.outside();
    let printed = faces
        .iter()
        .filter(|face| strip.sides().contains(&face.side));
    let left = match printed.count() {
        0 => String::new(),
        pasted => format!(
            ": of {all} faces {} are left for words and art",
            all - pasted
        ),
    };
    pages.paragraph(&format!(
        "The outside faces, {}, are pasted down on the boards{left}.",
        outside(guide)
    ));
    let first = ("At front 1".to_string(), boards.first);
    let last = (format!("At front {}", paper.panels.per_side), boards.last);
    let cut = match boards.first == boards.last {
        true => vec![("Two, alike".to_string(), boards.first)],
        false => vec![first, last],
    };
    for (name, board) in &cut {
        pages.led(
            &format!("{name}."),
            &format!(
                "Board {} wide and {} high; covering {} wide and {} high.",
                board.size.0, board.size.1, board.material.0, board.material.1
            ),
        );
    }
    pages.paragraph(&format!(
        "The board is {} thick and goes {} beyond the panel at head and foot and {}. The \
         covering is turned in by {} all round. Cut its corners off at 45°, {:.1} mm along each edge: one and a half times the \
         board’s thickness is then left at the board’s corner. The grain of board and covering runs from head to foot, as \
         that of the paper does. Paste down, and press under a weight until dry (common practice).",
        boards.plan.thickness,
        boards.plan.square,
        match boards.beyond_fold {
            true => "at both sides, for the strip’s ends lie at opposite edges of the closed book",
            false => "where no fold is; at the fold it is flush",
        },
        boards.plan.turn_in,
        boards.first.mitre.as_mm()
    ));
    for (name, board) in &cut {
        draw(pages, boards.plan.turn_in, board, name);
    }
}

/// A board on its covering, seen from the inside.
fn draw(pages: &mut Pages<'_>, turn_in: Length, board: &Board, name: &str) {
    let look = Look::SMALL;
    // What the dimensions take beside the covering, and above and below it.
    let (aside, around) = (Length::mm(20), Length::mm(9));
    let room = (pages.width() - aside * 2, Length::mm(60));
    let (wide, high) = board.material;
    let by_width = room.0.units() * 1000 / wide.units().max(1);
    let by_height = room.1.units() * 1000 / high.units().max(1);
    let share = by_width.min(by_height).min(1000);
    let scale = |length: Length| length.scaled(share, 1000);
    let height = scale(high) + around * 2 + Length::mm(4);
    pages.need(height);
    let left = pages.left() + (pages.width() - scale(wide)) / 2;
    let right = left + scale(wide);
    let head = pages.y() - around;
    let foot = head - scale(high);
    let within = scale(turn_in);
    let inner = [
        left + within,
        foot + within,
        scale(board.size.0),
        scale(board.size.1),
    ];
    pages.boxed(inner, Some(0.88), Some(0.0));
    let mitre = scale(board.mitre);
    let corners: [(Point, i64, i64); 4] = [
        ((left, head), 1, -1),
        ((right, head), -1, -1),
        ((left, foot), 1, 1),
        ((right, foot), -1, 1),
    ];
    for ((x, y), along, up) in corners {
        // What is cut off.
        for end in [(x + mitre * along, y), (x, y + mitre * up)] {
            pages.rule((x, y), end, 0.5, &[1.0, 1.5]);
        }
    }
    pages.outline(vec![
        (left + mitre, head),
        (right - mitre, head),
        (right, head - mitre),
        (right, foot + mitre),
        (right - mitre, foot),
        (left + mitre, foot),
        (left, foot + mitre),
        (left, head - mitre),
    ]);
    let off = Length::mm(4);
    pages.across(left, right, head + off, &bare(wide), look);
    let (from, to) = (inner[0], inner[0] + inner[2]);
    let below = foot - Length::mm(6);
    pages.across(from, to, below, &bare(board.size.0), look);
    pages.upright((left - off, foot), head, &bare(high), true, look);
    let (from, to) = (inner[1], inner[1] + inner[3]);
    let side = (right + off, from);
    pages.upright(side, to, &bare(board.size.1), false, look);
    let middle = ((left + right) / 2, (head + foot) / 2);
    let inside = inner[2] - Length::mm(2);
    for (words, y) in [
        (name.to_string(), middle.1),
        (
            format!("turned in: {}", bare(turn_in)),
            head - within / 2 - look.size() / 3,
        ),
    ] {
        if let Some(look) = pages.setter.smaller(&words, inside, look, 60) {
            pages.centred(&words, (middle.0, y), look);
        }
    }
    pages.down(height);
}
