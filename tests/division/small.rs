//! Books small enough to know the answer by heart: the order among equals, and what pins, titles and parts
//! without words mean.

use std::collections::BTreeMap;

use versefold::division::{
    AreaFacts, Behind, Ending, Limits, PanelFacts, PictureFacts, Problem, RowFacts, divide,
};
use versefold::names::Role::{Blank, Picture, Shared, Text, Title};
use versefold::names::{HalfLines, PanelName, Role};
use versefold::plan::{
    Blanks, BlanksAt, EachPanel, HeadingsBegin, Pace, Percent, PictureOrder, PictureWith, RuleName,
    Rules, SharedPanels, ShowThrough, Undivided, Weight, Window,
};
use versefold::stack::{Filled, Stack};

/// One-line stanzas on panels that hold them all, under rules that cost nothing.
pub fn book(rows: usize, panels: u16, pictures: &[&str]) -> Problem {
    let room = AreaFacts {
        column: 0,
        capacity: HalfLines::new(40),
    };
    let panel = |number| PanelFacts {
        name: PanelName::front(number),
        role: None,
        picture: None,
        area: Some(room),
        shared: vec![Some(room); pictures.len()],
        lets_words: false,
        fullness: None,
        begins: None,
        ends: None,
        chosen: None,
        passed: None,
        spread: usize::from(number) / 2,
        opens_spread: number % 2 == 0,
        follows: number > 1,
        behind: None,
        back: Behind::default(),
    };
    Problem {
        chosen_ends: Vec::new(),
        printed_ends: Vec::new(),
        blanks_unsaid: false,
        rows: (0..rows).map(line).collect(),
        stack: stack(rows),
        panels: (1..=panels).map(panel).collect(),
        pictures: pictures.iter().map(|name| picture(name, rows)).collect(),
        opening: 0,
        body: true,
        word_panels: 1,
        rules: free_rules(),
    }
}

fn stack(rows: usize) -> Stack {
    Stack {
        spaces: vec![HalfLines::LINE; rows],
        columns: vec![Filled::plain(vec![HalfLines::LINE; rows])],
    }
}

/// A picture of the first row, if there is one.
fn picture(name: &str, rows: usize) -> PictureFacts {
    PictureFacts {
        name: name.to_string(),
        word_row: (rows > 0).then_some(0),
        panel: None,
        queued: true,
        spans: 1,
        leaves_room: true,
        whole_spread: false,
        comes: free_rules().picture_comes,
        with: None,
        blank_before: false,
        reveal: false,
        heavy: false,
    }
}

/// A stanza of one line.
fn line(block: usize) -> RowFacts {
    RowFacts {
        block,
        verse: true,
        prose: false,
        inner: false,
        joined: false,
        kept: None,
        may_divide: false,
        new_panel: false,
        ending: Ending::RunsOn,
        too_long: false,
        section: 0,
        caption: None,
    }
}

fn free_rules() -> Rules {
    let free = |name| {
        (
            name,
            Weight {
                hard: Some(false),
                importance: 0,
            },
        )
    };
    Rules {
        each_panel: EachPanel::Free,
        text_fullness: Percent(60),
        shared_fullness: Percent(35),
        first_fullness: Percent(40),
        last_fullness: Percent(35),
        fullest: Percent(100),
        emptiest: Percent(0),
        undivided: Undivided::Line,
        fewest_lines: 1,
        panels_end: None,
        headings_begin: HeadingsBegin::Anywhere,
        picture_comes: Some(Window {
            soonest: 0,
            latest: 1,
        }),
        picture_order: PictureOrder::Kept,
        nearness: true,
        shared_panels: SharedPanels::Allowed,
        even_fullness: false,
        even_spreads: false,
        picture_with: None,
        stays_within: None,
        show_through: ShowThrough::Avoided,
        text_in_a_row: 2,
        pictures_in_a_row: 2,
        pictures: 0,
        pace: Pace::Even,
        blanks: None,
        ends_with: None,
        last_spread: None,
        blank_between: None,
        weights: BTreeMap::from(RuleName::ALL.map(|(name, ..)| free(name))),
    }
}

/// Role, last row and picture of each panel; nothing where there is no division.
pub fn divided(problem: &Problem) -> Option<Vec<(Role, usize, Option<usize>)>> {
    let division = divide(problem, &[], Limits::default())?;
    let panels = division.panels.iter();
    Some(
        panels
            .map(|panel| (panel.role, panel.rows.end, panel.picture))
            .collect(),
    )
}

pub fn hard(problem: &mut Problem, name: RuleName) {
    problem.rules.weights.remove(&name);
}

#[test]
fn of_equals_the_one_with_later_ends_comes_first_then_the_one_with_earlier_roles() {
    let words_early = vec![(Text, 2, None), (Blank, 2, None), (Blank, 2, None)];
    assert_eq!(divided(&book(2, 3, &[])), Some(words_early));
    // Shared and blank would end alike; text comes before shared.
    let text_first = vec![(Text, 1, None), (Picture, 1, Some(0))];
    assert_eq!(divided(&book(1, 2, &["the pass"])), Some(text_first));
    // The ends weigh more than the roles: two pictures on two panels leave all the words to the first.
    let shared_first = vec![(Shared, 2, Some(0)), (Picture, 2, Some(1))];
    assert_eq!(
        divided(&book(2, 2, &["the pass", "the tunnel"])),
        Some(shared_first)
    );
}

#[test]
fn a_panel_pinned_to_begin_with_a_row_carries_that_row() {
    let mut problem = book(2, 3, &[]);
    problem.panels[1].begins = Some(1);
    let expected = vec![(Text, 1, None), (Text, 2, None), (Blank, 2, None)];
    assert_eq!(divided(&problem), Some(expected));
    // A blank panel that stands where the row comes next does not begin with it.
    problem.panels[1].begins = Some(0);
    let expected = vec![(Blank, 0, None), (Text, 2, None), (Blank, 2, None)];
    assert_eq!(divided(&problem), Some(expected));
    problem.panels[1].role = Some(Blank);
    assert_eq!(divided(&problem), None);
}

#[test]
fn a_part_of_pictures_alone_needs_no_words_for_them() {
    let mut problem = book(0, 2, &["the pass", "the tunnel"]);
    hard(&mut problem, RuleName::PictureComes);
    let expected = vec![(Picture, 0, Some(0)), (Picture, 0, Some(1))];
    assert_eq!(divided(&problem), Some(expected));
}

#[test]
fn a_title_panel_does_not_part_what_is_kept_together() {
    let mut problem = book(2, 2, &[]);
    problem.opening = 1;
    problem.rows[0].verse = false;
    problem.panels[0].role = Some(Title);
    let expected = vec![(Title, 1, None), (Text, 2, None)];
    assert_eq!(divided(&problem), Some(expected.clone()));
    problem.rows.iter_mut().for_each(|row| row.kept = Some(1));
    assert_eq!(divided(&problem), Some(expected));
    hard(&mut problem, RuleName::KeepTogether);
    assert_eq!(divided(&problem), None);
}

/// A rule at its usual weight is kept where that costs nothing else.
pub fn kept(problem: &mut Problem, name: RuleName) -> Option<Vec<(Role, usize, Option<usize>)>> {
    hard(problem, name);
    let division = divide(problem, &[], Limits::default())?;
    assert_eq!(division.cost, 0, "{division:#?}");
    divided(problem)
}

#[test]
fn a_picture_parts_a_row_of_text_panels() {
    let mut problem = book(4, 5, &["the pass"]);
    problem.rules.each_panel = EachPanel::Stanzas(1);
    let text = |to| (Text, to, None);
    hard(&mut problem, RuleName::EachPanel);
    let expected = vec![text(1), text(2), text(3), text(4), (Picture, 4, Some(0))];
    assert_eq!(divided(&problem), Some(expected));
    let shared = (Shared, 3, Some(0));
    let expected = vec![text(1), text(2), shared, text(4), (Blank, 4, None)];
    assert_eq!(kept(&mut problem, RuleName::TextInARow), Some(expected));
}

#[test]
fn words_part_a_row_of_pictures() {
    let mut problem = book(1, 4, &["the pass", "the tunnel", "the snow chains"]);
    let picture = |picture| (Picture, 1, Some(picture));
    let expected = vec![(Text, 1, None), picture(0), picture(1), picture(2)];
    assert_eq!(divided(&problem), Some(expected));
    let shared = (Shared, 1, Some(0));
    let expected = vec![shared, picture(1), picture(2), (Blank, 1, None)];
    let rule = RuleName::PicturesInARow;
    assert_eq!(kept(&mut problem, rule), Some(expected));
}

#[test]
fn blank_panels_stand_where_they_are_asked() {
    let mut problem = book(2, 3, &[]);
    let asked = |at| Some(Blanks { count: 1, at });
    let blank = |to| (Blank, to, None);
    problem.rules.blanks = asked(BlanksAt::End);
    let expected = vec![(Text, 1, None), (Text, 2, None), blank(2)];
    assert_eq!(kept(&mut problem, RuleName::Blanks), Some(expected));
    problem.rules.blanks = asked(BlanksAt::Start);
    let expected = vec![blank(0), (Text, 1, None), (Text, 2, None)];
    assert_eq!(kept(&mut problem, RuleName::Blanks), Some(expected));
    problem.rules.blanks = asked(BlanksAt::Anywhere);
    problem.panels[1].role = Some(Blank);
    let expected = vec![(Text, 1, None), blank(1), (Text, 2, None)];
    assert_eq!(kept(&mut problem, RuleName::Blanks), Some(expected));
}

#[test]
fn a_part_ends_as_it_is_asked() {
    let mut problem = book(1, 3, &["the pass"]);
    problem.rules.ends_with = Some(Shared);
    let expected = vec![(Shared, 1, Some(0)), (Blank, 1, None), (Blank, 1, None)];
    assert_eq!(kept(&mut problem, RuleName::EndsWith), Some(expected));
    problem.rules.ends_with = Some(Text);
    let expected = vec![(Picture, 0, Some(0)), (Text, 1, None), (Blank, 1, None)];
    assert_eq!(kept(&mut problem, RuleName::EndsWith), Some(expected));
}

#[test]
fn a_blank_panel_comes_before_the_picture_that_asks_for_one() {
    let mut problem = book(1, 4, &["the pass", "the tunnel"]);
    problem.pictures[1].blank_before = true;
    let picture = |picture| (Picture, 1, Some(picture));
    let expected = vec![(Text, 1, None), picture(0), (Blank, 1, None), picture(1)];
    assert_eq!(kept(&mut problem, RuleName::BlankBefore), Some(expected));
}

/// The first panel is a spread of its own, the next two are one.
#[test]
fn pictures_stand_on_the_spread_that_is_asked() {
    let mut problem = book(2, 4, &["the pass", "the tunnel"]);
    problem.pictures[0].with = Some(PictureWith::SameSpread);
    problem.pictures[1].with = Some(PictureWith::NextSpread);
    let shared = (Shared, 2, Some(0));
    let expected = vec![
        shared,
        (Picture, 2, Some(1)),
        (Blank, 2, None),
        (Blank, 2, None),
    ];
    assert_eq!(kept(&mut problem, RuleName::PictureWith), Some(expected));
    problem.pictures[0].with = Some(PictureWith::NextSpread);
    let picture = |picture| (Picture, 2, Some(picture));
    let expected = vec![(Text, 2, None), picture(0), picture(1), (Blank, 2, None)];
    assert_eq!(kept(&mut problem, RuleName::PictureWith), Some(expected));
}

#[test]
fn each_picture_has_a_window_of_its_own() {
    let mut problem = book(1, 4, &["the pass", "the tunnel"]);
    let only = |after| {
        Some(Window {
            soonest: after,
            latest: after,
        })
    };
    problem.pictures[0].comes = only(1);
    problem.pictures[1].comes = only(3);
    let picture = |picture| (Picture, 1, Some(picture));
    let expected = vec![(Text, 1, None), picture(0), (Blank, 1, None), picture(1)];
    assert_eq!(kept(&mut problem, RuleName::PictureComes), Some(expected));
    problem.pictures[0].comes = None;
    let expected = vec![(Text, 1, None), picture(0), (Blank, 1, None), picture(1)];
    assert_eq!(kept(&mut problem, RuleName::PictureComes), Some(expected));
    problem.pictures[1].comes = only(2);
    let expected = vec![(Text, 1, None), picture(0), picture(1), (Blank, 1, None)];
    assert_eq!(kept(&mut problem, RuleName::PictureComes), Some(expected));
}

#[test]
fn a_stanza_that_a_captions_panel_parts_is_divided_once() {
    let mut problem = book(3, 3, &["the pass"]);
    problem.rows[2].block = problem.rows[0].block;
    problem.rows[1].verse = false;
    problem.rows[1].caption = Some(0);
    let roles = [Text, Picture, Text];
    for (panel, role) in problem.panels.iter_mut().zip(roles) {
        panel.role = Some(role);
    }
    problem.rules.undivided = Undivided::Stanza;
    let soft = Weight {
        hard: Some(false),
        importance: 1,
    };
    for name in [RuleName::Undivided, RuleName::Couplets] {
        problem.rules.weights.insert(name, soft);
    }
    let division = divide(&problem, &[], Limits::default()).expect("a division");
    let panels = division.panels.iter();
    let told: Vec<_> = panels
        .map(|panel| (panel.rows.clone(), panel.costs.clone()))
        .collect();
    let once = vec![(RuleName::Couplets, 160), (RuleName::Undivided, 60)];
    assert_eq!(told, [(0..1, once), (1..2, vec![]), (2..3, vec![])]);
    // It fits under its picture or the book cannot be divided; how full the panel is by it is nobody's business.
    hard(&mut problem, RuleName::Fullest);
    problem.rules.fullest = Percent(50);
    let mut beside = problem.panels[1].shared[0].expect("a text area");
    for (capacity, fits) in [(2, true), (1, false)] {
        beside.capacity = HalfLines::new(capacity);
        problem.panels[1].shared[0] = Some(beside);
        assert_eq!(divided(&problem).is_some(), fits);
    }
}

#[test]
fn a_stanza_that_another_row_parts_has_a_piece_on_either_side_of_it() {
    let mut problem = book(5, 3, &[]);
    for (row, facts) in problem.rows.iter_mut().enumerate() {
        facts.block = usize::from(row == 2);
        facts.verse = row != 2;
    }
    for (panel, begins) in problem.panels.iter_mut().zip([0, 1, 4]) {
        panel.begins = Some(begins);
    }
    problem.rules.fewest_lines = 2;
    let soft = Weight {
        hard: Some(false),
        importance: 1,
    };
    problem.rules.weights.insert(RuleName::FewestLines, soft);
    let division = divide(&problem, &[], Limits::default()).expect("a division");
    let costs = division.panels.iter().map(|panel| panel.costs.clone());
    let costs: Vec<_> = costs.flatten().map(|(_, cost)| cost).collect();
    assert_eq!(costs, [100, 200, 100]);
}

#[test]
fn a_spare_panel_stands_between_two_sections_and_the_others_at_the_end() {
    let mut problem = book(2, 5, &[]);
    problem.rows[1].section = 1;
    hard(&mut problem, RuleName::SparePanels);
    hard(&mut problem, RuleName::SectionsApart);
    let expected = vec![
        (Text, 1, None),
        (Blank, 1, None),
        (Text, 2, None),
        (Blank, 2, None),
        (Blank, 2, None),
    ];
    assert_eq!(divided(&problem), Some(expected));
    // Without a heading all stand at the end, and nothing parts the words.
    problem.rows[1].section = 0;
    let mut expected = vec![(Blank, 2, None); 5];
    expected[0] = (Text, 2, None);
    assert_eq!(divided(&problem), Some(expected));
}

#[test]
fn no_picture_jumps_over_a_pinned_one() {
    let mut problem = book(2, 4, &["the pass", "the tunnel"]);
    problem.pictures[1].word_row = Some(1);
    problem.pictures[1].queued = false;
    problem.pictures[1].panel = Some(1);
    problem.panels[1].picture = Some(1);
    let stands = |problem: &Problem| {
        let panels = divided(problem).expect("a division");
        panels.iter().position(|panel| panel.2 == Some(0))
    };
    assert_eq!(stands(&problem), Some(2));
    hard(&mut problem, RuleName::PictureOrder);
    assert_eq!(stands(&problem), Some(0));
    // A pinned picture that leaves no panel before it is out of order by itself.
    problem.panels[0].role = Some(Text);
    assert_eq!(stands(&problem), Some(2));
    // Where their order is free, it is no bar to any.
    problem.panels[0].role = None;
    problem.rules.picture_order = PictureOrder::Free;
    assert_eq!(stands(&problem), Some(2));
}

#[test]
fn in_free_order_the_picture_comes_that_has_room_where_it_is_wanted() {
    // The pass spans a whole spread and so has no panel before front 2; the tunnel, called later, stands on front 1.
    let mut problem = book(2, 4, &["the pass", "the tunnel"]);
    problem.pictures[0].whole_spread = true;
    problem.pictures[0].spans = 2;
    problem.pictures[1].word_row = Some(1);
    problem.panels[3].role = Some(Text);
    let order = |problem: &Problem| {
        let panels = divided(problem);
        panels.map(|panels| panels.iter().map(|panel| panel.2).collect::<Vec<_>>())
    };
    assert_eq!(order(&problem), None);
    problem.rules.picture_order = PictureOrder::Free;
    assert_eq!(order(&problem), Some(vec![Some(1), Some(0), Some(0), None]));
}
