//! The rules by their plain definitions, as the design's table has them, read off a whole book at once.

mod pictures;
mod words;

use std::ops::Range;

use versefold::panels::{Cost, Problem};
use versefold::plan::{Role, RuleName};

use super::brute::{Carried, area};

/// What a rule finds in a book: how often it is broken, and what that comes to where it is soft.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Found {
    pub broken: bool,
    pub cost: Cost,
}

impl Found {
    fn add(&mut self, broken: bool, cost: Cost) {
        self.broken |= broken;
        if broken {
            self.cost += cost;
        }
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
        (!found.broken).then_some(0)
    } else {
        Some(found.cost * Cost::from(weight.importance))
    }
}

fn find(book: Book<'_>, name: RuleName) -> Found {
    match name {
        RuleName::Fullest => words::fullest(book),
        RuleName::Emptiest => words::emptiest(book),
        RuleName::Couplets => words::couplets(book),
        RuleName::KeepTogether => words::keep_together(book),
        RuleName::NewPanel => words::new_panel(book),
        RuleName::Undivided => words::undivided(book),
        RuleName::FewestLines => words::fewest_lines(book),
        RuleName::EachPanel => words::each_panel(book),
        RuleName::PictureComes => pictures::picture_comes(book),
        RuleName::SharedPanels => pictures::shared_panels(book),
        RuleName::EvenFullness => words::even_fullness(book),
        RuleName::PictureWith => pictures::picture_with(book),
        RuleName::TextInARow => pictures::text_in_a_row(book),
        RuleName::PicturesInARow => pictures::pictures_in_a_row(book),
        RuleName::Blanks => pictures::blanks(book),
        RuleName::EndsWith => pictures::ends_with(book),
        RuleName::BlankBefore => pictures::blank_before(book),
        _ => words::fullness(book, name),
    }
}

/// The half lines that rows take at a setting; the space above the first vanishes.
pub fn used(problem: &Problem, setting: usize, rows: &Range<usize>) -> u32 {
    let mut used = 0;
    for row in rows.clone() {
        let facts = &problem.rows[row];
        if row > rows.start {
            used += facts.space_above;
        }
        if !facts.prose {
            used += problem.heights[setting][row];
        } else if row == rows.start || !facts.inner {
            used += 2 * lines_of(problem, setting, rows, row).len() as u32;
        }
    }
    used
}

/// The lines that the paragraph of a row has among these rows, each with the place it ends at, if any: the
/// setting from where the paragraph begins here, up to where it ends here.
pub fn lines_of(
    problem: &Problem,
    setting: usize,
    rows: &Range<usize>,
    row: usize,
) -> Vec<Option<usize>> {
    let begins = (rows.start..=row).rev().find(|&at| !problem.rows[at].inner);
    let falls = &problem.falls[setting];
    let mut lines = Vec::new();
    let mut next = falls.first[begins.unwrap_or(rows.start)];
    while let Some(line) = next.map(|at| falls.lines[at as usize]) {
        let end = line.to.map(|to| to as usize);
        lines.push(end);
        if end.is_some_and(|end| end >= rows.end) {
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

    /// Whether any picture stands in the part.
    fn has_pictures(&self) -> bool {
        (0..self.problem.pictures.len()).any(|picture| self.stands(picture).is_some())
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
            let used = used(self.problem, area.setting, &carried.rows);
            (u64::from(used), u64::from(area.capacity))
        })
    }

    /// Rows with which a panel begins, other than the first.
    fn divisions(&self) -> impl Iterator<Item = usize> {
        (1..self.problem.rows.len()).filter(|&row| self.panel_of(row) != self.panel_of(row - 1))
    }

    /// The paragraphs, place by place.
    fn paragraphs(&self) -> Vec<Range<usize>> {
        let rows = &self.problem.rows;
        let begins = (0..rows.len()).filter(|&row| rows[row].prose && !rows[row].inner);
        begins
            .map(|row| row..row + 1 + rows[row + 1..].iter().take_while(|row| row.inner).count())
            .collect()
    }

    /// How many lines of a stanza or paragraph stand among a panel's rows.
    fn lines_on(&self, panel: usize, of: &Range<usize>) -> usize {
        let rows = &self.panels[panel].rows;
        let here = of.start.max(rows.start)..of.end.min(rows.end);
        if here.is_empty() || !self.problem.rows[of.start].prose {
            return here.len();
        }
        let setting = area(self.problem, panel, &self.panels[panel]).map(|area| area.setting);
        setting.map_or(0, |setting| {
            lines_of(self.problem, setting, rows, here.end - 1).len()
        })
    }

    /// The stanzas: runs of verse lines of one block.
    fn stanzas(&self) -> Vec<Range<usize>> {
        let rows = &self.problem.rows;
        let mut stanzas: Vec<Range<usize>> = Vec::new();
        for row in (0..rows.len()).filter(|&row| rows[row].verse) {
            match stanzas.last_mut() {
                Some(last) if last.end == row && rows[last.start].block == rows[row].block => {
                    last.end = row + 1;
                }
                _ => stanzas.push(row..row + 1),
            }
        }
        stanzas
    }
}
