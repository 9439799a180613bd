//! What a book surely cannot do at another size, told from natural widths without setting a line.
//!
//! All is sound: widths are taken a little smaller than they should be, every line as short as its width allows,
//! every text area as it would really be. A line of verse wider than its measure turns over. Where even lines as short
//! as that cannot be divided over the panels under the hard rules that do not ask how much a panel carries, or are
//! more than all panels have, the words do not fit.

use super::book::{self, Book};
use super::fewest_lines::Falls;
use super::relaxed::Relaxed;
use crate::book::{PreparedBook, divide, may_give_way};
use crate::division::{AreaFacts, Problem};
use crate::names::{HalfLines, Length, LinesRun, Role};
use crate::paper::Strip;
use crate::plan::{Align, Hang, PartPlan, Plan, RuleName, TextStyle, Weight};
use crate::rules::Judges;
use crate::setting::{self, Area, Areas, Row, SetPart};
use crate::stack::{Filled, space_on_panels};
use crate::text::LineKind;
use crate::text::paragraph::{is_of_unspaced_script, is_unspaced};
use crate::typeface::Shaper;

/// Widths grow with the size but for how they are rounded: of what they should be, so many thousandths are sure.
const SURE: i64 = 998;

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
    /// Its breaks, if it is a paragraph of words with spaces between.
    falls: Option<Falls>,
}

/// How wide the narrowest and the widest area are that lines may stand in.
#[derive(Clone, Copy)]
struct Widths {
    narrowest: Length,
    widest: Length,
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
        let planned = |of: &OfPart| plan.parts.get(of.plan_index);
        let mut parts = self.parts.iter().filter_map(|of| Some((of, planned(of)?)));
        if parts.any(|(of, planned)| of.is_far_too_much(&areas, planned)) {
            return false;
        }
        let relaxed = self.parts.iter().map(|of| {
            let planned = planned(of)?;
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

    /// The areas that a panel of the part may have: its own, and those beside each picture.
    fn areas_of<'a>(&'a self, areas: &'a Areas, panel: usize) -> impl Iterator<Item = &'a Area> {
        let facts = &self.problem.panels[panel];
        let pictures = facts.shared.iter().zip(&self.problem.pictures);
        let shared = pictures.filter_map(|(facts, picture)| facts.map(|_| picture.name.as_str()));
        let own = facts.area.map(|_| None);
        let all = own.into_iter().chain(shared.map(Some));
        all.filter_map(|picture| Some(areas.get(areas.of(facts.name, picture)?)))
    }

    fn widths(&self, areas: &Areas) -> Widths {
        let panels = 0..self.problem.panels.len();
        let widths = panels.flat_map(|panel| self.areas_of(areas, panel));
        let widths: Vec<Length> = widths.map(|area| area.width).collect();
        Widths {
            narrowest: widths.iter().copied().min().unwrap_or_default(),
            widest: widths.iter().copied().max().unwrap_or_default(),
        }
    }

    /// How full a panel may be at most, in hundredths. Captions alone, and titles, fill theirs as they must.
    fn share(&self) -> u64 {
        let rules = &self.problem.rules;
        let captions = self.rows.iter().any(|row| row.kind == LineKind::Caption);
        let mut panels = self.problem.panels.iter();
        let titles = panels.any(|panel| panel.role == Some(Role::Title));
        match rules.is_hard(RuleName::Fullest) && !captions && !titles {
            true => u64::from(rules.fullest.0.min(100)),
            false => 100,
        }
    }

    /// Whether no space stands between any rows, so that words go down by whole lines.
    fn is_solid(&self, text: &TextStyle) -> bool {
        let spaces = &self.problem.stack.spaces;
        let none = spaces.iter().all(|space| *space == HalfLines::ZERO);
        none && text.stanza_space == self.stanza_space
    }

    /// Whether the words are more than all panels together would hold if no picture took room.
    fn is_far_too_much(&self, areas: &Areas, planned: &PartPlan) -> bool {
        let panels = 0..self.problem.panels.len();
        let share = self.share();
        let whole = self.is_solid(&planned.text);
        let deepest = panels.filter_map(|panel| {
            let areas = self.areas_of(areas, panel);
            let depth = areas.map(|area| u64::from(area.depth())).max()? * share / 100;
            Some(if whole { depth / 2 * 2 } else { depth })
        });
        let capacity: u64 = deepest.sum();
        let widths = self.widths(areas);
        let mut needed = 0;
        let words = self.rows.iter().filter(|row| row.kind != LineKind::Caption);
        let mut words = words.map(|row| self.least_lines(row, &planned.text, widths));
        words.any(|lines| {
            needed += u64::from(HalfLines::lines(lines));
            needed > capacity
        })
    }

    /// In how few lines a paragraph of the size could be set, if that can be told: where no word is near as wide as a line.
    fn fewest_lines(&self, line: &Line, text: &TextStyle, widths: Widths) -> Option<usize> {
        let falls = line.falls.as_ref()?;
        // What is longer at the plan's size is longer than the measure at the other.
        let longer = |length: Length| length.scaled(self.size.units(), text.size.units());
        if falls.longest * 2 > longer(widths.narrowest) {
            return None;
        }
        let measure = longer(widths.widest).scaled(1000, SURE);
        Some(falls.fewest_lines(measure, self.size))
    }

    /// How many lines a row takes at least.
    fn least_lines(&self, line: &Line, text: &TextStyle, widths: Widths) -> usize {
        if let Some(lines) = self.fewest_lines(line, text, widths) {
            return lines;
        }
        let widest = widths.widest;
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
        let widths = self.widths(areas);
        for panel in &mut problem.panels {
            let name = panel.name;
            let enter = |facts: &mut Option<AreaFacts>, picture: Option<&str>| {
                let Some(facts) = facts else { return };
                let Some(area) = areas.of(name, picture).map(|id| areas.get(id)) else {
                    return;
                };
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
        let least = |row: usize| HalfLines::lines(self.least_lines(&self.rows[row], text, widths));
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
            falls: match &row.paragraph {
                // What stands in, or beside an initial, has less room than its area.
                Some(paragraph)
                    if is_prose
                        && row.indent == Length::ZERO
                        && row.shaped.drop.is_none()
                        && !words.contains(is_of_unspaced_script) =>
                {
                    Some(Falls::of(paragraph, text.align == Align::Justified))
                }
                _ => None,
            },
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
