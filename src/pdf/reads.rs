//! What the glyphs of a run read as, in the order in which they are read.
//!
//! Most glyphs read as the text of their own. Where the glyphs of a cluster stand for its text only together, that text is
//! shared out among those that are wide, in the order in which they are read; each of them has a code that reads as
//! its share. Marks read as nothing: they are shown when all else of their line has been, under an ActualText that is
//! empty. So no reader takes the room between a letter and its mark for a gap between words, and what a reader finds does
//! not hang on whether it knows ActualText.

use std::borrow::Cow;

use unicode_normalization::char::is_combining_mark;

use super::fonts::{DOWN, width};
use super::rounded;
use super::show::em;
use crate::layout::{GlyphRun, LaidGlyph};
use crate::typeface::{Face, is_ignorable};

/// What a hyphen reads as that is there only because a line ends (ISO 32000-1, 14.8.2.2.3, from memory): alone, so that no reader has
/// the halves of a word and the whole of it.
const SOFT_HYPHEN: &str = "\u{ad}";

/// A glyph of a run, and what it reads as.
pub(super) struct ReadGlyph<'l> {
    pub glyph: &'l LaidGlyph,
    /// How far from the run's left edge the pen stands, in font units.
    pub pen: i32,
    /// What its code is to read as; nothing where only an ActualText can tell.
    pub reads: Option<Cow<'l, str>>,
    /// The text of the cluster that begins with it.
    pub opens: Option<&'l str>,
    /// Whether its cluster is told as one by an ActualText, whatever the codes read as.
    pub as_one: bool,
}

/// The glyphs of a run in the order in which they are read.
#[derive(Default)]
pub(super) struct RunReading<'l> {
    /// Those that read as something.
    pub read: Vec<ReadGlyph<'l>>,
    /// Those that read as nothing.
    pub marks: Vec<ReadGlyph<'l>>,
}

/// How the glyphs of a run of a line with this text are read.
pub(super) fn run_reading<'l>(run: &'l GlyphRun, text: &'l str) -> RunReading<'l> {
    if let Some(read) = each_alone(run, text) {
        let marks = Vec::new();
        return RunReading { read, marks };
    }
    let glyphs = in_reading_order(run);
    let own = |glyph: &LaidGlyph| &text[glyph.text.clone()];
    let goes_on = |glyph: &LaidGlyph| goes_on(glyph, own(glyph));
    let mut reading = RunReading::default();
    let aside = |glyph: &LaidGlyph| stands_aside(run, glyph);
    let clusters = glyphs.chunk_by(|before, (_, next)| {
        before.1.added.is_none() && (goes_on(next) || aside(before.1) && aside(next))
    });
    for cluster in clusters {
        if aside(cluster[0].1) {
            reading.side_by_side(cluster, text);
            continue;
        }
        let plain = cluster.iter().all(|(_, glyph)| {
            let moved = cluster.len() > 1 && (glyph.dx, glyph.dy) != (0, 0);
            !moved && (!glyph.text.is_empty() || glyph.added.is_some())
        });
        if plain {
            let alone = |&(pen, glyph)| ReadGlyph::alone(pen, glyph, own(glyph));
            reading.read.extend(cluster.iter().map(alone));
        } else {
            reading.share(cluster, &run.face, text);
        }
    }
    reading
}

/// The glyphs of a run in which each is a cluster by itself, in their order already, as those of nearly all runs are.
fn each_alone<'l>(run: &'l GlyphRun, text: &'l str) -> Option<Vec<ReadGlyph<'l>>> {
    if run.upright {
        return None;
    }
    let mut read = Vec::with_capacity(run.glyphs.len());
    let (mut pen, mut start) = (0, 0);
    for glyph in &run.glyphs {
        let own = &text[glyph.text.clone()];
        if glyph.text.start < start || goes_on(glyph, own) {
            return None;
        }
        read.push(ReadGlyph::alone(pen, glyph, own));
        (pen, start) = (pen + glyph.advance, glyph.text.start);
    }
    Some(read)
}

/// Whether a glyph belongs to the cluster of the one before it: a cluster is a glyph with a letter, and those behind it
/// with its marks or with nothing of their own.
fn goes_on(glyph: &LaidGlyph, own: &str) -> bool {
    let first = own.chars().next();
    // No letter of ASCII is a mark.
    let mark = |c: char| !c.is_ascii() && is_combining_mark(c);
    glyph.added.is_none() && first.is_none_or(mark)
}

impl<'l> ReadGlyph<'l> {
    /// A glyph that reads as the text of its own, whatever stands beside it.
    fn alone(pen: i32, glyph: &'l LaidGlyph, own: &'l str) -> ReadGlyph<'l> {
        ReadGlyph {
            glyph,
            pen,
            reads: reads_alone(glyph, own),
            opens: Some(match glyph.added {
                Some('-') => SOFT_HYPHEN,
                _ => own,
            }),
            as_one: false,
        }
    }
}

/// What a glyph reads as by itself.
fn reads_alone<'l>(glyph: &LaidGlyph, own: &'l str) -> Option<Cow<'l, str>> {
    match glyph.added {
        Some('-') => None,
        Some(sign) => Some(Cow::Owned(sign.to_string())),
        None => by_code(own),
    }
}

/// How many bytes of UTF-8 a code may read as: far more than a cluster has that is written to be read, and few enough for
/// every reader (a CMap's strings have 512 bytes at most, Adobe Technical Note 5014, from memory).
const MOST_BY_CODE: usize = 96;

/// What a code is to read as; nothing of a text that is too long for one.
fn by_code(text: &str) -> Option<Cow<'_, str>> {
    (text.len() <= MOST_BY_CODE).then(|| spaces_as_one(text))
}

/// All white space reads as a space.
fn spaces_as_one(text: &str) -> Cow<'_, str> {
    match !text.is_empty() && text.chars().all(char::is_whitespace) {
        true => Cow::Borrowed(" "),
        false => Cow::Borrowed(text),
    }
}

/// How far an upright glyph stands to the right of the middle of a line that runs down, in thousandths of an em.
pub(super) fn off_middle(run: &GlyphRun, glyph: &LaidGlyph) -> f32 {
    let middle = f64::from(DOWN.0) - f64::from(DOWN.1) / 2.0;
    let own = f64::from(width(&run.face, glyph.id)) / 2.0;
    rounded(em(run, glyph.dy) - middle + own)
}

/// Whether a glyph is upright and does not stand in the middle of its line, as two digits side by side do not.
fn stands_aside(run: &GlyphRun, glyph: &LaidGlyph) -> bool {
    // By less than this it may be off for rounding.
    const NEAR: f32 = 20.0;
    run.upright && off_middle(run, glyph).abs() > NEAR
}

impl<'l> RunReading<'l> {
    /// Glyphs side by side in a line that runs down. Each reads as its own text, and an ActualText tells that they are
    /// one: readers that go by where letters stand take them for letters of two lines (poppler).
    fn side_by_side(&mut self, cluster: &[(i32, &'l LaidGlyph)], text: &'l str) {
        let from = cluster[0].1.text.start;
        let to = cluster.iter().map(|(_, glyph)| glyph.text.end).max();
        let whole = &text[from..to.unwrap_or(from).max(from)];
        let shown = cluster.iter().enumerate().map(|(at, &(pen, glyph))| {
            let own = &text[glyph.text.clone()];
            ReadGlyph {
                glyph,
                pen,
                reads: (!own.is_empty()).then_some(Cow::Borrowed(own)),
                opens: (at == 0).then_some(whole),
                as_one: true,
            }
        });
        self.read.extend(shown);
    }

    /// Shares the text of a cluster out among its glyphs that are wide: among as many as it has characters, the widest.
    fn share(&mut self, cluster: &[(i32, &'l LaidGlyph)], face: &Face, text: &'l str) {
        let texts = cluster.iter().map(|(_, glyph)| &glyph.text);
        let texts = texts.filter(|text| !text.is_empty());
        let start = texts.clone().map(|text| text.start).min().unwrap_or(0);
        let end = texts.map(|text| text.end).max().unwrap_or(start);
        let whole = &text[start..end];
        let wide = |index: &usize| face.advance(cluster[*index].1.id);
        let mut widest: Vec<usize> = (0..cluster.len()).collect();
        widest.sort_by_key(|index| std::cmp::Reverse(wide(index)));
        let count = widest.iter().filter(|index| wide(index) > 0).count();
        let shares = match whole.is_empty() {
            true => Vec::new(),
            false => shares(whole, count.max(1)),
        };
        widest.truncate(shares.len());
        let mut shares = shares.into_iter();
        for (index, &(pen, glyph)) in cluster.iter().enumerate() {
            let shown = |reads, opens| ReadGlyph {
                glyph,
                pen,
                reads,
                opens,
                as_one: false,
            };
            match widest.contains(&index) {
                true => {
                    let first = shares.len() == widest.len();
                    let share = shares.next().and_then(by_code);
                    self.read.push(shown(share, first.then_some(whole)));
                }
                false => self.marks.push(shown(None, None)),
            }
        }
    }
}

/// A text in so many parts at most, each of one character and what belongs to it but the last, which has the rest.
fn shares(text: &str, most: usize) -> Vec<&str> {
    let starts = text.char_indices();
    let starts = starts.filter(|(_, c)| !is_ignorable(*c));
    let mut starts: Vec<usize> = starts.map(|(at, _)| at).take(most).collect();
    match starts.first_mut() {
        Some(first) => *first = 0,
        None => starts.push(0),
    }
    let ends = starts[1..].iter().copied().chain([text.len()]);
    let shares = starts.iter().zip(ends);
    shares.map(|(&from, to)| &text[from..to]).collect()
}

/// The glyphs in the order of the text, each with its pen; those of one cluster that stand for nothing by themselves behind
/// the one that stands for it all.
fn in_reading_order(run: &GlyphRun) -> Vec<(i32, &LaidGlyph)> {
    let mut pen = 0;
    let mut start = 0;
    let keyed = run.glyphs.iter().map(|glyph| {
        if !glyph.text.is_empty() || glyph.added.is_some() {
            start = glyph.text.start;
        }
        let placed = (start, (pen, glyph));
        pen += glyph.advance;
        placed
    });
    let mut keyed: Vec<(usize, (i32, &LaidGlyph))> = keyed.collect();
    keyed.sort_by_key(|(start, _)| *start);
    keyed.into_iter().map(|(_, placed)| placed).collect()
}
