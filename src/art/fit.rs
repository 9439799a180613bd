//! How a picture lies on its panels: with bleed, or trimmed.

use super::Art;
use crate::names::{Fault, Length};

/// How much of its place a picture file shows.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Fit {
    /// The panels and the bleed around them.
    WithBleed,
    /// The panels alone, as they are trimmed.
    Trimmed,
}

/// A picture's shape may differ from its place's by one part in so many.
const NEAR: f64 = 100.0;

/// Whether a picture has the shape of panels of that width and height together, with the bleed on all sides or
/// without, within 1 %; the nearer shape wins, and where both are as near, the one with bleed. `name` is what the author knows
/// the file by.
///
/// # Errors
/// A [`Fault`] of the word `wrong-shape`, with the sizes in pixels that would be right.
pub fn fit(
    art: &Art,
    name: &str,
    (width, height): (Length, Length),
    bleed: Length,
) -> Result<Fit, Fault> {
    let shape = f64::from(art.width()) / f64::from(art.height());
    // How many times too wide or too high the picture is; 1 is right.
    let off = |(width, height): (Length, Length)| {
        let right = width.units() as f64 / height.units() as f64;
        (shape / right).max(right / shape)
    };
    let full = (width + bleed * 2, height + bleed * 2);
    let (with, without) = (off(full), off((width, height)));
    if with.min(without) <= 1.0 + 1.0 / NEAR {
        return Ok(match with <= without {
            true => Fit::WithBleed,
            false => Fit::Trimmed,
        });
    }
    let ratio = |(width, height): (f64, f64)| match width >= height {
        true => format!("{:.3} : 1", width / height),
        false => format!("1 : {:.3}", height / width),
    };
    let lengths = |(width, height): (Length, Length)| (width.as_mm(), height.as_mm());
    let pixels = (f64::from(art.width()), f64::from(art.height()));
    let what = format!(
        "`{name}` has {} × {} pixels, a shape of {}, which is not that of its place",
        art.width(),
        art.height(),
        ratio(pixels)
    );
    let sized = |size: (Length, Length), what: &str| {
        let (across, down) = pixels_at((size.0, size.1), 300);
        format!(
            "{} × {} {what} ({}; {across} × {down} pixels at 300 to the inch)",
            size.0,
            size.1,
            ratio(lengths(size))
        )
    };
    let mut allowed = sized(full, "with the bleed");
    if bleed > Length::ZERO {
        allowed += ", or ";
        allowed += &sized((width, height), "without");
    } else {
        allowed = sized((width, height), "trimmed");
    }
    Err(Fault::new("wrong-shape", what)
        .allowed(allowed)
        .help("crop it to one of these shapes; it is never stretched"))
}

/// How many pixels a size has at so many to the inch, rounded to the nearest.
pub fn pixels_at((width, height): (Length, Length), ppi: i64) -> (i64, i64) {
    let pixels = |length: Length| length.scaled(ppi, Length::pt(72).units()).units();
    (pixels(width), pixels(height))
}
