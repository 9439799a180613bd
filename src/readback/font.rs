//! The fonts of a PDF: what is said about them, and how their codes are read.

use lopdf::{Dictionary, Document};

use super::ReadError;
use super::access::{MAX_STREAM, dict_entry, entry, name_entry};
use super::cmap::ToUnicode;

/// A font that the file names.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub struct FontSeen {
    /// The BaseFont name, subset tag included.
    pub name: String,
    /// Whether the font file lies in the PDF.
    pub embedded: bool,
    /// Whether the name has a subset tag, `ABCDEF+`.
    pub subset: bool,
}

/// The BaseFont name; words of our own when there is none.
fn base_name(doc: &Document, font: &Dictionary) -> String {
    name_entry(doc, font, b"BaseFont").unwrap_or_else(|| "without a name".into())
}

/// What is said about a font dictionary.
pub(super) fn seen(doc: &Document, font: &Dictionary) -> FontSeen {
    let name = base_name(doc, font);
    let subset = name
        .split_once('+')
        .is_some_and(|(tag, _)| tag.len() == 6 && tag.bytes().all(|b| b.is_ascii_uppercase()));
    // The glyphs of a Type 3 font are drawn in the PDF itself.
    let embedded = name_entry(doc, font, b"Subtype").as_deref() == Some("Type3")
        || dict_entry(
            doc,
            descendant(doc, font).unwrap_or(font),
            b"FontDescriptor",
        )
        .is_some_and(|descriptor| has_font_file(doc, descriptor));
    FontSeen {
        name,
        embedded,
        subset,
    }
}

/// The font below a Type 0 font.
fn descendant<'a>(doc: &'a Document, font: &'a Dictionary) -> Option<&'a Dictionary> {
    let fonts = entry(doc, font, b"DescendantFonts")?.as_array().ok()?;
    doc.dereference(fonts.first()?).ok()?.1.as_dict().ok()
}

fn has_font_file(doc: &Document, descriptor: &Dictionary) -> bool {
    [&b"FontFile"[..], b"FontFile2", b"FontFile3"]
        .iter()
        .any(|key| entry(doc, descriptor, key).is_some_and(|file| file.as_stream().is_ok()))
}

/// A font whose codes can be read.
#[derive(Debug)]
pub(super) struct Font {
    name: String,
    map: ToUnicode,
}

impl Font {
    /// Reads a font of two-byte codes with its Unicode map.
    pub(super) fn load(doc: &Document, font: &Dictionary, page: usize) -> Result<Font, ReadError> {
        let name = base_name(doc, font);
        let wrong = |what: String| ReadError::page(page, format!("uses the font {name} {what}"));
        let encoding = name_entry(doc, font, b"Encoding");
        if name_entry(doc, font, b"Subtype").as_deref() != Some("Type0")
            || !matches!(encoding.as_deref(), Some("Identity-H" | "Identity-V"))
        {
            return Err(wrong("whose codes are not two-byte Identity codes".into()));
        }
        let stream = entry(doc, font, b"ToUnicode")
            .and_then(|object| object.as_stream().ok())
            .ok_or_else(|| wrong("without a Unicode map".into()))?;
        let bytes = stream
            .get_plain_content_with_limit(MAX_STREAM)
            .map_err(|error| wrong(format!("with a Unicode map that cannot be read ({error})")))?;
        let map =
            ToUnicode::parse(&bytes).map_err(|what| wrong(format!("with a Unicode map {what}")))?;
        Ok(Font { name, map })
    }

    /// Adds the text of a shown string to `out`; on an error, what came before it is added.
    pub(super) fn read(
        &self,
        shown: &[u8],
        page: usize,
        out: &mut String,
    ) -> Result<(), ReadError> {
        let (codes, rest) = shown.as_chunks::<2>();
        for &code in codes {
            let code = u16::from_be_bytes(code);
            let text = self.map.text(code).ok_or_else(|| ReadError::NoUnicode {
                page,
                font: self.name.clone(),
                code,
            })?;
            out.push_str(text);
        }
        if rest.is_empty() {
            Ok(())
        } else {
            let what = format!("shows half a code of the font {}", self.name);
            Err(ReadError::page(page, what))
        }
    }
}
