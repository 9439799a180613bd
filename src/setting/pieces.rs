//! A line cut into pieces that are shaped together: words, and parts of words of one voice, script and
//! direction.

use std::ops::Range;
use std::sync::Arc;

use unicode_segmentation::UnicodeSegmentation;

use super::shaped::{LineWord, SetWord, ShapedLine};
use super::solid::PieceKind;
use crate::text::Ruby;
use crate::typeface::{FontStyle, Posture, ShapedWord, Shaper, ShapingContext};

/// What of a line is shaped by itself: a word, a part of one, or a solid sign.
#[derive(Clone, Debug)]
pub struct LinePiece {
    /// Its bytes in the line's text.
    pub text: Range<usize>,
    /// How it is set.
    pub voice: FontStyle,
    /// What stands beside it.
    pub context: ShapingContext,
    /// What it is shaped as.
    pub kind: PieceKind,
}

impl ShapedLine {
    /// The words and parts of words in a stretch, in order.
    fn pieces(&self, shaper: &Shaper<'_>, stretch: Range<usize>) -> Vec<LinePiece> {
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
            let mut begins = from;
            for (number, ruby) in self.rubies_in(from..to) {
                self.cut(word, begins..ruby.base.start, &stretch, &mut pieces);
                let text = ruby.base.start..ruby.reading.end;
                let context = ShapingContext {
                    run: (text.start, text.end),
                    ..self.context(word, &text, &stretch)
                };
                let voice = self
                    .voice_at(text.start)
                    .or_else(|| self.voice_at(word.text.start));
                pieces.extend(voice.map(|voice| LinePiece {
                    text,
                    voice,
                    context,
                    kind: PieceKind::Ruby(number),
                }));
                begins = ruby.reading.end;
            }
            self.cut(word, begins..to, &stretch, &mut pieces);
        }
        self.span_runs(shaper, &mut pieces);
        pieces
    }

    /// Tells each piece how far the words reach that are shaped with it.
    fn span_runs(&self, shaper: &Shaper<'_>, pieces: &mut [LinePiece]) {
        for run in pieces.chunk_by_mut(|one, next| self.goes_on(shaper, one, next)) {
            let (Some(first), Some(last)) = (run.first(), run.last()) else {
                continue;
            };
            let spaced = first.context.space_before && !first.context.space_apart;
            let from = first.text.start - usize::from(spaced);
            let to = last.text.end + usize::from(last.context.space_behind);
            for piece in run {
                piece.context.run = (from, to);
            }
        }
    }

    /// Whether the second of two neighbouring pieces is shaped with the first: in its voice and script, running the same way,
    /// and so the space between them, which their face looks past. What is solid is set by itself.
    fn goes_on(&self, shaper: &Shaper<'_>, one: &LinePiece, next: &LinePiece) -> bool {
        let alike = |piece: &LinePiece| (piece.voice, piece.context.level, piece.context.script);
        let solid = one.kind.is_solid() || next.kind.is_solid();
        if solid || alike(one) != alike(next) || next.context.space_apart {
            return false;
        }
        let spaces = &self.text[one.text.end..next.text.start];
        let words = (&self.text[one.text.clone()], &self.text[next.text.clone()]);
        !next.context.space_before || shaper.looks_past(spaces, words, one.voice)
    }

    /// The readings whose base lies in a part of a word, each with its number.
    fn rubies_in(&self, part: Range<usize>) -> impl Iterator<Item = (usize, &Ruby)> {
        let first = self
            .rubies
            .partition_point(|ruby| ruby.base.start < part.start);
        let from = self.rubies.iter().enumerate().skip(first);
        from.take_while(move |(_, ruby)| ruby.reading.end <= part.end)
    }

    /// Cuts a part of a word where its voice, level or script changes, and around solid signs.
    fn cut(
        &self,
        word: &LineWord,
        part: Range<usize>,
        stretch: &Range<usize>,
        pieces: &mut Vec<LinePiece>,
    ) {
        let mut voices = self.voices_in(word).peekable();
        while let Some((voice_from, voice)) = voices.next() {
            let voice_to = voices.peek().map_or(word.text.end, |next| next.0);
            let (start, end) = (part.start.max(voice_from), part.end.min(voice_to));
            let parts = self.one_way(start..end);
            for (text, kind) in parts.flat_map(|part| self.solid_parts(part)) {
                pieces.push(LinePiece {
                    context: self.context(word, &text, stretch),
                    text,
                    voice,
                    kind,
                });
            }
        }
    }

    /// A part of a word, cut where level or script changes.
    pub(super) fn one_way(&self, part: Range<usize>) -> impl Iterator<Item = Range<usize>> + '_ {
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

    fn context(
        &self,
        word: &LineWord,
        part: &Range<usize>,
        stretch: &Range<usize>,
    ) -> ShapingContext {
        let own = self.context_of(part);
        let begins = part.start == word.text.start && part.start > stretch.start;
        let ends = part.end == word.text.end && self.has_word_behind(part.end, stretch);
        let along = own.posture == Posture::AlongLine;
        ShapingContext {
            space_before: begins,
            space_apart: begins
                && (!along
                    || self.level_of_space(part.start) != own.level
                    || self.begins_with_mark(part)),
            space_behind: ends && along && self.levels.at(part.end) == own.level,
            ..own
        }
    }

    /// The context of a part of the line that is shaped by itself.
    pub(super) fn context_of(&self, part: &Range<usize>) -> ShapingContext {
        ShapingContext {
            run: (part.start, part.end),
            posture: self.posture(part),
            ..self.context_at(part.start)
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

    /// Shapes the words of a stretch as they stand together. The whole line's are remembered, and stretches of it made
    /// of them where that can be.
    pub fn set(&self, shaper: &Shaper<'_>, stretch: Range<usize>) -> Arc<[SetWord]> {
        if stretch == (self.start()..self.trimmed_end(self.text.len())) {
            let whole = || self.set_anew(shaper, stretch);
            return Arc::clone(self.whole.get_or_init(whole));
        }
        let of_whole = self.set_of_whole(shaper, &stretch);
        of_whole.unwrap_or_else(|| self.set_anew(shaper, stretch))
    }

    /// Shapes the words of the whole line, if they have not been shaped.
    pub(super) fn shape(&self, shaper: &Shaper<'_>) {
        self.set(shaper, self.start()..self.trimmed_end(self.text.len()));
    }

    fn set_anew(&self, shaper: &Shaper<'_>, stretch: Range<usize>) -> Arc<[SetWord]> {
        let pieces = self.pieces(shaper, stretch);
        let runs = pieces.chunk_by(|one, next| one.context.run == next.context.run);
        let words = runs.flat_map(|run| self.set_run(shaper, run));
        let mut words: Vec<SetWord> = words.collect();
        self.fit_solid(shaper, &mut words);
        words.into()
    }

    /// The words of a stretch, those within it as they stand in the whole line: only the first and the last may change,
    /// for what stands beside them is another. Nothing where that cannot be said: the whole line has not been shaped, one of
    /// those two is shaped with others, or a word is not plain.
    fn set_of_whole(&self, shaper: &Shaper<'_>, stretch: &Range<usize>) -> Option<Arc<[SetWord]>> {
        let whole = self.whole.get()?;
        let first = whole.partition_point(|word| word.text.end <= stretch.start);
        let behind = whole.partition_point(|word| word.text.start < stretch.end);
        let words = whole.get(first..behind)?;
        let last = words.len().saturating_sub(1);
        let changes = |(at, word): (usize, &SetWord)| {
            word.kind != PieceKind::Word || (at == 0 || at == last) && !word.is_by_itself()
        };
        if words.iter().enumerate().any(changes) {
            return None;
        }
        let set = words.iter().enumerate().map(|(at, word)| match at {
            at if at == 0 || at == last => self.set_at_end(shaper, word, stretch),
            _ => word.clone(),
        });
        Some(set.collect())
    }

    /// A plain word of the whole line as it stands at an end of a stretch.
    fn set_at_end(&self, shaper: &Shaper<'_>, word: &SetWord, stretch: &Range<usize>) -> SetWord {
        let text = word.text.start.max(stretch.start)..word.text.end.min(stretch.end);
        let own = self.words.partition_point(|own| own.text.end <= text.start);
        let context = self.context(&self.words[own], &text, stretch);
        if let Some(shaped) = word.shaped_alike(&text, context) {
            return SetWord {
                shaped,
                context,
                ..word.clone()
            };
        }
        SetWord {
            shaped: shaper.word_of(&self.text, text.clone(), word.voice, context),
            text,
            context,
            ..word.clone()
        }
    }

    /// Shapes neighbouring pieces that are set together.
    fn set_run(&self, shaper: &Shaper<'_>, run: &[LinePiece]) -> Vec<SetWord> {
        let Some(first) = run.first() else {
            return Vec::new();
        };
        if let PieceKind::Ruby(number) = first.kind {
            let how = (first.voice, first.context);
            let shaped = self.with_reading(shaper, how, number, (false, false));
            return vec![SetWord {
                shaped: Arc::new(shaped),
                text: first.text.clone(),
                voice: first.voice,
                context: first.context,
                kind: first.kind,
            }];
        }
        let (voice, kind) = (first.voice, first.kind);
        let words: Vec<(Range<usize>, ShapingContext)> = run
            .iter()
            .map(|piece| (piece.text.clone(), piece.context))
            .collect();
        // What stands upright is shaped by itself.
        let together = match first.context.posture {
            Posture::AlongLine if words.len() > 1 => shaper.run(&self.text, &words, voice),
            _ => None,
        };
        let shaped: Vec<Arc<ShapedWord>> = match together {
            Some(shaped) => shaped.into_iter().map(Arc::new).collect(),
            None => {
                let one = |(text, context): &(Range<usize>, ShapingContext)| {
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
            kind,
        });
        set.collect()
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::assets::Assets;
    use crate::names::Length;
    use crate::setting::voices::stressed;
    use crate::text::{Run, Style};
    use crate::typeface::{Emphasis, FontLibrary, Typeface};

    fn voice(stress: Emphasis) -> FontStyle {
        FontStyle {
            stress,
            ..FontStyle::plain(Length::pt(10))
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
            voice(stressed(Emphasis::Plain, run.style))
        })
    }

    /// The pieces of a stretch in a family of the program.
    fn pieces(family: &str, line: &ShapedLine, stretch: Range<usize>) -> Vec<LinePiece> {
        let fonts = FontLibrary::new(Assets::memory());
        let family = fonts.open_family(family).expect("a family of the program");
        let typeface = Typeface::new(family, Vec::new());
        line.pieces(&Shaper::new(&typeface, "es"), stretch)
    }

    #[test]
    fn an_escape_does_not_cut_a_word() {
        let line = line("T\\*o you", &[(0..1, false), (2..8, false)]);
        let pieces = pieces("Alegreya", &line, 0..7).into_iter();
        let pieces: Vec<Range<usize>> = pieces.map(|p| p.text).collect();
        assert_eq!(line.text, "T*o you");
        assert_eq!(pieces, [0..3, 4..7]);
        assert_eq!(line.sources(0..3), [(0, 1), (2, 4)]);
    }

    fn runs(family: &str, line: &ShapedLine, stretch: Range<usize>) -> Vec<(usize, usize)> {
        let pieces = pieces(family, line, stretch).into_iter();
        pieces.map(|piece| piece.context.run).collect()
    }

    #[test]
    fn a_run_ends_where_the_voice_changes_or_the_stretch_ends() {
        let line = line(
            "one two *three four* five",
            &[(0..8, false), (9..19, true), (20..25, false)],
        );
        assert_eq!(line.text, "one two three four five");
        // Playpen Sans looks past every space.
        let runs = |stretch| runs("Playpen Sans", &line, stretch);
        assert_eq!(runs(0..23), [(0, 8), (0, 8), (7, 19), (7, 19), (18, 23)]);
        assert_eq!(runs(4..13), [(4, 8), (7, 13)]);
    }

    /// Alegreya's rules see a numeral behind "siglo " and "capítulo ", and so past the spaces between an o and such letters.
    #[test]
    fn a_run_ends_where_no_rule_looks_past_the_space() {
        let line = line("un siglo XVI. y  más", &[(0..21, false)]);
        let alone = |word: &str| {
            let at = line.text.find(word).expect("the word");
            (
                at.saturating_sub(1),
                (at + word.len() + 1).min(line.text.len()),
            )
        };
        let together = (2, 14);
        // Of more spaces than one it is not asked what looks past them.
        let rest = (13, line.text.len());
        assert_eq!(
            runs("Alegreya", &line, 0..line.text.len()),
            [alone("un"), together, together, rest, rest]
        );
    }
}
