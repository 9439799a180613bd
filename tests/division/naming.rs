//! Pictures without a name: how many stand in every answer; and naming them, in books as an author writes them: the panels
//! carry what they carried.

use std::sync::Arc;

use versefold::assets::Assets;
use versefold::book::{BookTexts, BreaksPolicy, NamedPictures, Workbench};
use versefold::division::{Limits, Pattern, Problem, best_divisions};
use versefold::layout::Layout;
use versefold::names::{Faults, Role, Source};
use versefold::plan::RuleName;

use super::{SEED, check_books, definitions, ensure, wide};
use crate::support::small_plan;

fn texts(plan: String, manuscript: &str) -> BookTexts {
    BookTexts {
        plan: Source::new("concertina.toml", plan),
        manuscript: Source::new("winter-bus.txt", manuscript),
        breaks: None,
    }
}

/// The book before and after its pictures are named.
fn named(texts: &BookTexts) -> Result<(Layout, NamedPictures), Faults> {
    let mut bench = Workbench::new(Assets::memory());
    let before = bench.lay_out_book(texts, BreaksPolicy::All)?;
    let named = bench.name_pictures(texts, BreaksPolicy::All)?;
    Ok((before, named))
}

/// Each panel's role, its words where they stand, and its picture, if it has a name.
fn panels(layout: &Layout) -> Vec<(Role, Vec<String>, Option<&str>)> {
    let panels = layout.panels.iter();
    panels
        .map(|panel| {
            let lines = panel.lines.iter();
            let lines = lines.map(|line| format!("{} {} {}", line.text, line.x, line.baseline));
            (panel.role, lines.collect(), panel.picture.as_deref())
        })
        .collect()
}

/// A manuscript without callouts of pictures, as words.
fn words(manuscript: &Source) -> Vec<&str> {
    let lines = manuscript.text.lines();
    let lines = lines.filter(|line| !line.starts_with("[picture: "));
    lines.flat_map(str::split_whitespace).collect()
}

/// Names the pictures of a book, and holds that nothing else has changed; gives the new manuscript.
fn check(texts: &BookTexts, pictures: usize) -> Arc<Source> {
    let (before, named) = named(texts).expect("a book whose pictures can be named");
    let unnamed = before.unnamed_pictures().len();
    assert_eq!((unnamed, named.names.len()), (pictures, pictures));
    let (old, new) = (panels(&before), panels(&named.update.layout));
    assert_eq!(old.len(), new.len());
    for (old, new) in old.iter().zip(&new) {
        assert_eq!((old.0, &old.1), (new.0, &new.1));
        assert_eq!(new.2.is_some(), new.0.has_picture());
    }
    assert_eq!(words(&named.manuscript), words(&texts.manuscript));
    // Written so, the book is the same when it is read again, and has no picture left to be named.
    let written = BookTexts {
        manuscript: Arc::clone(&named.manuscript),
        breaks: Some(Source::new("breaks.toml", named.update.text.as_str())),
        ..texts.clone()
    };
    let mut bench = Workbench::new(Assets::memory());
    let again = bench.lay_out_book(&written, BreaksPolicy::All);
    assert_eq!(panels(&again.expect("the same book")), new);
    let none = bench.name_pictures(&written, BreaksPolicy::All);
    let told = none.err().expect("nothing to name");
    assert_eq!(told.first().map(|fault| fault.word), Some("no-picture"));
    named.manuscript
}

fn stanza(lines: usize, number: usize) -> String {
    let line = |line| format!("line {line} of stanza {number},\n");
    (1..=lines).map(line).collect::<String>() + "\n"
}

fn pictures(count: usize) -> String {
    format!("[rules]\npictures = {count}\n")
}

#[test]
fn a_callout_stands_below_the_words_before_its_panel() {
    let poem: String = (1..=6).map(|number| stanza(6, number)).collect();
    let manuscript = check(&texts(small_plan(9, &pictures(3)), &poem), 3);
    let calls: Vec<&str> = (manuscript.text.lines().collect::<Vec<_>>())
        .windows(2)
        .filter(|pair| pair[1].starts_with("[picture: "))
        .map(|pair| pair[0])
        .collect();
    assert_eq!(calls.len(), 3, "{}", manuscript.text);
    assert!(
        calls
            .iter()
            .all(|line| line.starts_with("line 6 of stanza"))
    );
}

#[test]
fn books_of_every_kind_are_the_same_once_their_pictures_are_named() {
    let poem = |count: usize, lines: &[usize]| -> String {
        let stanzas = (1..=count).map(|number| stanza(lines[number % lines.len()], number));
        stanzas.collect()
    };
    let sections = format!(
        "# The Winter Bus\n\n{}## The Doors\n\n{}",
        poem(3, &[4, 7]),
        poem(4, &[5])
    );
    let turned = poem(5, &[8, 3]).replace('\n', "\r\n");
    for text in [poem(7, &[4, 9, 2]), sections, turned, poem(3, &[16])] {
        for asked in [1, 2, 4] {
            check(&texts(small_plan(14, &pictures(asked)), &text), asked);
        }
    }
}

#[test]
fn in_prose_a_callout_stands_within_its_paragraph() {
    let sentence = "The bus came up at nine minutes past, and nobody stood there but the dog. ";
    let prose = format!(
        "{}\n\n{}\n",
        sentence.repeat(12).trim(),
        sentence.repeat(9).trim()
    );
    let plan = format!("[text]\nset-as = \"prose\"\n\n{}", pictures(3));
    check(&texts(small_plan(10, &plan), &prose), 3);
    // Where emphasis goes on over the panel’s end, the callout may not part it.
    let stressed = format!("*{}*\n", sentence.repeat(20).trim());
    let plan = small_plan(10, &plan);
    match named(&texts(plan, &stressed)) {
        Ok((before, named)) => {
            let lines = |layout| panels(layout).into_iter().map(|panel| panel.1).collect();
            let (old, new): (Vec<_>, Vec<_>) = (lines(&before), lines(&named.update.layout));
            assert_eq!(old, new);
        }
        Err(faults) => assert!(
            faults
                .first()
                .is_some_and(|fault| fault.word == "cannot-name")
        ),
    }
}

#[test]
fn named_pictures_keep_their_order_and_names_that_are_taken_are_passed_over() {
    let poem: String = (1..=6)
        .map(|number| match number {
            2 => stanza(6, number).trim_end().to_string() + "\n[picture: picture-1]\n\n",
            4 => stanza(6, number).trim_end().to_string() + "\n[picture: the hut]\n\n",
            _ => stanza(6, number),
        })
        .collect();
    let manuscript = check(&texts(small_plan(12, &pictures(5)), &poem), 3);
    let calls: Vec<&str> = (manuscript.text.lines())
        .filter(|line| line.starts_with("[picture: "))
        .collect();
    assert_eq!(calls.len(), 5);
    for name in ["picture-2", "picture-3", "picture-4"] {
        assert!(
            calls.contains(&format!("[picture: {name}]").as_str()),
            "{calls:?}"
        );
    }
}

/// In the best divisions of the best patterns stand as many pictures without a name as are asked for.
fn check_number(problem: &Problem) -> Result<bool, String> {
    let mut problem = problem.clone();
    problem.body = true;
    problem.rules.weights.remove(&RuleName::Pictures);
    let asked = definitions::unnamed_pictures(&problem) as usize;
    let best = best_divisions(&[&problem], &[], Limits::default(), Pattern::Coarse, 4);
    for way in &best.ways {
        let panels = way[0].panels.iter();
        let unnamed = panels.filter(|on| on.role == Role::Picture && on.picture.is_none());
        ensure(unnamed.count() == asked, || {
            format!("{asked} were asked for in {way:#?}")
        })?;
    }
    Ok(true)
}

#[test]
fn as_many_pictures_without_a_name_stand_in_every_answer_as_are_asked_for() {
    check_books(
        |seed| {
            let mut problem = wide::problem(seed);
            problem.rules.pictures = (problem.pictures.len() as u64 + 1 + seed % 2) as u32;
            problem
        },
        SEED,
        1_000,
        check_number,
    );
}
