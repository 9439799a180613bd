//! Random manuscripts and random corrections.

use std::collections::{BTreeMap, BTreeSet};

use proptest::prelude::*;
use proptest::sample::Index;
use versefold::names::SetAs;
use versefold::text::escape;
use versefold::text::revise::{Choice, Revision, Wording};

use super::seen::{Seen, folded, plain, seen};
use super::{revised, revised_by};

const WORDS: [&str; 14] = [
    "the", "bus", "snow,", "pass", "she", "said", "—", "half-way", "[x]", "#", "2*3", "a\\*b",
    ">>", "“no”",
];

/// The client's text: stanzas or paragraphs of lines.
#[derive(Clone, Debug)]
struct Line {
    indent: usize,
    words: Vec<String>,
    /// Which line of the first text it is, as it was.
    own: Option<usize>,
}

#[derive(Clone, Debug)]
struct Block {
    blanks: usize,
    lines: Vec<Line>,
}

fn written(line: &Line) -> String {
    format!("{}{}", " ".repeat(line.indent), line.words.join(" "))
}

fn client(text: &[Block], eol: &str) -> String {
    let mut out = String::new();
    for (number, block) in text.iter().enumerate() {
        let blanks = if number == 0 { 0 } else { block.blanks };
        out.push_str(&eol.repeat(blanks));
        for line in &block.lines {
            out.push_str(&written(line));
            out.push_str(eol);
        }
    }
    out
}

/// What the typesetter put to it: a kind and a line.
#[derive(Clone, Debug)]
struct Set {
    kind: u8,
    at: Index,
    last: Index,
}

/// The manuscript: words escaped, callouts and mark-up added.
fn manuscript(text: &[Block], sets: &[Set], eol: &str) -> String {
    let lines: Vec<(usize, &Line)> = text
        .iter()
        .enumerate()
        .flat_map(|(number, block)| block.lines.iter().map(move |line| (number, line)))
        .collect();
    let count = lines.len();
    let mut above: Vec<Vec<String>> = vec![Vec::new(); count];
    let mut below: Vec<Vec<String>> = vec![Vec::new(); count];
    let mut words: Vec<String> = lines
        .iter()
        .map(|(_, line)| escape(&written(line), false))
        .collect();
    let mut marked = vec![false; count];
    let mut kept_to = None;
    for (number, set) in sets.iter().enumerate() {
        let at = set.at.index(count);
        let single = text[lines[at].0].lines.len() == 1;
        let begins = at == 0 || lines[at - 1].0 != lines[at].0;
        match set.kind {
            0 | 1 => below[at].push(format!("[picture: {number}]")),
            2 => above[at].push("[new panel]".into()),
            3 => above[at].push("[may divide]".into()),
            4 => below[at].push(format!("[space: {} mm]", number + 3)),
            5 if begins => above[at].insert(0, format!("[part: {number}]")),
            6 => {
                let to = (at + set.last.index(4)).min(count - 1);
                let parted =
                    (at + 1..=to).any(|line| above[line].iter().any(|c| c.starts_with("[part")));
                if kept_to.is_none_or(|kept| at > kept) && !parted {
                    above[at].push("[keep together]".into());
                    below[to].insert(0, "[end together]".into());
                    kept_to = Some(to);
                }
            }
            // A sign at a heading's end would be taken for its own.
            7 if single && !marked[at] && !words[at].ends_with('#') => {
                words[at] = format!("# {}", words[at].trim_start_matches([' ', '\\']));
                marked[at] = true;
            }
            8 if !marked[at] => above[at].push("[attribution]".into()),
            9 if begins => above[at].push("[epigraph]".into()),
            10 if !marked[at] => above[at].push(format!("[caption: {number}]")),
            // What it is set as already, where that is so.
            13 if begins => {
                let kind = if number % 2 == 0 { "prose" } else { "verse" };
                above[at].insert(0, format!("[set as {kind}]"));
            }
            11 | 12 if !marked[at] => {
                let sign = if set.kind == 11 { "*" } else { "**" };
                if let Some(line) = stressed(&words[at], sign, 1 + set.last.index(3)) {
                    words[at] = line;
                    marked[at] = true;
                }
            }
            _ => {}
        }
    }
    let placed = above.into_iter().zip(words).zip(below);
    let placed = placed.map(|((above, line), below)| [above, vec![line], below].concat());
    written_out(text, placed, eol)
}

/// Each line with its callouts, and the blank lines between blocks.
fn written_out(text: &[Block], mut lines: impl Iterator<Item = Vec<String>>, eol: &str) -> String {
    let mut out = String::new();
    for (number, block) in text.iter().enumerate() {
        out.push_str(&eol.repeat(if number == 0 { 0 } else { block.blanks }));
        for line in lines.by_ref().take(block.lines.len()).flatten() {
            out.extend([line.as_str(), eol]);
        }
    }
    out
}

/// A line with emphasis around the words that the escape leaves alone, from the first on, at most so many; nothing where
/// there are none.
fn stressed(line: &str, sign: &str, most: usize) -> Option<String> {
    let mut words: Vec<String> = line.split(' ').map(String::from).collect();
    let from = words
        .iter()
        .position(|word| word.starts_with(char::is_alphabetic))?;
    let more = words[from..].iter().take(most);
    let to = from
        + more
            .take_while(|word| !word.contains(['*', '\\', '>']))
            .count();
    if to == from {
        return None;
    }
    words[from] = format!("{sign}{}", words[from]);
    words[to - 1] = format!("{}{sign}", words[to - 1]);
    Some(words.join(" "))
}

/// One correction.
#[derive(Clone, Debug)]
struct Edit {
    kind: u8,
    block: Index,
    line: Index,
    to: Index,
}

/// The words of a block, four to a line.
fn wrapped_otherwise(block: &Block) -> Vec<Line> {
    let words: Vec<String> = block
        .lines
        .iter()
        .flat_map(|line| line.words.clone())
        .collect();
    let wrapped = words.chunks(4).map(|words| Line {
        indent: 0,
        words: words.to_vec(),
        own: None,
    });
    wrapped.collect()
}

fn correct(text: &mut Vec<Block>, edit: &Edit, number: usize) {
    let block = edit.block.index(text.len());
    let line = edit.line.index(text[block].lines.len());
    let new = |what: &str| Line {
        indent: 0,
        words: vec![format!("{what}{number}"), "came".into(), "late".into()],
        own: None,
    };
    match edit.kind {
        0 | 1 => {
            let line = &mut text[block].lines[line];
            let word = edit.to.index(line.words.len());
            line.words[word] = format!("other{number}");
            line.own = None;
        }
        2 => text[block].lines.insert(line, new("added")),
        3 if text[block].lines.len() > 1 => drop(text[block].lines.remove(line)),
        4 if text.len() > 1 => drop(text.remove(block)),
        5 => text.insert(
            block,
            Block {
                blanks: 1,
                lines: vec![new("first"), new("second")],
            },
        ),
        6 => {
            let own = text.remove(block);
            let to = edit.to.index(text.len() + 1);
            text.insert(to, own);
        }
        7 => {
            let to = edit.to.index(text[block].lines.len());
            text[block].lines.swap(line, to);
        }
        8 if text[block].lines[line].words.len() > 1 => {
            let own = &mut text[block].lines[line];
            let rest = own.words.split_off(1 + edit.to.index(own.words.len() - 1));
            own.own = None;
            let rest = Line {
                indent: 0,
                words: rest,
                own: None,
            };
            text[block].lines.insert(line + 1, rest);
        }
        9 => text[block].blanks += 1,
        10 if block > 0 => {
            let own = text.remove(block);
            text[block - 1].lines.extend(own.lines);
        }
        // Which in verse is another text.
        11 => text[block].lines = wrapped_otherwise(&text[block]),
        _ => {}
    }
}

fn texts() -> impl Strategy<Value = Vec<Block>> {
    let line = (0usize..3, prop::collection::vec(0..WORDS.len(), 1..6));
    let block = (1usize..3, prop::collection::vec(line, 1..5));
    prop::collection::vec(block, 1..6).prop_map(|blocks| {
        let mut number = 0;
        let mut line = |(indent, words): (usize, Vec<usize>)| {
            let mut words: Vec<String> = words
                .into_iter()
                .map(|word| WORDS[word].to_string())
                .collect();
            words.insert(words.len() / 2, format!("mile{number}"));
            number += 1;
            Line {
                indent,
                words,
                own: Some(number - 1),
            }
        };
        let mut block = |(blanks, lines): (usize, Vec<_>)| Block {
            blanks,
            lines: lines.into_iter().map(&mut line).collect(),
        };
        blocks.into_iter().map(&mut block).collect()
    })
}

fn sets() -> impl Strategy<Value = Vec<Set>> {
    let set = (0u8..14, any::<Index>(), any::<Index>());
    prop::collection::vec(
        set.prop_map(|(kind, at, last)| Set { kind, at, last }),
        0..9,
    )
}

fn edits() -> impl Strategy<Value = Vec<Edit>> {
    let edit = (0u8..12, any::<Index>(), any::<Index>(), any::<Index>());
    let edit = edit.prop_map(|(kind, block, line, to)| Edit {
        kind,
        block,
        line,
        to,
    });
    prop::collection::vec(edit, 0..5)
}

fn counted<'a>(callouts: impl Iterator<Item = &'a str>) -> BTreeMap<String, usize> {
    let mut found = BTreeMap::new();
    callouts.for_each(|callout| *found.entry(callout.to_string()).or_default() += 1);
    found
}

/// Every callout stands there, or is told as lost; none twice.
fn all_are_there(before: &Seen, after: &Seen, made: &Revision) -> Result<(), TestCaseError> {
    let lost = made.callouts.iter().filter(|told| told.line.is_none());
    let lost = lost.map(|told| told.callout.as_str());
    let standing = after.callouts.iter().map(|(callout, _)| callout.as_str());
    prop_assert_eq!(
        counted(standing.chain(lost)),
        counted(before.callouts.iter().map(|(callout, _)| callout.as_str())),
        "{}",
        &made.text
    );
    for told in made.callouts.iter().filter(|told| told.line.is_some()) {
        let line = made.text.lines().nth(told.line.unwrap_or(0) - 1);
        prop_assert_eq!(
            line.map(|line| line.trim_start_matches('\u{feff}')),
            Some(told.callout.as_str())
        );
    }
    Ok(())
}

/// Lines of the first text that stand one below the other in both texts; of prose, where lines do not count, the
/// ends and beginnings of whole paragraphs.
fn still_neighbours(
    text: &[Block],
    corrected: &[Block],
    lines_count: bool,
) -> Vec<(String, String)> {
    let first_lines: Vec<String> = text
        .iter()
        .flat_map(|block| &block.lines)
        .map(written)
        .collect();
    let own_of = |block: &Block| -> Vec<usize> {
        let own = block.lines.iter().filter_map(|line| line.own);
        own.collect()
    };
    let whole = |block: &Block| {
        let own = own_of(block);
        own.len() == block.lines.len() && text.iter().any(|first| own_of(first) == own)
    };
    let lines = corrected.iter().flat_map(|block| {
        let counts = lines_count || whole(block);
        let lines = block.lines.iter().enumerate();
        lines.map(move |(at, line)| (line.own.filter(|_| counts), at == 0))
    });
    let own: Vec<(Option<usize>, bool)> = lines.collect();
    let pairs = own.windows(2).filter_map(|pair| {
        let (one, other) = (pair[0].0?, pair[1].0?);
        let counts = one + 1 == other && (lines_count || pair[1].1);
        counts.then(|| (first_lines[one].clone(), first_lines[other].clone()))
    });
    pairs.collect()
}

/// The words of the corrected text, line for line or paragraph for paragraph.
fn same_words(made: &str, client: &str, set_as: SetAs) -> Result<(), TestCaseError> {
    let made_blocks = seen(made, set_as).map_err(TestCaseError::fail)?.blocks;
    match set_as {
        SetAs::Verse if !made.contains("[set as prose]") => {
            prop_assert_eq!(&made_blocks, &plain(client), "{}", made)
        }
        _ => prop_assert_eq!(folded(&made_blocks), folded(&plain(client)), "{}", made),
    }
    Ok(())
}

/// How many changes are numbered.
fn numbers(made: &Revision) -> usize {
    let own = made.changes.iter().flat_map(|change| {
        let words = change.words.iter().filter_map(|wording| match wording {
            Wording::Other { number, .. } => Some(*number),
            Wording::Same(_) => None,
        });
        words.chain([change.number])
    });
    own.max().unwrap_or(0)
}

fn check(
    text: &[Block],
    sets: &[Set],
    edits: &[Edit],
    set_as: SetAs,
    (crlf, mark): (bool, bool),
) -> Result<(), TestCaseError> {
    let eol = if crlf { "\r\n" } else { "\n" };
    let mark = if mark { "\u{feff}" } else { "" };
    let first = format!("{mark}{}", manuscript(text, sets, eol));
    let Ok(before) = seen(&first, set_as) else {
        // Callouts that no manuscript may have side by side.
        return Err(TestCaseError::reject("no manuscript"));
    };
    let said = |faults: versefold::names::Faults| {
        TestCaseError::fail(format!("{}: {first}", faults[0].what))
    };
    let unchanged = revised(&first, set_as, &client(text, "\n")).map_err(said)?;
    prop_assert_eq!(&unchanged.text, &first);
    prop_assert!(
        unchanged.changes.is_empty() && unchanged.callouts.is_empty() && unchanged.lost.is_empty()
    );

    let mut corrected = text.to_vec();
    for (number, edit) in edits.iter().enumerate() {
        correct(&mut corrected, edit, number);
    }
    let wanted = client(&corrected, "\n");
    let made = revised(&first, set_as, &wanted).map_err(said)?;
    same_words(&made.text, &wanted, set_as)?;
    prop_assert_eq!(crlf, made.text.contains('\r'));
    prop_assert_eq!(made.text.starts_with('\u{feff}'), !mark.is_empty());

    // All of it left out, and none of it.
    let all: BTreeSet<usize> = (1..=numbers(&made)).collect();
    let none = revised_by(&first, set_as, &wanted, &Choice::Except(all.clone())).map_err(said)?;
    prop_assert_eq!(&none.text, &first, "{}", wanted);
    let whole = revised_by(&first, set_as, &wanted, &Choice::Only(all)).map_err(said)?;
    prop_assert_eq!(&whole.text, &made.text);

    let after = seen(&made.text, set_as).map_err(TestCaseError::fail)?;
    let lost = made.callouts.iter().filter(|told| told.line.is_none());
    let lost: Vec<&str> = lost.map(|told| told.callout.as_str()).collect();
    all_are_there(&before, &after, &made)?;

    // Those whose lines are untouched stand between the same lines.
    let lines_count = set_as == SetAs::Verse && !first.contains("[set as prose]");
    let moved = edits.iter().any(|edit| matches!(edit.kind, 6 | 7));
    for (one, other) in still_neighbours(text, &corrected, lines_count) {
        for (callout, _) in before
            .callouts
            .iter()
            .filter(|(callout, _)| before.stands(callout, &one, &other))
        {
            // Lines that stay together are others where some of them have moved away.
            let group = callout.ends_with("together]") && moved;
            if !group && !lost.contains(&callout.as_str()) {
                let stands = after.stands(callout, &one, &other);
                prop_assert!(
                    stands,
                    "{} between {} and {}:\n{}\n→\n{}",
                    callout,
                    one,
                    other,
                    &first,
                    &made.text
                );
            }
        }
    }

    // The way back gives the first text.
    let again = revised(&made.text, set_as, &client(text, eol)).map_err(said)?;
    same_words(&again.text, &client(text, "\n"), set_as)
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 1500, max_global_rejects: 20_000, failure_persistence: None, ..ProptestConfig::default() })]

    #[test]
    fn corrections_of_verse_are_taken_in(
        text in texts(), sets in sets(), edits in edits(), ends in any::<(bool, bool)>()
    ) {
        check(&text, &sets, &edits, SetAs::Verse, ends)?;
    }

    #[test]
    fn corrections_of_prose_are_taken_in(
        text in texts(), sets in sets(), edits in edits(), ends in any::<(bool, bool)>()
    ) {
        check(&text, &sets, &edits, SetAs::Prose, ends)?;
    }
}
