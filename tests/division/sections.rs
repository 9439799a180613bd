//! Books small enough to know the answer by heart: sections, and what shares a spread.

use versefold::division::{Ending, Limits, Problem, divide};
use versefold::names::Role::{Blank, Picture, Shared, Text};
use versefold::names::{HalfLines, Side};
use versefold::plan::{
    BlankBetween, EachPanel, HeadingsBegin, PanelEnd, PanelsEnd, Percent, RuleName, StaysWithin,
};

use super::small::{book, divided, kept};

/// The first panel is a spread of its own, the next two are one.
#[test]
fn headings_begin_where_they_are_asked() {
    let mut problem = book(3, 5, &[]);
    problem.rows[2].section = 1;
    problem.panels[0].role = Some(Blank);
    let rule = RuleName::HeadingsBegin;
    let blank = |to| (Blank, to, None);
    let text = |to| (Text, to, None);
    problem.rules.headings_begin = HeadingsBegin::Panel;
    let expected = vec![blank(0), text(2), text(3), blank(3), blank(3)];
    assert_eq!(kept(&mut problem, rule), Some(expected));
    problem.rules.headings_begin = HeadingsBegin::Spread;
    let expected = vec![blank(0), text(2), blank(2), text(3), blank(3)];
    assert_eq!(kept(&mut problem, rule), Some(expected));
}

#[test]
fn a_heading_may_begin_its_spread_beside_a_picture_of_its_section() {
    let mut problem = book(2, 3, &["the pass"]);
    problem.rows[1].section = 1;
    problem.panels[1].role = Some(Picture);
    problem.rules.headings_begin = HeadingsBegin::Spread;
    let picture = |to| (Picture, to, Some(0));
    problem.pictures[0].word_row = Some(1);
    let expected = vec![(Text, 1, None), picture(1), (Text, 2, None)];
    assert_eq!(kept(&mut problem, RuleName::HeadingsBegin), Some(expected));
    // One of the section before it may not, so that nothing is gained by another panel.
    problem.pictures[0].word_row = Some(0);
    let expected = vec![(Text, 2, None), picture(2), (Blank, 2, None)];
    assert_eq!(divided(&problem), Some(expected));
}

#[test]
fn a_panel_carries_so_many_stanzas() {
    let mut problem = book(6, 4, &[]);
    problem.rules.each_panel = EachPanel::Stanzas(3);
    let expected = vec![
        (Text, 3, None),
        (Text, 6, None),
        (Blank, 6, None),
        (Blank, 6, None),
    ];
    assert_eq!(kept(&mut problem, RuleName::EachPanel), Some(expected));
}

/// Three of four lines fill the first panel as it should be; a sentence ends behind two, and that leaves 24 points more
/// white.
#[test]
fn a_panel_ends_with_a_sentence_where_the_white_is_worth_it() {
    let mut problem = book(4, 2, &[]);
    for panel in &mut problem.panels {
        panel.area.as_mut().expect("a text area").capacity = HalfLines::lines(8);
    }
    problem.rules.first_fullness = Percent(62);
    for name in [RuleName::FirstFullness, RuleName::PanelsEnd] {
        problem.rules.weights.remove(&name);
    }
    problem.rows[1].ending = Ending::Sentence;
    let ends = |problem: &Problem| divided(problem).expect("a division")[0].1;
    assert_eq!(ends(&problem), 3);
    for (white, expected) in [(20, 3), (25, 2)] {
        problem.rules.panels_end = Some(PanelsEnd {
            at: PanelEnd::Sentence,
            white: Percent(white),
        });
        assert_eq!(ends(&problem), expected);
    }
    // A comma is worth half as much.
    problem.rows[2].ending = Ending::Pause;
    assert_eq!(ends(&problem), 3);
}

/// The first panel is a spread of its own, the next two are one.
#[test]
fn words_are_even_within_a_spread() {
    let mut problem = book(5, 3, &[]);
    problem.panels[0].begins = Some(0);
    problem.panels[1].begins = Some(1);
    problem.panels[2].role = Some(Text);
    let text = |to| (Text, to, None);
    assert_eq!(divided(&problem), Some(vec![text(1), text(4), text(5)]));
    problem.rules.even_spreads = true;
    let expected = vec![text(1), text(3), text(5)];
    assert_eq!(kept(&mut problem, RuleName::EvenSpreads), Some(expected));
}

#[test]
fn a_blank_panel_stands_between_two_sections() {
    let mut problem = book(3, 6, &["the pass"]);
    (problem.rows[1].section, problem.rows[2].section) = (1, 2);
    problem.rules.blank_between = Some(BlankBetween::Sections);
    for name in [RuleName::SparePanels, RuleName::SectionsApart] {
        problem.rules.weights.remove(&name);
    }
    let (text, blank) = (|to| (Text, to, None), |to| (Blank, to, None));
    let expected = vec![
        text(1),
        blank(1),
        text(2),
        blank(2),
        text(3),
        (Picture, 3, Some(0)),
    ];
    assert_eq!(kept(&mut problem, RuleName::BlankBetween), Some(expected));
}

#[test]
fn a_picture_stays_within_its_section_or_on_its_side() {
    let mut problem = book(2, 3, &["the pass"]);
    problem.rows[1].section = 1;
    problem.panels[1].begins = Some(1);
    problem.panels[1].role = Some(Text);
    let picture = |to| (Picture, to, Some(0));
    let behind = vec![(Text, 1, None), (Text, 2, None), picture(2)];
    assert_eq!(divided(&problem), Some(behind.clone()));
    problem.rules.stays_within = Some(StaysWithin::Section);
    let beside = vec![(Shared, 1, Some(0)), (Text, 2, None), (Blank, 2, None)];
    assert_eq!(
        kept(&mut problem, RuleName::StaysWithin),
        Some(beside.clone())
    );
    problem.rules.stays_within = Some(StaysWithin::Side);
    assert_eq!(divided(&problem), Some(behind));
    for panel in &mut problem.panels[1..] {
        panel.name.side = Side::Back;
    }
    assert_eq!(divided(&problem), Some(beside));
}

/// The first panel is a spread of its own, the next two are one, and the last is one again.
#[test]
fn the_last_spread_carries_what_is_asked() {
    let mut problem = book(1, 4, &["the pass", "the tunnel"]);
    let blank = (Blank, 1, None);
    problem.rules.last_spread = Some(Picture);
    let picture = |at| (Picture, 1, Some(at));
    let expected = vec![(Text, 1, None), picture(0), picture(1), blank];
    assert_eq!(kept(&mut problem, RuleName::LastSpread), Some(expected));
    problem.rules.last_spread = Some(Text);
    let last = divided(&problem).and_then(|panels| panels.last().copied());
    assert_eq!(last, Some((Text, 1, None)));
    // Two pictures take two panels, so that one stands on the last spread.
    problem.panels.truncate(3);
    problem.rules.last_spread = Some(Blank);
    let division = divide(&problem, &[], Limits::default()).expect("a division");
    assert_eq!(division.cost, 80);
}

/// The first panel is a spread of its own, the next two are one.
#[test]
fn a_picture_is_seen_after_the_turn_from_its_words() {
    let mut problem = book(2, 4, &["the pass"]);
    problem.panels[0].role = Some(Blank);
    let (text, blank, picture) = ((Text, 2, None), (Blank, 2, None), (Picture, 2, Some(0)));
    let first = (Blank, 0, None);
    assert_eq!(divided(&problem), Some(vec![first, text, picture, blank]));
    problem.pictures[0].reveal = true;
    let expected = vec![first, text, blank, picture];
    assert_eq!(kept(&mut problem, RuleName::Reveal), Some(expected));
    // With those two panels alone, a reader must turn the strip over instead.
    problem.panels = problem.panels[1..3].to_vec();
    let cost = |problem: &Problem| {
        divide(problem, &[], Limits::default())
            .expect("a division")
            .cost
    };
    assert_eq!(cost(&problem), 120);
    let turned = &mut problem.panels[1];
    (turned.name.side, turned.spread) = (Side::Back, 2);
    assert_eq!(cost(&problem), 0);
}
