//! A workbench that remembers gives what one gives that remembers nothing: the same layout, the same remarks, the same bytes
//! of every file and the same faults, whatever changes from one time to the next.

use std::path::{Path, PathBuf};

use versefold::assets::Assets;
use versefold::book::{BookTexts, BreaksPolicy, Workbench};
use versefold::names::Source;
use versefold::outputs::{WordsAs, json};

use crate::support;

/// Draws numbers, the same each time.
struct Draw(u64);

impl Draw {
    fn below(&mut self, below: usize) -> usize {
        self.0 = self.0.wrapping_mul(6_364_136_223_846_793_005);
        self.0 = self.0.wrapping_add(1_442_695_040_888_963_407);
        (self.0 >> 33) as usize % below.max(1)
    }
}

/// A text with one thing changed: words, lines, stanzas, callouts and mark-up alike.
fn edited(text: &str, draw: &mut Draw) -> String {
    let spaces: Vec<usize> = text.match_indices([' ', '\n']).map(|(at, _)| at).collect();
    if spaces.len() < 4 {
        return format!("{text}more\n");
    }
    let at = draw.below(spaces.len() - 1);
    let (from, to) = (spaces[at] + 1, spaces[at + 1]);
    let (before, word, behind) = (&text[..from.min(to)], &text[from.min(to)..to], &text[to..]);
    match draw.below(8) {
        0 => format!("{before}{behind}"),
        1 => format!("{before}{word} and otherwise{behind}"),
        2 => format!("{before}*{word}*{behind}"),
        3 => format!("{before}{word}\n{behind}"),
        4 => format!("{before}{word}\n\n{behind}"),
        5 => text.replacen("\n\n", "\n", 1),
        _ => format!("{before}Widdershins{behind}"),
    }
}

/// All that comes of a book: its layout and its files, or what is wrong.
fn comes_of(bench: &mut Workbench, texts: &BookTexts, files: bool) -> Vec<(String, Vec<u8>)> {
    let layout = match bench.lay_out_book(texts, BreaksPolicy::All) {
        Ok(layout) => layout,
        Err(faults) => return vec![("faults".to_string(), format!("{faults:?}").into_bytes())],
    };
    let lines = layout.panels.iter().flat_map(|panel| &panel.lines);
    let lines = lines.map(|line| (line.row, line.block, line.space_above, line.stretch.clone()));
    let lines: Vec<_> = lines.collect();
    let (notes, pictures, rules) = (&layout.notes, &layout.pictures, &layout.gave_way);
    let told = format!("{notes:?} {pictures:?} {rules:?} {lines:?}").into_bytes();
    let mut all = vec![
        ("what is told".to_string(), told),
        ("the layout".to_string(), json(&layout, WordsAs::Text)),
    ];
    if files {
        let made = bench.output_files(&layout, WordsAs::Text).expect("files");
        all.extend(made.into_iter().map(|file| (file.name, file.bytes)));
    }
    all
}

/// Changes a book so many times, one change upon the other, and now and then takes the last one back.
fn change(folder: &Path, texts: BookTexts, times: usize, draw: &mut Draw) {
    let mut warm = Workbench::new(Assets::folder(folder));
    let mut now = texts;
    let mut before = now.clone();
    for time in 0..=times {
        // Files are not made each time: what is known of them is then of an earlier layout.
        let files = time % 3 != 1;
        let mut cold = Workbench::new(Assets::folder(folder));
        let (warm, cold) = (
            comes_of(&mut warm, &now, files),
            comes_of(&mut cold, &now, files),
        );
        assert_eq!(warm.len(), cold.len(), "{}", folder.display());
        for ((name, warm), (_, cold)) in warm.iter().zip(&cold) {
            let book = folder.display();
            assert!(warm == cold, "{name} of {book}:\n{}", now.manuscript.text);
        }
        if time > 0 && draw.below(5) == 0 {
            std::mem::swap(&mut now, &mut before);
            continue;
        }
        before = now.clone();
        let text = edited(&now.manuscript.text, draw);
        now.manuscript = Source::new(now.manuscript.name.as_str(), text);
        if draw.below(6) == 0 {
            let plan = format!("# A remark.\n{}", now.plan.text);
            now.plan = Source::new(now.plan.name.as_str(), plan);
        }
    }
}

#[test]
fn every_book_comes_out_the_same_again() {
    let books = Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/books");
    let books = std::fs::read_dir(books).expect("books").flatten();
    let books = books.map(|entry| entry.path()).filter(|path| path.is_dir());
    let mut books: Vec<PathBuf> = books.chain(support::examples()).collect();
    books.sort();
    let mut draw = Draw(0x1970);
    let mut changed = 0;
    for folder in books {
        let texts = Workbench::new(Assets::folder(&folder)).read_files();
        if let Ok(texts) = texts {
            change(&folder, texts, 4, &mut draw);
            changed += 1;
        }
    }
    assert!(changed > 30, "{changed} books");
}

/// Prose whose panels begin in the midst of paragraphs, justified and not.
#[test]
fn long_prose_comes_out_the_same_again() {
    let folder = support::examples();
    let folder = folder
        .iter()
        .find(|path| path.ends_with("winter-bus-prose"));
    let folder = folder.expect("the example in prose");
    let words = std::fs::read_to_string(folder.join(support::manuscript_of(folder)));
    let words = words.expect("its words");
    let plain = words
        .lines()
        .filter(|line| !line.starts_with(['[', '#', '*', '|', '>']));
    let plain: Vec<&str> = plain.collect();
    let prose = plain.join("\n").repeat(3);
    for (seed, align) in [(1, "justified"), (2, "left"), (3, "justified")] {
        let more = format!(
            "[text]\nset-as = \"prose\"\nalign = \"{align}\"\nhyphenate = {}\nsize = \"9 pt\"\n",
            seed != 3
        );
        let texts = BookTexts {
            plan: Source::new("concertina.toml", support::small_plan(60, &more)),
            manuscript: Source::new("winter-bus.txt", prose.as_str()),
            breaks: None,
        };
        change(folder, texts, 14, &mut Draw(seed));
    }
}
