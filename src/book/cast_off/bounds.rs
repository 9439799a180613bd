//! What a book surely cannot do at another size, told from natural widths without setting a line.
//!
//! All is sound: widths are taken a hundredth smaller than they should be, every line as short as its width allows,
//! every text area as it would really be. A line of verse wider than its measure turns over. Where even lines as short
//! as that cannot be divided over the panels under the hard rules that do not ask how much a panel carries, or are
//! more than all panels have, the words do not fit.

use super::book::{self, Book};
use crate::book::{PreparedBook, divide, may_give_way};
use crate::division::{AreaFacts, Problem};
use crate::names::{HalfLines, Length, LinesRun};
use crate::paper::Strip;
use crate::plan::{Align, Hang, PartPlan, Plan, RuleName, TextStyle, Weight};
use crate::rules::Judges;
use crate::setting::{self, Areas, Row, SetPart};
use crate::stack::{Filled, space_on_panels};
use crate::text::LineKind;
use crate::text::paragraph::is_unspaced;
use crate::typeface::Shaper;

/// Widths grow with the size but for how they are rounded: of what they should be, so many thousandths are sure.
const SURE: i64 = 990;

/// What is known of a book at the plan's size.
pub(super) struct Bounds {
    parts: Vec<OfPart>,
    groups: Vec<Vec<usize>>,
}

struct OfPart {
    plan_index: usize,
    size: Length,
    stanza_space: HalfLines,
    rows: Vec<Line>,
    /// The row of each place.
    places: Vec<usize>,
    prose: bool,
    /// The part's problem with all rules off but the hard ones that less room for words never breaks.
    problem: Problem,
}

/// A line or paragraph.
struct Line {
    /// Its natural width all on one line, or for sure no less.
    width: Length,
    /// What vanishes at most where it is broken.
    gap: Length,
    kind: LineKind,
    /// Whether it is verse that stands on panels of words alone.
    plain: bool,
    /// Whether its beginning, and its end, might hang outside the measure.
    may_hang: (bool, bool),
}

impl Bounds {
    pub fn new(prepared: &PreparedBook) -> Bounds {
        let parts = prepared.set.parts.iter().zip(&prepared.problems);
        Bounds {
            parts: parts
                .map(|(part, problem)| OfPart::new(part, problem, prepared))
                .collect(),
            groups: prepared.groups(),
        }
    }

    /// Whether some line of verse surely turns over on panels of words alone.
    pub fn surely_turns(&self, plan: &Plan) -> bool {
        self.parts.iter().any(|of| {
            let Some(planned) = plan.parts.get(of.plan_index) else {
                return false;
            };
            let text = &planned.text;
            let margins = text.margins;
            let measure = match text.lines_run {
                LinesRun::Across => plan.paper.widest() - margins.left - margins.right,
                LinesRun::Down => plan.paper.panel_height - margins.head - margins.foot,
            };
            let mut plain = of.rows.iter().filter(|line| line.plain);
            plain.any(|line| {
                of.at_least(line.width, text.size) - line.hangs(text.hang, text.size) > measure
            })
        })
    }

    /// Whether the words could fit, as far as can be told.
    pub fn could_fit(&self, book: &Book<'_>, plan: &Plan) -> bool {
        let strip = Strip::new(plan.paper);
        let Ok(areas) = setting::areas(&book.manuscript, plan, &strip, book.fonts) else {
            return false;
        };
        let relaxed = self.parts.iter().map(|of| {
            let planned = plan.parts.get(of.plan_index)?;
            Some(of.relaxed(&areas, planned, any_shape(plan)))
        });
        let Some(relaxed) = relaxed.collect::<Option<Vec<Relaxed>>>() else {
            return true;
        };
        self.groups.iter().all(|group| {
            let roomy = group.iter().all(|&part| relaxed[part].has_room());
            let prose = group.iter().any(|&part| self.parts[part].prose);
            let problems: Vec<&Problem> = group.iter().map(|&at| &relaxed[at].problem).collect();
            roomy && (prose || divide(&problems).is_some())
        })
    }
}

/// A part with every line as short as it could be.
struct Relaxed {
    problem: Problem,
    /// What all its lines and spaces take at least, in half lines.
    needed: u64,
}

impl OfPart {
    fn new(part: &SetPart, problem: &Problem, prepared: &PreparedBook) -> OfPart {
        let planned = &prepared.plan.parts[part.plan_index];
        let shaper = Shaper::new(&part.typeface, &planned.language);
        let plain = book::plain_column(&prepared.set, part, &prepared.plan).is_some();
        let rows = part.rows.iter();
        OfPart {
            plan_index: part.plan_index,
            size: planned.text.size,
            stanza_space: planned.text.stanza_space,
            rows: rows
                .map(|row| Line::new(row, &shaper, &planned.text, plain))
                .collect(),
            places: part.places.iter().map(|place| place.row).collect(),
            prose: part.rows.iter().any(|row| row.kind.is_prose()),
            problem: only_asked(problem),
        }
    }

    /// What a width of the plan's size surely is at least at another.
    fn at_least(&self, width: Length, size: Length) -> Length {
        width
            .scaled(size.units(), self.size.units())
            .scaled(SURE, 1000)
    }

    /// How many lines a row takes at least.
    fn least_lines(&self, line: &Line, text: &TextStyle, widest: Length) -> usize {
        let hangs = match line.kind {
            // Room may be for nothing, and a caption stands with its picture.
            LineKind::Room(_) => return 0,
            _ if line.kind.is_verse() => text.hang,
            _ if line.kind.is_prose() => text.prose_hang,
            _ => return 1,
        };
        let width = self.at_least(line.width, text.size);
        if width - line.hangs(hangs, text.size) <= widest {
            return 1;
        }
        // Where it is broken, a space vanishes, and what stands there may hang.
        let gap = line.gap.scaled(text.size.units(), self.size.units());
        let room = (widest + hang(hangs, text.size) * 2 + gap).units().max(1);
        let lines = ((width + gap).units() + room - 1) / room;
        usize::try_from(lines).unwrap_or(2).max(2)
    }

    fn relaxed(&self, areas: &Areas, planned: &PartPlan, shaped: bool) -> Relaxed {
        let text = &planned.text;
        let mut problem = self.problem.clone();
        let pictures: Vec<String> = problem.pictures.iter().map(|of| of.name.clone()).collect();
        let mut widest = Length::ZERO;
        for panel in &mut problem.panels {
            let name = panel.name;
            let mut enter = |facts: &mut Option<AreaFacts>, picture: Option<&str>| {
                let Some(facts) = facts else { return };
                let Some(area) = areas.of(name, picture).map(|id| areas.get(id)) else {
                    return;
                };
                widest = widest.max(area.width);
                *facts = AreaFacts {
                    column: 0,
                    capacity: area.depth(),
                };
            };
            enter(&mut panel.area, None);
            for (facts, picture) in panel.shared.iter_mut().zip(&pictures) {
                enter(facts, Some(picture));
            }
        }
        let least = |row: usize| HalfLines::lines(self.least_lines(&self.rows[row], text, widest));
        let spaces = &mut problem.stack.spaces;
        if text.stanza_space != self.stanza_space || shaped {
            spaces.fill(HalfLines::ZERO);
        }
        let words = (0..self.rows.len()).filter(|&row| self.rows[row].kind != LineKind::Caption);
        let needed: u64 = words.map(|row| u64::from(least(row))).sum();
        let spaces = space_on_panels(spaces, problem.panels.len());
        problem.stack.columns = vec![Filled::plain(self.places.iter().map(|&row| least(row)))];
        Relaxed {
            problem,
            needed: needed + spaces,
        }
    }
}

impl Relaxed {
    /// Whether all panels together have room, the least that pictures take of it set aside.
    fn has_room(&self) -> bool {
        let capacity = |area: &Option<AreaFacts>| area.map_or(0, |area| area.capacity.into());
        let problem = &self.problem;
        let beside = |panel: usize, picture: usize| match problem.may_share(panel, picture) {
            true => capacity(&problem.panels[panel].shared[picture]),
            false => 0,
        };
        let panels = 0..problem.panels.len();
        let of_panel = |panel: usize| match problem.panels[panel].picture {
            Some(picture) => beside(panel, picture),
            None => capacity(&problem.panels[panel].area),
        };
        let free = problem
            .panels
            .iter()
            .filter(|panel| panel.picture.is_none());
        let least = free.map(|panel| capacity(&panel.area)).min().unwrap_or(0);
        let kept = match problem.rules.is_hard(RuleName::Pictures) {
            true => least * problem.unnamed_pictures() as u64,
            false => 0,
        };
        let taken: u64 = problem
            .queue()
            .iter()
            .map(|&picture| {
                let beside = panels.clone().map(|panel| beside(panel, picture)).max();
                let spans = problem.pictures[picture].spans as u64;
                least.saturating_sub(beside.unwrap_or(0)) * spans
            })
            .sum();
        let capacity: u64 = panels.clone().map(of_panel).sum();
        self.needed + kept + taken <= capacity
    }
}

/// The problem with every rule off but the hard ones that less room for words never breaks, and with `undivided` off
/// where it may give way.
fn only_asked(problem: &Problem) -> Problem {
    let off = Weight {
        hard: Some(false),
        importance: 0,
    };
    let gives = may_give_way(&[problem]);
    let mut problem = problem.clone();
    for (name, ..) in RuleName::ALL {
        let asked = name.about().judges != Judges::Room && problem.rules.is_hard(name);
        if !asked || Some(name) == gives {
            problem.rules.weights.insert(name, off);
        }
    }
    problem
}

impl Line {
    fn new(row: &Row, shaper: &Shaper<'_>, text: &TextStyle, plain: bool) -> Line {
        let words = &row.shaped.text;
        let whole = row.shaped.start()..row.shaped.trimmed_end(words.len());
        let mut width = row.shaped.width(shaper, whole);
        let space = shaper.space(row.voice);
        if row.kind.is_prose() && text.align == Align::Justified {
            // The spaces of justified lines may be narrower.
            let spaces = words.chars().filter(|c| c.is_whitespace()).count();
            width = (width - space * spaces as i64).max(Length::ZERO);
        }
        if words.contains(is_unspaced) {
            // Signs that are set solid lose at most half of their room.
            width = width / 2;
        }
        let runs = words.split(|c: char| !c.is_whitespace());
        let longest = runs.map(|run| run.chars().count()).max().unwrap_or(0);
        // Of prose letters may hang too.
        let is_prose = row.kind.is_prose();
        let may_hang = |c: Option<char>| c.is_some_and(|c| is_prose || !c.is_alphanumeric());
        let mut ends = words.trim().chars();
        let (first, last) = (ends.next(), ends.next_back());
        Line {
            width,
            gap: space * longest as i64 * 2,
            plain: plain && row.kind.is_verse(),
            kind: row.kind.clone(),
            may_hang: (may_hang(first), may_hang(last)),
        }
    }

    /// How much of it might hang outside the measure at most, if it stands on one line.
    fn hangs(&self, hangs: Hang, size: Length) -> Length {
        let ends = match hangs {
            Hang::None => (false, false),
            // Only opening quotation marks hang.
            Hang::Quotes => (self.may_hang.0, false),
            Hang::All => self.may_hang,
        };
        hang(hangs, size) * (i64::from(ends.0) + i64::from(ends.1))
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
