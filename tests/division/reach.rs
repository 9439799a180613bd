//! What the random books reach: a generator that never makes a rule matter would prove nothing.

use std::collections::BTreeMap;

use super::{SEED, SOFTS, brute, definitions, generator};
use versefold::plan::{Role, RuleName};

/// How many books are looked at.
const BOOKS: u64 = 700;
/// Larger books take too long to try once for each rule.
const MOST_DIVISIONS: usize = 5_000;

/// Counts what the best divisions of many books contain.
#[derive(Default)]
struct Reached {
    books: usize,
    divided: usize,
    /// Books that can be divided only where stanzas may give way.
    gave_way: usize,
    within_paragraphs: usize,
    roles: BTreeMap<Role, usize>,
    costly: BTreeMap<&'static str, usize>,
    /// Books whose best division is another where that one rule is off.
    decided: BTreeMap<&'static str, usize>,
}

fn look(seed: u64, reached: &mut Reached) {
    let problem = generator::problem(seed);
    let Some(bests) = brute::best(&problem, &SOFTS, MOST_DIVISIONS) else {
        return;
    };
    reached.books += 1;
    reached.divided += usize::from(bests[0].is_some());
    let within = |best: &brute::Best| {
        let ends = best.book.iter().map(|panel| panel.rows.end);
        ends.filter(|&end| problem.rows.get(end).is_some_and(|row| row.inner))
            .count()
    };
    reached.within_paragraphs += bests[0].as_ref().map_or(0, within);
    reached.gave_way += usize::from(bests[0].is_none() && bests[1].is_some());
    let Some(best) = &bests[0] else { return };
    for panel in &best.book {
        *reached.roles.entry(panel.role).or_default() += 1;
    }
    for (name, word, _) in RuleName::ALL {
        let cost = definitions::cost_of(&problem, &best.book, &[], name);
        *reached.costly.entry(word).or_default() += usize::from(cost > Some(0));
        let mut without = problem.clone();
        let weight = without.rules.weights.entry(name).or_default();
        (weight.hard, weight.importance) = (Some(false), 0);
        let other = brute::best(&without, &[&[]], MOST_DIVISIONS);
        let differs =
            other.is_some_and(|other| other[0].as_ref().map(|b| &b.book) != Some(&best.book));
        *reached.decided.entry(word).or_default() += usize::from(differs);
    }
}

#[test]
fn the_books_are_divided_in_every_role_and_every_rule_decides_some() {
    let mut reached = Reached::default();
    (SEED..SEED + BOOKS).for_each(|seed| look(seed, &mut reached));
    let Reached {
        books,
        divided,
        gave_way,
        within_paragraphs,
        roles,
        costly,
        decided,
    } = &reached;
    println!(
        "{books} books, {divided} divided, {gave_way} gave way, {within_paragraphs} ends in paragraphs\n{roles:?}\n{costly:?}\n{decided:?}"
    );
    assert!(
        divided * 10 >= books * 4,
        "{divided} of {books} can be divided"
    );
    assert!(*gave_way >= 10, "{gave_way} need stanzas to give way");
    assert!(
        *within_paragraphs >= 15,
        "{within_paragraphs} panels end within a paragraph"
    );
    for role in Role::PINNABLE {
        assert!(roles.get(&role) >= Some(&12), "{roles:?}");
    }
    for (name, word, _) in RuleName::ALL {
        assert!(decided[word] >= 3, "`{word}` decides too few: {decided:?}");
        assert!(costly[word] >= 3, "`{name:?}` costs too seldom: {costly:?}");
    }
}
