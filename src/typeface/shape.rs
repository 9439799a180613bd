//! Shaping: the one file that knows rustybuzz.

use std::collections::HashMap;
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

/// What a shape plan is made for.
#[derive(Clone, PartialEq, Eq, Hash)]
struct PlanKey {
    script: Script,
    language: String,
    features: Vec<Feature>,
}

/// A face as the shaper sees it, with the shape plans made so far: a fresh plan for each word would cost
/// several times the shaping.
pub(super) struct ShapeFace {
    face: rustybuzz::Face<'static>,
    plans: Mutex<HashMap<PlanKey, Arc<ShapePlan>>>,
}

impl ShapeFace {
    pub(super) fn read(data: &'static [u8]) -> Option<ShapeFace> {
        rustybuzz::Face::from_slice(data, 0).map(|face| ShapeFace {
            face,
            plans: Mutex::new(HashMap::new()),
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
        let mut buffer = UnicodeBuffer::new();
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
        glyphs
            .map(|(info, position)| Glyph {
                // Glyph numbers of OpenType fonts are 16 bits wide.
                id: info.glyph_id as u16,
                cluster: info.cluster,
                advance: position.x_advance,
                dx: position.x_offset,
                dy: position.y_offset,
            })
            .collect()
    }

    fn plan(
        &self,
        buffer: &UnicodeBuffer,
        script: Script,
        language: &str,
        features: &[Feature],
    ) -> Arc<ShapePlan> {
        let key = PlanKey {
            script,
            language: language.to_string(),
            features: features.to_vec(),
        };
        let mut plans = self.plans.lock().unwrap_or_else(PoisonError::into_inner);
        let plan = plans.entry(key).or_insert_with(|| {
            let asked: Vec<rustybuzz::Feature> = features
                .iter()
                .map(|f| rustybuzz::Feature::new(Tag::from_bytes(&f.tag), f.value, ..))
                .collect();
            let language = buffer.language();
            let known = Some(buffer.script());
            Arc::new(ShapePlan::new(
                &self.face,
                buffer.direction(),
                known,
                language.as_ref(),
                &asked,
            ))
        });
        Arc::clone(plan)
    }
}
