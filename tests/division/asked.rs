//! What random books ask of the rules: every rule, and what the author says of each.

use std::collections::BTreeMap;

use versefold::names::Role;
use versefold::plan::{
    BlankBetween, Blanks, BlanksAt, EachPanel, HeadingsBegin, Pace, PanelEnd, PanelsEnd, Percent,
    PictureOrder, PictureWith, RuleName, Rules, SharedPanels, ShowThrough, StaysWithin, Undivided,
    Weight, Window,
};

use super::generator::Dice;

pub fn percent(dice: &mut Dice) -> Percent {
    Percent(dice.between(0, 100) as u8)
}

/// A window that most panels of a small book can tell from others.
pub fn window(dice: &mut Dice) -> Window {
    let soonest = dice.between(0, 4) as i8 - 2;
    Window {
        soonest,
        latest: soonest.max(dice.between(0, 5) as i8 - 2),
    }
}

pub fn with(dice: &mut Dice) -> Option<PictureWith> {
    let asked = dice.one_of(&[PictureWith::SameSpread, PictureWith::NextSpread]);
    dice.chance(60).then_some(asked)
}

pub fn stays_within(dice: &mut Dice) -> Option<StaysWithin> {
    let asked = dice.one_of(&[StaysWithin::Section, StaysWithin::Side]);
    dice.chance(60).then_some(asked)
}

fn end(dice: &mut Dice) -> Option<Role> {
    let role = dice.one_of(&[Role::Text, Role::Shared, Role::Picture, Role::Blank]);
    dice.chance(35).then_some(role)
}

fn blanks(dice: &mut Dice) -> Option<Blanks> {
    let blanks = Blanks {
        count: dice.one_of(&[0, 1, 1, 2, 3]),
        at: dice.one_of(&[BlanksAt::Start, BlanksAt::End, BlanksAt::Anywhere]),
    };
    dice.chance(35).then_some(blanks)
}

fn panels_end(dice: &mut Dice) -> Option<PanelsEnd> {
    let other = percent(dice);
    let asked = PanelsEnd {
        at: dice.one_of(&[PanelEnd::Paragraph, PanelEnd::Sentence, PanelEnd::Stanza]),
        white: dice.one_of(&[Percent(35), other]),
    };
    dice.chance(50).then_some(asked)
}

pub fn rules(dice: &mut Dice) -> Rules {
    let window = window(dice);
    let usual = Window {
        soonest: 0,
        latest: 1,
    };
    let lines = dice.between(1, 5) as u32;
    let stanzas = dice.between(1, 4) as u32;
    Rules {
        each_panel: dice.one_of(&[
            EachPanel::Free,
            EachPanel::Stanzas(1),
            EachPanel::Stanzas(stanzas),
            EachPanel::Lines(lines),
        ]),
        text_fullness: percent(dice),
        shared_fullness: percent(dice),
        first_fullness: percent(dice),
        last_fullness: percent(dice),
        fullest: dice.one_of(&[Percent(95), Percent(100), Percent(80), Percent(70)]),
        emptiest: dice.one_of(&[Percent(0), Percent(0), Percent(20), Percent(40)]),
        undivided: dice.one_of(&[Undivided::Stanza, Undivided::Sentence, Undivided::Line]),
        fewest_lines: dice.one_of(&[1, 2, 2, 3]),
        panels_end: panels_end(dice),
        headings_begin: dice.one_of(&[
            HeadingsBegin::Anywhere,
            HeadingsBegin::Panel,
            HeadingsBegin::Spread,
        ]),
        picture_comes: dice.one_of(&[None, Some(usual), Some(window), Some(window)]),
        picture_order: dice.one_of(&[PictureOrder::Kept, PictureOrder::Kept, PictureOrder::Free]),
        nearness: dice.chance(80),
        shared_panels: dice.one_of(&[
            SharedPanels::Allowed,
            SharedPanels::Never,
            SharedPanels::Always,
        ]),
        even_fullness: dice.chance(40),
        even_spreads: dice.chance(40),
        picture_with: with(dice),
        stays_within: stays_within(dice),
        show_through: dice.one_of(&[
            ShowThrough::Avoided,
            ShowThrough::Avoided,
            ShowThrough::Allowed,
        ]),
        text_in_a_row: dice.one_of(&[1, 1, 2, 2, 3]),
        pictures_in_a_row: dice.one_of(&[1, 1, 1, 2]),
        pictures: dice.one_of(&[0, 0, 0, 0, 0, 1, 1, 2, 2, 3, 4]),
        pace: dice.one_of(&[Pace::Even, Pace::Even, Pace::Free]),
        blanks: blanks(dice),
        ends_with: end(dice),
        last_spread: end(dice),
        blank_between: dice.chance(85).then_some(BlankBetween::Sections),
        weights: weights(dice),
    }
}

fn weights(dice: &mut Dice) -> BTreeMap<RuleName, Weight> {
    let mut weights = BTreeMap::new();
    for (name, ..) in RuleName::ALL {
        if dice.chance(25) {
            continue;
        }
        let fullness = matches!(
            name,
            RuleName::TextFullness
                | RuleName::SharedFullness
                | RuleName::FirstFullness
                | RuleName::LastFullness
        );
        // To hit a fullness to the point is seldom possible.
        let hard = dice.chance(if fullness { 2 } else { 7 });
        let weight = Weight {
            hard: (hard || dice.chance(75)).then_some(hard),
            importance: dice.one_of(&[1, 1, 2, 3, 0, 100]),
        };
        weights.insert(name, weight);
    }
    weights
}
