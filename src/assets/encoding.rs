//! Guessing what a file is that is not UTF-8, so that its author knows what to look for.

use chardetng::{EncodingDetector, Iso2022JpDetection, Utf8Detection};
use encoding_rs::{Encoding, MACINTOSH, WINDOWS_1252};

/// How many bytes are looked at.
const SAMPLE: usize = 1 << 20;

/// How many characters of a line are shown on either side of the byte in question.
const SHOWN: usize = 24;

/// What a file probably is.
pub(super) struct Likely {
    /// To follow "it is likely".
    pub(super) name: String,
    /// The words around the first byte that is not UTF-8, as they read if the guess is right.
    pub(super) words: Option<String>,
}

/// UTF-16 that can be told by its mark or by its NUL bytes. ASCII text in UTF-16 without a mark
/// passes for UTF-8, so this comes before all else.
pub(super) fn utf16(bytes: &[u8]) -> Option<&'static str> {
    match bytes {
        [0xFF, 0xFE, 0, 0, ..] => return Some("UTF-32LE"),
        [0, 0, 0xFE, 0xFF, ..] => return Some("UTF-32BE"),
        [0xFF, 0xFE, ..] => return Some("UTF-16LE"),
        [0xFE, 0xFF, ..] => return Some("UTF-16BE"),
        _ => {}
    }
    let sample = bytes.get(..SAMPLE).unwrap_or(bytes);
    let (pairs, _) = sample.as_chunks::<2>();
    let high_first = pairs.iter().filter(|pair| pair[0] == 0).count();
    let low_first = pairs.iter().filter(|pair| pair[1] == 0).count();
    // Even in scripts far from ASCII about one unit in ten is a space or a line's end.
    let many = |nuls: usize| nuls * 20 > pairs.len();
    let few = |nuls: usize, of: usize| nuls * 10 <= of;
    if many(low_first) && few(high_first, low_first) {
        Some("UTF-16LE")
    } else if many(high_first) && few(low_first, high_first) {
        Some("UTF-16BE")
    } else {
        None
    }
}

/// What bytes that are not UTF-8 from `offset` on probably are.
pub(super) fn likely(bytes: &[u8], offset: usize) -> Likely {
    let plain = |name: &str| Likely {
        name: name.to_string(),
        words: None,
    };
    if bytes.starts_with(b"PK\x03\x04") || bytes.starts_with(&[0xD0, 0xCF, 0x11, 0xE0]) {
        return plain("a word processor's own file");
    }
    if bytes.starts_with(b"%PDF-") {
        return plain("a PDF");
    }
    // Half of a surrogate pair, as CESU-8 has it (Unicode Technical Report #26).
    if let Some([0xED, 0xA0..=0xBF, 0x80..=0xBF, ..]) = bytes.get(offset..) {
        return plain("CESU-8, which some programs write where UTF-8 is asked for");
    }
    let sample = bytes.get(..SAMPLE).unwrap_or(bytes);
    let mut detector = EncodingDetector::new(Iso2022JpDetection::Deny);
    detector.feed(sample, true);
    let mut guess = detector.guess(None, Utf8Detection::Deny);
    // The detector never says Mac Roman, since web pages are hardly ever in it; old texts are.
    if guess.is_single_byte() && score(sample, MACINTOSH) > score(sample, guess) {
        guess = MACINTOSH;
    }
    let name = if guess == MACINTOSH {
        "Mac Roman"
    } else if guess != WINDOWS_1252 {
        guess.name()
    } else if sample.iter().any(|byte| (0x80..0xA0).contains(byte)) {
        "Windows-1252"
    } else {
        "Windows-1252 or ISO 8859-1 (Latin-1)"
    };
    Likely {
        name: name.to_string(),
        words: Some(around(bytes, offset, guess)),
    }
}

/// How much a reading of the bytes looks like words: the higher the better.
fn score(bytes: &[u8], encoding: &'static Encoding) -> i64 {
    let (text, _) = encoding.decode_without_bom_handling(bytes);
    let mut sum = 0;
    let mut before = ' ';
    let mut characters = text.chars().peekable();
    while let Some(c) = characters.next() {
        if !c.is_ascii() {
            let after = characters.peek().copied().unwrap_or(' ');
            sum += fits(before, c, after);
        }
        before = c;
    }
    sum
}

/// How well a character that is not ASCII sits between its neighbours.
fn fits(before: char, c: char, after: char) -> i64 {
    let letters = (before.is_alphabetic(), after.is_alphabetic());
    match c {
        '\u{fffd}' => -5,
        c if c.is_control() => -5,
        '‘' | '“' | '«' if letters.1 && !letters.0 => 2,
        '’' if letters.0 => 2,
        '”' | '»' | '…' if !letters.1 && !before.is_whitespace() => 2,
        '–' | '—' if letters.0 == letters.1 => 1,
        '‘' | '’' | '“' | '”' | '«' | '»' | '…' | '–' | '—' => 0,
        '\u{a0}' => 0,
        c if c.is_lowercase() && (letters.0 || letters.1) => 2,
        c if c.is_uppercase() && before.is_lowercase() => -3,
        c if c.is_alphabetic() => 1,
        _ if letters == (true, true) => -3,
        _ => -1,
    }
}

/// The words around `offset` on its line.
fn around(bytes: &[u8], offset: usize, encoding: &'static Encoding) -> String {
    let (before, after) = bytes.split_at(offset.min(bytes.len()));
    let is_end = |byte: &u8| matches!(byte, b'\n' | b'\r');
    let start = before.iter().rposition(is_end).map_or(0, |at| at + 1);
    let end = after.iter().position(is_end).unwrap_or(after.len());
    let read = |bytes: &[u8]| -> Vec<char> {
        let (text, _) = encoding.decode_without_bom_handling(bytes);
        text.chars().collect()
    };
    let before = read(before.get(start..).unwrap_or_default());
    let after = read(after.get(..end).unwrap_or_default());
    let before = before.iter().skip(before.len().saturating_sub(SHOWN));
    let words: String = before.chain(after.iter().take(SHOWN)).collect();
    words.trim().to_string()
}
