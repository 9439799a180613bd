//! What the lines and tints of the strip's drawing mean.

use super::page::Pages;
use super::rows::WHOLE;
use crate::names::{Length, decimals};
use crate::outputs::sheet::{MOUNTAIN, VALLEY};
use crate::outputs::words::Look;

/// Something that is explained.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Key {
    Valley,
    Mountain,
    Spread,
    Outside,
    Edge,
    Tab,
    Tissue,
    Crossover,
}

impl Key {
    const fn words(self) -> &'static str {
        match self {
            Key::Valley => "valley fold, seen from that side",
            Key::Mountain => "mountain fold",
            Key::Spread => "a spread: seen at once",
            Key::Outside => "outside of the closed book",
            Key::Edge => "two sheets meet",
            Key::Tab => "a join’s tab where it lies; dotted on the other side",
            Key::Tissue => "a join’s tissue where it lies; dotted on the other side",
            Key::Crossover => "a motif crosses here",
        }
    }
}

const LINE: Length = Length::mm(6);
const SAMPLE: Length = Length::mm(10);
const LOOK: Look = Look::SMALL;

/// Where each key stands, from the left edge and by lines, and how many lines there are.
fn placed(pages: &Pages<'_>, keys: &[Key], scale: &str) -> (Vec<(Length, i64)>, i64) {
    let (mut x, mut line) = (Length::ZERO, 0);
    let mut placed = Vec::with_capacity(keys.len() + 1);
    let wide = keys
        .iter()
        .map(|key| SAMPLE + Length::mm(2) + pages.setter.wide(key.words(), LOOK));
    for wide in wide.chain([pages.setter.wide(scale, LOOK)]) {
        if x > Length::ZERO && x + wide > pages.width() {
            (x, line) = (Length::ZERO, line + 1);
        }
        placed.push((x, line));
        x += wide + Length::mm(7);
    }
    (placed, line + 1)
}

fn scale_words(scale: i64) -> String {
    let shown = decimals(scale as f64 * 100.0 / WHOLE as f64, 1);
    format!("drawn at {shown} % of its size")
}

/// How high the legend is.
pub(super) fn high(pages: &Pages<'_>, keys: &[Key]) -> Length {
    let (_, lines) = placed(pages, keys, &scale_words(WHOLE - 1));
    LINE * lines + Length::mm(2)
}

/// Draws the legend in as many lines as it needs.
pub(super) fn draw(pages: &mut Pages<'_>, keys: &[Key], scale: i64) {
    let scale = scale_words(scale);
    let (placed, lines) = placed(pages, keys, &scale);
    pages.need(LINE * lines);
    let top = pages.y() - LINE + Length::mm(1);
    for (&key, &(x, line)) in keys.iter().zip(&placed) {
        let at = (pages.left() + x, top - LINE * line);
        sample(pages, key, at);
        pages.words(key.words(), (at.0 + SAMPLE + Length::mm(2), at.1), LOOK);
    }
    if let Some(&(x, line)) = placed.last() {
        pages.words(&scale, (pages.left() + x, top - LINE * line), LOOK);
    }
    pages.down(LINE * lines + Length::mm(2));
}

fn sample(pages: &mut Pages<'_>, key: Key, (x, baseline): (Length, Length)) {
    let y = baseline + Length::mm(1);
    let (low, high) = (y - Length::mm(2), y + Length::mm(2));
    let end = x + SAMPLE;
    let middle = x + SAMPLE / 2;
    match key {
        Key::Valley => pages.rule((x, y), (end, y), 0.0, VALLEY),
        Key::Mountain => pages.rule((x, y), (end, y), 0.0, MOUNTAIN),
        Key::Spread => {
            pages.rule((x, y), (end, y), 0.0, &[]);
            for x in [x, end] {
                pages.rule((x, y), (x, y + Length::mm(3) / 2), 0.0, &[]);
            }
        }
        Key::Outside => pages.boxed([x, y, SAMPLE, Length::mm(1)], Some(0.0), None),
        Key::Edge => {
            let wide = Length::mm(6) / 10;
            pages.boxed([middle, low, wide, high - low], Some(0.0), None);
        }
        Key::Tab | Key::Tissue => pages.hatched([x, low, SAMPLE, high - low], 0.45),
        Key::Crossover => {
            let wide = Length::mm(8) / 10;
            pages.boxed([middle, low, wide, high - low], Some(0.0), None);
            for y in [low, high] {
                let reach = Length::mm(2);
                pages.rule((middle - reach, y), (middle + reach, y), 0.0, &[]);
            }
        }
    }
}
