//! Pins that say what the best division does anyway: they change nothing, and nothing is cheaper for them.

use versefold::division::{Limits, PanelDivision, PartDivision, Problem, divide};
use versefold::names::Role;
use versefold::plan::{PictureOrder, RuleName};

use super::generator::Dice;
use super::{SEED, carried, check_books, ensure, wide};

/// The book with the role that a panel has in a division pinned to it, and its picture, if one of the queue begins there.
/// Nothing where there is nothing to pin.
fn pinned(problem: &Problem, best: &PartDivision, panel: usize) -> Option<Problem> {
    let carried = &best.panels[panel];
    let mut pinned = problem.clone();
    let begins = panel == 0 || best.panels[panel - 1].picture != carried.picture;
    // Where pictures may pass a pinned one, a pin lets them: in the queue they keep their order all the same.
    let keeps_order = problem.rules.is_hard(RuleName::PictureOrder)
        || problem.rules.picture_order == PictureOrder::Free;
    let picture = carried
        .picture
        .filter(|at| begins && keeps_order && problem.pictures[*at].queued);
    if let Some(picture) = picture {
        let facts = &mut pinned.pictures[picture];
        (facts.panel, facts.queued) = (Some(panel), false);
        for on in &mut pinned.panels[panel..panel + facts.spans] {
            on.picture = Some(picture);
        }
    }
    // Only where it is pinned, a title stands on a panel of its own.
    if carried.role != Role::Title {
        pinned.panels[panel].role = Some(carried.role);
    }
    pinned.mark_long_stanzas();
    (pinned != *problem).then_some(pinned)
}

fn check_pin(problem: &Problem) -> Result<bool, String> {
    let Some(best) = divide(problem, &[], Limits::default()) else {
        return Ok(false);
    };
    let costs = |panel: &PanelDivision, rule: RuleName, least: u64| {
        let mut costs = panel.costs.iter();
        costs.any(|(own, cost)| *own == rule && *cost >= least)
    };
    // A pin asks for a picture that is out of order, which nothing else does.
    let out_of_order = |panel: &PanelDivision| costs(panel, RuleName::PictureOrder, 1);
    if best.panels.iter().any(out_of_order) {
        return Ok(false);
    }
    // Nor does anything else ask for a blank panel within a section.
    let asked = |panel: usize| costs(&best.panels[panel], RuleName::SparePanels, 10_000);
    let mut dice = Dice::new(problem.rows.len() as u64);
    let count = problem.panels.len();
    let first = dice.between(0, count - 1);
    // The first panel from there on that there is something to pin on.
    let mut pins = (0..count).map(|more| (first + more) % count);
    let found = pins.find_map(|panel| {
        let pinned = pinned(problem, &best, panel).filter(|_| !asked(panel));
        Some((panel, pinned?))
    });
    let Some((panel, pinned)) = found else {
        return Ok(false);
    };
    let again = divide(&pinned, &[], Limits::default());
    let with =
        |what: &str| format!("pinned panel {panel}: {what}\nfree: {best:#?}\npinned: {again:#?}");
    let Some(found) = &again else {
        return Err(with("there is no way any more"));
    };
    if is_blank_where_only_a_pin_asks(problem, found, panel) {
        // Only where it is asked for may a blank panel stand there: that is another book, which may cost less.
        ensure(found.cost <= best.cost, || with("it costs more"))?;
        return Ok(true);
    }
    ensure(found.cost == best.cost, || with("the costs differ"))?;
    ensure(carried(found) == carried(&best), || {
        with("another division")
    })?;
    Ok(true)
}

/// Whether a panel is blank in the midst of the words from one heading to the next, or before the first.
fn is_blank_where_only_a_pin_asks(
    problem: &Problem,
    division: &PartDivision,
    panel: usize,
) -> bool {
    let carried = &division.panels[panel];
    let at = carried.rows.start;
    let around = problem.around(at);
    let first = problem.words_before(at).is_none() && problem.words_from(at).is_some();
    let same =
        |(above, below): (usize, usize)| problem.rows[above].section == problem.rows[below].section;
    carried.role == Role::Blank && (first || around.is_some_and(same))
}

#[test]
fn a_pin_that_says_what_is_done_anyway_changes_no_cost() {
    check_books(wide::problem, SEED, 2_000, check_pin);
}
