//! Words into glyphs: which face has which cluster, cut by script, and remembered.

use std::cell::RefCell;
use std::collections::HashMap;
use std::ops::Range;
use std::rc::Rc;
use std::sync::Arc;

use unicode_segmentation::UnicodeSegmentation;

use super::around::{self, Around, Context};
use super::shape::Script;
use super::tables::Reach;
use super::{Face, Glyph, Typeface};
use crate::plan::Feature;
use crate::units::Length;

/// How words are stressed.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub enum Stress {
    /// The upright.
    #[default]
    Plain,
    /// The italic.
    Italic,
    /// The bold.
    Bold,
}

/// How a stretch of words is set.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub struct Voice {
    /// Which face of the family.
    pub stress: Stress,
    /// Whether lower case becomes small capitals.
    pub small_caps: bool,
    /// The type size.
    pub size: Length,
    /// Space added behind every cluster.
    pub tracking: Length,
}

/// Glyphs of one face within a word.
#[derive(Clone, Debug)]
pub struct GlyphSegment {
    /// The face.
    pub face: Arc<Face>,
    /// One past the last byte of the word that the segment holds.
    pub to: usize,
    /// The glyphs, clusters counted from the word's first byte; those of the space before it, if it was
    /// shaped with the word, are in [`ShapedWord::space`].
    pub glyphs: Vec<Glyph>,
}

/// A word, shaped.
#[derive(Clone, Debug)]
pub struct ShapedWord {
    /// The space before it, where the context has one: its glyph and the face it is of. Its advance is
    /// kerned with the word.
    pub space: Option<(Arc<Face>, Glyph)>,
    /// The word's glyphs by face, in order.
    pub segments: Vec<GlyphSegment>,
    /// Width of the space before it.
    pub space_width: Length,
    /// Width of the word without the space.
    pub width: Length,
    /// The first byte of each cluster that no face has, with its length.
    pub missing: Vec<(usize, usize)>,
}

impl ShapedWord {
    fn empty(segments: usize) -> ShapedWord {
        ShapedWord {
            space: None,
            segments: Vec::with_capacity(segments),
            space_width: Length::ZERO,
            width: Length::ZERO,
            missing: Vec::new(),
        }
    }
}

#[derive(PartialEq, Eq, Hash)]
struct WordKey {
    text: String,
    word: Range<usize>,
    voice: Voice,
    script: Script,
}

/// A text that is shaped whole, by the address of its face.
#[derive(PartialEq, Eq, Hash)]
struct RunKey {
    face: usize,
    text: String,
    small_caps: bool,
    script: Script,
}

/// Whole lines that are remembered at a time.
const RUNS: usize = 1024;

/// Shapes the words of one part and remembers them.
pub struct Shaper<'a> {
    typeface: &'a Typeface,
    language: &'a str,
    words: RefCell<HashMap<WordKey, Arc<ShapedWord>>>,
    runs: RefCell<HashMap<RunKey, Rc<[Glyph]>>>,
    kinds: RefCell<HashMap<(Stress, Script), HashMap<String, Kind>>>,
}

/// The one face, by its address, and the one script of a word; nothing for a word of several, or of
/// characters that no face has.
type Kind = Option<(usize, Script)>;

/// A stretch of a word that one face sets in one script.
struct Item<'t> {
    face: &'t Arc<Face>,
    script: Script,
    from: usize,
    to: usize,
    covered: bool,
}

impl<'a> Shaper<'a> {
    /// A shaper for words of `language` (a BCP 47 tag).
    pub fn new(typeface: &'a Typeface, language: &'a str) -> Shaper<'a> {
        Shaper {
            typeface,
            language,
            words: RefCell::new(HashMap::new()),
            runs: RefCell::new(HashMap::new()),
            kinds: RefCell::new(HashMap::new()),
        }
    }

    /// The main face for a stress.
    pub fn face(&self, stress: Stress) -> &'a Arc<Face> {
        self.typeface.main.face(stress)
    }

    /// The advance of the main face's space, not kerned.
    pub fn space(&self, voice: Voice) -> Length {
        let face = self.face(voice.stress);
        face.scale(self.space_units(face), voice.size) + voice.tracking
    }

    fn space_units(&self, face: &Face) -> i32 {
        let features = &self.typeface.features;
        let shaped = face
            .shaper
            .shape(" ", Script::LATIN, self.language, features);
        shaped.iter().map(|glyph| glyph.advance).sum()
    }

    /// Shapes a word that stands by itself. `script` is that of the words around it, for words without one
    /// of their own.
    pub fn word(
        &self,
        word: &str,
        voice: Voice,
        context: Context,
        script: Script,
    ) -> Arc<ShapedWord> {
        self.word_of(word, 0..word.len(), voice, context, script)
    }

    /// Shapes a word of a line.
    pub fn word_of(
        &self,
        line: &str,
        word: Range<usize>,
        voice: Voice,
        context: Context,
        script: Script,
    ) -> Arc<ShapedWord> {
        let reach = self.face(voice.stress).reach;
        let Around { text, word } = Around::new(line, word, context, reach);
        let key = WordKey {
            text,
            word,
            voice,
            script,
        };
        if let Some(known) = self.words.borrow().get(&key) {
            return Arc::clone(known);
        }
        let shaped = Arc::new(self.shape_word(&key));
        // Where the whole line counts, the lines are remembered.
        if reach != Reach::Line || key.text.len() <= key.word.len() + 2 {
            self.words.borrow_mut().insert(key, Arc::clone(&shaped));
        }
        shaped
    }

    fn shape_word(&self, key: &WordKey) -> ShapedWord {
        let voice = key.voice;
        let word = &key.text[key.word.clone()];
        let (before, behind) = (&key.text[..key.word.start], &key.text[key.word.end..]);
        let items = self.itemise(word, voice.stress, key.script);
        let mut shaped = ShapedWord::empty(items.len());
        let main = self.face(voice.stress);
        for (index, item) in items.iter().enumerate() {
            // The space belongs to the main face; it is shaped with what follows in that face.
            let in_main = Arc::ptr_eq(item.face, main);
            let alike = |other: &str| self.is_alike(other, item, voice.stress);
            let lead = if index == 0 && in_main {
                around::nearest_before(before, alike)
            } else {
                ""
            };
            let tail = if index + 1 == items.len() && in_main {
                around::nearest_behind(behind, alike)
            } else {
                ""
            };
            let text = [lead, &word[item.from..item.to], tail].concat();
            let glyphs = self.glyphs(item, text, voice);
            self.take_item(word, item, lead, &glyphs, voice, &mut shaped);
        }
        if !before.is_empty() && shaped.space.is_none() {
            let features = self.features(voice);
            let glyphs = main
                .shaper
                .shape(" ", Script::LATIN, self.language, &features);
            shaped.space = glyphs.first().map(|glyph| (Arc::clone(main), *glyph));
        }
        if let Some((face, glyph)) = &shaped.space {
            shaped.space_width = face.scale(glyph.advance, voice.size) + voice.tracking;
        }
        shaped
    }

    /// Shapes neighbouring words of one voice at once, where their face looks along whole lines and has all
    /// of them in one script; nothing where they must be shaped one by one.
    pub fn run(
        &self,
        line: &str,
        words: &[(Range<usize>, Context)],
        voice: Voice,
        script: Script,
    ) -> Option<Vec<ShapedWord>> {
        let (first, last) = (words.first()?, words.last()?);
        let main = self.face(voice.stress);
        if main.reach != Reach::Line {
            return None;
        }
        let around = line[first.0.clone()].chars().find_map(Script::of);
        let script = around.unwrap_or(script);
        let item = Item {
            face: main,
            script,
            from: 0,
            to: 0,
            covered: true,
        };
        let alike = |word: &(Range<usize>, Context)| {
            self.is_alike(&line[word.0.clone()], &item, voice.stress)
        };
        if !words.iter().all(alike) {
            return None;
        }
        let start = first.0.start - usize::from(first.1.space_before);
        let end = last.0.end + usize::from(last.1.space_behind);
        let text = line[start..end].replace('\t', " ");
        let shaper = &main.shaper;
        let mut glyphs = shaper.shape(&text, script, self.language, &self.features(voice));
        glyphs.sort_by_key(|glyph| glyph.cluster);
        let mut shaped = Vec::with_capacity(words.len());
        let mut behind = start;
        let mut next = 0;
        for (word, _) in words {
            // From the end of the word before: the spaces between, then the word.
            let until = glyphs.partition_point(|glyph| (glyph.cluster as usize) < word.end - start);
            let own = glyphs[next..until].iter();
            let own: Vec<Glyph> = own
                .map(|glyph| Glyph {
                    cluster: glyph.cluster - (behind - start) as u32,
                    ..*glyph
                })
                .collect();
            let item = Item {
                face: main,
                script,
                from: 0,
                to: word.len(),
                covered: true,
            };
            let lead = &text[behind - start..word.start - start];
            shaped.push(self.word_of_glyphs(&line[word.clone()], &item, lead, &own, voice));
            (behind, next) = (word.end, until);
        }
        Some(shaped)
    }

    fn word_of_glyphs(
        &self,
        word: &str,
        item: &Item<'_>,
        lead: &str,
        glyphs: &[Glyph],
        voice: Voice,
    ) -> ShapedWord {
        let mut shaped = ShapedWord::empty(1);
        self.take_item(word, item, lead, glyphs, voice, &mut shaped);
        if let Some((face, glyph)) = &shaped.space {
            shaped.space_width = face.scale(glyph.advance, voice.size) + voice.tracking;
        }
        shaped
    }

    /// Whether a word is of one face and script with an item.
    fn is_alike(&self, word: &str, item: &Item<'_>, stress: Stress) -> bool {
        let asked = Some((Arc::as_ptr(item.face) as usize, item.script));
        let mut kinds = self.kinds.borrow_mut();
        let known = kinds.entry((stress, item.script)).or_default();
        if let Some(kind) = known.get(word) {
            return *kind == asked;
        }
        let kind = match self.itemise(word, stress, item.script).as_slice() {
            [one] if one.covered => Some((Arc::as_ptr(one.face) as usize, one.script)),
            _ => None,
        };
        known.insert(word.to_string(), kind);
        kind == asked
    }

    /// Shapes the text of an item with its surroundings. Lines that are shaped whole, once for each of
    /// their words, are remembered for a while.
    fn glyphs(&self, item: &Item<'_>, text: String, voice: Voice) -> Rc<[Glyph]> {
        let features = self.features(voice);
        let shape = |text: &str| -> Rc<[Glyph]> {
            let shaper = &item.face.shaper;
            shaper
                .shape(text, item.script, self.language, &features)
                .into()
        };
        if item.face.reach != Reach::Line {
            return shape(&text);
        }
        let key = RunKey {
            face: Arc::as_ptr(item.face) as usize,
            text,
            small_caps: voice.small_caps,
            script: item.script,
        };
        let mut runs = self.runs.borrow_mut();
        if runs.len() >= RUNS {
            runs.clear();
        }
        let shaped = runs.get(&key).map(Rc::clone);
        shaped.unwrap_or_else(|| {
            let shaped = shape(&key.text);
            runs.insert(key, Rc::clone(&shaped));
            shaped
        })
    }

    /// Sorts the glyphs of a shaped item into the space before, the word, and what stands behind. `lead`
    /// stands before the word; of several spaces at its end the last one takes what the others are wider
    /// than a space by itself.
    fn take_item(
        &self,
        word: &str,
        item: &Item<'_>,
        lead: &str,
        glyphs: &[Glyph],
        voice: Voice,
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
                if !shaped.missing.contains(&(at, length)) {
                    shaped.missing.push((at, length));
                }
            }
            kept.push(Glyph {
                cluster: at as u32,
                ..*glyph
            });
        }
        track(&mut kept, item.face, voice);
        let units = kept.iter().map(|glyph| glyph.advance).sum();
        shaped.width += item.face.scale(units, voice.size);
        shaped.segments.push(GlyphSegment {
            face: Arc::clone(item.face),
            to: item.to,
            glyphs: kept,
        });
    }

    fn features(&self, voice: Voice) -> Vec<Feature> {
        let mut features = self.typeface.features.clone();
        if voice.small_caps {
            features.push(Feature {
                tag: *b"smcp",
                value: 1,
            });
        }
        features
    }

    /// Cuts a word where the face or the script changes. Never within a grapheme cluster.
    fn itemise(&self, word: &str, stress: Stress, around: Script) -> Vec<Item<'_>> {
        let mut items: Vec<Item<'_>> = Vec::new();
        let first = word.chars().find_map(Script::of).unwrap_or(around);
        for (from, cluster) in word.grapheme_indices(true) {
            let (face, covered) = self.face_for(cluster, stress);
            let last = items.last();
            let inherited = last.map_or(first, |item| item.script);
            let script = cluster.chars().find_map(Script::of).unwrap_or(inherited);
            let to = from + cluster.len();
            match items.last_mut() {
                Some(item)
                    if Arc::ptr_eq(item.face, face)
                        && item.script == script
                        && item.covered == covered =>
                {
                    item.to = to;
                }
                _ => items.push(Item {
                    face,
                    script,
                    from,
                    to,
                    covered,
                }),
            }
        }
        items
    }

    fn face_for(&self, cluster: &str, stress: Stress) -> (&Arc<Face>, bool) {
        let main = self.face(stress);
        let families = self.typeface.fallback.iter();
        let others = families.flat_map(|family| [family.face(stress), &family.regular]);
        let candidates = [main, &self.typeface.main.regular]
            .into_iter()
            .chain(others);
        match candidates.into_iter().find(|face| face.covers(cluster)) {
            Some(face) => (face, true),
            None => (main, false),
        }
    }
}

/// A glyph that stands for nothing but default-ignorable characters is left out.
fn is_ignorable_cluster(word: &str, at: usize, glyph: &Glyph) -> bool {
    glyph.advance == 0
        && word[at..]
            .graphemes(true)
            .next()
            .is_some_and(|cluster| cluster.chars().all(super::face::is_ignorable))
}

/// Adds the tracking to the last glyph of each cluster.
fn track(glyphs: &mut [Glyph], face: &Face, voice: Voice) {
    if voice.tracking == Length::ZERO || voice.size == Length::ZERO {
        return;
    }
    let upem = i64::from(face.metrics().units_per_em);
    let units = voice.tracking.scaled(upem, voice.size.units()).units() as i32;
    for at in 0..glyphs.len() {
        let next = glyphs.get(at + 1).map(|glyph| glyph.cluster);
        if next != Some(glyphs[at].cluster) {
            glyphs[at].advance += units;
        }
    }
}
