//! What must hold of every fall: lengths may be counted in any unit, what lies before a place is of no account, and
//! lines are shared.

use proptest::prelude::*;
use versefold::names::Length;
use versefold::setting::line_breaks::{
    How, LineFit, Measures, Point, Slack, best_breaks, line_cost,
};

use crate::line_breaks::plain::Paragraph;
use crate::line_breaks::random::{breaks_from, fall_of, paragraphs, runner};

fn scaled_slack(slack: Slack, by: i64) -> Slack {
    Slack {
        stretch: slack.stretch * by,
        shrink: slack.shrink * by,
    }
}

/// The same paragraph in a unit that is so much smaller.
fn scaled(paragraph: &Paragraph, by: i64) -> Paragraph {
    let point = |point: &Point| Point {
        end: point.end * by,
        start: point.start * by,
        slack_to_end: scaled_slack(point.slack_to_end, by),
        slack_to_start: scaled_slack(point.slack_to_start, by),
        ..*point
    };
    let mut how = paragraph.how;
    match &mut how {
        How::Ragged(ragged) => ragged.em = ragged.em * by,
        How::Justified(justified) => justified.least_last = justified.least_last * by,
    }
    Paragraph {
        points: paragraph.points.iter().map(point).collect(),
        first: paragraph.first.iter().map(|measure| measure * by).collect(),
        rest: paragraph.rest * by,
        how,
        ..paragraph.clone()
    }
}

#[test]
fn lengths_may_be_counted_in_any_unit() {
    // With the last, a unit of the paragraph is nearly two kilometres: cubes of such lengths need care.
    let factors = prop::sample::select(&[2i64, 7, 12_700, 914_400, 1 << 36][..]);
    runner(600)
        .run(&(paragraphs(40, 2), factors), |(paragraph, by)| {
            let (small, large) = (fall_of(&paragraph), fall_of(&scaled(&paragraph, by)));
            for start in 0..paragraph.end() {
                prop_assert_eq!(small.cost_from(start), large.cost_from(start));
                prop_assert_eq!(breaks_from(&small, start), breaks_from(&large, start));
            }
            Ok(())
        })
        .unwrap_or_else(|failure| panic!("{failure}"));
}

#[test]
fn what_lies_before_a_place_is_of_no_account() {
    let from = (paragraphs(40, 2), any::<prop::sample::Index>());
    runner(600)
        .run(&from, |(paragraph, place)| {
            let whole = fall_of(&paragraph);
            let place = place.index(paragraph.end());
            let rest = Paragraph {
                points: paragraph.points[place..].to_vec(),
                first: Vec::new(),
                ..paragraph.clone()
            };
            let alone = fall_of(&rest);
            // At the very beginning the first measures count.
            for start in place.max(1)..paragraph.end() {
                let there: Vec<usize> = breaks_from(&alone, start - place);
                let there: Vec<usize> = there.into_iter().map(|to| to + place).collect();
                prop_assert_eq!(breaks_from(&whole, start), there);
                prop_assert_eq!(whole.cost_from(start), alone.cost_from(start - place));
            }
            Ok(())
        })
        .unwrap_or_else(|failure| panic!("{failure}"));
}

#[test]
fn lines_go_on_from_one_another_and_one_number_is_one_line() {
    runner(600)
        .run(&paragraphs(40, 2), |paragraph| {
            let fall = fall_of(&paragraph);
            let mut known = vec![None; fall.kept()];
            for start in 0..paragraph.end() {
                let mut from = start;
                let lines: Vec<_> = fall.lines_from(start).collect();
                for (number, line) in lines.iter().enumerate() {
                    prop_assert_eq!(line.from, from);
                    prop_assert!(line.to > from);
                    from = line.to;
                    let measure = Length::from_units(paragraph.measure(start, number));
                    let cost = line_cost(
                        &paragraph.points,
                        line.from,
                        line.to,
                        measure,
                        &paragraph.how,
                    );
                    prop_assert_eq!(cost.map(|cost| cost.fit), Some(line.fit));
                    let next = lines.get(number + 1).map(|line| line.id);
                    let here = Some((*line, next));
                    prop_assert!(known[line.id].is_none() || known[line.id] == here);
                    known[line.id] = here;
                }
                prop_assert_eq!(from, paragraph.end());
            }
            prop_assert!(
                known.iter().all(Option::is_some),
                "a line that no division uses"
            );
            Ok(())
        })
        .unwrap_or_else(|failure| panic!("{failure}"));
}

#[test]
fn no_points_make_no_lines() {
    let measures = Measures {
        first: &[Length::ZERO, Length::mm(10)],
        rest: Length::mm(50),
    };
    for how in [
        How::Ragged(Default::default()),
        How::Justified(Default::default()),
    ] {
        for points in [vec![], vec![Point::default()]] {
            let fall = best_breaks(&points, &measures, &how);
            assert_eq!((fall.lines_from(0).count(), fall.kept()), (0, 0));
            assert_eq!(fall.cost_from(0), Default::default());
            assert_eq!(line_cost(&points, 0, 1, measures.rest, &how), None);
        }
        // A word of no width is a line.
        let points = [Point::default(); 2];
        let fall = best_breaks(&points, &measures, &how);
        let fits: Vec<LineFit> = fall.lines_from(0).map(|line| line.fit).collect();
        assert_eq!(fits, [LineFit::Within]);
    }
}
