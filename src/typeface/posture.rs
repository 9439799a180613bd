//! How characters stand in lines that run down: upright, or turned with the line (UAX #50, Vertical_Orientation).

use icu_properties::CodePointMapData;
use icu_properties::props::VerticalOrientation;

/// How far the square of a sign reaches below the baseline, in hundredths of an em (the usual design of Chinese and
/// Japanese faces: common practice).
pub const BELOW: i64 = 12;

/// How a sign or word stands in its line.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Hash)]
pub enum Posture {
    /// As the line runs: in one that runs down, turned by a quarter to the right.
    #[default]
    AlongLine,
    /// Upright in a line that runs down, in the form that its face has for that, if any.
    Upright,
    /// Upright where its face has a form for that, and else turned.
    UprightIfFormed,
    /// Upright in a line that runs down, side by side in one square.
    Together,
}

impl Posture {
    /// How a character by itself stands in a line that runs down.
    pub fn of(c: char) -> Posture {
        match CodePointMapData::<VerticalOrientation>::new().get(c) {
            VerticalOrientation::Upright | VerticalOrientation::TransformedUpright => {
                Posture::Upright
            }
            VerticalOrientation::TransformedRotated => Posture::UprightIfFormed,
            _ => Posture::AlongLine,
        }
    }

    /// Whether a character stands upright in lines that run down, but in another form than in lines that run across.
    pub fn is_transformed(c: char) -> bool {
        let orientation = CodePointMapData::<VerticalOrientation>::new().get(c);
        orientation == VerticalOrientation::TransformedUpright
    }
}

/// How far the middle of a square lies above the baseline, in units of a face with so many to the em.
pub(super) fn middle(units_per_em: i32) -> i32 {
    let below = i64::from(units_per_em) * BELOW / 100;
    units_per_em / 2 - below as i32
}
