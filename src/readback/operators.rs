//! The operators of a content stream, each with its operands (ISO 32000-1, 7.2, 7.3 and 7.8.2).
//!
//! The stream is gone through once, and nothing is copied that stands in it as it is meant. The parser that reads the file
//! makes a tree of every operator; the tests hold the two against each other. What the standard does not have in content
//! is refused, and inline pictures, which no page of words has.

use std::borrow::Cow;

/// How deep arrays and dictionaries may nest.
const MAX_DEPTH: usize = 32;

/// What an operator is asked with.
#[derive(Clone, Debug, PartialEq)]
pub(super) enum Operand<'c> {
    Integer(i64),
    Name(Cow<'c, [u8]>),
    String(Cow<'c, [u8]>),
    Array(Vec<Operand<'c>>),
    Dictionary(Vec<(Cow<'c, [u8]>, Operand<'c>)>),
    /// A number that is not whole, a truth value or null. No words hang on them.
    Other,
}

impl Operand<'_> {
    /// The value of a key, if it is a dictionary that has it; of a key that stands twice the last.
    pub(super) fn get(&self, key: &[u8]) -> Option<&Self> {
        let Operand::Dictionary(entries) = self else {
            return None;
        };
        let mut entries = entries.iter().rev();
        let found = entries.find(|(known, _)| known.as_ref() == key);
        found.map(|(_, value)| value)
    }
}

/// Goes through a content stream. An error says what is wrong, to follow "has content that cannot be read".
pub(super) struct Operators<'c> {
    rest: &'c [u8],
}

type Parsed<T> = Result<T, &'static str>;

const CUT_SHORT: &str = "it is cut short";

fn is_space(byte: u8) -> bool {
    matches!(byte, b'\0' | b'\t' | b'\n' | 0x0C | b'\r' | b' ')
}

fn is_regular(byte: u8) -> bool {
    !is_space(byte) && !b"()<>[]{}/%".contains(&byte)
}

impl<'c> Operators<'c> {
    pub(super) fn new(content: &'c [u8]) -> Operators<'c> {
        Operators { rest: content }
    }

    /// The next operator, whose operands take the place of those in `operands`; nothing at the end.
    pub(super) fn next(&mut self, operands: &mut Vec<Operand<'c>>) -> Parsed<Option<&'c [u8]>> {
        operands.clear();
        loop {
            self.skip_space();
            let Some(&first) = self.rest.first() else {
                return match operands.is_empty() {
                    true => Ok(None),
                    false => Err(CUT_SHORT),
                };
            };
            if !first.is_ascii_alphabetic() && !b"'\"*".contains(&first) {
                operands.push(self.operand(0)?);
                continue;
            }
            match self.regular() {
                b"true" | b"false" | b"null" => operands.push(Operand::Other),
                b"BI" => return Err("it has an inline picture"),
                name => {
                    let plain = |byte: &u8| byte.is_ascii_alphanumeric() || b"'\"*".contains(byte);
                    return match name.iter().all(plain) {
                        true => Ok(Some(name)),
                        false => Err("it has an operator that is none"),
                    };
                }
            }
        }
    }

    /// Takes the front as far as bytes are such.
    fn take(&mut self, such: impl Fn(u8) -> bool) -> &'c [u8] {
        let end = self.rest.iter().position(|&byte| !such(byte));
        let (front, rest) = self.rest.split_at(end.unwrap_or(self.rest.len()));
        self.rest = rest;
        front
    }

    fn regular(&mut self) -> &'c [u8] {
        self.take(is_regular)
    }

    /// Skips white space and comments.
    fn skip_space(&mut self) {
        loop {
            self.take(is_space);
            match self.rest.first() {
                Some(b'%') => drop(self.take(|byte| !matches!(byte, b'\r' | b'\n'))),
                _ => return,
            }
        }
    }

    fn operand(&mut self, depth: usize) -> Parsed<Operand<'c>> {
        if depth > MAX_DEPTH {
            return Err("it nests too deep");
        }
        match self.rest {
            [b'/', ..] => self.name().map(Operand::Name),
            [b'(', rest @ ..] => {
                self.rest = rest;
                self.literal().map(Operand::String)
            }
            [b'<', b'<', rest @ ..] => {
                self.rest = rest;
                self.dictionary(depth)
            }
            [b'<', rest @ ..] => {
                self.rest = rest;
                self.hexadecimal()
            }
            [b'[', rest @ ..] => {
                self.rest = rest;
                self.array(depth)
            }
            [b'0'..=b'9' | b'+' | b'-' | b'.', ..] => number(self.regular()),
            [first, ..] if is_regular(*first) => match self.regular() {
                b"true" | b"false" | b"null" => Ok(Operand::Other),
                _ => Err("it has a word where a value should be"),
            },
            [] => Err(CUT_SHORT),
            _ => Err("it has brackets that do not go together"),
        }
    }

    fn array(&mut self, depth: usize) -> Parsed<Operand<'c>> {
        let mut items = Vec::new();
        loop {
            self.skip_space();
            if let [b']', rest @ ..] = self.rest {
                self.rest = rest;
                return Ok(Operand::Array(items));
            }
            items.push(self.operand(depth + 1)?);
        }
    }

    fn dictionary(&mut self, depth: usize) -> Parsed<Operand<'c>> {
        let mut entries = Vec::new();
        loop {
            self.skip_space();
            if let [b'>', b'>', rest @ ..] = self.rest {
                self.rest = rest;
                return Ok(Operand::Dictionary(entries));
            }
            let key = self.name()?;
            self.skip_space();
            entries.push((key, self.operand(depth + 1)?));
        }
    }

    fn name(&mut self) -> Parsed<Cow<'c, [u8]>> {
        let [b'/', rest @ ..] = self.rest else {
            return Err("it has a dictionary whose keys are no names");
        };
        self.rest = rest;
        let written = self.regular();
        if !written.contains(&b'#') {
            return Ok(Cow::Borrowed(written));
        }
        let mut name = Vec::with_capacity(written.len());
        let mut signs = written.iter().copied();
        while let Some(sign) = signs.next() {
            name.push(match sign {
                b'#' => {
                    let mut digit = || hex_digit(signs.next().unwrap_or_default());
                    digit()? << 4 | digit()?
                }
                plain => plain,
            });
        }
        Ok(Cow::Owned(name))
    }

    /// A string in parentheses, behind the first.
    fn literal(&mut self) -> Parsed<Cow<'c, [u8]>> {
        let plain = self.take(|byte| !matches!(byte, b'(' | b')' | b'\\' | b'\r'));
        if let [b')', rest @ ..] = self.rest {
            self.rest = rest;
            return Ok(Cow::Borrowed(plain));
        }
        let mut string = plain.to_vec();
        let mut open = 0usize;
        loop {
            let [first, rest @ ..] = self.rest else {
                return Err(CUT_SHORT);
            };
            self.rest = rest;
            match first {
                b')' if open == 0 => return Ok(Cow::Owned(string)),
                b')' => open -= 1,
                b'(' => open += 1,
                b'\\' => {
                    string.extend(self.escaped()?);
                    continue;
                }
                // However a line ends within a string, it reads as a line feed.
                b'\r' => {
                    self.rest = rest.strip_prefix(b"\n").unwrap_or(rest);
                    string.push(b'\n');
                    continue;
                }
                _ => {}
            }
            string.push(*first);
        }
    }

    /// What a backslash and what stands behind it mean; nothing where it only goes on with a line.
    fn escaped(&mut self) -> Parsed<Option<u8>> {
        let [first, rest @ ..] = self.rest else {
            return Err(CUT_SHORT);
        };
        self.rest = rest;
        Ok(Some(match first {
            b'n' => b'\n',
            b'r' => b'\r',
            b't' => b'\t',
            b'b' => 0x08,
            b'f' => 0x0C,
            b'\n' => return Ok(None),
            b'\r' => {
                self.rest = rest.strip_prefix(b"\n").unwrap_or(rest);
                return Ok(None);
            }
            b'0'..=b'7' => {
                let mut value = u16::from(first - b'0');
                for _ in 0..2 {
                    let [digit @ b'0'..=b'7', rest @ ..] = self.rest else {
                        break;
                    };
                    value = value << 3 | u16::from(digit - b'0');
                    self.rest = rest;
                }
                // What is more than a byte is left out.
                value as u8
            }
            other => *other,
        }))
    }

    /// A string of hexadecimal digits, behind its bracket. An odd one stands for sixteenths.
    fn hexadecimal(&mut self) -> Parsed<Operand<'c>> {
        let digits = self.take(|byte| byte != b'>');
        self.rest = self.rest.get(1..).ok_or(CUT_SHORT)?;
        let digits = digits.iter().filter(|byte| !is_space(**byte));
        let digits: Vec<u8> = digits.map(|byte| hex_digit(*byte)).collect::<Parsed<_>>()?;
        let pairs = digits.chunks(2);
        let bytes = pairs.map(|pair| pair[0] << 4 | pair.get(1).copied().unwrap_or(0));
        Ok(Operand::String(Cow::Owned(bytes.collect())))
    }
}

fn hex_digit(byte: u8) -> Parsed<u8> {
    let digit = char::from(byte).to_digit(16);
    digit
        .map(|digit| digit as u8)
        .ok_or("it has a sign that is not hexadecimal")
}

/// A number as it is written: digits with a point at most, and a sign before them.
fn number<'c>(written: &[u8]) -> Parsed<Operand<'c>> {
    let wrong = "it has a number that is none";
    let digits = match written {
        [b'+' | b'-', digits @ ..] => digits,
        digits => digits,
    };
    let points = digits.iter().filter(|byte| **byte == b'.').count();
    let others = digits
        .iter()
        .filter(|byte| !byte.is_ascii_digit() && **byte != b'.');
    if others.count() > 0 || points > 1 || digits.len() == points {
        return Err(wrong);
    }
    match points {
        0 => {
            let written = std::str::from_utf8(written).map_err(|_| wrong)?;
            written.parse().map(Operand::Integer).map_err(|_| wrong)
        }
        _ => Ok(Operand::Other),
    }
}

#[cfg(test)]
mod tests {
    use lopdf::Object;
    use lopdf::content::Content;
    use proptest::prelude::*;

    use super::*;

    type Read<'c> = Vec<(String, Vec<Operand<'c>>)>;

    fn read(content: &[u8]) -> Parsed<Read<'_>> {
        let mut operators = Operators::new(content);
        let (mut read, mut operands) = (Vec::new(), Vec::new());
        while let Some(operator) = operators.next(&mut operands)? {
            let operator = String::from_utf8_lossy(operator).into_owned();
            read.push((operator, operands.clone()));
        }
        Ok(read)
    }

    /// The same by the parser that reads files.
    fn by_the_other(content: &[u8]) -> Option<Read<'static>> {
        let read = Content::decode_strict(content).ok()?.operations;
        let operations = read.into_iter().map(|operation| {
            let operands = operation.operands.iter().map(as_operand);
            (operation.operator, operands.collect())
        });
        Some(operations.collect())
    }

    fn as_operand(object: &Object) -> Operand<'static> {
        match object {
            Object::Integer(number) => Operand::Integer(*number),
            Object::Name(name) => Operand::Name(name.clone().into()),
            Object::String(string, _) => Operand::String(string.clone().into()),
            Object::Array(items) => Operand::Array(items.iter().map(as_operand).collect()),
            Object::Dictionary(entries) => {
                let entries = entries.iter();
                let entry = |(key, value): (&Vec<u8>, &Object)| {
                    (Cow::Owned(key.clone()), as_operand(value))
                };
                Operand::Dictionary(entries.map(entry).collect())
            }
            _ => Operand::Other,
        }
    }

    const ALL_KINDS: &[u8] = b"% a page\nq 1 0 0 -1 10.5 -.25 cm BT /F#31 +9 Tf\r\n[(a\\(b\\)(c)\\051\\r) -20 <0 1fE>]TJ\n        T* (\\n\\\r\n\\7\r\n\x00\xff)' ET Q /Span<</MCID 3/ActualText<FEFF0061>/K[/A null true]>>BDC EMC f* ()Tj";

    #[test]
    fn all_kinds_of_operands_are_read() {
        let read = read(ALL_KINDS).expect("it is sound");
        assert_eq!(Some(&read), by_the_other(ALL_KINDS).as_ref());
        let names: Vec<&str> = read.iter().map(|(name, _)| name.as_str()).collect();
        let expected = [
            "q", "cm", "BT", "Tf", "TJ", "T*", "'", "ET", "Q", "BDC", "EMC", "f*", "Tj",
        ];
        assert_eq!(names, expected);
        let shown = &read[4].1[0];
        let Operand::Array(parts) = shown else {
            panic!("{shown:?}");
        };
        assert_eq!(parts[0], Operand::String(b"a(b)(c))\r"[..].into()));
        assert_eq!(parts[2], Operand::String([0x01, 0xFE][..].into()));
        assert_eq!(read[9].1[1].get(b"MCID"), Some(&Operand::Integer(3)));
    }

    #[test]
    fn what_is_no_content_is_refused() {
        for content in [
            "(open Tj",
            "<0",
            "<0g> Tj",
            "[1 2",
            "1 2",
            "1..2 w",
            "12cm",
            "- w",
            "/a#4 gs",
            "<</A 1 2>> BDC",
            "<</A 5 0 R>> BDC",
            "] TJ",
            "T_ Tj",
            "[ q ] TJ",
            "BI /W 1 ID x EI",
            "{ }",
        ] {
            assert!(read(content.as_bytes()).is_err(), "{content}");
        }
        let deep = "[".repeat(MAX_DEPTH + 2);
        assert_eq!(read(deep.as_bytes()), Err("it nests too deep"));
    }

    proptest! {
        #![proptest_config(ProptestConfig::with_cases(2000))]

        /// Content that is spoilt in places is refused, or read as the other parser reads it.
        #[test]
        fn two_parsers_agree(
            spoilt in prop::collection::vec((0..ALL_KINDS.len(), any::<u8>(), 0..3u8), 0..4),
        ) {
            let mut content = ALL_KINDS.to_vec();
            for (at, byte, how) in spoilt {
                let at = at.min(content.len() - 1);
                match how {
                    0 => content[at] = byte,
                    1 => content.insert(at, b"()<>[]/ 01.nE"[usize::from(byte) % 13]),
                    _ => drop(content.remove(at)),
                }
            }
            // The other refuses comments between operands and behind the last line, and takes `nullq` for two words.
            let comments = content.iter().filter(|byte| **byte == b'%').count();
            if let (Ok(ours), true) = (read(&content), comments == 1 && content[0] == b'%') {
                let theirs = by_the_other(&content);
                prop_assert_eq!(Some(ours), theirs, "{}", String::from_utf8_lossy(&content));
            }
        }
    }
}
