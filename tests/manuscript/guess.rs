//! Whether a client's text is taken for verse or for prose.

use std::fs;
use std::path::{Path, PathBuf};

use versefold::names::SetAs;
use versefold::text::looks_like;

/// The texts that a folder's `SOURCES.tsv` (there or one folder up) lists, and whether they are prose.
fn listed(folder: &Path) -> Vec<(PathBuf, SetAs)> {
    let above = folder.parent().unwrap_or(folder);
    let list = [folder, above].map(|at| fs::read_to_string(at.join("SOURCES.tsv")));
    let list = list.into_iter().find_map(Result::ok).unwrap_or_default();
    let mut rows = list.lines().filter(|row| !row.starts_with('#'));
    let head: Vec<&str> = rows.next().unwrap_or_default().split('\t').collect();
    let column = |name| head.iter().position(|column| *column == name);
    let (Some(file), Some(kind)) = (column("file"), column("kind")) else {
        return Vec::new();
    };
    let text = |row: &str| {
        let row: Vec<&str> = row.split('\t').collect();
        let kind = match *row.get(kind)? {
            "verse" => SetAs::Verse,
            "prose" => SetAs::Prose,
            _ => return None,
        };
        let path = folder.join(Path::new(row.get(file)?).file_name()?);
        path.is_file().then_some((path, kind))
    };
    rows.filter_map(text).collect()
}

/// Source: the kinds of the texts as their lists tell them.
#[test]
fn every_real_text_is_taken_for_what_it_is() {
    let mut texts = listed(&Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/texts"));
    assert!(texts.len() >= 14, "only {} texts", texts.len());
    if let Some(folder) = std::env::var_os("VERSEFOLD_TEXTS") {
        texts.extend(listed(Path::new(&folder)));
    }
    let wrong: Vec<String> = texts
        .iter()
        .filter(|(path, kind)| looks_like(&fs::read_to_string(path).expect("UTF-8")) != *kind)
        .map(|(path, kind)| format!("{} is {kind:?}", path.display()))
        .collect();
    println!("{} texts", texts.len());
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
}

/// A paragraph as one line, as lines wrapped at about 72 letters, and as lines broken where it pauses.
const PARAGRAPH: &str = "In those years the post went up by bus, and the bus went up whether or not there was \
     anybody in it. The rule was that the mail must be at the customs house before the telegraph opened, and the \
     telegraph opened at seven, winter and summer.";

fn wrapped(width: usize) -> String {
    let mut text = String::new();
    let mut length = 0;
    for word in PARAGRAPH.split(' ') {
        let between = if length + word.len() > width {
            "\n"
        } else {
            " "
        };
        length = if between == "\n" { 0 } else { length };
        length += word.len() + 1;
        text.push_str(between);
        text.push_str(word);
    }
    text.trim_start().to_string()
}

#[test]
fn prose_is_known_by_its_long_lines() {
    let talk = "“Who is it?”\n\n“The mail.”\n\n";
    for text in [
        PARAGRAPH.to_string(),
        wrapped(72),
        format!("# The Winter Bus\n\n{PARAGRAPH}\n\n{talk}{PARAGRAPH}"),
    ] {
        assert_eq!(looks_like(&text), SetAs::Prose, "{text}");
        assert_eq!(
            looks_like(&text.replace('\n', "\r\n")),
            SetAs::Prose,
            "{text}"
        );
    }
}

#[test]
fn verse_is_known_by_its_short_lines() {
    let paused = PARAGRAPH.replace(", ", ",\n").replace(". ", ".\n\n");
    // Marks make no line longer: each of these lines has 44 letters under as many points.
    let marked = "a\u{323}".repeat(44) + "\n";
    for text in [
        &paused,
        &wrapped(40),
        &marked.repeat(4)[..],
        "Snow.",
        "",
        "\n \n",
    ] {
        assert_eq!(looks_like(text), SetAs::Verse, "{text}");
    }
}
