//! Typefaces that are installed where the program runs.

/// A font file's bytes.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct FontBytes {
    /// The whole file.
    pub bytes: Vec<u8>,
    /// Which face of a collection; nought where the file has one face.
    pub index: u32,
}

/// The faces of a family that is installed.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct InstalledFamily {
    /// The upright.
    pub regular: FontBytes,
    /// For emphasis, where it has one.
    pub italic: Option<FontBytes>,
    /// For strong emphasis, where it has one.
    pub bold: Option<FontBytes>,
}

/// Why an installed family is not to be had.
#[derive(Clone, Debug, PartialEq, Eq)]
#[non_exhaustive]
pub enum NotInstalled {
    /// Where these files come from nothing is installed.
    Nothing,
    /// There is none of that name; these are the families that there are, in order.
    Unknown(Vec<String>),
    /// Its file cannot be read.
    Unreadable,
}
