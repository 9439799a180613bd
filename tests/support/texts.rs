//! Real texts to set: those of `tests/texts`, and those of a folder that `VERSEFOLD_TEXTS` names.

use std::fs;
use std::path::{Path, PathBuf};

use super::{Ran, run_in, versefold};

/// Languages for which none of the open fonts has letters.
const WIDE: [&str; 2] = ["zh", "ja"];

/// A face that has them, as Debian's package `fonts-noto-cjk` puts it.
const WIDE_FACE: &str = "/usr/share/fonts/opentype/noto/NotoSerifCJK-Regular.ttc";

/// Texts longer than this many bytes are set on larger panels, for a side has no more than 400.
const LONG: usize = 700_000;

/// A text of verse or prose.
#[derive(Clone, Debug)]
pub struct Text {
    pub path: PathBuf,
    /// A BCP 47 tag.
    pub language: String,
    pub prose: bool,
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

    /// Whether it is written in signs that none of the open fonts has.
    pub fn is_wide(&self) -> bool {
        let main = self.language.split('-').next().unwrap_or_default();
        WIDE.contains(&main)
    }

    /// Makes a book of it at `book`, with panels enough on both sides. Words of prose may be divided.
    pub fn begin_book(&self, book: &Path) {
        let words = fs::read_to_string(&self.path).expect("the text is UTF-8");
        // Ten lines a panel leave room for every stanza to stay whole, and for lines that turn over.
        let panels = match self.prose {
            true => words.chars().count() / 850 + 6,
            false => words.lines().count() / 20 + 6,
        };
        let size = if words.len() > LONG {
            "176 x 250 mm"
        } else {
            "105 x 148 mm"
        };
        let said = Ran::of(
            versefold()
                .args(["new", "--json", "--panels", &panels.min(400).to_string()])
                .args(["--panel", size, "--sides", "both", "--pictures", "0"])
                .args(["--set-as", if self.prose { "prose" } else { "verse" }])
                .args(["--language", &self.language])
                .arg("--manuscript")
                .arg(&self.path)
                .arg(book),
        )
        .done();
        let said: serde_json::Value = serde_json::from_str(&said).expect("JSON");
        let fits = said["fits"] == true || self.is_wide();
        assert!(fits, "{}: {said}", self.name());
        let plan = book.join("concertina.toml");
        let mut written = fs::read_to_string(&plan).expect("a plan");
        if self.prose {
            written = switched_on(&written, "hyphenate", "hyphenate = true");
        }
        if self.is_wide() {
            written = switched_on(&written, "typeface", &format!("typeface = \"{WIDE_FACE}\""));
        }
        fs::write(&plan, written).expect("the plan can be written");
    }

    /// Makes a book of it with its layers and gives the book's folder.
    pub fn make_book(&self, below: &Path) -> PathBuf {
        let book = below.join(self.name());
        self.begin_book(&book);
        run_in(&book, &["layers", "--quiet"]).done();
        book
    }
}

/// A plan with a key that stands there as a remark, or with another value.
fn switched_on(plan: &str, key: &str, line: &str) -> String {
    let is_key = |old: &&str| {
        let bare = old.trim_start_matches("# ");
        bare.starts_with(&format!("{key} ="))
    };
    let old = plan.lines().find(is_key).expect("the plan shows the key");
    plan.replacen(old, line, 1)
}

/// Every text of verse that the open fonts have the letters of.
pub fn verse() -> Vec<Text> {
    texts().into_iter().filter(|text| !text.prose).collect()
}

/// Every text that the open fonts have the letters of.
pub fn texts() -> Vec<Text> {
    let mut found = every_text();
    found.retain(|text| {
        let wide = text.is_wide();
        if wide {
            println!(
                "left to tests/outside, which installs a face for it: {}",
                text.name()
            );
        }
        !wide
    });
    found
}

/// Every text of verse or prose that there is, in every script. Those in Chinese and Japanese need Debian's package
/// `fonts-noto-cjk`.
pub fn every_text() -> Vec<Text> {
    let own = Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/texts");
    let mut found = texts_in(&own);
    found.extend(texts_named());
    found
}

/// Every text of prose that the open fonts have the letters of.
pub fn prose() -> Vec<Text> {
    texts().into_iter().filter(|text| text.prose).collect()
}

/// The texts in the folder that `VERSEFOLD_TEXTS` names, if it does.
fn texts_named() -> Vec<Text> {
    let Some(named) = std::env::var_os("VERSEFOLD_TEXTS") else {
        return Vec::new();
    };
    let folder = PathBuf::from(named);
    let found = texts_in(&folder);
    assert!(!found.is_empty(), "no texts in {}", folder.display());
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

/// The texts of a folder: those its `SOURCES.tsv` (there, or one folder up) names, or else every one.
fn texts_in(folder: &Path) -> Vec<Text> {
    let list = [Some(folder), folder.parent()]
        .into_iter()
        .flatten()
        .find_map(|at| fs::read_to_string(at.join("SOURCES.tsv")).ok());
    let mut found: Vec<Text> = match list {
        Some(list) => listed(folder, &list),
        None => unlisted(folder),
    };
    found.sort_by(|a, b| a.path.cmp(&b.path));
    found
}

/// The texts that a list names, by the names of its columns.
fn listed(folder: &Path, list: &str) -> Vec<Text> {
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
        let prose = match *row.get(kind)? {
            "verse" => false,
            "prose" => true,
            other => panic!("SOURCES.tsv calls {} {other}", path.display()),
        };
        let language = row.get(language)?.split(' ').next()?.to_string();
        let is_text = path.is_file() && path.extension().is_some_and(|end| end == "txt");
        is_text.then_some(Text {
            path,
            language,
            prose,
        })
    };
    rows.filter_map(text).collect()
}

/// Every `.txt` file, as verse; `en_…` names its language.
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
                prose: false,
            }
        })
        .collect()
}
