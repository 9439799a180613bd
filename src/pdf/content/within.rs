//! Drawings within others: groups of optional content, and clipped rectangles.

use pdf_writer::Name;

use super::{PagePen, note};
use crate::names::Ink;
use crate::pdf::Within;

/// A group or a clip that has been begun and not ended.
pub(super) enum OpenScope {
    Group,
    /// A clip, with the ink that was set before it.
    Clip(Option<Ink>),
}

impl PagePen<'_> {
    /// Begins a group (`/OC … BDC`) or a clip (`q re W n`).
    pub(super) fn begin(&mut self, within: &Within) {
        match within {
            Within::Group(group) => {
                note(&mut self.drawn.groups, *group);
                self.content
                    .begin_marked_content_with_properties(Name(b"OC"))
                    .properties_named(Name(group.name().as_bytes()));
                self.open.push(OpenScope::Group);
            }
            Within::Clip(at) => {
                let [left, bottom, width, height] = at.map(|length| self.pt(length));
                self.content
                    .save_state()
                    .rect(left, bottom, width, height)
                    .clip_nonzero()
                    .end_path();
                self.open.push(OpenScope::Clip(self.ink.clone()));
            }
        }
    }

    /// Ends what was begun last, with `EMC` or `Q`.
    pub(super) fn end(&mut self) {
        match self.open.pop() {
            Some(OpenScope::Group) => {
                self.content.end_marked_content();
            }
            Some(OpenScope::Clip(ink)) => {
                self.content.restore_state();
                self.ink = ink;
            }
            None => {}
        }
    }

    pub(super) fn end_all(&mut self) {
        while !self.open.is_empty() {
            self.end();
        }
    }
}
