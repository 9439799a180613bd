//! Words into glyphs: which face has which cluster, cut by script, and remembered.

use std::ops::Range;
use std::sync::{Arc, Mutex};

use rustc_hash::FxHashMap;
use unicode_segmentation::UnicodeSegmentation;

use super::around::{self, ShapingContext, WordSurroundings};
use super::capitals::Capitals;
use super::faces::FaceSpan;
use super::known::{Known, lock};
use super::posture::Posture;
use super::script::Script;
use super::shape::ShapeRequest;
use super::shaped::{Emphasis, FontStyle, GlyphSegment, Letters, ShapedWord};
use super::spacing;
use super::{Face, Glyph, Typeface};
use crate::names::{Direction, Feature, Length};

/// All that the shape of a word depends on.
#[derive(PartialEq, Eq, Hash)]
pub(super) struct WordKey {
    pub text: String,
    pub word: Range<usize>,
    /// Whether a space stands before it that is not in the text.
    pub space_apart: bool,
    /// The characters that its letters join before it and behind it, where letters of its script join.
    joined: (String, String),
    pub voice: FontStyle,
    pub script: Script,
    pub reads: Direction,
    pub posture: Posture,
}

/// All that the shape of several words depends on, their face by its address.
#[derive(PartialEq, Eq, Hash)]
struct RunKey {
    face: usize,
    text: String,
    joined: (String, String),
    letters: Letters,
    script: Script,
    reads: Direction,
}

/// The most such words that are remembered at a time.
const RUNS: usize = 1024;

/// Shapes words of one language, and remembers them for all that shape words in the typeface.
pub struct Shaper<'a> {
    pub(super) typeface: &'a Typeface,
    pub(super) language: &'a str,
    /// What is known of its words, to all that shape words in the typeface.
    pub(super) known: Arc<Known>,
    runs: Mutex<FxHashMap<RunKey, Arc<[Glyph]>>>,
    /// The advance of the space of each face, in its units, by the face's address.
    spaces: Mutex<Vec<(usize, i32)>>,
}

impl<'a> Shaper<'a> {
    /// A shaper for words of `language` (a BCP 47 tag).
    pub fn new(typeface: &'a Typeface, language: &'a str) -> Shaper<'a> {
        Shaper {
            typeface,
            language,
            known: typeface.known.of(language),
            runs: Mutex::default(),
            spaces: Mutex::default(),
        }
    }

    /// The typeface that it shapes words in.
    pub fn typeface(&self) -> &'a Typeface {
        self.typeface
    }

    /// The main face for a stress.
    pub fn face(&self, stress: Emphasis) -> &'a Arc<Face> {
        self.typeface.main.face(stress)
    }

    /// The face of a voice.
    pub fn face_of(&self, voice: FontStyle) -> &'a Arc<Face> {
        self.typeface.family(voice.family).face(voice.stress)
    }

    /// Whether neighbouring words in a voice may be shaped otherwise for each other, with these spaces between.
    pub fn looks_past(&self, spaces: &str, words: (&str, &str), voice: FontStyle) -> bool {
        let face = self.face_of(voice);
        let alone = spaces == " " && voice.letters != Letters::Capitals;
        match alone {
            true => face.looks_past_space(words.0, words.1),
            false => face.looks_past_spaces(),
        }
    }

    /// The advance of the main face's space, not kerned.
    pub fn space(&self, voice: FontStyle) -> Length {
        let face = self.face_of(voice);
        face.scale(self.space_units(face), voice.size) + voice.tracking
    }

    fn space_units(&self, face: &Arc<Face>) -> i32 {
        let address = Arc::as_ptr(face) as usize;
        let mut spaces = lock(&self.spaces);
        if let Some((_, known)) = spaces.iter().find(|(face, _)| *face == address) {
            return *known;
        }
        let features = &self.typeface.features;
        let shaped = face.shaper().shape(&self.lone_space(features));
        let units = shaped.iter().map(|glyph| glyph.advance).sum();
        spaces.push((address, units));
        units
    }

    fn lone_space<'f>(&'f self, features: &'f [Feature]) -> ShapeRequest<'f> {
        ShapeRequest {
            text: " ",
            joined: ("", ""),
            script: Script::LATIN,
            reads: Direction::LeftToRight,
            language: self.language,
            features,
            upright: false,
        }
    }

    /// Shapes a word that stands by itself, from left to right unless the context says otherwise. `script` is
    /// that of the words around it, for words without one of their own.
    pub fn word(
        &self,
        word: &str,
        voice: FontStyle,
        context: ShapingContext,
        script: Script,
    ) -> Arc<ShapedWord> {
        let own = word.chars().find_map(Script::of);
        let script = own.unwrap_or(script);
        self.word_of(
            word,
            0..word.len(),
            voice,
            ShapingContext { script, ..context },
        )
    }

    /// Shapes a word of a line, or a part of one: all of it runs one way and is of one script.
    pub fn word_of(
        &self,
        line: &str,
        word: Range<usize>,
        voice: FontStyle,
        context: ShapingContext,
    ) -> Arc<ShapedWord> {
        let joined = match context.script.joins() {
            true => around::joined(line, &word),
            false => ("", ""),
        };
        let WordSurroundings { text, word } = WordSurroundings::new(line, word, context);
        let key = WordKey {
            text,
            word,
            space_apart: context.space_before && context.space_apart,
            joined: (joined.0.to_string(), joined.1.to_string()),
            voice,
            script: context.script,
            reads: context.level.reads(),
            posture: context.posture,
        };
        if let Some(known) = self.known.word(&key) {
            return known;
        }
        let shaped = self
            .stood_word(&key)
            .unwrap_or_else(|| self.shape_word(&key));
        let shaped = Arc::new(shaped);
        // Where several words are shaped together, these are remembered instead.
        if key.text.len() <= key.word.len() + 2 {
            self.known.keep_word(key, &shaped);
        }
        shaped
    }

    fn shape_word(&self, key: &WordKey) -> ShapedWord {
        let voice = key.voice;
        let word = &key.text[key.word.clone()];
        let (before, behind) = (&key.text[..key.word.start], &key.text[key.word.end..]);
        let items = self.itemise(word, voice, key.script, key.reads);
        let mut shaped = ShapedWord::empty(items.len());
        let main = self.face_of(voice);
        for (index, item) in items.iter().enumerate() {
            // The space belongs to the main face; it is shaped with what follows in that face.
            let in_main = Arc::ptr_eq(item.face, main);
            let (first, last) = (index == 0, index + 1 == items.len());
            let alike = |other: &str| self.is_alike(other, item, voice);
            let lead = if first && in_main {
                around::nearest_before(before, alike)
            } else {
                ""
            };
            let tail = if last && in_main {
                around::nearest_behind(behind, alike)
            } else {
                ""
            };
            let text = [lead, &word[item.from..item.to], tail].concat();
            let joined = match (item.script.joins(), first, last) {
                (false, ..) => ("", ""),
                (true, true, true) => (&*key.joined.0, &*key.joined.1),
                (true, true, false) => (&*key.joined.0, &word[item.to..]),
                (true, false, true) => (&word[..item.from], &*key.joined.1),
                (true, false, false) => (&word[..item.from], &word[item.to..]),
            };
            let glyphs = self.glyphs(item, text, joined, voice);
            let bound = |at: usize| {
                let mut at = glyphs.iter().filter(|glyph| glyph.cluster as usize == at);
                at.next().is_none_or(|glyph| glyph.bound)
            };
            if first {
                shaped.bound.0 = !lead.is_empty() && bound(lead.len());
            }
            if last {
                shaped.bound.1 = !tail.is_empty() && bound(lead.len() + item.to - item.from);
            }
            self.take_item(word, item, lead, &glyphs, voice, &mut shaped);
        }
        self.give_space(key.space_apart || !before.is_empty(), voice, &mut shaped);
        shaped
    }

    /// Gives a word before which a space stands that space, unless it has been shaped with it.
    pub(super) fn give_space(&self, spaced: bool, voice: FontStyle, shaped: &mut ShapedWord) {
        if spaced && shaped.space.is_none() {
            let main = self.face_of(voice);
            let features = self.features(voice);
            let glyphs = main.shaper().shape(&self.lone_space(&features));
            shaped.space = glyphs.first().map(|glyph| (Arc::clone(main), *glyph));
        }
        if let Some((face, glyph)) = &shaped.space {
            shaped.space_width = face.scale(glyph.advance, voice.size) + voice.tracking;
        }
    }

    /// Shapes the text of an item with its surroundings. Words that are shaped together, once for each of them, are remembered
    /// for a while.
    fn glyphs(
        &self,
        item: &FaceSpan<'_>,
        text: String,
        joined: (&str, &str),
        voice: FontStyle,
    ) -> Arc<[Glyph]> {
        let features = self.features(voice);
        let shape = |text: &str| -> Arc<[Glyph]> {
            let asked = ShapeRequest {
                text,
                joined,
                script: item.script,
                reads: item.reads,
                language: self.language,
                features: &features,
                upright: false,
            };
            self.shape(item.face, &asked, voice).into()
        };
        if !text.trim().contains(' ') {
            return shape(&text);
        }
        let key = RunKey {
            face: Arc::as_ptr(item.face) as usize,
            text,
            joined: (joined.0.to_string(), joined.1.to_string()),
            letters: voice.letters,
            script: item.script,
            reads: item.reads,
        };
        if let Some(known) = lock(&self.runs).get(&key) {
            return Arc::clone(known);
        }
        let shaped = shape(&key.text);
        let mut runs = lock(&self.runs);
        if runs.len() >= RUNS {
            runs.clear();
        }
        runs.insert(key, Arc::clone(&shaped));
        shaped
    }

    /// Sorts the glyphs of a shaped item into the space before, the word, and what stands behind. `lead`
    /// stands before the word; of several spaces at its end the last one takes what the others are wider
    /// than a space by itself.
    pub(super) fn take_item(
        &self,
        word: &str,
        item: &FaceSpan<'_>,
        lead: &str,
        glyphs: &[Glyph],
        voice: FontStyle,
        shaped: &mut ShapedWord,
    ) {
        let mut kept: Vec<Glyph> = Vec::with_capacity(glyphs.len());
        let mut wider = 0;
        for glyph in glyphs {
            let at = glyph.cluster as usize;
            if at + 1 < lead.len() {
                if lead[at..].trim_start().is_empty() {
                    wider += glyph.advance - self.space_units(item.face);
                }
                continue;
            }
            if at < lead.len() {
                shaped.space = Some((
                    Arc::clone(item.face),
                    Glyph {
                        cluster: 0,
                        advance: glyph.advance + wider,
                        ..*glyph
                    },
                ));
                continue;
            }
            let at = at - lead.len() + item.from;
            if at >= item.to || is_ignorable_cluster(word, at, glyph) {
                continue;
            }
            if glyph.id == 0 || !item.covered {
                let length = word[at..].graphemes(true).next().map_or(1, str::len);
                shaped.missing.push((at, length));
            }
            kept.push(Glyph {
                cluster: at as u32,
                ..*glyph
            });
        }
        shaped.missing.sort_unstable();
        shaped.missing.dedup();
        if !item.script.is_connected() {
            spacing::space(&mut kept, word, item, voice);
        }
        let units = kept.iter().map(|glyph| glyph.advance).sum();
        shaped.width += item.face.scale(units, voice.size);
        shaped.segments.push(GlyphSegment {
            face: Arc::clone(item.face),
            to: item.to,
            glyphs: kept,
            upright: false,
            above: None,
        });
    }

    /// The features that words in a voice are shaped with.
    pub(super) fn features(&self, voice: FontStyle) -> Vec<Feature> {
        let mut features = self.typeface.features.clone();
        let tags: &[&[u8; 4]] = match voice.letters {
            Letters::AsWritten | Letters::Capitals => &[],
            Letters::SmallCapitals => &[b"smcp"],
            Letters::AllSmallCapitals => &[b"smcp", b"c2sc"],
            Letters::SmallFromCapitals => &[b"c2sc"],
        };
        features.extend(tags.iter().map(|tag| Feature {
            tag: **tag,
            value: 1,
        }));
        features
    }

    /// Shapes a text in a voice; where its letters are drawn as capitals, each glyph stands for what was written.
    pub(super) fn shape(
        &self,
        face: &Face,
        asked: &ShapeRequest<'_>,
        voice: FontStyle,
    ) -> Vec<Glyph> {
        if voice.letters != Letters::Capitals {
            return face.shaper().shape(asked);
        }
        let capitals = Capitals::of(asked.text, asked.language);
        let text = capitals.text();
        let shaped = face.shaper().shape(&ShapeRequest { text, ..*asked });
        let written = shaped.into_iter().map(|glyph| Glyph {
            cluster: capitals.written(glyph.cluster as usize) as u32,
            ..glyph
        });
        written.collect()
    }
}

/// Whether a glyph stands for nothing but default-ignorable characters, and is left out.
fn is_ignorable_cluster(word: &str, at: usize, glyph: &Glyph) -> bool {
    glyph.advance == 0
        && word[at..]
            .graphemes(true)
            .next()
            .is_some_and(|cluster| cluster.chars().all(super::face::is_ignorable))
}
