//! Writing the entry of a page: its boxes, its content, and what that names.

use pdf_writer::{Pdf, Rect, Ref};

use super::content::DrawnPage;
use super::{Page, PageBoxes, SharedObjects, rounded};
use crate::names::Length;

/// A page that has been drawn.
pub(super) struct PageEntry<'a> {
    pub page: &'a Page<'a>,
    pub id: Ref,
    /// The object of the tree of pages.
    pub tree: Ref,
    /// Its place among the pages.
    pub index: usize,
    /// The object of its content.
    pub stream: Ref,
    pub drawn: &'a DrawnPage,
    /// Whether it has a TrimBox even if it is not cut.
    pub trimmed: bool,
}

impl PageEntry<'_> {
    pub(super) fn write(&self, pdf: &mut Pdf, shared: &SharedObjects<'_>) {
        let (width, height) = self.page.size;
        let whole = [Length::ZERO, Length::ZERO, width, height];
        let mut entry = pdf.page(self.id);
        entry
            .parent(self.tree)
            .media_box(self.boxed(whole))
            .contents(self.stream);
        let unit = self.page.unit();
        if unit > 1.0 {
            entry.user_unit(unit as f32);
        }
        let uncut = PageBoxes {
            bleed: whole,
            trim: whole,
        };
        if let Some(boxes) = self.page.boxes.or(self.trimmed.then_some(uncut)) {
            entry.bleed_box(self.boxed(boxes.bleed));
            entry.trim_box(self.boxed(boxes.trim));
        }
        if !self.drawn.marked.is_empty() {
            entry.struct_parents(self.index as i32);
        }
        entry.tab_order(pdf_writer::types::TabOrder::StructureOrder);
        let mut resources = entry.resources();
        shared
            .fonts
            .name_resources(&mut resources, &self.drawn.fonts);
        shared.inks.name_resources(&mut resources, self.drawn);
        shared
            .pictures
            .name_resources(&mut resources, &self.drawn.pictures);
        shared
            .groups
            .name_resources(&mut resources, &self.drawn.groups);
    }

    /// A rectangle (left, bottom, width, height) as it is seen, in the page's units.
    fn boxed(&self, [left, bottom, width, height]: [Length; 4]) -> Rect {
        let left = match self.page.mirrored {
            true => self.page.size.0 - left - width,
            false => left,
        };
        let unit = |length: Length| rounded(length.as_pt() / self.page.unit());
        Rect::new(
            unit(left),
            unit(bottom),
            unit(left + width),
            unit(bottom + height),
        )
    }
}
