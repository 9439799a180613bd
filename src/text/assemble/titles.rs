//! Subtitles and authors: lines that stand with a heading.

use super::super::LineKind;
use super::super::scan::PhysicalLine;
use super::{Assembly, AwaitedLine};
use crate::names::Fault;

impl Assembly<'_> {
    /// Takes a line that is a subtitle or an author, if a callout says so. Tells whether it was one.
    pub(super) fn takes_of_title(&mut self, line: &PhysicalLine) -> bool {
        let kind = match self.next {
            Some((AwaitedLine::Subtitle, _)) => LineKind::Subtitle,
            Some((AwaitedLine::Author, _)) => LineKind::Author,
            _ => return false,
        };
        if line.stepped {
            let what = "`>>` steps a line of verse, and this stands with a title";
            let fault = Fault::new("step", what)
                .at(self.step_of(line))
                .help("if these are the client's words, write \\>>");
            self.faults.push(fault);
        }
        let number = self.part().lines.len();
        if let Some((_, place)) = self.next.take() {
            self.of_titles.push((number, place));
        }
        self.take_single(kind, line);
        true
    }

    /// Tells subtitles and authors of the part that stand beside no heading, but others of their kind between.
    pub(super) fn refuse_untitled(&mut self) {
        for (number, place) in std::mem::take(&mut self.of_titles) {
            let lines = &self.part().lines;
            let titling = |at: &usize| lines[*at].kind.is_titling();
            let before = (0..number).rev().take_while(titling);
            let behind = (number..lines.len()).take_while(titling);
            if before.chain(behind).any(|at| lines[at].kind.is_heading()) {
                continue;
            }
            let (callout, else_so) = match lines[number].kind {
                LineKind::Author => ("[author]", "; [attribution] says who wrote the words above"),
                _ => ("[subtitle]", ""),
            };
            let fault = Fault::new("callout", format!("`{callout}` stands beside no title"))
                .at(place)
                .allowed("a line that stands next to a `#`, `##` or `###` heading")
                .help(format!("write the title as # TITLE above it{else_so}"));
            self.faults.push(fault);
        }
    }
}
