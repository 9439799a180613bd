//! Rules say what they look at, and cast-off takes their word: on random books they are held to it.

use std::collections::BTreeSet;

use versefold::division::{PanelView, Placed};
use versefold::names::{HalfLines, Role};
use versefold::plan::RuleName;
use versefold::rules::{Judges, Remembers};

use super::generator::{self, Dice};

const BOOKS: u64 = 300;

/// Shows a rule's answers to every panel of words alone that a book may have: its verdict and what it then remembers,
/// first with the room that the words take, then with less.
fn each_panel_of_words(seed: u64, mut shown: impl FnMut(RuleName, &PanelView<'_>, &PanelView<'_>)) {
    let problem = generator::problem(seed);
    let mut dice = Dice::new(seed);
    let rows = problem.rows.len();
    let panels = (0..problem.panels.len()).filter(|at| problem.panels[*at].chosen.is_none());
    for panel in panels {
        let ends = (0..rows).flat_map(|from| problem.ends(0, from).map(move |end| (from, end)));
        for (from, (to, used)) in ends.filter(|(from, (to, _))| to > from) {
            let view = PanelView {
                problem: &problem,
                panel,
                role: Role::Text,
                from,
                to,
                picture: None,
                begins_picture: false,
                queue: &[],
                placed: Placed::NONE,
                column: Some(0),
                used,
                foot: 1,
                capacity: HalfLines::lines(dice.between(1, 12)),
            };
            let less = dice.between(0, used.count() as usize) as u32;
            let tighter = PanelView {
                used: HalfLines::new(less),
                ..view
            };
            for (name, ..) in RuleName::ALL {
                if !name.rule().idle(&problem) {
                    shown(name, &view, &tighter);
                }
            }
        }
    }
}

#[test]
fn rules_look_at_what_they_say() {
    let mut broken: BTreeSet<RuleName> = BTreeSet::new();
    for seed in 0..BOOKS {
        each_panel_of_words(seed, |name, view, tighter| {
            let (word, rule) = (name.word(), name.rule());
            let (answer, with_less) = (rule.read_on(0, view), rule.read_on(0, tighter));
            match name.about().judges {
                Judges::Words => {
                    assert_eq!(
                        rule.read(view),
                        answer.0,
                        "{word} must remember, in book {seed}"
                    );
                    let worse = with_less.0.broken && !answer.0.broken;
                    assert!(!worse, "{word} asks for room, in book {seed}");
                    if answer.0.broken {
                        broken.insert(name);
                    }
                }
                Judges::Division => {
                    assert_eq!(answer, with_less, "{word} asks for room, in book {seed}");
                    let alone =
                        rule.remembers(view.problem) == Remembers::Nothing && answer.0.broken;
                    assert!(!alone, "{word} judges words alone, in book {seed}");
                }
                Judges::Room => {}
            }
        });
    }
    let words = RuleName::ALL.map(|(name, ..)| name).into_iter();
    let words = words.filter(|name| name.about().judges == Judges::Words);
    assert_eq!(broken, words.collect());
}
