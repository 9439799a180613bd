//! Emphasis where no face shows it: by the custom of the script, never by a slanted or thickened upright.
//!
//! - Signs of Chinese and Japanese have dots: above them, in Chinese below (CSS Text Decoration Level 3, W3C:
//!   `text-emphasis-position`, "over" for Japanese and "under" for Chinese in lines that run across). Where a reading stands
//!   above signs, their dots stand below.
//! - Words of other scripts are bold where they should be italic, or italic where they should be bold, as far as
//!   their family has either.
//! - Hebrew letters stand apart where it has neither (common practice, which is older than Hebrew italics). It would be
//!   the custom anyhow, but of letters that stand apart in a line to the left, poppler makes as many words.
//!
//! What cannot be shown is told once for each part.

use std::ops::Range;

use super::part::Setter;
use super::shaped::ShapedLine;
use super::{Note, Row, RowNote};
use crate::names::Length;
use crate::typeface::{Dots, Emphasis, FontStyle, Script};

/// How far emphasised Hebrew letters stand apart, in hundredths of the size (common practice).
const APART: i64 = 12;

fn apart(voice: FontStyle) -> Length {
    voice.size * APART / 100
}

impl Setter<'_> {
    /// Shows emphasised words of a line that would look like those beside them, which are set in `base`.
    pub(super) fn show_emphasis(&self, line: &mut ShapedLine, base: FontStyle) {
        for (stretch, voice) in self.hidden(line, base.stress) {
            let other = self.in_other_face(&line.text[stretch.clone()], voice, base.stress);
            let shown = match &self.script(line, &stretch).code() {
                b"Hani" | b"Hira" | b"Kana" | b"Bopo" => FontStyle {
                    dots: Some(self.dots()),
                    ..voice
                },
                b"Hebr" if other == voice => FontStyle {
                    between: apart(voice),
                    ..voice
                },
                _ => other,
            };
            line.redraw(&stretch, |_| shown);
        }
    }

    /// The emphasised stretches of a line that look like the words beside them, each in one voice and script.
    fn hidden(&self, line: &ShapedLine, beside: Emphasis) -> Vec<(Range<usize>, FontStyle)> {
        let stressed = line.voiced().into_iter();
        let stressed = stressed.filter(|(_, voice)| voice.stress != beside);
        let stretches = stressed.flat_map(|(stretch, voice)| {
            let parts = line.one_way(stretch);
            parts.map(move |part| (part, voice)).collect::<Vec<_>>()
        });
        let hidden = |(stretch, voice): &(Range<usize>, FontStyle)| {
            // Capitals of any word may stand apart a little.
            let shown = voice.between == apart(*voice) || voice.dots.is_some();
            let text = &line.text[stretch.clone()];
            !shown && self.shaper.same_face(text, *voice, beside).is_some()
        };
        stretches.filter(hidden).collect()
    }

    fn script(&self, line: &ShapedLine, stretch: &Range<usize>) -> Script {
        line.context_at(stretch.start).script
    }

    fn dots(&self) -> Dots {
        let language = self.language.split('-').next().unwrap_or_default();
        match language.to_ascii_lowercase().as_str() {
            // In lines that run down they stand at the right, as in Japanese.
            "zh" | "cmn" | "yue" | "lzh" if !self.style.lines_run.is_down() => Dots::Below,
            _ => Dots::Above,
        }
    }

    /// The voice of a text with a stress that its family has a face for; as it is where there is none.
    fn in_other_face(&self, text: &str, voice: FontStyle, beside: Emphasis) -> FontStyle {
        let others = [Emphasis::Bold, Emphasis::Italic];
        let mut others = others
            .map(|stress| FontStyle { stress, ..voice })
            .into_iter();
        let same = |other: &FontStyle| self.shaper.same_face(text, *other, beside);
        let found = others.find(|other| same(other).is_none());
        found.unwrap_or(voice)
    }

    /// What is told of emphasis that cannot be shown: the first place.
    pub(super) fn emphasis_notes(&self, rows: &[Row], columns: usize) -> Vec<RowNote> {
        let first = rows.iter().enumerate().find_map(|(index, row)| {
            let hidden = self
                .hidden(&row.shaped, row.voice.stress)
                .into_iter()
                .next();
            hidden.map(|(stretch, voice)| (index, &row.shaped, stretch, voice))
        });
        let Some((index, line, stretch, voice)) = first else {
            return Vec::new();
        };
        let beside = rows[index].voice.stress;
        let text = &line.text[stretch.clone()];
        let Some(face) = self.shaper.same_face(text, voice, beside) else {
            return Vec::new();
        };
        let note = Note {
            word: "no-emphasis",
            what: format!(
                "“{}” is emphasised, which cannot be seen: {} has neither italic nor bold of its own for {}. Name a \
                 typeface that has: {{ regular = \"fonts/NAME.ttf\", bold = \"fonts/NAME-Bold.ttf\" }}",
                text,
                face.name(),
                self.script(line, &stretch).name(),
            ),
            place: self.place_in(line, stretch),
        };
        RowNote::everywhere(index, columns, note).collect()
    }
}
