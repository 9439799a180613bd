//! Figures, all rounded alike.

use serde::Serialize;
use serde_json::{Value as Json, json};

use super::{Defs, Value};
use crate::names::Length;

/// A number to four decimals: of a millimetre a tenth of a thousandth, of a share a hundredth of a percent.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
#[serde(transparent)]
pub struct Figure(f64);

impl Figure {
    /// The nearest figure to a number; halves are rounded away from nought.
    pub fn of(number: f64) -> Figure {
        Figure((number * 10_000.0).round() / 10_000.0)
    }

    /// A length in millimetres.
    pub fn mm(length: Length) -> Figure {
        Figure::of(length.as_mm())
    }

    /// A length in points.
    pub fn pt(length: Length) -> Figure {
        Figure::of(length.as_pt())
    }
}

impl Value for Figure {
    fn schema(_: &mut Defs) -> Json {
        json!({ "type": "number" })
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn figures_have_four_decimals() {
        for (number, written) in [
            (1.0 / 3.0, "0.3333"),
            (-2.000_05, "-2.0001"),
            (83.0, "83.0"),
        ] {
            assert_eq!(json!(Figure::of(number)).to_string(), written);
        }
        assert_eq!(json!(Figure::mm(Length::pt(1))).to_string(), "0.3528");
        assert_eq!(json!(Figure::pt(Length::mm(1))).to_string(), "2.8346");
    }
}
