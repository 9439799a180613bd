//! What each line of a part is set as: its voice, indent, and the space above it.

use super::Row;
use super::part::{LINE, Setter};
use super::shaped::{Drop, ShapedLine, stressed};
use super::verse::is_opening_quote;
use crate::manuscript::{LineKind, Run, TextLine};
use crate::plan::{Align, Opening, TextStyle};
use crate::typeface::{Stress, Voice};
use crate::units::Length;
use unicode_segmentation::UnicodeSegmentation;

impl Setter<'_> {
    pub(super) fn rows(&self) -> Vec<Row> {
        let first_verse = self.part.lines.iter().position(|line| line.kind.is_verse());
        let mut rows: Vec<Row> = Vec::with_capacity(self.part.lines.len());
        for (index, line) in self.part.lines.iter().enumerate() {
            let opens = first_verse == Some(index);
            let above = index.checked_sub(1).map(|above| &self.part.lines[above]);
            rows.push(self.row(index, line, above, opens));
        }
        rows
    }

    pub(super) fn row(
        &self,
        index: usize,
        line: &TextLine,
        above: Option<&TextLine>,
        opens: bool,
    ) -> Row {
        let voice = self.voice(&line.kind, opens);
        let source = &self.manuscript.source().text;
        let mut shaped = ShapedLine::from_runs(source, &line.runs, |run: &Run| Voice {
            stress: stressed(voice.stress, run),
            ..voice
        })
        .read_as(self.base);
        if let (true, Opening::Drop(lines)) = (opens, self.style.opening) {
            shaped.drop = self.drop_initial(&shaped, voice, lines);
        }
        // Among lines that are not set left, an indent of its own would only push an epigraph aside.
        let set_in = line.kind == LineKind::Epigraph
            && !matches!(self.style.align, Align::Right | Align::Centre);
        let half_ems = line.half_ems as i64 + if set_in { 4 } else { 0 };
        Row {
            line: index,
            kind: line.kind.clone(),
            block: line.block,
            indent: self.style.size * half_ems / 2,
            stepped: line.stepped,
            space_above: above.map_or(0, |above| self.space_above(line, above)),
            joined: above.is_some_and(|above| is_joined(line, above)),
            kept: line.kept,
            may_divide: line.may_divide,
            new_panel: line.new_panel,
            shaped,
            voice,
            at: Vec::new(),
        }
    }

    /// How the plain words of a kind of line are set.
    pub(super) fn voice(&self, kind: &LineKind, opens: bool) -> Voice {
        let plain = Voice {
            stress: Stress::Plain,
            small_caps: false,
            size: self.style.size,
            tracking: Length::ZERO,
        };
        match kind {
            LineKind::Title => title_voice(self.style),
            LineKind::Heading if self.shaper.face(Stress::Plain).has_feature(b"smcp") => Voice {
                small_caps: true,
                tracking: self.style.size / 16,
                ..plain
            },
            LineKind::Heading => Voice {
                stress: Stress::Bold,
                ..plain
            },
            LineKind::Epigraph => Voice {
                stress: Stress::Italic,
                ..plain
            },
            LineKind::Verse if opens && self.style.opening == Opening::SmallCaps => Voice {
                small_caps: true,
                tracking: self.style.size / 32,
                ..plain
            },
            _ => plain,
        }
    }

    /// The initial whose cap height reaches from the first line's cap height to the baseline of the last
    /// line it stands over. Where letters join it is the whole first word, unless that is too wide; a line that
    /// begins with words that run another way than the part has none.
    pub(super) fn drop_initial(&self, line: &ShapedLine, voice: Voice, lines: u32) -> Option<Drop> {
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
        if first.is_empty() {
            return None;
        }
        let end = quotes + first.len();
        let face = self.shaper.face(voice.stress);
        let cap = i64::from(face.metrics().cap_height);
        let upem = i64::from(face.metrics().units_per_em);
        let height = self.areas.leading() * i64::from(lines - 1) + voice.size.scaled(cap, upem);
        let voice = Voice {
            size: height.scaled(upem, cap),
            small_caps: false,
            ..voice
        };
        let script = context.script;
        let shaped = self.shaper.word(&text[..end], voice, context, script);
        let gap = self.style.size / 8;
        if script.joins() && (shaped.width + gap) * 2 > self.areas.narrowest() {
            return None;
        }
        Some(Drop {
            text: 0..end,
            voice,
            lines,
            width: shaped.width + gap,
            gap,
        })
    }

    /// Space above a line, in half lines: as many stanza spaces as blank lines; at least a line below a
    /// heading, and two above one.
    pub(super) fn space_above(&self, line: &TextLine, above: &TextLine) -> u32 {
        let blank = u32::try_from(line.blank_above).unwrap_or(u32::MAX);
        let asked = blank.saturating_mul(self.style.stanza_space).min(200);
        let least = match (&line.kind, &above.kind) {
            (LineKind::Heading, LineKind::Title) => LINE,
            (LineKind::Title | LineKind::Heading, _) => 2 * LINE,
            (_, LineKind::Title | LineKind::Heading) => LINE,
            _ => 0,
        };
        asked.max(least)
    }
}

/// Titles are set at eight fifths of the size.
pub(super) fn title_voice(style: &TextStyle) -> Voice {
    Voice {
        stress: Stress::Plain,
        small_caps: false,
        size: style.size * 8 / 5,
        tracking: Length::ZERO,
    }
}

/// Whether a line must stand on the panel of the line above: below a heading, or where it says who speaks,
/// or is room or an ornament that closes what stands above.
pub(super) fn is_joined(line: &TextLine, above: &TextLine) -> bool {
    above.kind.is_heading()
        || matches!(
            line.kind,
            LineKind::Attribution | LineKind::Room(_) | LineKind::Ornament
        )
}
