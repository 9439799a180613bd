//! Reads the words out of a finished PDF, as a reading program would meet them.
//!
//! The parser here shares no code with the writer, so that what it finds is evidence: every word
//! comes through the structure tree, the marked content and the fonts' Unicode maps of the file.

mod access;
mod cmap;
mod content;
mod error;
mod fold;
mod font;
mod metadata;
mod operators;
pub mod proof;
mod state;
mod strings;
mod structure;
#[cfg(test)]
mod tests;

use std::collections::HashMap;

use lopdf::{Dictionary, Document, LoadOptions, ObjectId};

pub use error::ReadError;
pub use fold::folded;
pub use font::FontSeen;

/// What one PDF says.
#[derive(Clone, Debug, PartialEq)]
pub struct ReadBack {
    /// The pages, first to last.
    pub pages: Vec<PageWords>,
    /// The document's title: of its information dictionary, or else of its XMP metadata.
    pub title: Option<String>,
    /// The document's language as written, such as `en-GB`.
    pub language: Option<String>,
    /// Every font that pages and drawn forms name, each once, sorted by name.
    pub fonts: Vec<FontSeen>,
}

/// What one page says.
#[derive(Clone, Debug, PartialEq)]
pub struct PageWords {
    /// The words in structure order, one entry for each reference from the structure tree.
    pub lines: Vec<LineRead>,
    /// The words in the order they are drawn: the marked-content sequences that belong to the
    /// structure, separated by line feeds. Replacement texts of structure elements play no part.
    pub drawn: String,
    /// Left, bottom, right, top in points; written numbers are kept to 24 bits.
    pub media_box: [f64; 4],
    /// As `media_box`; nothing when the page has none.
    pub trim_box: Option<[f64; 4]>,
    /// As `media_box`; nothing when the page has none.
    pub bleed_box: Option<[f64; 4]>,
}

/// The words of one marked-content sequence, or of one element that has a replacement text.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct LineRead {
    /// The text as a reading program gets it; white space is as in the file.
    pub text: String,
    /// The roles from the root to the element, as written: `["Document", "Div", "P"]`.
    pub structure: Vec<String>,
    /// The marked-content number on its page; the first one below an element whose replacement
    /// text stands for several.
    pub mcid: i64,
    /// The nearest language of an element around it; nothing when only the document has one.
    pub language: Option<String>,
}

/// Reads the words of every page in structure order.
///
/// Nothing is guessed: spaces are only those that the file spells out.
///
/// # Errors
/// The file is damaged or encrypted or has no structure; a shown code has no Unicode value; text is
/// drawn that is in neither the structure nor an artifact; the structure names content that is not
/// there, the same content twice, or that of a page behind that of a later one. See [`ReadError`].
pub fn words(pdf: &[u8]) -> Result<ReadBack, ReadError> {
    let options = LoadOptions {
        // A file that needs mending is not one we meant to make.
        strict: true,
        ..LoadOptions::with_max_decompressed_size(access::MAX_STREAM)
    };
    let doc = Document::load_mem_with_options(pdf, options)
        .map_err(|error| ReadError::Unreadable(error.to_string()))?;
    if doc.is_encrypted() || doc.was_encrypted() {
        return Err(ReadError::Encrypted);
    }
    read_document(&doc)
}

fn read_document(doc: &Document) -> Result<ReadBack, ReadError> {
    let catalog = doc
        .catalog()
        .map_err(|error| ReadError::Unreadable(error.to_string()))?;
    let mut shared = state::Shared::new(doc);
    let mut numbers: HashMap<ObjectId, usize> = HashMap::new();
    let mut pages = Vec::new();
    let mut contents = Vec::new();
    for (index, id) in doc.page_iter().enumerate() {
        let page = index + 1;
        let dict = doc
            .get_dictionary(id)
            .map_err(|error| ReadError::page(page, format!("cannot be read ({error})")))?;
        if numbers.insert(id, index).is_some() {
            return Err(ReadError::page(page, "is in the page tree twice"));
        }
        let sequences = content::read_page(&mut shared, dict, page)?;
        pages.push(blank_page(doc, dict, page, &sequences)?);
        contents.push(sequences);
    }
    if pages.is_empty() {
        return Err(ReadError::Unreadable("it has no pages".into()));
    }
    let lines = structure::lines(doc, catalog, &numbers, &contents)?;
    for (page, lines) in pages.iter_mut().zip(lines) {
        page.lines = lines;
    }
    Ok(ReadBack {
        pages,
        title: metadata::title(doc, catalog),
        language: access::text_entry(doc, catalog, b"Lang"),
        fonts: shared.into_fonts(),
    })
}

/// A page with its boxes and its drawn words, before the structure is walked.
fn blank_page(
    doc: &Document,
    dict: &Dictionary,
    page: usize,
    sequences: &[content::Sequence],
) -> Result<PageWords, ReadError> {
    let drawn: Vec<&str> = sequences.iter().map(|s| s.text.as_str()).collect();
    let media_box = access::rectangle(doc, access::inherited(doc, dict, b"MediaBox"))
        .ok_or_else(|| ReadError::page(page, "has no MediaBox of four numbers"))?;
    let unit = access::entry(doc, dict, b"UserUnit").and_then(|unit| unit.as_float().ok());
    let points = |of: [f64; 4]| of.map(|number| number * f64::from(unit.unwrap_or(1.0)));
    let boxed = |key: &[u8]| access::rectangle(doc, dict.get(key).ok()).map(points);
    Ok(PageWords {
        lines: Vec::new(),
        drawn: drawn.join("\n"),
        media_box: points(media_box),
        trim_box: boxed(b"TrimBox"),
        bleed_box: boxed(b"BleedBox"),
    })
}
