//! Inks.

/// The colour of words. Shares of ink are thousandths: 0 none, 1000 solid.
#[derive(Clone, Debug, PartialEq, Eq, Hash)]
pub enum Ink {
    /// Black ink alone, printed over whatever lies below.
    Black,
    /// No ink: the words are left out of the art.
    ReversedOut,
    /// A grey: 0 black, 1000 white.
    Grey(u16),
    /// Cyan, magenta, yellow, black.
    Cmyk([u16; 4]),
    /// Red, green, blue.
    Rgb([u16; 3]),
    /// A spot ink by name, and what it looks like in four colours.
    Spot {
        /// The ink's name on the plate.
        name: String,
        /// Its look.
        cmyk: [u16; 4],
    },
}
