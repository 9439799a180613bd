//! The file as physical lines, and what each of them is by itself.

use std::ops::Range;

use super::tile::{TileKind, Tiling};

/// One physical line.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct PhysicalLine {
    /// What it is.
    pub kind: PhysicalKind,
    /// Its bytes without indent, trailing spaces and line end.
    pub content: Range<usize>,
    /// Its indent in half ems: one for a space, four for a tab.
    pub half_ems: usize,
    /// Whether it steps to where the line above ended.
    pub stepped: bool,
}

/// What a physical line is by itself.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum PhysicalKind {
    Blank,
    Callout,
    Title,
    Heading,
    Subheading,
    Ornament,
    /// A line of verse, or of a paragraph.
    Plain,
}

impl PhysicalKind {
    /// Whether it is a heading of any kind.
    pub fn is_heading(self) -> bool {
        matches!(
            self,
            PhysicalKind::Title | PhysicalKind::Heading | PhysicalKind::Subheading
        )
    }
}

/// Cuts a text into physical lines and tiles all that is not their content: indents, line ends, the signs of
/// headings and steps, callouts, and a byte-order mark.
pub(super) fn scan(text: &str, tiling: &mut Tiling) -> Vec<PhysicalLine> {
    let mut lines = Vec::new();
    let mut at = 0;
    if text.starts_with('\u{feff}') {
        at = '\u{feff}'.len_utf8();
        tiling.add(TileKind::Markup, 0, at);
    }
    while at < text.len() {
        let (end, next) = line_end(text, at);
        tiling.add(TileKind::LineEnd, end, next);
        lines.push(scan_line(text, at..end, tiling));
        at = next;
    }
    lines
}

/// Where the line that starts at `from` ends, and where the next one starts. Line ends are those that
/// UAX #14 breaks at in any case: LF, CR LF, CR, VT, FF, NEL, U+2028, U+2029.
pub(super) fn line_end(text: &str, from: usize) -> (usize, usize) {
    let is_end = |c| {
        matches!(
            c,
            '\n' | '\r' | '\u{b}' | '\u{c}' | '\u{85}' | '\u{2028}' | '\u{2029}'
        )
    };
    let Some(end) = text[from..].find(is_end).map(|at| from + at) else {
        return (text.len(), text.len());
    };
    let sign = &text[end..];
    let length = if sign.starts_with("\r\n") {
        2
    } else {
        sign.chars().next().map_or(0, char::len_utf8)
    };
    (end, end + length)
}

fn scan_line(text: &str, bytes: Range<usize>, tiling: &mut Tiling) -> PhysicalLine {
    let is_space = |c| c == ' ' || c == '\t';
    let line = &text[bytes.clone()];
    let trimmed = line.trim_start_matches(is_space);
    let mut from = bytes.end - trimmed.len();
    let to = from + trimmed.trim_end_matches(is_space).len();
    let to = to.max(from);
    tiling.add(TileKind::Space, bytes.start, from);
    tiling.add(TileKind::Space, to, bytes.end);
    let mut half_ems = line[..from - bytes.start]
        .bytes()
        .map(|b| if b == b'\t' { 4 } else { 1 })
        .sum();
    let mut content = from..to;
    let words = &text[content.clone()];
    let kind = kind_of(words, half_ems);
    let mut stepped = false;
    match kind {
        PhysicalKind::Callout => tiling.add(TileKind::Callout, from, to),
        PhysicalKind::Title => content = heading_content(text, content, 1, tiling),
        PhysicalKind::Heading => content = heading_content(text, content, 2, tiling),
        PhysicalKind::Subheading => content = heading_content(text, content, 3, tiling),
        PhysicalKind::Plain if words.starts_with(">>") => {
            stepped = true;
            half_ems = 0;
            tiling.add(TileKind::Markup, from, from + 2);
            from += 2;
            let rest = text[from..to].trim_start_matches(is_space);
            tiling.add(TileKind::Space, from, to - rest.len());
            content = to - rest.len()..to;
        }
        _ => {}
    }
    PhysicalLine {
        kind,
        content,
        half_ems,
        stepped,
    }
}

fn kind_of(words: &str, half_ems: usize) -> PhysicalKind {
    // In CommonMark, and so here, a heading may be indented by three spaces, no more.
    let heading = |sign: &str| half_ems <= 3 && has_heading(words, sign);
    if words.is_empty() {
        PhysicalKind::Blank
    } else if is_bracketed(words) {
        PhysicalKind::Callout
    } else if heading("#") {
        PhysicalKind::Title
    } else if heading("##") {
        PhysicalKind::Heading
    } else if heading("###") {
        PhysicalKind::Subheading
    } else if is_ornament(words) {
        PhysicalKind::Ornament
    } else {
        PhysicalKind::Plain
    }
}

/// Whether a line is wholly one bracket, or brackets side by side with nothing but spaces between.
fn is_bracketed(words: &str) -> bool {
    let brackets = words.split_inclusive(']');
    let brackets = brackets.map(|bracket| bracket.trim_matches([' ', '\t']));
    let mut brackets = brackets.map(|bracket| {
        let inside = bracket
            .strip_prefix('[')
            .and_then(|rest| rest.strip_suffix(']'));
        inside.is_some_and(|inside| !inside.contains(['[', ']']))
    });
    brackets.all(|bracket| bracket)
}

/// Whether a heading sign stands before words, a space between; signs alone are words.
fn has_heading(words: &str, sign: &str) -> bool {
    words.strip_prefix(sign).is_some_and(|rest| {
        rest.starts_with([' ', '\t']) && !rest.trim_matches(['#', ' ', '\t']).is_empty()
    })
}

/// The words of a heading; its signs become mark-up, at the end too where they stand alone as CommonMark
/// allows (`## Heading ##`).
fn heading_content(
    text: &str,
    bytes: Range<usize>,
    signs: usize,
    tiling: &mut Tiling,
) -> Range<usize> {
    let is_space = |c| c == ' ' || c == '\t';
    tiling.add(TileKind::Markup, bytes.start, bytes.start + signs);
    let rest = &text[bytes.start + signs..bytes.end];
    let from = bytes.end - rest.trim_start_matches(is_space).len();
    tiling.add(TileKind::Space, bytes.start + signs, from);
    let open = text[from..bytes.end].trim_end_matches('#');
    let to = from + open.trim_end_matches(is_space).len();
    if to == from + open.len() {
        return from..bytes.end;
    }
    tiling.add(TileKind::Space, to, from + open.len());
    tiling.add(TileKind::Markup, from + open.len(), bytes.end);
    from..to
}

fn is_ornament(words: &str) -> bool {
    words.chars().all(|c| matches!(c, '*' | ' ' | '\t')) && words.matches('*').count() >= 3
}
