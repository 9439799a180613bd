//! The bytes that fingerprints are made of.
//!
//! A number is eight bytes, the least first, in two's complement. A text is the number of its bytes and these bytes, as
//! UTF-8. A list is the number of its entries and the entries. What may be one of several kinds begins with a byte that
//! says which. So no two values have the same bytes.

use sha2::{Digest, Sha256};

use crate::names::Ink;
use crate::typeface::Face;

/// How many bytes wait at most, or so, until they are hashed.
const MANY: usize = 4096;

/// Takes values in, and hashes them: many at once, for each is but a few bytes.
pub(crate) struct Encoder {
    hash: Sha256,
    waiting: Vec<u8>,
}

impl Encoder {
    /// One for values of a kind, which begins with the version and the kind's name.
    pub fn new(version: u32, kind: &str) -> Encoder {
        let mut encoder = Encoder {
            hash: Sha256::new(),
            waiting: Vec::with_capacity(256),
        };
        encoder.number(i64::from(version));
        encoder.text(kind);
        encoder
    }

    fn take(&mut self, bytes: &[u8]) {
        if self.waiting.len() + bytes.len() > MANY {
            self.hash.update(&self.waiting);
            self.waiting.clear();
        }
        self.waiting.extend_from_slice(bytes);
    }

    pub fn number(&mut self, number: i64) {
        self.take(&number.to_le_bytes());
    }

    pub fn numbers<const N: usize>(&mut self, numbers: [i64; N]) {
        numbers.into_iter().for_each(|number| self.number(number));
    }

    /// How many entries follow.
    pub fn count(&mut self, count: usize) {
        self.take(&(count as u64).to_le_bytes());
    }

    pub fn text(&mut self, text: &str) {
        self.count(text.len());
        self.take(text.as_bytes());
    }

    /// What there may be, or not: a byte that says which, 1 or 0, and the value.
    pub fn optional<T>(&mut self, value: Option<T>, encode: impl FnOnce(&mut Encoder, T)) {
        self.take(&[u8::from(value.is_some())]);
        if let Some(value) = value {
            encode(self, value);
        }
    }

    /// A face: the 32 bytes of its file's SHA-256, and which face of the file it is.
    pub fn face(&mut self, face: &Face) {
        self.take(face.checksum());
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
        self.take(&[kind]);
        name.into_iter().for_each(|name| self.text(name));
        let shares = shares.iter().map(|share| i64::from(*share));
        shares.for_each(|share| self.number(share));
    }

    /// The SHA-256 of all that was taken in.
    pub fn digest(mut self) -> [u8; 32] {
        self.hash.update(&self.waiting);
        self.hash.finalize().into()
    }
}
