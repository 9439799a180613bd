//! Random small books, straight as problems: every sign a row may bear, every pin, every rule.

use versefold::division::{
    AreaFacts, Behind, Chosen, ChosenWords, Ending, PanelFacts, PictureFacts, Problem, RowFacts,
};
use versefold::names::{HalfLines, PanelName, Role, Side};
use versefold::plan::Rules;
use versefold::stack::{Filled, Line, Stack, Start, Takes};

use super::asked::{percent, rules, window, with};

/// Pictures of the book that the random ones are small likenesses of.
const NAMES: [&str; 3] = ["the pass", "the tunnel", "the snow chains"];

/// SplitMix64, as Steele, Lea and Flood give it in “Fast Splittable Pseudorandom Number Generators” (2014).
pub struct Dice(u64);

impl Dice {
    pub fn new(seed: u64) -> Dice {
        Dice(seed)
    }

    fn next(&mut self) -> u64 {
        self.0 = self.0.wrapping_add(0x9e37_79b9_7f4a_7c15);
        let mut z = self.0;
        z = (z ^ (z >> 30)).wrapping_mul(0xbf58_476d_1ce4_e5b9);
        z = (z ^ (z >> 27)).wrapping_mul(0x94d0_49bb_1331_11eb);
        z ^ (z >> 31)
    }

    /// A whole number from `from` to `to`, both included.
    pub fn between(&mut self, from: usize, to: usize) -> usize {
        from + (self.next() % (to - from + 1) as u64) as usize
    }

    /// True so many times in a hundred.
    pub fn chance(&mut self, percent: usize) -> bool {
        self.between(1, 100) <= percent
    }

    pub fn one_of<T: Copy>(&mut self, of: &[T]) -> T {
        of[self.between(0, of.len() - 1)]
    }
}

/// The book of a seed.
pub fn problem(seed: u64) -> Problem {
    let mut dice = Dice::new(seed);
    let count = if dice.chance(3) {
        0
    } else {
        dice.between(1, 9).max(dice.between(1, 9))
    };
    let (rows, spaces, opening) = rows(&mut dice, count);
    let mut columns: Vec<Filled> = (0..dice.between(1, 2))
        .map(|_| {
            let two = dice.between(0, 40);
            let heights = (0..count).map(|_| if dice.chance(two) { 4 } else { 2 });
            Filled::plain(heights.map(HalfLines::new))
        })
        .collect();
    for column in &mut columns {
        break_lines(&mut dice, &rows, column);
    }
    let mut problem = Problem {
        rows,
        stack: Stack { spaces, columns },
        panels: Vec::new(),
        pictures: Vec::new(),
        opening,
        chosen_ends: Vec::new(),
        printed_ends: Vec::new(),
        blanks_unsaid: false,
        body: dice.chance(60),
        word_panels: dice.between(1, 5),
        rules: rules(&mut dice),
    };
    let panels = dice.between(1, 6);
    problem.pictures = pictures(&mut dice, count, panels, &problem.rules);
    let spreads = spreads(&mut dice, panels);
    problem.panels = (0..panels)
        .map(|index| panel(&mut dice, &problem, &spreads, index))
        .collect();
    if dice.chance(25) {
        choose(&mut dice, &mut problem);
    }
    if dice.chance(30) {
        let turn = dice.between(0, panels);
        turn_over(&mut problem, turn);
    }
    problem
}

/// What an author might have chosen for some panels, before words of hers were corrected.
fn choose(dice: &mut Dice, problem: &mut Problem) {
    let rows = problem.rows.len();
    let mut end = (0, 0);
    for index in 0..problem.panels.len() {
        let begins = end;
        let from = dice.between(end.0, rows);
        end = (from, rows.min(from + dice.one_of(&[0, 0, 0, 1, 2])));
        if dice.chance(25) {
            continue;
        }
        let with_words = end.1 > begins.0 && dice.chance(80);
        let picture = problem.pictures.len().checked_sub(1);
        let picture = picture.filter(|_| dice.chance(30));
        let picture = picture.map(|last| dice.between(0, last));
        problem.panels[index].chosen = Some(Chosen {
            role: match (with_words, picture) {
                (true, None) => Role::Text,
                (true, Some(_)) => Role::Shared,
                (false, Some(_)) => Role::Picture,
                (false, None) => Role::Blank,
            },
            picture,
            words: with_words.then_some(ChosenWords { begins, ends: end }),
            touched: dice.chance(40),
        });
        problem.chosen_ends.extend([end.0, end.1]);
    }
    problem.chosen_ends.sort_unstable();
    problem.chosen_ends.dedup();
}

/// Rows in stanzas of one to five lines, or in paragraphs of as many places, perhaps below one or two headings; the space
/// above each, and how many headings there are.
fn rows(dice: &mut Dice, count: usize) -> (Vec<RowFacts>, Vec<HalfLines>, usize) {
    let opening = match dice.chance(25) {
        true => dice.between(1, 2).min(count),
        false => 0,
    };
    let mut rows = Vec::new();
    let mut spaces = Vec::new();
    let mut block = 0;
    let mut section = 0;
    while rows.len() < count {
        // Now and then a heading begins a section, which here needs no more than its number.
        section += usize::from(dice.chance(16));
        let heading = rows.len() < opening;
        // An ornament, an attribution or room, each a block of its own.
        let single = !heading && dice.chance(8);
        let prose = !heading && !single && dice.chance(24);
        let lines = if heading || single {
            1
        } else {
            dice.between(1, 5)
        };
        for line in 0..lines.min(count - rows.len()) {
            // What stands below a heading stands on its panel.
            let below_heading = (1..=opening).contains(&rows.len());
            spaces.push(HalfLines::new(match line {
                0 => dice.one_of(&[2, 2, 1, 4]),
                _ => 0,
            }));
            rows.push(RowFacts {
                block,
                verse: !(heading || single || prose),
                prose,
                inner: prose && line > 0,
                joined: (below_heading || single && dice.chance(70) || dice.chance(3))
                    && !(prose && line > 0),
                kept: None,
                may_divide: dice.chance(15),
                new_panel: dice.chance(5) && !(prose && line > 0),
                ending: ending(dice),
                too_long: false,
                section,
                caption: None,
            });
        }
        block += 1;
    }
    keep_some_together(dice, &mut rows);
    (rows, spaces, opening)
}

pub fn ending(dice: &mut Dice) -> Ending {
    dice.one_of(&[Ending::Sentence, Ending::Pause, Ending::RunsOn])
}

/// Lines for every paragraph from every place in it: each ends at some later place, or between two, where no
/// panel may end. What the other rows take of the column stays.
pub fn break_lines(dice: &mut Dice, rows: &[RowFacts], column: &mut Filled) {
    column.lines.clear();
    for (place, row) in rows.iter().enumerate() {
        if !row.prose {
            continue;
        }
        let first = column.lines.len() as u32;
        column.starts[place] = match row.inner {
            true => Start::Within(first),
            false => Start::Row(column.takes.len() as u32),
        };
        if !row.inner {
            column.takes.push(Takes {
                line: Some(first),
                ..Takes::default()
            });
        }
        let inner = rows[place + 1..].iter().take_while(|row| row.inner);
        let end = place + 1 + inner.count();
        let mut at = place;
        while at < end {
            let between = dice.chance(25);
            if !between {
                at = dice.between(at + 1, end);
            }
            let number = column.lines.len() as u32;
            column.lines.push(Line {
                to: (!between).then_some(at as u32),
                next: (at < end).then_some(number + 1),
                height: HalfLines::LINE,
            });
        }
    }
}

/// Puts a row of that height into a plain column.
pub fn insert_row(column: &mut Filled, at: usize, height: HalfLines) {
    let start = Start::Row(column.takes.len() as u32);
    column.starts.insert(at, start);
    column.takes.push(Takes {
        height,
        ..Takes::default()
    });
}

fn keep_some_together(dice: &mut Dice, rows: &mut [RowFacts]) {
    let mut from = 0;
    for group in 1..=2 {
        if rows.len() > from && dice.chance(25) {
            from = dice.between(from, rows.len() - 1);
            let to = (from + dice.between(1, 4)).min(rows.len());
            rows[from..to]
                .iter_mut()
                .for_each(|row| row.kept = Some(group));
            from = to;
        }
    }
}

/// Up to three pictures: those that callouts name, in order, some of them pinned; then those that only
/// pins name.
fn pictures(dice: &mut Dice, rows: usize, panels: usize, rules: &Rules) -> Vec<PictureFacts> {
    let count = dice.one_of(&[0, 1, 1, 2, 2, 3]);
    let called = dice.between(0, count);
    let mut words: Vec<usize> = (0..called)
        .map(|_| dice.between(0, rows.max(1) - 1))
        .collect();
    words.sort_unstable();
    let mut free: Vec<usize> = (0..panels).collect();
    let mut pictures = Vec::new();
    for (index, name) in NAMES.iter().enumerate().take(count) {
        let by_callout = index < called;
        let pinned = !by_callout || dice.chance(24);
        let elsewhere = pinned && by_callout && dice.chance(15);
        let panel = (pinned && !elsewhere && !free.is_empty())
            .then(|| free.remove(dice.between(0, free.len() - 1)));
        if !by_callout && panel.is_none() {
            continue;
        }
        pictures.push(PictureFacts {
            name: (*name).to_string(),
            word_row: (by_callout && rows > 0).then(|| words[index]),
            panel,
            queued: !pinned,
            spans: 1,
            leaves_room: dice.chance(88),
            whole_spread: false,
            comes: match dice.between(1, 10) {
                1..=6 => rules.picture_comes,
                7..=8 => Some(window(dice)),
                _ => None,
            },
            with: match dice.chance(75) {
                true => rules.picture_with,
                false => with(dice),
            },
            blank_before: dice.chance(20),
            reveal: dice.chance(45),
            heavy: dice.chance(60),
        });
    }
    pictures
}

/// The spread of each panel: two by two with single ones between, and spreads left out that other parts have; now
/// and then in no order, as a part may list its panels.
pub fn spreads(dice: &mut Dice, panels: usize) -> Vec<usize> {
    if dice.chance(15) {
        let mut spreads: Vec<usize> = (0..panels).map(|_| dice.between(0, 3)).collect();
        // No spread has three panels.
        for at in 2..panels {
            if !two_at_most(&spreads[at - 2..=at]) {
                spreads[at] += 1;
            }
        }
        return spreads;
    }
    let mut spread = dice.between(0, 1);
    let mut alone = dice.chance(50);
    let step = |_| {
        let here = spread;
        if alone || dice.chance(15) {
            spread += if dice.chance(15) { 2 } else { 1 };
            alone = dice.chance(15);
        } else {
            alone = true;
        }
        here
    };
    (0..panels).map(step).collect()
}

/// Turns the strip over before a panel: what follows stands on the back, on other spreads, behind what was before.
pub fn turn_over(problem: &mut Problem, before: usize) {
    for panel in problem.panels.iter_mut().skip(before) {
        panel.name.side = Side::Back;
        panel.spread += 10;
    }
    let panels = problem.panels.len();
    for index in 0..panels {
        let other = (2 * before).checked_sub(index + 1);
        problem.panels[index].behind = other.filter(|other| *other < panels);
    }
}

/// Whether no three panels in a row are of one spread.
pub fn two_at_most(spreads: &[usize]) -> bool {
    let mut threes = spreads.windows(3);
    threes.all(|three| three[0] != three[1] || three[1] != three[2])
}

fn panel(dice: &mut Dice, problem: &Problem, spreads: &[usize], index: usize) -> PanelFacts {
    let (rows, panels) = (problem.rows.len(), spreads.len());
    let whole = problem.depth(0, 0, rows);
    // Around what an even share of the words takes, in whole lines.
    let share = whole.count() as usize / panels / 2 + 1;
    let mut area = |least: usize| AreaFacts {
        column: dice.between(0, problem.stack.columns.len() - 1),
        capacity: HalfLines::lines((share * dice.between(least, 36) / 10).clamp(1, 12)),
    };
    let (plain, beside) = (area(12), area(8));
    let has_area = !dice.chance(4);
    let picture = problem
        .pictures
        .iter()
        .position(|picture| picture.panel == Some(index));
    let pinnable: &[Role] = match picture {
        Some(_) => &[Role::Shared, Role::Picture],
        None if index == 0 && problem.opening > 0 => &[Role::Title],
        None => &Role::PINNABLE,
    };
    let role = dice.chance(14).then(|| dice.one_of(pinnable));
    let words = role.is_none_or(Role::has_words) && rows > 0;
    PanelFacts {
        name: PanelName::front(index as u16 + 1),
        role,
        picture,
        area: has_area.then_some(plain),
        shared: problem
            .pictures
            .iter()
            .map(|_| has_area.then(|| if dice.chance(40) { plain } else { beside }))
            .collect(),
        lets_words: dice.chance(25),
        fullness: dice.chance(10).then(|| percent(dice)),
        begins: (words && dice.chance(5)).then(|| dice.between(0, rows - 1)),
        ends: None,
        chosen: None,
        passed: None,
        spread: spreads[index],
        opens_spread: index == 0 || spreads[index] != spreads[index - 1],
        follows: index > 0,
        behind: None,
        back: Behind {
            of: None,
            heavy: dice.chance(12),
            words: dice.chance(25),
        },
    }
}
