//! The rules by their plain definitions, as the design's table has them, read off a whole book at once.

use std::ops::Range;

use versefold::panels::{Cost, Ending, Problem};
use versefold::plan::{
    BlanksAt, EachPanel, Percent, PictureWith, Role, RuleName, SharedPanels, Undivided,
};

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
        RuleName::Fullest => fullest(book),
        RuleName::Emptiest => emptiest(book),
        RuleName::Couplets => couplets(book),
        RuleName::KeepTogether => keep_together(book),
        RuleName::NewPanel => new_panel(book),
        RuleName::Undivided => undivided(book),
        RuleName::FewestLines => fewest_lines(book),
        RuleName::EachPanel => each_panel(book),
        RuleName::PictureComes => picture_comes(book),
        RuleName::SharedPanels => shared_panels(book),
        RuleName::EvenFullness => even_fullness(book),
        RuleName::PictureWith => picture_with(book),
        RuleName::TextInARow => text_in_a_row(book),
        RuleName::PicturesInARow => pictures_in_a_row(book),
        RuleName::Blanks => blanks(book),
        RuleName::EndsWith => ends_with(book),
        RuleName::BlankBefore => blank_before(book),
        _ => fullness(book, name),
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

/// Whole percentage points between a share and what is asked.
fn points_off((used, capacity): (u64, u64), asked: Percent) -> u64 {
    let apart = (used * 100).abs_diff(u64::from(asked.0) * capacity);
    (1..=apart)
        .take_while(|points| points * capacity <= apart)
        .count() as u64
}

fn off_cost(points: u64) -> Cost {
    points * points / 10
}

fn fullest(book: Book<'_>) -> Found {
    let most = book.problem.rules.fullest;
    let mut found = Found::default();
    for (panel, _) in book.with_words() {
        let (used, capacity) = book.share(panel);
        let over = used * 100 > u64::from(most.0) * capacity;
        found.add(over, off_cost(points_off((used, capacity), most)));
    }
    found
}

fn emptiest(book: Book<'_>) -> Found {
    let least = book.problem.rules.emptiest;
    let mut found = Found::default();
    for (panel, _) in book.with_words() {
        let (used, capacity) = book.share(panel);
        let under = used * 100 < u64::from(least.0) * capacity;
        found.add(under, off_cost(points_off((used, capacity), least)));
    }
    found
}

/// Stanzas of two or three lines stand on one panel.
fn couplets(book: Book<'_>) -> Found {
    let mut found = Found::default();
    for stanza in book.stanzas().iter().filter(|stanza| stanza.len() <= 3) {
        let times = book
            .divisions()
            .filter(|row| stanza.start < *row && *row < stanza.end)
            .filter(|row| !book.problem.rows[*row].new_panel);
        times.for_each(|_| found.add(true, 160));
    }
    found
}

/// What one `[keep together]` holds stands on one panel, whatever its role.
fn keep_together(book: Book<'_>) -> Found {
    let rows = &book.problem.rows;
    let mut found = Found::default();
    for row in book.divisions() {
        found.add(
            rows[row].kept.is_some() && rows[row].kept == rows[row - 1].kept,
            160,
        );
    }
    found
}

/// A panel ends at each `[new panel]`.
fn new_panel(book: Book<'_>) -> Found {
    let mut found = Found::default();
    for row in (1..book.problem.rows.len()).filter(|&row| book.problem.rows[row].new_panel) {
        found.add(book.panel_of(row) == book.panel_of(row - 1), 100);
    }
    found
}

/// Stanzas, or sentences, are not divided but at a `[new panel]`. Where a title ends its panel, no sentence
/// ends.
fn undivided(book: Book<'_>) -> Found {
    let rows = &book.problem.rows;
    let stanzas = book.stanzas();
    let mut found = Found::default();
    for row in book.divisions().filter(|row| !rows[*row].new_panel) {
        let (above, below) = (&rows[row - 1], &rows[row]);
        let title = book.panels[book.panel_of(row - 1)].role == Role::Title;
        let (divided, worse, better) = match book.problem.rules.undivided {
            Undivided::Line => (false, true, false),
            Undivided::Stanza => (
                stanzas
                    .iter()
                    .any(|stanza| stanza.start < row && row < stanza.end),
                above.ending != Ending::RunsOn,
                above.ending == Ending::RunsOn,
            ),
            Undivided::Sentence => (
                above.ending != Ending::Sentence && !title,
                above.ending == Ending::RunsOn,
                above.ending == Ending::Pause,
            ),
        };
        let cost = match (below.may_divide, better, worse) {
            (true, ..) => 20,
            (_, true, _) => 60,
            _ => 160,
        };
        found.add(divided, cost);
    }
    found
}

/// Each piece of a divided stanza or paragraph has enough lines, unless only `[new panel]` cuts it off.
fn fewest_lines(book: Book<'_>) -> Found {
    let rows = &book.problem.rows;
    let fewest = book.problem.rules.fewest_lines as usize;
    let mut found = Found::default();
    for whole in book.stanzas().into_iter().chain(book.paragraphs()) {
        for (index, panel) in book.panels.iter().enumerate() {
            let first = whole.start.max(panel.rows.start);
            let end = whole.end.min(panel.rows.end);
            if first >= end {
                continue;
            }
            let cut_at_head = first > whole.start && !rows[first].new_panel;
            let cut_at_foot = end < whole.end && !rows[end].new_panel;
            let short = book.lines_on(index, &whole) < fewest;
            found.add((cut_at_head || cut_at_foot) && short, 100);
        }
    }
    found
}

/// What an ordinary panel of words carries.
fn each_panel(book: Book<'_>) -> Found {
    let wholes: Vec<Range<usize>> = book
        .stanzas()
        .into_iter()
        .chain(book.paragraphs())
        .collect();
    let mut found = Found::default();
    for (index, panel) in book.with_words() {
        let here =
            |whole: &&Range<usize>| whole.start < panel.rows.end && panel.rows.start < whole.end;
        let (off, cost) = match book.problem.rules.each_panel {
            EachPanel::Free => (0, 0),
            EachPanel::Stanza => {
                let off = (wholes.iter().filter(here).count() as u64).abs_diff(1);
                (off, 90 * off)
            }
            EachPanel::Lines(asked) => {
                let lines: usize = wholes.iter().map(|whole| book.lines_on(index, whole)).sum();
                let off = (lines as u64).abs_diff(u64::from(asked));
                (off, 10 * off * off)
            }
        };
        found.add(off > 0, cost);
    }
    found
}

/// The four fullnesses. A panel answers to one: to its own where a pin asks it, under its role's name; else
/// to that of the panel where the body's first words stand, headings aside, or where its last words stand;
/// else to its role's.
fn fullness(book: Book<'_>, name: RuleName) -> Found {
    let rules = &book.problem.rules;
    let last = book.problem.rows.len().saturating_sub(1);
    let first = book.problem.opening.min(last);
    let mut found = Found::default();
    for (index, panel) in book.with_words() {
        let by_role = match panel.role {
            Role::Shared => (RuleName::SharedFullness, rules.shared_fullness),
            _ => (RuleName::TextFullness, rules.text_fullness),
        };
        let body = book.problem.body;
        let (rule, asked) = match book.problem.panels[index].fullness {
            Some(pinned) => (by_role.0, pinned),
            None if body && panel.rows.contains(&first) => {
                (RuleName::FirstFullness, rules.first_fullness)
            }
            None if body && panel.rows.contains(&last) => {
                (RuleName::LastFullness, rules.last_fullness)
            }
            None => by_role,
        };
        if rule == name {
            let off = points_off(book.share(index), asked);
            found.add(off > 0, off_cost(off));
        }
    }
    found
}

/// The picture's first panel minus the panel of its words lies in the picture's window; a picture without words
/// has no distance.
fn picture_comes(book: Book<'_>) -> Found {
    let mut found = Found::default();
    for (index, picture) in book.problem.pictures.iter().enumerate() {
        let words = picture.word_row.map(|row| book.panel_of(row));
        if let (Some(stands), Some(words), Some(window)) =
            (book.stands(index), words, picture.comes)
        {
            let distance = stands as i64 - words as i64;
            let nearest = distance.clamp(window.soonest.into(), window.latest.into());
            let off = distance.abs_diff(nearest);
            found.add(off > 0, 40 * off);
        }
    }
    found
}

/// No panel has both words and a picture, or no picture stands without words.
fn shared_panels(book: Book<'_>) -> Found {
    let wrong = |panel: &Carried| match book.problem.rules.shared_panels {
        SharedPanels::Allowed => false,
        SharedPanels::Never => panel.role == Role::Shared,
        SharedPanels::Always => panel.role == Role::Picture,
    };
    let mut found = Found::default();
    for panel in book.panels {
        found.add(wrong(panel), 100);
    }
    found
}

/// Each text panel is as full as the text panel before it, in twentieths.
fn even_fullness(book: Book<'_>) -> Found {
    let mut found = Found::default();
    if !book.problem.rules.even_fullness {
        return found;
    }
    let text = |index: &usize| book.panels[*index].role == Role::Text;
    let text: Vec<usize> = (0..book.panels.len()).filter(text).collect();
    // The most twentieths that do not make more than the share.
    let twentieths = |panel: usize| {
        let (used, capacity) = book.share(panel);
        (0..=used * 20).rev().find(|&t| t * capacity <= used * 20)
    };
    for pair in text.windows(2) {
        if let (Some(one), Some(next)) = (twentieths(pair[0]), twentieths(pair[1])) {
            let apart = one.abs_diff(next);
            found.add(apart > 0, apart * apart);
        }
    }
    found
}

/// The spread of the picture's first panel minus that of the panel of its words is 0 or 1.
fn picture_with(book: Book<'_>) -> Found {
    let mut found = Found::default();
    let spread = |panel: usize| book.problem.panels[panel].spread as i64;
    for (index, picture) in book.problem.pictures.iter().enumerate() {
        let words = picture.word_row.map(|row| book.panel_of(row));
        if let (Some(stands), Some(words), Some(with)) = (book.stands(index), words, picture.with) {
            let asked = match with {
                PictureWith::SameSpread => 0,
                PictureWith::NextSpread => 1,
            };
            found.add(spread(stands) - spread(words) != asked, 120);
        }
    }
    found
}

/// The lengths of the runs of a role in a list.
fn runs(roles: &[Role], role: Role) -> Vec<u64> {
    let runs = roles.split(|other| *other != role);
    runs.map(|run| run.len() as u64).collect()
}

/// No more text panels in a row, in a part with pictures.
fn text_in_a_row(book: Book<'_>) -> Found {
    let most = u64::from(book.problem.rules.text_in_a_row);
    let roles: Vec<Role> = book.panels.iter().map(|panel| panel.role).collect();
    let mut found = Found::default();
    for run in runs(&roles, Role::Text) {
        found.add(
            book.has_pictures() && run > most,
            100 * run.saturating_sub(most),
        );
    }
    found
}

/// No more picture panels in a row, those on which a picture only goes on left aside.
fn pictures_in_a_row(book: Book<'_>) -> Found {
    let most = u64::from(book.problem.rules.pictures_in_a_row);
    let panels = (0..book.panels.len()).filter(|&panel| !book.picture_goes_on(panel));
    let roles: Vec<Role> = panels.map(|panel| book.panels[panel].role).collect();
    let mut found = Found::default();
    for run in runs(&roles, Role::Picture) {
        found.add(run > most, 100 * run.saturating_sub(most));
    }
    found
}

/// As many blank panels as are asked in the first run, in the last or in all, and no other. A part that would
/// have to be blank throughout is not asked.
fn blanks(book: Book<'_>) -> Found {
    let mut found = Found::default();
    let panels = book.panels.len();
    let asked = book.problem.rules.blanks;
    let Some(asked) = asked.filter(|asked| panels > usize::from(asked.count)) else {
        return found;
    };
    let blank: Vec<bool> = (book.panels.iter())
        .map(|panel| panel.role == Role::Blank)
        .collect();
    let all = blank.iter().filter(|blank| **blank).count();
    let counted = match asked.at {
        BlanksAt::Start => blank.iter().position(|blank| !blank).unwrap_or(panels),
        BlanksAt::End => {
            let last = blank.iter().rposition(|blank| !blank);
            last.map_or(panels, |last| panels - 1 - last)
        }
        BlanksAt::Anywhere => all,
    };
    let off = counted.abs_diff(asked.count.into()) + (all - counted);
    found.add(off > 0, 80 * off as u64);
    found
}

/// The last panel that is not blank has the role, if there is such a panel and, for a role with a picture, if
/// there is a picture. Asked for blank, the last panel is.
fn ends_with(book: Book<'_>) -> Found {
    let mut found = Found::default();
    let Some(asked) = book.problem.rules.ends_with else {
        return found;
    };
    let roles = book.panels.iter().map(|panel| panel.role);
    let last = match asked {
        Role::Blank => roles.last(),
        _ => roles.filter(|role| *role != Role::Blank).last(),
    };
    let asks = book.has_pictures() || !asked.has_picture();
    found.add(asks && last.is_some_and(|role| role != asked), 80);
    found
}

/// The panel before the picture's first panel is blank, and there is one.
fn blank_before(book: Book<'_>) -> Found {
    let mut found = Found::default();
    for (index, picture) in book.problem.pictures.iter().enumerate() {
        let Some(stands) = book.stands(index).filter(|_| picture.blank_before) else {
            continue;
        };
        let blank = stands > 0 && book.panels[stands - 1].role == Role::Blank;
        found.add(!blank, 80);
    }
    found
}
