//! Shaping: the one file that knows rustybuzz.

use std::str::FromStr;
use std::sync::{Arc, Mutex};

use rustybuzz::{
    Direction as ShapingDirection, Language, ShapePlan, UnicodeBuffer, ttf_parser::Tag,
};

use super::known::lock;
use super::tables::FACE;
use super::{Glyph, Script, posture};
use crate::names::{Direction, Feature};

/// A text to be shaped, and how.
pub(super) struct ShapeRequest<'a> {
    /// The text, all of one script, in logical order.
    pub text: &'a str,
    /// The characters that its letters join before it and behind it, if any.
    pub joined: (&'a str, &'a str),
    pub script: Script,
    pub reads: Direction,
    pub language: &'a str,
    pub features: &'a [Feature],
    /// Whether its signs stand upright below each other.
    pub upright: bool,
}

/// A shape plan and what it is made for. A face has a handful of them.
struct CachedPlan {
    script: Script,
    reads: Direction,
    language: String,
    features: Vec<Feature>,
    upright: bool,
    plan: Arc<ShapePlan>,
}

/// A face as the shaper sees it, with the shape plans made so far: a fresh plan for each word would cost
/// several times the shaping.
pub(super) struct ShapeFace<'a> {
    face: rustybuzz::Face<'a>,
    plans: Mutex<Vec<CachedPlan>>,
    /// The buffer of the last shaping, to be used again.
    buffer: Mutex<Option<UnicodeBuffer>>,
}

impl<'a> ShapeFace<'a> {
    pub(super) fn read(data: &'a [u8]) -> Option<ShapeFace<'a>> {
        rustybuzz::Face::from_slice(data, FACE).map(|face| ShapeFace {
            face,
            plans: Mutex::new(Vec::new()),
            buffer: Mutex::new(None),
        })
    }

    /// Shapes a text. The glyphs stand from left to right, or from the head down; clusters are byte offsets.
    pub(super) fn shape(&self, asked: &ShapeRequest<'_>) -> Vec<Glyph> {
        let kept = lock(&self.buffer).take();
        let mut buffer = kept.unwrap_or_default();
        buffer.set_pre_context(asked.joined.0);
        buffer.push_str(asked.text);
        buffer.set_post_context(asked.joined.1);
        buffer.set_direction(match asked.reads {
            _ if asked.upright => ShapingDirection::TopToBottom,
            Direction::LeftToRight => ShapingDirection::LeftToRight,
            Direction::RightToLeft => ShapingDirection::RightToLeft,
        });
        let known = rustybuzz::Script::from_iso15924_tag(Tag::from_bytes(&asked.script.code()));
        buffer.set_script(known.unwrap_or(rustybuzz::script::LATIN));
        if let Ok(language) = Language::from_str(asked.language) {
            buffer.set_language(language);
        }
        let plan = self.plan(&buffer, asked);
        let shaped = rustybuzz::shape_with_plan(&self.face, &plan, buffer);
        let positions = shaped.glyph_positions();
        let glyphs = shaped.glyph_infos().iter().zip(positions);
        let middle = posture::middle(self.face.units_per_em());
        let glyphs = glyphs.map(|(info, position)| {
            // A line that runs down is measured as if it were turned by a quarter; upright signs stand about its middle.
            let (advance, dx, dy) = match asked.upright {
                true => (
                    -position.y_advance,
                    -position.y_offset,
                    position.x_offset + middle,
                ),
                false => (position.x_advance, position.x_offset, position.y_offset),
            };
            Glyph {
                // Glyph numbers of OpenType fonts are 16 bits wide.
                id: info.glyph_id as u16,
                cluster: info.cluster,
                advance,
                dx,
                dy,
                bound: info.unsafe_to_break(),
            }
        });
        let glyphs = glyphs.collect();
        *lock(&self.buffer) = Some(shaped.clear());
        glyphs
    }

    fn plan(&self, buffer: &UnicodeBuffer, asked: &ShapeRequest<'_>) -> Arc<ShapePlan> {
        let mut plans = lock(&self.plans);
        let known = plans.iter().find(|known| {
            (known.script, known.reads, known.upright) == (asked.script, asked.reads, asked.upright)
                && known.language == asked.language
                && known.features == asked.features
        });
        if let Some(known) = known {
            return Arc::clone(&known.plan);
        }
        let features: Vec<rustybuzz::Feature> = asked
            .features
            .iter()
            .map(|f| rustybuzz::Feature::new(Tag::from_bytes(&f.tag), f.value, ..))
            .collect();
        let plan = Arc::new(ShapePlan::new(
            &self.face,
            buffer.direction(),
            Some(buffer.script()),
            buffer.language().as_ref(),
            &features,
        ));
        plans.push(CachedPlan {
            script: asked.script,
            reads: asked.reads,
            language: asked.language.to_string(),
            features: asked.features.to_vec(),
            upright: asked.upright,
            plan: Arc::clone(&plan),
        });
        plan
    }
}
