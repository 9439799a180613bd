//! A book whose layers were made, read back from its folder, and what must be true of every such book.

use std::collections::BTreeMap;
use std::fs;
use std::path::Path;

use serde_json::Value;
use versefold::names::SetAs;
use versefold::readback::{self, FontSeen, ReadBack, folded};
use versefold::text::{Manuscript, has_readings};

use crate::support::{manuscript_of, tree};

/// What `layers` wrote.
pub struct WrittenBook {
    /// The manuscript, byte for byte.
    manuscript: String,
    /// Whether it is prose, and its language.
    prose: bool,
    language: String,
    /// The plan's bleed in millimetres.
    bleed: f64,
    layout: Value,
    /// Every file, by its name below the folder.
    files: Vec<String>,
    /// The layers, by their names in `layers/`.
    pub layers: BTreeMap<String, ReadBack>,
}

impl WrittenBook {
    /// Reads what was written into `folder` of a book.
    pub fn read(book: &Path, folder: &str) -> WrittenBook {
        let plan = fs::read_to_string(book.join("concertina.toml")).expect("a plan");
        let plan: toml::Table = toml::from_str(&plan).expect("TOML");
        let bleed = plan["paper"].get("bleed").and_then(toml::Value::as_str);
        let bleed = bleed.map_or("3", |bleed| bleed.trim_end_matches(" mm"));
        let tree = tree(&book.join(folder));
        let bytes = |name: &str| tree[name].as_deref().expect("a file");
        let layers = tree.keys().filter_map(|name| name.strip_prefix("layers/"));
        WrittenBook {
            manuscript: fs::read_to_string(book.join(manuscript_of(book))).expect("UTF-8"),
            prose: plan
                .get("text")
                .and_then(|text| text.get("set-as")?.as_str())
                == Some("prose"),
            language: plan
                .get("language")
                .and_then(toml::Value::as_str)
                .unwrap_or("en-GB")
                .to_string(),
            bleed: bleed.parse().expect("a bleed in millimetres"),
            layout: serde_json::from_slice(bytes("layout.json")).expect("JSON"),
            layers: layers
                .map(|name| {
                    let read = readback::words(bytes(&format!("layers/{name}")));
                    (
                        name.to_string(),
                        read.unwrap_or_else(|e| panic!("{name}: {e}")),
                    )
                })
                .collect(),
            files: tree.into_keys().collect(),
        }
    }

    pub fn check_all(&self) {
        self.check_names();
        self.check_sources();
        for (name, layer) in &self.layers {
            self.check_pages(name, layer);
            self.check_boxes(name, layer);
            check_fonts(name, &layer.fonts);
            check_levels(name, layer);
            assert_eq!(layer.language.as_deref(), self.layout["language"].as_str());
        }
    }

    fn panels(&self) -> &[Value] {
        self.layout["panels"].as_array().expect("panels")
    }

    /// The panels that a layer shows: of `front.pdf` all, of `front-02.pdf` the second.
    fn panels_of(&self, name: &str) -> Vec<&Value> {
        let (side, number) = match name.trim_end_matches(".pdf").split_once('-') {
            Some((side, number)) => (side, Some(number.parse::<u32>().expect("a number"))),
            None => (name.trim_end_matches(".pdf"), None),
        };
        let wanted = number.map(|number| format!("{side} {number}"));
        let panels = self.panels().iter().filter(|panel| {
            let name = panel["panel"].as_str().expect("a name");
            match &wanted {
                Some(wanted) => name == wanted,
                None => name.split(' ').next() == Some(side),
            }
        });
        panels.collect()
    }

    /// A layer for each panel with words and one for each side, in names that sort in reading order.
    fn check_names(&self) {
        let mut wanted: Vec<String> = [
            "contact-sheet.pdf",
            "layers",
            "layout.json",
            "manifest.json",
        ]
        .map(String::from)
        .into();
        for panel in self.panels() {
            let name = panel["panel"].as_str().expect("a name");
            let (side, number) = name.split_once(' ').expect("a side and a number");
            let of_side = self.panels_of(side).len();
            let digits = of_side.to_string().len().max(2);
            wanted.push(format!("layers/{side}.pdf"));
            if !lines(panel).is_empty() {
                wanted.push(format!("layers/{side}-{number:0>digits$}.pdf"));
            }
        }
        wanted.sort();
        wanted.dedup();
        let visible = self.files.iter().filter(|name| !name.starts_with('.'));
        assert_eq!(visible.cloned().collect::<Vec<_>>(), wanted);
    }

    /// The lines' sources are the manuscript's words, each byte once and in order.
    fn check_sources(&self) {
        let source = versefold::names::Source::new("manuscript", self.manuscript.as_str());
        let set_as = if self.prose {
            SetAs::Prose
        } else {
            SetAs::Verse
        };
        let read = Manuscript::read_as(&source, set_as, |_| has_readings(&self.language));
        let read = read.expect("a sound manuscript");
        let words: Vec<usize> = read.word_ranges().flatten().collect();
        let lines = self.panels().iter().flat_map(lines);
        let set = lines.flat_map(sources).flat_map(|(from, to)| from..to);
        assert!(set.eq(words), "the sources do not tile the words");
    }

    /// The MediaBox is the trimmed panel with its bleed all round.
    fn check_boxes(&self, name: &str, layer: &ReadBack) {
        let points = |mm: f64| mm * 72.0 / 25.4;
        let (panel, bleed) = (&self.panels()[0], self.bleed);
        let side = |key: &str| panel[key].as_f64().expect("a length");
        let (width, height) = (side("width_mm"), side("height_mm"));
        let media = [0.0, 0.0, width + 2.0 * bleed, height + 2.0 * bleed].map(points);
        let trim = [bleed, bleed, bleed + width, bleed + height].map(points);
        for page in &layer.pages {
            for (found, wanted) in [
                (Some(page.media_box), media),
                (page.bleed_box, media),
                (page.trim_box, trim),
            ] {
                let found = found.unwrap_or_else(|| panic!("{name} lacks a box"));
                let near = found.iter().zip(wanted).all(|(a, b)| (a - b).abs() < 0.001);
                assert!(near, "{name}: {found:?} is not {wanted:?}");
            }
        }
    }

    /// Each page says the lines of its panel, in order.
    fn check_pages(&self, name: &str, layer: &ReadBack) {
        let panels = self.panels_of(name);
        assert_eq!(layer.pages.len(), panels.len(), "{name}");
        for (page, panel) in layer.pages.iter().zip(panels) {
            let said: Vec<String> = page.lines.iter().map(|line| folded(&line.text)).collect();
            let laid: Vec<String> = groups(&said, lines(panel))
                .into_iter()
                .map(joined)
                .collect();
            assert_eq!(said, laid, "{name}: {}", panel["panel"]);
        }
    }

    /// The client's words as they read back from the two sides, each word whole.
    pub fn words(&self) -> Vec<String> {
        let mut text = String::new();
        let mut last = None;
        for name in ["front.pdf", "back.pdf"] {
            let Some(layer) = self.layers.get(name) else {
                continue;
            };
            for (page, panel) in layer.pages.iter().zip(self.panels_of(name)) {
                let folded: Vec<String> =
                    page.lines.iter().map(|line| folded(&line.text)).collect();
                for (said, group) in page.lines.iter().zip(groups(&folded, lines(panel))) {
                    let sources: Vec<_> = group.iter().flat_map(sources).collect();
                    let (Some(first), Some(end)) = (sources.first(), sources.last()) else {
                        continue;
                    };
                    // A line may end inside a word, at a dash or where nothing else would fit.
                    if last != Some(first.0) {
                        text.push('\n');
                    }
                    text.push_str(&said.text);
                    last = Some(end.1);
                }
            }
        }
        words(&text)
    }
}

/// Words without what has no shape of its own.
pub fn words(text: &str) -> Vec<String> {
    folded(text).split(' ').map(String::from).collect()
}

/// The words of an example's manuscript, its mark-up taken out by hand.
pub fn words_without_mark_up(book: &Path) -> Vec<String> {
    let text = fs::read_to_string(book.join(manuscript_of(book))).expect("a manuscript");
    let lines = text.lines().filter(|line| !line.starts_with('['));
    let bare = lines.map(|line| match line {
        "* * *" => line.to_string(),
        _ => line
            .trim_start_matches("##")
            .trim_start_matches('#')
            .trim_start_matches(">>")
            .replace('*', ""),
    });
    words(&bare.collect::<Vec<_>>().join("\n"))
}

fn lines(panel: &Value) -> &[Value] {
    panel["lines"].as_array().expect("lines")
}

/// What a line shows: its words, or what was added in their place.
fn shown(line: &Value) -> &str {
    let wholly_added = line["part"].is_null();
    let key = if wholly_added { "added" } else { "text" };
    line[key].as_str().expect("words")
}

/// The laid lines that each text is said for: a verse line is one by itself, of a paragraph all are one. What is
/// left over stands in a group of its own.
fn groups<'a>(said: &[String], mut laid: &'a [Value]) -> Vec<&'a [Value]> {
    let mut groups = Vec::new();
    for text in said {
        let fits = |count: &usize| joined(&laid[..*count]) == *text;
        let count = (1..=laid.len()).find(fits).unwrap_or(laid.len());
        let (group, rest) = laid.split_at(count);
        groups.push(group);
        laid = rest;
    }
    groups.extend((!laid.is_empty()).then_some(laid));
    groups
}

/// What lines show together: apart, unless they stand side by side in the manuscript.
fn joined(lines: &[Value]) -> String {
    let mut text = String::new();
    let mut last = None;
    for line in lines {
        let sources = sources(line);
        if last.is_some() && last != sources.first().map(|first| first.0) {
            text.push(' ');
        }
        text.push_str(shown(line));
        last = sources.last().map(|last| last.1);
    }
    folded(&text)
}

fn sources(line: &Value) -> Vec<(usize, usize)> {
    serde_json::from_value(line["sources"].clone()).expect("pairs of numbers")
}

fn check_fonts(name: &str, fonts: &[FontSeen]) {
    for font in fonts {
        assert!(font.embedded && font.subset, "{name}: {font:?}");
    }
}

/// The first heading of a file is an H1, and none is more than one level below the one before it.
fn check_levels(name: &str, layer: &ReadBack) {
    let lines = layer.pages.iter().flat_map(|page| &page.lines);
    let roles = lines.filter_map(|line| line.structure.last());
    let levels = roles.filter_map(|role| role.strip_prefix('H'));
    let mut above = 0;
    for level in levels {
        let level: u32 = level.parse().expect("a level");
        assert!(level <= above + 1, "{name}: H{level} below H{above}");
        above = level;
    }
}
