//! Small random paragraphs in shaped areas, where the measure changes from line to line: from every place, and from
//! the beginning on every slot, the pass finds what trying every division finds.

use std::cell::Cell;

use proptest::prelude::*;
use versefold::names::Length;
use versefold::setting::line_breaks::{
    BreakCost, BrokenLine, LineBreaks, Measures, SlotMeasures, best_breaks, best_breaks_along,
};

use crate::line_breaks::plain::{Paragraph, Score};
use crate::line_breaks::random::{MOST_DIVISIONS, paragraphs, runner};

/// A paragraph on slots, with how far its first lines stand in when it begins on each.
#[derive(Clone, Debug)]
struct OnSlots {
    paragraph: Paragraph,
    insets: Vec<Vec<i64>>,
}

impl OnSlots {
    /// The paragraph, begun on a slot.
    fn begun_on(&self, slot: usize) -> Paragraph {
        Paragraph {
            begins: slot,
            insets: self.insets[slot].clone(),
            ..self.paragraph.clone()
        }
    }

    fn best_breaks(&self) -> LineBreaks {
        let lengths = |all: &Vec<i64>| all.iter().copied().map(Length::from_units).collect();
        let insets: Vec<Vec<Length>> = self.insets.iter().map(lengths).collect();
        let along = SlotMeasures {
            measures: &lengths(&self.paragraph.slots),
            insets: &insets,
        };
        best_breaks_along(&self.paragraph.points, &along, &self.paragraph.how)
    }
}

fn on_slots(words: usize, pieces: usize) -> impl Strategy<Value = OnSlots> {
    // Some measures follow each other more than once, as in boxes.
    let stretch = (6i64..45, 1usize..4);
    let slots = prop::collection::vec(stretch, 1..4).prop_map(|stretches| {
        let measures = stretches.iter();
        let measures = measures.flat_map(|&(measure, lines)| vec![measure; lines]);
        measures.collect::<Vec<i64>>()
    });
    let insets = prop::collection::vec(prop::collection::vec(0i64..6, 0..4), 10);
    (paragraphs(words, pieces), slots, insets).prop_map(|(paragraph, slots, mut insets)| {
        insets.truncate(slots.len() + 1);
        OnSlots {
            paragraph: Paragraph {
                first: Vec::new(),
                rest: slots.iter().copied().max().unwrap_or(0),
                slots,
                ..paragraph
            },
            insets,
        }
    })
}

fn told(cost: BreakCost, lines: impl Iterator<Item = BrokenLine>) -> (Score, Vec<usize>) {
    let score = (cost.overfull, cost.breaches, i128::from(cost.ordinary));
    (score, lines.map(|line| line.to).collect())
}

#[test]
fn on_every_slot_no_division_is_better() {
    let (checked, changed) = (Cell::new(0), Cell::new(0));
    for (words, pieces, cases) in [(12, 2, 1_500), (4, 5, 700), (14, 1, 1_000)] {
        let check = |on_slots: OnSlots| {
            let fall = on_slots.best_breaks();
            let paragraph = &on_slots.paragraph;
            for start in 1..paragraph.end() {
                let Some(best) = paragraph.try_all(start, MOST_DIVISIONS) else {
                    return Ok(());
                };
                let found = told(fall.cost_from(start), fall.lines_from(start));
                prop_assert_eq!(best, found, "from {}", start);
            }
            let mut before = None;
            for slot in 0..on_slots.insets.len() {
                let begun = on_slots.begun_on(slot);
                let Some(best) = begun.try_all(0, MOST_DIVISIONS) else {
                    return Ok(());
                };
                let found = told(fall.cost_on(slot), fall.lines_on(slot));
                prop_assert_eq!(&best, &found, "on slot {}", slot);
                let other = before
                    .replace(best.1)
                    .is_some_and(|before| before != found.1);
                changed.set(changed.get() + u32::from(other));
            }
            let from = told(fall.cost_from(0), fall.lines_from(0));
            prop_assert_eq!(from, told(fall.cost_on(0), fall.lines_on(0)));
            checked.set(checked.get() + 1);
            Ok(())
        };
        runner(cases)
            .run(&on_slots(words, pieces), check)
            .unwrap_or_else(|failure| panic!("{failure}"));
    }
    // The slot that a paragraph begins on does matter.
    let (checked, changed) = (checked.get(), changed.get());
    println!("{checked} paragraphs, {changed} falls that change with the slot");
    assert!(checked > 2_000 && changed > 2_000, "{checked}, {changed}");
}

#[test]
fn slots_of_one_measure_are_as_no_slots() {
    let cases = (paragraphs(40, 2), 1usize..6);
    runner(300)
        .run(&cases, |(paragraph, slots)| {
            let rest = Length::from_units(paragraph.rest);
            let along = SlotMeasures {
                measures: &vec![rest; slots],
                insets: &vec![Vec::new(); slots + 1],
            };
            let measures = Measures { first: &[], rest };
            let plain = best_breaks(&paragraph.points, &measures, &paragraph.how);
            let shaped = best_breaks_along(&paragraph.points, &along, &paragraph.how);
            for start in 0..paragraph.end() {
                let lines: Vec<BrokenLine> = plain.lines_from(start).collect();
                let same: Vec<BrokenLine> = shaped.lines_from(start).collect();
                prop_assert_eq!(lines, same);
            }
            let whole = plain.lines_from(0).map(|line| line.to).collect::<Vec<_>>();
            for slot in 0..=slots {
                let lines = shaped.lines_on(slot).map(|line| line.to);
                prop_assert_eq!(&whole, &lines.collect::<Vec<_>>());
            }
            Ok(())
        })
        .unwrap_or_else(|failure| panic!("{failure}"));
}
