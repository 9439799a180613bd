//! Lines of text: a line that is a block of its own, a line of verse, and a line of a paragraph.

use super::super::LineKind;
use super::super::scan::PhysicalLine;
use super::{Assembly, AwaitedLine};
use crate::names::{Fault, Location};

impl Assembly<'_> {
    /// A line that is a block of its own.
    pub(super) fn take_single(&mut self, kind: LineKind, line: &PhysicalLine) {
        self.in_stanza = false;
        self.refuse_pending();
        self.push(kind, line.content.clone(), 0, false);
        self.in_stanza = false;
    }

    pub(super) fn take_verse(&mut self, line: &PhysicalLine) {
        if line.content.is_empty() {
            let place = Location::new(
                self.source,
                line.content.start.saturating_sub(2)..line.content.end,
            );
            let fault = Fault::new("step", "`>>` stands before no words")
                .at(place)
                .allowed("the words of the line that steps on");
            self.faults.push(fault);
            return;
        }
        let has_line_above = self.part().lines.iter().any(|line| line.kind.is_verse());
        if line.stepped && !has_line_above {
            let fault = Fault::new("step", "`>>` has no line of verse above to step on from")
                .at(Location::new(self.source, line.content.clone()));
            self.faults.push(fault);
        }
        let kind = match self.next.take() {
            Some((AwaitedLine::Attribution, _)) => {
                // The line is a block of its own, however close it stands.
                self.in_stanza = false;
                LineKind::Attribution
            }
            Some((AwaitedLine::Epigraph, _)) => {
                self.in_stanza = false;
                self.stanza_kind = AwaitedLine::Epigraph;
                LineKind::Epigraph
            }
            _ if self.in_stanza && self.stanza_kind == AwaitedLine::Epigraph => LineKind::Epigraph,
            _ => {
                self.stanza_kind = AwaitedLine::Verse;
                LineKind::Verse
            }
        };
        let single = kind == LineKind::Attribution;
        self.push(kind, line.content.clone(), line.half_ems, line.stepped);
        self.in_stanza = !single;
    }

    /// A physical line of prose: it goes on with the paragraph above, or begins one.
    pub(super) fn take_prose(&mut self, line: &PhysicalLine) {
        if line.stepped {
            let fault = Fault::new("step", "`>>` steps a line of verse, and this is prose")
                .at(self.step_of(line))
                .help(
                    "write [set as verse] above the verse; if these are the client's words, write \\>>",
                );
            self.faults.push(fault);
            return;
        }
        let above = self.kind_above();
        let kind = match self.next.take() {
            Some((AwaitedLine::Attribution, _)) => LineKind::Attribution,
            Some((AwaitedLine::Epigraph, _)) => LineKind::ProseEpigraph,
            _ => match above.filter(|_| self.in_stanza) {
                Some(LineKind::ProseEpigraph) => LineKind::ProseEpigraph,
                _ => LineKind::Prose,
            },
        };
        let above = self.kind_above();
        let goes_on =
            self.in_stanza && !self.parted && !self.new_panel && above == Some(kind.clone());
        let last = self.part().lines.last();
        if goes_on && last.is_some_and(|line| line.kind == kind) {
            self.join(line.content.clone());
            return;
        }
        let continues = self.in_stanza && kind.is_prose();
        // What room or a new panel parts is a block of its own; what a caption parts is not.
        self.in_stanza = goes_on;
        self.push(kind.clone(), line.content.clone(), 0, false);
        if let Some(last) = self.part().lines.last_mut() {
            last.continues = continues;
        }
        self.in_stanza = kind.is_prose();
    }
}
