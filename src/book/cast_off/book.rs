//! The book at other sizes and on other numbers of panels, and what it then comes to.

use std::collections::HashSet;
use std::sync::Arc;

use super::{Cell, Largest, SizeRow, distinct, largest, letters};
use crate::book::divide::divide_book;
use crate::book::plan_file::vary::{Variation, vary};
use crate::book::{PreparedBook, may_give_way};
use crate::division::{PanelDivision, PartDivision, Problem, RememberedSearches, fewest_of_words};
use crate::names::{Cover, Faults, HalfLines, Length, PanelName, Role, Source};
use crate::paper::Strip;
use crate::plan::{Plan, RuleName};
use crate::setting::{self, Remembered, Row, SetLines, SetPart, Stand};
use crate::text::Manuscript;
use crate::typeface::FontLibrary;

/// What a division of the book comes to.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Figures {
    /// The mean share of their text areas' depth that words take, over the panels with words of the manuscript; of a
    /// picture's panel with no more than its caption none is counted.
    pub fullness: f64,
    /// How many lines turn over.
    pub turned_over: usize,
    /// How many stanzas stand on more than one panel.
    pub stanzas_divided: usize,
    /// How many panels of the strip could carry pictures and no words: those that the words do not need at the fewest,
    /// pinned ones aside. Where it is not known how few that is, those that this division leaves.
    pub free: usize,
}

/// The panels that one part has and needs.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct PartRoom {
    /// The part.
    pub name: String,
    /// How many panels it has.
    pub has: usize,
    /// The fewest that its words take, all stanzas whole; nothing where there is no number.
    pub fewest_whole: Option<usize>,
    /// The same where stanzas may be divided, if the plan lets them.
    pub fewest: Option<usize>,
}

/// What the cast-off is made from.
pub(super) struct Book<'a> {
    pub source: &'a Arc<Source>,
    pub manuscript: Arc<Manuscript>,
    pub plan: Arc<Plan>,
    pub fonts: &'a FontLibrary,
}

impl Book<'_> {
    /// The plan at a size, as if it were written so; at the plan's own, as it is.
    pub fn plan_at(&self, size: Length) -> Result<Arc<Plan>, Faults> {
        let size = (size != self.plan.text.size).then_some(size);
        self.plan_with(Variation { size, panels: None })
    }

    fn plan_with(&self, variation: Variation) -> Result<Arc<Plan>, Faults> {
        match variation == Variation::default() {
            true => Ok(Arc::clone(&self.plan)),
            false => vary(self.source, variation).map(Arc::new),
        }
    }

    /// Sets the lines of a plan.
    pub fn set(
        &self,
        plan: &Plan,
        strip: &Strip,
        remembered: &mut Remembered,
    ) -> Result<SetLines, Faults> {
        setting::set_again(&self.manuscript, plan, strip, self.fonts, remembered)
    }

    /// The book with a variation, ready to be divided.
    pub fn prepare(
        &self,
        variation: Variation,
        remembered: &mut Remembered,
    ) -> Result<PreparedBook, Faults> {
        let plan = self.plan_with(variation)?;
        self.pose_plan(plan, remembered)
    }

    /// The book under another plan, ready to be divided.
    pub fn pose_plan(
        &self,
        plan: Arc<Plan>,
        remembered: &mut Remembered,
    ) -> Result<PreparedBook, Faults> {
        let strip = Strip::new(plan.paper);
        let set = self.set(&plan, &strip, remembered)?;
        PreparedBook::new(Arc::clone(&self.manuscript), plan, strip, Arc::new(set))
    }

    /// The sizes of the table where none is named: the plan's, steps of half a point around it, and those found.
    pub fn sizes_around(&self, found: [Option<Largest>; 2]) -> Vec<Length> {
        let half = Length::pt(1) / 2;
        let steps = (-2..=2).map(|steps| self.plan.text.size + half * steps);
        let found = found.into_iter().flatten().map(|found| found.size);
        let allowed = |size: &Length| (largest::SMALLEST..=largest::LARGEST).contains(size);
        distinct(&steps.filter(allowed).chain(found).collect::<Vec<_>>())
    }

    /// What becomes of a size on each number of panels. Its lines are set once, or not at all where it is among those of
    /// which it is `known` what they came to.
    ///
    /// # Errors
    /// What the plan then has wrong on its own number of panels.
    pub fn row(
        &self,
        size: Length,
        tried: &[u16],
        known: &[(Length, Remembered)],
    ) -> Result<SizeRow, Faults> {
        let known = known.iter().find(|(known, _)| *known == size);
        let known = known.map(|(_, remembered)| remembered.of_whole_parts());
        let mut remembered = known.unwrap_or_default();
        let size = (size != self.plan.text.size).then_some(size);
        let prepared = self.prepare(Variation { size, panels: None }, &mut remembered)?;
        let own = prepared.plan.paper.panels.per_side;
        let fewest = Fewest::of(&prepared);
        let cells = tried.iter().map(|&panels| {
            if panels == own {
                return cell(&prepared, fewest);
            }
            let panels = Some(panels);
            match self.prepare(Variation { size, panels }, &mut remembered) {
                Ok(prepared) => cell(&prepared, fewest),
                Err(faults) => Cell::Wrong(faults),
            }
        });
        let cells = cells.collect();
        let characters = letters::Letters::of(&prepared);
        Ok(SizeRow {
            size: prepared.plan.text.size,
            leading: prepared.plan.text.leading,
            characters: characters.map(|letters| letters.holds),
            turned_over: turned_over_on_plain_panels(&prepared.set, &prepared.plan),
            fewest_whole: fewest.whole,
            fewest: fewest.divided,
            cells,
        })
    }
}

/// The fewest panels that words take: with all stanzas whole, and where they may be divided.
#[derive(Clone, Copy)]
pub(super) struct Fewest {
    whole: Option<usize>,
    divided: Option<usize>,
}

impl Fewest {
    /// Those that the words of all parts take; no number where two go side by side.
    pub fn of(prepared: &PreparedBook) -> Fewest {
        let parts = 0..prepared.problems.len();
        let parts: Vec<Fewest> = parts.map(|at| Fewest::of_part(prepared, at)).collect();
        Fewest {
            whole: parts.iter().map(|part| part.whole).sum(),
            divided: parts.iter().map(|part| part.divided).sum(),
        }
    }

    fn of_part(prepared: &PreparedBook, at: usize) -> Fewest {
        if !prepared.groups().contains(&vec![at]) {
            return Fewest {
                whole: None,
                divided: None,
            };
        }
        let problem = &prepared.problems[at];
        let soft: Vec<RuleName> = may_give_way(&[problem]).into_iter().collect();
        Fewest {
            whole: fewest_of_words(problem, &[]),
            divided: fewest_of_words(problem, &soft),
        }
    }
}

/// What each part has and needs, where there are several.
pub(super) fn rooms(prepared: &PreparedBook) -> Vec<PartRoom> {
    let parts = prepared.set.parts.iter().enumerate();
    let rooms = parts.map(|(at, part)| {
        let Fewest { whole, divided } = Fewest::of_part(prepared, at);
        PartRoom {
            name: part.name.clone(),
            has: prepared.problems[at].panels.len(),
            fewest_whole: whole,
            fewest: divided,
        }
    });
    rooms.collect::<Vec<_>>()
}

/// The best division of every part, as `flow` finds it; nothing where there is none of some.
pub(super) fn division(prepared: &PreparedBook) -> Option<Vec<PartDivision>> {
    let division = divide_book(prepared, |problems, find| {
        let problems: Vec<&Problem> = problems.iter().map(|problem| &**problem).collect();
        find(&problems, &mut RememberedSearches::none())
    });
    division.ok().map(|division| division.parts)
}

fn cell(prepared: &PreparedBook, fewest: Fewest) -> Cell {
    match division(prepared) {
        Some(parts) => Cell::Fits(figures(prepared, &parts, Some(fewest))),
        None => Cell::TooMuch,
    }
}

/// What a division comes to.
pub(super) fn figures(
    prepared: &PreparedBook,
    parts: &[PartDivision],
    fewest: Option<Fewest>,
) -> Figures {
    let has_words = |panel: &&PanelDivision| panel.role.has_words() && !panel.rows.is_empty();
    let panels = || parts.iter().flat_map(|part| &part.panels);
    let with_words: Vec<&PanelDivision> = panels().filter(has_words).collect();
    let shares = with_words
        .iter()
        .filter(|panel| panel.capacity > HalfLines::ZERO);
    let shares = shares.map(|panel| f64::from(panel.used) / f64::from(panel.capacity));
    let numbered = || parts.iter().enumerate();
    let stanzas_divided: usize = numbered()
        .map(|(at, part)| stanzas_divided(prepared, at, part))
        .sum();
    let needed = fewest.and_then(|fewest| match stanzas_divided {
        0 => fewest.whole.or(fewest.divided),
        _ => fewest.divided,
    });
    Figures {
        fullness: shares.sum::<f64>() / with_words.len().max(1) as f64,
        turned_over: numbered()
            .map(|(at, part)| turned_over(prepared, at, part))
            .sum(),
        stanzas_divided,
        free: free(prepared, parts, needed),
    }
}

/// How many panels could carry pictures alone, if the words need so many.
fn free(prepared: &PreparedBook, parts: &[PartDivision], needed: Option<usize>) -> usize {
    let pinned = |panel| prepared.plan.pin(panel).and_then(|pin| pin.role);
    let role = |panel| {
        let divided = parts.iter().flat_map(|part| &part.panels);
        let mut divided = divided.filter(|divided| divided.panel == panel);
        divided.next().map(|divided| divided.role).or(pinned(panel))
    };
    let boards = prepared.plan.paper.cover == Cover::Boards;
    let panels = prepared.strip.panels();
    let open = panels.filter(|panel| !(boards && prepared.strip.outside().contains(panel)));
    let has_words = |panel: &PanelName| role(*panel).is_some_and(Role::has_words);
    let (words, left): (Vec<PanelName>, Vec<PanelName>) = open.partition(has_words);
    let may_change = |panel: &&PanelName| pinned(**panel).is_none();
    let spare = words.iter().filter(may_change).count();
    let spare = needed.map_or(0, |needed| words.len().saturating_sub(needed).min(spare));
    let blank = |panel: &&PanelName| pinned(**panel) == Some(Role::Blank);
    left.iter().filter(|panel| !blank(panel)).count() + spare
}

/// The stanzas of a part that stand on more than one panel.
fn stanzas_divided(prepared: &PreparedBook, at: usize, part: &PartDivision) -> usize {
    let rows = &prepared.problems[at].rows;
    let mut seen: HashSet<usize> = HashSet::new();
    let mut divided: HashSet<usize> = HashSet::new();
    for panel in &part.panels {
        let verse = rows[panel.rows.clone()].iter();
        let verse = verse.filter(|row| row.verse && row.caption.is_none());
        let here: HashSet<usize> = verse.map(|row| row.block).collect();
        divided.extend(here.intersection(&seen));
        seen.extend(here);
    }
    divided.len()
}

/// The lines of a part that turn over where they stand.
fn turned_over(prepared: &PreparedBook, at: usize, divided: &PartDivision) -> usize {
    let part = &prepared.set.parts[at];
    let problem = &prepared.problems[at];
    let on_panel = |panel: &PanelDivision| {
        let picture = panel.picture.filter(|_| panel.role.has_picture());
        let picture = picture.map(|picture| problem.pictures[picture].name.as_str());
        let area = prepared.set.areas.of(panel.panel, picture);
        let Some(column) = area.and_then(|area| part.column_of_area[area.0]) else {
            return 0;
        };
        let standing = problem.stack.standing(column, panel.rows.clone());
        let turned = standing.iter().filter(|here| {
            let row = &part.rows[part.places[here.place].row];
            turns(row.at[column].stand(here.slot))
        });
        turned.count()
    };
    divided.panels.iter().map(on_panel).sum()
}

fn turns(stand: &Stand) -> bool {
    stand.pieces.iter().any(|piece| piece.turnover)
}

/// How many lines are verse.
pub(super) fn lines_of_verse(set: &SetLines) -> usize {
    let rows = set.parts.iter().flat_map(|part| part.rows.iter());
    rows.filter(|row| row.kind.is_verse()).count()
}

/// Whether more of the text is prose than verse, by its letters.
pub(super) fn mostly_prose(set: &SetLines) -> bool {
    let rows = || set.parts.iter().flat_map(|part| part.rows.iter());
    let letters = |row: &Row| row.shaped.text.len();
    let prose: usize = rows().filter(|row| row.kind.is_prose()).map(letters).sum();
    let verse: usize = rows().filter(|row| row.kind.is_verse()).map(letters).sum();
    prose > verse
}

/// The column that a part has on its panels of words alone: the plain one that most of those have on which nothing is
/// pinned, and of equals the first. Nothing where all of them follow shapes.
pub(super) fn plain_column(set: &SetLines, part: &SetPart, plan: &Plan) -> Option<usize> {
    let panels = plan.parts[part.plan_index].on.iter();
    let plain = panels.filter(|panel| plan.pin(**panel).is_none());
    let columns = plain.filter_map(|panel| part.column_of_area[set.areas.of(*panel, None)?.0]);
    let mut counts = vec![0usize; part.columns.len()];
    for column in columns.filter(|column| part.columns[*column].is_plain()) {
        counts[column] += 1;
    }
    let most = counts.iter().copied().max().filter(|most| *most > 0)?;
    counts.iter().position(|count| *count == most)
}

/// How many lines of verse would turn over if all stood on panels of words alone.
pub(super) fn turned_over_on_plain_panels(set: &SetLines, plan: &Plan) -> usize {
    let of_part = |part: &SetPart| {
        let column = plain_column(set, part, plan)?;
        let rows = part.rows.iter();
        let rows = rows.filter(|row| row.kind.is_verse() && turns(row.at[column].stand(0)));
        Some(rows.count())
    };
    set.parts.iter().filter_map(of_part).sum()
}
