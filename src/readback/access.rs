//! Looking things up in a parsed PDF without trusting it.

use lopdf::{Dictionary, Document, Object};

use super::strings;

/// The most bytes one stream may unfold to: 32 MiB.
pub(super) const MAX_STREAM: usize = 32 << 20;

/// How far up the page tree an inherited entry is looked for.
const MAX_PARENTS: usize = 64;

/// The object itself, references followed; nothing for null and for dangling references.
pub(super) fn resolve<'a>(doc: &'a Document, object: &'a Object) -> Option<&'a Object> {
    let (_, object) = doc.dereference(object).ok()?;
    (!object.is_null()).then_some(object)
}

/// An entry of a dictionary, references followed.
pub(super) fn entry<'a>(doc: &'a Document, dict: &'a Dictionary, key: &[u8]) -> Option<&'a Object> {
    resolve(doc, dict.get(key).ok()?)
}

/// A dictionary entry that is a dictionary.
pub(super) fn dict_entry<'a>(
    doc: &'a Document,
    dict: &'a Dictionary,
    key: &[u8],
) -> Option<&'a Dictionary> {
    entry(doc, dict, key)?.as_dict().ok()
}

/// A dictionary entry that is a text string.
pub(super) fn text_entry(doc: &Document, dict: &Dictionary, key: &[u8]) -> Option<String> {
    strings::text(entry(doc, dict, key)?.as_str().ok()?)
}

/// A dictionary entry that is a name; bytes that are not UTF-8 are replaced.
pub(super) fn name_entry(doc: &Document, dict: &Dictionary, key: &[u8]) -> Option<String> {
    let name = entry(doc, dict, key)?.as_name().ok()?;
    Some(String::from_utf8_lossy(name).into_owned())
}

/// An entry of a page that the page tree may hold for it.
pub(super) fn inherited<'a>(
    doc: &'a Document,
    page: &'a Dictionary,
    key: &[u8],
) -> Option<&'a Object> {
    let mut node = page;
    for _ in 0..MAX_PARENTS {
        if let Some(found) = entry(doc, node, key) {
            return Some(found);
        }
        node = dict_entry(doc, node, b"Parent")?;
    }
    None
}

/// Four numbers as left, bottom, right, top in points.
pub(super) fn rectangle(doc: &Document, object: Option<&Object>) -> Option<[f64; 4]> {
    let array = resolve(doc, object?)?.as_array().ok()?;
    let numbers: Vec<f64> = array
        .iter()
        .map(|n| resolve(doc, n)?.as_float().ok().map(f64::from))
        .collect::<Option<_>>()?;
    let [a, b, c, d] = numbers.try_into().ok()?;
    Some([a.min(c), b.min(d), a.max(c), b.max(d)])
}
