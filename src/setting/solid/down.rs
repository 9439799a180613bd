//! Lines that run down: what stands upright in them, what is turned, and which short numbers stand in one square.

use std::ops::Range;

use unicode_segmentation::UnicodeSegmentation;

use super::{PieceKind, is_solid};
use crate::names::{Fault, Faults, and_list};
use crate::setting::shaped::ShapedLine;
use crate::setting::{Note, Row, RowNote};
use crate::text::Manuscript;
use crate::typeface::{Posture, Script, Shaper};

/// The most letters, digits or marks that stand side by side in one square.
const TOGETHER: usize = 2;

/// What stands beside short numbers without being of any script, such as dashes, quotation marks and `℃`.
fn is_sign(c: char) -> bool {
    !c.is_ascii() && !c.is_alphanumeric() && !c.is_whitespace()
}

fn is_mark(c: u8) -> bool {
    matches!(c, b'!' | b'?')
}

impl ShapedLine {
    /// How a part of the line that is shaped by itself stands.
    pub(in crate::setting) fn posture(&self, part: &Range<usize>) -> Posture {
        if !self.lines_run.is_down() {
            return Posture::AlongLine;
        }
        let first = self.text[part.clone()].chars().next();
        match first {
            Some(c) if c.is_ascii_alphanumeric() || matches!(c, '!' | '?') => {
                match self.stands_together(part.start) {
                    true => Posture::Together,
                    false => Posture::AlongLine,
                }
            }
            Some(c) => Posture::of(c),
            None => Posture::AlongLine,
        }
    }

    /// Whether the letters and digits around a byte, or the `!` and `?`, stand side by side in one square of a line that
    /// runs down: one or two of ASCII between signs that are set solid (JLREQ 3.2.5, tate-chu-yoko), whatever dashes, quotation
    /// marks and the like stand between.
    pub(super) fn stands_together(&self, at: usize) -> bool {
        self.lines_run.is_down()
            && self.together_around(at).is_some_and(|run| {
                let beside = [
                    self.text[..run.start]
                        .chars()
                        .rev()
                        .find(|c| is_solid(*c) || !is_sign(*c)),
                    self.text[run.end..]
                        .chars()
                        .find(|c| is_solid(*c) || !is_sign(*c)),
                ];
                run.len() <= TOGETHER
                    && beside.iter().flatten().all(|c| is_solid(*c))
                    && beside.iter().any(Option::is_some)
            })
    }

    /// The ASCII letters and digits around a byte, or the marks; of a long run only so many as tell that it is long.
    fn together_around(&self, at: usize) -> Option<Range<usize>> {
        let bytes = self.text.as_bytes();
        let own = *bytes.get(at)?;
        let alike = |at: &usize| match is_mark(own) {
            true => bytes.get(*at).is_some_and(|b| is_mark(*b)),
            false => bytes.get(*at).is_some_and(u8::is_ascii_alphanumeric),
        };
        alike(&at).then(|| {
            let before = (0..at).rev().take(TOGETHER).take_while(alike).count();
            let behind = (at..bytes.len())
                .take(TOGETHER + 1)
                .take_while(alike)
                .count();
            at - before..at + behind
        })
    }

    /// Cuts a part of a word in a line that runs down into what is shaped together: what stands upright and what is set
    /// solid one by one.
    pub(super) fn parts_down(&self, part: Range<usize>) -> Vec<(Range<usize>, PieceKind)> {
        let mut found: Vec<(Range<usize>, PieceKind)> = Vec::new();
        let mut from = part.start;
        while from < part.end {
            let rest = &self.text[from..part.end];
            let Some(cluster) = rest.graphemes(true).next() else {
                break;
            };
            let together = self.together_around(from).filter(|run| {
                run.start == from && run.end <= part.end && self.stands_together(from)
            });
            let to = together.map_or(from + cluster.len(), |run| run.end);
            let along = self.posture(&(from..to)) == Posture::AlongLine;
            let solid = !along || cluster.chars().next().is_some_and(is_solid);
            match found.last_mut() {
                _ if solid => found.push((from..to, PieceKind::Solid)),
                Some((last, PieceKind::Word)) => last.end = to,
                _ => found.push((from..to, PieceKind::Word)),
            }
            from = to;
        }
        found
    }

    /// The signs of the line that stand upright in another form, each with its byte, whose face has no such forms at all:
    /// one that has some knows which of its signs need none.
    fn without_form<'s>(
        &'s self,
        shaper: &'s Shaper<'_>,
    ) -> impl Iterator<Item = (usize, char, String)> + 's {
        let transformed = |(_, c): &(usize, char)| Posture::is_transformed(*c);
        let signs = self.text.char_indices().filter(transformed);
        signs.filter_map(|(at, c)| {
            let part = at..at + c.len_utf8();
            let voice = self.voice_at(at)?;
            let context = self.context_of(&part);
            let word = shaper.word_of(&self.text, part, voice, context);
            let segment = word.segments.first()?;
            let face = &segment.face;
            let formed = face.has_feature(b"vert") || face.has_feature(b"vrt2");
            (!formed).then(|| (at, c, face.name().to_string()))
        })
    }
}

/// The scripts whose lines may run down, by their ISO 15924 codes: those that are written so, and those of Europe, whose
/// words are turned (UAX #50, section 2).
const SCRIPTS: [&[u8; 4]; 11] = [
    b"Hani", b"Hira", b"Kana", b"Bopo", b"Hang", b"Yiii", b"Latn", b"Grek", b"Cyrl", b"Armn",
    b"Geor",
];

/// A fault for the first word in lines that run down of each script whose lines do not.
pub(in crate::setting) fn script_faults(manuscript: &Manuscript, rows: &[Row]) -> Faults {
    let mut told: Vec<Script> = Vec::new();
    let mut faults = Faults::new();
    let down = rows.iter().filter(|row| row.shaped.lines_run.is_down());
    for (row, word) in down.flat_map(|row| row.shaped.words.iter().map(move |word| (row, word))) {
        let letters = row.shaped.text[word.text.clone()].chars();
        for script in letters.filter_map(Script::of) {
            if SCRIPTS.contains(&&script.code()) || told.contains(&script) {
                continue;
            }
            told.push(script);
            let what = format!(
                "lines of {} do not run down: its words are written along their line, and would lie on their side",
                script.name()
            );
            let fault = Fault::new("lines-run", what).help(
                "let the lines of this part run across: lines-run = \"across\" in its [[part]]",
            );
            let sources = row.shaped.sources(word.text.clone());
            faults.push(match sources.first() {
                Some(bytes) => fault.at(manuscript.place(bytes.0..bytes.1)),
                None => fault,
            });
        }
    }
    faults
}

/// How many signs without a form are named.
const NAMED: usize = 6;

/// Signs that have no form for lines that run down, of each face once.
pub(in crate::setting) fn notes(
    manuscript: &Manuscript,
    rows: &[Row],
    columns: usize,
    shaper: &Shaper<'_>,
) -> Vec<RowNote> {
    // The face, its signs, and the row and the byte of the first.
    let mut faces: Vec<(String, Vec<char>, (usize, usize))> = Vec::new();
    let down = |(_, row): &(usize, &Row)| row.shaped.lines_run.is_down();
    for (index, row) in rows.iter().enumerate().filter(down) {
        for (at, c, face) in row.shaped.without_form(shaper) {
            match faces.iter_mut().find(|known| known.0 == face) {
                Some((_, signs, _)) if signs.contains(&c) => {}
                Some((_, signs, _)) => signs.push(c),
                None => faces.push((face, vec![c], (index, at))),
            }
        }
    }
    let notes = faces.into_iter().flat_map(|(face, signs, (index, at))| {
        let named = signs.iter().take(NAMED).map(|c| format!("`{c}`"));
        let more = (signs.len() > NAMED).then(|| format!("{} more", signs.len() - NAMED));
        let signs: Vec<String> = named.chain(more).collect();
        let row = &rows[index];
        let sources = row.shaped.sources(at..row.shaped.text.len());
        let place = sources.first();
        let place = place.map(|bytes| manuscript.place(bytes.0..bytes.1));
        let note = Note {
            word: "no-vertical-forms",
            what: format!(
                "{face} has no forms for lines that run down (the OpenType feature vert): as in lines that run across \
                 it draws {}",
                and_list(&signs)
            ),
            place,
        };
        RowNote::everywhere(index, columns, note)
    });
    notes.collect()
}
