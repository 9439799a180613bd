//! What a font's substitutions can make of glyphs (OpenType 1.9, GSUB), whatever feature asks for them.

use std::collections::HashSet;

use ttf_parser::GlyphId;
use ttf_parser::gsub::{SingleSubstitution, SubstitutionSubtable};
use ttf_parser::opentype_layout::Coverage;

/// How many substitutions of one glyph by another are followed. Fonts that people set text in have some thousands.
const STEPS: usize = 1_000_000;

/// Whether substitutions, one after the other, can make `glyph` of one of others. Of ligatures those count that begin
/// with what has been made: the marks of one character come behind its letter. Nothing where the font has none, or has
/// state machines instead.
pub(super) fn can_make(face: &ttf_parser::Face<'_>, of: &[u16], glyph: u16) -> Option<bool> {
    if face.tables().morx.is_some() {
        return None;
    }
    let table = face.tables().gsub?;
    let mut made: HashSet<u16> = of.iter().copied().collect();
    let mut next: Vec<u16> = of.to_vec();
    while let Some(from) = next.pop() {
        let subtables = table.lookups.into_iter();
        let subtables =
            subtables.flat_map(|lookup| lookup.subtables.into_iter::<SubstitutionSubtable>());
        for subtable in subtables {
            made_by(&subtable, GlyphId(from), |found| {
                if made.insert(found) {
                    next.push(found);
                }
            });
        }
        if made.contains(&glyph) {
            return Some(true);
        }
    }
    Some(false)
}

/// All glyphs that substitutions, one after the other, can make one of these of, they themselves among them: alone or, in a
/// ligature, with others. Where the font has none these alone; nothing where there are too many to tell.
pub(super) fn made_into(face: &ttf_parser::Face<'_>, of: HashSet<u16>) -> Option<HashSet<u16>> {
    let lookups = face.tables().gsub.map(|table| table.lookups.into_iter());
    let lookups = lookups.into_iter().flatten();
    let subtables = lookups.flat_map(|lookup| lookup.subtables.into_iter::<SubstitutionSubtable>());
    // From which glyph to which.
    let mut steps: Vec<(u16, u16)> = Vec::new();
    for subtable in subtables {
        if let SubstitutionSubtable::Ligature(ligatures) = &subtable {
            for ligature in ligatures.ligature_sets.into_iter().flatten() {
                let parts = ligature.components.into_iter();
                steps.extend(parts.map(|part| (part.0, ligature.glyph.0)));
            }
        }
        for from in covered(&subtable.coverage()) {
            made_by(&subtable, GlyphId(from), |to| steps.push((from, to)));
        }
        if steps.len() > STEPS {
            return None;
        }
    }
    let mut all = of;
    loop {
        let before = all.len();
        for (from, to) in &steps {
            if all.contains(to) {
                all.insert(*from);
            }
        }
        if all.len() == before {
            return Some(all);
        }
    }
}

/// The glyphs of a coverage table.
pub(super) fn covered(coverage: &Coverage<'_>) -> Vec<u16> {
    match coverage {
        Coverage::Format1 { glyphs } => glyphs.into_iter().map(|glyph| glyph.0).collect(),
        Coverage::Format2 { records } => {
            let ranges = records.into_iter();
            let glyphs = ranges.flat_map(|range| range.start.0..=range.end.0);
            // Ranges of a damaged font may lie over each other.
            glyphs.take(1 << 16).collect()
        }
    }
}

/// Hands over each glyph that a table of substitutions can make of one.
fn made_by(subtable: &SubstitutionSubtable<'_>, from: GlyphId, mut take: impl FnMut(u16)) {
    let Some(at) = subtable.coverage().get(from) else {
        return;
    };
    match subtable {
        SubstitutionSubtable::Single(SingleSubstitution::Format1 { delta, .. }) => {
            take(from.0.wrapping_add_signed(*delta));
        }
        SubstitutionSubtable::Single(SingleSubstitution::Format2 { substitutes, .. }) => {
            substitutes
                .get(at)
                .into_iter()
                .for_each(|found| take(found.0));
        }
        SubstitutionSubtable::Multiple(many) => {
            let sequence = many.sequences.get(at);
            let glyphs = sequence
                .into_iter()
                .flat_map(|sequence| sequence.substitutes);
            glyphs.for_each(|found| take(found.0));
        }
        SubstitutionSubtable::Alternate(several) => {
            let set = several.alternate_sets.get(at);
            let glyphs = set.into_iter().flat_map(|set| set.alternates);
            glyphs.for_each(|found| take(found.0));
        }
        SubstitutionSubtable::Ligature(ligatures) => {
            let set = ligatures.ligature_sets.get(at);
            let glyphs = set.into_iter().flatten();
            glyphs.for_each(|found| take(found.glyph.0));
        }
        SubstitutionSubtable::ReverseChainSingle(rules) => {
            rules
                .substitutes
                .get(at)
                .into_iter()
                .for_each(|found| take(found.0));
        }
        SubstitutionSubtable::Context(_) | SubstitutionSubtable::ChainContext(_) => {}
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// What a shaper makes of Alegreya's letters: small capitals and ligatures, and of none of them another letter.
    #[test]
    fn letters_become_small_capitals_and_ligatures_but_no_other_letters() {
        let font = include_bytes!("../../../fonts-open/alegreya/Alegreya-Regular.ttf");
        let face = ttf_parser::Face::parse(font, 0).unwrap();
        let glyph = |c: char| face.glyph_index(c).unwrap().0;
        let shaper = rustybuzz::Face::from_slice(font, 0).unwrap();
        let shaped = |text: &str, feature: &[u8; 4]| {
            let mut buffer = rustybuzz::UnicodeBuffer::new();
            buffer.push_str(text);
            let tag = rustybuzz::ttf_parser::Tag::from_bytes(feature);
            let features = [rustybuzz::Feature::new(tag, 1, ..)];
            let glyphs = rustybuzz::shape(&shaper, &features, buffer);
            let ids = glyphs
                .glyph_infos()
                .iter()
                .map(|glyph| glyph.glyph_id as u16);
            ids.collect::<Vec<_>>()
        };
        let small = |text: &str| shaped(text, b"smcp")[0];
        let ligature = shaped("fi", b"liga");
        assert_ne!(small("a"), glyph('a'));
        assert_eq!(ligature.len(), 1, "f and i are one glyph");
        let can = |c: char, to: u16| can_make(&face, &[glyph(c)], to).unwrap();
        assert!(can('a', small("a")) && can('f', ligature[0]));
        assert!(!can('a', glyph('b')) && !can('a', small("b")) && !can('n', glyph('m')));
    }
}
