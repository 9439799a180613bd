//! Captions: what stands with a picture, and what it leaves alone.

use super::super::scan::PhysicalLine;
use super::super::{CaptionCall, LineKind};
use super::{Assembly, AwaitedLine};
use crate::names::{Fault, Location, SetAs};

impl Assembly<'_> {
    /// Takes a line that is a caption, or goes on with one. It is a block of its own, and what stands above and
    /// below it is not parted. Tells whether the line was a caption.
    pub(super) fn takes_caption(&mut self, line: &PhysicalLine, goes_on: bool) -> bool {
        let awaited = matches!(self.next, Some((AwaitedLine::Caption(_), _)));
        if !awaited && !goes_on {
            return false;
        }
        if line.stepped {
            let fault = Fault::new("step", "`>>` steps a line of verse, and this is a caption")
                .at(self.step_of(line))
                .help("if these are the client's words, write \\>>");
            self.faults.push(fault);
        }
        match self.next.take() {
            Some((AwaitedLine::Caption(name), place)) => {
                let stanza = (self.in_stanza, self.block, self.parted, self.may_divide);
                let captions = self.part().lines.len();
                self.part().captions.push(CaptionCall {
                    name,
                    line: captions,
                    place,
                });
                (self.in_stanza, self.parted) = (false, false);
                self.push(LineKind::Caption, line.content.clone(), 0, false);
                (self.in_stanza, self.block, self.parted, self.may_divide) = stanza;
            }
            _ => self.join(line.content.clone()),
        }
        self.in_caption = self.set_as == SetAs::Prose;
        true
    }

    /// The bytes of a stepped line from its `>>` to the end of its words.
    pub(super) fn step_of(&self, line: &PhysicalLine) -> Location {
        let step = self.source.text[..line.content.start].rfind(">>");
        let bytes = step.unwrap_or(line.content.start)..line.content.end;
        Location::new(self.source, bytes)
    }

    /// The kind of the last line that is not a caption.
    pub(super) fn kind_above(&mut self) -> Option<LineKind> {
        let mut above = self.part().lines.iter().rev();
        let above = above.find(|line| line.kind != LineKind::Caption)?;
        Some(above.kind.clone())
    }
}
