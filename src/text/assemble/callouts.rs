//! What the callouts between lines say of those above and below.

use std::ops::Range;

use super::super::callout::{self, Callout, RoomRequest};
use super::super::{LineKind, Part, PictureCall};
use super::{Assembly, AwaitedLine};
use crate::names::{Fault, Location, SetAs};

impl Assembly<'_> {
    pub(super) fn take_callout(&mut self, bytes: Range<usize>) {
        let place = Location::new(self.source, bytes.clone());
        match callout::read(&self.source.text[bytes.clone()], &place) {
            Ok(callout) => self.apply(callout, place, bytes),
            Err(fault) => self.faults.push(fault),
        }
    }

    fn apply(&mut self, callout: Callout, place: Location, bytes: Range<usize>) {
        match callout {
            Callout::Picture(name) => self.picture(name, place),
            Callout::Caption(name) => self.expect(AwaitedLine::Caption(name), place),
            Callout::NewPanel => self.new_panel = !self.part().lines.is_empty(),
            Callout::MayDivide => self.may_divide = true,
            Callout::KeepTogether => self.keep(place),
            Callout::EndTogether => self.end_keep(place),
            Callout::SetAs(kind) => self.set_as(kind),
            Callout::Epigraph => self.expect(AwaitedLine::Epigraph, place),
            Callout::Attribution => self.expect(AwaitedLine::Attribution, place),
            Callout::Subtitle => self.expect(AwaitedLine::Subtitle, place),
            Callout::Author => self.expect(AwaitedLine::Author, place),
            Callout::Space(room) => self.room(room, bytes),
            Callout::Part(name) => self.begin_part(name, place),
        }
    }

    /// A paragraph ends where verse begins, and a stanza where prose does.
    fn set_as(&mut self, kind: SetAs) {
        if kind != self.set_as {
            self.refuse_pending();
            self.in_stanza = false;
        }
        self.set_as = kind;
    }

    fn picture(&mut self, name: String, place: Location) {
        if let Some(earlier) = self.pictures.get(&name) {
            let fault = Fault::new(
                "picture-twice",
                format!("two callouts name the picture `{name}`"),
            )
            .at(place)
            .also(earlier.clone(), "named here first")
            .help("a picture is placed once: give the second one a name of its own");
            self.faults.push(fault);
            return;
        }
        self.pictures.insert(name.clone(), place.clone());
        let after = self.part().lines.len();
        self.part()
            .pictures
            .push(PictureCall { name, after, place });
    }

    fn keep(&mut self, place: Location) {
        if let Some(open) = &self.keeping {
            let fault = Fault::new("keep-together", "`[keep together]` stands inside another")
                .at(place)
                .also(open.clone(), "this one is not ended yet")
                .help("end the first with [end together]");
            self.faults.push(fault);
            return;
        }
        self.kept_groups += 1;
        self.keeping = Some(place);
    }

    fn end_keep(&mut self, place: Location) {
        if self.keeping.take().is_none() {
            let fault = Fault::new("keep-together", "`[end together]` ends nothing")
                .at(place)
                .help("it needs a [keep together] above it");
            self.faults.push(fault);
        }
    }

    fn expect(&mut self, next: AwaitedLine, place: Location) {
        self.refuse_pending();
        self.next = Some((next, place));
    }

    /// A callout that waits for a line of verse must not be left waiting.
    pub(super) fn refuse_pending(&mut self) {
        if let Some((next, place)) = self.next.take() {
            let (callout, wanted) = match next {
                AwaitedLine::Caption(_) => ("[caption]", "the words that stand with the picture"),
                AwaitedLine::Attribution => ("[attribution]", "the line that says who speaks"),
                AwaitedLine::Subtitle => ("[subtitle]", "the subtitle"),
                AwaitedLine::Author => ("[author]", "who wrote the words"),
                _ => ("[epigraph]", "the lines of the epigraph"),
            };
            let fault = Fault::new("callout", format!("nothing follows `{callout}`"))
                .at(place)
                .allowed(format!("{wanted}, on the next line"));
            self.faults.push(fault);
        }
    }

    fn room(&mut self, room: RoomRequest, bytes: Range<usize>) {
        let was_in_stanza = std::mem::take(&mut self.in_stanza);
        self.push(LineKind::Room(room), bytes, 0, false);
        // The stanza goes on below the room, with a block number of its own.
        self.in_stanza = was_in_stanza;
        self.parted = true;
    }

    fn begin_part(&mut self, name: String, place: Location) {
        self.close_part();
        let words_before = |part: &Part| !part.lines.is_empty() || !part.pictures.is_empty();
        if let Some(earlier) = self
            .parts
            .iter()
            .find(|part| part.name == name && words_before(part))
        {
            let fault = Fault::new("part-twice", format!("the part `{name}` begins twice"))
                .at(place.clone())
                .also(earlier.place.clone(), "it begins here first");
            self.faults.push(fault);
        }
        self.in_stanza = false;
        self.blank_above = 0;
        self.blocks = 0;
        self.block = 0;
        self.parted = false;
        self.parts.push(Part {
            name,
            place,
            lines: Vec::new(),
            pictures: Vec::new(),
            captions: Vec::new(),
        });
    }

    pub(super) fn close_part(&mut self) {
        self.refuse_pending();
        self.refuse_untitled();
        if let Some(open) = self.keeping.take() {
            let fault = Fault::new("keep-together", "`[keep together]` has no end")
                .at(open)
                .help("write [end together] below the last line that stays");
            self.faults.push(fault);
        }
        self.may_divide = false;
        self.new_panel = false;
    }
}
