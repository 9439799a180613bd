//! Drawings within others: groups of optional content, and clipped rectangles.

use pdf_writer::Name;

use super::{Pen, note};
use crate::names::Ink;
use crate::pdf::Within;

/// What has been begun and not ended.
pub(super) enum Open {
    Group,
    /// The ink that was set before.
    Clip(Option<Ink>),
}

impl Pen<'_> {
    /// `/OC … BDC`, or `q re W n`.
    pub(super) fn begin(&mut self, within: &Within) {
        match within {
            Within::Group(group) => {
                note(&mut self.drawn.groups, *group);
                self.content
                    .begin_marked_content_with_properties(Name(b"OC"))
                    .properties_named(Name(group.name().as_bytes()));
                self.open.push(Open::Group);
            }
            Within::Clip(at) => {
                let [left, bottom, width, height] = at.map(|length| self.pt(length));
                self.content
                    .save_state()
                    .rect(left, bottom, width, height)
                    .clip_nonzero()
                    .end_path();
                self.open.push(Open::Clip(self.ink.clone()));
            }
        }
    }

    /// `EMC`, or `Q`.
    pub(super) fn end(&mut self) {
        match self.open.pop() {
            Some(Open::Group) => {
                self.content.end_marked_content();
            }
            Some(Open::Clip(ink)) => {
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
