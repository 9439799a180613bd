//! Title, language, date and what the file claims to be, in Info and in XMP.

use pdf_writer::types::TrappingStatus;
use pdf_writer::{Pdf, Ref, TextStr};
use xmp_writer::{DateTime, LangId, Namespace, RenditionClass, Timezone, XmpWriter};

use super::{Claims, Document, fingerprint};
use crate::names::Date;

const PRODUCER: &str = concat!("Versefold ", env!("CARGO_PKG_VERSION"));

/// Writes the Info dictionary and the XMP metadata. The identifier of a PDF/X-4 file is a fingerprint of all that is
/// written before them.
pub(super) fn write(pdf: &mut Pdf, document: &Document<'_>, xmp: Ref, info: Ref) {
    let for_press = document.claims.for_press();
    let mut entry = pdf.document_info(info);
    entry.title(TextStr(&document.title));
    entry.producer(TextStr(PRODUCER));
    if let Some(date) = document.date {
        let date = info_date(date, for_press);
        entry.creation_date(date);
        if for_press {
            entry.modified_date(date);
        }
    }
    if for_press {
        entry.trapped(TrappingStatus::NotTrapped);
    }
    drop(entry);
    let text = xmp_text(document, fingerprint(pdf));
    pdf.metadata(xmp, text.as_bytes());
}

fn xmp_text(document: &Document<'_>, made_of: [u8; 16]) -> String {
    let mut writer = XmpWriter::new();
    writer.title([(None, document.title.as_str())]);
    writer.language([LangId(document.language)]);
    writer.producer(PRODUCER);
    match document.claims {
        Claims::Accessible => {
            writer.element("part", Namespace::PdfUAId).value(1);
        }
        Claims::Plain => {}
        Claims::X4(_) => {
            writer
                .pdfx_version("PDF/X-4")
                .trapped(false)
                .document_id(&uuid(made_of))
                .version_id("1")
                .rendition_class(RenditionClass::Default);
        }
    }
    if let Some(date) = document.date {
        let for_press = document.claims.for_press();
        let date = xmp_date(date, for_press);
        writer.create_date(date);
        if for_press {
            writer.modify_date(date).metadata_date(date);
        }
    }
    writer.finish(None)
}

/// A date of the Info dictionary: the day, with the midnight that begins it where a whole date is wanted.
fn info_date(date: Date, whole: bool) -> pdf_writer::Date {
    let day = pdf_writer::Date::new(date.year)
        .month(date.month)
        .day(date.day);
    match whole {
        true => day.hour(0).minute(0).second(0).utc_offset_hour(0),
        false => day,
    }
}

/// A date of the XMP metadata: the day, with the midnight that begins it where a whole date is wanted.
fn xmp_date(date: Date, whole: bool) -> DateTime {
    let midnight = whole.then_some(0);
    DateTime {
        year: date.year,
        month: Some(date.month),
        day: Some(date.day),
        hour: midnight,
        minute: midnight,
        second: midnight,
        timezone: whole.then_some(Timezone::Utc),
    }
}

/// Bytes as an identifier of RFC 9562, version 8: one that is made of what it names.
fn uuid(mut bytes: [u8; 16]) -> String {
    bytes[6] = bytes[6] & 0x0F | 0x80;
    bytes[8] = bytes[8] & 0x3F | 0x80;
    let digits: String = bytes.iter().map(|byte| format!("{byte:02x}")).collect();
    let parts = [0..8, 8..12, 12..16, 16..20, 20..32];
    format!("uuid:{}", parts.map(|part| &digits[part]).join("-"))
}
