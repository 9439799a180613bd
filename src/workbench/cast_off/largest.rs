//! The two largest sizes: at which no line turns over, and at which the words fit the panels.
//!
//! Neither is monotone (a smaller size may break a line worse, or need one panel more), so sizes are tried from the
//! largest that a plan may have down, a tenth of a point each, and the first that is right is the answer. Sizes that
//! surely cannot be right are passed over: a line of verse that is wider than its measure turns over, and words whose
//! lines are more than all panels together have do not fit. Neither bound is ever used to say that a size is right.

use std::sync::Arc;

use rayon::prelude::*;

use super::book::{self, Book};
use crate::lines::{Remembered, Row, SetPart};
use crate::manuscript::LineKind;
use crate::plan::{Align, Hang, PartPlan, Plan, Role, RuleName, TextStyle};
use crate::strip::Strip;
use crate::typeface::Shaper;
use crate::units::Length;
use crate::workbench::Posed;

/// The smallest and the largest size that a plan may have.
pub(super) const SMALLEST: Length = Length::pt(3);
pub(super) const LARGEST: Length = Length::pt(144);
/// Smaller type is not looked for unless the plan has it: it would not be read.
const SMALLEST_READ: Length = Length::pt(6);
/// How many sizes are tried at once.
const AT_ONCE: usize = 4;
/// Widths grow with the size but for how they are rounded: of what they should be, so many thousandths are sure.
const SURE: i64 = 990;

/// A largest size.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Largest {
    /// The size.
    pub size: Length,
    /// The leading that goes with it.
    pub leading: Length,
    /// How many lines then turn over.
    pub turned_over: usize,
}

/// Looks for the largest sizes.
pub(super) struct Search<'a> {
    book: &'a Book<'a>,
    parts: Vec<OfPart>,
}

/// What is known of a part at the plan's size, for bounds at others.
struct OfPart {
    plan_index: usize,
    size: Length,
    stanza_space: u32,
    lines: Vec<Line>,
    /// The spaces between lines in half lines, the largest first.
    spaces: Vec<u32>,
    panels: usize,
}

/// A line or paragraph that must stand on a panel of words.
struct Line {
    /// Its natural width, or for sure no less, all on one line.
    width: Length,
    /// What vanishes at most where it is broken.
    gap: Length,
    prose: bool,
    /// Whether it is verse that stands on panels of words alone.
    plain: bool,
    /// Whether its first and last characters might hang outside the measure.
    hangs: (bool, bool),
}

impl<'a> Search<'a> {
    pub fn new(book: &'a Book<'a>, posed: &Posed) -> Search<'a> {
        let parts = posed.set.parts.iter();
        Search {
            book,
            parts: parts.map(|part| OfPart::new(part, posed)).collect(),
        }
    }

    /// The largest size at which no line of verse turns over on panels of words alone.
    pub fn whole_lines(&self) -> Option<Largest> {
        self.first_right(|plan| {
            let lines = self.planned(plan);
            let mut lines = lines.flat_map(|(of, planned)| {
                let text = &planned.text;
                let margins = plan.text.margins;
                let measure = plan.paper.panel_width - margins.left - margins.right;
                let plain = of.lines.iter().filter(|line| line.plain);
                plain.map(move |line| {
                    let width = of.at_least(line.width, text.size);
                    let ends = i64::from(line.hangs.0) + i64::from(line.hangs.1);
                    width - hang(text.hang, text.size) * ends > measure
                })
            });
            if lines.any(|turns| turns) {
                return None;
            }
            let strip = Strip::new(plan.paper);
            let set = self.book.set(plan, &strip, &mut Remembered::default());
            let turned_over = book::turned_over_on_plain_panels(&set.ok()?, plan);
            (turned_over == 0).then_some(0)
        })
    }

    /// The largest size that fits the plan's panels.
    pub fn fits(&self) -> Option<Largest> {
        self.first_right(|plan| {
            if self
                .planned(plan)
                .any(|(of, planned)| !of.could_fit(plan, planned))
            {
                return None;
            }
            let plan = Arc::new(plan.clone());
            let posed = self.book.pose_plan(plan, &mut Remembered::default());
            let posed = posed.ok()?;
            let parts = book::division(&posed)?;
            Some(book::figures(&posed, &parts).turned_over)
        })
    }

    /// The parts that have words, each as a plan has it.
    fn planned<'p>(&'p self, plan: &'p Plan) -> impl Iterator<Item = (&'p OfPart, &'p PartPlan)> {
        let parts = self.parts.iter();
        parts.filter_map(|of| Some((of, plan.parts.get(of.plan_index)?)))
    }

    /// The first size from the largest down that is right, with what is said of it.
    fn first_right(&self, right: impl Fn(&Plan) -> Option<usize> + Sync) -> Option<Largest> {
        let tenth = Length::pt(1) / 10;
        let own = self.book.plan.text.size;
        let smallest = if own < SMALLEST_READ {
            SMALLEST
        } else {
            SMALLEST_READ
        };
        let tenths = (smallest.units() / tenth.units())..=(LARGEST.units() / tenth.units());
        let sizes: Vec<Length> = tenths.rev().map(|tenths| tenth * tenths).collect();
        sizes.chunks(AT_ONCE).find_map(|sizes| {
            let tried = sizes.par_iter().map(|&size| {
                let plan = self.book.plan_at(size).ok()?;
                let leading = plan.text.leading;
                right(&plan).map(|turned_over| Largest {
                    size,
                    leading,
                    turned_over,
                })
            });
            tried.collect::<Vec<_>>().into_iter().flatten().next()
        })
    }
}

impl OfPart {
    fn new(part: &SetPart, posed: &Posed) -> OfPart {
        let planned = &posed.plan.parts[part.plan_index];
        let shaper = Shaper::new(&part.typeface, &planned.language);
        let plain = book::plain_setting(&posed.set, part, &posed.plan).is_some();
        let words = |row: &&Row| !matches!(row.kind, LineKind::Room(_) | LineKind::Caption);
        let rows = || part.rows.iter().filter(words);
        let mut spaces: Vec<u32> = rows().map(|row| row.space_above).collect();
        spaces.sort_unstable_by(|one, other| other.cmp(one));
        OfPart {
            plan_index: part.plan_index,
            size: planned.text.size,
            stanza_space: planned.text.stanza_space,
            lines: rows()
                .map(|row| Line::new(row, &shaper, &planned.text, plain))
                .collect(),
            spaces,
            panels: planned.on.len(),
        }
    }

    /// What a width of the plan's size surely is at least at another.
    fn at_least(&self, width: Length, size: Length) -> Length {
        width
            .scaled(size.units(), self.size.units())
            .scaled(SURE, 1000)
    }

    /// Whether the words could fit, as far as widths and spaces alone can tell.
    fn could_fit(&self, plan: &Plan, planned: &PartPlan) -> bool {
        let text = &planned.text;
        let (measure, height) = roomiest(plan);
        let lines = self.lines.iter().map(|line| {
            let hangs = if line.prose {
                text.prose_hang
            } else {
                text.hang
            };
            let measure = measure + hang(hangs, text.size) * 2;
            let gap = line.gap.scaled(text.size.units(), self.size.units());
            let width = self.at_least(line.width, text.size) + gap;
            let room = (measure + gap).units().max(1);
            ((width.units() + room - 1) / room).max(1) as u64
        });
        let spaces: u64 = match text.stanza_space == self.stanza_space && !any_shape(plan) {
            // At the head of each panel one vanishes.
            true => self
                .spaces
                .iter()
                .skip(self.panels)
                .map(|half| u64::from(*half))
                .sum(),
            false => 0,
        };
        let needed = lines.sum::<u64>() * 2 + spaces;
        let of_panel = (height.units() / plan.text.leading.units().max(1) + 1).max(0) as u64 * 2;
        let titles = plan
            .panels
            .iter()
            .filter(|pin| pin.role == Some(Role::Title))
            .count() as u64;
        let fullest = match plan.rules.is_hard(RuleName::Fullest) {
            true => u64::from(plan.rules.fullest.0),
            false => 100,
        };
        let capacity = of_panel * (self.panels as u64 * fullest + titles * 100) / 100;
        needed <= capacity
    }
}

impl Line {
    fn new(row: &Row, shaper: &Shaper<'_>, text: &TextStyle, plain: bool) -> Line {
        let words = &row.shaped.text;
        let whole = row.shaped.start()..row.shaped.trimmed_end(words.len());
        let mut width = row.shaped.width(shaper, whole);
        let space = shaper.space(row.voice);
        let prose = row.kind.is_prose();
        if prose && text.align == Align::Justified {
            // The spaces of justified lines give.
            let spaces = words.chars().filter(|c| c.is_whitespace()).count();
            width = (width - space * spaces as i64).max(Length::ZERO);
        }
        if words.chars().any(|c| c >= '\u{3000}') {
            // Signs that are set solid lose at most half of their room.
            width = width / 2;
        }
        let runs = words.split(|c: char| !c.is_whitespace());
        let longest = runs.map(|run| run.chars().count()).max().unwrap_or(0);
        let may_hang = |c: Option<char>| c.is_some_and(|c| !c.is_alphanumeric());
        Line {
            width,
            gap: space * longest as i64 * 2,
            prose,
            plain: plain && book::is_verse(&row.kind),
            hangs: (
                may_hang(words.trim().chars().next()),
                may_hang(words.trim().chars().next_back()),
            ),
        }
    }
}

/// How far marks at one end of a line might hang out: two of them, none wider than an em.
fn hang(hangs: Hang, size: Length) -> Length {
    match hangs {
        Hang::None => Length::ZERO,
        Hang::Quotes | Hang::All => size * 2,
    }
}

/// Whether words follow a shape anywhere.
fn any_shape(plan: &Plan) -> bool {
    plan.panels.iter().any(|pin| pin.shape.is_some())
        || plan.pictures.iter().any(|picture| picture.shape.is_some())
}

/// A width and a height that no text area is larger than.
fn roomiest(plan: &Plan) -> (Length, Length) {
    let (width, height) = (plan.paper.panel_width, plan.paper.panel_height);
    if any_shape(plan) {
        return (width, height);
    }
    let asked = plan.panels.iter().map(|pin| &pin.margins);
    let asked = asked.chain(plan.pictures.iter().map(|picture| &picture.leaves));
    let mut margins = plan.text.margins;
    for asked in asked {
        let over = asked.over(margins);
        margins.head = margins.head.min(over.head);
        margins.foot = margins.foot.min(over.foot);
        margins.left = margins.left.min(over.left);
        margins.right = margins.right.min(over.right);
    }
    (
        width - margins.left - margins.right,
        height - margins.head - margins.foot,
    )
}
