//! Random books of pictures and words that wait for each other: most panels are pinned to what they carry, nothing
//! but the distances costs anything, and that is weighed, not forbidden.

use versefold::division::Problem;
use versefold::names::Role;
use versefold::plan::{PictureOrder, RuleName, Weight, Window};

use super::asked::{stays_within, with};
use super::generator::{Dice, spreads, turn_over};
use super::small::book;

/// The book of a seed.
pub fn problem(seed: u64) -> Problem {
    let mut dice = Dice::new(seed);
    let panels = dice.between(5, 8);
    let mut some = |most: usize| {
        let mut all: Vec<usize> = (0..panels).collect();
        let count = dice.between(1, most);
        let mut some: Vec<usize> = (0..count)
            .map(|_| all.remove(dice.between(0, all.len() - 1)))
            .collect();
        some.sort_unstable();
        some
    };
    let (pictured, worded) = (some(4), some(4));
    let names = ["the pass", "the tunnel", "the snow chains", "the hut"];
    let mut problem = book(worded.len(), panels as u16, &names[..pictured.len()]);
    let mut row = 0;
    for picture in &mut problem.pictures {
        row = dice.between(row, worded.len() - 1);
        picture.word_row = Some(row);
        picture.comes = dice.chance(75).then(|| window(&mut dice));
        picture.with = with(&mut dice);
        picture.reveal = dice.chance(40);
        picture.heavy = dice.chance(40);
    }
    let spreads = spreads(&mut dice, panels);
    for (index, panel) in problem.panels.iter_mut().enumerate() {
        let role = match (worded.contains(&index), pictured.contains(&index)) {
            (true, true) => Role::Shared,
            (true, false) => Role::Text,
            (false, true) => Role::Picture,
            (false, false) => Role::Blank,
        };
        panel.role = dice.chance(85).then_some(role);
        panel.spread = spreads[index];
    }
    let mut section = 0;
    for row in &mut problem.rows {
        section += usize::from(dice.chance(40));
        row.section = section;
    }
    turn_over(&mut problem, dice.between(1, 2 * panels));
    problem.rules.stays_within = stays_within(&mut dice);
    if dice.chance(40) {
        problem.rules.picture_order = PictureOrder::Free;
    }
    let near = [
        RuleName::StaysWithin,
        RuleName::ShowThrough,
        RuleName::Reveal,
        RuleName::PictureComes,
        RuleName::PictureWith,
        RuleName::Nearness,
    ];
    for name in near.into_iter().filter(|_| dice.chance(70)) {
        let soft = Weight {
            hard: Some(false),
            importance: 1,
        };
        problem.rules.weights.insert(name, soft);
    }
    problem
}

/// Any window that a book of eight panels can tell from others.
fn window(dice: &mut Dice) -> Window {
    let soonest = dice.between(0, 14) as i8 - 7;
    Window {
        soonest,
        latest: (soonest + dice.between(0, 3) as i8).min(7),
    }
}
