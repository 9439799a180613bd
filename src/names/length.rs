//! Lengths, and the two spaces that points live in.
//!
//! One whole-number [`Length`] is used everywhere inside: 914,400 to the inch, which is exact for
//! millimetres (36,000) and points (12,700), so that sums never drift. Bare numbers are made and read
//! only at the borders, through the one table in [`Unit`].

use std::fmt;
use std::iter::Sum;
use std::ops::{Add, AddAssign, Div, Mul, Neg, Sub, SubAssign};

/// A length in whole 1/914,400 inch (1 mm = 36,000; 1 pt = 12,700).
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Length(i64);

impl Length {
    /// No length at all.
    pub const ZERO: Length = Length(0);

    /// A whole number of millimetres.
    pub const fn mm(n: i64) -> Length {
        Length(n * 36_000)
    }

    /// A whole number of points (1/72 inch).
    pub const fn pt(n: i64) -> Length {
        Length(n * 12_700)
    }

    /// A length from its inner whole number of 1/914,400 inch.
    pub const fn from_units(units: i64) -> Length {
        Length(units)
    }

    /// The inner whole number of 1/914,400 inch.
    pub const fn units(self) -> i64 {
        self.0
    }

    /// This length in millimetres, for JSON and messages.
    pub fn as_mm(self) -> f64 {
        self.0 as f64 / 36_000.0
    }

    /// This length in points (1/72 inch), for PDF and messages.
    pub fn as_pt(self) -> f64 {
        self.0 as f64 / 12_700.0
    }

    /// `self × numerator ÷ denominator`, rounded to the nearest unit, halves away from zero.
    ///
    /// `denominator` must be above zero.
    pub fn scaled(self, numerator: i64, denominator: i64) -> Length {
        let product = i128::from(self.0) * i128::from(numerator);
        Length(divide_rounding(product, i128::from(denominator)) as i64)
    }

    /// The longer of two lengths.
    pub fn max(self, other: Length) -> Length {
        Length(self.0.max(other.0))
    }

    /// The shorter of two lengths.
    pub fn min(self, other: Length) -> Length {
        Length(self.0.min(other.0))
    }
}

/// Rounds a quotient to the nearest whole number, halves away from zero.
fn divide_rounding(numerator: i128, denominator: i128) -> i128 {
    let half = denominator / 2;
    if numerator >= 0 {
        (numerator + half) / denominator
    } else {
        (numerator - half) / denominator
    }
}

impl Add for Length {
    type Output = Length;
    fn add(self, other: Length) -> Length {
        Length(self.0 + other.0)
    }
}

impl AddAssign for Length {
    fn add_assign(&mut self, other: Length) {
        self.0 += other.0;
    }
}

impl Sub for Length {
    type Output = Length;
    fn sub(self, other: Length) -> Length {
        Length(self.0 - other.0)
    }
}

impl SubAssign for Length {
    fn sub_assign(&mut self, other: Length) {
        self.0 -= other.0;
    }
}

impl Neg for Length {
    type Output = Length;
    fn neg(self) -> Length {
        Length(-self.0)
    }
}

impl Mul<i64> for Length {
    type Output = Length;
    fn mul(self, factor: i64) -> Length {
        Length(self.0 * factor)
    }
}

impl Div<i64> for Length {
    type Output = Length;
    fn div(self, divisor: i64) -> Length {
        Length(self.0 / divisor)
    }
}

impl Sum for Length {
    fn sum<I: Iterator<Item = Length>>(lengths: I) -> Length {
        lengths.fold(Length::ZERO, Add::add)
    }
}

/// Printed in millimetres with at most two decimals: `83 mm`, `11.25 mm`.
impl fmt::Display for Length {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{} mm", decimals(self.as_mm(), 2))
    }
}

/// A number with at most `places` decimals and no trailing noughts.
pub fn decimals(number: f64, places: usize) -> String {
    let text = format!("{number:.places$}");
    if text.contains('.') {
        text.trim_end_matches('0').trim_end_matches('.').to_string()
    } else {
        text
    }
}

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

impl Measure {
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
        Length(divide_rounding(product, i128::from(denominator) * 1_000_000) as i64)
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

/// A point on a panel: from the trimmed top-left corner, `y` down.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Hash)]
pub struct PanelPoint {
    /// To the right.
    pub x: Length,
    /// Downwards.
    pub y: Length,
}

/// A point in PDF user space: points (1/72 inch) from the bottom-left of the MediaBox, `y` up.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct PdfPoint {
    /// To the right, in points.
    pub x: f32,
    /// Upwards, in points.
    pub y: f32,
}

/// Where a panel lies on a PDF page: the only crossing from panel space to PDF space.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct PageSpace {
    /// The page point of the panel's top-left corner, from the page's bottom-left, `y` up.
    left: Length,
    top: Length,
    /// How large one length of the panel is on the page, as a fraction.
    scale: (i64, i64),
}

impl PageSpace {
    /// A panel at full size on a page that shows it with `bleed` all round.
    pub fn with_bleed(panel_height: Length, bleed: Length) -> PageSpace {
        PageSpace {
            left: bleed,
            top: bleed + panel_height,
            scale: (1, 1),
        }
    }

    /// A panel whose top-left corner lies at (`left`, `top`) from the page's bottom-left corner,
    /// drawn at `numerator` ÷ `denominator` of its size.
    pub const fn placed(left: Length, top: Length, scale: (i64, i64)) -> PageSpace {
        PageSpace { left, top, scale }
    }

    /// Turns the y axis over and measures in points.
    pub fn point(&self, p: PanelPoint) -> PdfPoint {
        let (n, d) = self.scale;
        PdfPoint {
            x: (self.left + p.x.scaled(n, d)).as_pt() as f32,
            y: (self.top - p.y.scaled(n, d)).as_pt() as f32,
        }
    }

    /// A length of the panel in points of the page.
    pub fn length(&self, length: Length) -> f32 {
        length.scaled(self.scale.0, self.scale.1).as_pt() as f32
    }
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

    #[test]
    fn the_y_axis_turns_once() {
        let space = PageSpace::with_bleed(Length::mm(148), Length::mm(3));
        let top_left = space.point(PanelPoint::default());
        assert_eq!(decimals(f64::from(top_left.x), 3), "8.504");
        let bottom = space.point(PanelPoint {
            x: Length::ZERO,
            y: Length::mm(148),
        });
        assert_eq!(decimals(f64::from(bottom.y), 3), "8.504");
    }
}
