//! Lengths.
//!
//! One whole-number [`Length`] is used everywhere inside: 914,400 to the inch, which is exact for
//! millimetres (36,000) and points (12,700), so that sums never drift. Bare numbers are made and read
//! only at the borders, through the one table in [`Unit`](super::Unit).

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
pub(super) fn divide_rounding(numerator: i128, denominator: i128) -> i128 {
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

impl Length {
    /// In points with at most two decimals, for what typesetters measure so: `11 pt`, `10.5 pt`.
    pub fn in_points(self) -> String {
        format!("{} pt", decimals(self.as_pt(), 2))
    }

    /// The number that it is printed with, without its unit: `83`, `11.25`.
    pub fn without_unit(self) -> String {
        decimals(self.as_mm(), 2)
    }
}

/// Printed in millimetres with at most two decimals: `83 mm`, `11.25 mm`.
impl fmt::Display for Length {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{} mm", self.without_unit())
    }
}

/// A number with at most `places` decimals and no trailing zeros.
pub fn decimals(number: f64, places: usize) -> String {
    let text = format!("{number:.places$}");
    if text.contains('.') {
        text.trim_end_matches('0').trim_end_matches('.').to_string()
    } else {
        text
    }
}
