//! What the random books reach: a generator that never makes a rule matter would prove nothing.

use std::collections::BTreeMap;

use super::shrink::marked;
use super::{SEED, SOFTS, brute, definitions, generator, shapes, wide};
use versefold::division::Problem;
use versefold::names::Role;
use versefold::plan::RuleName;

/// How many books are looked at.
const BOOKS: u64 = 1_400;
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
    let problem = marked(generator::problem(seed));
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
    // These decide where hardly anything else does: `small`, `sections` and `waiting` have books for them.
    let seldom = [
        RuleName::PictureOrder,
        RuleName::SectionsApart,
        RuleName::StaysWithin,
    ];
    for (name, word, _) in RuleName::ALL {
        if seldom.contains(&name) {
            continue;
        }
        assert!(decided[word] >= 3, "`{word}` decides too few: {decided:?}");
        assert!(costly[word] >= 3, "`{name:?}` costs too seldom: {costly:?}");
    }
}

/// How many of the best divisions have a caption of some sort.
#[derive(Debug, Default)]
struct Captions {
    books: usize,
    divided: usize,
    /// Under a picture alone.
    alone: usize,
    /// Under a picture, with words.
    beside_words: usize,
    /// A stanza or paragraph stands on one panel with a caption in its midst.
    within: usize,
    /// One is divided there.
    dividing: usize,
    /// One is divided there and the caption's panel lies between.
    between: usize,
    /// Two lines of a caption stand together.
    joined: usize,
}

fn look_at_captions(problem: &Problem, best: &brute::Best, reached: &mut Captions) {
    let rows = &problem.rows;
    let panel = |row: usize| {
        let mut panels = best.book.iter();
        panels
            .position(|panel| panel.rows.contains(&row))
            .expect("a panel for every row")
    };
    let is_caption = |row: &usize| rows[*row].caption.is_some();
    let captions: Vec<usize> = (0..rows.len()).filter(is_caption).collect();
    let on = |role: Role| {
        let mut panels = captions.iter().map(|row| &best.book[panel(*row)]);
        usize::from(panels.any(|panel| panel.role == role))
    };
    reached.alone += on(Role::Picture);
    reached.beside_words += on(Role::Shared);
    reached.joined += usize::from(captions.iter().any(|row| rows[*row].joined));
    let (mut within, mut dividing, mut between) = (false, false, false);
    for caption in &captions {
        let above = (0..*caption).rfind(|row| !is_caption(row));
        let below = (*caption..rows.len()).find(|row| !is_caption(row));
        let Some((above, below)) = above.zip(below) else {
            continue;
        };
        if rows[above].block == rows[below].block {
            let panels = [above, *caption, below].map(panel);
            within |= panels[0] == panels[2];
            dividing |= panels[0] != panels[2];
            between |= panels[0] < panels[1] && panels[1] < panels[2];
        }
    }
    reached.within += usize::from(within);
    reached.dividing += usize::from(dividing);
    reached.between += usize::from(between);
}

#[test]
fn captions_stand_wherever_they_can() {
    let mut reached = Captions::default();
    for seed in SEED..SEED + 4_500 {
        let problem = marked(wide::problem(seed));
        if problem.rows.iter().all(|row| row.caption.is_none()) {
            continue;
        }
        let Some(bests) = brute::best(&problem, &SOFTS, MOST_DIVISIONS) else {
            continue;
        };
        reached.books += 1;
        if let Some(best) = bests.iter().flatten().next() {
            reached.divided += 1;
            look_at_captions(&problem, best, &mut reached);
        }
    }
    println!("{reached:?}");
    assert!(reached.divided * 7 >= reached.books, "{reached:?}");
    let counts = [
        reached.alone,
        reached.beside_words,
        reached.within,
        reached.dividing,
        reached.joined,
    ];
    assert!(counts.iter().all(|count| *count >= 30), "{reached:?}");
    assert!(reached.between >= 10, "{reached:?}");
}

/// What shapes do in the best divisions.
#[derive(Debug, Default)]
struct Shapes {
    books: usize,
    divided: usize,
    /// Panels whose words stand in one.
    panels: usize,
    /// Those of them beside pictures.
    beside_pictures: usize,
    /// Those whose words reach a second box.
    boxes: usize,
    /// Those where a row stands below a slot that it leaves empty.
    skipped: usize,
    /// Those where a box ends between two rows with a space between.
    spaces: usize,
    /// Those that end within a paragraph.
    within_paragraphs: usize,
    /// Those whose words take more or less than they would at the heights and lines of a plain area.
    otherwise: usize,
    /// Books whose best division is another where the areas hold as much, but have no shape.
    decided: usize,
}

fn look_at_shapes(problem: &Problem, best: &brute::Best, reached: &mut Shapes) {
    let mut plain = problem.clone();
    (0..problem.stack.columns.len()).for_each(|column| shapes::unshape(&mut plain, column));
    for (index, panel) in best.book.iter().enumerate() {
        let Some(shape) = shapes::shape(problem, index, panel) else {
            continue;
        };
        let column = brute::area(problem, index, panel).map_or(0, |area| area.column);
        let standing = definitions::standing(problem, shape, &panel.rows);
        let used = definitions::used(problem, column, &panel.rows);
        reached.panels += 1;
        reached.beside_pictures += usize::from(panel.picture.is_some());
        reached.boxes += usize::from(used.whole_lines() > shape.boxes.ends()[0]);
        reached.skipped += usize::from(standing.iter().any(|row| row.skip > 0));
        let space = standing.windows(2).any(|pair| {
            shape.boxes.ends().contains(&pair[0].foot)
                && problem.stack.spaces[pair[1].row].count() > 0
        });
        reached.spaces += usize::from(space);
        let next = problem.rows.get(panel.rows.end);
        reached.within_paragraphs += usize::from(next.is_some_and(|row| row.inner));
        let otherwise = used != definitions::used(&plain, column, &panel.rows);
        reached.otherwise += usize::from(otherwise);
    }
    let other = brute::best(&plain, &[&[]], MOST_DIVISIONS);
    let differs = other.is_some_and(|other| other[0].as_ref().map(|b| &b.book) != Some(&best.book));
    reached.decided += usize::from(differs);
}

#[test]
fn words_stand_in_shapes_and_shapes_decide() {
    let mut reached = Shapes::default();
    for seed in SEED..SEED + 3_000 {
        let problem = wide::problem(seed);
        let mut columns = problem.stack.columns.iter();
        if columns.all(|column| column.boxes.is_plain()) {
            continue;
        }
        let Some(bests) = brute::best(&problem, &[&[]], MOST_DIVISIONS) else {
            continue;
        };
        reached.books += 1;
        if let Some(best) = &bests[0] {
            reached.divided += 1;
            look_at_shapes(&problem, best, &mut reached);
        }
    }
    println!("{reached:?}");
    assert!(reached.divided * 6 >= reached.books, "{reached:?}");
    let counts = [
        reached.panels,
        reached.beside_pictures,
        reached.boxes,
        reached.skipped,
        reached.spaces,
        reached.otherwise,
        reached.decided,
    ];
    assert!(counts.iter().all(|count| *count >= 30), "{reached:?}");
    assert!(reached.within_paragraphs >= 5, "{reached:?}");
}
