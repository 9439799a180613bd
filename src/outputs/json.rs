//! `layout.json`: the layout for other programs, and the record of what was done.

use std::collections::BTreeMap;

use serde::{Serialize, Serializer};
use serde_json::Value as Json;

use super::WordsAs;
use crate::json::{self, Defs, Figure, Format, Value as _, records};
use crate::layout::{LaidLine, LaidPanel, Layout, shown};
use crate::names::{Length, PanelName, Side};
use crate::paper::Strip;
use crate::plan::DEFAULTS;
use crate::typeface::Face;

records! {
    /// A book, laid out. Lengths are measured from the panel's top-left corner unless something else is said, in
    /// millimetres where the key ends in `_mm`, in points of 1/72 inch where it ends in `_pt`. Figures have four
    /// decimals.
    pub struct LayoutRecord<'l> {
        /// The number of the form that this record has.
        format: Format,
        /// The edition of what held unless the plan said otherwise.
        defaults: u64,
        /// The book's title.
        title: String,
        /// The book's language, as a BCP 47 tag.
        language: String,
        /// How the layers beside it hold their words: `text`, or `paths`. Null where no layers are made.
        words_as: Option<&'static str>,
        /// What the division costs under the author's rules.
        cost: u64,
        /// Whether no other division costs less.
        proved: bool,
        /// What no division can cost less than: the cost itself where that is proved.
        bound: u64,
        /// The rules that gave way of themselves, for not every one could be kept.
        gave_way: Vec<GaveWayRecord>,
        /// The font files that the words are set in, in the order in which they are met.
        faces: Vec<FaceRecord>,
        /// Every panel that is printed, front then back.
        panels: PanelRecords<'l>,
        /// The strip of paper.
        strip: StripRecord,
    }

    /// A rule that gave way.
    pub struct GaveWayRecord {
        /// The part in which it did.
        part: String,
        /// The rule, as the plan calls it.
        rule: &'static str,
    }

    /// A font file.
    pub struct FaceRecord {
        /// The PostScript name that it gives itself.
        name: String,
        /// Its SHA-256 checksum, by which one file is told from another of that name; of an installed collection, that of the face alone.
        sha256: String,
    }

    /// A panel.
    pub struct PanelRecord {
        /// Its name: `front 1`, or `back 1`, and so on.
        panel: String,
        /// What it carries: `title`, `text`, `picture`, `shared`, `blank` or `paste-down`.
        role: &'static str,
        /// Its picture. Null where it has none.
        picture: Option<String>,
        /// All the panels that this picture stands on, in order. Null where there is no picture.
        picture_panels: Option<Vec<String>>,
        /// Whether it is passed for press.
        passed: bool,
        /// How wide the panel is.
        width_mm: Figure,
        /// How high it is.
        height_mm: Figure,
        /// Which way its lines run: `across`, or `down` and from right to left. Null where it has none.
        lines_run: Option<&'static str>,
        /// Where words may stand: one area between margins, or those of a shape. None where no words stand.
        text_areas: Vec<RectangleRecord>,
        /// The share of the text area's depth that the words take. Null where no words stand.
        fullness: Option<Figure>,
        /// What each rule costs here, by the name that the plan calls it by; those that cost nothing are left out.
        costs: BTreeMap<&'static str, u64>,
        /// Its lines, from the head down.
        lines: Vec<LineRecord>,
        /// A fingerprint of what its layer shows, which begins with the number of its own form. While it stays, a layer
        /// that was placed need not be replaced.
        shown: String,
    }

    /// A rectangle on a panel.
    pub struct RectangleRecord {
        /// Its left edge.
        x_mm: Figure,
        /// Its top.
        y_mm: Figure,
        /// How wide it is.
        width_mm: Figure,
        /// How high it is.
        height_mm: Figure,
    }

    /// A line of words. Of one that runs down `x_mm` is how far from the panel's top edge it begins, and `baseline_mm` how
    /// far its baseline lies from the right edge.
    pub struct LineRecord {
        /// The part it belongs to. Null for a line that is wholly added, such as the plan's title.
        part: Option<String>,
        /// The words of the manuscript, without mark-up; empty where the line is wholly added.
        text: String,
        /// Where it begins.
        x_mm: Figure,
        /// Its baseline.
        baseline_mm: Figure,
        /// How wide it is.
        width_mm: Figure,
        /// The measure it was set to.
        measure_mm: Figure,
        /// The type size of its plain words.
        size_pt: Figure,
        /// Whether it was turned over: the rest of a verse line that is wider than the measure.
        turnover: bool,
        /// What the setter added: the hyphen at the line's end, or all words of a line that is wholly added. Null where
        /// nothing is.
        added: Option<String>,
        /// The bytes of the manuscript that are its words, each stretch from its first byte to the one behind it.
        sources: Vec<[usize; 2]>,
    }

    /// The strip of paper, unfolded. Places are measured from its left edge as seen from the front.
    pub struct StripRecord {
        /// How long it is.
        length_mm: Figure,
        /// How high it is.
        height_mm: Figure,
        /// Its folds, from the left.
        folds: Vec<FoldRecord>,
        /// The panels that are seen together when a side is leafed through.
        spreads: Vec<[String; 2]>,
        /// The panels on the outside of the closed book.
        outside: Vec<String>,
        /// Each front panel with the back panel that lies behind it.
        behind: Vec<[String; 2]>,
    }

    /// A fold.
    pub struct FoldRecord {
        /// The front panel that it follows as the front is read.
        after: String,
        /// Where it lies.
        from_left_mm: Figure,
        /// `valley` or `mountain`, as seen from the front.
        fold: &'static str,
    }
}

/// The records of a layout's panels, each made when it is written and then forgotten: those of a whole book are many times
/// as large as its words.
/// The fingerprints of what is shown are made with them unless they are known.
#[derive(Clone, Copy, Debug)]
pub struct PanelRecords<'l>(&'l Layout, Option<&'l [String]>);

impl Serialize for PanelRecords<'_> {
    fn serialize<S: Serializer>(&self, to: S) -> Result<S::Ok, S::Error> {
        let shown = match self.1 {
            Some(known) => known.to_vec(),
            None => shown(self.0),
        };
        let panels = self.0.panels.iter().zip(shown);
        to.collect_seq(panels.map(|(laid, shown)| panel(laid, shown)))
    }
}

impl json::Value for PanelRecords<'_> {
    fn schema(defs: &mut Defs) -> Json {
        Vec::<PanelRecord>::schema(defs)
    }
}

/// The layout as indented JSON with a line end, and how the layers beside it hold their words.
pub fn json(layout: &Layout, words_as: WordsAs) -> Vec<u8> {
    json_of(layout, words_as, &shown(layout))
}

/// The same, of a layout whose panels have these fingerprints.
pub(crate) fn json_of(layout: &Layout, words_as: WordsAs, shown: &[String]) -> Vec<u8> {
    let record = LayoutRecord {
        words_as: Some(words_as.word()),
        panels: PanelRecords(layout, Some(shown)),
        ..layout_record(layout)
    };
    json::text(&record).into_bytes()
}

/// The JSON Schema of `layout.json`.
pub fn layout_schema() -> Json {
    let about = "The layout of a concertina book as `versefold layers` writes it.";
    json::schema("layout.json", about, LayoutRecord::schema)
}

fn faces(layout: &Layout) -> Vec<FaceRecord> {
    let lines = layout.panels.iter().flat_map(|panel| &panel.lines);
    let mut met: Vec<&Face> = Vec::new();
    for run in lines.flat_map(|line| &line.runs) {
        if !met.iter().any(|face| face.id() == run.face.id()) {
            met.push(&run.face);
        }
    }
    let record = |face: &Face| FaceRecord {
        name: face.name().to_string(),
        sha256: face
            .checksum()
            .iter()
            .map(|byte| format!("{byte:02x}"))
            .collect(),
    };
    met.into_iter().map(record).collect()
}

/// The record of a layout of which no layers are made.
pub fn layout_record(layout: &Layout) -> LayoutRecord<'_> {
    let gave_way = layout.gave_way.iter().map(|(part, rule)| GaveWayRecord {
        part: part.clone(),
        rule: rule.word(),
    });
    LayoutRecord {
        format: Format,
        defaults: DEFAULTS,
        title: layout.title.clone(),
        language: layout.language.clone(),
        words_as: None,
        cost: layout.cost,
        proved: layout.proved,
        bound: layout.bound,
        gave_way: gave_way.collect(),
        faces: faces(layout),
        panels: PanelRecords(layout, None),
        strip: strip(&layout.strip),
    }
}

fn panel(panel: &LaidPanel, shown: String) -> PanelRecord {
    let of_shape = panel.shape.iter();
    let lines_run = panel.lines_run();
    let rectangle = |corner, size| {
        let (corner, size) = lines_run.rectangle(corner, size, panel.size.0);
        rectangle(corner, size)
    };
    let of_shape = of_shape.map(|one| rectangle((one.left, one.top), (one.width, one.height)));
    let ordinary = panel.area.iter().filter(|_| panel.shape.is_empty());
    let ordinary = ordinary.map(|area| rectangle((area.left, area.top), (area.width, area.height)));
    let costs = panel.costs.iter().map(|(rule, cost)| (rule.word(), *cost));
    PanelRecord {
        panel: panel.panel.to_string(),
        role: panel.role.word(),
        picture: panel.picture.clone(),
        picture_panels: panel.picture.as_ref().map(|_| names(&panel.picture_panels)),
        passed: panel.passed,
        width_mm: Figure::mm(panel.size.0),
        height_mm: Figure::mm(panel.size.1),
        lines_run: (!panel.lines.is_empty()).then(|| lines_run.word()),
        text_areas: of_shape.chain(ordinary).collect(),
        fullness: panel.share().map(Figure::of),
        costs: costs.collect(),
        lines: panel.lines.iter().map(line).collect(),
        shown,
    }
}

fn rectangle((left, top): (Length, Length), (width, height): (Length, Length)) -> RectangleRecord {
    RectangleRecord {
        x_mm: Figure::mm(left),
        y_mm: Figure::mm(top),
        width_mm: Figure::mm(width),
        height_mm: Figure::mm(height),
    }
}

fn names(panels: &[PanelName]) -> Vec<String> {
    panels.iter().map(ToString::to_string).collect()
}

fn line(line: &LaidLine) -> LineRecord {
    let own_words = line.part.as_ref().map(|_| line.text.clone());
    LineRecord {
        part: line.part.clone(),
        text: own_words.unwrap_or_default(),
        x_mm: Figure::mm(line.x),
        baseline_mm: Figure::mm(line.baseline),
        width_mm: Figure::mm(line.width),
        measure_mm: Figure::mm(line.measure),
        size_pt: Figure::pt(line.size),
        turnover: line.turnover,
        added: line.added.clone(),
        sources: line.sources.iter().map(|&(from, to)| [from, to]).collect(),
    }
}

fn strip(strip: &Strip) -> StripRecord {
    let pair = |(one, other): (PanelName, PanelName)| [one, other].map(|name| name.to_string());
    let spreads = strip.sides().iter().flat_map(|side| strip.spreads(*side));
    let behind = strip.panels().filter_map(|panel| {
        let other = strip.behind(panel)?;
        let first = panel.side == Side::Front && strip.paper().panels.contains(other);
        first.then_some((panel, other))
    });
    let folds = strip.folds().iter().map(|fold| FoldRecord {
        after: fold.after.to_string(),
        from_left_mm: Figure::mm(fold.from_left),
        fold: fold.kind.word(),
    });
    StripRecord {
        length_mm: Figure::mm(strip.length()),
        height_mm: Figure::mm(strip.paper().panel_height),
        folds: folds.collect(),
        spreads: spreads.map(pair).collect(),
        outside: names(&strip.outside()),
        behind: behind.map(pair).collect(),
    }
}
