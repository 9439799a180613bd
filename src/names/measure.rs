//! Lengths as an author writes them: a number and a unit.

use std::fmt;

use super::length::{Length, decimals, divide_rounding};

/// The units an author may write.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Unit {
    /// Millimetre.
    Mm,
    /// Centimetre.
    Cm,
    /// Inch of 25.4 mm.
    In,
    /// Point of 1/72 inch.
    Pt,
    /// Pica of 12 points.
    Pica,
    /// Didot point: the pied du roi of 32.48 cm ÷ 864 = 0.375926 mm (Unified Code for Units of
    /// Measure, `[didot]`).
    Didot,
    /// The type size.
    Em,
    /// The leading.
    Line,
}

impl Unit {
    /// Every unit with the word an author writes for it.
    pub const ALL: [(Unit, &'static str); 8] = [
        (Unit::Mm, "mm"),
        (Unit::Cm, "cm"),
        (Unit::In, "in"),
        (Unit::Pt, "pt"),
        (Unit::Pica, "pica"),
        (Unit::Didot, "didot"),
        (Unit::Em, "em"),
        (Unit::Line, "line"),
    ];

    /// How many 1/914,400 inch one unit is, as a fraction; nothing for `em` and `line`.
    const fn fraction(self) -> Option<(i64, i64)> {
        match self {
            Unit::Mm => Some((36_000, 1)),
            Unit::Cm => Some((360_000, 1)),
            Unit::In => Some((914_400, 1)),
            Unit::Pt => Some((12_700, 1)),
            Unit::Pica => Some((152_400, 1)),
            // 324.8 mm × 36,000 ÷ 864 = 40,600 ÷ 3.
            Unit::Didot => Some((40_600, 3)),
            Unit::Em | Unit::Line => None,
        }
    }
}

/// A length as an author writes it: an exact decimal number and a unit.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub struct Measure {
    /// The number in millionths, exact as written.
    millionths: i64,
    unit: Unit,
}

/// Why a written length cannot be read.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum MeasureError {
    /// No number at the front.
    NoNumber,
    /// A number without a unit.
    NoUnit,
    /// A word that is no unit.
    UnknownUnit(String),
    /// More than six decimals, or a number past a million.
    OutOfRange,
}

/// Printed as an author would write it: `11 pt`, `1.5 mm`.
impl fmt::Display for Measure {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let mut words = Unit::ALL.iter().filter(|(unit, _)| *unit == self.unit);
        let word = words.next().map_or("", |(_, word)| word);
        write!(f, "{} {word}", decimals(self.millionths as f64 / 1e6, 6))
    }
}

impl Measure {
    /// A length of so many of a unit, not negative; at most six decimals count.
    pub const fn new(number: f64, unit: Unit) -> Measure {
        Measure {
            millionths: (number * 1e6 + 0.5) as i64,
            unit,
        }
    }

    /// Reads `"11 mm"`, `"1.5in"`, `"-2 pt"`. Spaces between number and unit are free; `lines` and
    /// `ems` are read too.
    ///
    /// # Errors
    /// Says what is missing or out of range; see [`MeasureError`].
    pub fn read(text: &str) -> Result<Measure, MeasureError> {
        let text = text.trim();
        let split = text
            .find(|c: char| !(c.is_ascii_digit() || c == '.' || c == '-' || c == '+'))
            .unwrap_or(text.len());
        let millionths = read_millionths(&text[..split])?;
        let word = text[split..].trim();
        if word.is_empty() {
            return Err(MeasureError::NoUnit);
        }
        let singular = match word {
            "lines" => "line",
            "ems" => "em",
            other => other,
        };
        Unit::ALL
            .iter()
            .find(|(_, name)| *name == singular)
            .map(|&(unit, _)| Measure { millionths, unit })
            .ok_or_else(|| MeasureError::UnknownUnit(word.to_string()))
    }

    /// The unit as written.
    pub fn unit(self) -> Unit {
        self.unit
    }

    /// The length, where an `em` is `em` and a `line` is `line`: the exact product, rounded once to
    /// the nearest 1/914,400 inch, halves away from zero (only Didot points and sizes in `em` or
    /// `line` ever need it).
    pub fn resolve(self, em: Length, line: Length) -> Length {
        let (numerator, denominator) = match (self.unit.fraction(), self.unit) {
            (Some(fraction), _) => fraction,
            (None, Unit::Line) => (line.units(), 1),
            (None, _) => (em.units(), 1),
        };
        let product = i128::from(self.millionths) * i128::from(numerator);
        Length::from_units(divide_rounding(product, i128::from(denominator) * 1_000_000) as i64)
    }

    /// The length of a unit that needs no type; nothing for `em` and `line`.
    pub fn absolute(self) -> Option<Length> {
        self.unit
            .fraction()
            .map(|_| self.resolve(Length::ZERO, Length::ZERO))
    }
}

fn read_millionths(number: &str) -> Result<i64, MeasureError> {
    let (negative, digits) = match number.strip_prefix('-') {
        Some(rest) => (true, rest),
        None => (false, number.strip_prefix('+').unwrap_or(number)),
    };
    let (whole, fraction) = digits.split_once('.').unwrap_or((digits, ""));
    let all_digits = |s: &str| s.bytes().all(|b| b.is_ascii_digit());
    if (whole.is_empty() && fraction.is_empty()) || !all_digits(whole) || !all_digits(fraction) {
        return Err(MeasureError::NoNumber);
    }
    if whole.len() > 6 || fraction.len() > 6 {
        return Err(MeasureError::OutOfRange);
    }
    let whole: i64 = if whole.is_empty() {
        0
    } else {
        parse_digits(whole)
    };
    let millionths = whole * 1_000_000 + parse_digits(&format!("{fraction:0<6}"));
    Ok(if negative { -millionths } else { millionths })
}

/// The value of at most twelve ASCII digits.
fn parse_digits(digits: &str) -> i64 {
    digits
        .bytes()
        .fold(0, |sum, digit| sum * 10 + i64::from(digit - b'0'))
}

#[cfg(test)]
mod tests {
    use super::*;

    fn read(text: &str) -> Length {
        Measure::read(text).unwrap().absolute().unwrap()
    }

    /// UCUM: 1 pt = 1/72 in, 1 pica = 12 pt; 210 × 297 mm = 595.2756 × 841.8898 pt;
    /// 14,400 units of 1/72 inch = 5,080 mm exactly.
    #[test]
    fn published_conversions() {
        assert_eq!(read("1 in"), read("72 pt"));
        assert_eq!(read("1 pica"), read("12 pt"));
        assert_eq!(read("14400 pt"), read("5080 mm"));
        assert_eq!(decimals(read("210 mm").as_pt(), 4), "595.2756");
        assert_eq!(decimals(read("297 mm").as_pt(), 4), "841.8898");
        assert_eq!(decimals(read("1 didot").as_mm(), 6), "0.375917");
        // 12 Didot points are one cicero of 4.51111 mm.
        assert_eq!(decimals(read("12 didot").as_mm(), 5), "4.51111");
        assert_eq!(read("3 didot").units(), 40_600);
    }

    #[test]
    fn what_cannot_be_read_is_named() {
        assert_eq!(Measure::read("mm"), Err(MeasureError::NoNumber));
        assert_eq!(Measure::read("11"), Err(MeasureError::NoUnit));
        assert_eq!(
            Measure::read("11 parsec"),
            Err(MeasureError::UnknownUnit("parsec".into()))
        );
        assert_eq!(Measure::read("1.2.3 mm"), Err(MeasureError::NoNumber));
        assert_eq!(Measure::read("0.1234567 mm"), Err(MeasureError::OutOfRange));
        assert_eq!(Measure::read("99999999 mm"), Err(MeasureError::OutOfRange));
    }

    #[test]
    fn em_and_line_resolve_where_type_is_meant() {
        let measure = Measure::read("1.5 em").unwrap();
        assert_eq!(measure.absolute(), None);
        assert_eq!(
            measure.resolve(Length::pt(11), Length::pt(15)),
            Length::pt(33) / 2
        );
        let lines = Measure::read("2 lines").unwrap();
        assert_eq!(
            lines.resolve(Length::pt(11), Length::pt(15)),
            Length::pt(30)
        );
    }
}
