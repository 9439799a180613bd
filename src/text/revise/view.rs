//! A manuscript and a client's plain text in the same view: lines without callouts and mark-up, their words, and the
//! units that are compared, which are lines of verse and whole paragraphs.

use std::ops::Range;
use std::sync::Arc;

use super::super::callout::{self, Callout};
use super::super::scan::{PhysicalKind, PhysicalLine, line_end, scan};
use super::super::tile::Tiling;
use super::super::{BODY, Manuscript, Style, emphasis, readings};
use super::units::units;
use super::visible::VisibleText;
use crate::names::{Faults, Location, SetAs, Source};
use crate::text::alignment::pieces;

/// How lines are read at some place.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) struct Region {
    pub set_as: SetAs,
    /// Whether the part's language has readings.
    pub reads: bool,
}

/// A reading that the typesetter wrote: its base in bytes of the line's view.
#[derive(Clone, Debug)]
pub(super) struct BaseReading {
    pub base: Range<usize>,
    pub reading: String,
    /// Whether a sign shows where the base begins.
    pub barred: bool,
}

/// A physical line.
#[derive(Clone, Debug)]
pub(super) struct ViewLine {
    /// Its bytes without the line end.
    pub raw: Range<usize>,
    /// The bytes of its line end.
    pub end: Range<usize>,
    pub kind: PhysicalKind,
    pub stepped: bool,
    pub half_ems: usize,
    /// Its words and inner spaces, as the client would have written them.
    pub view: String,
    /// How each byte of the view is stressed.
    pub styles: Vec<Style>,
    pub readings: Vec<BaseReading>,
    pub words: Range<usize>,
    pub region: Region,
    pub content: Range<usize>,
}

impl ViewLine {
    pub(super) fn is_text(&self) -> bool {
        !matches!(self.kind, PhysicalKind::Blank | PhysicalKind::Callout)
    }

    /// Whether its indent says something.
    pub(super) fn is_indented(&self) -> bool {
        self.kind == PhysicalKind::Plain && !self.stepped && self.region.set_as == SetAs::Verse
    }
}

/// A word of a line, in bytes of its view.
#[derive(Clone, Debug)]
pub(super) struct ViewWord {
    pub line: usize,
    pub at: Range<usize>,
}

/// What is compared as a whole: a line of verse, or the lines that are one paragraph to the client.
#[derive(Clone, Debug)]
pub(super) struct TextUnit {
    /// Which lines hold its words.
    pub lines: Vec<usize>,
    pub words: Range<usize>,
    /// Its words, white space folded in prose. A unit whose key is another is changed.
    pub key: String,
    /// Its indent, where that says something.
    pub half_ems: Option<usize>,
    pub prose: bool,
}

/// A callout between the words.
#[derive(Clone, Debug)]
pub(super) struct ViewCallout {
    pub line: usize,
    /// How many words stand before it.
    pub at: usize,
    pub says: Callout,
}

/// A text as the client sees it.
pub(super) struct ClientView {
    pub source: Arc<Source>,
    pub lines: Vec<ViewLine>,
    pub words: Vec<ViewWord>,
    pub units: Vec<TextUnit>,
    pub calls: Vec<ViewCallout>,
}

impl ClientView {
    /// A manuscript. With `literal` the signs of readings count as the client's own words.
    ///
    /// # Errors
    /// As [`Manuscript::read_as`].
    pub(super) fn manuscript(
        source: &Arc<Source>,
        starts_as: SetAs,
        has_readings: &dyn Fn(&str) -> bool,
        literal: bool,
    ) -> Result<ClientView, Faults> {
        let read = Manuscript::read_as(source, starts_as, has_readings)?;
        let mut visible = VisibleText::of(&read, literal);
        let mut region = Region {
            set_as: starts_as,
            reads: has_readings(BODY),
        };
        let mut calls: Vec<(usize, Callout)> = Vec::new();
        let physical = scan(&source.text, &mut Tiling::default());
        let mut lines = Vec::with_capacity(physical.len());
        for (number, (physical, (raw, end))) in
            physical.into_iter().zip(borders(&source.text)).enumerate()
        {
            if physical.kind == PhysicalKind::Callout {
                let bytes = physical.content.clone();
                let place = Location::new(source, bytes.clone());
                let says = callout::read(&source.text[bytes], &place)?;
                match &says {
                    Callout::SetAs(kind) => region.set_as = *kind,
                    Callout::Part(name) => region.reads = has_readings(name),
                    _ => {}
                }
                calls.push((number, says));
            }
            lines.push(visible.line(&source.text, physical, raw, end, region));
        }
        let mut view = ClientView::of(source, lines);
        view.calls = calls
            .into_iter()
            .map(|(line, says)| ViewCallout {
                line,
                at: view.lines[line].words.start,
                says,
            })
            .collect();
        Ok(view)
    }

    /// A client's plain text; `region` tells how a line is read, by how many words stand before it.
    pub(super) fn plain(source: &Arc<Source>, region: impl Fn(usize) -> Region) -> ClientView {
        let text = &source.text;
        let mut words = 0;
        let lines = borders(text).map(|(raw, end)| {
            let line = text[raw.clone()].trim_start_matches('\u{feff}');
            let is_space = |c| c == ' ' || c == '\t';
            let view = line.trim_matches(is_space);
            let indent = &line[..line.len() - line.trim_start_matches(is_space).len()];
            let from = raw.end - line.len() + indent.len();
            let is_ornament =
                view.chars().all(|c| c == '*' || is_space(c)) && view.matches('*').count() >= 3;
            let kind = match view {
                "" => PhysicalKind::Blank,
                _ if is_ornament => PhysicalKind::Ornament,
                _ => PhysicalKind::Plain,
            };
            let own = region(words);
            words += words_of(view).len();
            ViewLine {
                content: from..from + view.len(),
                kind,
                stepped: false,
                half_ems: indent.bytes().map(|b| if b == b'\t' { 4 } else { 1 }).sum(),
                view: view.to_string(),
                styles: vec![Style::default(); view.len()],
                readings: Vec::new(),
                words: 0..0,
                region: own,
                raw,
                end,
            }
        });
        let lines = lines.collect();
        ClientView::of(source, lines)
    }

    fn of(source: &Arc<Source>, mut lines: Vec<ViewLine>) -> ClientView {
        let mut words = Vec::new();
        for (number, line) in lines.iter_mut().enumerate() {
            let from = words.len();
            if line.is_text() {
                let own = words_of(&line.view).into_iter();
                words.extend(own.map(|at| ViewWord { line: number, at }));
            }
            line.words = from..words.len();
        }
        ClientView {
            source: Arc::clone(source),
            units: units(&lines, false),
            lines,
            words,
            calls: Vec::new(),
        }
    }

    /// The units, where lines of verse that no blank line parts count as one unit too.
    pub(super) fn blocks(&self) -> Vec<TextUnit> {
        units(&self.lines, true)
    }

    pub(super) fn word(&self, word: usize) -> &str {
        let word = &self.words[word];
        &self.lines[word.line].view[word.at.clone()]
    }

    /// The physical lines between a unit and the one before it; also behind the last.
    pub(super) fn slot(&self, unit: usize) -> Range<usize> {
        let last = |unit: &TextUnit| unit.lines.last().map_or(0, |line| line + 1);
        let before = unit
            .checked_sub(1)
            .and_then(|before| self.units.get(before));
        let from = before.map_or(0, last);
        let first = self.units.get(unit).and_then(|unit| unit.lines.first());
        from..first.copied().unwrap_or(self.lines.len()).max(from)
    }

    /// The most blank lines that stand together in a slot, and all of them.
    pub(super) fn blanks(&self, slot: usize) -> (usize, usize) {
        let (mut most, mut run, mut all) = (0, 0, 0);
        for line in &self.lines[self.slot(slot)] {
            let blank = line.kind == PhysicalKind::Blank;
            run = if blank { run + 1 } else { 0 };
            all += usize::from(blank);
            most = most.max(run);
        }
        (most, all)
    }

    /// A line as it is written, without its line end and a byte-order mark.
    pub(super) fn raw(&self, line: usize) -> &str {
        self.source.text[self.lines[line].raw.clone()].trim_start_matches('\u{feff}')
    }

    /// Which unit a word is in.
    pub(super) fn unit_of(&self, word: usize) -> usize {
        self.units.partition_point(|unit| unit.words.end <= word)
    }

    /// Whether the mark-up of a unit means the same when it is read without the lines around it.
    pub(super) fn is_alone(&self, unit: &TextUnit) -> bool {
        let text = &self.source.text;
        let content = unit
            .lines
            .iter()
            .map(|&line| self.lines[line].content.clone());
        let ranges: Vec<Range<usize>> = content.collect();
        let signs = unit
            .lines
            .iter()
            .filter(|&&line| self.lines[line].region.reads);
        let reads = unit.lines.iter().any(|&line| self.lines[line].region.reads);
        let signs: Vec<Range<usize>> = signs
            .flat_map(|&line| readings::find(text, &self.lines[line].content).markup)
            .collect();
        let runs = emphasis::read(
            text,
            &ranges,
            reads.then_some(&signs),
            &mut Tiling::default(),
        );
        unit.lines.iter().zip(runs).all(|(&line, runs)| {
            let styles = runs
                .iter()
                .flat_map(|run| vec![run.style; run.to - run.from]);
            let styles: Vec<Style> = styles.collect();
            let own = &self.lines[line];
            own.kind == PhysicalKind::Ornament || !own.readings.is_empty() || styles == own.styles
        })
    }
}

/// A line of a manuscript read by itself: what it is, its view, and how each byte of the view is stressed. Nothing where
/// it is not one line, or has a reading that cannot be read.
pub(super) fn line_alone(written: &str, reads: bool) -> Option<(PhysicalLine, String, Vec<Style>)> {
    let mut lines = scan(written, &mut Tiling::default());
    let physical = lines.pop().filter(|_| lines.is_empty())?;
    let found = readings::find(written, &physical.content);
    if reads && !found.wrong.is_empty() {
        return None;
    }
    let content = [physical.content.clone()];
    let signs = reads.then_some(found.markup.as_slice());
    let runs = match physical.kind {
        PhysicalKind::Ornament => return Some((physical, written.trim().to_string(), Vec::new())),
        _ => emphasis::read(written, &content, signs, &mut Tiling::default()),
    };
    let (mut view, mut styles) = (String::new(), Vec::new());
    for run in runs.iter().flatten() {
        view.push_str(&written[run.from..run.to]);
        styles.extend(vec![run.style; run.to - run.from]);
    }
    Some((physical, view, styles))
}

/// The words of a line; one that is nothing but other white space is a word too.
fn words_of(view: &str) -> Vec<Range<usize>> {
    let mut found = pieces(view);
    if found.is_empty() && !view.is_empty() {
        found.push(0..view.len());
    }
    found
}

/// The bytes of each physical line and of its line end.
fn borders(text: &str) -> impl Iterator<Item = (Range<usize>, Range<usize>)> + '_ {
    // The scanner leaves a byte-order mark aside; a file of nothing else has no line.
    let mut at = match text.starts_with('\u{feff}') && text.len() == 3 {
        true => 3,
        false => 0,
    };
    std::iter::from_fn(move || {
        let from = at;
        (from < text.len()).then(|| {
            let (end, next) = line_end(text, from);
            at = next;
            (from..end, end..next)
        })
    })
}
