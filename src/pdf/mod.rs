//! Writing a tagged PDF: pages of words, with the marks and labels that a sheet may add.

mod content;
mod document;
mod fonts;
mod groups;
mod inks;
mod intent;
mod metadata;
mod packed;
mod pages;
mod pictures;
mod reads;
mod show;
mod structure;
#[cfg(test)]
mod tests;

use std::cell::RefCell;

use flate2::{Compress, Compression, FlushCompress, Status};
use pdf_writer::writers::Catalog;
use pdf_writer::{Filter, Name, Pdf, Ref, Settings, TextStr};
use sha2::{Digest, Sha256};

pub(crate) use document::*;
use fonts::Fonts;
use groups::ContentGroups;
use inks::Inks;
use intent::ForPress;
pub(crate) use packed::Packed;
use pictures::Pictures;
use structure::Structure;

/// How words are written into text layers.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum WordsAs {
    /// Words are text, with subsets of the fonts.
    #[default]
    Text,
    /// Words are outlines, for programs that lose fonts; the readable text stands in the structure.
    Paths,
}

impl WordsAs {
    /// `text` or `paths`.
    pub fn word(self) -> &'static str {
        match self {
            WordsAs::Text => "text",
            WordsAs::Paths => "paths",
        }
    }
}

/// A PDF could not be made: a font that cannot be subset.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct CannotWrite {
    /// The font's name.
    pub font: String,
    /// What its subsetting reported.
    pub why: String,
}

/// Numbers for the file's objects, in the order they are asked for.
struct ObjectNumbers(i32);

impl ObjectNumbers {
    fn next(&mut self) -> Ref {
        self.0 += 1;
        Ref::new(self.0)
    }
}

/// What the pages of a file share.
struct SharedObjects<'a> {
    fonts: Fonts<'a>,
    inks: Inks,
    groups: ContentGroups,
    pictures: Pictures<'a>,
    /// Streams that have been packed already.
    packed: Option<&'a Packed>,
}

impl<'a> SharedObjects<'a> {
    fn collect(
        document: &'a Document<'a>,
        packed: Option<&'a Packed>,
        numbers: &mut ObjectNumbers,
    ) -> SharedObjects<'a> {
        SharedObjects {
            packed,
            fonts: Fonts::collect(document, numbers),
            inks: Inks::collect(document, numbers),
            groups: ContentGroups::collect(document, numbers),
            pictures: Pictures::collect(document, numbers),
        }
    }

    fn write(&self, pdf: &mut Pdf, numbers: &mut ObjectNumbers) -> Result<(), CannotWrite> {
        self.fonts.write(pdf, numbers, &|bytes| self.pack(bytes))?;
        self.inks.write(pdf);
        self.groups.write(pdf);
        self.pictures.write(pdf);
        Ok(())
    }

    /// A stream, packed.
    fn pack(&self, bytes: &[u8]) -> Vec<u8> {
        self.packed
            .map_or_else(|| deflate(bytes), |packed| packed.pack(bytes))
    }
}

/// Writes a document. The same document gives the same bytes.
///
/// # Errors
/// A font that cannot be subset.
pub(crate) fn write(document: &Document<'_>) -> Result<Vec<u8>, CannotWrite> {
    write_again(document, None)
}

/// Writes a document as [`write`] does, with what is known of packed streams.
///
/// # Errors
/// As [`write`].
pub(crate) fn write_again(
    document: &Document<'_>,
    packed: Option<&Packed>,
) -> Result<Vec<u8>, CannotWrite> {
    let mut numbers = ObjectNumbers(0);
    let mut pdf = Pdf::with_settings(Settings { pretty: false });
    let (major, minor) = document.claims.version();
    pdf.set_version(major, minor);
    let (catalog, tree) = (numbers.next(), numbers.next());
    let shared = SharedObjects::collect(document, packed, &mut numbers);
    let (page_refs, structure) = write_pages(&mut pdf, document, tree, &shared, &mut numbers);
    shared.write(&mut pdf, &mut numbers)?;
    let root = structure.write(&mut pdf, document.language);
    pdf.pages(tree)
        .kids(page_refs.iter().copied())
        .count(page_refs.len() as i32);
    let press = ForPress::of(document, &mut numbers);
    if let Some(press) = &press {
        press.write(&mut pdf);
    }
    let xmp = numbers.next();
    metadata::write(&mut pdf, document, xmp, numbers.next());
    let mut entry = pdf.catalog(catalog);
    entry
        .pages(tree)
        .lang(TextStr(document.language))
        .metadata(xmp);
    tell_printing(&mut entry, document);
    entry.mark_info().marked(true);
    entry.pair(Name(b"StructTreeRoot"), root);
    shared.groups.tell_catalog(&mut entry);
    if let Some(press) = &press {
        press.tell_catalog(&mut entry);
    }
    drop(entry);
    let id = fingerprint(&pdf).to_vec();
    pdf.set_file_id((id.clone(), id));
    Ok(pdf.finish())
}

/// Writes every page and what it shows; `tree` is the number of the tree of pages. Gives the numbers of the pages and the
/// structure of what they show.
fn write_pages<'a>(
    pdf: &mut Pdf,
    document: &'a Document<'a>,
    tree: Ref,
    shared: &SharedObjects<'a>,
    numbers: &mut ObjectNumbers,
) -> (Vec<Ref>, Structure<'a>) {
    let page_refs: Vec<Ref> = document.pages.iter().map(|_| numbers.next()).collect();
    let mut structure = Structure::new(document, numbers);
    for (index, page) in document.pages.iter().enumerate() {
        let drawn = content::draw(document, page, shared);
        structure.add_page(index, page_refs[index], &drawn.marked, numbers);
        let stream = numbers.next();
        let packed = shared.pack(&drawn.bytes);
        pdf.stream(stream, &packed).filter(Filter::FlateDecode);
        pages::PageEntry {
            page,
            id: page_refs[index],
            tree,
            index,
            stream,
            drawn: &drawn,
            trimmed: document.claims.for_press(),
        }
        .write(pdf, shared);
    }
    (page_refs, structure)
}

/// How the file is shown and printed.
fn tell_printing(catalog: &mut Catalog<'_>, document: &Document<'_>) {
    let mut preferences = catalog.viewer_preferences();
    preferences.display_doc_title(true);
    let Some(printing) = document.printing else {
        return;
    };
    preferences.pair(Name(b"PrintScaling"), Name(b"None"));
    if let Some(duplex) = printing
        .duplex
        .filter(|_| document.claims.version() >= (1, 7))
    {
        let edge: &[u8] = match duplex {
            Duplex::ShortEdge => b"DuplexFlipShortEdge",
            Duplex::LongEdge => b"DuplexFlipLongEdge",
        };
        preferences.pair(Name(b"Duplex"), Name(edge));
    }
}

/// Sixteen bytes made of all that has been written so far.
fn fingerprint(pdf: &Pdf) -> [u8; 16] {
    let mut bytes = [0; 16];
    bytes.copy_from_slice(&Sha256::digest(pdf.as_bytes())[..16]);
    bytes
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
