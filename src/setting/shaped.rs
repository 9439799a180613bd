//! A line's words, cut at its spaces and where their direction or script changes, each with its voice; and
//! the widths of stretches of it.

use std::ops::Range;
use std::sync::{Arc, OnceLock};

use super::opportunities::{Opportunity, opportunities};
use super::solid::PieceKind;
use super::sources::words_of;
use crate::names::{Direction, Length, LinesRun};
use crate::text::{Ruby, Run, Style, TextLine, paragraph};
use crate::typeface::{
    Base, FontStyle, Level, Levels, ScriptRun, ShapedWord, Shaper, ShapingContext, script_runs,
};

/// A line of text, ready to be measured and placed.
#[derive(Clone, Debug)]
pub struct ShapedLine {
    /// The words and inner spaces, mark-up left out.
    pub text: String,
    /// Its words in order; between two words lie only spaces and tabs.
    pub words: Vec<LineWord>,
    /// From where on words have which voice, in order; each begins within a word or where one does.
    pub(super) voices: Vec<(usize, FontStyle)>,
    /// Which bytes of the manuscript the text's bytes are: (byte of the text, byte of the manuscript,
    /// length), in order. Empty for words that the program adds.
    pub(super) sources: Vec<(usize, usize, usize)>,
    /// Whether runs of white space of the manuscript are one space here.
    pub(super) is_paragraph: bool,
    /// The levels of its characters.
    pub(super) levels: Levels,
    /// The stretches of one level and script.
    pub(super) stretches: Vec<ScriptRun>,
    /// The large initial that opens it, if any.
    pub drop: Option<DropCap>,
    /// Which way it runs on its panel.
    pub(super) lines_run: LinesRun,
    /// The readings above words of it, in order.
    pub(super) rubies: Vec<Ruby>,
    /// Where its second half begins, and how wide the space before that is beyond a plain one, where it stands below others.
    pub(super) caesura: Option<(usize, Length)>,
    /// The words of the whole line as they stand together, once they have been shaped.
    pub(super) whole: OnceLock<Arc<[SetWord]>>,
}

/// A word, or a part of one in its own voice, as it is shaped within a stretch of a line.
#[derive(Clone, Debug)]
pub struct SetWord {
    /// Its bytes in the line's text.
    pub text: Range<usize>,
    /// How it is set.
    pub voice: FontStyle,
    /// What stands beside it.
    pub context: ShapingContext,
    /// Its glyphs.
    pub shaped: Arc<ShapedWord>,
    /// What it is shaped as.
    pub kind: PieceKind,
}

impl SetWord {
    /// Whether it is shaped with no other word.
    pub(super) fn is_by_itself(&self) -> bool {
        let (from, to) = self.context.run;
        from + 1 >= self.text.start && to <= self.text.end + 1
    }

    /// The whole word as it stands in another context, which has no space that its own has not; nothing where it has to be
    /// shaped for that.
    pub(super) fn shaped_alike(
        &self,
        text: &Range<usize>,
        context: ShapingContext,
    ) -> Option<Arc<ShapedWord>> {
        let own = self.context;
        let begins = own.space_before == context.space_before || !self.shaped.bound.0;
        let ends = own.space_behind == context.space_behind || !self.shaped.bound.1;
        if *text != self.text || !self.is_by_itself() || !begins || !ends {
            return None;
        }
        Some(match context.space_before {
            true => Arc::clone(&self.shaped),
            false => Arc::new(self.shaped.without_space()),
        })
    }
}

/// A large initial over several grid lines.
#[derive(Clone, Debug, PartialEq)]
pub struct DropCap {
    /// Its bytes in the line's text; what follows them is set as usual.
    pub text: Range<usize>,
    /// How it is set.
    pub voice: FontStyle,
    /// How many grid lines it stands over.
    pub lines: u32,
    /// How far its ink begins to the right of its left edge; below nothing where it sticks out.
    pub bearing: Length,
    /// The width of its ink with the gap behind it.
    pub width: Length,
    /// Its width with the white at its sides.
    pub advance: Length,
    /// The gap between its ink and the words beside it.
    pub gap: Length,
}

/// A word of a line.
#[derive(Clone, Debug, PartialEq)]
pub struct LineWord {
    /// Its bytes in the line's text.
    pub text: Range<usize>,
}

impl ShapedLine {
    /// Cuts runs of the manuscript into words. `voice` tells how a stress is set.
    pub fn from_runs(source: &str, runs: &[Run], voice: impl Fn(&Run) -> FontStyle) -> ShapedLine {
        let mut text = String::new();
        let mut voices = Vec::new();
        let mut sources = Vec::new();
        for run in runs {
            voices.push((text.len(), voice(run)));
            sources.push((text.len(), run.from, run.to - run.from));
            text.push_str(&source[run.from..run.to]);
        }
        ShapedLine::new(text, &voices, sources)
    }

    /// The words of a paragraph, runs of white space folded to one space. `voice` tells by the number of a word
    /// how a style is set.
    pub fn from_paragraph(
        source: &str,
        line: &TextLine,
        voice: impl Fn(usize, Style) -> FontStyle,
    ) -> ShapedLine {
        let mut text = String::new();
        let mut voices: Vec<(usize, FontStyle)> = Vec::new();
        let mut sources: Vec<(usize, usize, usize)> = Vec::new();
        let mut word = 0;
        paragraph::join(source, line, |piece| {
            if piece.space_before {
                text.push(' ');
                word += 1;
            }
            let voice = voice(word, piece.style);
            if voices.last().is_none_or(|last| last.1 != voice) {
                voices.push((text.len(), voice));
            }
            let (at, from) = (text.len(), piece.bytes.start);
            // Words that stand in the manuscript as they do in the text, with one space between, are one entry.
            match sources.last_mut() {
                Some((text, bytes, length))
                    if from - *bytes == at - *text
                        && matches!(&source[*bytes + *length..from], "" | " ") =>
                {
                    *length = piece.bytes.end - *bytes;
                }
                _ => sources.push((at, from, piece.bytes.len())),
            }
            text.push_str(&source[piece.bytes]);
        });
        ShapedLine {
            is_paragraph: true,
            ..ShapedLine::new(text, &voices, sources)
        }
    }

    /// Words that the program adds, all in one voice.
    pub fn added(text: &str, voice: FontStyle) -> ShapedLine {
        ShapedLine::new(text.to_string(), &[(0, voice)], Vec::new())
    }

    fn new(
        mut text: String,
        voices: &[(usize, FontStyle)],
        mut sources: Vec<(usize, usize, usize)>,
    ) -> ShapedLine {
        let mut words = Vec::with_capacity(words_of(&text).count());
        let mut own: Vec<(usize, FontStyle)> = Vec::new();
        for word in words_of(&text) {
            let at = voices
                .partition_point(|(from, _)| *from <= word.start)
                .saturating_sub(1);
            let inside = voices[at..].iter().take_while(|(from, _)| *from < word.end);
            own.extend(inside.map(|&(from, voice)| (from.max(word.start), voice)));
            // Runs that differ only in where they stand in the manuscript are shaped as one.
            own.dedup_by_key(|(_, voice)| *voice);
            words.push(LineWord { text: word });
        }
        own.shrink_to_fit();
        sources.shrink_to_fit();
        text.shrink_to_fit();
        let levels = Levels::of(&text, Base::default());
        ShapedLine {
            stretches: script_runs(&text, &levels),
            levels,
            text,
            words,
            voices: own,
            sources,
            is_paragraph: false,
            drop: None,
            lines_run: LinesRun::Across,
            rubies: Vec::new(),
            caesura: None,
            whole: OnceLock::new(),
        }
    }

    /// The line with readings, which are given in bytes of the manuscript.
    pub fn with_readings(self, rubies: &[Ruby]) -> ShapedLine {
        let in_text = rubies.iter().map(|ruby| {
            let reading = self.text_of_source(ruby.reading.start);
            Ruby {
                base: self.text_of_source(ruby.base.start)..reading,
                reading: reading..reading + ruby.reading.len(),
            }
        });
        ShapedLine {
            rubies: in_text.collect(),
            whole: OnceLock::new(),
            ..self
        }
    }

    /// Where a stretch of the line may be broken, `language` being a BCP 47 tag: as if no readings stood in it, and
    /// never within a base or between it and its reading.
    pub fn opportunities(&self, stretch: Range<usize>, language: &str) -> Vec<Opportunity> {
        let start = stretch.start;
        let moved =
            |place: Opportunity, end: usize, next: usize| Opportunity { end, next, ..place };
        if self.rubies.is_empty() {
            let found = opportunities(&self.text[stretch], language).into_iter();
            let found = found.map(|place| moved(place, place.end + start, place.next + start));
            return found.collect();
        }
        let inside =
            |ruby: &&Ruby| stretch.start <= ruby.base.start && ruby.reading.end <= stretch.end;
        let rubies: Vec<&Ruby> = self.rubies.iter().filter(inside).collect();
        let mut bare = String::with_capacity(stretch.len());
        let mut from = start;
        // Where each base begins and ends in the bare text, and how long the readings are up to there.
        let mut bases: Vec<(Range<usize>, usize)> = Vec::with_capacity(rubies.len());
        let mut left_out = 0;
        for ruby in rubies {
            bare.push_str(&self.text[from..ruby.base.end]);
            left_out += ruby.reading.len();
            bases.push((bare.len() - ruby.base.len()..bare.len(), left_out));
            from = ruby.reading.end;
        }
        bare.push_str(&self.text[from..stretch.end]);
        let in_line = |at: usize| {
            let passed = bases.partition_point(|(base, _)| base.end <= at);
            let readings = passed.checked_sub(1).map_or(0, |last| bases[last].1);
            start + at + readings
        };
        let cuts_base = |at: usize| {
            let next = bases.partition_point(|(base, _)| base.end <= at);
            bases.get(next).is_some_and(|(base, _)| base.start < at)
        };
        let found = opportunities(&bare, language).into_iter();
        found
            .filter(|place| !cuts_base(place.end) && !cuts_base(place.next))
            .map(|place| moved(place, in_line(place.end), in_line(place.next)))
            .collect()
    }

    /// The line with another base direction than that of its first strong character.
    pub fn read_as(self, base: Base) -> ShapedLine {
        let levels = Levels::of(&self.text, base);
        if levels == self.levels {
            return self;
        }
        ShapedLine {
            stretches: script_runs(&self.text, &levels),
            levels,
            whole: OnceLock::new(),
            ..self
        }
    }

    /// The line as it is where lines run this way.
    pub fn running(self, lines_run: LinesRun) -> ShapedLine {
        ShapedLine {
            lines_run,
            whole: OnceLock::new(),
            ..self
        }
    }

    /// The words of the whole line as they stand together, if they have been shaped. Two lines that have the very same are
    /// made of the same.
    pub fn words_as_set(&self) -> Option<&Arc<[SetWord]>> {
        self.whole.get()
    }

    /// Which way the line reads as a whole.
    pub fn reads(&self) -> Direction {
        self.levels.base()
    }

    /// The embedding level of the line as a whole.
    pub fn base_level(&self) -> Level {
        self.levels.base_level()
    }

    /// The direction and the script of what stands at a byte.
    pub fn context_at(&self, at: usize) -> ShapingContext {
        let next = self.stretches.partition_point(|stretch| stretch.from <= at);
        let stretch = self.stretches.get(next.saturating_sub(1));
        stretch.map_or_else(ShapingContext::default, |stretch| ShapingContext {
            level: stretch.level,
            script: stretch.script,
            ..ShapingContext::default()
        })
    }

    /// The level of the spaces before the word at a byte.
    pub fn level_of_space(&self, word: usize) -> Level {
        // A tab has the line's own level, and so has a space before it.
        self.levels.at(self.trimmed_end(word))
    }

    /// Where the words that are set as usual begin: behind the large initial and a space that may follow it.
    pub fn start(&self) -> usize {
        let Some(drop) = &self.drop else { return 0 };
        let behind = &self.text[drop.text.end..];
        self.text.len() - behind.trim_start_matches([' ', '\t']).len()
    }

    /// The width of a stretch of the text that stands on a line by itself; spaces at its ends do not count.
    pub fn width(&self, shaper: &Shaper<'_>, stretch: Range<usize>) -> Length {
        self.width_of(shaper, &self.set(shaper, stretch))
    }

    /// The width of words as they stand on a line.
    pub fn width_of(&self, shaper: &Shaper<'_>, words: &[SetWord]) -> Length {
        let mut width = Length::ZERO;
        for word in words {
            width += word.shaped.width;
            if word.context.space_before {
                width += word.shaped.space_width;
                width += self.extra_space(shaper, word.text.start, word.voice);
            }
        }
        width
    }

    /// About the width of a stretch of whole words, from their widths within the whole line: not counted is
    /// how words change at the ends of a line. Nothing for a stretch that cuts a word.
    pub fn estimate(&self, shaper: &Shaper<'_>, stretch: Range<usize>) -> Option<Length> {
        let cuts = |word: &LineWord| {
            let inside = |at: usize| word.text.start < at && at < word.text.end;
            inside(stretch.start) || inside(stretch.end)
        };
        if self.words.iter().any(cuts) {
            return None;
        }
        let whole = self.set(shaper, self.start()..self.trimmed_end(self.text.len()));
        let first = whole.partition_point(|word| word.text.start < stretch.start);
        let words = whole[first..]
            .iter()
            .take_while(|word| word.text.end <= stretch.end);
        let wide = |word: &SetWord| {
            let mut width = word.shaped.width;
            if word.context.space_before && word.text.start > stretch.start {
                width += word.shaped.space_width;
                width += self.extra_space(shaper, word.text.start, word.voice);
            }
            width
        };
        Some(words.map(wide).sum())
    }

    /// The space before the word at byte `at` beyond the one that is shaped with it: of a run of spaces
    /// each counts, and a tab is two ems. Before a second half that stands below others it is what takes it there.
    pub fn extra_space(&self, shaper: &Shaper<'_>, at: usize, voice: FontStyle) -> Length {
        if let Some((_, wide)) = self.caesura.filter(|(begins, _)| *begins == at) {
            return wide;
        }
        let before = &self.text[..at];
        let spaces = &before[before.trim_end_matches([' ', '\t']).len()..];
        if spaces == " " {
            return Length::ZERO;
        }
        let tabs = spaces.matches('\t').count() as i64;
        let plain = spaces.len() as i64 - tabs;
        // One space of the run is the word's own.
        shaper.space(voice) * (plain - 1) + voice.size * (2 * tabs)
    }

    /// The byte after the last space-free character of a stretch that ends at `to`.
    pub fn trimmed_end(&self, to: usize) -> usize {
        self.text[..to].trim_end_matches([' ', '\t']).len()
    }
}
