//! What PDF/X-4 (ISO 15930-7) asks of a file beside its pages: the printing condition that it is made for, and
//! calibrated light where a colour is given as red, green and blue.

use pdf_writer::types::OutputIntentSubtype;
use pdf_writer::writers::Catalog;
use pdf_writer::{Filter, Pdf, Ref, TextStr};

use super::{Claims, Document, Intent, ObjectNumbers, deflate};

/// The output intent of a file, and its profile's object.
pub(super) struct ForPress<'a> {
    intent: &'a Intent,
    profile: Ref,
}

impl<'a> ForPress<'a> {
    /// The output intent of a document; nothing for one that does not claim to be PDF/X-4.
    pub(super) fn of(document: &Document<'a>, numbers: &mut ObjectNumbers) -> Option<ForPress<'a>> {
        match document.claims {
            Claims::X4(intent) => Some(ForPress {
                intent,
                profile: numbers.next(),
            }),
            Claims::Accessible | Claims::Plain => None,
        }
    }

    pub(super) fn write(&self, pdf: &mut Pdf) {
        write_profile(
            pdf,
            self.profile,
            &self.intent.profile,
            self.intent.channels,
        );
    }

    pub(super) fn tell_catalog(&self, catalog: &mut Catalog<'_>) {
        let mut intents = catalog.output_intents();
        let mut entry = intents.push();
        entry
            .subtype(OutputIntentSubtype::PDFX)
            .output_condition_identifier(TextStr(&self.intent.condition));
        if let Some(info) = &self.intent.info {
            entry.info(TextStr(info));
        }
        entry.dest_output_profile(self.profile);
    }
}

/// Writes an ICC profile of so many channels.
pub(super) fn write_profile(pdf: &mut Pdf, id: Ref, profile: &[u8], channels: u8) {
    let packed = deflate(profile);
    let mut stream = pdf.icc_profile(id, &packed);
    stream.n(i32::from(channels)).filter(Filter::FlateDecode);
}
