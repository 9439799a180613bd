//! The first page's five steps, and what the marks mean.

use super::faces::{CUT, FAINT};
use super::fit::{Fitted, MARGIN};
use super::piece::PLAIN;
use super::{Backs, ForDummy};
use crate::names::{Length, Turned};
use crate::outputs::sheet::{MOUNTAIN, VALLEY};
use crate::outputs::words::{LabelSetter, Look};
use crate::paper::Flip;
use crate::pdf::{Drawing, Paint};
use crate::typeface::Emphasis;

const TITLE: Look = Look::of(120, Emphasis::Plain, 0);
const FACTS: Look = Look::of(80, Emphasis::Plain, 350);
const TEXT: Look = Look::of(80, Emphasis::Plain, 0);
const FIGURE: Look = Look::of(80, Emphasis::Bold, 0);
/// How far the steps stand in from their figures.
const INDENT: Length = Length::mm(5);

/// The five steps.
fn steps(asked: &ForDummy<'_>, fitted: &Fitted) -> [String; 5] {
    let strip = &asked.layout.strip;
    let paper = strip.paper();
    let several = fitted.pieces.sheets.len() > 1;
    let print = match asked.backs {
        Backs::Printed => format!(
            "Print at 100 %, not scaled to fit, on both sides, flipped on the {}.",
            Flip::of(fitted.page, paper.turned).words()
        ),
        _ => "Print at 100 %, not scaled to fit, on one side.".to_string(),
    };
    let cut = match (asked.backs, several) {
        (Backs::Pasted, _) => "Cut out the pieces and their backs along the full lines.",
        (_, true) => "Cut out the pieces along the full lines; the backs go with them.",
        (_, false) => "Cut out the piece along the full line.",
    };
    let cut = match asked.backs {
        Backs::None => cut.replace("; the backs go with them", ""),
        _ => cut.to_string(),
    };
    let join = match several {
        true => "Paste every hatched tab behind the piece whose edge meets it, so that the edge lies on the tab’s fold: \
                 tab 1 first, then 2, and so on."
            .to_string(),
        false => "Nothing is to be joined: the strip is one piece.".to_string(),
    };
    let turned = match paper.turned {
        Turned::HeadToHead => "sideways, heads up",
        Turned::HeadToFoot => "over its head",
    };
    let crease = "Crease along a ruler with a bone folder: dashed folds open towards you, dash-dotted ones point at you.";
    let fold = "Fold to and fro from one end, and press.";
    let (fourth, fifth) = match asked.backs {
        Backs::Pasted => (
            format!(
                "Turn the strip {turned}, and paste each back on its piece, edge to edge, the piece of its number."
            ),
            format!("{crease} {fold}"),
        ),
        _ => (crease.to_string(), fold.to_string()),
    };
    let read = match asked.backs {
        Backs::None => fifth,
        _ => format!("{fifth} Read the front, turn the strip {turned}, and read the back."),
    };
    [print, cut, join, fourth, read]
}

/// A line of what is said: its words, how far it stands in, and how far below the line before.
struct Line {
    words: String,
    indent: Length,
    look: Look,
    down: Length,
}

/// Everything but the legend, line by line.
fn lines(asked: &ForDummy<'_>, fitted: &Fitted, setter: &LabelSetter) -> Vec<Line> {
    let wide = fitted.page.0 - MARGIN * 2;
    let title = format!("{} – dummy", asked.layout.title);
    let (title, look) = setter.fitted(&title, wide, TITLE, 80);
    let beside = setter.wide(&title, look) + Length::mm(4);
    let mut found = vec![Line {
        words: title,
        indent: Length::ZERO,
        look,
        down: TITLE.size(),
    }];
    let facts = format!("{}, {}", fitted.told(asked.backs), paper_of(asked));
    let (facts, look) = setter.fitted(&facts, wide, FACTS, 60);
    let has_room = beside + setter.wide(&facts, look) <= wide;
    found.push(Line {
        words: facts,
        indent: if has_room { beside } else { Length::ZERO },
        look,
        down: if has_room {
            Length::ZERO
        } else {
            FACTS.leading()
        },
    });
    let set = |words: &str| setter.lines(words, wide - INDENT, Length::ZERO, TEXT);
    let text = |words: String, down: Length| Line {
        words,
        indent: INDENT,
        look: TEXT,
        down,
    };
    for (number, step) in (1..).zip(steps(asked, fitted)) {
        let extra = if number == 1 {
            Length::mm(1)
        } else {
            Length::ZERO
        };
        found.push(Line {
            words: number.to_string(),
            indent: Length::ZERO,
            look: FIGURE,
            down: TEXT.leading() + extra,
        });
        for (at, line) in set(&step).into_iter().enumerate() {
            let down = if at == 0 {
                Length::ZERO
            } else {
                TEXT.leading()
            };
            found.push(text(line, down));
        }
    }
    let care = "Scissors will do. A blade wants to be sharp, along a steel rule, on a cutting mat, away from the hand.";
    found.extend(set(care).into_iter().map(|line| text(line, TEXT.leading())));
    found
}

/// How far the legend stands below the last line.
fn before_legend() -> Length {
    TEXT.leading() + Length::mm(1)
}

/// How high all of it is.
pub(super) fn height(asked: &ForDummy<'_>, fitted: &Fitted, setter: &LabelSetter) -> Length {
    let lines = lines(asked, fitted, setter);
    let down: Length = lines.iter().map(|line| line.down).sum();
    // The descenders of the last line need room.
    down + before_legend() + Length::mm(1)
}

/// Draws them at the foot of the first page, or at the head of a page of their own.
pub(super) fn draw(
    asked: &ForDummy<'_>,
    fitted: &Fitted,
    setter: &LabelSetter,
    drawings: &mut Vec<Drawing<'_>>,
) {
    let mut pen = Pen {
        setter,
        drawings,
        left: MARGIN,
        wide: fitted.page.0 - MARGIN * 2,
        y: match fitted.steps_alone {
            true => fitted.page.1 - MARGIN,
            false => MARGIN + height(asked, fitted, setter),
        },
    };
    for line in lines(asked, fitted, setter) {
        pen.y -= line.down;
        pen.line(&line.words, line.indent, line.look);
    }
    pen.y -= before_legend();
    pen.legend();
}

fn paper_of(asked: &ForDummy<'_>) -> String {
    match &asked.paper.name {
        Some(name) => format!("on {name}"),
        None => format!("on {} × {}", asked.paper.long, asked.paper.short),
    }
}

struct Pen<'p, 'a> {
    setter: &'p LabelSetter,
    drawings: &'p mut Vec<Drawing<'a>>,
    left: Length,
    wide: Length,
    y: Length,
}

impl Pen<'_, '_> {
    fn line(&mut self, words: &str, indent: Length, look: Look) {
        let at = (self.left + indent, self.y);
        let line = Box::new(self.setter.line(words, at, look));
        self.drawings.push(Drawing::Label { line, space: PLAIN });
    }

    /// What the lines mean.
    fn legend(&mut self) {
        let lines: [(&str, Paint, &'static [f32]); 3] = [
            ("cut", CUT, &[]),
            ("valley fold", FAINT, VALLEY),
            ("mountain fold", FAINT, MOUNTAIN),
        ];
        let mut x = Length::ZERO;
        let gap = Length::mm(6);
        for (words, paint, dashes) in lines {
            let y = self.y + Length::mm(1);
            self.drawings.push(Drawing::Rule {
                from: (self.left + x, y),
                to: (self.left + x + Length::mm(10), y),
                paint,
                dashes,
            });
            x += Length::mm(12);
            self.line(words, x, TEXT);
            x += self.setter.wide(words, TEXT) + gap;
        }
        let words = "tab: paste";
        if x + Length::mm(8) + self.setter.wide(words, TEXT) > self.wide {
            return;
        }
        let (left, foot, side) = (self.left + x, self.y - Length::mm(1) / 2, Length::mm(3));
        for step in 0..3 {
            let at = left + Length::mm(2) * step;
            self.drawings.push(Drawing::Rule {
                from: (at, foot),
                to: (at + side, foot + side),
                paint: Paint::Grey(0.7),
                dashes: &[],
            });
        }
        self.line(words, x + Length::mm(9), TEXT);
    }
}
