//! Lengths as the plan writes them: text such as `"11 pt"`.

use std::marker::PhantomData;

use serde_json::{Value as Json, json};

use crate::names::{Fault, Length, Measure, MeasureError, Unit, nearest};
use crate::reading::{Node, Reader, Value};

/// Where a length is written: it decides which units are allowed.
pub trait Use {
    /// The unit to suggest.
    const USUAL: &'static str;
    /// Whether the type size may be the unit.
    const EM: bool;
    /// Whether the leading may be the unit.
    const LINE: bool;
}

/// A length that is not negative, in the units its use allows.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct LengthFor<U> {
    /// As written.
    pub measure: Measure,
    used: PhantomData<U>,
}

macro_rules! uses {
    ($($(#[$about:meta])+ $name:ident $alias:ident $usual:literal $em:literal $line:literal;)+) => { $(
        $(#[$about])+
        #[derive(Clone, Copy, Debug, PartialEq, Eq)]
        pub struct $name;
        impl Use for $name {
            const USUAL: &'static str = $usual;
            const EM: bool = $em;
            const LINE: bool = $line;
        }
        $(#[$about])+
        pub type $alias = LengthFor<$name>;
    )+ };
}

uses! {
    /// On the paper: only lengths that need no type.
    OnPaper PaperLength "mm" false false;
    /// The type size itself.
    OfType TypeSize "pt" false false;
    /// The leading, which may follow the type size.
    OfLeading Leading "pt" true false;
    /// Between letters.
    BetweenLetters Letterspacing "pt" true false;
    /// Where type is meant.
    InText TextLength "mm" true true;
}

impl<U> LengthFor<U> {
    /// A length as it might be written.
    pub const fn new(measure: Measure) -> LengthFor<U> {
        LengthFor {
            measure,
            used: PhantomData,
        }
    }

    /// The length where an `em` is `em` and a `line` is `line`.
    pub fn resolve(self, em: Length, line: Length) -> Length {
        self.measure.resolve(em, line)
    }
}

/// A length of so many millimetres; at most six decimals count.
pub const fn mm<U>(number: f64) -> LengthFor<U> {
    LengthFor::new(Measure::new(number, Unit::Mm))
}

/// A length on paper, in millimetres.
pub fn on_paper(length: Length) -> PaperLength {
    mm(length.as_mm())
}

/// A length of so many points.
pub const fn pt<U>(number: f64) -> LengthFor<U> {
    LengthFor::new(Measure::new(number, Unit::Pt))
}

/// A length of so many times the type size.
pub const fn em<U>(number: f64) -> LengthFor<U> {
    LengthFor::new(Measure::new(number, Unit::Em))
}

/// A length of so many times the leading.
pub const fn line<U>(number: f64) -> LengthFor<U> {
    LengthFor::new(Measure::new(number, Unit::Line))
}

/// The units a use allows, in the order they are told.
fn units<U: Use>() -> Vec<&'static str> {
    let allowed = |&(unit, _): &(Unit, _)| match unit {
        Unit::Em => U::EM,
        Unit::Line => U::LINE,
        _ => true,
    };
    let units = Unit::ALL.into_iter().filter(allowed);
    units.map(|(_, word)| word).collect()
}

impl<U: Use> Value for LengthFor<U> {
    fn read(node: Node<'_>, reader: &mut Reader) -> Option<Self> {
        let name = node.name();
        let Some(text) = node.text() else {
            return match node.number() {
                Some(_) => {
                    let number = reader.place(node.span());
                    let number = &number.source.text[number.span.clone()];
                    let what = format!(
                        "{name} needs a unit: write it as text, such as \"{number} {}\"",
                        U::USUAL
                    );
                    let units = units::<U>().join(", ");
                    reader.refuse(node, Fault::new("wrong-unit", what).allowed(units))
                }
                None => reader.wrong_type(node, &a_length::<U>()),
            };
        };
        let measure = match Measure::read(text) {
            Ok(measure) => measure,
            Err(error) => return reader.refuse(node, unreadable::<U>(node, text.trim(), error)),
        };
        let refused = match measure.unit() {
            Unit::Em if !U::EM => Some(("em", "type size")),
            Unit::Line if !U::LINE => Some(("line", "leading")),
            _ => None,
        };
        if let Some((unit, follows)) = refused {
            let what = format!("{name} cannot be in `{unit}`, which follows the {follows}");
            let units = units::<U>().join(", ");
            return reader.refuse(node, Fault::new("wrong-unit", what).allowed(units));
        }
        if text.trim_start().starts_with('-') {
            let what = format!("{name} must not be negative");
            return reader.refuse(node, Fault::new("out-of-range", what));
        }
        Some(LengthFor {
            measure,
            used: PhantomData,
        })
    }

    fn schema() -> Json {
        let mut words = units::<U>();
        if U::EM {
            words.push("ems");
        }
        if U::LINE {
            words.push("lines");
        }
        let number = "[+]?([0-9]{1,6}([.][0-9]{0,6})?|[.][0-9]{1,6})";
        let pattern = format!("^\\s*{number}\\s*({})\\s*$", words.join("|"));
        json!({ "type": "string", "pattern": pattern })
    }

    fn written(&self) -> Option<String> {
        Some(format!("\"{}\"", self.measure))
    }
}

fn a_length<U: Use>() -> String {
    format!(
        "a number and a unit in quotation marks, such as \"11 {}\"",
        U::USUAL
    )
}

/// What is wrong with a length that cannot be read.
fn unreadable<U: Use>(node: Node<'_>, text: &str, error: MeasureError) -> Fault {
    let name = node.name();
    let units = units::<U>();
    match error {
        MeasureError::NoNumber => {
            Fault::new("wrong-type", format!("{name} must be {}", a_length::<U>()))
        }
        MeasureError::NoUnit => Fault::new(
            "wrong-unit",
            format!("{name} needs a unit, such as \"{text} {}\"", U::USUAL),
        )
        .allowed(units.join(", ")),
        MeasureError::UnknownUnit(unit) => {
            Fault::new("wrong-unit", format!("`{unit}` is no unit for {name}"))
                .meant(nearest(&unit, units.iter().copied()))
                .allowed(units.join(", "))
        }
        MeasureError::OutOfRange => {
            Fault::new("out-of-range", format!("{name} has too many figures"))
                .allowed("at most six figures before the point and six after it")
        }
    }
}
