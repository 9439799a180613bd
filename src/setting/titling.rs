//! How headings, and what stands with a title, are drawn: their voice, and where their lines stand.

use std::ops::Range;

use super::part::Setter;
use super::shaped::ShapedLine;
use super::{Note, Row, RowNote};
use crate::names::{Fault, Faults, HalfLines, Length, Location};
use crate::plan::{Align, HeadingAlign, HeadingFace, HeadingLevel, HeadingStyle, TextStyle};
use crate::stack::{HeadingSpace, SpaceAsked, Spaced};
use crate::text::LineKind;
use crate::typeface::{Emphasis, FontStyle, Letters, Shaper, Typeface};

/// The headings that a kind of line is of. What stands with a title is drawn with it.
pub(super) fn level_of(kind: &LineKind) -> Option<HeadingLevel> {
    match kind {
        LineKind::Title | LineKind::Subtitle | LineKind::Author => Some(HeadingLevel::Title),
        LineKind::Heading => Some(HeadingLevel::Heading),
        LineKind::Subheading => Some(HeadingLevel::Subheading),
        _ => None,
    }
}

/// How the plain words of a heading of that kind are set, or of what stands with a title; nothing for other lines.
pub(super) fn voice(
    kind: &LineKind,
    text: &str,
    style: &TextStyle,
    typeface: &Typeface,
) -> Option<FontStyle> {
    let level = level_of(kind)?;
    let own = style.headings.of(level);
    let plain = FontStyle {
        family: own.typeface.as_ref().map(|_| level),
        ..FontStyle::plain(style.size)
    };
    match kind {
        LineKind::Subtitle => Some(FontStyle {
            stress: Emphasis::Italic,
            ..plain
        }),
        LineKind::Author => Some(plain),
        _ => {
            let usual = match level {
                HeadingLevel::Title => style.size * 8 / 5,
                HeadingLevel::Heading | HeadingLevel::Subheading => style.size,
            };
            let size = own.size.unwrap_or(usual);
            Some(drawn(
                FontStyle { size, ..plain },
                own,
                level,
                text,
                typeface,
            ))
        }
    }
}

/// A voice with letters as a heading's are drawn, and what stands between them.
fn drawn(
    plain: FontStyle,
    own: &HeadingStyle,
    level: HeadingLevel,
    text: &str,
    typeface: &Typeface,
) -> FontStyle {
    let face = typeface.family(plain.family).face(Emphasis::Plain);
    let small = face.has_feature(b"smcp");
    let asked = own.style.unwrap_or(match level {
        HeadingLevel::Title => HeadingFace::Roman,
        HeadingLevel::Heading if small => HeadingFace::SmallCaps,
        HeadingLevel::Heading => HeadingFace::Bold,
        HeadingLevel::Subheading => HeadingFace::Italic,
    });
    // Words that are written in capitals would look the same as without small capitals.
    let no_small_letters = own.style.is_some() && !text.chars().any(char::is_lowercase);
    let letters = match asked {
        HeadingFace::SmallCaps if small && no_small_letters && face.has_feature(b"c2sc") => {
            Letters::AllSmallCapitals
        }
        HeadingFace::SmallCaps if small => Letters::SmallCapitals,
        HeadingFace::Capitals => Letters::Capitals,
        _ => Letters::AsWritten,
    };
    let usual = match letters {
        Letters::AsWritten => Length::ZERO,
        _ => plain.size / 16,
    };
    let said = own.letterspacing;
    FontStyle {
        stress: match asked {
            HeadingFace::Italic => Emphasis::Italic,
            HeadingFace::Bold => Emphasis::Bold,
            _ => Emphasis::Plain,
        },
        letters,
        tracking: said.map_or(usual, |said| said.resolve(plain.size, plain.size)),
        ..plain
    }
}

/// How the lines of a heading stand, or of what stands with a title: as the plan says; a numeral alone above the middle of
/// the lines, as an ornament would; other words as the text.
pub(super) fn align(kind: &LineKind, text: &str, style: &TextStyle) -> HeadingAlign {
    let level = level_of(kind).unwrap_or(HeadingLevel::Heading);
    let numeral = level != HeadingLevel::Title && is_numeral(text);
    style.headings.of(level).align.unwrap_or(match style.align {
        Align::Right => HeadingAlign::Right,
        Align::Centre => HeadingAlign::Centre,
        _ if numeral => HeadingAlign::LongestLine,
        _ => HeadingAlign::Left,
    })
}

/// Whether a heading is nothing but a number or a sign: `II`, `iv.`, `12`, `三`, `❧`.
fn is_numeral(text: &str) -> bool {
    let sign = |c: char| !c.is_alphanumeric() && !c.is_whitespace();
    let inner = text.trim_matches(|c: char| sign(c) || c.is_whitespace());
    if inner.is_empty() {
        return text.chars().any(sign);
    }
    let han = |c: char| "〇一二三四五六七八九十百千".contains(c);
    inner.chars().all(|c| c.is_numeric() || han(c)) || is_roman(inner)
}

/// Whether a word is a Roman numeral, in capitals or, up to 89, in small letters: `mix` is a word.
fn is_roman(word: &str) -> bool {
    let small = word.chars().all(|c| matches!(c, 'i' | 'v' | 'x' | 'l'));
    if !small && !word.chars().all(|c| "IVXLCDM".contains(c)) {
        return false;
    }
    let mut rest = word.to_ascii_uppercase();
    for (ones, five, ten) in [("C", "D", "M"), ("X", "L", "C"), ("I", "V", "X")] {
        if ones == "C" {
            rest = rest.trim_start_matches('M').to_string();
        }
        let (four, nine) = (format!("{ones}{five}"), format!("{ones}{ten}"));
        if let Some(behind) = rest.strip_prefix(&nine).or(rest.strip_prefix(&four)) {
            rest = behind.to_string();
            continue;
        }
        rest = rest.strip_prefix(five).unwrap_or(&rest).to_string();
        for _ in 0..3 {
            rest = rest.strip_prefix(ones).unwrap_or(&rest).to_string();
        }
    }
    rest.is_empty()
}

/// What a line is for the space around it.
pub(super) fn spaced(kind: &LineKind, style: &TextStyle) -> Spaced {
    let own = |level| style.headings.of(level);
    let asked = |said: Option<HalfLines>, usual: u32| SpaceAsked {
        space: said.unwrap_or(HalfLines::LINE * usual),
        said: said.is_some(),
    };
    let heading = |level| HeadingSpace {
        above: asked(own(level).space_above, 2),
        below: asked(own(level).space_below, 1),
    };
    let title = || heading(HeadingLevel::Title);
    match kind {
        LineKind::Title => Spaced::Heading(0, title()),
        LineKind::Heading => Spaced::Heading(1, heading(HeadingLevel::Heading)),
        LineKind::Subheading => Spaced::Heading(2, heading(HeadingLevel::Subheading)),
        LineKind::Subtitle => Spaced::Subtitle(title().below),
        LineKind::Author => Spaced::Author(title()),
        LineKind::Caption => Spaced::Caption,
        LineKind::Prose => Spaced::Paragraph,
        _ => Spaced::Other,
    }
}

/// Tells letterspacing that would part the joined letters of a heading; `place` is where that stands.
pub(super) fn spaced_out(
    line: &ShapedLine,
    (level, style): (HeadingLevel, &TextStyle),
    place: Option<Location>,
) -> Option<Fault> {
    let own = style.headings.of(level);
    let said = own.letterspacing?;
    let size = own.size.unwrap_or(style.size);
    let joined = line
        .stretches
        .iter()
        .find(|one| one.script.is_connected())?;
    if said.resolve(size, size) == Length::ZERO {
        return None;
    }
    let name = joined.script.name();
    let what = format!(
        "`letterspacing` would part the letters of {name}, which are joined to each other, in “{}”",
        line.text
    );
    let mut fault = Fault::new("letterspacing", what)
        .help(format!("leave `letterspacing` out of {}", level.table()));
    if let Some(place) = &own.places.letterspacing {
        fault = fault.at(place.clone());
    }
    Some(match place {
        Some(place) => fault.also(place, "the heading"),
        None => fault,
    })
}

/// Tells a word of a heading that is wider than the measure at the size that the plan asks for, and the largest at which it
/// would not be.
pub(super) fn too_wide(
    line: &ShapedLine,
    shaper: &Shaper<'_>,
    (level, voice): (HeadingLevel, FontStyle),
    (measure, style): (Length, &TextStyle),
) -> Option<Fault> {
    let place = style.headings.of(level).places.size.clone()?;
    let words = super::sources::words_of(&line.text);
    let wide = words.map(|word| (line.width(shaper, word.clone()), word));
    let (width, word): (Length, Range<usize>) = wide.max_by_key(|(width, _)| *width)?;
    if width <= measure {
        return None;
    }
    let tenth = Length::pt(1) / 10;
    let tenths = voice.size.scaled(measure.units(), width.units()).units() / tenth.units();
    let what = format!(
        "at {} the word “{}” is {width} wide, and its lines have {measure}",
        voice.size.in_points(),
        &line.text[word]
    );
    let most = (tenth * tenths).in_points();
    let fault = Fault::new("heading-size", what).at(place);
    Some(fault.allowed(format!("a size of {most} or less here")))
}

impl Setter<'_> {
    /// What is wrong with headings before they are set: letters that would be parted.
    pub(super) fn parted_headings(&self, rows: &[Row]) -> Faults {
        let parted = |row: &Row| {
            let level = level_of(&row.kind).filter(|_| row.kind.is_heading())?;
            let place = self
                .manuscript
                .place(self.part.lines[row.line].bytes.clone());
            spaced_out(&row.shaped, (level, self.style), Some(place))
        };
        rows.iter().filter_map(parted).collect()
    }

    /// What is wrong with headings that have been set: sizes that the plan asks for and no panel of the part has room for.
    pub(super) fn headings_without_room(&self, rows: &[Row], measure: Length, most: u32) -> Faults {
        let mut faults = Faults::new();
        for row in rows.iter().filter(|row| row.kind.is_heading()) {
            let Some(level) = level_of(&row.kind) else {
                continue;
            };
            let sized = (level, row.voice);
            let wide = too_wide(&row.shaped, self.shaper, sized, (measure, self.style));
            let high = || self.too_high(row, level, most);
            let fault = wide.or_else(high);
            let heading = self
                .manuscript
                .place(self.part.lines[row.line].bytes.clone());
            faults.extend(fault.map(|fault| fault.also(heading, "the heading")));
        }
        faults
    }

    fn too_high(&self, row: &Row, level: HeadingLevel, most: u32) -> Option<Fault> {
        let place = self.style.headings.of(level).places.size.clone()?;
        let least = row.at.iter().map(|at| at.least_height()).min()?;
        if least <= HalfLines::lines(most as usize) {
            return None;
        }
        let what = format!(
            "at {} the heading takes {} lines of the grid, and a panel has {most}",
            row.voice.size.in_points(),
            least.whole_lines()
        );
        Some(
            Fault::new("heading-size", what)
                .at(place)
                .help("make it smaller"),
        )
    }

    /// What is told of headings: small capitals that are asked for and that their face does not have.
    pub(super) fn heading_notes(&self, rows: &[Row], columns: usize) -> Vec<RowNote> {
        let mut notes = Vec::new();
        for (level, own) in self.style.headings.all() {
            let of_level = |row: &Row| row.kind.is_heading() && level_of(&row.kind) == Some(level);
            let Some(first) = rows.iter().position(of_level) else {
                continue;
            };
            let asked = own.style == Some(HeadingFace::SmallCaps);
            if !asked || rows[first].voice.letters.are_small_capitals() {
                continue;
            }
            let face = self.shaper.face_of(rows[first].voice).name();
            let note = Note {
                word: "no-small-caps",
                what: format!(
                    "{} asks for small capitals, which {face} does not have: it is set upright",
                    level.table()
                ),
                place: own.places.style.clone(),
            };
            notes.extend(RowNote::everywhere(first, columns, note));
        }
        notes
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_numeral_is_a_number_or_a_sign_alone() {
        for text in [
            "I",
            "II.",
            "xiv",
            "XLIX",
            "(3)",
            "12",
            "— IV —",
            "❧",
            "* *",
            "三",
            "१२",
            "MCMLXXIV",
        ] {
            assert!(is_numeral(text), "{text}");
        }
        for text in [
            "",
            "mix",
            "A",
            "I am",
            "1974 and after",
            "IIII",
            "VX",
            "civil",
            "Ill",
            "冬",
        ] {
            assert!(!is_numeral(text), "{text}");
        }
    }
}
