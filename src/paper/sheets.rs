//! How the strip is cut from sheets and joined again.
//!
//! Lengths along the strip are measured from its left edge as seen from the front, whichever side is spoken of. The
//! strip has as few sheets as can be. They are about as long as each other, and joined at folds: never where words
//! would lie in the join, and beside blank panels where possible. From three sheets on the joins lie by turns at the
//! two edges of the closed book, so that it does not grow thicker at one of them.

use super::Strip;
use super::joins::{CuttingTask, Join, StripContents, best};
use super::sheet_layout::{lay_sheet, too_short};
use crate::names::{Direction, Fault, Grain, Length, PanelName, Side, Turned};
use crate::plan::SheetsPlan;

/// The longest page that is not measured in larger units (ISO 32000-1, annex C: 14,400 points).
pub const LONGEST_PAGE: Length = Length::mm(5080);
/// How long marks outside the trim are.
pub const MARK: Length = Length::mm(5);
/// Marks keep at least this far from the trim.
const CLEAR: Length = Length::mm(2);
/// From here on no sheets are cut; paper comes from rolls. The longest side of ISO 216 A0.
const ROLL: Length = Length::mm(1189);

/// A sheet, and what of the strip it carries.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Sheet {
    /// Its number: sheet 1 carries front 1.
    pub number: usize,
    /// The first and the last of its front panels, by number.
    pub panels: (u16, u16),
    /// Where its panels begin along the strip.
    pub from: Length,
    /// Where they end.
    pub to: Length,
    /// How far it goes beyond its panels, to be pasted behind a neighbour: at the left and at the right.
    pub tabs: (Length, Length),
    /// How much of its back a neighbour's tab covers: at the left and at the right.
    pub covered: (Length, Length),
    /// Paper beyond the last panel, trimmed off when the strip is folded: at the left and at the right.
    pub spare: (Length, Length),
}

impl Sheet {
    /// Where it is cut, along the strip, at the left and at the right; spare paper is cut off later.
    pub fn cut(&self) -> (Length, Length) {
        (self.from - self.tabs.0, self.to + self.tabs.1)
    }

    /// How long the paper is, with what is spare.
    pub fn paper(&self) -> Length {
        let (left, right) = self.cut();
        right - left + self.spare.0 + self.spare.1
    }
}

/// The strip's sheets.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Sheets {
    /// The sheets, in the order of the front's panels.
    pub sheets: Vec<Sheet>,
    /// The joins between them, in that order.
    pub joins: Vec<Join>,
    /// The size of the page that each is printed on: along the strip, and across it.
    pub page: (Length, Length),
    /// How far art goes beyond the trim.
    pub bleed: Length,
    /// How far art goes under a neighbour.
    pub under_run: Length,
    /// What the reader is told of the grain.
    pub grain: GrainAdvice,
    /// The joins over words, where no way of joining was free of them.
    pub words_in_joins: Vec<Join>,
}

/// What the reader is told of the paper's grain, which must run from head to tail.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum GrainAdvice {
    /// The sheet's grain is known, and it is laid so.
    Laid,
    /// A sheet of this grain must be asked for.
    AskFor(Grain),
    /// A sheet cut for the strip, with its grain across the strip's length.
    CutAcross,
    /// So long a sheet comes from a roll, whose grain runs along it: the wrong way.
    Roll,
}

impl Sheets {
    /// The sheets of a strip. `carried` tells what its panels carry.
    ///
    /// # Errors
    /// A [`Fault`] of the word `sheet` where the sheet is too low for the strip, or has no room for two of its panels.
    pub fn new(
        strip: &Strip,
        plan: &SheetsPlan,
        carried: &StripContents<'_>,
    ) -> Result<Sheets, Fault> {
        let paper = strip.paper();
        let marks = paper.bleed.max(CLEAR) + MARK;
        let size = lay_sheet(strip, plan, marks)?;
        // Marks lie within what the press can print.
        let around = (marks + plan.gripper) * 2;
        let longest = match (size.along, plan.longest) {
            (Some(along), Some(longest)) => Some(along.min(longest)),
            (along, longest) => along.or(longest),
        };
        let room = longest.unwrap_or(LONGEST_PAGE) - around;
        let alone = strip.length() + plan.spare <= room;
        if !alone && room < paper.narrowest() * 2 {
            return Err(too_short(strip, plan, room));
        }
        let Some((sheets, joins)) = cut_into(strip, plan, carried, room) else {
            return Err(too_short(strip, plan, room));
        };
        let longest = sheets.iter().map(Sheet::paper);
        let longest = longest.fold(Length::ZERO, Length::max);
        let page = match (size.along, size.across) {
            (Some(along), Some(across)) => (along, across),
            _ => (longest + around, paper.panel_height + around),
        };
        let grain = match size.grain {
            GrainAdvice::CutAcross if page.0 > ROLL => GrainAdvice::Roll,
            other => other,
        };
        Ok(Sheets {
            words_in_joins: joins
                .iter()
                .filter(|join| join.over_words)
                .cloned()
                .collect(),
            sheets,
            joins,
            page,
            bleed: paper.bleed,
            under_run: plan.under_run,
            grain,
        })
    }

    /// The pieces of a mock-up: no longer than `room`, joined by tabs of that width, wherever words stand.
    ///
    /// There are none where no panel fits with its tab.
    pub fn pieces(strip: &Strip, room: Length, tab: Length) -> Option<Sheets> {
        let plan = SheetsPlan {
            tab,
            under_run: Length::ZERO,
            spare: Length::ZERO,
            ..SheetsPlan::default()
        };
        let (sheets, joins) = cut_into(strip, &plan, &StripContents::nothing(), room)?;
        Some(Sheets {
            sheets,
            joins,
            page: (room, strip.paper().panel_height),
            bleed: Length::ZERO,
            under_run: Length::ZERO,
            grain: GrainAdvice::CutAcross,
            words_in_joins: Vec::new(),
        })
    }

    /// Where a point along the strip lies on a sheet's page, from the page's left edge, as seen from a side. The paper lies
    /// in the middle of its page.
    pub fn on_page(&self, strip: &Strip, sheet: &Sheet, side: Side, along: Length) -> Length {
        let margin = (self.page.0 - sheet.paper()) / 2;
        let (left, _) = sheet.cut();
        let from_left = along - left + sheet.spare.0 + margin;
        match (side, strip.paper().turned) {
            (Side::Front, _) | (_, Turned::HeadToFoot) => from_left,
            (Side::Back, Turned::HeadToHead) => self.page.0 - from_left,
        }
    }

    /// Where the heads of the panels lie on the page, from its foot; the strip lies in the middle, so it is the same on
    /// both sides however the sheet is turned.
    pub fn head_on_page(&self, strip: &Strip) -> Length {
        let height = strip.paper().panel_height;
        (self.page.1 - height) / 2 + height
    }

    /// The stretch of the strip that is printed on a side of a sheet, without bleed: its panels and, on the back, its
    /// tabs; of what a neighbour covers only the under-run. On the front a tab shows its under-run alone. The rest of what
    /// is pasted stays bare, on both faces.
    pub fn printed(&self, sheet: &Sheet, side: Side) -> (Length, Length) {
        let (left, right) = sheet.cut();
        let under = |tab: Length| self.under_run.min(tab);
        match side {
            Side::Front => (
                sheet.from - under(sheet.tabs.0),
                sheet.to + under(sheet.tabs.1),
            ),
            Side::Back => (
                left + sheet.covered.0 - under(sheet.covered.0),
                right - sheet.covered.1 + under(sheet.covered.1),
            ),
        }
    }

    /// The stretch of the strip that is inked on a side of a sheet: what is printed, with the bleed beyond edges that are cut.
    pub fn inked(&self, sheet: &Sheet, side: Side) -> (Length, Length) {
        let (left, right) = sheet.cut();
        let (from, to) = self.printed(sheet, side);
        let from = if from == left {
            from - self.bleed
        } else {
            from
        };
        let to = if to == right { to + self.bleed } else { to };
        (from, to)
    }

    /// The sheet that carries the words of a panel.
    pub fn home(&self, strip: &Strip, panel: PanelName) -> Option<&Sheet> {
        let left = strip.across(panel.side, strip.left_of(panel));
        let right = strip.across(panel.side, strip.left_of(panel) + strip.width_of(panel));
        let (from, to) = (left.min(right), left.max(right));
        let whole = |sheet: &&Sheet| {
            let visible = self.visible(sheet, panel.side);
            visible.0 <= from && to <= visible.1
        };
        let own = |sheet: &&Sheet| sheet.from <= from && to <= sheet.to;
        let found = self.sheets.iter().find(whole);
        found.or_else(|| self.sheets.iter().find(own))
    }

    /// The stretch of the strip that is seen of a sheet on a side.
    pub fn visible(&self, sheet: &Sheet, side: Side) -> (Length, Length) {
        let (left, right) = sheet.cut();
        match side {
            Side::Front => (sheet.from, sheet.to),
            Side::Back => (left + sheet.covered.0, right - sheet.covered.1),
        }
    }
}

/// Cuts a strip into sheets whose paper is no longer than `room`; nothing where that cannot be.
fn cut_into(
    strip: &Strip,
    plan: &SheetsPlan,
    carried: &StripContents<'_>,
    room: Length,
) -> Option<(Vec<Sheet>, Vec<Join>)> {
    let paper = strip.paper();
    let cut = CuttingTask {
        strip,
        plan,
        carried,
        room,
    };
    let mut joins = best(&cut)?;
    let ends = std::iter::once(0)
        .chain(joins.iter().map(|join| join.before))
        .chain([paper.panels.per_side]);
    let ends: Vec<u16> = ends.collect();
    let pairs = ends.windows(2).enumerate();
    let mut sheets: Vec<Sheet> = pairs
        .map(|(at, pair)| {
            let before = at.checked_sub(1).map(|before| &joins[before]);
            sheet_between(strip, plan, (pair[0], pair[1]), (before, joins.get(at)))
        })
        .collect();
    if paper.reads == Direction::RightToLeft {
        sheets.reverse();
        joins.reverse();
    }
    for (at, sheet) in sheets.iter_mut().enumerate() {
        sheet.number = at + 1;
    }
    Some((sheets, joins))
}

/// The sheet of the panels from `first` to `last`, each counted by the panels at the left of it, with the joins at its left and
/// its right; it has no number yet.
fn sheet_between(
    strip: &Strip,
    plan: &SheetsPlan,
    (first, last): (u16, u16),
    (before, after): (Option<&Join>, Option<&Join>),
) -> Sheet {
    let paper = strip.paper();
    let count = paper.panels.per_side;
    let tab = |join: Option<&Join>, of_left| join.map_or(Length::ZERO, |join| join.tab(of_left));
    let spare = |at_end: bool| if at_end { plan.spare } else { Length::ZERO };
    let (panels, spare) = match paper.reads {
        Direction::LeftToRight => ((first + 1, last), (Length::ZERO, spare(last == count))),
        Direction::RightToLeft => (
            (count - last + 1, count - first),
            (spare(first == 0), Length::ZERO),
        ),
    };
    Sheet {
        number: 0,
        panels,
        from: paper.along(first),
        to: paper.along(last),
        tabs: (tab(before, false), tab(after, true)),
        covered: (tab(before, true), tab(after, false)),
        spare,
    }
}
