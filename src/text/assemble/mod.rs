//! Putting the physical lines together: parts, stanzas, and what the callouts between them say.

mod callouts;
mod captions;
mod lines;
mod titles;

use std::collections::HashMap;
use std::ops::Range;
use std::sync::Arc;

use super::scan::{PhysicalKind, PhysicalLine, scan};
use super::tile::{TileKind, Tiling};
use super::{BODY, Joint, LineKind, Manuscript, Part, TextLine, inline};
use crate::names::{Fault, Faults, Location, SetAs, Source};

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
            parts: parts.into(),
        })
    } else {
        Err(faults)
    }
}

/// What the next line or stanza is, by a callout above it.
#[derive(Clone, PartialEq, Eq)]
enum AwaitedLine {
    Verse,
    Epigraph,
    Attribution,
    Subtitle,
    Author,
    /// The caption of the picture of that name.
    Caption(String),
}

struct Assembly<'a> {
    source: &'a Arc<Source>,
    parts: Vec<Part>,
    faults: Faults,
    /// The most blank lines that stand together since the last line of words.
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
    next: Option<(AwaitedLine, Location)>,
    /// Subtitles and authors of the part: which line each is, and its callout.
    of_titles: Vec<(usize, Location)>,
    stanza_kind: AwaitedLine,
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
            of_titles: Vec::new(),
            stanza_kind: AwaitedLine::Verse,
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

    fn take(&mut self, line: &PhysicalLine) {
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
            PhysicalKind::Subheading => self.take_single(LineKind::Subheading, line),
            PhysicalKind::Ornament => self.take_single(LineKind::Ornament, line),
            PhysicalKind::Plain if self.takes_caption(line, goes_on) => {}
            PhysicalKind::Plain if self.takes_of_title(line) => {}
            PhysicalKind::Plain if self.set_as == SetAs::Prose => self.take_prose(line),
            PhysicalKind::Plain => self.take_verse(line),
        }
        self.blank_run = 0;
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

    fn finish(&mut self) {
        self.close_part();
    }
}
