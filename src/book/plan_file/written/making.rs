//! How the strip is made, as the plan writes it: sheets, bulk, heights.

use serde_json::{Value as Json, json};

use super::SheetSides;
use super::lengths::PaperLength;
use crate::names::{Fault, Length, SheetSize, nearest};
use crate::plan::sizes;
use crate::reading::{At, Node, Reader, Value, table_schema};

/// A sheet from 50 mm to 20 m long.
const SHEETS: (Length, Length) = (Length::mm(50), Length::mm(20_000));

/// Written `"SRA3"`, or `{ width = "450 mm", height = "320 mm" }`.
impl Value for SheetSize {
    fn read(node: Node<'_>, reader: &mut Reader) -> Option<SheetSize> {
        if node.value().is_table() {
            let sides = SheetSides::read(node, reader)?;
            let length =
                |at: Option<At<PaperLength>>| at.and_then(|at| at.value.measure.absolute());
            let (one, other) = (length(sides.width)?, length(sides.height)?);
            let (least, most) = SHEETS;
            let (long, short) = (one.max(other), one.min(other));
            if short < least || long > most {
                let what = format!("the sides of a sheet must be from {least} to 20 m");
                return reader.refuse(node, Fault::new("out-of-range", what));
            }
            let name = None;
            return Some(SheetSize { name, long, short });
        }
        let Some(text) = node.text() else {
            let kind = "a sheet's name in quotation marks, such as \"SRA3\", or a table \
                        { width = \"450 mm\", height = \"320 mm\" }";
            return reader.wrong_type(node, kind);
        };
        sizes::named(text).or_else(|| {
            let names: Vec<String> = sizes::all().filter_map(|size| size.name).collect();
            let fault = Fault::new("wrong-size", format!("`{text}` is no sheet"))
                .allowed(
                    "A4 and the other sizes of ISO A, B and C; RA and SRA; A4x3 and the other elongated ones; JIS B0 to \
                     B5; letter, legal, ledger, ANSI C to F, arch A to E, super B; or { width = \"…\", height = \"…\" }",
                )
                .meant(nearest(text, names.iter().map(String::as_str)));
            reader.refuse(node, fault)
        })
    }

    fn schema() -> Json {
        json!({ "anyOf": [{ "type": "string" }, table_schema::<SheetSides>()] })
    }
}

/// A bulk in thousandths of a cubic centimetre per gram, from 0.5 to 4.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Bulk(pub u32);

impl Value for Bulk {
    fn read(node: Node<'_>, reader: &mut Reader) -> Option<Bulk> {
        match node.number() {
            Some(number) if (0.5..=4.0).contains(&number) => {
                Some(Bulk((number * 1000.0).round() as u32))
            }
            Some(_) => {
                let what = format!("{} must be from 0.5 to 4, in cm³/g", node.name());
                reader.refuse(node, Fault::new("out-of-range", what))
            }
            None => reader.wrong_type(node, "a number of cubic centimetres per gram, such as 1.2"),
        }
    }

    fn schema() -> Json {
        json!({ "type": "number", "minimum": 0.5, "maximum": 4 })
    }
}

/// Two heights, written `["40 mm", "90 mm"]`, the upper one first.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Heights(pub Length, pub Length);

impl Value for Heights {
    fn read(node: Node<'_>, reader: &mut Reader) -> Option<Heights> {
        let kind = "two lengths in square brackets, such as [\"40 mm\", \"90 mm\"]";
        let Some(entries) = node.value().as_array().filter(|list| list.len() == 2) else {
            return reader.wrong_type(node, kind);
        };
        let read = entries.iter().map(|entry| {
            let length: At<PaperLength> = reader.read(node.entry(entry))?;
            length.value.measure.absolute()
        });
        // Both are read, so that what is wrong with either is told.
        let read: Vec<Option<Length>> = read.collect();
        let heights: Vec<Length> = read.into_iter().collect::<Option<_>>()?;
        let (top, foot) = (heights[0], heights[1]);
        if top >= foot {
            let what = format!("{} must name the upper one first", node.name());
            return reader.refuse(node, Fault::new("out-of-range", what));
        }
        Some(Heights(top, foot))
    }

    fn schema() -> Json {
        json!({ "type": "array", "items": PaperLength::schema(), "minItems": 2, "maxItems": 2 })
    }
}
