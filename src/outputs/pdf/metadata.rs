//! Title, language, date and the claim to PDF/UA-1 (ISO 14289-1), in Info and in XMP.

use pdf_writer::{Pdf, Ref, TextStr};
use xmp_writer::{DateTime, LangId, Namespace, XmpWriter};

use super::Document;

const PRODUCER: &str = concat!("Versefold ", env!("CARGO_PKG_VERSION"));

pub(super) fn write(pdf: &mut Pdf, document: &Document<'_>, xmp: Ref, info: Ref) {
    let mut entry = pdf.document_info(info);
    entry.title(TextStr(&document.title));
    entry.producer(TextStr(PRODUCER));
    if let Some(date) = document.date {
        let date = pdf_writer::Date::new(date.year)
            .month(date.month)
            .day(date.day);
        entry.creation_date(date);
    }
    drop(entry);
    let text = xmp_text(document);
    pdf.metadata(xmp, text.as_bytes());
}

fn xmp_text(document: &Document<'_>) -> String {
    let mut writer = XmpWriter::new();
    writer.title([(None, document.title.as_str())]);
    writer.language([LangId(document.language)]);
    writer.producer(PRODUCER);
    writer.element("part", Namespace::PdfUAId).value(1);
    if let Some(date) = document.date {
        writer.create_date(DateTime {
            year: date.year,
            month: Some(date.month),
            day: Some(date.day),
            hour: None,
            minute: None,
            second: None,
            timezone: None,
        });
    }
    writer.finish(None)
}
