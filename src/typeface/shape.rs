//! Shaping: the one file that knows rustybuzz.

use std::str::FromStr;
use std::sync::{Arc, Mutex, PoisonError};

use rustybuzz::{Direction, Language, ShapePlan, UnicodeBuffer, ttf_parser::Tag};
use unicode_script::UnicodeScript;

use super::Glyph;
use crate::plan::Feature;

/// A script by its four-letter ISO 15924 code, such as `Latn`.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub struct Script([u8; 4]);

impl Script {
    /// The Latin script.
    pub const LATIN: Script = Script(*b"Latn");

    /// The script of a character; nothing for what every script shares.
    pub fn of(c: char) -> Option<Script> {
        match c.script() {
            unicode_script::Script::Common
            | unicode_script::Script::Inherited
            | unicode_script::Script::Unknown => None,
            script => script.short_name().as_bytes().try_into().ok().map(Script),
        }
    }
}

/// A shape plan and what it is made for. A face has a handful of them.
struct Planned {
    script: Script,
    language: String,
    features: Vec<Feature>,
    plan: Arc<ShapePlan>,
}

/// A face as the shaper sees it, with the shape plans made so far: a fresh plan for each word would cost
/// several times the shaping.
pub(super) struct ShapeFace {
    face: rustybuzz::Face<'static>,
    plans: Mutex<Vec<Planned>>,
    /// The buffer of the last shaping, to be used again.
    buffer: Mutex<Option<UnicodeBuffer>>,
}

impl ShapeFace {
    pub(super) fn read(data: &'static [u8]) -> Option<ShapeFace> {
        rustybuzz::Face::from_slice(data, 0).map(|face| ShapeFace {
            face,
            plans: Mutex::new(Vec::new()),
            buffer: Mutex::new(None),
        })
    }

    /// Shapes `text`, all of one script, from left to right. Clusters are byte offsets.
    pub(super) fn shape(
        &self,
        text: &str,
        script: Script,
        language: &str,
        features: &[Feature],
    ) -> Vec<Glyph> {
        let kept = lock(&self.buffer).take();
        let mut buffer = kept.unwrap_or_default();
        buffer.push_str(text);
        buffer.set_direction(Direction::LeftToRight);
        let known = rustybuzz::Script::from_iso15924_tag(Tag::from_bytes(&script.0));
        buffer.set_script(known.unwrap_or(rustybuzz::script::LATIN));
        if let Ok(language) = Language::from_str(language) {
            buffer.set_language(language);
        }
        let plan = self.plan(&buffer, script, language, features);
        let shaped = rustybuzz::shape_with_plan(&self.face, &plan, buffer);
        let positions = shaped.glyph_positions();
        let glyphs = shaped.glyph_infos().iter().zip(positions);
        let glyphs = glyphs.map(|(info, position)| Glyph {
            // Glyph numbers of OpenType fonts are 16 bits wide.
            id: info.glyph_id as u16,
            cluster: info.cluster,
            advance: position.x_advance,
            dx: position.x_offset,
            dy: position.y_offset,
        });
        let glyphs = glyphs.collect();
        *lock(&self.buffer) = Some(shaped.clear());
        glyphs
    }

    fn plan(
        &self,
        buffer: &UnicodeBuffer,
        script: Script,
        language: &str,
        features: &[Feature],
    ) -> Arc<ShapePlan> {
        let mut plans = lock(&self.plans);
        let known = plans.iter().find(|known| {
            known.script == script && known.language == language && known.features == features
        });
        if let Some(known) = known {
            return Arc::clone(&known.plan);
        }
        let asked: Vec<rustybuzz::Feature> = features
            .iter()
            .map(|f| rustybuzz::Feature::new(Tag::from_bytes(&f.tag), f.value, ..))
            .collect();
        let plan = Arc::new(ShapePlan::new(
            &self.face,
            buffer.direction(),
            Some(buffer.script()),
            buffer.language().as_ref(),
            &asked,
        ));
        plans.push(Planned {
            script,
            language: language.to_string(),
            features: features.to_vec(),
            plan: Arc::clone(&plan),
        });
        plan
    }
}

/// Locks what no panic can leave half done.
fn lock<T>(mutex: &Mutex<T>) -> std::sync::MutexGuard<'_, T> {
    mutex.lock().unwrap_or_else(PoisonError::into_inner)
}
