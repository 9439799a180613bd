//! Why the words of a PDF cannot be read.

use std::fmt;

/// Why the words of a PDF cannot be read. Pages are counted from one.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum ReadError {
    /// The file is damaged; the parser's own words.
    Unreadable(String),
    /// The file asks for a password.
    Encrypted,
    /// The file has no structure tree.
    NotTagged,
    /// The structure tree is wrong; says how.
    Structure(String),
    /// Something on a page is wrong; says what, to follow "page N".
    Page {
        /// The page.
        page: usize,
        /// What is wrong with it.
        what: String,
    },
    /// A shown code has no Unicode value.
    NoUnicode {
        /// The page.
        page: usize,
        /// The font's BaseFont name.
        font: String,
        /// The two-byte code.
        code: u16,
    },
    /// Text is shown that is neither in the structure nor an artifact.
    Untagged {
        /// The page.
        page: usize,
        /// The text, as far as it can be read.
        text: String,
    },
    /// The file is larger or deeper than any book; says in what.
    TooLarge(&'static str),
}

impl ReadError {
    /// Something wrong on `page`; `what` follows "page N".
    pub(super) fn page(page: usize, what: impl Into<String>) -> ReadError {
        ReadError::Page {
            page,
            what: what.into(),
        }
    }
}

impl fmt::Display for ReadError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            ReadError::Unreadable(why) => write!(f, "the PDF cannot be read: {why}"),
            ReadError::Encrypted => write!(f, "the PDF is encrypted"),
            ReadError::NotTagged => write!(f, "the PDF has no structure tree"),
            ReadError::Structure(what) => write!(f, "in the structure tree, {what}"),
            ReadError::Page { page, what } => write!(f, "page {page} {what}"),
            ReadError::NoUnicode { page, font, code } => write!(
                f,
                "page {page} shows code {code:04X} of the font {font}, which has no Unicode value"
            ),
            ReadError::Untagged { page, text } => write!(
                f,
                "page {page} shows text that is neither in the structure nor an artifact: {text:?}"
            ),
            ReadError::TooLarge(what) => {
                write!(f, "the PDF has more {what} than any book needs")
            }
        }
    }
}

impl std::error::Error for ReadError {}
