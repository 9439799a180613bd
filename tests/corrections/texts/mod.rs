//! Corrections as clients write them, in three real texts: how many panels change, and how few could.
//!
//! Each correction is made alone, in the same book as it was kept. A panel is touched if it carries other words than
//! before. What must be touched at the least is known from the words alone ([`least::fewest_touched`]), not from how
//! the program finds them again. The table of all corrections stands in `texts.txt`; `-- --nocapture table` prints
//! it.
//!
//! The texts are those of `tests/texts`, which says where they are from, and the whole ones where `VERSEFOLD_TEXTS`
//! names a folder of them.

mod donkey;
mod mariner;
mod sonnets;

use std::collections::BTreeMap;
use std::fs;
use std::ops::Range;
use std::path::{Path, PathBuf};

use versefold::assets::Assets;
use versefold::book::{BookTexts, BreaksPolicy, Workbench};
use versefold::layout::{LaidPanel, Layout};
use versefold::names::{PanelName, Source};
use versefold::outputs;

use super::{bytes, least, told};
use crate::support::golden;

/// A correction: what kind it is, what to find, and what to put in its place.
type Correction = (&'static str, &'static str, &'static str);

/// A text with what its client corrects.
struct Text {
    name: &'static str,
    /// How its file's name begins, the excerpt's and the whole text's.
    file: &'static str,
    prose: bool,
    title: &'static str,
    /// Made before the book is.
    made_ready: &'static [(&'static str, &'static str)],
    corrections: [Correction; 20],
}

const TEXTS: [&Text; 3] = [&mariner::TEXT, &sonnets::TEXT, &donkey::TEXT];

/// What has come of a correction.
struct Row {
    text: &'static str,
    kind: &'static str,
    /// Panels that carry other words.
    touched: usize,
    /// Panels that carry the same words in other places.
    moved: usize,
    /// The fewest panels that any division touches.
    least: usize,
}

impl Text {
    /// The file in a folder, if there is one.
    fn in_folder(&self, folder: &Path) -> Option<PathBuf> {
        let files = fs::read_dir(folder).expect("a folder of texts");
        let paths = files.map(|file| file.expect("the folder can be read").path());
        let mut found: Vec<PathBuf> = paths
            .filter(|path| {
                let name = path.file_name().unwrap_or_default().to_string_lossy();
                name.starts_with(self.file) && name.ends_with(".txt")
            })
            .collect();
        found.sort();
        found.into_iter().next()
    }

    fn manuscript(&self, path: &Path) -> String {
        let words = fs::read_to_string(path).expect("the text is UTF-8");
        let mut words = format!("# {}\n\n{words}", self.title);
        for (find, put) in self.made_ready {
            words = put_in(&words, find, put).1;
        }
        words
    }

    /// A plan with more panels than the text needs.
    fn plan(&self, manuscript: &str) -> String {
        let panels = match self.prose {
            true => manuscript.chars().count() / 300 + 4,
            false => manuscript.lines().count() / 4 + 2,
        };
        let (sides, per_side) = match panels > 20 {
            true => ("both", panels / 2),
            false => ("front", panels),
        };
        format!(
            "title = \"{}\"\nlanguage = \"en-GB\"\nmanuscript = \"book.txt\"\n\
             [paper]\npanel-width = \"105 mm\"\npanel-height = \"90 mm\"\npanels-per-side = {per_side}\n\
             sides = \"{sides}\"\n[text]\nset-as = \"{}\"\n\
             [[panel]]\npanel = \"front 1\"\nrole = \"title\"\n",
            self.title,
            if self.prose { "prose" } else { "verse" },
        )
    }
}

/// Puts words in the place of others, which are there once. Gives the bytes that change, as few as can be, and the
/// text.
fn put_in(text: &str, find: &str, put: &str) -> (Range<usize>, String) {
    let found: Vec<usize> = text.match_indices(find).map(|(at, _)| at).collect();
    assert_eq!(found.len(), 1, "“{find}” must be there once");
    let (from, to) = (found[0], found[0] + find.len());
    let same = |pair: &(char, char)| pair.0 == pair.1;
    let length = |pairs: &mut dyn Iterator<Item = (char, char)>| -> usize {
        pairs.take_while(same).map(|(c, _)| c.len_utf8()).sum()
    };
    let head = length(&mut find.chars().zip(put.chars()));
    let (find_left, put_left) = (&find[head..], &put[head..]);
    let tail = length(&mut find_left.chars().rev().zip(put_left.chars().rev()));
    let changed = from + head..to - tail;
    (changed, format!("{}{put}{}", &text[..from], &text[to..]))
}

/// What a panel carries, row by row, without its spaces: what the program adds left out.
fn carried(panel: &LaidPanel) -> String {
    let (mut text, mut row) = (String::new(), None);
    for line in panel.lines.iter().filter(|line| line.part.is_some()) {
        if row.is_some_and(|row| row != line.row) {
            text.push('\n');
        }
        row = Some(line.row);
        text.extend(line.text.chars().filter(|c| !c.is_whitespace()));
    }
    text
}

fn all_carried(layout: &Layout) -> BTreeMap<PanelName, String> {
    let panels = layout.panels.iter();
    panels.map(|panel| (panel.panel, carried(panel))).collect()
}

/// Where a panel's lines stand.
fn places(panel: &LaidPanel) -> Vec<(String, i64, i64)> {
    let lines = panel.lines.iter();
    let place = |line: &versefold::layout::LaidLine| {
        (line.text.clone(), line.x.units(), line.baseline.units())
    };
    lines.map(place).collect()
}

/// The bytes of the manuscript from a panel's first word to its last.
fn span(panel: &LaidPanel) -> Option<Range<usize>> {
    let sources = panel.lines.iter().flat_map(|line| &line.sources);
    let from = sources.clone().map(|(from, _)| *from).min()?;
    Some(from..sources.map(|(_, to)| *to).max()?)
}

/// Whether a change of these bytes concerns the words on a panel: it changes some of them, or adds some next to them.
fn concerns(manuscript: &str, changed: &Range<usize>, panel: &LaidPanel) -> bool {
    let Some(own) = span(panel) else { return false };
    if changed.start < changed.end {
        return changed.start < own.end && own.start < changed.end;
    }
    let before = manuscript[..changed.start].trim_end().len();
    let rest = &manuscript[changed.start..];
    let behind = changed.start + rest.len() - rest.trim_start().len();
    before <= own.end && own.start <= behind
}

/// A kept book that is corrected.
struct Kept<'a> {
    text: &'a Text,
    plan: String,
    manuscript: String,
    bench: Workbench,
    /// The book as it was chosen, and its breaks.
    chosen: (Layout, String),
    /// The same with every other panel of words passed, and those panels.
    printed: (Layout, String, Vec<PanelName>),
}

impl<'a> Kept<'a> {
    fn new(text: &'a Text, path: &Path) -> Kept<'a> {
        let manuscript = text.manuscript(path);
        let plan = text.plan(&manuscript);
        let mut bench = Workbench::new(Assets::memory());
        let texts = texts(&plan, &manuscript, None);
        let mut take = |pass: &[PanelName]| {
            let taken = bench.take_book(&texts, BreaksPolicy::All, true, pass);
            let taken =
                taken.unwrap_or_else(|faults| panic!("{}: {}", path.display(), told(&faults)));
            (taken.layout, taken.text)
        };
        let chosen = take(&[]);
        let with_words = chosen.0.panels.iter().filter(|panel| span(panel).is_some());
        let passed: Vec<PanelName> = with_words.map(|panel| panel.panel).step_by(2).collect();
        let (layout, breaks) = take(&passed);
        Kept {
            text,
            plan,
            manuscript,
            chosen,
            printed: (layout, breaks, passed),
            bench,
        }
    }

    fn correct(&mut self, (kind, find, put): Correction) -> Row {
        let text = self.text.name;
        let (changed, corrected) = put_in(&self.manuscript, find, put);
        let as_chosen = texts(&self.plan, &corrected, Some(&self.chosen.1));
        let after = self.bench.lay_out_book(&as_chosen, BreaksPolicy::All);
        let after = after.unwrap_or_else(|faults| panic!("{text}, {kind}: {}", told(&faults)));
        let before = all_carried(&self.chosen.0);
        let (mut touched, mut moved) = (0, 0);
        for (was, is) in self.chosen.0.panels.iter().zip(&after.panels) {
            if before[&is.panel] != carried(is) {
                touched += 1;
            } else if places(was) != places(is) {
                moved += 1;
            }
        }
        let unkept = texts(&self.plan, &corrected, None);
        let prepared = self.bench.prepare_book(&unkept, BreaksPolicy::All);
        let prepared =
            prepared.unwrap_or_else(|faults| panic!("{text}, {kind}: {}", told(&faults)));
        let least = least::fewest_touched(&prepared, &before, &[], touched);
        let least = least.unwrap_or_else(|| {
            panic!("{text}, {kind}: {touched} panels touched is less than could be")
        });
        self.correct_printed((kind, &changed, &corrected));
        Row {
            text,
            kind,
            touched,
            moved,
            least,
        }
    }

    fn per_side(&self, panel: PanelName) -> usize {
        let panels = self.printed.0.panels.iter();
        panels
            .filter(|other| other.panel.side == panel.side)
            .count()
    }

    /// With panels passed for press, those that the correction does not concern keep the bytes of their layers, and
    /// it is refused only where it concerns one or where what was added has no room between them.
    fn correct_printed(&mut self, (kind, changed, corrected): (&str, &Range<usize>, &str)) {
        let (before, breaks, passed) = &self.printed;
        let is_passed = |panel: &&LaidPanel| passed.contains(&panel.panel);
        let printed: Vec<&LaidPanel> = before.panels.iter().filter(is_passed).collect();
        let free = |panel: &&LaidPanel| !concerns(&self.manuscript, changed, panel);
        let as_printed = texts(&self.plan, corrected, Some(breaks));
        match self.bench.lay_out_book(&as_printed, BreaksPolicy::All) {
            Err(faults) => {
                let why = format!("{}, {kind}: {}", self.text.name, told(&faults));
                if faults.iter().any(|fault| fault.word == "passed") {
                    assert!(
                        !printed.iter().all(free),
                        "no passed panel is concerned: {why}"
                    );
                    return;
                }
                // All that is left are passed panels that leave no room for what was added between them.
                assert_eq!(faults[0].word, "no-way", "{why}");
                let prepared = self
                    .bench
                    .prepare_book(&texts(&self.plan, corrected, None), BreaksPolicy::All);
                let prepared = prepared.expect("it was laid out");
                let as_they_are = printed.iter().filter(|panel| {
                    span(panel)
                        .is_none_or(|own| changed.start >= own.end || own.start >= changed.end)
                });
                let as_they_are: Vec<PanelName> = as_they_are.map(|panel| panel.panel).collect();
                let carried = all_carried(before);
                let way = least::fewest_touched(&prepared, &carried, &as_they_are, usize::MAX);
                assert_eq!(way, None, "there is a way: {why}");
            }
            Ok(after) => {
                let (then, now) = (bytes(before), bytes(&after));
                for panel in printed.iter().filter(|panel| free(panel)) {
                    let name = outputs::layer_name(panel.panel, self.per_side(panel.panel));
                    let (then, now) = (then.get(&name), now.get(&name));
                    assert!(
                        then.is_some() && then == now,
                        "{}, {kind}: {name} has changed",
                        self.text.name
                    );
                }
            }
        }
    }
}

fn texts(plan: &str, manuscript: &str, breaks: Option<&str>) -> BookTexts {
    BookTexts {
        plan: Source::new("concertina.toml", plan),
        manuscript: Source::new("book.txt", manuscript),
        breaks: breaks.map(|text| Source::new("breaks.toml", text)),
    }
}

/// Every correction of every text of a folder.
fn rows(folder: &Path, excerpts: bool) -> Vec<Row> {
    let mut rows = Vec::new();
    for text in TEXTS {
        let Some(path) = text.in_folder(folder) else {
            panic!("no {} in {}", text.file, folder.display());
        };
        let mut kept = Kept::new(text, &path);
        for correction in text.corrections {
            // The excerpts leave out what stands between some of their stanzas.
            match kept.manuscript.matches(correction.1).count() {
                0 if !excerpts => println!("{}, {}: not there", text.name, correction.0),
                _ => rows.push(kept.correct(correction)),
            }
        }
    }
    rows
}

fn table(rows: &[Row]) -> String {
    let mut table = format!(
        "{:<9} {:<42} {:>7} {:>5} {:>5}\n",
        "text", "correction", "touched", "moved", "least"
    );
    for row in rows {
        table.push_str(&format!(
            "{:<9} {:<42} {:>7} {:>5} {:>5}\n",
            row.text, row.kind, row.touched, row.moved, row.least
        ));
    }
    let sum = |of: fn(&Row) -> usize| rows.iter().map(of).sum::<usize>();
    table.push_str(&format!(
        "{:<9} {:<42} {:>7} {:>5} {:>5}\n",
        "all",
        "",
        sum(|row| row.touched),
        sum(|row| row.moved),
        sum(|row| row.least)
    ));
    table
}

/// No correction touches more panels than it must.
fn assert_least(rows: &[Row], table: &str) {
    let more = rows.iter().filter(|row| row.touched != row.least);
    let more: Vec<&str> = more.map(|row| row.kind).collect();
    assert!(
        more.is_empty(),
        "{table}touch more than they must: {more:?}"
    );
}

#[test]
fn the_table_of_corrections_is_as_it_was() {
    let root = Path::new(env!("CARGO_MANIFEST_DIR"));
    let rows = rows(&root.join("tests/texts"), true);
    let table = table(&rows);
    println!("{table}");
    let golden = root.join("tests/corrections/texts.txt");
    let differs = golden::differs(&golden, &table);
    assert_least(&rows, &table);
    assert_eq!(differs, None);
}

#[test]
fn the_table_of_whole_texts_touches_no_more_than_it_must() {
    let Some(folder) = std::env::var_os("VERSEFOLD_TEXTS") else {
        println!("VERSEFOLD_TEXTS names no folder: only the excerpts are corrected");
        return;
    };
    let rows = rows(Path::new(&folder), false);
    let table = table(&rows);
    println!("{table}");
    assert_least(&rows, &table);
}
