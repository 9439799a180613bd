//! Real texts to set: those of `tests/texts`, and those of a folder that `VERSEFOLD_TEXTS` names.

use std::fs;
use std::path::{Path, PathBuf};

use super::{Ran, run_in, versefold};

/// Languages for which none of the open fonts has letters.
const LEFT_OUT: [&str; 2] = ["zh", "ja"];

/// A text of verse or prose.
#[derive(Clone, Debug)]
pub struct Text {
    pub path: PathBuf,
    /// A BCP 47 tag.
    pub language: String,
}

impl Text {
    /// The file's name, with its folder's, for an excerpt may be called what the whole text is.
    pub fn name(&self) -> String {
        let lossy = |part: Option<&std::ffi::OsStr>| {
            part.unwrap_or_default().to_string_lossy().into_owned()
        };
        let folder = self.path.parent().and_then(Path::file_name);
        format!("{}-{}", lossy(folder), lossy(self.path.file_stem()))
    }

    /// Makes a book of it at `book`, with panels enough on both sides.
    pub fn begin_book(&self, book: &Path) {
        let words = fs::read_to_string(&self.path).expect("the text is UTF-8");
        // Ten lines a panel leave room for every stanza to stay whole, and for lines that turn over.
        let panels = (words.lines().count() / 20 + 6).min(400).to_string();
        let said = Ran::of(
            versefold()
                .args(["new", "--json", "--panels", &panels, "--sides", "both"])
                .args(["--pictures", "0", "--set-as", "verse"])
                .args(["--language", &self.language])
                .arg("--manuscript")
                .arg(&self.path)
                .arg(book),
        )
        .done();
        let said: serde_json::Value = serde_json::from_str(&said).expect("JSON");
        assert_eq!(said["fits"], true, "{}: {said}", self.name());
    }

    /// Makes a book of it with its layers and gives the book's folder.
    pub fn make_book(&self, below: &Path) -> PathBuf {
        let book = below.join(self.name());
        self.begin_book(&book);
        run_in(&book, &["layers", "--quiet"]).done();
        book
    }
}

/// Every text of verse that there is.
pub fn texts() -> Vec<Text> {
    let own = Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/texts");
    let mut found = texts_in(&own, "verse");
    found.extend(texts_named("verse"));
    found
}

/// Every text of prose in the folder that `VERSEFOLD_TEXTS` names.
pub fn prose() -> Vec<Text> {
    texts_named("prose")
}

/// The texts of this kind in the folder that `VERSEFOLD_TEXTS` names, if it does.
fn texts_named(kind: &str) -> Vec<Text> {
    let Some(named) = std::env::var_os("VERSEFOLD_TEXTS") else {
        return Vec::new();
    };
    let folder = PathBuf::from(named);
    let found = texts_in(&folder, kind);
    assert!(!found.is_empty(), "no {kind} in {}", folder.display());
    found
}

/// Every file of text that there is, in any script, verse or prose, with its language.
pub fn every_file() -> Vec<(String, String)> {
    let mut folders = vec![Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/texts")];
    folders.extend(std::env::var_os("VERSEFOLD_TEXTS").map(PathBuf::from));
    let mut found: Vec<Text> = folders.iter().flat_map(|folder| unlisted(folder)).collect();
    found.sort_by(|a, b| a.path.cmp(&b.path));
    let read = |text: Text| {
        (
            text.language,
            fs::read_to_string(text.path).expect("the text is UTF-8"),
        )
    };
    found.into_iter().map(read).collect()
}

/// The texts of a folder: those its `SOURCES.tsv` (there, or one folder up) calls by this kind, verse or prose, or
/// else every one.
fn texts_in(folder: &Path, kind: &str) -> Vec<Text> {
    let list = [Some(folder), folder.parent()]
        .into_iter()
        .flatten()
        .find_map(|at| fs::read_to_string(at.join("SOURCES.tsv")).ok());
    let mut found: Vec<Text> = match list {
        Some(list) => listed(folder, &list, kind),
        None => unlisted(folder),
    };
    found.retain(|text| {
        let main = text.language.split('-').next().unwrap_or_default();
        !LEFT_OUT.contains(&main)
    });
    found.sort_by(|a, b| a.path.cmp(&b.path));
    found
}

/// The texts that a list calls by this kind, by the names of its columns.
fn listed(folder: &Path, list: &str, wanted: &str) -> Vec<Text> {
    let mut rows = list
        .lines()
        .filter(|line| !line.starts_with('#'))
        .map(|line| line.split('\t').collect::<Vec<_>>());
    let head = rows.next().unwrap_or_default();
    let column = |name: &str| {
        let found = head.iter().position(|column| *column == name);
        found.unwrap_or_else(|| panic!("SOURCES.tsv has no column `{name}`"))
    };
    let (file, language, kind) = (column("file"), column("language"), column("kind"));
    let text = |row: Vec<&str>| {
        let path = folder.join(Path::new(row.get(file)?).file_name()?);
        let is_wanted = row.get(kind) == Some(&wanted) && path.is_file();
        let language = row.get(language)?.split(' ').next()?.to_string();
        is_wanted.then_some(Text { path, language })
    };
    rows.filter_map(text).collect()
}

/// Every `.txt` file; `en_…` names its language.
fn unlisted(folder: &Path) -> Vec<Text> {
    let Ok(entries) = fs::read_dir(folder) else {
        return Vec::new();
    };
    let paths = entries.map(|entry| entry.expect("the folder can be read").path());
    let texts = paths.filter(|path| path.extension().is_some_and(|end| end == "txt"));
    texts
        .map(|path| {
            let name = path.file_name().unwrap_or_default().to_string_lossy();
            let head = name.split(['_', '-', '.']).next().unwrap_or_default();
            let tag = (2..=3).contains(&head.len()).then(|| head.to_string());
            Text {
                language: tag.unwrap_or_else(|| "en".to_string()),
                path,
            }
        })
        .collect()
}
