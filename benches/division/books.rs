//! Books as the search sees them, made of numbers: stanzas of three to eight lines, pictures spread evenly.

use std::collections::BTreeMap;

use versefold::division::{AreaFacts, Behind, Ending, PanelFacts, PictureFacts, Problem, RowFacts};
use versefold::names::{HalfLines, PanelName, Role};
use versefold::plan::{
    Blanks, BlanksAt, EachPanel, PictureWith, RuleName, SharedPanels, Weight, Window,
};
use versefold::stack::{Filled, Stack};

use crate::common::Draw;

/// Which rules a book has.
#[derive(Clone, Copy, PartialEq, Eq)]
pub enum Rules {
    /// As they are unless said.
    Default,
    /// As they are, with `picture-comes` asked for, which may give way.
    Loose,
    /// Every rule in use.
    Every,
}

/// So many lines on so many panels of two sides, with so many pictures.
pub fn book((lines, panels, pictures): (usize, usize, usize), asked: Rules) -> Problem {
    let (rows, spaces) = stanzas(lines);
    let blocks = rows.last().map_or(0, |row| row.block + 1);
    // About six tenths full, were the pictures on panels of their own.
    let depth = 2 * (lines + blocks);
    let capacity = (depth * 10 / 6 / (panels - pictures)).next_multiple_of(2) as u32;
    let rules = rules(asked, (lines / panels) as u32);
    let picture = |at: usize| PictureFacts {
        name: format!("picture {}", at + 1),
        word_row: Some((2 * at + 1) * lines / (2 * pictures)),
        panel: None,
        queued: true,
        spans: 1,
        whole_spread: false,
        leaves_room: true,
        comes: rules.picture_comes,
        with: (asked == Rules::Every).then_some(PictureWith::SameSpread),
        blank_before: asked == Rules::Every && at == 1,
        reveal: false,
        heavy: false,
    };
    Problem {
        blanks_unsaid: false,
        chosen_ends: Vec::new(),
        printed_ends: Vec::new(),
        stack: Stack {
            spaces,
            columns: vec![Filled::plain(vec![HalfLines::LINE; rows.len()])],
        },
        rows,
        panels: (0..panels)
            .map(|index| panel(index, panels / 2, capacity, pictures))
            .collect(),
        pictures: (0..pictures).map(picture).collect(),
        opening: 0,
        body: true,
        word_panels: 1,
        rules,
    }
}

/// Lines in stanzas of three to eight, and the space above each.
fn stanzas(lines: usize) -> (Vec<RowFacts>, Vec<HalfLines>) {
    let mut draw = Draw::new(&[]);
    let mut rows: Vec<RowFacts> = Vec::with_capacity(lines);
    let mut spaces: Vec<HalfLines> = Vec::with_capacity(lines);
    let mut block = 0;
    while rows.len() < lines {
        let stanza = 3 + draw.below(6);
        for line in 0..stanza.min(lines - rows.len()) {
            let ending = match draw.below(3) {
                0 => Ending::RunsOn,
                1 => Ending::Pause,
                _ => Ending::Sentence,
            };
            spaces.push(HalfLines::lines(usize::from(line == 0)));
            rows.push(RowFacts {
                block,
                verse: true,
                prose: false,
                inner: false,
                joined: false,
                kept: None,
                may_divide: false,
                new_panel: false,
                too_long: false,
                section: 0,
                ending: if line + 1 == stanza {
                    Ending::Sentence
                } else {
                    ending
                },
                caption: None,
            });
        }
        block += 1;
    }
    (rows, spaces)
}

/// The rules of a book with so many lines to a panel.
fn rules(asked: Rules, lines: u32) -> versefold::plan::Rules {
    let mut rules = versefold::plan::Rules::default();
    if asked == Rules::Loose {
        let give = Weight {
            hard: Some(false),
            importance: 1,
        };
        rules.weights = BTreeMap::from([(RuleName::PictureComes, give)]);
        rules.picture_comes = Some(Window {
            soonest: 0,
            latest: 1,
        });
    }
    if asked == Rules::Every {
        rules.each_panel = EachPanel::Lines(lines);
        rules.shared_panels = SharedPanels::Never;
        rules.even_fullness = true;
        rules.blanks = Some(Blanks {
            count: 1,
            at: BlanksAt::Anywhere,
        });
        rules.ends_with = Some(Role::Picture);
    }
    rules
}

/// A panel with nothing pinned to it, of a strip with so many on each side.
fn panel(index: usize, per_side: usize, capacity: u32, pictures: usize) -> PanelFacts {
    let area = |capacity: u32| {
        Some(AreaFacts {
            column: 0,
            capacity: HalfLines::new(capacity),
        })
    };
    let (side, number) = (index / per_side, index % per_side + 1);
    let number = number as u16;
    PanelFacts {
        name: if side == 0 {
            PanelName::front(number)
        } else {
            PanelName::back(number)
        },
        role: None,
        picture: None,
        area: area(capacity),
        shared: vec![area(capacity / 4 * 2); pictures],
        lets_words: false,
        fullness: None,
        begins: None,
        ends: None,
        chosen: None,
        passed: None,
        spread: side * (per_side + 1) + usize::from(number) / 2,
        opens_spread: number.is_multiple_of(2),
        follows: number > 1,
        behind: None,
        back: Behind::default(),
    }
}
