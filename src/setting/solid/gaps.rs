//! What the gaps between the words of a line may give when it is justified.

use super::{PieceKind, pauses, white};
use crate::setting::line_breaks::Slack;
use crate::setting::shaped::{SetWord, ShapedLine};
use crate::typeface::Shaper;

/// Word spaces may lose this part of their width: a third, as in the article on optimum paragraphs.
const MOST_SHRINK: i64 = 3;

impl ShapedLine {
    /// What the gap between two neighbouring words of a line may give: a word space half of its width more and a third of it less;
    /// a gap between solid signs an eighth of an em, though none behind a bracket that opens or before what closes,
    /// and, where it is white, it takes in a quarter. A full stop keeps its white.
    pub fn gap(&self, shaper: &Shaper<'_>, before: &SetWord, word: &SetWord) -> Slack {
        if word.context.space_before {
            let space = shaper.space(word.voice);
            return Slack {
                stretch: space / 2,
                shrink: space / MOST_SHRINK,
            };
        }
        let mut slack = Slack::default();
        if !(before.kind.is_solid() || word.kind.is_solid()) {
            return slack;
        }
        let (Some(one), Some(next)) = (
            self.sign_before(before.text.end),
            self.sign_behind(word.text.start),
        ) else {
            return slack;
        };
        let em = word.voice.size;
        if !(self.opens(one) || self.closes(next) || pauses(next)) {
            slack.stretch = em / 8;
        }
        // A reading may hang over what is white.
        let plain = |word: &SetWord| !matches!(word.kind, PieceKind::Ruby(_));
        if !(plain(before) && plain(word)) {
            return slack;
        }
        let is_stop = matches!(one, '。' | '．');
        let gives_right =
            before.kind == PieceKind::Solid && !is_stop && white(&before.shaped, one).right;
        let gives_left = word.kind == PieceKind::Solid && white(&word.shaped, next).left;
        if gives_right || gives_left {
            slack.shrink = em / 4;
        }
        slack
    }

    /// What all gaps of a line may give together.
    pub fn slack(&self, shaper: &Shaper<'_>, line: &[SetWord]) -> Slack {
        let mut slack = Slack::default();
        for pair in line.windows(2) {
            let gap = self.gap(shaper, &pair[0], &pair[1]);
            slack.stretch += gap.stretch;
            slack.shrink += gap.shrink;
        }
        slack
    }
}
