//! Strips, sheets, crossovers and scans that cannot be made.

use std::fs;
use std::path::Path;

use png::{ColorType, Encoder};

use super::refused;
use crate::support::{temporary, write_book};

const VERSE: &str = "One long, before a bend:\n  *I am coming. Stay where you are.*\n";

/// A plan of four panels, each key given once.
fn plan(paper: &str, more: &str) -> String {
    let mut keys = vec![
        ("panel-width", "\"105 mm\""),
        ("panel-height", "\"148 mm\""),
        ("panels-per-side", "4"),
    ];
    let asked: Vec<(&str, &str)> = paper
        .lines()
        .filter_map(|line| line.split_once(" = "))
        .collect();
    keys.retain(|(key, _)| asked.iter().all(|(other, _)| other != key));
    keys.extend(asked);
    let keys: String = keys
        .iter()
        .map(|(key, value)| format!("{key} = {value}\n"))
        .collect();
    format!(
        "title = \"The Winter Bus\"\nlanguage = \"en-GB\"\nmanuscript = \"winter-bus.txt\"\n\n[paper]\n{keys}{more}"
    )
}

/// What `strip` and `dummy` say of a book that cannot be made; nothing is written by either.
fn both(book: &Path) -> String {
    let said = refused(book, &["strip"]);
    assert_eq!(refused(book, &["dummy"]), said);
    said
}

fn said_of(paper: &str, more: &str, command: &[&str]) -> String {
    let temp = temporary();
    write_book(temp.path(), &plan(paper, more), VERSE);
    refused(temp.path(), command)
}

#[test]
#[expect(clippy::too_many_lines, reason = "a table of plans")]
fn strips_that_cannot_be_are_told() {
    for (paper, more, told) in [
        (
            "panels-per-side = 0",
            "",
            "`panels-per-side` must be from 2 to 400",
        ),
        (
            "panels-per-side = 1\ncover = \"boards\"",
            "",
            "`panels-per-side` must be from 2 to 400",
        ),
        (
            "",
            "\n[sheets]\ntab = \"105 mm\"\n",
            "a tab of 105 mm leaves nothing of a panel",
        ),
        (
            "ends = { first = \"15 mm\" }",
            "",
            "`first` must be from 20 mm to 1000 mm",
        ),
        (
            "ends = { last = \"22 mm\" }",
            "",
            "the left and right margins take 22 mm of a panel at an end that is 22 mm wide",
        ),
        (
            "cover = \"boards\"\nboards = { thickness = \"4 mm\", turn-in = \"7 mm\" }",
            "",
            "`turn-in` must be at least twice the boards' thickness, 8 mm",
        ),
        (
            "",
            "\n[[crossover]]\nfrom = \"front 1\"\nto = \"front 3\"\n",
            "`front 1` and `front 3` do not meet",
        ),
        (
            "",
            "\n[[crossover]]\nfrom = \"front 2\"\nto = \"back 3\"\n",
            "`front 2` and `back 3` do not meet",
        ),
        (
            "",
            "\n[[crossover]]\nfrom = \"front 1\"\nto = \"back 4\"\nheights = [\"40 mm\", \"160 mm\"]\n",
            "`heights` go beyond the panel, which is 148 mm high",
        ),
        ("", "\n[sheets]\nsize = \"A33\"\n", "`A33` is no sheet"),
        (
            "",
            "\n[sheets]\ngrain = \"short\"\n",
            "`grain` lies along a side of the sheet: give its `size` too",
        ),
        (
            "wrapper = { kind = \"band\" }",
            "",
            "`wrapper` has no say unless cover = \"wrapper\"",
        ),
        (
            "bulk = 1.2",
            "",
            "`bulk` needs the paper's `grammage` beside it",
        ),
    ] {
        let said = said_of(paper, more, &["strip"]);
        assert!(
            said.starts_with(&format!("Fault: {told}\n")),
            "{paper}{more}:\n{said}"
        );
    }
    // Those that do not meet are told which do.
    let crossover = "\n[[crossover]]\nfrom = \"front 1\"\nto = \"front 3\"\n";
    let said = said_of("", crossover, &["strip"]);
    assert!(said.contains("front 1 meets front 2 and back 4"), "{said}");
}

#[test]
fn sheets_that_are_too_small_are_told() {
    let sheets = |keys: &str| format!("\n[sheets]\n{keys}\n");
    for (keys, told) in [
        // A millimetre less than two panels, marks and what the press cannot print.
        (
            "longest-sheet = \"235 mm\"",
            "a sheet has room for 209 mm of the strip",
        ),
        ("size = \"A5\"", "a sheet has room for 122 mm of the strip"),
        ("size = \"DL\"", "`DL` is no sheet"),
        (
            "size = \"A6\"",
            "A6 of 148 × 105 mm is too low for the strip",
        ),
        // The strip lies along the short side of a long-grain sheet.
        (
            "size = \"A4\"\ngrain = \"long\"",
            "a sheet has room for 184 mm of the strip",
        ),
    ] {
        let said = said_of("", &sheets(keys), &["strip"]);
        assert!(
            said.starts_with(&format!("Fault: {told}")),
            "{keys}:\n{said}"
        );
    }
    let said = said_of("panel-width = \"300 mm\"", "", &["dummy", "--paper", "A10"]);
    assert!(said.contains("has no room on that paper"), "{said}");
    let said = said_of("", "", &["dummy", "--paper", "foolscap-ish"]);
    assert!(said.contains("the sheets known are"), "{said}");
    let said = said_of("", "", &["dummy", "--backs", "glued"]);
    assert!(said.contains("printed, pasted, none"), "{said}");
}

#[test]
fn words_in_every_join_are_told_with_what_helps() {
    // Justified prose reaches the margins on every panel of the back, nearer to the folds than a wide tab does.
    let lines =
        "the bus was late and the road was white and no one minded at all because ".repeat(80);
    let temp = temporary();
    let more = "\n[text]\nset-as = \"prose\"\nalign = \"justified\"\n\n[sheets]\nsize = \"A3\"\ntab = \"30 mm\"\n";
    write_book(temp.path(), &plan("", more), lines);
    let said = refused(temp.path(), &["strip"]);
    assert!(said.contains("lie under the join after"), "{said}");
    for way in ["margin", "`tab`", "hinge", "doubled"] {
        assert!(said.contains(way), "{way}: {said}");
    }
}

#[test]
fn plates_and_files_for_the_press_need_what_they_are_made_of() {
    let said = said_of("", "", &["strip", "--plate=gold"]);
    assert!(
        said.starts_with("Fault: no words are printed in `gold`\n"),
        "{said}"
    );
    assert!(said.contains("--plate=\"black\""), "{said}");
    let said = said_of(
        "",
        "\n[text]\nink = \"reversed-out\"\n",
        &["strip", "--plate"],
    );
    assert!(said.contains("no words are printed in any ink"), "{said}");
    // Both things that are missing are told at once.
    let said = said_of("", "", &["strip", "--x4"]);
    assert!(
        said.contains("names none") && said.contains("bear a date"),
        "{said}"
    );
    assert!(said.contains("2 things to mend"), "{said}");
}

/// A grey PNG; without its pixels where `whole` is not set.
fn grey(width: u32, height: u32, whole: bool) -> Vec<u8> {
    let mut bytes = Vec::new();
    let mut encoder = Encoder::new(&mut bytes, width, height);
    encoder.set_color(ColorType::Grayscale);
    let mut writer = encoder.write_header().expect("a header");
    if whole {
        let data = vec![120; (width * height) as usize];
        writer.write_image_data(&data).expect("all of its rows");
        writer.finish().expect("an end");
    } else {
        drop(writer);
        // Only the signature and the header are left.
        bytes.truncate(33);
    }
    bytes
}

/// What is said of a scan, and that nothing is written.
fn said_of_scan(name: &str, bytes: Option<&[u8]>) -> String {
    let temp = temporary();
    let more = format!("\n[[picture]]\nname = \"the hut\"\nart = \"art/{name}\"\n");
    let verse = format!("{VERSE}[picture: the hut]\n");
    write_book(temp.path(), &plan("", &more), verse);
    fs::create_dir(temp.path().join("art")).expect("a folder");
    if let Some(bytes) = bytes {
        fs::write(temp.path().join("art").join(name), bytes).expect("written");
    }
    let said = both(temp.path());
    // Without its scans nothing is read.
    super::run_in(temp.path(), &["strip", "--words-only"]).done();
    said
}

#[test]
fn scans_that_cannot_be_printed_are_told() {
    let sound = grey(1311, 1819, true);
    let mut cut = sound.clone();
    cut.truncate(cut.len() / 2);
    let bomb = grey(40_000, 40_000, false);
    for (name, bytes, told) in [
        ("hut.png", None, "`art/hut.png` is missing"),
        ("hut.png", Some(cut), "`art/hut.png` is damaged"),
        ("hut.png", Some(Vec::new()), "`art/hut.png` is"),
        (
            "hut.png",
            Some(grey(1819, 1311, true)),
            "`art/hut.png` has 1819 × 1311 pixels",
        ),
        (
            "hut.png",
            Some(grey(1, 1, true)),
            "`art/hut.png` has 1 × 1 pixels",
        ),
        (
            "hut.png",
            Some(grey(40_000, 10, true)),
            "`art/hut.png` has 40000 × 10 pixels",
        ),
        (
            "hut.png",
            Some(bomb),
            "`art/hut.png` has 40000 × 40000 pixels",
        ),
        (
            "hut.jpg",
            Some(sound),
            "`art/hut.jpg` is a PNG picture under the name of another kind",
        ),
    ] {
        let said = said_of_scan(name, bytes.as_deref());
        assert!(said.starts_with(&format!("Fault: {told}")), "{said}");
        assert!(said.contains("concertina.toml:12:7"), "{said}");
    }
}

/// 105 × 148 mm at 300 to the inch are 1240 × 1748 pixels; with 3 mm of bleed 1311 × 1819.
#[test]
fn a_trimmed_scan_has_nothing_that_runs_over() {
    for (width, height, told) in [(1240, 1748, true), (1311, 1819, false)] {
        let temp = temporary();
        let more = "\n[[picture]]\nname = \"the hut\"\nart = \"hut.png\"\nruns-over = \"1.5 mm\"\n";
        let verse = format!("{VERSE}[picture: the hut]\n");
        write_book(temp.path(), &plan("", more), verse);
        fs::write(temp.path().join("hut.png"), grey(width, height, true)).expect("written");
        if told {
            let said = both(temp.path());
            assert!(
                said.contains("nothing that could run over a fold"),
                "{said}"
            );
        } else {
            super::run_in(temp.path(), &["strip"]).done();
        }
    }
    let said = said_of(
        "",
        "\n[[picture]]\nname = \"the hut\"\nart = \"hut.png\"\nruns-over = \"4 mm\"\n",
        &["strip"],
    );
    assert!(
        said.contains("`runs-over` must be at most the bleed"),
        "{said}"
    );
}
