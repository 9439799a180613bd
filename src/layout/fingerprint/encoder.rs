//! The bytes that fingerprints are made of.
//!
//! A number is eight bytes, the least first, in two's complement. A text is the number of its bytes and these bytes, as
//! UTF-8. A list is the number of its entries and the entries. What may be one of several kinds begins with a byte that
//! says which. So no two values have the same bytes.

use sha2::{Digest, Sha256};

use crate::names::Ink;
use crate::typeface::Face;

/// Takes values in, and hashes them.
pub(crate) struct Encoder(Sha256);

impl Encoder {
    /// One for values of a kind, which begins with the version and the kind's name.
    pub fn new(version: u32, kind: &str) -> Encoder {
        let mut encoder = Encoder(Sha256::new());
        encoder.number(i64::from(version));
        encoder.text(kind);
        encoder
    }

    pub fn number(&mut self, number: i64) {
        self.0.update(number.to_le_bytes());
    }

    pub fn numbers<const N: usize>(&mut self, numbers: [i64; N]) {
        numbers.into_iter().for_each(|number| self.number(number));
    }

    /// How many entries follow.
    pub fn count(&mut self, count: usize) {
        self.0.update((count as u64).to_le_bytes());
    }

    pub fn text(&mut self, text: &str) {
        self.count(text.len());
        self.0.update(text);
    }

    /// What there may be, or not: a byte that says which, 1 or 0, and the value.
    pub fn optional<T>(&mut self, value: Option<T>, encode: impl FnOnce(&mut Encoder, T)) {
        self.0.update([u8::from(value.is_some())]);
        if let Some(value) = value {
            encode(self, value);
        }
    }

    /// A face: the 32 bytes of its file's SHA-256, and which face of the file it is.
    pub fn face(&mut self, face: &Face) {
        self.0.update(face.checksum());
        self.number(i64::from(face.index()));
    }

    /// An ink: black 0, reversed out 1, grey 2, four inks 3, three lights 4, a spot ink 5; then its shares in
    /// thousandths, a spot ink's name before them.
    pub fn ink(&mut self, ink: &Ink) {
        let (kind, name, shares): (u8, Option<&str>, &[u16]) = match ink {
            Ink::Black => (0, None, &[]),
            Ink::ReversedOut => (1, None, &[]),
            Ink::Grey(share) => (2, None, std::slice::from_ref(share)),
            Ink::Cmyk(shares) => (3, None, shares),
            Ink::Rgb(shares) => (4, None, shares),
            Ink::Spot { name, cmyk } => (5, Some(name), cmyk),
        };
        self.0.update([kind]);
        name.into_iter().for_each(|name| self.text(name));
        let shares = shares.iter().map(|share| i64::from(*share));
        shares.for_each(|share| self.number(share));
    }

    /// The SHA-256 of all that was taken in.
    pub fn digest(self) -> [u8; 32] {
        self.0.finalize().into()
    }
}
