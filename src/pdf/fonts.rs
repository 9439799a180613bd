//! The fonts of a file: which glyphs are used, what they read as, and their embedded subsets.

use std::sync::Arc;

use pdf_writer::types::{CidFontType, FontFlags, SystemInfo, UnicodeCmap};
use pdf_writer::writers::Resources;
use pdf_writer::{Filter, Name, Pdf, Rect, Ref, Str};
use rustc_hash::FxHashMap;
use sha2::{Digest, Sha256};
use subsetter::GlyphRemapper;

use super::reads::run_reading;
use super::{CannotWrite, Document, Drawing, ObjectNumbers, WordsAs};
use crate::layout::{GlyphRun, LaidLine};
use crate::typeface::{BELOW, Face, FontKind, cff_table};

/// The fonts of one file.
pub(super) struct Fonts<'a> {
    fonts: Vec<EmbeddedFont<'a>>,
    /// By face, and whether it writes downwards.
    by_face: FxHashMap<(usize, bool), usize>,
}

struct EmbeddedFont<'a> {
    face: &'a Arc<Face>,
    id: Ref,
    /// Whether it writes downwards: what stands upright in lines that run down.
    down: bool,
    remapper: GlyphRemapper,
    shown: FxHashMap<u16, ShownGlyph>,
    /// The glyphs of the codes beyond one for each glyph.
    more: Vec<u16>,
}

/// What packs a stream.
type Pack<'a> = &'a dyn Fn(&[u8]) -> Vec<u8>;

/// A glyph that the file shows.
pub(super) struct ShownGlyph {
    /// Its number in the subset.
    pub code: u16,
    /// How wide it is, in thousandths of an em.
    pub width: f32,
    /// What it is to read as: first what its own code reads as, then what codes of their own read as.
    reads: Vec<Reads>,
}

/// A text that a glyph reads as.
struct Reads {
    text: String,
    /// Which of the codes beyond one for each glyph reads so; nothing for the glyph's own.
    more: Option<usize>,
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
            by_face: FxHashMap::default(),
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
            let index = *self
                .by_face
                .entry((run.face.id(), run.upright))
                .or_insert_with(|| {
                    self.fonts.push(EmbeddedFont {
                        face: &run.face,
                        id: numbers.next(),
                        down: run.upright,
                        remapper: GlyphRemapper::new(),
                        shown: FxHashMap::default(),
                        more: Vec::new(),
                    });
                    self.fonts.len() - 1
                });
            let font = &mut self.fonts[index];
            for glyph in &run.glyphs {
                font.is_to_show(glyph.id);
            }
            for shown in run_reading(run, &line.text).read {
                if let Some(text) = shown.reads {
                    font.is_to_read(shown.glyph.id, &text);
                }
            }
        }
    }

    /// The place of a run's font among the file's fonts.
    pub(super) fn index_of(&self, run: &GlyphRun) -> Option<usize> {
        self.by_face.get(&(run.face.id(), run.upright)).copied()
    }

    /// A glyph of a font, by its number in the face.
    pub(super) fn shown(&self, font: usize, glyph: u16) -> Option<&ShownGlyph> {
        self.fonts[font].shown.get(&glyph)
    }

    /// The code by which a glyph reads as this text; nothing where there is none.
    pub(super) fn reading_code(&self, font: usize, shown: &ShownGlyph, text: &str) -> Option<u16> {
        let mut reads = shown.reads.iter();
        let found = reads.find(|reads| reads.text == text)?;
        match found.more {
            None => Some(shown.code),
            Some(more) => self.fonts[font].code_beyond(more),
        }
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
        pack: Pack<'_>,
    ) -> Result<(), CannotWrite> {
        self.fonts
            .iter()
            .try_for_each(|font| font.write(pdf, numbers, pack))
    }
}

/// Of all glyphs that write downwards: how far above their baseline the pen stands, in the middle of their width, and how
/// far it moves on, in thousandths of an em.
pub(super) const DOWN: (f32, f32) = (1000.0 - 10.0 * BELOW as f32, 1000.0);

pub(super) fn font_name(font: usize) -> String {
    format!("F{font}")
}

impl EmbeddedFont<'_> {
    /// Sees to a glyph of the subset.
    fn is_to_show(&mut self, glyph: u16) {
        let EmbeddedFont { face, remapper, .. } = self;
        self.shown.entry(glyph).or_insert_with(|| ShownGlyph {
            code: remapper.remap(glyph),
            width: width(face, glyph),
            reads: Vec::new(),
        });
    }

    /// Sees to a code by which a glyph reads as a text. In a font of CFF outlines a glyph has one code alone.
    fn is_to_read(&mut self, glyph: u16, text: &str) {
        let Some(shown) = self.shown.get_mut(&glyph) else {
            return;
        };
        let reads = &mut shown.reads;
        let own = reads.is_empty();
        if reads.iter().any(|reads| reads.text == text) || !own && self.face.kind() == FontKind::Cff
        {
            return;
        }
        let more = (!own).then_some(self.more.len());
        if more.is_some() {
            self.more.push(glyph);
        }
        reads.push(Reads {
            text: text.to_string(),
            more,
        });
    }

    /// The code of one of those beyond one for each glyph; nothing where there are no numbers left.
    fn code_beyond(&self, more: usize) -> Option<u16> {
        u16::try_from(usize::from(self.remapper.num_gids()) + more).ok()
    }

    /// The glyphs of all codes, from code 0 on.
    fn coded(&self) -> impl Iterator<Item = u16> {
        let own = self.remapper.remapped_gids();
        own.chain(self.more.iter().copied())
    }

    /// For each code the number of its glyph in the subset (CIDToGIDMap, ISO 32000-1, table 117).
    fn glyph_map(&self) -> Vec<u8> {
        let places = self.coded().map(|glyph| self.remapper.get(glyph));
        let places = places.map(|place| place.unwrap_or(0).to_be_bytes());
        places.flatten().collect()
    }

    fn write(
        &self,
        pdf: &mut Pdf,
        numbers: &mut ObjectNumbers,
        pack: Pack<'_>,
    ) -> Result<(), CannotWrite> {
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
            .encoding_predefined(Name(match self.down {
                true => b"Identity-V",
                false => b"Identity-H",
            }))
            .descendant_font(cid)
            .to_unicode(cmap);
        let map = (!self.more.is_empty()).then(|| numbers.next());
        self.write_cid_font(pdf, (cid, descriptor, map), &name);
        if let Some(map) = map {
            let packed = pack(&self.glyph_map());
            pdf.stream(map, &packed).filter(Filter::FlateDecode);
        }
        self.write_descriptor(pdf, descriptor, file, &name);
        let packed = pack(&program);
        let mut stream = pdf.stream(file, &packed);
        stream.filter(Filter::FlateDecode);
        match self.face.kind() {
            FontKind::TrueType => stream.pair(Name(b"Length1"), program.len() as i32),
            FontKind::Cff => stream.pair(Name(b"Subtype"), Name(b"CIDFontType0C")),
        };
        drop(stream);
        let unicode = pack(&self.unicode_map());
        pdf.cmap(cmap, &unicode).filter(Filter::FlateDecode);
        Ok(())
    }

    fn write_cid_font(
        &self,
        pdf: &mut Pdf,
        (id, descriptor, map): (Ref, Ref, Option<Ref>),
        name: &str,
    ) {
        let mut font = pdf.cid_font(id);
        font.subtype(match self.face.kind() {
            FontKind::TrueType => CidFontType::Type2,
            FontKind::Cff => CidFontType::Type0,
        });
        font.base_font(Name(name.as_bytes()))
            .system_info(IDENTITY)
            .font_descriptor(descriptor)
            .default_width(0.0);
        if self.down {
            // Where glyphs begin that write downwards, and how far the pen moves on (ISO 32000-1, 9.7.4.3).
            let [top, advance] = [DOWN.0, -DOWN.1];
            font.insert(Name(b"DW2")).array().items([top, advance]);
        }
        match map {
            Some(map) => {
                font.cid_to_gid_map_stream(map);
            }
            None if self.face.kind() == FontKind::TrueType => {
                font.cid_to_gid_map_predefined(Name(b"Identity"));
            }
            None => {}
        }
        let widths = self.coded().map(|glyph| width(self.face, glyph));
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
        let mut texts = vec![None; self.coded().count()];
        for shown in self.shown.values() {
            for reads in &shown.reads {
                let code = match reads.more {
                    None => usize::from(shown.code),
                    Some(more) => usize::from(self.remapper.num_gids()) + more,
                };
                texts[code] = Some(reads.text.as_str());
            }
        }
        for (code, text) in texts.into_iter().enumerate().skip(1) {
            // A glyph that only ever stands for a part of a cluster is read through ActualText. Readers that heed none
            // which is empty (PDFium) find a space without width.
            let text = text.unwrap_or("\u{200b}");
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
