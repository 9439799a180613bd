//! What a `layout.json` tells of a layout, as far as two are compared by it.

use std::collections::HashSet;

use serde::{Deserialize, Deserializer, de};
use serde_json::error::Category;

use crate::json::FORMAT;
use crate::layout::{self, Age, LaidLine, Layout};
use crate::names::{Length, PanelName, Side};
use crate::outputs::WordsAs;
use crate::plan::DEFAULTS;

/// Which form a file has.
#[derive(Deserialize)]
struct Form {
    format: Option<u64>,
}

/// A layout as its `layout.json` has it.
#[derive(Clone, Debug, PartialEq, Eq, Deserialize)]
pub struct Record {
    /// `text` or `paths`; nothing where no layers are made.
    pub(super) words_as: Option<String>,
    /// The edition of what held unless the plan said otherwise; the first told none.
    #[serde(default = "first_edition")]
    pub defaults: u64,
    pub(super) panels: Vec<Panel>,
}

fn first_edition() -> u64 {
    1
}

/// A panel. Lengths are in ten-thousandths of a millimetre.
#[derive(Clone, Debug, PartialEq, Eq, Deserialize)]
#[serde(from = "PanelWritten")]
pub(super) struct Panel {
    pub name: PanelName,
    pub size: (Fine, Fine),
    /// The fingerprint of what its layer shows; nothing where another version of the program made it.
    pub shown: Option<String>,
    /// Whether it is passed for press.
    pub passed: bool,
    pub lines: Vec<Line>,
}

#[derive(Deserialize)]
struct PanelWritten {
    #[serde(rename = "panel", deserialize_with = "name")]
    name: PanelName,
    width_mm: Fine,
    height_mm: Fine,
    shown: String,
    #[serde(default)]
    passed: bool,
    lines: Vec<LineWritten>,
}

/// A line, as it is compared.
#[derive(Clone, Debug, Eq)]
pub(super) struct Line {
    /// The words that it shows, with those that are wholly added.
    pub text: String,
    /// What was added behind them: a hyphen.
    pub hyphen: Option<String>,
    pub at: (Fine, Fine),
    pub width: Fine,
    /// In ten-thousandths of a point.
    pub size: Fine,
    pub turnover: bool,
    /// The bytes of the manuscript where it begins and ends.
    pub bytes: Option<(usize, usize)>,
}

#[derive(Deserialize)]
struct LineWritten {
    part: Option<String>,
    text: String,
    x_mm: Fine,
    baseline_mm: Fine,
    width_mm: Fine,
    size_pt: Fine,
    turnover: bool,
    added: Option<String>,
    sources: Vec<(usize, usize)>,
}

/// Where a line comes from in the manuscript is no part of what it is.
impl PartialEq for Line {
    fn eq(&self, other: &Line) -> bool {
        let compared = |line: &Line| (line.at, line.size);
        compared(self) == compared(other)
            && (&self.text, &self.hyphen) == (&other.text, &other.hyphen)
    }
}

impl From<LineWritten> for Line {
    fn from(line: LineWritten) -> Line {
        let (text, hyphen) = match line.part {
            Some(_) => (line.text, line.added),
            None => (line.added.unwrap_or_default(), None),
        };
        let first = line.sources.first().map(|first| first.0);
        Line {
            text,
            hyphen,
            at: (line.x_mm, line.baseline_mm),
            width: line.width_mm,
            size: line.size_pt,
            turnover: line.turnover,
            bytes: first.zip(line.sources.last().map(|last| last.1)),
        }
    }
}

impl From<&LaidLine> for Line {
    fn from(line: &LaidLine) -> Line {
        let first = line.sources.first().map(|first| first.0);
        Line {
            text: line.text.clone(),
            hyphen: line.part.as_ref().and(line.added.clone()),
            at: (Fine::mm(line.x), Fine::mm(line.baseline)),
            width: Fine::mm(line.width),
            size: Fine::from(line.size.as_pt()),
            turnover: line.turnover,
            bytes: first.zip(line.sources.last().map(|last| last.1)),
        }
    }
}

impl From<PanelWritten> for Panel {
    fn from(panel: PanelWritten) -> Panel {
        Panel {
            name: panel.name,
            size: (panel.width_mm, panel.height_mm),
            shown: Some(panel.shown).filter(|shown| layout::age(shown) == Age::Ours),
            passed: panel.passed,
            lines: panel.lines.into_iter().map(Line::from).collect(),
        }
    }
}

impl Panel {
    /// A panel of the same name without anything.
    pub(super) fn nothing(panel: &Panel) -> Panel {
        Panel {
            lines: Vec::new(),
            ..panel.clone()
        }
    }

    /// Whether its layer shows the same. Where an older version of the program told of one of them, that is asked of the
    /// page and of the lines, as far as both have them: another face makes lines wider or narrower.
    pub(super) fn shows_the_same(&self, later: &Panel) -> bool {
        let widths = |panel: &Panel| -> Vec<Fine> {
            let lines = panel.lines.iter();
            lines.map(|line| line.width).collect()
        };
        match (&self.shown, &later.shown) {
            (Some(shown), Some(later)) => shown == later,
            _ => {
                (self.size, &self.lines) == (later.size, &later.lines)
                    && widths(self) == widths(later)
            }
        }
    }

    /// How far a line stands at most from where it stood, across or down, where the lines are the same.
    pub(super) fn shift(&self, later: &Panel) -> Option<Length> {
        let pairs = || self.lines.iter().zip(&later.lines);
        let alike =
            |(one, other): (&Line, &Line)| (&one.text, one.size) == (&other.text, other.size);
        let same = self.size == later.size && self.lines.len() == later.lines.len();
        let far = |(one, other): (&Line, &Line)| {
            let across = one.at.0.0.abs_diff(other.at.0.0);
            across.max(one.at.1.0.abs_diff(other.at.1.0))
        };
        let farthest = pairs()
            .map(far)
            .max()
            .filter(|_| same && pairs().all(alike))?;
        i64::try_from(farthest).ok().map(Fine::length)
    }
}

/// Ten-thousandths of what the file has: so finely it is written.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Deserialize)]
#[serde(from = "f64")]
pub(super) struct Fine(i64);

impl Fine {
    fn mm(length: Length) -> Fine {
        Fine::from(length.as_mm())
    }

    fn length(fine: i64) -> Length {
        Length::mm(1).scaled(fine, 10_000)
    }
}

impl From<f64> for Fine {
    fn from(number: f64) -> Fine {
        Fine((number * 10_000.0).round() as i64)
    }
}

fn name<'de, D: Deserializer<'de>>(reader: D) -> Result<PanelName, D::Error> {
    let name = String::deserialize(reader)?;
    name.parse().map_err(de::Error::custom)
}

/// Why a text is no record.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct RecordError {
    /// What is wrong with it: a clause that begins with "it".
    pub what: String,
}

impl RecordError {
    /// What the reader of JSON says of a text.
    fn of(error: &serde_json::Error, text: &str) -> RecordError {
        let place = format!("line {}, column {}", error.line(), error.column());
        // Within a word such as `null` the end of the text is one more letter that does not fit.
        let last = text.lines().last().map_or(0, str::len);
        let at_end = error.line() >= text.lines().count() && error.column() >= last;
        let what = match error.classify() {
            Category::Syntax if at_end && last > 0 && text.trim_start().starts_with('{') => {
                format!("it is cut short after {place}")
            }
            Category::Eof => format!("it is cut short after {place}"),
            Category::Data => format!("it is not written as this program writes layouts ({error})"),
            Category::Syntax | Category::Io => format!("it is damaged at {place}, or no JSON"),
        };
        RecordError { what }
    }
}

impl Record {
    /// Reads the text of a `layout.json`.
    ///
    /// # Errors
    /// Text that is no JSON, not that of a layout, of a newer form, or that names a panel twice.
    pub fn read(text: &str) -> Result<Record, RecordError> {
        // A newer form may lack what this one has, so that is asked first. The first form told no number.
        let unread = |error| RecordError::of(&error, text);
        let form: Form = serde_json::from_str(text).map_err(unread)?;
        if form.format == Some(0) {
            let what = "it has a `format` that no version of the program writes".to_string();
            return Err(RecordError { what });
        }
        if let Some(newer) = form.format.filter(|format| *format > FORMAT) {
            let what = format!(
                "it is of format {newer}, which a newer version of the program wrote, and this one reads format \
                 {FORMAT}: use that version, or make the layers anew with this one"
            );
            return Err(RecordError { what });
        }
        let record: Record = serde_json::from_str(text).map_err(unread)?;
        let mut met = HashSet::new();
        match record.panels.iter().find(|panel| !met.insert(panel.name)) {
            Some(twice) => Err(RecordError {
                what: format!("it has {} twice", twice.name),
            }),
            None => Ok(record),
        }
    }

    /// The record of a layout; `words_as` tells how layers that are made of it hold their words, nothing where
    /// none are made.
    pub fn of(layout: &Layout, words_as: Option<WordsAs>) -> Record {
        let panels = layout.panels.iter().zip(layout::shown(layout));
        let panels = panels.map(|(panel, shown)| Panel {
            name: panel.panel,
            size: (Fine::mm(panel.size.0), Fine::mm(panel.size.1)),
            shown: Some(shown),
            passed: panel.passed,
            lines: panel.lines.iter().map(Line::from).collect(),
        });
        Record {
            words_as: words_as.map(|words_as| words_as.word().to_string()),
            defaults: DEFAULTS,
            panels: panels.collect(),
        }
    }

    /// Whether another version of the program told what its layers show, so that only its lines can be compared.
    pub(super) fn has_lines_alone(&self) -> bool {
        self.panels.iter().any(|panel| panel.shown.is_none())
    }

    pub(super) fn panel(&self, name: PanelName) -> Option<&Panel> {
        self.panels.iter().find(|panel| panel.name == name)
    }

    /// The panels of a side.
    pub(super) fn side(&self, side: Side) -> Vec<&Panel> {
        let panels = self.panels.iter();
        panels.filter(|panel| panel.name.side == side).collect()
    }
}
