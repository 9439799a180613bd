//! What each line of a part is set as: its voice, indent, and the space above it.

use super::Row;
use super::part::Setter;
use super::shaped::{DropCap, ShapedLine};
use super::titling;
use super::verse::is_opening_quote;
use super::voices::stressed;
use crate::names::{HalfLines, Length};
use crate::plan::{Align, Opening};
use crate::stack::{Neighbours, space_between};
use crate::text::{LineKind, Run, TextLine};
use crate::typeface::{Emphasis, FontStyle, Letters};
use unicode_segmentation::UnicodeSegmentation;

impl Setter<'_> {
    pub(super) fn rows(&self) -> Vec<Row> {
        let is_text = |line: &TextLine| matches!(line.kind, LineKind::Verse | LineKind::Prose);
        let first_text = self.part.lines.iter().position(is_text);
        let mut rows: Vec<Row> = Vec::with_capacity(self.part.lines.len());
        for (index, line) in self.part.lines.iter().enumerate() {
            let opens = first_text == Some(index);
            rows.push(self.row(index, line, opens));
        }
        rows
    }

    pub(super) fn row(&self, index: usize, line: &TextLine, opens: bool) -> Row {
        let lines = &self.part.lines[..index];
        let above = lines.last();
        let source = &self.manuscript.source().text;
        let voice = self.voice(line, opens);
        let shaped = if line.kind.is_folded() {
            self.paragraph_line(line, voice, opens)
        } else {
            ShapedLine::from_runs(source, &line.runs, |run: &Run| FontStyle {
                stress: stressed(voice.stress, run.style),
                ..voice
            })
        };
        let mut shaped = shaped.read_as(self.base).running(self.style.lines_run);
        if !line.rubies.is_empty() {
            shaped = shaped.with_readings(&line.rubies);
        }
        if let (true, Some(lines)) = (opens, self.style.opening.drop()) {
            let drop = self.drop_initial(&shaped, voice, lines);
            // A paragraph that is nothing but its initial, such as a chapter's number, has no line to stand it by.
            let goes_on = |drop: &DropCap| drop.text.end < shaped.trimmed_end(shaped.text.len());
            shaped.drop = drop.filter(|drop| !line.kind.is_prose() || goes_on(drop));
        }
        if opens {
            self.draw_opening(&mut shaped, voice);
        }
        // Before capitals are spaced: space between letters is what may show emphasis.
        self.show_emphasis(&mut shaped, voice);
        self.draw_capitals(&mut shaped, (&line.kind, voice));
        // Among lines that are not set left, an indent of its own would only push an epigraph aside.
        let set_in =
            line.kind.is_epigraph() && !matches!(self.style.align, Align::Right | Align::Centre);
        let half_ems = line.half_ems as i64 + if set_in { 4 } else { 0 };
        Row {
            line: index,
            kind: line.kind.clone(),
            block: line.block,
            indent: self.style.size * half_ems / 2,
            stepped: line.stepped,
            // Whether a paragraph is the next of others does not hang on where a caption stands.
            first_indent: self.first_indent(line, lines.iter().rfind(|line| !is_caption(line))),
            space_above: above.map_or(HalfLines::ZERO, |above| self.space_between(above, line)),
            joined: above.is_some_and(|above| is_joined(line, above)),
            kept: line.kept,
            may_divide: line.may_divide,
            new_panel: line.new_panel,
            shaped,
            voice,
            paragraph: None,
            at: Vec::new(),
        }
    }

    fn space_between(&self, above: &TextLine, line: &TextLine) -> HalfLines {
        space_between(&Neighbours {
            above: titling::spaced(&above.kind, self.style),
            below: titling::spaced(&line.kind, self.style),
            blank_lines: line.blank_above,
            stanza_space: self.style.stanza_space,
            indented: self.style.paragraph_indent > Length::ZERO
                && self.style.align != Align::Centre,
        })
    }

    /// The words of a paragraph. Of one that opens its part with small capitals, the first words are in them.
    fn paragraph_line(&self, line: &TextLine, voice: FontStyle, opens: bool) -> ShapedLine {
        let source = &self.manuscript.source().text;
        let small = if opens && self.style.opening == Opening::SmallCaps {
            opening_words(&line.text(self.manuscript.source()))
        } else {
            0
        };
        ShapedLine::from_paragraph(source, line, |word, style| {
            let stress = stressed(voice.stress, style);
            if word < small {
                FontStyle {
                    stress,
                    letters: Letters::SmallCapitals,
                    tracking: self.style.size / 32,
                    ..voice
                }
            } else {
                FontStyle { stress, ..voice }
            }
        })
    }

    /// How far a paragraph's first line stands in: not at the beginning of a part, nor below a heading, an
    /// ornament or a larger space, nor where it only goes on.
    fn first_indent(&self, line: &TextLine, above: Option<&TextLine>) -> Length {
        let follows = above.is_some_and(|above| above.kind.is_prose() && above.kind == line.kind);
        let shows_by_space = line.blank_above > 1 || line.continues;
        // In Japanese and Chinese texts the indent may be written, as a wide space.
        let source = &self.manuscript.source().text;
        let stands_in_by_itself = source[line.first.clone()].starts_with('\u{3000}');
        let stands_in = line.kind.is_prose()
            && follows
            && !shows_by_space
            && !stands_in_by_itself
            && self.style.align != Align::Centre;
        if stands_in {
            self.style.paragraph_indent
        } else {
            Length::ZERO
        }
    }

    /// How the plain words of a line are set.
    fn voice(&self, line: &TextLine, opens: bool) -> FontStyle {
        let plain = FontStyle::plain(self.style.size);
        let kind = &line.kind;
        let text = || line.text(self.manuscript.source());
        let heading = kind.is_titling().then(text);
        let heading = heading
            .and_then(|text| titling::voice(kind, &text, self.style, self.shaper.typeface()));
        match kind {
            _ if heading.is_some() => heading.unwrap_or(plain),
            _ if kind.is_epigraph() || *kind == LineKind::Caption => FontStyle {
                stress: Emphasis::Italic,
                ..plain
            },
            LineKind::Verse if opens && self.style.opening == Opening::SmallCaps => FontStyle {
                letters: Letters::SmallCapitals,
                tracking: self.style.size / 32,
                ..plain
            },
            _ => plain,
        }
    }

    /// How wide the narrowest area is on which the part's words may stand.
    pub(super) fn narrowest(&self) -> Length {
        let widths = self.own_areas.iter().map(|id| self.areas.get(*id).width);
        widths.min().unwrap_or_default()
    }

    /// The initial whose cap height reaches from the first line's cap height to the baseline of the last
    /// line it stands over; where there are no capitals, the height of tall letters. It takes as much room as its ink,
    /// which begins at the edge. Where letters join it is the whole first word, unless that is too wide; one that leaves
    /// its lines no room is none; a line that begins with words that run another way than the part has none, nor one
    /// whose first word has a reading.
    pub(super) fn drop_initial(
        &self,
        line: &ShapedLine,
        voice: FontStyle,
        lines: u32,
    ) -> Option<DropCap> {
        let text = &line.text;
        let quotes = text.len() - text.trim_start_matches(is_opening_quote).len();
        let context = line.context_at(quotes);
        if context.level.reads() != self.reads {
            return None;
        }
        let first = match context.script.joins() {
            true => text[quotes..].split([' ', '\t']).next()?,
            false => text[quotes..].graphemes(true).next()?,
        };
        let end = quotes + first.len();
        let read_above = |ruby: &crate::text::Ruby| ruby.base.start < end;
        if first.is_empty() || line.rubies.iter().any(read_above) {
            return None;
        }
        let script = context.script;
        let small = self.shaper.word(&text[..end], voice, context, script);
        let face = match small.segments.last() {
            Some(segment) => &segment.face,
            None => self.shaper.face(voice.stress),
        };
        let cap = i64::from(face.height_of(script));
        let upem = i64::from(face.metrics().units_per_em);
        let height = self.style.leading * i64::from(lines - 1) + voice.size.scaled(cap, upem);
        let voice = FontStyle {
            size: height.scaled(upem, cap),
            letters: Letters::AsWritten,
            ..voice
        };
        let shaped = self.shaper.word(&text[..end], voice, context, script);
        let gap = self.style.size / 8;
        let ink = shaped.ink(voice.size, self.reads);
        let (from, to) = ink.unwrap_or((Length::ZERO, shaped.width));
        let width = to - from + gap;
        let room = self.narrowest() - width;
        // A few letters must have room beside it.
        if room < self.style.size * 3 || (script.joins() && room < width) {
            return None;
        }
        Some(DropCap {
            text: 0..end,
            voice,
            lines,
            bearing: from,
            width,
            advance: shaped.width,
            gap,
        })
    }
}

/// How many words open a paragraph in small capitals: those up to the first pause, two to five.
fn opening_words(text: &str) -> usize {
    let pauses = |word: &str| word.ends_with([',', ';', ':', '.', '!', '?', '…', '—', '–', '،']);
    let mut words = text.split(' ').enumerate();
    let first_pause = words.find(|(number, word)| *number > 0 && pauses(word));
    first_pause.map_or(5, |(number, _)| (number + 1).min(5))
}

/// Whether a line must stand on the panel of the line above: below a heading and what stands with it, or where it says who
/// speaks, or is room or an ornament that closes what stands above. A caption goes with its picture alone, and a title may
/// have a panel to itself where the author asks for a new one below it.
pub(super) fn is_joined(line: &TextLine, above: &TextLine) -> bool {
    let closes = matches!(
        line.kind,
        LineKind::Attribution | LineKind::Room(_) | LineKind::Ornament
    );
    let parted = above.kind.is_of_title() && line.new_panel;
    let joined = above.kind.is_titling() || closes;
    joined && !parted && !is_caption(line) && !is_caption(above)
}

fn is_caption(line: &TextLine) -> bool {
    line.kind == LineKind::Caption
}
