//! What all pages of one reading share: fonts already read, and how much work is left.

use std::collections::BTreeSet;
use std::rc::Rc;

use lopdf::{Dictionary, Document, Stream};
use rustc_hash::FxHashMap;

use super::ReadError;
use super::access::{MAX_STREAM, dict_entry, resolve};
use super::font::{self, Font, FontSeen};

/// The most content operators in one file, forms counted each time they are drawn.
const MAX_OPERATIONS: usize = 20_000_000;

/// The most bytes of content in one file, unfolded, forms counted each time they are drawn.
const MAX_CONTENT: usize = 256 << 20;

/// The most bytes of text in one file.
const MAX_TEXT: usize = 64 << 20;

/// The state shared by the pages of `doc`.
pub(super) struct Shared<'a> {
    pub(super) doc: &'a Document,
    /// By the dictionary's place in memory, which names direct and indirect fonts alike.
    fonts: FxHashMap<*const Dictionary, Rc<Font>>,
    seen: BTreeSet<FontSeen>,
    content_left: usize,
    operations_left: usize,
    text_left: usize,
}

impl<'a> Shared<'a> {
    pub(super) fn new(doc: &'a Document) -> Shared<'a> {
        Shared {
            doc,
            fonts: FxHashMap::default(),
            seen: BTreeSet::new(),
            content_left: MAX_CONTENT,
            operations_left: MAX_OPERATIONS,
            text_left: MAX_TEXT,
        }
    }

    /// Every font noted, sorted by name.
    pub(super) fn into_fonts(self) -> Vec<FontSeen> {
        self.seen.into_iter().collect()
    }

    /// Notes every font that `resources` names, used or not.
    pub(super) fn note_fonts(&mut self, resources: &Dictionary) {
        for (_, font) in dict_entry(self.doc, resources, b"Font")
            .into_iter()
            .flatten()
        {
            if let Some(Ok(font)) = resolve(self.doc, font).map(|object| object.as_dict()) {
                self.seen.insert(font::seen(self.doc, font));
            }
        }
    }

    /// The font of a dictionary, read once.
    pub(super) fn font(
        &mut self,
        dict: &'a Dictionary,
        page: usize,
    ) -> Result<Rc<Font>, ReadError> {
        let place: *const Dictionary = dict;
        if let Some(font) = self.fonts.get(&place) {
            return Ok(Rc::clone(font));
        }
        let font = Rc::new(Font::load(self.doc, dict, page)?);
        self.fonts.insert(place, Rc::clone(&font));
        Ok(font)
    }

    /// Takes `bytes` of text off what may still be read.
    pub(super) fn spend_text(&mut self, bytes: usize) -> Result<(), ReadError> {
        self.text_left = self
            .text_left
            .checked_sub(bytes)
            .ok_or(ReadError::TooLarge("text"))?;
        Ok(())
    }

    /// Takes an operator off those that may still be read.
    pub(super) fn spend_operator(&mut self) -> Result<(), ReadError> {
        self.operations_left = self
            .operations_left
            .checked_sub(1)
            .ok_or(ReadError::TooLarge("drawing operators"))?;
        Ok(())
    }

    /// The content of streams that belong together.
    pub(super) fn content(
        &mut self,
        streams: &[&Stream],
        page: usize,
    ) -> Result<Vec<u8>, ReadError> {
        let mut bytes = Vec::new();
        for stream in streams {
            let part = stream
                .get_plain_content_with_limit(MAX_STREAM.saturating_sub(bytes.len()))
                .map_err(|error| {
                    ReadError::page(page, format!("has content that cannot be read ({error})"))
                })?;
            match bytes.is_empty() {
                true => bytes = part,
                false => bytes.extend(part),
            }
            // Two streams of one page never share a token.
            bytes.push(b'\n');
        }
        self.content_left = self
            .content_left
            .checked_sub(bytes.len())
            .ok_or(ReadError::TooLarge("page content"))?;
        Ok(bytes)
    }
}
