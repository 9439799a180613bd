//! Panels that are passed for press: every line stays where it is printed, but those whose own words were corrected.
//!
//! A corrected line of verse is set again by itself, a corrected paragraph from the first line on that has changed;
//! both must take as many lines as before, unless nothing stands below them. A line that is not corrected must have
//! the very glyphs that it is printed with ([`seal`]).

mod again;

use sha2::{Digest, Sha256};

use super::compose::OnPanel;
use super::{LaidLine, LaidPanel};
use crate::alignment::{Alignment, align, pieces};
use crate::breaks::{KeptLine, KeptPanel, bare, between, row_text};
use crate::fault::{Fault, Faults, Place};
use crate::plan::PanelName;
use crate::units::Length;

/// What tells a line's glyphs from all others, wherever they stand: their faces, sizes, numbers, advances and colour.
pub fn seal(line: &LaidLine) -> String {
    let mut hash = Sha256::new();
    let mut number = |number: i64| hash.update(number.to_le_bytes());
    for run in &line.runs {
        number(run.size.units());
        number((run.x - line.x).units());
        number((run.baseline - line.baseline).units());
        number(run.face.data().len() as i64);
        run.face
            .name()
            .bytes()
            .for_each(|byte| number(i64::from(byte)));
        for glyph in &run.glyphs {
            number(i64::from(glyph.id));
            for part in [glyph.advance, glyph.dx, glyph.dy] {
                number(i64::from(part));
            }
        }
    }
    hash.update(format!("{:?}", line.ink));
    let digest = hash.finalize();
    digest[..6]
        .iter()
        .map(|byte| format!("{byte:02x}"))
        .collect()
}

/// A line, moved to a place.
fn moved(mut line: LaidLine, left: Length, baseline: Length) -> LaidLine {
    let (right, down) = (left - line.x, baseline - line.baseline);
    for run in &mut line.runs {
        run.x += right;
        run.baseline += down;
    }
    (line.x, line.baseline) = (left, baseline);
    line
}

/// A panel of a part: its lines as they are printed; `laid` are those that would stand there otherwise.
pub(super) fn keep(
    on: &OnPanel<'_>,
    kept: &KeptPanel,
    laid: Vec<LaidLine>,
    faults: &mut Faults,
) -> Vec<LaidLine> {
    let manuscript = on.ready.manuscript;
    let now = between(manuscript, on.part, on.on.rows.clone());
    let now: Vec<Now<'_>> = now
        .into_iter()
        .map(|(row, bytes)| Now {
            row,
            text: bare(&row_text(manuscript, on.part, &on.part.rows[row])[bytes.clone()]),
            from: bytes.start,
        })
        .collect();
    let printed = printed(kept);
    let old = printed.iter().map(|row| words(row.text)).collect();
    let new = now.iter().map(|row| words(row.text)).collect();
    let found = align(&old, &new);
    let mut keeping = Keeping {
        on,
        kept,
        laid: &laid,
        lines: Vec::new(),
        faults: Vec::new(),
        sealed_otherwise: false,
    };
    keeping.rows(&printed, &now, &found);
    keeping.finish(faults)
}

fn words(text: &str) -> Vec<&str> {
    pieces(text).into_iter().map(|at| &text[at]).collect()
}

/// A panel whose only words are the program's own, the plan's title; or that has none.
pub(super) fn keep_added(kept: &KeptPanel, panel: &mut LaidPanel, faults: &mut Faults) {
    let printed = kept.passed.iter().flatten();
    let same = panel.lines.len() == printed.clone().count()
        && std::iter::zip(&panel.lines, printed.clone())
            .all(|(line, printed)| bare(&line.text) == printed.words && seal(line) == printed.seal);
    if !same {
        faults.push(otherwise(kept));
        return;
    }
    let lines = std::mem::take(&mut panel.lines).into_iter().zip(printed);
    let lines = lines.map(|(line, printed)| moved(line, printed.left, printed.baseline));
    panel.lines = lines.collect();
}

/// Lines would have other glyphs than those that are printed.
fn otherwise(kept: &KeptPanel) -> Fault {
    let what = format!(
        "{} is passed for press, and its words would be set otherwise than they are printed: the plan, or what now \
         stands before them, asks another title, typeface, size, colour or way of setting",
        kept.panel
    );
    fault_at(kept, what).help(format!(
        "take that change of the plan back, or release the panel: versefold pass --release \"{}\"",
        kept.panel
    ))
}

fn fault_at(kept: &KeptPanel, what: String) -> Fault {
    let fault = Fault::new("passed", what);
    match &kept.place {
        Some(place) => fault.at(place.clone()),
        None => fault,
    }
}

/// A row, or the part of a paragraph, that is printed on the panel.
struct Printed<'a> {
    text: &'a str,
    lines: &'a [KeptLine],
}

/// The same as the manuscript has it now.
struct Now<'a> {
    row: usize,
    text: &'a str,
    /// Where in the row's text it begins.
    from: usize,
}

/// The rows that are printed, each with its lines; room that is left empty has none.
fn printed(kept: &KeptPanel) -> Vec<Printed<'_>> {
    let mut lines = kept.passed.as_deref().unwrap_or_default();
    let rows = kept.words.lines().map(bare).filter(|line| !line.is_empty());
    let row = |text| {
        let stands = lines
            .first()
            .is_some_and(|first| str::starts_with(text, first.words.as_str()));
        let count = match lines {
            [_, rest @ ..] if stands => 1 + rest.iter().take_while(|line| line.goes_on).count(),
            _ => 0,
        };
        let (own, rest) = lines.split_at(count);
        lines = rest;
        Printed { text, lines: own }
    };
    rows.map(row).collect()
}

/// Puts the lines of a passed panel where they are printed.
struct Keeping<'a> {
    on: &'a OnPanel<'a>,
    kept: &'a KeptPanel,
    /// The lines as they would stand if the panel were not passed.
    laid: &'a [LaidLine],
    lines: Vec<LaidLine>,
    faults: Faults,
    /// Whether a line that is not corrected has other glyphs.
    sealed_otherwise: bool,
}

impl Keeping<'_> {
    fn rows(&mut self, printed: &[Printed<'_>], now: &[Now<'_>], found: &Alignment) {
        let last_pair = found.lines.last().copied();
        let is_last = |old: usize| last_pair.is_none_or(|(last, _)| old >= last);
        let mut pairs = found.lines.iter().copied().peekable();
        let (mut old, mut new) = (0, 0);
        loop {
            let (next_old, next_new) = pairs.next().unwrap_or((printed.len(), now.len()));
            let ends = next_old == printed.len();
            for gone in &printed[old..next_old] {
                if !ends && !gone.lines.is_empty() {
                    self.gone(gone, printed, next_old);
                }
            }
            for added in &now[new..next_new] {
                self.added(added, ends, printed, next_old);
            }
            if ends {
                break;
            }
            let (was, is) = (&printed[next_old], &now[next_new]);
            if was.text == is.text {
                self.unchanged(was, is);
            } else {
                let below = printed[next_old + 1..]
                    .iter()
                    .map(|row| row.lines.len())
                    .sum();
                self.changed(was, is, is_last(next_old), below);
            }
            (old, new) = (next_old + 1, next_new + 1);
        }
    }

    /// The lines of a row as they would stand if the panel were not passed.
    fn usual(&self, row: usize) -> Vec<&LaidLine> {
        self.laid.iter().filter(|line| line.row == row).collect()
    }

    fn unchanged(&mut self, was: &Printed<'_>, is: &Now<'_>) {
        let sealed = |lines: &Vec<LaidLine>| {
            lines.len() == was.lines.len()
                && std::iter::zip(lines, was.lines)
                    .all(|(line, printed)| seal(line) == printed.seal)
        };
        // What is printed stands however lines would fall now: at another place of its part, or beside other lines.
        let usual: Vec<LaidLine> = self.usual(is.row).into_iter().cloned().collect();
        let again = || self.on.lines_again(is, was.lines).filter(sealed);
        let Some(lines) = Some(usual).filter(sealed).or_else(again) else {
            self.sealed_otherwise = true;
            return;
        };
        for (line, printed) in lines.into_iter().zip(was.lines) {
            self.lines.push(moved(line, printed.left, printed.baseline));
        }
    }

    fn changed(&mut self, was: &Printed<'_>, is: &Now<'_>, last: bool, below: usize) {
        let set = match self.on.part.rows[is.row].paragraph.is_some() {
            true => self.on.paragraph_again(was, is, self.usual(is.row)),
            false => self.usual(is.row).into_iter().cloned().collect(),
        };
        if letters(set.iter().map(|line| line.text.as_str())) != letters([is.text].into_iter()) {
            self.faults.push(self.does_not_end_there(&set));
            return;
        }
        let more = set.len() as i64 - was.lines.len() as i64;
        if more != 0 && !(last && self.has_room(was, more)) {
            self.faults.push(self.moves(was, is, (more, below), &set));
            return;
        }
        let right = self.aside();
        let leading = self.on.leading();
        let printed = |at: usize| match was.lines.get(at) {
            Some(line) => line.baseline,
            None => {
                let above = was.lines.last().map_or(Length::ZERO, |line| line.baseline);
                above + leading * (at + 1 - was.lines.len()) as i64
            }
        };
        for (at, line) in set.into_iter().enumerate() {
            let same = was
                .lines
                .get(at)
                .filter(|printed| printed.words == bare(&line.text) && printed.seal == seal(&line));
            let left = same.map_or(line.x + right, |printed| printed.left);
            self.lines.push(moved(line, left, printed(at)));
        }
    }

    /// How far printed lines stand to the right of where they would stand now.
    fn aside(&self) -> Length {
        let kept = self.kept.passed.iter().flatten();
        let mut both = kept.filter_map(|printed| {
            let same = |line: &&LaidLine| bare(&line.text) == printed.words && !line.turnover;
            let line = self.laid.iter().find(same)?;
            Some(printed.left - line.x)
        });
        both.next().unwrap_or_default()
    }

    /// Whether so many more lines have room below a row that is the panel's last.
    fn has_room(&self, was: &Printed<'_>, more: i64) -> bool {
        let last = was.lines.last().map_or(Length::ZERO, |line| line.baseline);
        last + self.on.leading() * more <= self.on.last_baseline()
    }

    /// A row that was not there when the panel was passed.
    fn added(&mut self, is: &Now<'_>, ends: bool, printed: &[Printed<'_>], before: usize) {
        let set: Vec<LaidLine> = self.usual(is.row).into_iter().cloned().collect();
        if set.is_empty() {
            return;
        }
        let row = &self.on.part.rows[is.row];
        let above = self.lines.last().map(|line| line.baseline);
        let space = self.on.leading().scaled(i64::from(row.space_above), 2);
        let leading = self.on.leading();
        let first = above.map_or(set[0].baseline, |above| above + space + leading);
        let last = first + leading * (set.len() as i64 - 1);
        if ends && last <= self.on.last_baseline() {
            let right = self.aside();
            for (at, line) in set.into_iter().enumerate() {
                let left = line.x + right;
                self.lines
                    .push(moved(line, left, first + leading * at as i64));
            }
            return;
        }
        let panel = self.kept.panel;
        let by = space + leading * set.len() as i64;
        let what = match ends {
            true => format!(
                "{panel} is passed for press, and a line has been added for which it has no room: it would stand {} \
                 below the last line that fits",
                last - self.on.last_baseline()
            ),
            false => {
                let below: usize = printed[before..].iter().map(|row| row.lines.len()).sum();
                format!(
                    "{panel} is passed for press, and a line has been added among its own: the {} below would move \
                     down by {by}",
                    lines(below)
                )
            }
        };
        self.faults.push(self.at_words(&set, what).help(format!(
            "take the line out or put it on another panel; or release this one: {}",
            release(panel)
        )));
    }

    /// A printed row that is no more, with others below it.
    fn gone(&mut self, gone: &Printed<'_>, printed: &[Printed<'_>], before: usize) {
        let panel = self.kept.panel;
        let below: usize = printed[before..].iter().map(|row| row.lines.len()).sum();
        let by = self.on.leading() * gone.lines.len() as i64;
        let what = format!(
            "{panel} is passed for press, and its line “{}” is gone: the {} below would move up by {by}",
            gone.text,
            lines(below)
        );
        let help = format!(
            "put a line in its place; or release the panel: {}",
            release(panel)
        );
        self.faults.push(fault_at(self.kept, what).help(help));
    }

    /// A corrected row that takes more lines, or fewer, than are printed.
    fn moves(
        &self,
        was: &Printed<'_>,
        is: &Now<'_>,
        (more, below): (i64, usize),
        set: &[LaidLine],
    ) -> Fault {
        let panel = self.kept.panel;
        let by = self.on.leading() * more.abs();
        let takes = format!(
            "{panel} is passed for press, and the corrected words take {} where {} printed",
            lines(set.len()),
            match was.lines.len() {
                1 => "1 is".to_string(),
                count => format!("{count} are"),
            }
        );
        let what = match (below, more > 0) {
            (0, true) => format!("{takes}: there is no room for the last"),
            (0, false) => takes,
            (below, down) => {
                let way = if down { "down" } else { "up" };
                format!(
                    "{takes}: the {} below would move {way} by {by}",
                    lines(below)
                )
            }
        };
        let mend = match self.on.too_wide(is).filter(|_| more > 0) {
            Some((over, letters)) => format!(
                "they are {over} too wide: shorten them by about {letters}, or release the panel: {}",
                release(panel)
            ),
            None if more > 0 => format!("shorten them, or release the panel: {}", release(panel)),
            None => format!(
                "write as much as before, or release the panel: {}",
                release(panel)
            ),
        };
        self.at_words(set, what).help(mend)
    }

    /// A corrected paragraph that goes on behind the panel and has no line that ends where the panel's words do.
    fn does_not_end_there(&self, set: &[LaidLine]) -> Fault {
        let panel = self.kept.panel;
        let what = format!(
            "{panel} is passed for press, and its corrected words fall into lines of which none ends where the panel \
             does"
        );
        self.at_words(set, what).help(format!(
            "write as much as before, or release the panel: {}",
            release(panel)
        ))
    }

    /// A fault about words of the manuscript.
    fn at_words(&self, set: &[LaidLine], what: String) -> Fault {
        let first = set.iter().find_map(|line| line.sources.first());
        let last = set.iter().rev().find_map(|line| line.sources.last());
        let fault = Fault::new("passed", what);
        match first.zip(last) {
            Some((first, last)) => {
                let source = self.on.ready.manuscript.source();
                fault.at(Place::new(source, first.0..last.1))
            }
            None => fault,
        }
    }

    fn finish(mut self, faults: &mut Faults) -> Vec<LaidLine> {
        if self.sealed_otherwise {
            self.faults.push(otherwise(self.kept));
        }
        faults.append(&mut self.faults);
        self.lines
    }
}

/// The letters and figures of texts, in order.
fn letters<'a>(texts: impl Iterator<Item = &'a str>) -> String {
    let all = texts.flat_map(str::chars);
    all.filter(|c| c.is_alphanumeric()).collect()
}

fn lines(count: usize) -> String {
    match count {
        1 => "1 line".to_string(),
        count => format!("{count} lines"),
    }
}

fn release(panel: PanelName) -> String {
    format!("versefold pass --release \"{panel}\"")
}
