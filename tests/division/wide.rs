//! Random books with what goes over several panels: long pictures, the turn of the strip, ends fixed by hand; with
//! captions; and with shapes.

use versefold::division::Problem;

use super::generator::{self, Dice};
use super::{captions, shapes};

/// The book of a seed.
pub fn problem(seed: u64) -> Problem {
    let problem = captions::add(plain(seed), &mut Dice::new(seed ^ 0xca9));
    shapes::add(problem, &mut Dice::new(seed ^ 0x510))
}

/// A problem without captions and shapes.
pub fn plain(seed: u64) -> Problem {
    let mut problem = generator::problem(seed);
    let mut dice = Dice::new(seed ^ 0x5eed);
    let panels = problem.panels.len();
    for index in 0..panels {
        let facts = &mut problem.panels[index];
        facts.follows = index > 0 && !dice.chance(15);
        facts.ends = dice.chance(4).then(|| dice.between(0, problem.rows.len()));
    }
    for picture in 0..problem.pictures.len() {
        if dice.chance(60) {
            continue;
        }
        let facts = &mut problem.pictures[picture];
        let spans = dice.between(1, 3);
        facts.whole_spread = dice.chance(40);
        match facts.panel {
            None => facts.spans = spans,
            Some(first) => {
                let free = |at: &usize| {
                    let panel = &problem.panels[*at];
                    panel.follows && panel.picture.is_none() && panel.role.is_none()
                };
                let free = (first + 1..panels).take_while(free).count();
                facts.spans = spans.min(1 + free);
                for panel in &mut problem.panels[first..first + problem.pictures[picture].spans] {
                    panel.picture = Some(picture);
                }
            }
        }
        if problem.pictures[picture].spans > 1 && dice.chance(50) {
            for panel in &mut problem.panels {
                panel.shared[picture] = None;
            }
        }
    }
    problem
}
