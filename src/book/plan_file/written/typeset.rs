//! How words are set, as the plan writes it: typefaces, features, turnovers, openings and inks.

use serde_json::{Value as Json, json};

use super::LeavesWritten;
use super::lengths::TextLength;
use super::numbers::{Share, Shares};
use crate::names::{Fault, Feature, Ink, nearest};
use crate::plan::{Opening, OpeningWords, TypefaceNamed};
use crate::reading::{Name, Node, Reader, Value, Words, read_whole, table_schema, tables};

tables! {
    homes super::home_of;

    /// Font files for each style; what is missing falls back to the regular.
    FontFiles "`typeface`" {
        /// The upright font file.
        required regular: Words;
        /// The font file for emphasis.
        optional italic: Words;
        /// The font file for strong emphasis.
        optional bold: Words;
    }

    /// A typeface that is installed.
    InstalledTypeface "`typeface`" {
        /// The family's name on this machine; on another it may be another face, or none.
        required installed: Words;
    }

    /// How the first phrase of a part is set.
    PhraseWritten "`opening`" {
        /// How many lines its first letter is high; 0 for a letter like any other.
        optional drop: DropLines = DropLines(0);
        /// How the words behind that letter are drawn, to the first pause, five words at most and no farther than a line
        /// of verse.
        optional then: OpeningWords = OpeningWords::AsWritten;
    }

    /// A grey.
    Grey "`ink`" {
        /// 0 is black, 1 is white.
        required grey: Share;
    }

    /// A colour of four inks.
    FourInks "`ink`" {
        /// Cyan, magenta, yellow and black, each from 0 to 1.
        required cmyk: Shares<4>;
    }

    /// A colour of light.
    Light "`ink`" {
        /// Red, green and blue, each from 0 to 1.
        required rgb: Shares<3>;
    }

    /// A spot ink.
    SpotInk "`ink`" {
        /// The ink's name on the plate.
        required spot: Name;
        /// What it looks like in cyan, magenta, yellow and black, each from 0 to 1.
        required cmyk: Shares<4>;
    }
}

impl Value for TypefaceNamed {
    fn read(node: Node<'_>, reader: &mut Reader) -> Option<TypefaceNamed> {
        if node
            .value()
            .as_table()
            .is_some_and(|table| table.contains_key("installed"))
        {
            let family = InstalledTypeface::read(node, reader)?;
            return Some(TypefaceNamed::Installed(family.installed?.value.0));
        }
        if node.value().is_table() {
            let files = FontFiles::read(node, reader)?;
            return Some(TypefaceNamed::Files {
                regular: files.regular?.value.0,
                italic: files.italic.map(|file| file.value.0),
                bold: files.bold.map(|file| file.value.0),
            });
        }
        if node.text().is_none() {
            let kind = "a typeface's name or a font file in quotation marks, or a table \
                        { regular = \"…\", italic = \"…\", bold = \"…\" } or { installed = \"…\" }";
            return reader.wrong_type(node, kind);
        }
        let Words(name) = Words::read(node, reader)?;
        let lower = name.to_ascii_lowercase();
        let file = [".ttf", ".otf", ".ttc"]
            .iter()
            .any(|end| lower.ends_with(end));
        Some(match file {
            true => TypefaceNamed::File(name),
            false => TypefaceNamed::Family(name),
        })
    }

    fn schema() -> Json {
        json!({ "anyOf": [
            Words::schema(),
            table_schema::<FontFiles>(),
            table_schema::<InstalledTypeface>(),
        ] })
    }

    fn written(&self) -> Option<String> {
        match self {
            TypefaceNamed::Family(name) => Some(format!("\"{name}\"")),
            TypefaceNamed::Installed(_) | TypefaceNamed::File(_) | TypefaceNamed::Files { .. } => {
                None
            }
        }
    }
}

/// Written `"onum"`, `"-liga"` or `"ss01=2"`.
impl Value for Feature {
    fn read(node: Node<'_>, reader: &mut Reader) -> Option<Feature> {
        let kind =
            "an OpenType feature in quotation marks, such as \"onum\", \"-liga\" or \"ss01=2\"";
        let Some(text) = node.text() else {
            return reader.wrong_type(node, kind);
        };
        read_feature(text).or_else(|| {
            let what = format!("`{text}` is no OpenType feature");
            let allowed = "four letters or figures such as \"onum\"; \"-liga\" switches off, \
                           \"ss01=2\" chooses a number";
            reader.refuse(node, Fault::new("wrong-feature", what).allowed(allowed))
        })
    }

    fn schema() -> Json {
        json!({ "type": "string", "pattern": "^(-?[A-Za-z0-9]{4}|[A-Za-z0-9]{4}=[0-9]{1,4})$" })
    }
}

fn read_feature(text: &str) -> Option<Feature> {
    let (name, value) = if let Some(name) = text.strip_prefix('-') {
        (name, 0)
    } else if let Some((name, number)) = text.split_once('=') {
        let figures = number.len() <= 4 && number.bytes().all(|byte| byte.is_ascii_digit());
        (name, figures.then(|| number.parse().ok())??)
    } else {
        (text, 1)
    };
    let tag: [u8; 4] = name.as_bytes().try_into().ok()?;
    let plain = tag.iter().all(u8::is_ascii_alphanumeric);
    plain.then_some(Feature { tag, value })
}

/// Where the piece of a verse line that runs over stands, as written.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum TurnoverWritten {
    /// Indented from the left.
    Indent(TextLength),
    /// Flush to the right.
    Right,
}

impl Value for TurnoverWritten {
    fn read(node: Node<'_>, reader: &mut Reader) -> Option<TurnoverWritten> {
        let word = node
            .text()
            .filter(|text| !text.is_empty() && text.chars().all(|c| c.is_alphabetic() || c == '-'));
        match word {
            Some("right") => Some(TurnoverWritten::Right),
            Some(text) => {
                let what = format!("`{text}` is no word for `{}`", node.key);
                let fault = Fault::new("wrong-word", what)
                    .allowed("right, or a length such as \"2 em\"")
                    .meant(nearest(text, ["right"]));
                reader.refuse(node, fault)
            }
            None => TextLength::read(node, reader).map(TurnoverWritten::Indent),
        }
    }

    fn schema() -> Json {
        json!({ "anyOf": [{ "const": "right" }, TextLength::schema()] })
    }

    fn written(&self) -> Option<String> {
        match self {
            TurnoverWritten::Indent(length) => length.written(),
            TurnoverWritten::Right => Some("\"right\"".to_string()),
        }
    }
}

/// What a picture leaves to words.
#[derive(Clone, Debug, PartialEq)]
pub enum Leaves {
    /// The whole text area of its panel.
    All,
    /// What a table says.
    Room(Box<LeavesWritten>),
}

impl Leaves {
    /// The table, if there is one.
    pub fn room(&self) -> Option<&LeavesWritten> {
        match self {
            Leaves::All => None,
            Leaves::Room(room) => Some(room.as_ref()),
        }
    }
}

impl Value for Leaves {
    fn read(node: Node<'_>, reader: &mut Reader) -> Option<Leaves> {
        match node.text() {
            Some("all") => Some(Leaves::All),
            Some(text) => {
                let what = format!("`{text}` is no word for `{}`", node.key);
                let fault = Fault::new("wrong-word", what);
                let fault = fault.allowed("all, or what it leaves, such as { head = \"90 mm\" }");
                reader.refuse(node, fault.meant(nearest(text, ["all"])))
            }
            None => LeavesWritten::read(node, reader).map(|room| Leaves::Room(Box::new(room))),
        }
    }

    fn schema() -> Json {
        json!({ "anyOf": [{ "enum": ["all"] }, table_schema::<LeavesWritten>()] })
    }

    fn written(&self) -> Option<String> {
        matches!(self, Leaves::All).then(|| "\"all\"".to_string())
    }
}

/// How many lines a large initial is high: none, or two to six.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct DropLines(pub u32);

impl Value for DropLines {
    fn read(node: Node<'_>, reader: &mut Reader) -> Option<DropLines> {
        if node
            .whole()
            .is_some_and(|lines| !matches!(lines, 0 | 2..=6))
        {
            let what = format!("{} must be from 2 to 6, or 0 for none", node.name());
            return reader.refuse(node, Fault::new("out-of-range", what));
        }
        let lines = read_whole(node, reader, 0..=6)?;
        u32::try_from(lines).ok().map(DropLines)
    }

    fn schema() -> Json {
        json!({ "enum": [0, 2, 3, 4, 5, 6] })
    }

    fn written(&self) -> Option<String> {
        Some(self.0.to_string())
    }
}

/// What `opening` may be.
const OPENINGS: &str = "none, small-caps, or { drop = 2, then = \"small-caps\" }";

impl Value for Opening {
    fn read(node: Node<'_>, reader: &mut Reader) -> Option<Opening> {
        if node.value().is_table() {
            let phrase = PhraseWritten::read(node, reader)?;
            return Some(Opening::Phrase {
                drop: phrase.drop().0,
                then: phrase.then(),
            });
        }
        match node.text() {
            Some("none") => Some(Opening::None),
            Some("small-caps") => Some(Opening::SmallCaps),
            Some(text) => {
                let what = format!("`{text}` is no word for `{}`", node.key);
                let fault = Fault::new("wrong-word", what)
                    .allowed(OPENINGS)
                    .meant(nearest(text, ["none", "small-caps"]));
                reader.refuse(node, fault)
            }
            None => reader.wrong_type(
                node,
                "\"none\", \"small-caps\" or { drop = 2, then = \"small-caps\" }",
            ),
        }
    }

    fn schema() -> Json {
        json!({ "anyOf": [{ "enum": ["none", "small-caps"] }, table_schema::<PhraseWritten>()] })
    }

    fn written(&self) -> Option<String> {
        Some(match self {
            Opening::None => "\"none\"".to_string(),
            Opening::SmallCaps => "\"small-caps\"".to_string(),
            Opening::Phrase { drop, then } => {
                let then = then.written().unwrap_or_default();
                format!("{{ drop = {drop}, then = {then} }}")
            }
        })
    }
}

const INKS: &str = "black, reversed-out, { grey = 0.3 }, { cmyk = [0, 0, 0, 1] }, \
                    { rgb = [0, 0, 0] } or { spot = \"Name\", cmyk = [0, 0, 0, 1] }";

impl Value for Ink {
    fn read(node: Node<'_>, reader: &mut Reader) -> Option<Ink> {
        let Some(table) = node.value().as_table() else {
            return match node.text() {
                Some("black") => Some(Ink::Black),
                Some("reversed-out") => Some(Ink::ReversedOut),
                Some(text) => {
                    let fault = Fault::new("wrong-word", format!("`{text}` is no ink"))
                        .allowed(INKS)
                        .meant(nearest(text, ["black", "reversed-out"]));
                    reader.refuse(node, fault)
                }
                None => {
                    let what = "`ink` must be a word or a colour";
                    reader.refuse(node, Fault::new("wrong-type", what).allowed(INKS))
                }
            };
        };
        let has = |name: &str| table.keys().any(|key| *key.get_ref() == name);
        if has("spot") {
            let spot = SpotInk::read(node, reader)?;
            let (name, cmyk) = (spot.spot?.value.0, spot.cmyk?.value.0);
            Some(Ink::Spot { name, cmyk })
        } else if has("cmyk") {
            Some(Ink::Cmyk(FourInks::read(node, reader)?.cmyk?.value.0))
        } else if has("rgb") {
            Some(Ink::Rgb(Light::read(node, reader)?.rgb?.value.0))
        } else if has("grey") {
            Some(Ink::Grey(Grey::read(node, reader)?.grey?.value.0))
        } else {
            let known = ["grey", "cmyk", "rgb", "spot"];
            let mut keys = table.keys();
            let meant = keys.find_map(|key| nearest(key.get_ref(), known));
            let fault = Fault::new("wrong-type", "`ink` names no colour").allowed(INKS);
            reader.refuse(node, fault.meant(meant))
        }
    }

    fn schema() -> Json {
        json!({ "anyOf": [
            { "enum": ["black", "reversed-out"] },
            table_schema::<Grey>(),
            table_schema::<FourInks>(),
            table_schema::<Light>(),
            table_schema::<SpotInk>(),
        ] })
    }

    fn written(&self) -> Option<String> {
        match self {
            Ink::Black => Some("\"black\"".to_string()),
            Ink::ReversedOut => Some("\"reversed-out\"".to_string()),
            Ink::Grey(_) | Ink::Cmyk(_) | Ink::Rgb(_) | Ink::Spot { .. } => None,
        }
    }
}
