//! Real texts with callouts put in, and about twenty corrections such as clients make.

use versefold::names::SetAs;
use versefold::text::escape;

use super::revised;
use super::seen::{folded, plain, seen};
use crate::support::texts;

/// How the names of the texts begin: two poems, memoirs, and a travel book, as excerpts and, where they are at hand,
/// whole.
const NAMES: [&str; 4] = ["en_coleridge", "ru_pushkin", "fr_michel", "en_stevenson"];

fn joined(blocks: &[Vec<String>]) -> String {
    let blocks: Vec<String> = blocks.iter().map(|block| block.join("\n")).collect();
    blocks.join("\n\n") + "\n"
}

/// The callouts above and below a block.
fn callouts(block: usize) -> (Vec<String>, Vec<String>) {
    let (mut above, mut below) = (Vec::new(), Vec::new());
    if block % 11 == 4 {
        above.push("[new panel]".to_string());
    }
    if block % 5 == 2 {
        above.push("[may divide]".to_string());
    }
    if block % 7 == 3 {
        above.push("[keep together]".to_string());
        below.push("[end together]".to_string());
    }
    if block % 3 == 1 {
        below.push(format!("[picture: number {block}]"));
    }
    (above, below)
}

fn manuscript(blocks: &[Vec<String>]) -> String {
    let block = |(number, lines): (usize, &Vec<String>)| {
        let mut words = escape(&lines.join("\n"), false);
        // The first word of every second stanza, in emphasis.
        let first = words.find(' ').unwrap_or(0);
        if number % 2 == 0 && first > 0 && words[..first].chars().all(char::is_alphabetic) {
            words = format!("*{}*{}", &words[..first], &words[first..]);
        }
        let (above, below) = callouts(number);
        let lines = above.into_iter().chain([words]).chain(below);
        lines.collect::<Vec<_>>().join("\n")
    };
    let blocks: Vec<String> = blocks.iter().enumerate().map(block).collect();
    blocks.join("\n\n") + "\n"
}

/// A text as a client might send it back; the block `cut` is gone.
fn corrected(blocks: &[Vec<String>], cut: usize) -> Vec<Vec<String>> {
    let mut corrected = blocks.to_vec();
    let count = blocks.len();
    // A new title, fourteen words, a line that is another, two lines that change places.
    corrected[0][0] = "A Title of His Own".to_string();
    for number in 0..14 {
        let at = 1 + number * (count - 1) / 14;
        // Beside the stanza that is cut, one of a single word would be taken for another.
        let block = &mut corrected[if at.abs_diff(cut) == 1 { 1 } else { at }];
        let line = number % block.len();
        block[line] = other_word(&block[line], number);
    }
    corrected[count * 3 / 4][0] = "Nobody would have known these words again.".to_string();
    let last = corrected.last_mut().expect("there are some");
    let lines = last.len();
    last.swap(0, lines - 1);
    // A stanza that is new, and one that is cut.
    corrected.remove(cut);
    let stanza = vec![
        "This the client wrote in May,".to_string(),
        "and sent it by the bus.".to_string(),
    ];
    corrected.insert(count / 4, stanza);
    corrected
}

fn other_word(line: &str, number: usize) -> String {
    let mut words: Vec<String> = line.split(' ').map(String::from).collect();
    let at = words.len() / 2;
    words[at] = format!("{}x{number}", words[at]);
    words.join(" ")
}

#[test]
fn twenty_corrections_of_real_texts() {
    let mut met = 0;
    for text in texts::every_text() {
        let stem = text.path.file_stem().unwrap_or_default().to_string_lossy();
        let words = std::fs::read_to_string(&text.path).expect("the text is UTF-8");
        let blocks = plain(&words);
        if !NAMES.iter().any(|name| stem.starts_with(name)) || blocks.len() < 4 {
            continue;
        }
        let set_as = if text.prose {
            SetAs::Prose
        } else {
            SetAs::Verse
        };
        let first = manuscript(&blocks);
        let same = revised(&first, set_as, &joined(&blocks)).expect("it can be revised");
        assert!(
            same.text == first && same.changes.is_empty(),
            "{}",
            text.name()
        );

        let cut = blocks.len() / 2;
        let corrected = corrected(&blocks, cut);
        let client = joined(&corrected);

        let made = revised(&first, set_as, &client).expect("it can be revised");
        let after = seen(&made.text, set_as).expect("it can be read");
        match text.prose {
            false => assert!(after.blocks == corrected, "{}", text.name()),
            true => assert!(
                folded(&after.blocks) == folded(&corrected),
                "{}",
                text.name()
            ),
        }
        // Only callouts beside the stanza that was cut need a look.
        let (above, below) = callouts(cut);
        let gone: Vec<&String> = above.iter().chain(&below).collect();
        let told: Vec<&String> = made.callouts.iter().map(|told| &told.callout).collect();
        assert!(
            told.iter().all(|callout| gone.contains(callout)),
            "{}: {told:?}, not {gone:?}",
            text.name()
        );
        let all = seen(&first, set_as).expect("it can be read").callouts.len();
        let lost = made
            .callouts
            .iter()
            .filter(|told| told.line.is_none())
            .count();
        assert_eq!(after.callouts.len() + lost, all, "{}", text.name());
        println!(
            "{}: {all} callouts, {} changes, {} to look at",
            text.name(),
            made.changes.len(),
            told.len()
        );
        met += 1;
    }
    assert!(met >= 3, "only {met} texts");
}
