//! The fonts of a file: which glyphs are used, what they read as, and their embedded subsets.

use std::collections::{BTreeMap, HashMap};
use std::sync::Arc;

use pdf_writer::types::{CidFontType, FontFlags, SystemInfo, UnicodeCmap};
use pdf_writer::writers::Resources;
use pdf_writer::{Filter, Name, Pdf, Rect, Ref, Str};
use sha2::{Digest, Sha256};
use subsetter::GlyphRemapper;

use super::{CannotWrite, Document, Drawing, ObjectNumbers, WordsAs, deflate};
use crate::layout::{GlyphRun, LaidLine};
use crate::typeface::{Face, FontKind, cff_table};

/// The fonts of one file.
pub(super) struct Fonts<'a> {
    fonts: Vec<EmbeddedFont<'a>>,
    by_face: HashMap<usize, usize>,
}

struct EmbeddedFont<'a> {
    face: &'a Arc<Face>,
    id: Ref,
    remapper: GlyphRemapper,
    /// For each glyph the text that it first stands for, by which its own code is read.
    reads: BTreeMap<u16, String>,
}

const IDENTITY: SystemInfo<'_> = SystemInfo {
    registry: Str(b"Adobe"),
    ordering: Str(b"Identity"),
    supplement: 0,
};

impl<'a> Fonts<'a> {
    /// Every face and glyph that the document shows as text.
    pub(super) fn collect(document: &'a Document<'a>, numbers: &mut ObjectNumbers) -> Fonts<'a> {
        let mut fonts = Fonts {
            fonts: Vec::new(),
            by_face: HashMap::new(),
        };
        for drawing in document.pages.iter().flat_map(|page| &page.drawings) {
            match drawing {
                Drawing::Words { panel, .. } if document.words_as == WordsAs::Text => {
                    for line in &panel.lines {
                        fonts.take_line(line, numbers);
                    }
                }
                Drawing::Label { line, .. } => fonts.take_line(line, numbers),
                _ => {}
            }
        }
        fonts
    }

    fn take_line(&mut self, line: &'a LaidLine, numbers: &mut ObjectNumbers) {
        for run in &line.runs {
            let index = *self.by_face.entry(run.face.id()).or_insert_with(|| {
                self.fonts.push(EmbeddedFont {
                    face: &run.face,
                    id: numbers.next(),
                    remapper: GlyphRemapper::new(),
                    reads: BTreeMap::new(),
                });
                self.fonts.len() - 1
            });
            let font = &mut self.fonts[index];
            for glyph in &run.glyphs {
                font.remapper.remap(glyph.id);
                let text = match glyph.added {
                    Some(sign) => sign.to_string(),
                    None => reading(&line.text[glyph.text.clone()]),
                };
                if !text.is_empty() {
                    font.reads.entry(glyph.id).or_insert(text);
                }
            }
        }
    }

    /// The place of a run's font among the file's fonts.
    pub(super) fn index_of(&self, run: &GlyphRun) -> Option<usize> {
        self.by_face.get(&run.face.id()).copied()
    }

    /// The number of a glyph in its subset.
    pub(super) fn code(&self, font: usize, glyph: u16) -> u16 {
        self.fonts[font].remapper.get(glyph).unwrap_or(0)
    }

    /// Whether a glyph by itself reads as this text.
    pub(super) fn reads_as(&self, font: usize, glyph: u16, text: &str) -> bool {
        self.fonts[font].reads.get(&glyph).map(String::as_str) == Some(reading(text).as_str())
    }

    pub(super) fn name_resources(&self, resources: &mut Resources<'_>, used: &[usize]) {
        if used.is_empty() {
            return;
        }
        let mut names = resources.fonts();
        for &font in used {
            names.pair(Name(font_name(font).as_bytes()), self.fonts[font].id);
        }
    }

    pub(super) fn write(
        &self,
        pdf: &mut Pdf,
        numbers: &mut ObjectNumbers,
    ) -> Result<(), CannotWrite> {
        self.fonts
            .iter()
            .try_for_each(|font| font.write(pdf, numbers))
    }
}

pub(super) fn font_name(font: usize) -> String {
    format!("F{font}")
}

/// What a cluster reads as: all white space is a space.
fn reading(text: &str) -> String {
    if !text.is_empty() && text.chars().all(char::is_whitespace) {
        " ".to_string()
    } else {
        text.to_string()
    }
}

impl EmbeddedFont<'_> {
    fn write(&self, pdf: &mut Pdf, numbers: &mut ObjectNumbers) -> Result<(), CannotWrite> {
        let cannot = |why: String| CannotWrite {
            font: self.face.name().to_string(),
            why,
        };
        let subset = subsetter::subset(self.face.data(), 0, &self.remapper)
            .map_err(|error| cannot(error.to_string()))?;
        let program = match self.face.kind() {
            FontKind::TrueType => subset,
            FontKind::Cff => cff_table(&subset)
                .ok_or_else(|| cannot("its subset has no outlines".to_string()))?
                .to_vec(),
        };
        let name = format!("{}+{}", subset_tag(&program), self.face.name());
        let (cid, descriptor, file, cmap) = (
            numbers.next(),
            numbers.next(),
            numbers.next(),
            numbers.next(),
        );
        pdf.type0_font(self.id)
            .base_font(Name(name.as_bytes()))
            .encoding_predefined(Name(b"Identity-H"))
            .descendant_font(cid)
            .to_unicode(cmap);
        self.write_cid_font(pdf, cid, descriptor, &name);
        self.write_descriptor(pdf, descriptor, file, &name);
        let packed = deflate(&program);
        let mut stream = pdf.stream(file, &packed);
        stream.filter(Filter::FlateDecode);
        match self.face.kind() {
            FontKind::TrueType => stream.pair(Name(b"Length1"), program.len() as i32),
            FontKind::Cff => stream.pair(Name(b"Subtype"), Name(b"CIDFontType0C")),
        };
        drop(stream);
        let unicode = deflate(&self.unicode_map());
        pdf.cmap(cmap, &unicode).filter(Filter::FlateDecode);
        Ok(())
    }

    fn write_cid_font(&self, pdf: &mut Pdf, id: Ref, descriptor: Ref, name: &str) {
        let mut font = pdf.cid_font(id);
        font.subtype(match self.face.kind() {
            FontKind::TrueType => CidFontType::Type2,
            FontKind::Cff => CidFontType::Type0,
        });
        font.base_font(Name(name.as_bytes()))
            .system_info(IDENTITY)
            .font_descriptor(descriptor)
            .default_width(0.0);
        if self.face.kind() == FontKind::TrueType {
            font.cid_to_gid_map_predefined(Name(b"Identity"));
        }
        let widths = self
            .remapper
            .remapped_gids()
            .map(|glyph| width(self.face, glyph));
        font.widths().consecutive(0, widths);
    }

    fn write_descriptor(&self, pdf: &mut Pdf, id: Ref, file: Ref, name: &str) {
        let metrics = self.face.metrics();
        let em = |units: i32| thousandths(units, metrics.units_per_em);
        let [left, bottom, right, top] = metrics.bounds.map(em);
        let mut flags = FontFlags::SYMBOLIC;
        if metrics.italic_thousandths != 0 {
            flags |= FontFlags::ITALIC;
        }
        if metrics.monospaced {
            flags |= FontFlags::FIXED_PITCH;
        }
        let mut descriptor = pdf.font_descriptor(id);
        descriptor
            .name(Name(name.as_bytes()))
            .flags(flags)
            .bbox(Rect::new(left, bottom, right, top))
            .italic_angle(metrics.italic_thousandths as f32 / 1000.0)
            .ascent(em(metrics.ascender))
            .descent(em(metrics.descender))
            .cap_height(em(metrics.cap_height))
            // The width of stems is not in the font file; common practice derives it from the weight.
            .stem_v(10.0 + 220.0 * (f32::from(metrics.weight) - 50.0).max(0.0) / 900.0);
        match self.face.kind() {
            FontKind::TrueType => descriptor.font_file2(file),
            FontKind::Cff => descriptor.font_file3(file),
        };
    }

    fn unicode_map(&self) -> Vec<u8> {
        let mut map = UnicodeCmap::<u16>::new(Name(b"Versefold"), IDENTITY);
        for (code, glyph) in self.remapper.remapped_gids().enumerate().skip(1) {
            // A glyph that only ever stands for a part of a cluster is read through ActualText; a
            // replacement character keeps its own code from being unreadable.
            let text = self.reads.get(&glyph).map_or("\u{fffd}", String::as_str);
            map.pair_with_multiple(code as u16, text.chars());
        }
        map.finish().into_vec()
    }
}

/// The advance of a glyph in thousandths of an em, as the font's own table has it.
pub(super) fn width(face: &Face, glyph: u16) -> f32 {
    thousandths(face.advance(glyph), face.metrics().units_per_em)
}

fn thousandths(units: i32, units_per_em: i32) -> f32 {
    super::rounded(f64::from(units) * 1000.0 / f64::from(units_per_em.max(1)))
}

/// Six capitals made of the subset's own bytes, so that the same subset has the same tag.
fn subset_tag(program: &[u8]) -> String {
    let hash = Sha256::digest(program);
    hash.iter()
        .take(6)
        .map(|byte| char::from(b'A' + byte % 26))
        .collect()
}
