//! Writing a tagged PDF: pages of words, with the marks and labels that a sheet may add.

mod content;
mod fonts;
mod inks;
mod metadata;
mod pictures;
mod show;
mod structure;

use std::cell::RefCell;

use flate2::{Compress, Compression, FlushCompress, Status};
use pdf_writer::{Filter, Name, Pdf, Rect, Ref, Settings, TextStr};
use sha2::{Digest, Sha256};

use super::{CannotWrite, WordsAs};
use crate::art::Art;
use crate::layout::{LaidLine, LaidPanel};
use crate::plan::Date;
use crate::units::{Length, PageSpace};
use fonts::Fonts;
use inks::Inks;
use pictures::Pictures;
use structure::Structure;

/// A PDF file to be written.
pub(super) struct Document<'a> {
    pub title: String,
    pub language: &'a str,
    pub date: Option<Date>,
    pub pages: Vec<Page<'a>>,
    pub words_as: WordsAs,
}

/// One page.
pub(super) struct Page<'a> {
    /// Width and height of the MediaBox.
    pub size: (Length, Length),
    /// How far the trimmed page lies inside it on all sides; nothing for a page that is not trimmed.
    pub bleed: Option<Length>,
    /// What is drawn, from the bottom up.
    pub drawings: Vec<Drawing<'a>>,
}

/// Something on a page. Words are tagged; all else is an artifact.
pub(super) enum Drawing<'a> {
    /// The words of a panel.
    Words {
        panel: &'a LaidPanel,
        space: PageSpace,
    },
    /// Words that belong to the sheet, not to the book.
    Label {
        line: Box<LaidLine>,
        space: PageSpace,
    },
    /// A rectangle in page space: left, bottom, width, height.
    Box {
        at: [Length; 4],
        fill: Option<f32>,
        stroke: Option<f32>,
    },
    /// A straight line in page space, with dashes if any.
    Rule {
        from: (Length, Length),
        to: (Length, Length),
        grey: f32,
        dashes: &'static [f32],
    },
    /// A picture, upright on a rectangle in page space (left, bottom, width, height), or turned by half a turn.
    Picture {
        art: &'a Art,
        at: [Length; 4],
        turned: bool,
    },
}

/// Numbers for the file's objects, in the order they are asked for.
struct Numbers(i32);

impl Numbers {
    fn next(&mut self) -> Ref {
        self.0 += 1;
        Ref::new(self.0)
    }
}

/// Writes a document. The same document gives the same bytes.
///
/// # Errors
/// A font that cannot be subset.
pub(super) fn write(document: &Document<'_>) -> Result<Vec<u8>, CannotWrite> {
    let mut numbers = Numbers(0);
    let mut pdf = Pdf::with_settings(Settings { pretty: false });
    pdf.set_version(1, 7);
    let (catalog, tree) = (numbers.next(), numbers.next());
    let fonts = Fonts::collect(document, &mut numbers);
    let inks = Inks::collect(document, &mut numbers);
    let pictures = Pictures::collect(document, &mut numbers);
    let page_refs: Vec<Ref> = document.pages.iter().map(|_| numbers.next()).collect();
    let mut structure = Structure::new(document, &mut numbers);
    for (index, page) in document.pages.iter().enumerate() {
        let drawn = content::draw(document, page, &fonts, &inks, &pictures);
        structure.add_page(index, page_refs[index], &drawn.marked, &mut numbers);
        let stream = numbers.next();
        let packed = deflate(&drawn.bytes);
        pdf.stream(stream, &packed).filter(Filter::FlateDecode);
        write_page(
            &mut pdf,
            page,
            page_refs[index],
            tree,
            index,
            stream,
            &fonts,
            &inks,
            &pictures,
            &drawn,
        );
    }
    fonts.write(&mut pdf, &mut numbers)?;
    inks.write(&mut pdf);
    pictures.write(&mut pdf);
    let root = structure.write(&mut pdf, document.language);
    pdf.pages(tree)
        .kids(page_refs.iter().copied())
        .count(page_refs.len() as i32);
    let xmp = numbers.next();
    metadata::write(&mut pdf, document, xmp, numbers.next());
    let mut entry = pdf.catalog(catalog);
    entry
        .pages(tree)
        .lang(TextStr(document.language))
        .metadata(xmp);
    entry.viewer_preferences().display_doc_title(true);
    entry.mark_info().marked(true);
    entry.pair(Name(b"StructTreeRoot"), root);
    drop(entry);
    let id = Sha256::digest(pdf.as_bytes())[..16].to_vec();
    pdf.set_file_id((id.clone(), id));
    Ok(pdf.finish())
}

#[expect(
    clippy::too_many_arguments,
    reason = "one call, and each argument is a different thing"
)]
fn write_page(
    pdf: &mut Pdf,
    page: &Page<'_>,
    id: Ref,
    tree: Ref,
    index: usize,
    stream: Ref,
    fonts: &Fonts<'_>,
    inks: &Inks,
    pictures: &Pictures<'_>,
    drawn: &content::Drawn,
) {
    let (width, height) = page.size;
    let media = boxed(Length::ZERO, Length::ZERO, width, height);
    let mut entry = pdf.page(id);
    entry.parent(tree).media_box(media).contents(stream);
    if let Some(bleed) = page.bleed {
        entry.bleed_box(media);
        entry.trim_box(boxed(bleed, bleed, width - bleed, height - bleed));
    }
    if !drawn.marked.is_empty() {
        entry.struct_parents(index as i32);
    }
    entry.tab_order(pdf_writer::types::TabOrder::StructureOrder);
    let mut resources = entry.resources();
    fonts.name_resources(&mut resources, &drawn.fonts);
    inks.name_resources(&mut resources, &drawn.inks);
    pictures.name_resources(&mut resources, &drawn.pictures);
}

fn boxed(left: Length, bottom: Length, right: Length, top: Length) -> Rect {
    let pt = |length: Length| rounded(length.as_pt());
    Rect::new(pt(left), pt(bottom), pt(right), pt(top))
}

/// Thousandths of a point are a third of a micrometre: finer than any press, and short to write.
fn rounded(number: f64) -> f32 {
    ((number * 1000.0).round() / 1000.0) as f32
}

/// Packs a stream. One packer serves all streams: making its tables takes longer than most of them.
fn deflate(bytes: &[u8]) -> Vec<u8> {
    thread_local! {
        static PACKER: RefCell<Compress> = RefCell::new(Compress::new(Compression::new(6), true));
    }
    PACKER.with_borrow_mut(|packer| {
        packer.reset();
        let mut packed = Vec::with_capacity(bytes.len() / 2 + 64);
        loop {
            let read = packer.total_in() as usize;
            match packer.compress_vec(&bytes[read..], &mut packed, FlushCompress::Finish) {
                Ok(Status::StreamEnd) | Err(_) => return packed,
                Ok(_) => packed.reserve(bytes.len() / 4 + 64),
            }
        }
    })
}
