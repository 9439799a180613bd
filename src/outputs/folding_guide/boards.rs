//! Boards: what they and their covering are cut to.

use super::Guide;
use super::cover::outside;
use super::page::{Pages, Point};
use crate::names::Length;
use crate::outputs::words::Look;
use crate::paper::{Board, Boards};

/// Tells of the boards.
pub(super) fn tell(pages: &mut Pages<'_>, guide: &Guide<'_>, boards: &Boards) {
    let paper = guide.layout.strip.paper();
    let strip = &guide.layout.strip;
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

/// A board on its covering, seen from the inside, at most at full size.
fn draw(pages: &mut Pages<'_>, turn_in: Length, board: &Board, name: &str) {
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
    let head = pages.y() - around;
    let foot = head - scale(high);
    let drawn = BoardFigure {
        left,
        right: left + scale(wide),
        head,
        foot,
        board: [
            left + scale(turn_in),
            foot + scale(turn_in),
            scale(board.size.0),
            scale(board.size.1),
        ],
        mitre: scale(board.mitre),
    };
    pages.boxed(drawn.board, Some(0.88), Some(0.0));
    drawn.covering(pages);
    drawn.dimensions(pages, board);
    let middle = (head + foot) / 2;
    let in_turn_in = head - scale(turn_in) / 2 - Look::SMALL.size() / 3;
    drawn.centred(pages, name, middle);
    drawn.centred(
        pages,
        &format!("turned in: {}", turn_in.without_unit()),
        in_turn_in,
    );
    pages.down(height);
}

/// Where a board and its covering lie on the page, at the scale that they are drawn at.
struct BoardFigure {
    /// The covering's edges.
    left: Length,
    right: Length,
    head: Length,
    foot: Length,
    /// The board: its left edge, its foot, its width and its height.
    board: [Length; 4],
    /// How far the covering's corners are cut off along both edges.
    mitre: Length,
}

impl BoardFigure {
    /// The covering's outline, and in dots the corners that are cut off.
    fn covering(&self, pages: &mut Pages<'_>) {
        let (left, right, head, foot) = (self.left, self.right, self.head, self.foot);
        let mitre = self.mitre;
        let corners: [(Point, i64, i64); 4] = [
            ((left, head), 1, -1),
            ((right, head), -1, -1),
            ((left, foot), 1, 1),
            ((right, foot), -1, 1),
        ];
        for ((x, y), along, up) in corners {
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
    }

    /// Width and height of the covering, at its head and its left, and of the board, at its foot and its right.
    fn dimensions(&self, pages: &mut Pages<'_>, board: &Board) {
        let look = Look::SMALL;
        let off = Length::mm(4);
        let [from, foot, wide, high] = self.board;
        let (material_wide, material_high) = (
            board.material.0.without_unit(),
            board.material.1.without_unit(),
        );
        pages.across(self.left, self.right, self.head + off, &material_wide, look);
        let below = self.foot - Length::mm(6);
        pages.across(from, from + wide, below, &board.size.0.without_unit(), look);
        let side = (self.left - off, self.foot);
        pages.upright(side, self.head, &material_high, true, look);
        let side = (self.right + off, foot);
        pages.upright(side, foot + high, &board.size.1.without_unit(), false, look);
    }

    /// Words in the middle of the board's width, as small as they must be.
    fn centred(&self, pages: &mut Pages<'_>, words: &str, y: Length) {
        let inside = self.board[2] - Length::mm(2);
        let middle = (self.left + self.right) / 2;
        if let Some(look) = pages.setter.smaller(words, inside, Look::SMALL, 60) {
            pages.centred(words, (middle, y), look);
        }
    }
}
