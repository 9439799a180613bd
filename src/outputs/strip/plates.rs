//! Plates: one ink of the words alone, solid, for a polymer plate or a screen that prints over original prints.

use super::marks::Marks;
use super::{ForSheets, boxes, drawn_words, numbered, on_page, title};
use crate::layout::{LaidPanel, Layout};
use crate::names::{Ink, Side};
use crate::outputs::{CannotWrite, WordsAs};
use crate::pdf::{Claims, ContentGroup, Document, Drawing, Page, Paint, Printing, Within, write};

/// A plate of one side of a sheet.
#[non_exhaustive]
pub struct Plate {
    /// Its file name: `plate-black-1-front.pdf`.
    pub name: String,
    /// The file.
    pub bytes: Vec<u8>,
    /// The words it shows.
    pub words: Vec<String>,
}

/// The plates that words are printed from, by name, in the order in which they come.
/// What is reversed out is printed in none.
pub fn plate_inks(layout: &Layout) -> Vec<String> {
    let mut found: Vec<String> = Vec::new();
    let lines = layout.panels.iter().flat_map(|panel| &panel.lines);
    for ink in lines.map(|line| &line.ink) {
        let Some(name) = plate_name(ink) else {
            continue;
        };
        if found.iter().all(|known| !same_plate(known, &name)) {
            found.push(name);
        }
    }
    found
}

/// Whether two inks are on one plate: they have one name, however it is written.
fn same_plate(one: &str, other: &str) -> bool {
    one.to_lowercase() == other.to_lowercase()
}

/// The name of an ink's plate; none for what is reversed out.
fn plate_name(ink: &Ink) -> Option<String> {
    let share = |share: &u16| format!("{}", f64::from(*share) / 1000.0);
    let shares = |list: &[u16]| list.iter().map(share).collect::<Vec<_>>().join("-");
    Some(match ink {
        Ink::ReversedOut => return None,
        Ink::Black => "black".to_string(),
        Ink::Grey(grey) => format!("grey {}", share(grey)),
        Ink::Cmyk(list) => format!("cmyk {}", shares(list)),
        Ink::Rgb(list) => format!("rgb {}", shares(list)),
        Ink::Spot { name, .. } => name.clone(),
    })
}

/// How the files of an ink's plates begin.
fn begin_of(ink: &str) -> String {
    let plain = |c: char| match c.is_alphanumeric() || c == '.' {
        true => c,
        false => '-',
    };
    let ink: String = ink
        .chars()
        .map(plain)
        .flat_map(char::to_lowercase)
        .collect();
    format!("plate-{ink}-")
}

/// Whether a file of `strip/` is a plate of that ink, mirrored or not as asked.
pub fn is_plate_of(ink: &str, mirrored: bool, file: &str) -> bool {
    let end = if mirrored { MIRRORED } else { "" };
    let rest = file.strip_prefix(&begin_of(ink));
    let rest = rest.and_then(|rest| rest.strip_suffix(".pdf")?.strip_suffix(end));
    let parts = rest.and_then(|rest| rest.split_once('-'));
    parts.is_some_and(|(number, side)| {
        let is_side = [Side::Front, Side::Back]
            .iter()
            .any(|known| known.word() == side);
        is_side && number.bytes().all(|digit| digit.is_ascii_digit())
    })
}

/// Writes the plates of one ink: one for each side of a sheet that has words in it. `mirrored` plates are seen from
/// their back, as a film is whose emulsion lies on the plate.
///
/// # Errors
/// A font that cannot be subset.
pub fn plates(
    asked: &ForSheets<'_>,
    name: &str,
    mirrored: bool,
) -> Result<Vec<Plate>, CannotWrite> {
    let alone = one_ink(asked.layout, name);
    let asked = ForSheets {
        layout: &alone,
        intent: None,
        ..*asked
    };
    let mut made = Vec::new();
    let count = asked.sheets.sheets.len();
    for sheet in &asked.sheets.sheets {
        for &side in alone.strip.sides() {
            let on = on_page(&asked, sheet, side);
            let words = drawn_words(&asked, sheet, &on);
            if words.is_empty() {
                continue;
            }
            let shown = words.iter().filter_map(|drawing| match drawing {
                Drawing::Words { panel, .. } => Some(panel.words()),
                _ => None,
            });
            let shown: Vec<String> = shown.flatten().collect();
            let mut drawings = vec![Drawing::Begin(Within::Group(ContentGroup::Words))];
            drawings.extend(words);
            drawings.push(Drawing::End);
            drawings.push(Drawing::Begin(Within::Group(ContentGroup::Marks)));
            let seen = if mirrored { ", mirrored" } else { "" };
            let slug = format!("{} · {} · {name}{seen}", title(&asked, sheet), side.word());
            Marks::new(&asked, sheet, &on, Paint::Ink(Ink::Black)).draw(&slug, &mut drawings);
            drawings.push(Drawing::End);
            let document = Document {
                title: slug,
                language: &alone.language,
                date: alone.date,
                pages: vec![Page {
                    size: asked.sheets.page,
                    boxes: Some(boxes(&asked, sheet, &on)),
                    drawings,
                    mirrored,
                }],
                words_as: WordsAs::Text,
                claims: Claims::Plain,
                printing: Some(Printing { duplex: None }),
            };
            made.push(Plate {
                name: file_name(name, sheet.number, count, side, mirrored),
                bytes: write(&document)?,
                words: shown,
            });
        }
    }
    Ok(made)
}

fn file_name(ink: &str, sheet: usize, of: usize, side: Side, mirrored: bool) -> String {
    let begin = begin_of(ink);
    let end = if mirrored { MIRRORED } else { "" };
    format!("{begin}{}-{}{end}.pdf", numbered(sheet, of), side.word())
}

/// How the names of mirrored plates end.
const MIRRORED: &str = "-mirrored";

/// A layout with the lines of one ink alone, in black.
fn one_ink(layout: &Layout, name: &str) -> Layout {
    let here = |ink: &Ink| plate_name(ink).is_some_and(|known| same_plate(&known, name));
    let panels = layout.panels.iter().map(|panel| LaidPanel {
        lines: panel
            .lines
            .iter()
            .filter(|line| here(&line.ink))
            .cloned()
            .map(|mut line| {
                line.ink = Ink::Black;
                line
            })
            .collect(),
        ..panel.clone()
    });
    Layout {
        panels: panels.collect(),
        ..layout.clone()
    }
}
