//! The rules by their plain definitions, as the table of rules in `README.md` has them, read off a whole book at once.

mod blanks;
mod chosen;
mod long;
mod pictures;
mod sections;
mod shapes;
mod unnamed;
mod words;

pub use shapes::standing;
pub use unnamed::asked as unnamed_pictures;

use std::ops::Range;

use versefold::division::{Cost, Problem, RowFacts};
use versefold::names::{HalfLines, Role};
use versefold::plan::RuleName;
use versefold::stack::{Filled, Line, Start, Takes};

use super::brute::{Carried, area};

/// What a rule finds in a book: whether it is broken, and what it asks; where it is soft, of what breaks it too.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Breach {
    pub broken: bool,
    pub cost: Cost,
}

impl Breach {
    fn add(&mut self, broken: bool, cost: Cost) {
        self.broken |= broken;
        if broken {
            self.cost += cost;
        }
    }

    /// What breaks nothing and yet costs something.
    fn allow(&mut self, cost: Cost) {
        self.cost += cost;
    }
}

/// A book with its problem.
#[derive(Clone, Copy)]
struct Book<'a> {
    problem: &'a Problem,
    panels: &'a [Carried],
}

/// What a book costs; nothing where it breaks a hard rule that is not in `soft`.
pub fn cost(problem: &Problem, panels: &[Carried], soft: &[RuleName]) -> Option<Cost> {
    let rules = RuleName::ALL.iter().map(|(name, ..)| *name);
    rules.into_iter().try_fold(0, |sum, name| {
        Some(sum + cost_of(problem, panels, soft, name)?)
    })
}

/// What a book costs by one rule; nothing where it breaks it and the rule is hard.
pub fn cost_of(
    problem: &Problem,
    panels: &[Carried],
    soft: &[RuleName],
    name: RuleName,
) -> Option<Cost> {
    let found = find(Book { problem, panels }, name);
    let weight = problem.rules.weight(name);
    let by_default = RuleName::ALL.iter().any(|rule| rule.0 == name && rule.2);
    if weight.hard.unwrap_or(by_default) && !soft.contains(&name) {
        (!found.broken).then_some(found.cost * Cost::from(weight.importance))
    } else {
        Some(found.cost * Cost::from(weight.importance))
    }
}

fn find(book: Book<'_>, name: RuleName) -> Breach {
    match name {
        RuleName::Fullest => words::fullest(book),
        RuleName::Emptiest => words::emptiest(book),
        RuleName::Couplets => words::couplets(book),
        RuleName::KeepTogether => words::keep_together(book),
        RuleName::NewPanel => words::new_panel(book),
        RuleName::Undivided => words::undivided(book),
        RuleName::FewestLines => words::fewest_lines(book),
        RuleName::PanelsEnd => words::panels_end(book),
        RuleName::HeadingsBegin => sections::headings_begin(book),
        RuleName::EachPanel => words::each_panel(book),
        RuleName::TextFullness
        | RuleName::SharedFullness
        | RuleName::FirstFullness
        | RuleName::LastFullness => words::fullness(book, name),
        RuleName::PictureComes => pictures::picture_comes(book),
        RuleName::SharedPanels => pictures::shared_panels(book),
        RuleName::EvenFullness => words::even_fullness(book),
        RuleName::EvenSpreads => words::even_spreads(book),
        RuleName::PictureOrder => pictures::picture_order(book),
        RuleName::Nearness => pictures::nearness(book),
        RuleName::SparePanels => blanks::spare_panels(book),
        RuleName::SectionsApart => blanks::sections_apart(book),
        RuleName::PictureWith => pictures::picture_with(book),
        RuleName::StaysWithin => pictures::stays_within(book),
        RuleName::ShowThrough => pictures::show_through(book),
        RuleName::TextInARow => pictures::text_in_a_row(book),
        RuleName::PicturesInARow => pictures::pictures_in_a_row(book),
        RuleName::Pictures => unnamed::pictures(book),
        RuleName::Pace => unnamed::pace(book),
        RuleName::PicturesBetween => unnamed::pictures_between(book),
        RuleName::PicturesBeside => unnamed::pictures_beside(book),
        RuleName::Blanks => blanks::blanks(book),
        RuleName::EndsWith => pictures::ends_with(book),
        RuleName::LastSpread => pictures::last_spread(book),
        RuleName::BlankBefore => blanks::blank_before(book),
        RuleName::Reveal => pictures::reveal(book),
        RuleName::BlankBetween => sections::blank_between(book),
        RuleName::ChosenBreaks => chosen::chosen_breaks(book),
    }
}

/// The half lines that rows take at a setting; the space above the first vanishes. In a shaped area, those down to
/// the last slot that they stand on.
pub fn used(problem: &Problem, column: usize, rows: &Range<usize>) -> HalfLines {
    let filled = &problem.stack.columns[column];
    if !filled.boxes.is_plain() {
        let standing = standing(problem, filled, rows);
        return HalfLines::lines(standing.last().map_or(0, |last| last.foot));
    }
    let mut used = 0;
    for row in rows.clone() {
        let facts = &problem.rows[row];
        if row > rows.start {
            used += problem.stack.spaces[row].count();
        }
        if !facts.prose {
            used += takes(filled, row).map_or(0, |takes| takes.height.count());
        } else if row == rows.start || !facts.inner {
            used += 2 * lines_of(problem, column, rows, row).len() as u32;
        }
    }
    HalfLines::new(used)
}

/// What the row that begins at a place takes of a plain column; nothing within a paragraph.
fn takes(filled: &Filled, place: usize) -> Option<&Takes> {
    match filled.starts[place] {
        Start::Row(takes) => Some(&filled.takes[takes as usize]),
        Start::Within(_) => None,
    }
}

/// The lines that the paragraph of a row has among these rows, each with the place it ends at, if any: the
/// setting from where the paragraph begins here, up to where it ends here.
pub fn lines_of(
    problem: &Problem,
    column: usize,
    rows: &Range<usize>,
    row: usize,
) -> Vec<Option<usize>> {
    let begins = (rows.start..=row).rev().find(|&at| !problem.rows[at].inner);
    let begins = begins.unwrap_or(rows.start);
    let filled = &problem.stack.columns[column];
    let first = match (filled.boxes.is_plain(), filled.starts[begins]) {
        (true, Start::Within(line)) => Some(line),
        (true, Start::Row(_)) => takes(filled, begins).and_then(|takes| takes.line),
        (false, _) => {
            let standing = standing(problem, filled, rows);
            let here = standing.iter().find(|here| here.row == begins);
            here.and_then(|here| here.line)
        }
    };
    let lines = lines_from(filled, first, rows.end);
    let end = |line: &Line| line.to.map(|to| to as usize);
    lines.iter().map(end).collect()
}

/// The lines from one on, up to the first that ends at a place or below it.
fn lines_from(filled: &Filled, first: Option<u32>, to: usize) -> Vec<Line> {
    let mut lines = Vec::new();
    let mut next = first;
    while let Some(line) = next.map(|at| filled.lines[at as usize]) {
        lines.push(line);
        if line.to.is_some_and(|end| end as usize >= to) {
            break;
        }
        next = line.next;
    }
    lines
}

impl Book<'_> {
    /// The panels of ordinary words.
    fn with_words(&self) -> impl Iterator<Item = (usize, &Carried)> {
        let words = |panel: &&Carried| matches!(panel.role, Role::Text | Role::Shared);
        let panels = self.panels.iter().enumerate();
        panels.filter(move |(_, panel)| words(panel))
    }

    /// Whether any picture stands in the part, or shall stand there.
    fn has_pictures(&self) -> bool {
        unnamed_pictures(self.problem) > 0
            || (0..self.problem.pictures.len()).any(|picture| self.stands(picture).is_some())
    }

    /// The first panel of a picture.
    fn stands(&self, picture: usize) -> Option<usize> {
        let mut panels = self.panels.iter();
        panels.position(|panel| panel.picture == Some(picture))
    }

    /// Whether a panel's picture stands on an earlier one already.
    fn picture_goes_on(&self, panel: usize) -> bool {
        let picture = self.panels[panel].picture;
        picture.is_some_and(|picture| self.stands(picture) != Some(panel))
    }

    fn panel_of(&self, row: usize) -> usize {
        self.panels
            .iter()
            .position(|panel| panel.rows.contains(&row))
            .expect("every row stands on a panel")
    }

    /// Half lines used and half lines there are.
    fn share(&self, panel: usize) -> (u64, u64) {
        let carried = &self.panels[panel];
        area(self.problem, panel, carried).map_or((0, 0), |area| {
            let used = used(self.problem, area.column, &carried.rows);
            (u64::from(used), u64::from(area.capacity))
        })
    }

    /// Rows with which a panel begins, other than the first.
    fn divisions(&self) -> impl Iterator<Item = usize> {
        (1..self.problem.rows.len()).filter(|&row| self.panel_of(row) != self.panel_of(row - 1))
    }

    /// The rows that are no captions.
    fn text(&self) -> Vec<usize> {
        let rows = &self.problem.rows;
        let text = (0..rows.len()).filter(|&row| rows[row].caption.is_none());
        text.collect()
    }

    /// Rows of text next to each other, captions between them or none, that stand on two panels.
    fn partings(&self) -> Vec<(usize, usize)> {
        let text = self.text();
        let pairs = text.windows(2).map(|pair| (pair[0], pair[1]));
        let parted =
            |(above, below): &(usize, usize)| self.panel_of(*above) != self.panel_of(*below);
        pairs.filter(parted).collect()
    }

    /// Whether the author divides somewhere between two rows of text: by `[new panel]`, or because she chose to.
    fn author_divides(&self, (above, below): (usize, usize)) -> bool {
        let chosen = |row: usize| self.problem.chosen_ends.contains(&row);
        (above + 1..=below).any(|row| self.problem.rows[row].new_panel || chosen(row))
    }

    /// Runs of rows of text of one block and kind, whatever captions stand among them.
    fn wholes(&self, kind: impl Fn(&RowFacts) -> bool) -> Vec<Vec<usize>> {
        let rows = &self.problem.rows;
        let mut wholes: Vec<Vec<usize>> = Vec::new();
        let mut before: Option<usize> = None;
        for row in self.text() {
            let of_kind = kind(&rows[row]);
            let goes_on = before
                .is_some_and(|before| kind(&rows[before]) && rows[before].block == rows[row].block);
            match wholes.last_mut() {
                Some(last) if of_kind && goes_on => last.push(row),
                _ if of_kind => wholes.push(vec![row]),
                _ => {}
            }
            before = Some(row);
        }
        wholes
    }

    /// The stanzas, line by line.
    fn stanzas(&self) -> Vec<Vec<usize>> {
        self.wholes(|row| row.verse)
    }

    /// The paragraphs, place by place.
    fn paragraphs(&self) -> Vec<Vec<usize>> {
        self.wholes(|row| row.prose)
    }

    /// How many lines of a stanza or paragraph stand among a panel's rows.
    fn lines_on(&self, panel: usize, of: &[usize]) -> usize {
        let carried = &self.panels[panel];
        let here: Vec<usize> = (of.iter().copied())
            .filter(|row| carried.rows.contains(row))
            .collect();
        if !self.problem.rows[of[0]].prose {
            return here.len();
        }
        let setting = area(self.problem, panel, carried).map(|area| area.column);
        // Captions may part the paragraph: lines are set anew behind each.
        let begins = |row: &&usize| **row == carried.rows.start || !self.problem.rows[**row].inner;
        let lines = |row: &usize| {
            setting.map_or(0, |setting| {
                lines_of(self.problem, setting, &carried.rows, *row).len()
            })
        };
        here.iter().filter(begins).map(lines).sum()
    }
}
