//! Optional content: groups of drawings that a reader's program can show and hide (ISO 32000-1, 8.11).
//!
//! The PDF library has no writer for groups: they are written as plain dictionaries.

use pdf_writer::writers::{Catalog, Resources};
use pdf_writer::{Name, Pdf, Ref, TextStr};

use super::{ContentGroup, Document, Drawing, ObjectNumbers, Within};

/// The groups that a file uses, each with its object.
pub(super) struct ContentGroups(Vec<(ContentGroup, Ref)>);

impl ContentGroups {
    pub(super) fn collect(document: &Document<'_>, numbers: &mut ObjectNumbers) -> ContentGroups {
        let drawings = document.pages.iter().flat_map(|page| &page.drawings);
        let mut used: Vec<ContentGroup> = drawings
            .filter_map(|drawing| match drawing {
                Drawing::Begin(Within::Group(group)) => Some(*group),
                _ => None,
            })
            .collect();
        used.sort_unstable();
        used.dedup();
        ContentGroups(
            used.into_iter()
                .map(|group| (group, numbers.next()))
                .collect(),
        )
    }

    pub(super) fn name_resources(&self, resources: &mut Resources<'_>, used: &[ContentGroup]) {
        if used.is_empty() {
            return;
        }
        let mut properties = resources.insert(Name(b"Properties")).dict();
        for (group, id) in self.0.iter().filter(|(group, _)| used.contains(group)) {
            properties.pair(Name(group.name().as_bytes()), *id);
        }
    }

    pub(super) fn write(&self, pdf: &mut Pdf) {
        for (group, id) in &self.0 {
            pdf.indirect(*id)
                .dict()
                .pair(Name(b"Type"), Name(b"OCG"))
                .pair(Name(b"Name"), TextStr(group.name()));
        }
    }

    /// Lists the groups in the catalogue, in the order of the paper from the bottom up. All are shown at first.
    pub(super) fn tell_catalog(&self, catalog: &mut Catalog<'_>) {
        if self.0.is_empty() {
            return;
        }
        let ids = || self.0.iter().map(|(_, id)| *id);
        let mut properties = catalog.insert(Name(b"OCProperties")).dict();
        properties.insert(Name(b"OCGs")).array().items(ids());
        let mut shown = properties.insert(Name(b"D")).dict();
        shown.pair(Name(b"Name"), TextStr("Sheets"));
        shown.insert(Name(b"Order")).array().items(ids());
        shown.insert(Name(b"ON")).array().items(ids());
    }
}

impl ContentGroup {
    /// Its name, for people and in resources.
    pub(super) fn name(self) -> &'static str {
        match self {
            ContentGroup::Art => "Art",
            ContentGroup::Words => "Words",
            ContentGroup::Marks => "Marks",
        }
    }
}
