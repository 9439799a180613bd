//! Lines of prose on a panel.

use super::LaidLine;
use super::compose::ComposeInput;
use super::glyphs::RunBuilder;
use super::on_panel::OnPanel;
use crate::names::{Direction, HalfLines, Length, Location, PanelName};
use crate::setting::{self, Note, Poor, ProseContext, ProseLine};
use crate::typeface::Hyphenator;

/// A remark for each language whose words `hyphenate` asks to divide and cannot.
pub(super) fn without_patterns(ready: ComposeInput<'_>) -> Vec<Note> {
    let mut notes: Vec<Note> = Vec::new();
    for part in &ready.set.parts {
        let planned = &ready.plan.parts[part.plan_index];
        let language = &planned.language;
        let has_prose = part.rows.iter().any(|row| row.paragraph.is_some());
        if !has_prose || planned.text.hyphenate != Some(true) || Hyphenator::knows(language) {
            continue;
        }
        let note = Note {
            word: "no-patterns",
            what: format!(
                "no rules for dividing words of the language `{language}` are known: they are divided at soft \
                 hyphens alone"
            ),
            place: None,
        };
        if !notes.contains(&note) {
            notes.push(note);
        }
    }
    notes
}

impl OnPanel<'_> {
    /// The lines of a paragraph from one of its breaks to another, the first so far down; those that could not be set
    /// better join `poor`.
    pub(super) fn paragraph(
        &self,
        row: usize,
        breaks: (usize, usize),
        depth: HalfLines,
        poor: &mut Vec<PoorLine>,
    ) -> Vec<LaidLine> {
        let slot = self.column().boxes().slot(depth);
        let lines = setting::prose_lines(&self.prose_context(row, slot), breaks.0, breaks.1);
        poor.extend(lines.iter().filter_map(|line| self.poor(row, line)));
        let on = |number: usize| self.on_line(depth + HalfLines::lines(number));
        self.placed(row, breaks.0 == 0, &lines, on)
    }

    /// What lines of a paragraph are placed by, the first of which stands on a slot.
    pub(super) fn prose_context(&self, row: usize, slot: usize) -> ProseContext<'_> {
        ProseContext {
            shaper: self.shaper,
            style: &self.planned().text,
            reads: self.planned().reads,
            row: &self.part.rows[row],
            number: self.column,
            column: self.column(),
            slot,
        }
    }

    /// Lines of a paragraph, each on its baseline and with its measure.
    pub(super) fn placed(
        &self,
        row: usize,
        begins: bool,
        lines: &[ProseLine],
        on: impl Fn(usize) -> (Length, Length),
    ) -> Vec<LaidLine> {
        let laid = lines.iter().enumerate().map(|(number, line)| {
            let opens = number == 0 && begins;
            self.prose_line(row, line, opens, on(number))
        });
        laid.collect()
    }

    fn prose_line(
        &self,
        index: usize,
        line: &ProseLine,
        opens: bool,
        (baseline, measure): (Length, Length),
    ) -> LaidLine {
        let row = &self.part.rows[index];
        let planned = self.planned();
        let drop = row.shaped.drop.as_ref().filter(|_| opens);
        let text = drop.map_or(line.text.start, |drop| drop.text.start)..line.text.end;
        let mut builder = RunBuilder::new(self.shaper, &row.shaped, text.start, line.x, baseline);
        let (mut x, mut width) = (line.x, line.width);
        if let Some(drop) = drop {
            let below = self.leading() * i64::from(drop.lines - 1);
            let initial = match planned.reads {
                Direction::LeftToRight => line.x - drop.width,
                Direction::RightToLeft => line.x + line.width + drop.gap,
            };
            builder.add_drop(drop, initial, below);
            (x, width) = (x.min(initial), width + drop.width);
        }
        builder.spread(line.spread);
        // A space is not seen, but it parts the words for whoever reads the file.
        let parted = !line.glued && !line.last;
        let sign = if line.hyphen {
            Some('-')
        } else {
            parted.then_some(' ')
        };
        builder.add_words(&line.words, line.text.end, sign);
        LaidLine {
            part: Some(self.part.name.clone()),
            language: planned.language.clone(),
            kind: row.kind.clone(),
            block: row.block,
            row: index,
            space_above: if opens {
                row.space_above
            } else {
                HalfLines::ZERO
            },
            lines_run: planned.text.lines_run,
            text: row.shaped.text[text.clone()].to_string(),
            stretch: text.clone(),
            x,
            baseline,
            width,
            measure,
            size: row.voice.size,
            turnover: false,
            added: line.hyphen.then(|| "-".to_string()),
            glued: line.glued,
            sources: row.shaped.sources(text),
            ink: planned.text.ink.clone(),
            runs: builder.finish(),
        }
    }

    fn poor(&self, row: usize, line: &ProseLine) -> Option<PoorLine> {
        let row = &self.part.rows[row];
        let sources = row.shaped.sources(line.text.clone());
        let bytes = sources.first().zip(sources.last());
        let source = self.ready.manuscript.source();
        Some(PoorLine {
            poor: line.poor?,
            words: row.shaped.text[line.text.clone()].to_string(),
            measure: line.measure,
            place: bytes.map(|(first, last)| Location::new(source, first.0..last.1)),
        })
    }
}

/// A line that could not be set better.
pub(super) struct PoorLine {
    poor: Poor,
    words: String,
    measure: Length,
    place: Option<Location>,
}

/// What is to be said of the poor lines of a panel: of each broken word, and once of all its loose lines.
pub(super) fn told_of(panel: PanelName, lines: Vec<PoorLine>) -> Vec<Note> {
    let (broken, loose): (Vec<PoorLine>, Vec<PoorLine>) = lines
        .into_iter()
        .partition(|line| line.poor == Poor::Broken);
    let broken = broken.into_iter().map(|line| Note {
        word: "wide-word",
        what: format!(
            "a word is wider than the measure of {} and is broken",
            line.measure
        ),
        place: line.place,
    });
    broken.chain(loose_lines(panel, loose)).collect()
}

fn loose_lines(panel: PanelName, lines: Vec<PoorLine>) -> Option<Note> {
    let others = match lines.len().saturating_sub(1) {
        0 => String::new(),
        1 => "; another line there is as loose".to_string(),
        many => format!("; {many} other lines there are as loose"),
    };
    let first = lines.into_iter().next()?;
    let words = &first.words;
    let what = match words.contains(' ') {
        true => format!(
            "on {panel} the spaces of “{words}” are more than three times their usual width"
        ),
        false => format!("on {panel} no space is there to fill the line “{words}”"),
    };
    Some(Note {
        word: "loose-line",
        what: what + &others,
        place: first.place,
    })
}
