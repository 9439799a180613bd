//! What a file says that it is.

use super::File;

const PDFX_ID: &str = "http://www.npes.org/pdfx/ns/id/";
const XMP: &str = "http://ns.adobe.com/xap/1.0/";
const XMP_MEDIA: &str = "http://ns.adobe.com/xap/1.0/mm/";

/// PDF/X-4 files are PDF 1.6, or less (in use).
pub fn version(file: &File<'_>) -> Vec<String> {
    let said = file.document.version.clone();
    let mut wrong = Vec::new();
    if !file.bytes.starts_with(b"%PDF-1.") || !(("1.3"..="1.6").contains(&said.as_str())) {
        wrong.push(format!("the header says {said}"));
    }
    if let Some(later) = file.name(file.catalog(), "Version")
        && later.as_str() > "1.6"
    {
        wrong.push(format!("the catalog says {later}"));
    }
    wrong
}

/// XMP says `PDF/X-4` (the namespace is that of several public files; the value is from memory).
pub fn named_x4(file: &File<'_>) -> Vec<String> {
    match file.xmp_value(PDFX_ID, "GTS_PDFXVersion") {
        Some("PDF/X-4") => Vec::new(),
        other => vec![format!("XMP says that it is {other:?}")],
    }
}

/// XMP has DocumentID, VersionID and RenditionClass (from memory).
pub fn edition(file: &File<'_>) -> Vec<String> {
    let keys = ["DocumentID", "VersionID", "RenditionClass"];
    let missing = keys.into_iter().filter(|key| {
        let value = file.xmp_value(XMP_MEDIA, key);
        value.is_none_or(str::is_empty)
    });
    missing.map(|key| format!("XMP has no {key}")).collect()
}

/// Info has a title and XMP the same (that there is one: a public thread on checking PDF/X-1a; for X-4, and that they
/// agree, from memory).
pub fn title(file: &File<'_>) -> Vec<String> {
    let Some(title) = file
        .text(&file.info(), "Title")
        .filter(|title| !title.is_empty())
    else {
        return vec!["Info has no title".to_string()];
    };
    let inside = file.xmp.split("<dc:title>").nth(1);
    let inside = inside.and_then(|rest| rest.split("</dc:title>").next());
    let same = inside.is_some_and(|inside| inside.contains(&format!(">{title}<")));
    match same {
        true => Vec::new(),
        false => vec![format!("XMP has not the title {title}")],
    }
}

/// Info has the dates of making and changing, and XMP the same (a public thread on checking PDF/X-1a; for X-4 from
/// memory), with MetadataDate beside them.
pub fn dates(file: &File<'_>) -> Vec<String> {
    let info = file.info();
    let mut wrong = Vec::new();
    for (key, property) in [("CreationDate", "CreateDate"), ("ModDate", "ModifyDate")] {
        let said = file.text(&info, key).unwrap_or_default();
        let digits = |text: &str| {
            text.chars()
                .filter(char::is_ascii_digit)
                .collect::<String>()
        };
        // Year, month, day, hour, minute and second (ISO 32000-1, 7.9.4).
        if !said.starts_with("D:") || digits(&said).len() < 14 {
            wrong.push(format!("{key} is {said:?}"));
            continue;
        }
        let beside = file.xmp_value(XMP, property).unwrap_or_default();
        if digits(beside)[..] != digits(&said)[..] {
            wrong.push(format!("{key} is {said}, {property} {beside:?}"));
        }
    }
    if file.xmp_value(XMP, "MetadataDate").is_none() {
        wrong.push("XMP has no MetadataDate".to_string());
    }
    wrong
}

/// Info says that it is trapped or that it is not: `Unknown` is not allowed (a public thread on checking PDF/X-1a; for
/// X-4 from memory).
pub fn trapped(file: &File<'_>) -> Vec<String> {
    match file.name(&file.info(), "Trapped").as_deref() {
        Some("True" | "False") => Vec::new(),
        other => vec![format!("Trapped is {other:?}")],
    }
}

/// The trailer has an ID of two strings (a public thread on checking PDF/X-1a; for X-4 from memory).
pub fn file_id(file: &File<'_>) -> Vec<String> {
    let parts = file.items(&file.document.trailer, "ID");
    let sound = parts
        .iter()
        .filter(|part| part.as_str().is_ok_and(|id| id.len() >= 16));
    match sound.count() {
        2 => Vec::new(),
        _ => vec!["the trailer has no ID of two strings".to_string()],
    }
}
