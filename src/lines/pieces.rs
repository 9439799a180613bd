//! A line cut into pieces that are shaped together: words, and parts of words of one voice, script and
//! direction.

use std::ops::Range;
use std::sync::Arc;

use unicode_segmentation::UnicodeSegmentation;

use super::shaped::{LineWord, SetWord, ShapedLine};
use crate::typeface::{Context, ShapedWord, Shaper, Voice};

/// A word or a part of one: its bytes in the line's text, how it is set, and what stands beside it.
pub type LinePiece = (Range<usize>, Voice, Context);

impl ShapedLine {
    /// The words and parts of words in a stretch, each as (bytes, voice, context), in order.
    pub fn pieces(&self, stretch: Range<usize>) -> Vec<LinePiece> {
        let first = self
            .words
            .partition_point(|word| word.text.end <= stretch.start);
        let inside = self.words[first..]
            .iter()
            .take_while(|word| word.text.start < stretch.end);
        let mut pieces = Vec::new();
        for word in inside {
            let from = word.text.start.max(stretch.start);
            let to = word.text.end.min(stretch.end);
            for (index, &(voice_from, voice)) in word.voices.iter().enumerate() {
                let voice_to = word
                    .voices
                    .get(index + 1)
                    .map_or(word.text.end, |next| next.0);
                let (start, end) = (from.max(voice_from), to.min(voice_to));
                for part in self.one_way(start..end) {
                    let context = self.context(word, &part, &stretch);
                    pieces.push((part, voice, context));
                }
            }
        }
        span_runs(&mut pieces);
        pieces
    }

    /// A part of a word, cut where level or script changes.
    fn one_way(&self, part: Range<usize>) -> impl Iterator<Item = Range<usize>> + '_ {
        let next = self
            .stretches
            .partition_point(|stretch| stretch.from <= part.start);
        let inner = self.stretches[next..].iter().map(|stretch| stretch.from);
        let ends = inner.take_while(move |at| *at < part.end);
        let mut from = part.start;
        let parts = ends.chain([part.end]).map(move |to| {
            let one = from..to;
            from = to;
            one
        });
        parts.filter(|part| !part.is_empty())
    }

    fn context(&self, word: &LineWord, part: &Range<usize>, stretch: &Range<usize>) -> Context {
        let own = self.context_at(part.start);
        let begins = part.start == word.text.start && part.start > stretch.start;
        let ends = part.end == word.text.end && self.has_word_behind(part.end, stretch);
        Context {
            space_before: begins,
            space_apart: begins
                && (self.level_of_space(part.start) != own.level || self.begins_with_mark(part)),
            space_behind: ends && self.levels.at(part.end) == own.level,
            run: (part.start, part.end),
            ..own
        }
    }

    /// Whether a word begins with a mark, which would be set on the space before it.
    fn begins_with_mark(&self, word: &Range<usize>) -> bool {
        let first = self.text.as_bytes()[word.start];
        let cluster = || self.text[word.start - 1..].graphemes(true).next();
        !first.is_ascii() && cluster().is_some_and(|cluster| cluster.len() > 1)
    }

    fn has_word_behind(&self, at: usize, stretch: &Range<usize>) -> bool {
        let next = self.words.partition_point(|word| word.text.start < at);
        self.words
            .get(next)
            .is_some_and(|word| word.text.start < stretch.end)
    }

    /// Shapes the words of a stretch as they stand together. The whole line's are remembered.
    pub fn set(&self, shaper: &Shaper<'_>, stretch: Range<usize>) -> Arc<[SetWord]> {
        let set = |stretch| -> Arc<[SetWord]> {
            let pieces = self.pieces(stretch);
            let runs = pieces.chunk_by(goes_on);
            runs.flat_map(|run| self.set_run(shaper, run)).collect()
        };
        if stretch == (self.start()..self.trimmed_end(self.text.len())) {
            Arc::clone(self.whole.get_or_init(|| set(stretch)))
        } else {
            set(stretch)
        }
    }

    /// Shapes neighbouring pieces that are set together.
    fn set_run(&self, shaper: &Shaper<'_>, run: &[LinePiece]) -> Vec<SetWord> {
        let Some(voice) = run.first().map(|piece| piece.1) else {
            return Vec::new();
        };
        let words: Vec<(Range<usize>, Context)> = run
            .iter()
            .map(|(text, _, context)| (text.clone(), *context))
            .collect();
        let together = shaper.run(&self.text, &words, voice);
        let shaped: Vec<Arc<ShapedWord>> = match together {
            Some(shaped) => shaped.into_iter().map(Arc::new).collect(),
            None => {
                let one = |(text, context): &(Range<usize>, Context)| {
                    shaper.word_of(&self.text, text.clone(), voice, *context)
                };
                words.iter().map(one).collect()
            }
        };
        let words = words.into_iter().zip(shaped);
        let set = words.map(|((text, context), shaped)| SetWord {
            text,
            voice,
            context,
            shaped,
        });
        set.collect()
    }
}

/// Whether the second of two neighbouring pieces is set with the first: in its voice and script, running the
/// same way, and so the space between them.
fn goes_on(one: &LinePiece, next: &LinePiece) -> bool {
    let alike = |piece: &LinePiece| (piece.1, piece.2.level, piece.2.script);
    alike(one) == alike(next) && !next.2.space_apart
}

/// Tells each piece how far the words reach that are set with it.
fn span_runs(pieces: &mut [LinePiece]) {
    for run in pieces.chunk_by_mut(goes_on) {
        let (Some(first), Some(last)) = (run.first(), run.last()) else {
            continue;
        };
        let spaced = first.2.space_before && !first.2.space_apart;
        let from = first.0.start - usize::from(spaced);
        let to = last.0.end + usize::from(last.2.space_behind);
        for piece in run {
            piece.2.run = (from, to);
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::lines::shaped::stressed;
    use crate::manuscript::{Run, Style};
    use crate::typeface::Stress;
    use crate::units::Length;

    fn voice(stress: Stress) -> Voice {
        Voice {
            stress,
            small_caps: false,
            size: Length::pt(10),
            tracking: Length::ZERO,
        }
    }

    fn line(source: &str, runs: &[(Range<usize>, bool)]) -> ShapedLine {
        let runs: Vec<Run> = runs
            .iter()
            .map(|(bytes, emphasis)| Run {
                from: bytes.start,
                to: bytes.end,
                style: Style {
                    emphasis: *emphasis,
                    strong: false,
                },
            })
            .collect();
        ShapedLine::from_runs(source, &runs, |run| {
            voice(stressed(Stress::Plain, run.style))
        })
    }

    #[test]
    fn an_escape_does_not_cut_a_word() {
        let line = line("T\\*o you", &[(0..1, false), (2..8, false)]);
        let pieces: Vec<Range<usize>> = line.pieces(0..7).into_iter().map(|p| p.0).collect();
        assert_eq!(line.text, "T*o you");
        assert_eq!(pieces, [0..3, 4..7]);
        assert_eq!(line.sources(0..3), [(0, 1), (2, 4)]);
    }

    #[test]
    fn a_run_ends_where_the_voice_changes_or_the_stretch_ends() {
        let line = line(
            "one two *three four* five",
            &[(0..8, false), (9..19, true), (20..25, false)],
        );
        assert_eq!(line.text, "one two three four five");
        let runs = |stretch| -> Vec<(usize, usize)> {
            let pieces = line.pieces(stretch).into_iter();
            pieces.map(|piece| piece.2.run).collect()
        };
        assert_eq!(runs(0..23), [(0, 8), (0, 8), (7, 19), (7, 19), (18, 23)]);
        assert_eq!(runs(4..13), [(4, 8), (7, 13)]);
    }
}
