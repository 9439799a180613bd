//! Sheets and dummies of books, made by the commands.

use std::fs;
use std::path::Path;

use png::{ColorType, Encoder};
use serde_json::Value;

use crate::support::{copy_of, examples, run_in, small_plan, temporary, tree, write_book};

/// Small books that the commands lay out.
fn sound_books() -> Vec<std::path::PathBuf> {
    let books = Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/books");
    let all = fs::read_dir(books).expect("books");
    let all = all.map(|entry| entry.expect("a book").path());
    let mut sound: Vec<_> = all
        .filter(|book| book.is_dir() && !book.join("expected/faults.txt").exists())
        // A font beside the book's folder does not go with it.
        .filter(|book| {
            let plan = fs::read_to_string(book.join("concertina.toml"));
            plan.is_ok_and(|plan| !plan.contains("../"))
        })
        .chain(examples())
        .collect();
    sound.sort();
    sound
}

#[test]
fn every_sound_book_has_sheets_and_a_dummy() {
    let books = sound_books();
    assert!(books.len() > 40, "{}", books.len());
    for book in books {
        let temp = temporary();
        copy_of(&book, temp.path());
        let commands: [&[&str]; 5] = [
            &["layers", "--quiet"],
            &["strip", "--quiet"],
            &["dummy", "--quiet"],
            &["dummy", "--quiet", "--paper", "A6", "--backs", "pasted"],
            &["strip", "--quiet", "--words-only"],
        ];
        for command in commands {
            // Each proves that its words read back, or fails.
            run_in(temp.path(), command).done();
        }
        let made = tree(&temp.path().join("out"));
        for name in ["layout.json", "dummy.pdf", "strip/folding-guide.pdf"] {
            assert!(made.contains_key(name), "{}: {name}", book.display());
        }
        let sheets = made.keys().filter(|name| name.starts_with("strip/sheet-"));
        assert!(sheets.count() > 0, "{}", book.display());
    }
}

#[test]
fn the_same_book_gives_the_same_sheets() {
    let temp = temporary();
    copy_of(&crate::support::demo(), temp.path());
    let commands: [&[&str]; 4] = [
        &["strip"],
        &["strip", "--plate", "--mirrored"],
        &["dummy"],
        &["layers"],
    ];
    let mut all = Vec::new();
    for command in commands {
        run_in(temp.path(), command).done();
        let before = tree(&temp.path().join("out"));
        let again = run_in(temp.path(), &[command, &["--json"]].concat()).done();
        let again: Value = serde_json::from_str(&again).expect("JSON");
        assert_eq!(again["written"], serde_json::json!([]), "{command:?}");
        assert!(tree(&temp.path().join("out")) == before, "{command:?}");
        all.push(before.len());
    }
    // None of them takes away what another has written.
    assert!(all.windows(2).all(|pair| pair[0] < pair[1]), "{all:?}");
}

/// A print of one grey, all over or with white on the right.
fn print(to: &Path, white_right: bool) {
    let (width, height) = (900, 900);
    let mut bytes = Vec::new();
    let mut encoder = Encoder::new(&mut bytes, width, height);
    encoder.set_color(ColorType::Grayscale);
    let mut writer = encoder.write_header().expect("a header");
    let row = (0..width).map(|x| if white_right && x > 600 { 255 } else { 90 });
    let row: Vec<u8> = row.collect();
    writer
        .write_image_data(&row.repeat(height as usize))
        .expect("pixels");
    writer.finish().expect("an end");
    fs::create_dir_all(to.parent().expect("a folder")).expect("made");
    fs::write(to, bytes).expect("written");
}

/// What is remarked on the grounds of a book of two prints on neighbouring panels.
fn remarks(white_right: bool, more: &str, first: &str) -> Vec<String> {
    let temp = temporary();
    let pictures = format!(
        "\n[rules]\npicture-comes = {{ latest = 2 }}\n\n[[picture]]\nname = \"the hut\"\nart = \"art/hut.png\"\n{first}\n[[picture]]\nname = \"the gate\"\n\
         art = \"art/gate.png\"\n{more}\n[[panel]]\npanel = \"front 2\"\nrole = \"picture\"\npicture = \"the hut\"\n\
         [[panel]]\npanel = \"front 3\"\nrole = \"picture\"\npicture = \"the gate\"\n"
    );
    let verse = "One long, before a bend.\n[picture: the hut]\n[picture: the gate]\n";
    write_book(temp.path(), &small_plan(3, &pictures), verse);
    print(&temp.path().join("art/hut.png"), white_right);
    print(&temp.path().join("art/gate.png"), false);
    let said = run_in(temp.path(), &["strip", "--json"]).done();
    let said: Value = serde_json::from_str(&said).expect("JSON");
    let remarks = said["remarks"].as_array().expect("remarks").iter();
    remarks
        .map(|remark| remark["what"].as_str().expect("a sentence").to_string())
        .filter(|remark| remark.contains("ground"))
        .collect()
}

#[test]
fn grounds_that_stop_at_one_fold_are_told() {
    let told = remarks(false, "", "");
    assert_eq!(told.len(), 1, "{told:?}");
    assert!(
        told[0].starts_with("Between front 2 and front 3 two grounds meet at the fold"),
        "{told:?}"
    );
    // Not where one of them ends before the fold, runs over it, or the motif goes on.
    let crossover = "\n[[crossover]]\nfrom = \"front 2\"\nto = \"front 3\"\n";
    for (white, more, first) in [
        (true, "", ""),
        (false, "runs-over = \"1.5 mm\"\n", ""),
        (false, "", "runs-over = \"1.5 mm\"\n"),
        (false, crossover, ""),
    ] {
        let told = remarks(white, more, first);
        assert!(told.is_empty(), "{white} {more} {first}: {told:?}");
    }
}
