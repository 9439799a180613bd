//! Changes of the client's taken in one by one.

use std::collections::BTreeSet;

use proptest::prelude::*;
use versefold::names::SetAs;
use versefold::text::revise::{Change, ChangeKind, Choice, Revision, Wording};

use super::{revised, revised_by};

/// What is told, one line for each change: its number, and its words where they differ.
fn told(changes: &[Change]) -> Vec<String> {
    let one = |change: &Change| -> Vec<String> {
        let differs = change.words.iter().filter_map(|wording| match wording {
            Wording::Other { number, was, now } => Some(format!("{number} {was}>{now}")),
            Wording::Same(_) => None,
        });
        let differs: Vec<String> = differs.collect();
        match differs.is_empty() {
            true => vec![format!("{} {:?}", change.number, change.kind)],
            false => differs,
        }
    };
    changes.iter().flat_map(one).collect()
}

fn but(numbers: &[usize]) -> Choice {
    Choice::Except(numbers.iter().copied().collect())
}

fn verse(manuscript: &str, client: &str, choice: &Choice) -> Revision {
    revised_by(manuscript, SetAs::Verse, client, choice).expect("it can be revised")
}

fn prose(manuscript: &str, client: &str, choice: &Choice) -> Revision {
    revised_by(manuscript, SetAs::Prose, client, choice).expect("it can be revised")
}

const POEM: &str = "# The Winter Bus\n\nShe took the bus\nover the *pass* alone.\n[picture: the bus]\n\nIt snowed.\nAll night it snowed.\n\nIn spring\nthe poles lay down.\n";

#[test]
fn every_kind_of_change_can_be_left_out() {
    let client = "The Winter Coach\n\nShe took the yellow bus\nover a pass alone.\n\n\nIt snowed.\n\nIn spring\n  the poles lay down.\nNobody came.\n";
    let all = verse(POEM, client, &Choice::All);
    assert_eq!(
        told(&all.changes),
        [
            "1 Bus>Coach",
            "2 >yellow",
            "3 the>a",
            "4 Spaced",
            "5 Cut",
            "6 Indented",
            "7 Added",
        ]
    );
    let line = |changed: &str, from: &str| POEM.replace(from, changed);
    for (taken, made) in [
        (1, line("The Winter Coach", "The Winter Bus")),
        (2, line("the yellow bus\n", "the bus\n")),
        (3, line("over a *pass*", "over the *pass*")),
        (4, line("the bus]\n\n\nIt", "the bus]\n\nIt")),
        (5, line("", "All night it snowed.\n")),
        (6, line("  the poles", "the poles")),
        (7, line("down.\nNobody came.\n", "down.\n")),
    ] {
        let only = verse(POEM, client, &Choice::Only([taken].into()));
        assert_eq!(only.text, made, "{taken}");
        assert_eq!(told(&only.changes).len(), 1);
        assert_eq!(only.left_out.len(), 6, "{taken}");
    }
    let none = verse(POEM, client, &but(&[1, 2, 3, 4, 5, 6, 7]));
    assert_eq!(none.text, POEM);
    assert_eq!(told(&none.left_out), told(&all.changes));
}

#[test]
fn a_stanza_that_moved_stays_where_it_was() {
    let client = "The Winter Bus\n\nIn spring\nthe poles lay down.\n\nShe took the bus\nover the pass alone.\n\nIt rained.\nAll night it snowed.\n";
    let all = verse(POEM, client, &Choice::All);
    assert_eq!(
        told(&all.changes),
        ["1 Moved", "1 Moved", "2 snowed.>rained."]
    );
    let made = verse(POEM, client, &but(&[1]));
    assert_eq!(
        made.text,
        POEM.replace("It snowed.\nAll", "It rained.\nAll")
    );
}

#[test]
fn differences_within_a_paragraph_have_a_number_each() {
    let text =
        "The mail- bus left at six, and nobody\nasked why it was late. She had a *flask* of tea.\n";
    let client = "The mail-bus left at seven, and nobody asked why. She had one flask of tea\n";
    let all = prose(text, client, &Choice::All);
    assert_eq!(
        told(&all.changes),
        [
            "1 mail- bus>mail-bus",
            "2 six,>seven,",
            "3 why it was late.>why.",
            "4 a>one",
            "5 tea.>tea",
        ]
    );
    let made = prose(text, client, &but(&[1, 3, 5]));
    assert_eq!(
        made.text.split_whitespace().collect::<Vec<_>>().join(" "),
        "The mail- bus left at seven, and nobody asked why it was late. She had one *flask* of tea."
    );
    assert_eq!(
        told(&made.left_out),
        [
            "1 mail- bus>mail-bus",
            "3 why it was late.>why.",
            "5 tea.>tea"
        ]
    );
}

#[test]
fn a_full_stop_is_one_change() {
    for (text, client, one) in [
        (
            "Gone.\n\nThe road\n",
            "Gone\nand away\n\nThe road\n",
            "1 Gone.>Gone",
        ),
        (
            "Stay where you are.\nStay where you are\n",
            "Stay where you are\nStay where you are\n",
            "1 are.>are",
        ),
        ("She said: ‘No’\n", "She said: ‘No.’\n", "1 ‘No’>‘No.’"),
    ] {
        let all = verse(text, client, &Choice::All);
        let words = told(&all.changes);
        assert_eq!(words[0], one);
        assert!(words.len() == 1 || words[1] == "2 Added", "{words:?}");
    }
}

#[test]
fn headings_are_named_and_numbers_that_are_not_there_refused() {
    let client = POEM.replace("# The Winter Bus", "Nine Years");
    let client = client.replace("*", "").replace("[picture: the bus]\n", "");
    let all = verse(POEM, &client, &Choice::All);
    assert!(all.changes.len() == 1 && all.changes[0].heading, "{all:?}");
    let wrong = revised_by(POEM, SetAs::Verse, &client, &but(&[1, 2, 9]));
    let faults = wrong.expect_err("two of them are not there");
    assert_eq!(faults[0].what, "there is no change 2, 9: the client made 1");
}

/// A file with callouts has its own mark-up: its lines and paragraphs are taken in or left out as they are written.
#[test]
fn lines_of_a_marked_file_are_left_out_whole() {
    let client = POEM
        .replace("took the bus", "**took** a coach")
        .replace("In spring\n", "In spring,\n");
    let all = verse(POEM, &client, &Choice::All);
    assert!(all.marked);
    assert_eq!(
        told(&all.changes),
        ["1 the bus>a coach", "2 spring>spring,"]
    );
    let made = verse(POEM, &client, &but(&[1]));
    assert_eq!(made.text, POEM.replace("In spring\n", "In spring,\n"));
    let made = verse(POEM, &client, &but(&[2]));
    assert_eq!(made.text, POEM.replace("took the bus", "**took** a coach"));
}

/// Lines of words, of which some are others in the client's text, some are gone, and lines are added.
#[derive(Clone, Debug)]
struct Correction {
    line: usize,
    word: usize,
    kind: u8,
    taken: bool,
}

/// The lines, with those corrections that `which` takes.
fn corrected(
    lines: &[Vec<String>],
    corrections: &[Correction],
    which: impl Fn(&Correction) -> bool,
) -> Vec<String> {
    let mut made: Vec<Vec<String>> = lines.to_vec();
    let mut added: Vec<(usize, String)> = Vec::new();
    for (number, own) in corrections.iter().enumerate().filter(|(_, own)| which(own)) {
        let line = &mut made[own.line];
        match own.kind {
            0 => line[own.word] = format!("other{number}"),
            1 => line[own.word] = format!("{} plus{number}", line[own.word]),
            2 => line[own.word] = String::new(),
            _ => added.push((own.line, format!("added{number} is new here"))),
        }
    }
    let mut text = Vec::new();
    for (at, line) in made.iter().enumerate() {
        let words: Vec<&str> = line.iter().map(String::as_str).collect();
        let words = words.into_iter().filter(|word| !word.is_empty());
        text.push(words.collect::<Vec<_>>().join(" "));
        let here = added.iter().filter(|(line, _)| *line == at);
        text.extend(here.map(|(_, words)| words.clone()));
    }
    text
}

/// Words that occur once each, so that it is plain which change is which; no line has more than one correction.
fn cases() -> impl Strategy<Value = (Vec<Vec<String>>, Vec<Correction>)> {
    let sizes = prop::collection::vec(3usize..8, 2..12);
    let correction = (0usize..3, 0u8..4, any::<bool>(), any::<bool>());
    (sizes, prop::collection::vec(correction, 12)).prop_map(|(sizes, corrections)| {
        let mut word = 0;
        let mut next = || {
            word += 1;
            format!("word{word}")
        };
        let lines: Vec<Vec<String>> = sizes
            .iter()
            .map(|size| (0..*size).map(|_| next()).collect())
            .collect();
        let corrections = corrections.into_iter().enumerate();
        let corrections = corrections.filter(|(line, own)| *line < lines.len() && own.2);
        let corrections = corrections.map(|(line, (word, kind, _, taken))| Correction {
            line,
            word,
            kind,
            taken,
        });
        let corrections: Vec<Correction> = corrections.collect();
        (lines, corrections)
    })
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 1000, failure_persistence: None, ..ProptestConfig::default() })]

    /// What is made is the text with the corrections that are taken, and with no other: in verse line by line, in
    /// prose where each paragraph is one line, and where all lines are one paragraph.
    #[test]
    fn what_is_left_out_is_not_there_and_all_else_is((lines, corrections) in cases(), form in 0u8..3) {
        let (set_as, between) = match form {
            0 => (SetAs::Verse, "\n"),
            1 => (SetAs::Prose, "\n\n"),
            _ => (SetAs::Prose, "\n"),
        };
        let text = |lines: Vec<String>| format!("{}\n", lines.join(between));
        // Differences side by side in one paragraph are one: there each is in the midst of its line.
        let own = |own: &Correction| Correction { word: if form == 2 { 1 } else { own.word }, ..own.clone() };
        let corrections: Vec<Correction> = corrections.iter().map(own).collect();
        let manuscript = text(corrected(&lines, &corrections, |_| false));
        let client = text(corrected(&lines, &corrections, |_| true));
        let wanted = text(corrected(&lines, &corrections, |own| own.taken));
        let said = |faults: versefold::names::Faults| TestCaseError::fail(faults[0].what.clone());
        let all = revised(&manuscript, set_as, &client).map_err(said)?;
        let folded = |text: &str| match form {
            2 => text.split_whitespace().collect::<Vec<_>>().join(" "),
            _ => text.to_string(),
        };
        prop_assert_eq!(folded(&all.text), folded(&client));
        let is_out = |words: &str| corrections.iter().enumerate().any(|(number, own)| {
            let here = [format!("other{number}"), format!("plus{number}"), format!("added{number} is new here")];
            let gone = own.kind == 2 && words == lines[own.line][own.word];
            !own.taken && (gone || here.iter().any(|here| words == here))
        });
        let mut numbers: BTreeSet<usize> = BTreeSet::new();
        for change in &all.changes {
            for wording in &change.words {
                match (change.kind, wording) {
                    (_, Wording::Other { number, was, now }) => {
                        let other = if now.is_empty() { was } else { now };
                        if is_out(other) { numbers.insert(*number); }
                    }
                    (ChangeKind::Added, Wording::Same(words)) if is_out(words) => {
                        numbers.insert(change.number);
                    }
                    _ => {}
                }
            }
        }
        let count = all.changes.iter().map(|change| {
            let others = change.words.iter().filter(|own| matches!(own, Wording::Other { .. }));
            others.count().max(1)
        });
        prop_assert_eq!(count.sum::<usize>(), corrections.len());
        prop_assert_eq!(numbers.len(), corrections.iter().filter(|own| !own.taken).count());
        let made = revised_by(&manuscript, set_as, &client, &Choice::Except(numbers.clone())).map_err(said)?;
        prop_assert_eq!(folded(&made.text), folded(&wanted));
        let others: BTreeSet<usize> = (1..=corrections.len()).filter(|own| !numbers.contains(own)).collect();
        let same = revised_by(&manuscript, set_as, &client, &Choice::Only(others)).map_err(said)?;
        prop_assert_eq!(same.text, made.text);
    }
}
