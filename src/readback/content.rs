//! The words that a page's content streams show, by marked-content sequence.

use lopdf::{Dictionary, Document, Object, ObjectId, Stream};

use super::access::{dict_entry, inherited, resolve, text_entry};
use super::operators::{Operand, Operators};
use super::state::Shared;
use super::{ReadError, strings};

/// How deep forms may be drawn within forms.
const MAX_FORMS: usize = 16;

/// How deep marked content or saved states may nest.
const MAX_NESTING: usize = 256;

/// Which marked-content sequence of a page: MCIDs are counted in each content stream by itself.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub(super) struct Mark {
    /// The form that holds it; nothing for the page's own content.
    pub(super) form: Option<ObjectId>,
    pub(super) mcid: i64,
}

/// One marked-content sequence and the text in it.
#[derive(Debug)]
pub(super) struct Sequence {
    pub(super) mark: Mark,
    pub(super) text: String,
}

/// An open marked-content sequence.
#[derive(Clone, Copy)]
struct Open {
    /// Which of the page's sequences gets the text.
    owner: Option<usize>,
    /// Text shown here is an artifact's, or is replaced.
    silent: bool,
}

/// Where in the file's content the reading stands: one of a page and the forms it draws.
#[derive(Clone, Copy)]
struct Level<'a> {
    resources: Option<&'a Dictionary>,
    form: Option<ObjectId>,
    depth: usize,
}

/// What a marked-content sequence says of itself.
struct Properties {
    mcid: Option<i64>,
    /// Its replacement text; nothing within of one that cannot be read.
    actual_text: Option<Option<String>>,
}

impl Properties {
    /// Those that stand in the content itself.
    fn inline(properties: &Operand<'_>) -> Properties {
        let mcid = match properties.get(b"MCID") {
            Some(Operand::Integer(mcid)) => Some(*mcid),
            _ => None,
        };
        let actual_text = properties.get(b"ActualText").map(|text| match text {
            Operand::String(text) => strings::text(text),
            _ => None,
        });
        Properties { mcid, actual_text }
    }

    /// Those of a dictionary that resources name.
    fn named(doc: &Document, properties: &Dictionary) -> Properties {
        let mcid = properties.get(b"MCID").ok().and_then(|n| n.as_i64().ok());
        let actual_text = properties.has(b"ActualText");
        let actual_text = actual_text.then(|| text_entry(doc, properties, b"ActualText"));
        Properties { mcid, actual_text }
    }
}

fn name_of<'o>(operand: Option<&'o Operand<'_>>) -> Option<&'o [u8]> {
    match operand {
        Some(Operand::Name(name)) => Some(name),
        _ => None,
    }
}

struct Page<'s, 'a> {
    shared: &'s mut Shared<'a>,
    number: usize,
    open: Vec<Open>,
    font: Option<&'a Dictionary>,
    sequences: Vec<Sequence>,
}

/// Reads a page's sequences in the order they are drawn. `number` counts from one.
pub(super) fn read_page<'a>(
    shared: &mut Shared<'a>,
    dict: &'a Dictionary,
    number: usize,
) -> Result<Vec<Sequence>, ReadError> {
    let doc = shared.doc;
    let resources = inherited(doc, dict, b"Resources").and_then(|object| object.as_dict().ok());
    let mut streams: Vec<&Stream> = Vec::new();
    if let Ok(contents) = dict.get(b"Contents") {
        let missing = || ReadError::page(number, "names content that is not there");
        let contents = resolve(doc, contents).ok_or_else(missing)?;
        let parts = match contents {
            Object::Array(parts) => parts.as_slice(),
            one => std::slice::from_ref(one),
        };
        for part in parts {
            let part = resolve(doc, part).and_then(|part| part.as_stream().ok());
            streams.push(part.ok_or_else(missing)?);
        }
    }
    let mut page = Page {
        shared,
        number,
        open: Vec::new(),
        font: None,
        sequences: Vec::new(),
    };
    let level = Level {
        resources,
        form: None,
        depth: 0,
    };
    page.run(&streams, level)?;
    Ok(page.sequences)
}

impl<'a> Page<'_, 'a> {
    fn wrong<T>(&self, what: impl Into<String>) -> Result<T, ReadError> {
        Err(ReadError::page(self.number, what))
    }

    /// Reads one content stream, and leaves marks and states as they were before it.
    fn run(&mut self, streams: &[&Stream], level: Level<'a>) -> Result<(), ReadError> {
        if let Some(resources) = level.resources {
            self.shared.note_fonts(resources);
        }
        let outer = self.open.len();
        let mut saved = Vec::new();
        let content = self.shared.content(streams, self.number)?;
        let mut operators = Operators::new(&content);
        let mut operands = Vec::new();
        while let Some(operator) = operators
            .next(&mut operands)
            .or_else(|what| self.wrong(format!("has content that cannot be read ({what})")))?
        {
            self.shared.spend_operator()?;
            match operator {
                b"q" if saved.len() < MAX_NESTING => saved.push(self.font),
                b"q" => return Err(ReadError::TooLarge("saved states")),
                b"Q" => match saved.pop() {
                    Some(font) => self.font = font,
                    None => return self.wrong("restores a state that was not saved"),
                },
                b"BMC" | b"BDC" => self.begin(&operands, level)?,
                b"EMC" if self.open.len() > outer => {
                    self.open.pop();
                }
                b"EMC" => return self.wrong("ends marked content that was not begun"),
                b"gs" => self.no_font_in_state(&operands, level)?,
                b"Tf" => self.font = self.named_font(&operands, level)?,
                b"Tj" | b"'" | b"\"" => {
                    if let Some(Operand::String(shown)) = operands.last() {
                        self.show(shown)?;
                    }
                }
                b"TJ" => {
                    if let Some(Operand::Array(parts)) = operands.first() {
                        for part in parts {
                            if let Operand::String(shown) = part {
                                self.show(shown)?;
                            }
                        }
                    }
                }
                b"Do" => self.draw(&operands, level)?,
                _ => {}
            }
        }
        if self.open.len() > outer {
            return self.wrong("begins marked content that it does not end");
        }
        Ok(())
    }

    fn begin(&mut self, operands: &[Operand<'_>], level: Level<'a>) -> Result<(), ReadError> {
        if self.open.len() >= MAX_NESTING {
            return Err(ReadError::TooLarge("nested marked content"));
        }
        let doc = self.shared.doc;
        let mut now = self.open.last().copied().unwrap_or(Open {
            owner: None,
            silent: false,
        });
        if name_of(operands.first()) == Some(b"Artifact") {
            now.silent = true;
        }
        let properties = match operands.get(1) {
            Some(inline @ Operand::Dictionary(_)) => Some(Properties::inline(inline)),
            Some(Operand::Name(name)) => {
                let named = level
                    .resources
                    .and_then(|resources| dict_entry(doc, resources, b"Properties"))
                    .and_then(|properties| dict_entry(doc, properties, name));
                match named {
                    Some(named) => Some(Properties::named(doc, named)),
                    None => {
                        return self.wrong("names marked-content properties that are not there");
                    }
                }
            }
            _ => None,
        };
        if let Some(properties) = properties.filter(|_| !now.silent) {
            self.apply(properties, level, &mut now)?;
        }
        self.open.push(now);
        Ok(())
    }

    /// Takes in the MCID and the replacement text of a sequence that is not silent yet.
    fn apply(
        &mut self,
        properties: Properties,
        level: Level<'a>,
        now: &mut Open,
    ) -> Result<(), ReadError> {
        if let Some(mcid) = properties.mcid {
            let form = level.form;
            let mark = Mark { form, mcid };
            now.owner = Some(self.sequences.len());
            let text = String::new();
            self.sequences.push(Sequence { mark, text });
        }
        if let Some(text) = properties.actual_text {
            let Some(text) = text else {
                return self.wrong("has a replacement text that cannot be read");
            };
            self.say(&text, now.owner)?;
            now.silent = true;
        }
        Ok(())
    }

    /// Adds text to the sequence it belongs to.
    fn say(&mut self, text: &str, owner: Option<usize>) -> Result<(), ReadError> {
        self.shared.spend_text(text.len())?;
        match owner.and_then(|owner| self.sequences.get_mut(owner)) {
            Some(sequence) => sequence.text.push_str(text),
            None if text.is_empty() => {}
            None => {
                return Err(ReadError::Untagged {
                    page: self.number,
                    text: text.into(),
                });
            }
        }
        Ok(())
    }

    fn show(&mut self, shown: &[u8]) -> Result<(), ReadError> {
        let now = self.open.last().copied();
        if shown.is_empty() || now.is_some_and(|now| now.silent) {
            return Ok(());
        }
        let Some(dict) = self.font else {
            return self.wrong("shows text without a font");
        };
        let owner = now.and_then(|now| now.owner);
        let Some(sequence) = owner.and_then(|owner| self.sequences.get_mut(owner)) else {
            // That it is not tagged comes before how it reads.
            let mut text = String::new();
            let font = self.shared.font(dict, self.number);
            let _ = font.and_then(|font| font.read(shown, self.number, &mut text));
            let page = self.number;
            return Err(ReadError::Untagged { page, text });
        };
        let font = self.shared.font(dict, self.number)?;
        let before = sequence.text.len();
        font.read(shown, self.number, &mut sequence.text)?;
        self.shared.spend_text(sequence.text.len() - before)
    }

    fn named_font(
        &self,
        operands: &[Operand<'_>],
        level: Level<'a>,
    ) -> Result<Option<&'a Dictionary>, ReadError> {
        let doc = self.shared.doc;
        let font = match name_of(operands.first()) {
            Some(name) => level
                .resources
                .and_then(|resources| dict_entry(doc, resources, b"Font"))
                .and_then(|fonts| dict_entry(doc, fonts, name)),
            _ => None,
        };
        match font {
            Some(font) => Ok(Some(font)),
            None => self.wrong("names a font that is not there"),
        }
    }

    /// A graphics state may bring a font along; read past, it would give wrong words.
    fn no_font_in_state(
        &self,
        operands: &[Operand<'_>],
        level: Level<'a>,
    ) -> Result<(), ReadError> {
        let doc = self.shared.doc;
        let state = match name_of(operands.first()) {
            Some(name) => level
                .resources
                .and_then(|resources| dict_entry(doc, resources, b"ExtGState"))
                .and_then(|states| dict_entry(doc, states, name)),
            _ => None,
        };
        match state {
            Some(state) if state.has(b"Font") => self.wrong("sets a font by a graphics state"),
            _ => Ok(()),
        }
    }

    /// Reads a drawn form; pictures have no words.
    fn draw(&mut self, operands: &[Operand<'_>], level: Level<'a>) -> Result<(), ReadError> {
        let doc = self.shared.doc;
        let object = match name_of(operands.first()) {
            Some(name) => level
                .resources
                .and_then(|resources| dict_entry(doc, resources, b"XObject"))
                .and_then(|objects| objects.get(name).ok()),
            _ => None,
        };
        let found = object.and_then(|object| doc.dereference(object).ok());
        let Some((id, Object::Stream(stream))) = found else {
            return self.wrong("draws an object that is not there");
        };
        if !matches!(stream.dict.get(b"Subtype"), Ok(Object::Name(kind)) if kind == b"Form") {
            return Ok(());
        }
        if level.depth >= MAX_FORMS {
            return Err(ReadError::TooLarge("forms within forms"));
        }
        let inner = Level {
            resources: dict_entry(doc, &stream.dict, b"Resources").or(level.resources),
            form: id,
            depth: level.depth + 1,
        };
        let font = self.font;
        self.run(&[stream], inner)?;
        self.font = font;
        Ok(())
    }
}
