//! Putting the physical lines together: parts, stanzas, and what the callouts between them say.

mod captions;

use std::collections::HashMap;
use std::ops::Range;
use std::sync::Arc;

use super::callout::{self, Callout, RoomRequest};
use super::scan::{Physical, PhysicalKind, scan};
use super::tile::{TileKind, Tiling};
use super::{BODY, Joint, LineKind, Manuscript, Part, PictureCall, TextLine, inline};
use crate::names::SetAs;
use crate::names::{Fault, Faults, Location, Source};

pub(super) fn assemble(
    source: &Arc<Source>,
    starts_as: SetAs,
    has_readings: impl Fn(&str) -> bool,
) -> Result<Manuscript, Faults> {
    let mut tiling = Tiling::default();
    let physical = scan(&source.text, &mut tiling);
    let mut assembly = Assembly::new(source, starts_as);
    for line in &physical {
        assembly.take(line);
    }
    assembly.finish();
    let Assembly {
        mut parts,
        mut faults,
        ..
    } = assembly;
    for part in &mut parts {
        let reads = has_readings(&part.name);
        inline::read(source, &mut part.lines, reads, &mut tiling, &mut faults);
    }
    let tiles = tiling.finish();
    parts.retain(|part| !part.lines.is_empty() || !part.pictures.is_empty());
    if !tiles.iter().any(|tile| tile.kind == TileKind::Word) {
        faults.push(
            Fault::new("empty", format!("there is not a word in {}", source.name))
                .help("the manuscript is a text file with the client's words"),
        );
    }
    // What is left open is noticed late; an author reads from the top.
    faults.sort_by_key(|fault| {
        let place = fault.place.as_ref();
        place.map_or(usize::MAX, |place| place.span.start)
    });
    if faults.is_empty() {
        Ok(Manuscript {
            source: Arc::clone(source),
            tiles,
            parts,
        })
    } else {
        Err(faults)
    }
}

/// What the next line or stanza is, by a callout above it.
#[derive(Clone, PartialEq, Eq)]
enum Next {
    Verse,
    Epigraph,
    Attribution,
    /// Of the picture of that name.
    Caption(String),
}

struct Assembly<'a> {
    source: &'a Arc<Source>,
    parts: Vec<Part>,
    faults: Faults,
    /// The most blank lines standing together since the last line.
    blank_above: usize,
    blank_run: usize,
    /// What plain lines are set as.
    set_as: SetAs,
    /// Whether the stanza or paragraph goes on with the next line.
    in_stanza: bool,
    /// Whether room parts the next line from the block above.
    parted: bool,
    blocks: usize,
    /// The block of the stanza or paragraph that was begun last.
    block: usize,
    /// Whether the last line is a caption of prose, which goes on with the next.
    in_caption: bool,
    next: Option<(Next, Location)>,
    stanza_kind: Next,
    keeping: Option<Location>,
    kept_groups: usize,
    may_divide: bool,
    new_panel: bool,
    pictures: HashMap<String, Location>,
}

impl<'a> Assembly<'a> {
    fn new(source: &'a Arc<Source>, starts_as: SetAs) -> Assembly<'a> {
        let body = Part {
            name: BODY.to_string(),
            place: Location::new(source, 0..0),
            lines: Vec::new(),
            pictures: Vec::new(),
            captions: Vec::new(),
        };
        Assembly {
            source,
            parts: vec![body],
            faults: Faults::new(),
            blank_above: 0,
            blank_run: 0,
            set_as: starts_as,
            in_stanza: false,
            parted: false,
            blocks: 0,
            block: 0,
            in_caption: false,
            next: None,
            stanza_kind: Next::Verse,
            keeping: None,
            kept_groups: 0,
            may_divide: false,
            new_panel: false,
            pictures: HashMap::new(),
        }
    }

    fn part(&mut self) -> &mut Part {
        let last = self.parts.len() - 1;
        &mut self.parts[last]
    }

    fn take(&mut self, line: &Physical) {
        let goes_on = std::mem::take(&mut self.in_caption);
        match line.kind {
            PhysicalKind::Blank => {
                self.blank_run += 1;
                self.blank_above = self.blank_above.max(self.blank_run);
                self.in_stanza = false;
                return;
            }
            PhysicalKind::Callout => self.take_callout(line.content.clone()),
            PhysicalKind::Title => self.take_single(LineKind::Title, line),
            PhysicalKind::Heading => self.take_single(LineKind::Heading, line),
            PhysicalKind::Ornament => self.take_single(LineKind::Ornament, line),
            PhysicalKind::Plain if self.takes_caption(line, goes_on) => {}
            PhysicalKind::Plain if self.set_as == SetAs::Prose => self.take_prose(line),
            PhysicalKind::Plain => self.take_verse(line),
        }
        self.blank_run = 0;
    }

    /// A line that is a block of its own.
    fn take_single(&mut self, kind: LineKind, line: &Physical) {
        self.in_stanza = false;
        self.refuse_pending();
        self.push(kind, line.content.clone(), 0, false);
        self.in_stanza = false;
    }

    fn take_verse(&mut self, line: &Physical) {
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
        let is_verse = |line: &TextLine| matches!(line.kind, LineKind::Verse | LineKind::Epigraph);
        let has_line_above = self.part().lines.iter().any(is_verse);
        if line.stepped && !has_line_above {
            let fault = Fault::new("step", "`>>` has no line of verse above to step on from")
                .at(Location::new(self.source, line.content.clone()));
            self.faults.push(fault);
        }
        let kind = match self.next.take() {
            Some((Next::Attribution, _)) => {
                // The line is a block of its own, however close it stands.
                self.in_stanza = false;
                LineKind::Attribution
            }
            Some((Next::Epigraph, _)) => {
                self.in_stanza = false;
                self.stanza_kind = Next::Epigraph;
                LineKind::Epigraph
            }
            _ if self.in_stanza && self.stanza_kind == Next::Epigraph => LineKind::Epigraph,
            _ => {
                self.stanza_kind = Next::Verse;
                LineKind::Verse
            }
        };
        let single = kind == LineKind::Attribution;
        self.push(kind, line.content.clone(), line.half_ems, line.stepped);
        self.in_stanza = !single;
    }

    /// A physical line of prose: it goes on with the paragraph above, or begins one.
    fn take_prose(&mut self, line: &Physical) {
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
            Some((Next::Attribution, _)) => LineKind::Attribution,
            Some((Next::Epigraph, _)) => LineKind::ProseEpigraph,
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

    /// Takes a physical line into the paragraph above.
    fn join(&mut self, bytes: Range<usize>) {
        let joint = Joint {
            bytes: bytes.clone(),
            kept: self.keeping.is_some().then_some(self.kept_groups),
            may_divide: std::mem::take(&mut self.may_divide),
        };
        if let Some(paragraph) = self.part().lines.last_mut() {
            paragraph.bytes.end = bytes.end;
            paragraph.joints.push(joint);
        }
    }

    fn push(&mut self, kind: LineKind, bytes: Range<usize>, half_ems: usize, stepped: bool) {
        let parted = std::mem::take(&mut self.parted);
        if parted || !self.in_stanza {
            self.block = self.blocks;
            self.blocks += 1;
        }
        let line = TextLine {
            kind,
            block: self.block,
            blank_above: std::mem::take(&mut self.blank_above),
            half_ems,
            stepped,
            continues: false,
            runs: Vec::new(),
            rubies: Vec::new(),
            first: bytes.clone(),
            joints: Vec::new(),
            bytes,
            kept: self.keeping.is_some().then_some(self.kept_groups),
            may_divide: std::mem::take(&mut self.may_divide),
            new_panel: std::mem::take(&mut self.new_panel),
        };
        self.part().lines.push(line);
    }

    fn take_callout(&mut self, bytes: Range<usize>) {
        let place = Location::new(self.source, bytes.clone());
        match callout::read(&self.source.text[bytes.clone()], &place) {
            Ok(callout) => self.apply(callout, place, bytes),
            Err(fault) => self.faults.push(fault),
        }
    }

    fn apply(&mut self, callout: Callout, place: Location, bytes: Range<usize>) {
        match callout {
            Callout::Picture(name) => self.picture(name, place),
            Callout::Caption(name) => self.expect(Next::Caption(name), place),
            Callout::NewPanel => self.new_panel = !self.part().lines.is_empty(),
            Callout::MayDivide => self.may_divide = true,
            Callout::KeepTogether => self.keep(place),
            Callout::EndTogether => self.end_keep(place),
            Callout::SetAs(kind) => self.set_as(kind),
            Callout::Epigraph => self.expect(Next::Epigraph, place),
            Callout::Attribution => self.expect(Next::Attribution, place),
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

    fn expect(&mut self, next: Next, place: Location) {
        self.refuse_pending();
        self.next = Some((next, place));
    }

    /// A callout that waits for a line of verse must not be left waiting.
    fn refuse_pending(&mut self) {
        if let Some((next, place)) = self.next.take() {
            let (callout, wanted) = match next {
                Next::Caption(_) => ("[caption]", "the words that stand with the picture"),
                Next::Attribution => ("[attribution]", "the line that says who speaks"),
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

    fn close_part(&mut self) {
        self.refuse_pending();
        if let Some(open) = self.keeping.take() {
            let fault = Fault::new("keep-together", "`[keep together]` has no end")
                .at(open)
                .help("write [end together] below the last line that stays");
            self.faults.push(fault);
        }
        self.may_divide = false;
        self.new_panel = false;
    }

    fn finish(&mut self) {
        self.close_part();
    }
}
