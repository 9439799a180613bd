//! The title of a PDF.

use lopdf::{Dictionary, Document, Object};

use super::access::{MAX_STREAM, entry, resolve, text_entry};

/// The title in the information dictionary, or else the first one in the XMP metadata.
pub(super) fn title(doc: &Document, catalog: &Dictionary) -> Option<String> {
    let information = doc
        .trailer
        .get(b"Info")
        .ok()
        .and_then(|object| resolve(doc, object))
        .and_then(|object| object.as_dict().ok());
    information
        .and_then(|dict| text_entry(doc, dict, b"Title"))
        .or_else(|| {
            let stream = entry(doc, catalog, b"Metadata")
                .map(Object::as_stream)?
                .ok()?;
            let xmp = stream.get_plain_content_with_limit(MAX_STREAM).ok()?;
            xmp_title(std::str::from_utf8(&xmp).ok()?)
        })
}

/// The first `rdf:li` of `dc:title`.
fn xmp_title(xmp: &str) -> Option<String> {
    let (_, rest) = xmp.split_once("<dc:title")?;
    let (inside, _) = rest.split_once("</dc:title>")?;
    let (_, rest) = inside.split_once("<rdf:li")?;
    let (_, rest) = rest.split_once('>')?;
    let (text, _) = rest.split_once("</rdf:li>")?;
    // The ampersand comes last, so that `&amp;lt;` stays `&lt;`.
    let marks = [
        ("&lt;", "<"),
        ("&gt;", ">"),
        ("&quot;", "\""),
        ("&apos;", "'"),
        ("&#39;", "'"),
        ("&amp;", "&"),
    ];
    let unescaped = marks
        .iter()
        .fold(text.to_string(), |text, (from, to)| text.replace(from, to));
    Some(unescaped)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_xmp_title_is_found_and_unescaped() {
        let xmp = "<dc:title><rdf:Alt><rdf:li xml:lang=\"x-default\">Snow &amp; The Winter Bus\
                   </rdf:li></rdf:Alt></dc:title>";
        assert_eq!(xmp_title(xmp).as_deref(), Some("Snow & The Winter Bus"));
        assert_eq!(xmp_title("<dc:title></dc:title>"), None);
    }
}
