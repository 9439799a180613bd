//! Pictures without a name in books small enough to know the answer by heart.

use versefold::division::{PictureFacts, Problem};
use versefold::names::Role::{Blank, Picture, Text};
use versefold::plan::{EachPanel, Pace, RuleName, Weight};

use super::small::{book, divided, hard};

/// One-line stanzas, one a panel, and three pictures without a name.
fn with_unnamed(rows: usize, panels: u16) -> Problem {
    let mut problem = book(rows, panels, &[]);
    problem.rules.pictures = 3;
    problem.rules.each_panel = EachPanel::Stanzas(1);
    problem.word_panels = rows;
    for name in [RuleName::EachPanel, RuleName::Pictures, RuleName::Pace] {
        hard(&mut problem, name);
    }
    problem
}

/// The roles of a division's panels, a letter each.
fn roles(problem: &Problem) -> Option<String> {
    let letter = |role| match role {
        Text => 'w',
        Picture => 'p',
        Blank => '.',
        _ => '?',
    };
    let panels = divided(problem)?;
    Some(panels.iter().map(|(role, ..)| letter(*role)).collect())
}

#[test]
fn pictures_without_a_name_come_at_an_even_pace() {
    let roles_of = |rows, panels| roles(&with_unnamed(rows, panels)).expect("a division");
    assert_eq!(roles_of(8, 13), "wwpwwpwwpww..");
    // What is left over of an even share stands first, for words come as early as they can.
    assert_eq!(roles_of(5, 8), "wwpwpwpw");
    // As many pictures as panels of words: none stand in a row, and the book ends with one.
    assert_eq!(roles_of(3, 6), "wpwpwp");
    // Another pace is free: then all panels of words come first.
    let mut free = with_unnamed(8, 13);
    free.rules.pace = Pace::Free;
    assert_eq!(roles(&free).as_deref(), Some("wwwwwwwwppp.."));
}

#[test]
fn a_named_picture_is_one_of_those_that_are_asked_for() {
    let mut problem = with_unnamed(8, 13);
    for panel in &mut problem.panels {
        panel.shared = vec![panel.area];
    }
    let named = book(8, 13, &["the pass"]).pictures.remove(0);
    problem.pictures = vec![PictureFacts {
        leaves_room: false,
        ..named
    }];
    let panels = divided(&problem).expect("a division");
    let pictures = panels.iter().filter(|panel| panel.0 == Picture);
    let pictures: Vec<_> = pictures.map(|panel| panel.2).collect();
    assert_eq!(pictures.len(), 3);
    assert_eq!(pictures.iter().flatten().count(), 1);
    // More have a name than were asked for: no panel is kept for others.
    problem.rules.pictures = 0;
    let panels = divided(&problem).expect("a division");
    assert_eq!(panels.iter().filter(|panel| panel.0 == Picture).count(), 1);
}

#[test]
fn a_picture_without_a_name_stands_at_the_end_of_a_section() {
    let mut problem = with_unnamed(12, 14);
    problem.rules.pictures = 2;
    hard(&mut problem, RuleName::PicturesBetween);
    assert_eq!(roles(&problem).as_deref(), Some("wwwwpwwwwpwwww"));
    for row in &mut problem.rows[5..] {
        row.section = 1;
    }
    assert_eq!(roles(&problem).as_deref(), Some("wwwwwpwwwwpwww"));
    // A stanza that goes on over two panels is not parted.
    let mut problem = with_unnamed(8, 11);
    hard(&mut problem, RuleName::PicturesBetween);
    problem.rows[2].block = problem.rows[1].block;
    problem.rules.each_panel = EachPanel::Lines(1);
    let always = Weight {
        hard: Some(true),
        importance: 1,
    };
    let weights = &mut problem.rules.weights;
    weights.insert(RuleName::EachPanel, always);
    assert_eq!(roles(&problem).as_deref(), Some("wwwpwwpwwpw"));
}

#[test]
fn a_panel_that_is_pinned_to_a_picture_has_one_without_a_name() {
    let mut problem = with_unnamed(8, 13);
    problem.panels[0].role = Some(Picture);
    let roles = roles(&problem).expect("a division");
    assert_eq!(roles.matches('p').count(), 3, "{roles}");
    assert!(roles.starts_with('p'), "{roles}");
    // Where fewer fit, there is no way.
    assert_eq!(divided(&with_unnamed(8, 3)), None);
}

#[test]
fn a_picture_without_a_name_stands_on_the_spread_of_the_words_before_it() {
    // 1 · 2-3 · 4-5 · 6-7 · 8-9
    let mut problem = with_unnamed(6, 9);
    hard(&mut problem, RuleName::PicturesBeside);
    assert_eq!(roles(&problem).as_deref(), Some("wwpwpwpww"));
}
