//! Making a client's plain text safe: what would read as mark-up is made plain by a backslash.

use super::readings;
use super::scan::{PhysicalKind, scan};
use super::tile::Tiling;

/// Writes a client's words so that reading them as a manuscript finds no mark-up and no callout. Line
/// ends, indents and blank lines stay as they are; so do lines of asterisks, which mean an ornament whoever wrote
/// them. Where the language has readings, `漢字《かんじ》` stays one, and only brackets that enclose none are made
/// plain.
pub fn escape(text: &str, has_readings: bool) -> String {
    let lines = scan(text, &mut Tiling::default());
    let mut escaped = String::with_capacity(text.len() + 16);
    let mut copied = 0;
    for line in lines {
        // A heading's content begins behind its signs; go back to the line's first sign.
        let from = text[..line.content.start]
            .rfind([
                '\n', '\r', '\u{b}', '\u{c}', '\u{85}', '\u{2028}', '\u{2029}', '\u{feff}',
            ])
            .map_or(0, |at| {
                at + text[at..].chars().next().map_or(0, char::len_utf8)
            });
        let from = from.max(copied);
        escaped.push_str(&text[copied..from]);
        let end = line_text_end(text, line.content.end);
        let kept = has_readings.then(|| signs_of_readings(&text[from..end]));
        escape_line(
            &text[from..end],
            line.kind,
            line.stepped,
            kept.as_deref(),
            &mut escaped,
        );
        copied = end;
    }
    escaped.push_str(&text[copied..]);
    escaped
}

/// Where the line of a content that ends at `from` ends: a heading's closing signs lie behind its content.
fn line_text_end(text: &str, from: usize) -> usize {
    text[from..]
        .find([
            '\n', '\r', '\u{b}', '\u{c}', '\u{85}', '\u{2028}', '\u{2029}',
        ])
        .map_or(text.len(), |at| from + at)
}

/// Where in a line the signs of readings stand.
pub(super) fn signs_of_readings(line: &str) -> Vec<usize> {
    let found = readings::find(line, &(0..line.len()));
    found.markup.into_iter().map(|sign| sign.start).collect()
}

/// Writes a line so that it reads as plain words. `kept` is where signs of readings stand, if the language has any.
fn escape_line(
    line: &str,
    kind: PhysicalKind,
    stepped: bool,
    kept: Option<&[usize]>,
    escaped: &mut String,
) {
    let words = line.trim_start_matches([' ', '\t']);
    if kind == PhysicalKind::Ornament {
        escaped.push_str(line);
        return;
    }
    escaped.push_str(&line[..line.len() - words.len()]);
    let first_is_sign = stepped || kind == PhysicalKind::Callout || kind.is_heading();
    if first_is_sign {
        escaped.push('\\');
    }
    let indent = line.len() - words.len();
    let kept: Option<Vec<usize>> = kept.map(|kept| {
        kept.iter()
            .filter_map(|at| at.checked_sub(indent))
            .collect()
    });
    plain_signs(words, kept.as_deref(), escaped, |_, _| {});
}

/// Writes words so that no sign of them is mark-up within a line. `kept` is where signs of readings stand, if the
/// language has any; `before` may write mark-up before each sign, and at the end.
pub(super) fn plain_signs(
    words: &str,
    kept: Option<&[usize]>,
    escaped: &mut String,
    mut before: impl FnMut(usize, &mut String),
) {
    let mut signs = words.char_indices().peekable();
    while let Some((at, sign)) = signs.next() {
        before(at, escaped);
        let may_be_plain =
            |c: char| c.is_ascii_punctuation() || kept.is_some() && readings::is_sign(c);
        let makes_plain = sign == '\\' && signs.peek().is_some_and(|next| may_be_plain(next.1));
        let bracket = readings::is_sign(sign) && kept.is_some_and(|kept| !kept.contains(&at));
        if sign == '*' || makes_plain || bracket {
            escaped.push('\\');
        }
        escaped.push(sign);
    }
    before(words.len(), escaped);
}
