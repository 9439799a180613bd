//! What an author means, in books as she writes them: panels of ten lines, a poem, a few rules.

use versefold::assets::Assets;
use versefold::book::{PreparedBook, Workbench};
use versefold::division::{Division, Ending};
use versefold::names::{Role, Source};
use versefold::plan::RuleName;

use crate::support::small_plan;

fn prepared(panels: usize, more: &str, poem: &str) -> PreparedBook {
    let plan = Source::new("concertina.toml", small_plan(panels, more));
    let poem = Source::new("winter-bus.txt", poem);
    let prepared = Workbench::new(Assets::memory()).prepare_texts(&plan, &poem);
    prepared.expect("a book that can be set")
}

fn divided(panels: usize, more: &str, poem: &str) -> Division {
    let plan = Source::new("concertina.toml", small_plan(panels, more));
    let poem = Source::new("winter-bus.txt", poem);
    let divided = Workbench::new(Assets::memory()).divide_texts(&plan, &poem);
    divided.expect("a book that can be divided")
}

/// Each panel's role, and how many rows stand before its end.
fn panels(division: &Division) -> Vec<(Role, usize)> {
    let panels = division.parts[0].panels.iter();
    panels.map(|panel| (panel.role, panel.rows.end)).collect()
}

/// A stanza whose lines end with these marks.
fn stanza(marks: &[&str]) -> String {
    let lines = marks
        .iter()
        .map(|mark| format!("up the hill we go{mark}\n"));
    lines.collect::<String>() + "\n"
}

#[test]
fn a_sentence_ends_behind_a_narrow_space() {
    let book = prepared(
        2,
        "",
        "La fin\u{202f}?\nLa fin\u{a0}!\nIl dit\u{a0}:\n«\u{a0}La fin.\u{a0}»\nla nuit\n",
    );
    let endings: Vec<Ending> = book.problems[0].rows.iter().map(|row| row.ending).collect();
    use Ending::{Pause, RunsOn, Sentence};
    assert_eq!(endings, [Sentence, Sentence, Pause, Sentence, RunsOn]);
}

#[test]
fn a_picture_keeps_both_its_distance_and_its_spread() {
    let both = "[rules]\npicture-comes = { latest = 0 }\npicture-with = \"same-spread\"\n";
    let book = prepared(4, both, "The bus\n[picture: the pass]\n");
    let picture = &book.problems[0].pictures[0];
    assert!(
        picture.comes.is_some() && picture.with.is_some(),
        "{picture:?}"
    );
}

#[test]
fn a_stanza_too_long_for_a_panel_frees_no_other() {
    let poem = stanza(&[""; 9]) + &stanza(&[""; 14]);
    let division = divided(5, "", &poem);
    assert_eq!(panels(&division)[0], (Role::Text, 9), "{division:#?}");
}

#[test]
fn a_verse_paragraph_is_cut_where_a_sentence_ends() {
    let mut marks = [""; 14];
    (marks[5], marks[6], marks[13]) = (",", ".", ".");
    let division = divided(2, "", &stanza(&marks));
    assert_eq!(panels(&division)[0], (Role::Text, 7), "{division:#?}");
    // Without such a place it is cut at a pause.
    marks[6] = "";
    let division = divided(2, "", &stanza(&marks));
    assert_eq!(panels(&division)[0], (Role::Text, 6), "{division:#?}");
}

#[test]
fn a_pin_that_changes_nothing_costs_nothing_and_saves_nothing() {
    let poem = stanza(&[""; 6]) + "[picture: the pass]\n" + &stanza(&[""; 4]);
    let free = divided(5, "", &poem);
    let blank = panels(&free)
        .iter()
        .position(|panel| panel.0 == Role::Blank);
    let pin = format!(
        "[[panel]]\npanel = \"front {}\"\nrole = \"blank\"\n",
        blank.expect("a blank panel") + 1
    );
    let pinned = divided(5, &pin, &poem);
    assert_eq!(
        (panels(&pinned), pinned.cost()),
        (panels(&free), free.cost())
    );
}

#[test]
fn a_picture_stands_alone_unless_it_leaves_room() {
    let poem = stanza(&[""; 4]) + "[picture: the pass]\n";
    let always = "[rules]\nshared-panels = \"always\"\n[[picture]]\nname = \"the pass\"\n";
    let roles = |more: &str| panels(&divided(2, &format!("{always}{more}"), &poem));
    assert_eq!(roles(""), [(Role::Text, 4), (Role::Picture, 4)]);
}

#[test]
fn a_picture_far_from_its_words_is_no_fault() {
    let poem = stanza(&[""; 6]) + &stanza(&[""; 6]) + &stanza(&[""; 6]) + "[picture: the pass]\n";
    let pin = "[[panel]]\npanel = \"front 1\"\nrole = \"picture\"\npicture = \"the pass\"\n";
    let division = divided(4, pin, &poem);
    let costs = division.parts[0]
        .panels
        .iter()
        .flat_map(|panel| &panel.costs);
    let near: u64 = costs
        .filter(|(rule, _)| rule.word() == "nearness")
        .map(|(_, cost)| cost)
        .sum();
    // 1 · 2-3 · 4: it stands two spreads before.
    assert_eq!(near, 80);
}

#[test]
fn no_blank_panel_stands_within_what_is_told() {
    let poem = stanza(&[""; 4]) + &stanza(&[""; 4]) + "[picture: the pass]\n" + &stanza(&[""; 4]);
    let pin = "[[panel]]\npanel = \"front 9\"\nrole = \"picture\"\npicture = \"the pass\"\n";
    let division = divided(12, pin, &poem);
    let within = |&(role, end): &(Role, usize)| role == Role::Blank && end > 0 && end < 12;
    assert!(
        !panels(&division).iter().any(within),
        "{:?}",
        panels(&division)
    );
}

#[test]
fn fullness_that_is_not_even_costs_what_other_fullness_does() {
    let even = "[rules]\neven-fullness = true\neach-panel = \"stanza\"\n";
    let division = divided(2, even, &(stanza(&[""; 6]) + &stanza(&[""; 4])));
    let cost = division.parts[0].panels[1].costs.iter();
    let cost: Vec<u64> = cost
        .filter(|cost| cost.0 == RuleName::EvenFullness)
        .map(|cost| cost.1)
        .collect();
    // Of 54 % and 36 %, 18 points: 18² ÷ 10.
    assert_eq!(cost, [32]);
}
