//! What a file for the press must not have.

use lopdf::Object;

use super::File;
use super::boxes::box_of;

/// No encryption (in use).
pub fn encryption(file: &File<'_>) -> Vec<String> {
    let document = &file.document;
    let locked =
        document.is_encrypted() || document.was_encrypted() || document.trailer.has(b"Encrypt");
    locked
        .then(|| "the file is encrypted".to_string())
        .into_iter()
        .collect()
}

/// No stream is packed by LZW (from memory; PDF/A-2 as veraPDF has it, 6.1.7.2 t1).
pub fn packing(file: &File<'_>) -> Vec<String> {
    let dicts = file.dicts().into_iter();
    let filters = dicts.flat_map(|dict| file.items(dict, "Filter"));
    let lzw = filters.filter(|filter| matches!(filter, Object::Name(name) if name == b"LZWDecode"));
    lzw.map(|_| "a stream is packed by LZW".to_string())
        .collect()
}

/// No OPI, no JavaScript or other actions, no forms, sound or movies (in use).
pub fn actions(file: &File<'_>) -> Vec<String> {
    let mut wrong = Vec::new();
    for dict in file.dicts() {
        for key in ["OPI", "AA", "OpenAction", "AcroForm", "JavaScript", "JS"] {
            if dict.has(key.as_bytes()) {
                wrong.push(format!("a dictionary has {key}"));
            }
        }
        let kind = file.name(dict, "Subtype").unwrap_or_default();
        if ["Sound", "Movie", "Screen", "Widget", "RichMedia"].contains(&kind.as_str()) {
            wrong.push(format!("there is a {kind}"));
        }
    }
    wrong
}

/// Annotations stand outside the bleed area (in use).
pub fn annotations(file: &File<'_>) -> Vec<String> {
    let mut wrong = Vec::new();
    for (index, page) in file.pages().into_iter().enumerate() {
        let boxes = ["BleedBox", "TrimBox", "ArtBox", "MediaBox"];
        let Some(area) = boxes.iter().find_map(|key| box_of(file, page, key)) else {
            continue;
        };
        for annotation in file.items(page, "Annots") {
            let Ok(annotation) = annotation.as_dict() else {
                continue;
            };
            let outside = box_of(file, annotation, "Rect").is_some_and(|at| {
                at[2] <= area[0] || at[0] >= area[2] || at[3] <= area[1] || at[1] >= area[3]
            });
            if !outside {
                wrong.push(format!(
                    "page {}: an annotation within the bleed",
                    index + 1
                ));
            }
        }
    }
    wrong
}
