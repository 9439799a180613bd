//! Words into glyphs: which face has which cluster, cut by script, and remembered.

use std::cell::RefCell;
use std::collections::HashMap;
use std::rc::Rc;
use std::sync::Arc;

use unicode_segmentation::UnicodeSegmentation;

use super::shape::Script;
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

/// Whether a space of the same line stands beside a word: many faces kern with the space.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Hash)]
pub struct Context {
    /// A space stands before the word; it is shaped with it and its glyphs come first.
    pub space_before: bool,
    /// A space stands behind the word.
    pub space_behind: bool,
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

#[derive(PartialEq, Eq, Hash)]
struct WordKey {
    word: String,
    voice: Voice,
    context: Context,
    script: Script,
}

/// Shapes the words of one part and remembers them.
pub struct Shaper<'a> {
    typeface: &'a Typeface,
    language: &'a str,
    words: RefCell<HashMap<WordKey, Rc<ShapedWord>>>,
}

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
        }
    }

    /// The main face for a stress.
    pub fn face(&self, stress: Stress) -> &'a Arc<Face> {
        self.typeface.main.face(stress)
    }

    /// The advance of the main face's space, not kerned.
    pub fn space(&self, voice: Voice) -> Length {
        let shaped = self.face(voice.stress).shaper.shape(
            " ",
            Script::LATIN,
            self.language,
            &self.typeface.features,
        );
        let units = shaped.iter().map(|glyph| glyph.advance).sum();
        self.face(voice.stress).scale(units, voice.size) + voice.tracking
    }

    /// Shapes a word. `script` is that of the words around it, for words without one of their own.
    pub fn word(
        &self,
        word: &str,
        voice: Voice,
        context: Context,
        script: Script,
    ) -> Rc<ShapedWord> {
        let key = WordKey {
            word: word.to_string(),
            voice,
            context,
            script,
        };
        if let Some(known) = self.words.borrow().get(&key) {
            return Rc::clone(known);
        }
        let shaped = Rc::new(self.shape_word(word, voice, context, script));
        self.words.borrow_mut().insert(key, Rc::clone(&shaped));
        shaped
    }

    fn shape_word(&self, word: &str, voice: Voice, context: Context, script: Script) -> ShapedWord {
        let features = self.features(voice);
        let items = self.itemise(word, voice.stress, script);
        let mut shaped = ShapedWord {
            space: None,
            segments: Vec::with_capacity(items.len()),
            space_width: Length::ZERO,
            width: Length::ZERO,
            missing: Vec::new(),
        };
        let main = self.face(voice.stress);
        for (index, item) in items.iter().enumerate() {
            // The space belongs to the main face; it is shaped with what follows in that face.
            let with_space = index == 0 && context.space_before && Arc::ptr_eq(item.face, main);
            let then_space =
                index + 1 == items.len() && context.space_behind && Arc::ptr_eq(item.face, main);
            let text = format!(
                "{}{}{}",
                if with_space { " " } else { "" },
                &word[item.from..item.to],
                if then_space { " " } else { "" }
            );
            let glyphs = item
                .face
                .shaper
                .shape(&text, item.script, self.language, &features);
            self.take_item(word, item, with_space, &glyphs, voice, &mut shaped);
        }
        if context.space_before && shaped.space.is_none() {
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

    /// Sorts the glyphs of a shaped item into the space before, the word, and the space behind.
    fn take_item(
        &self,
        word: &str,
        item: &Item<'_>,
        with_space: bool,
        glyphs: &[Glyph],
        voice: Voice,
        shaped: &mut ShapedWord,
    ) {
        let lead = usize::from(with_space);
        let mut kept: Vec<Glyph> = Vec::with_capacity(glyphs.len());
        for glyph in glyphs {
            let at = glyph.cluster as usize;
            if at < lead {
                shaped.space = Some((
                    Arc::clone(item.face),
                    Glyph {
                        cluster: 0,
                        ..*glyph
                    },
                ));
                continue;
            }
            let at = at - lead + item.from;
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
