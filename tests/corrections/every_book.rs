//! Every small book and every example: kept and passed for press, it stands to the last byte as it did.

use std::path::{Path, PathBuf};

use versefold::assets::Assets;
use versefold::book::{BookTexts, BreaksPolicy, Workbench};
use versefold::names::PanelName;

use super::{bytes, told};
use crate::support::examples;

fn books() -> Vec<PathBuf> {
    let small = Path::new(concat!(env!("CARGO_MANIFEST_DIR"), "/tests/books"));
    let entries = std::fs::read_dir(small).expect("the small books");
    let mut books: Vec<PathBuf> = entries.map(|entry| entry.expect("a book").path()).collect();
    books.extend(examples());
    books.retain(|book| book.join("concertina.toml").exists());
    books.sort();
    books
}

#[test]
fn every_book_stands_when_it_is_kept_and_passed() {
    let (mut stood, mut at_fault) = (0, 0);
    for book in books() {
        let name = book.display();
        let mut bench = Workbench::new(Assets::folder(&book));
        let Ok(before) = bench.lay_out() else {
            at_fault += 1;
            continue;
        };
        let panels: Vec<PanelName> = before.panels.iter().map(|panel| panel.panel).collect();
        let texts = bench.read_files().expect("it was laid out");
        for (choose, pass) in [(true, &[][..]), (false, &panels[..]), (true, &panels[..1])] {
            let taken = bench.take_book(&texts, BreaksPolicy::All, choose, pass);
            let taken = taken.unwrap_or_else(|faults| panic!("{name}: {}", told(&faults)));
            let kept = BookTexts {
                breaks: Some(versefold::names::Source::new(
                    "breaks.toml",
                    taken.text.as_str(),
                )),
                ..texts.clone()
            };
            let again = bench.take_book(&kept, BreaksPolicy::All, false, &[]);
            let again =
                again.unwrap_or_else(|faults| panic!("{name}: {}\n{}", told(&faults), taken.text));
            assert_eq!(again.text, taken.text, "{name}");
            assert!(
                bytes(&again.layout) == bytes(&before),
                "{name}: layers have other bytes"
            );
        }
        stood += 1;
    }
    assert!(
        stood > 60 && at_fault < stood / 3,
        "{stood} stood, {at_fault} at fault"
    );
}
