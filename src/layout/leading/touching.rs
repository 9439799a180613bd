//! Lines whose ink touches that of their neighbours.

use super::ink::{GlyphInk, InkBoxes, Reach};
use crate::layout::compose::ComposeInput;
use crate::layout::{LaidLine, LaidPanel};
use crate::names::{Length, PanelName};
use crate::setting::Note;

/// The steps that a leading is told in.
const STEP: Length = Length::from_units(Length::pt(1).units() / 10);

/// A remark for each part whose leading lets the ink of neighbouring lines touch: on how many panels, where first, and the
/// least leading at which none would. What is printed is left alone.
pub(super) fn touching(ready: ComposeInput<'_>, panels: &[LaidPanel]) -> Vec<Note> {
    let mut boxes = InkBoxes::default();
    let parts = ready.set.parts.iter().filter_map(|part| {
        let planned = &ready.plan.parts[part.plan_index];
        // In lines that run down signs fill their squares, and none reaches out of its line.
        if planned.text.lines_run.is_down() {
            return None;
        }
        let laid = planned.on.iter().filter_map(|name| {
            let laid = panels.iter().find(|laid| laid.panel == *name)?;
            (!laid.passed).then_some(laid)
        });
        let mut found = OfPart {
            leading: planned.text.leading,
            name: &part.name,
            panels: 0,
            first: None,
            least: Length::ZERO,
        };
        found.look_at(&laid.collect::<Vec<_>>(), &mut boxes);
        found.note(ready)
    });
    parts.collect()
}

/// What is found of a part.
struct OfPart<'a> {
    leading: Length,
    name: &'a str,
    /// On how many panels lines touch.
    panels: usize,
    first: Option<Touch<'a>>,
    /// The least leading at which none would.
    least: Length,
}

/// A line, and how far its ink reaches.
type Reaching<'a> = (&'a LaidLine, Reach);

/// Two lines that touch.
struct Touch<'a> {
    on: PanelName,
    upper: &'a LaidLine,
    lower: &'a LaidLine,
    /// A byte of the text of each where they do.
    at: [Option<usize>; 2],
}

impl<'a> OfPart<'a> {
    /// Looks at the lines of its panels, and at those that might stand under each other if panels began elsewhere.
    fn look_at(&mut self, panels: &[&'a LaidPanel], boxes: &mut InkBoxes) {
        let mut before: Option<Reaching<'a>> = None;
        for panel in panels {
            let lines = panel.lines.iter().filter(|line| line.part.is_some());
            let reaches = lines.map(|line| (line, boxes.reach(&line.runs, line.baseline)));
            let lines: Vec<Reaching<'a>> = reaches.collect();
            if let (Some(last), Some(first)) = (before, lines.first()) {
                let between = 2 + i64::from(first.0.space_above.count());
                self.meet((last, *first), between, boxes);
            }
            let mut touches = false;
            for pair in lines.windows(2) {
                let (upper, lower) = (pair[0], pair[1]);
                let Some(between) = self.half_lines_between(upper.0, lower.0) else {
                    continue;
                };
                let Some(at) = self.meet((upper, lower), between, boxes) else {
                    continue;
                };
                touches = true;
                self.first.get_or_insert(Touch {
                    on: panel.panel,
                    upper: upper.0,
                    lower: lower.0,
                    at,
                });
            }
            self.panels += usize::from(touches);
            before = lines.last().copied().or(before);
        }
    }

    /// How many half lines a line stands below another; nothing where it does not, or where both are of one heading, whose
    /// lines stand apart by their size.
    fn half_lines_between(&self, upper: &LaidLine, lower: &LaidLine) -> Option<i64> {
        let down = lower.baseline - upper.baseline;
        let half_lines = (down * 2).scaled(1, self.leading.units().max(1)).units();
        let of_heading = lower.kind.is_titling() && upper.row == lower.row;
        (half_lines > 0 && !of_heading).then_some(half_lines)
    }

    /// Whether the ink of two lines touches that are so many half lines apart: where in the text of each it does most. The
    /// least leading grows with it.
    fn meet(
        &mut self,
        (upper, lower): (Reaching<'_>, Reaching<'_>),
        half_lines: i64,
        boxes: &mut InkBoxes,
    ) -> Option<[Option<usize>; 2]> {
        let down = (self.leading * half_lines).scaled(1, 2);
        if upper.1.below + lower.1.above <= down {
            return None;
        }
        let near = |line: &LaidLine, boxes: &mut InkBoxes| boxes.glyphs(&line.runs, line.baseline);
        let above: Vec<GlyphInk> = near(upper.0, boxes);
        let below: Vec<GlyphInk> = near(lower.0, boxes);
        let above = above.iter().filter(|ink| ink.below + lower.1.above > down);
        let below = below.iter().filter(|ink| ink.above + upper.1.below > down);
        let below: Vec<&GlyphInk> = below.collect();
        let pairs = above.flat_map(|one| below.iter().map(move |other| (one, *other)));
        let over = pairs
            .filter(|(one, other)| one.across.0 < other.across.1 && other.across.0 < one.across.1);
        let (one, other) = over.max_by_key(|(one, other)| one.below + other.above)?;
        let need = one.below + other.above;
        if need <= down {
            return None;
        }
        // Half lines are rounded to whole units, and so may be a unit short.
        let exact = (need * 2).units() / half_lines + 2;
        let steps = (exact + STEP.units() - 1) / STEP.units();
        self.least = self.least.max(STEP * steps);
        Some([one.text, other.text])
    }

    fn note(&self, ready: ComposeInput<'_>) -> Option<Note> {
        let first = self.first.as_ref()?;
        let [upper, lower] = [(first.upper, first.at[0]), (first.lower, first.at[1])];
        let of_part = match ready.set.parts.len() {
            1 => String::new(),
            _ => format!("in the part `{}`, ", self.name),
        };
        let on = match self.panels {
            1 => format!("on {}", first.on),
            many => format!("on {many} panels, first on {}", first.on),
        };
        let source = first.lower.sources.first();
        Some(Note {
            word: "touching-lines",
            what: format!(
                "{of_part}lines touch {on}, “{}” and “{}” below it: at a leading of {} none would",
                word_at(upper),
                word_at(lower),
                self.least.in_points()
            ),
            place: source.map(|(from, to)| ready.manuscript.place(*from..*to)),
        })
    }
}

/// The word of a line at a byte of its text.
fn word_at((line, at): (&LaidLine, Option<usize>)) -> &str {
    let text = line.text.as_str();
    let at = at.unwrap_or(0).min(text.len());
    let from = text[..at].rfind(char::is_whitespace);
    let word = text[from.unwrap_or(0)..].split_whitespace().next();
    word.unwrap_or(text)
}
