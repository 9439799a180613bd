//! Books as the search sees them, made of numbers: stanzas of three to eight lines, pictures spread evenly.

use std::collections::BTreeMap;

use versefold::division::{AreaFacts, Behind, Ending, PanelFacts, PictureFacts, Problem, RowFacts};
use versefold::names::{HalfLines, PanelName, Role};
use versefold::plan::{
    Blanks, BlanksAt, EachPanel, PictureWith, RuleName, SharedPanels, Weight, Window,
};
use versefold::stack::{Filled, Line, Stack, Start, Takes};

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

/// Whether pictures must come near their words.
#[derive(Clone, Copy, PartialEq, Eq)]
pub enum Comes {
    Kept,
    MayGive,
}

/// Prose of so many words on so many panels with so many pictures, spread evenly, each on a panel of its own; the other
/// panels are so many hundredths full.
pub fn prose(
    words: usize,
    (panels, pictures): (usize, usize),
    full: usize,
    comes: Option<Comes>,
) -> Problem {
    let (rows, stack) = paragraphs(words);
    let count = rows.len();
    let capacity = (2 * count * 100 / full / (panels - pictures)).next_multiple_of(2) as u32;
    let asked = match comes {
        None => Rules::Default,
        Some(_) => Rules::Loose,
    };
    let mut problem = book((1, panels, pictures), asked);
    if comes == Some(Comes::Kept) {
        problem.rules.weights.clear();
    }
    for panel in &mut problem.panels {
        panel.area = Some(AreaFacts {
            column: 0,
            capacity: HalfLines::new(capacity),
        });
        panel.shared.fill(None);
    }
    for (at, picture) in problem.pictures.iter_mut().enumerate() {
        picture.word_row = Some((2 * at + 1) * count / (2 * pictures));
        picture.leaves_room = false;
    }
    (problem.rows, problem.stack, problem.blanks_unsaid) = (rows, stack, true);
    problem.ask_usual_blanks();
    problem.count_word_panels();
    problem
}

/// Paragraphs of 40 to 160 words, filled into lines of about 60 characters: a place at the end of each line.
fn paragraphs(words: usize) -> (Vec<RowFacts>, Stack) {
    let mut draw = Draw::new(&[]);
    let (mut rows, mut column) = (Vec::new(), Filled::plain([]));
    let (mut done, mut block) = (0, 0);
    while done < words {
        let count = 40 + draw.below(120);
        done += count;
        let (mut lines, mut used) = (1, 0);
        for _ in 0..count {
            let letters = 2 + draw.below(9);
            if used + letters > 62 {
                (lines, used) = (lines + 1, 0);
            }
            used += letters + 1;
        }
        let first = column.lines.len() as u32;
        for line in 0..lines {
            column.lines.push(Line {
                to: Some(rows.len() as u32 + 1),
                next: (line + 1 < lines).then_some(first + line + 1),
                height: HalfLines::LINE,
            });
            if line == 0 {
                column.starts.push(Start::Row(column.takes.len() as u32));
                column.takes.push(Takes {
                    line: Some(first),
                    ..Takes::default()
                });
            } else {
                column.starts.push(Start::Within(first + line));
            }
            rows.push(of_paragraph(block, line > 0, draw.below(4)));
        }
        block += 1;
    }
    let spaces = vec![HalfLines::ZERO; rows.len()];
    let columns = vec![column];
    (rows, Stack { spaces, columns })
}

fn of_paragraph(block: usize, inner: bool, ending: usize) -> RowFacts {
    RowFacts {
        block,
        verse: false,
        prose: true,
        inner,
        joined: false,
        kept: None,
        may_divide: false,
        new_panel: false,
        too_long: false,
        section: 0,
        ending: [Ending::Sentence, Ending::Pause, Ending::RunsOn][ending.min(2)],
        caption: None,
    }
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
