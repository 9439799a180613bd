//! A wrapper: what it is cut to, and where it is folded.

use super::page::Pages;
use super::table::Column;
use crate::names::Length;
use crate::outputs::sheet::MOUNTAIN;
use crate::outputs::words::{Look, measured, places};
use crate::paper::Wrapper;

/// How high a drawn wrapper is at least, and at most.
const LOW: Length = Length::mm(6);
const HIGH: Length = Length::mm(40);

/// Tells of the wrapper.
pub(super) fn tell(pages: &mut Pages<'_>, wrapper: &Wrapper) {
    let cut = Cut::new(wrapper);
    pages.heading("Wrapper");
    let kind = match wrapper.is_band {
        true => "A closed band around the book, its ends pasted over each other",
        false => "A cover folded around the book, its flaps turned in",
    };
    let spine = match wrapper.spine {
        Some(spine) => format!(
            "It is worked out for a book {:.1} mm thick, half-way between pressed and loose: measure the closed book before \
             you fold it.",
            spine.as_mm()
        ),
        None => "The plan does not say how thick the paper is: measure the closed book, and add its thickness where “+ spine” \
                 stands."
            .to_string(),
    };
    pages.paragraph(&format!(
        "{kind}. Cut it {} long and {} high, with the grain from head to tail. {spine} Cut one \
         from scrap first: it must slide on and off.",
        cut.along(wrapper.pieces.len(), " mm"),
        wrapper.height
    ));
    cut.draw(pages);
    let rows = wrapper.pieces.iter().enumerate().map(|(at, piece)| {
        let wide = match cut.unknown(piece.0) {
            true => "spine".to_string(),
            false => measured(piece.1, cut.places),
        };
        vec![piece.0.to_string(), wide, cut.along(at + 1, "")]
    });
    let rows: Vec<Vec<String>> = rows.collect();
    pages.table(
        &[
            Column::words("from the left,\noutside up"),
            Column::figures("wide,\nmm"),
            Column::figures("ends, mm from\nthe left edge"),
        ],
        &rows,
    );
}

/// A wrapper as it is cut.
struct Cut<'a> {
    wrapper: &'a Wrapper,
    /// How many decimals its measures need; what is as thick as the book is not known more closely.
    places: usize,
}

impl Cut<'_> {
    fn new(wrapper: &Wrapper) -> Cut<'_> {
        let pieces = wrapper.pieces.iter();
        let fixed = pieces.filter(|(name, _)| !is_as_thick(name));
        Cut {
            wrapper,
            places: places(fixed.map(|(_, wide)| *wide)),
        }
    }

    /// Whether a piece is as wide as a book of which it is not known how thick it is.
    fn unknown(&self, name: &str) -> bool {
        is_as_thick(name) && self.wrapper.spine.is_none()
    }

    /// How long the first pieces are together.
    fn along(&self, pieces: usize, unit: &str) -> String {
        let first = || self.wrapper.pieces.iter().take(pieces);
        let length = measured(first().map(|(_, wide)| *wide).sum(), self.places);
        let unknown = first().filter(|(name, _)| self.unknown(name)).count();
        match unknown {
            0 => format!("{length}{unit}"),
            1 => format!("{length}{unit} + spine"),
            many => format!("{length}{unit} + {many} × spine"),
        }
    }

    /// The wrapper flat, outside up.
    fn draw(&self, pages: &mut Pages<'_>) {
        let look = Look::SMALL;
        let pieces = &self.wrapper.pieces;
        let inset = Length::mm(8);
        // What is not known is drawn, but not to scale.
        let drawn = |(name, wide): &(&str, Length)| match self.unknown(name) {
            true => self.wrapper.length() / 40,
            false => *wide,
        };
        let whole: Length = pieces.iter().map(drawn).sum();
        let room = pages.width() - inset * 2;
        let scale = |length: Length| length.scaled(room.units(), whole.units().max(1));
        let high = scale(self.wrapper.height).max(LOW).min(HIGH);
        let row = look.leading();
        let above = row * 4 + Length::mm(2);
        pages.need(above + high + Length::mm(5));
        pages.down(above);
        let (head, left) = (pages.y(), pages.left() + inset);
        let foot = head - high;
        pages.boxed([left, foot, room, high], Some(1.0), Some(0.0));
        let (mut from, mut narrow) = (left, 0);
        for (at, piece) in pieces.iter().enumerate() {
            let wide = scale(drawn(piece));
            let middle = from + wide / 2;
            if at > 0 {
                pages.rule((from, head), (from, foot), 0.0, MOUNTAIN);
            }
            let name = piece.0;
            let measure = match self.unknown(name) {
                true => String::new(),
                false => measured(piece.1, self.places),
            };
            let inside = pages.setter.smaller(name, wide - Length::mm(1), look, 70);
            let line = head + Length::mm(3);
            narrow = if inside.is_some() { 0 } else { narrow % 2 + 1 };
            if let Some(look) = inside {
                let y = foot + high / 2 - look.size() / 3;
                pages.centred(name, (middle, y), look);
                pages.across(from, from + wide, line, &measure, look);
            } else {
                // Too narrow for its name: both stand above, those of neighbours one above the other, the lower one clear of
                // the other's line.
                let y = line + Length::mm(1) + row * narrow;
                pages.rule((middle, head), (middle, y - Length::mm(1)), 0.0, &[]);
                let words = format!("{name} {measure}");
                match narrow {
                    1 => pages.ending(words.trim(), (middle + Length::mm(1) / 2, y), look),
                    _ => pages.centred(words.trim(), (middle, y), look),
                }
            }
            from += wide;
        }
        pages.down(high + Length::mm(3));
    }
}

fn is_as_thick(name: &str) -> bool {
    name == "spine" || name == "fore-edge"
}
