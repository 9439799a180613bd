//! ToUnicode maps: what each two-byte code of a font stands for (ISO 32000-2, 9.10.3).

use std::ops::RangeInclusive;

use rustc_hash::FxHashMap;

use super::strings;

/// The most entries one map may write, ranges counted out; there are only 65,536 codes.
const MAX_ENTRIES: usize = 1 << 18;

/// The longest text of one code in bytes of UTF-16 (ISO 32000-2, 9.10.3).
const MAX_TEXT: usize = 512;

/// The Unicode texts of a font's codes.
#[derive(Debug, Default)]
pub(super) struct ToUnicode {
    codespace: Vec<RangeInclusive<u16>>,
    texts: FxHashMap<u16, Box<str>>,
}

impl ToUnicode {
    /// Reads a ToUnicode stream; an error says what is wrong with it, to follow "a Unicode map".
    pub(super) fn parse(bytes: &[u8]) -> Result<ToUnicode, String> {
        let mut map = ToUnicode::default();
        let mut left = MAX_ENTRIES;
        let mut operands = Vec::new();
        for token in Tokens(bytes) {
            match token? {
                Token::Word(b"endcodespacerange") => map.codespace(&operands)?,
                Token::Word(b"endbfchar") => map.characters(&operands, &mut left)?,
                Token::Word(b"endbfrange") => map.ranges(&operands, &mut left)?,
                Token::Word(b"usecmap") => return Err("that leans on another map".into()),
                Token::Word(_) => {}
                operand => {
                    operands.push(operand);
                    continue;
                }
            }
            operands.clear();
        }
        Ok(map)
    }

    /// The text of a code; nothing when the map has none for it.
    pub(super) fn text(&self, code: u16) -> Option<&str> {
        let inside = self.codespace.iter().any(|range| range.contains(&code));
        self.texts.get(&code).filter(|_| inside).map(|text| &**text)
    }

    fn codespace(&mut self, operands: &[Token]) -> Result<(), String> {
        let (pairs, []) = operands.as_chunks::<2>() else {
            return Err("with half a codespace range".into());
        };
        for [first, last] in pairs {
            self.codespace.push(first.code()?..=last.code()?);
        }
        Ok(())
    }

    fn characters(&mut self, operands: &[Token], left: &mut usize) -> Result<(), String> {
        let (pairs, []) = operands.as_chunks::<2>() else {
            return Err("with half a character entry".into());
        };
        for [code, text] in pairs {
            self.put(code.code()?, text.hex()?, left)?;
        }
        Ok(())
    }

    fn ranges(&mut self, operands: &[Token], left: &mut usize) -> Result<(), String> {
        let mut rest = operands;
        while let [first, last, target, tail @ ..] = rest {
            let codes = first.code()?..=last.code()?;
            rest = tail;
            match target {
                Token::Open => {
                    let end = tail
                        .iter()
                        .position(|token| matches!(token, Token::Close))
                        .ok_or("with an unclosed array")?;
                    if end != codes.len() {
                        return Err("with an array that does not fit its range".into());
                    }
                    for (code, text) in codes.zip(tail) {
                        self.put(code, text.hex()?, left)?;
                    }
                    rest = tail.get(end + 1..).unwrap_or_default();
                }
                _ => self.run(codes, target.hex()?, left)?,
            }
        }
        if rest.is_empty() {
            Ok(())
        } else {
            Err("with half a range".into())
        }
    }

    /// Enters consecutive codes whose texts differ in their last byte only, counting up.
    fn run(
        &mut self,
        codes: RangeInclusive<u16>,
        first: &[u8],
        left: &mut usize,
    ) -> Result<(), String> {
        let mut text = first.to_vec();
        for (step, code) in codes.enumerate() {
            if step > 0 {
                // Readers disagree on a carry, and the standard forbids it.
                let last = text.last_mut().ok_or("with an empty range")?;
                *last = last.checked_add(1).ok_or("with a range that overflows")?;
            }
            self.put(code, &text, left)?;
        }
        Ok(())
    }

    fn put(&mut self, code: u16, text: &[u8], left: &mut usize) -> Result<(), String> {
        *left = left.checked_sub(1).ok_or("with too many entries")?;
        if text.len() > MAX_TEXT {
            return Err(format!("with a text too long for code {code:04X}"));
        }
        let text = strings::utf16(text)
            .filter(|text| !text.contains(['\0', '\u{fffe}']))
            .ok_or_else(|| format!("with no proper Unicode text for code {code:04X}"))?;
        // An empty text is the same as none: the code would be drawn and never read.
        if !text.is_empty() {
            self.texts.insert(code, text.into());
        }
        Ok(())
    }
}

#[derive(Debug)]
enum Token<'a> {
    Hex(Vec<u8>),
    Open,
    Close,
    /// A name, a number or a string; never needed.
    Other,
    Word(&'a [u8]),
}

impl Token<'_> {
    fn hex(&self) -> Result<&[u8], String> {
        match self {
            Token::Hex(bytes) => Ok(bytes),
            _ => Err("with something other than hexadecimal codes".into()),
        }
    }

    fn code(&self) -> Result<u16, String> {
        <[u8; 2]>::try_from(self.hex()?)
            .map(u16::from_be_bytes)
            .map_err(|_| "with codes that are not two bytes long".into())
    }
}

/// The tokens of a map's PostScript, comments skipped.
struct Tokens<'a>(&'a [u8]);

impl<'a> Tokens<'a> {
    /// Takes the front up to the first byte that `stop` likes, or all.
    fn until(&mut self, stop: impl Fn(u8) -> bool) -> &'a [u8] {
        let end = self.0.iter().position(|&byte| stop(byte));
        let (front, rest) = self.0.split_at(end.unwrap_or(self.0.len()));
        self.0 = rest;
        front
    }

    fn skip(&mut self, count: usize) {
        self.0 = self.0.get(count..).unwrap_or_default();
    }

    fn hex(&mut self) -> Result<Token<'a>, String> {
        self.skip(1);
        let digits = self.until(|byte| byte == b'>');
        self.skip(1);
        let values: Vec<u8> = digits
            .iter()
            .filter(|byte| !byte.is_ascii_whitespace())
            .map(|&byte| char::from(byte).to_digit(16).map(|digit| digit as u8))
            .collect::<Option<_>>()
            .ok_or("with a code that is not hexadecimal")?;
        match values.as_chunks::<2>() {
            (pairs, []) => Ok(Token::Hex(pairs.iter().map(|[a, b]| a << 4 | b).collect())),
            _ => Err("with half a byte".into()),
        }
    }

    /// Skips a string in parentheses, which may nest.
    fn string(&mut self) {
        let mut depth = 0usize;
        while let [byte, rest @ ..] = self.0 {
            self.0 = rest;
            match byte {
                b'\\' => self.skip(1),
                b'(' => depth += 1,
                b')' if depth <= 1 => return,
                b')' => depth -= 1,
                _ => {}
            }
        }
    }
}

impl<'a> Iterator for Tokens<'a> {
    type Item = Result<Token<'a>, String>;

    fn next(&mut self) -> Option<Self::Item> {
        let delimiter = |byte: u8| byte.is_ascii_whitespace() || b"[]<>(){}/%\0".contains(&byte);
        loop {
            match self.0 {
                [] => return None,
                [b'%', ..] => {
                    self.until(|byte| byte == b'\n' || byte == b'\r');
                }
                [b'<', b'<', ..] | [b'>', b'>', ..] => self.skip(2),
                [b'<', ..] => return Some(self.hex()),
                [b'[', ..] => {
                    self.skip(1);
                    return Some(Ok(Token::Open));
                }
                [b']', ..] => {
                    self.skip(1);
                    return Some(Ok(Token::Close));
                }
                [b'(', ..] => {
                    self.string();
                    return Some(Ok(Token::Other));
                }
                [b'/', ..] => {
                    self.skip(1);
                    self.until(delimiter);
                    return Some(Ok(Token::Other));
                }
                [byte, ..] if delimiter(*byte) => self.skip(1),
                [byte, ..] => {
                    let number = byte.is_ascii_digit() || b"+-.".contains(byte);
                    let word = self.until(delimiter);
                    return Some(Ok(if number {
                        Token::Other
                    } else {
                        Token::Word(word)
                    }));
                }
            }
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    const SPACE: &str = "1 begincodespacerange <0000> <FFFF> endcodespacerange\n";

    fn parse(body: &str) -> Result<ToUnicode, String> {
        ToUnicode::parse(format!("/CIDInit /ProcSet findresource begin\n{SPACE}{body}").as_bytes())
    }

    #[test]
    fn characters_ranges_and_arrays_are_read() {
        let map = parse(
            "2 beginbfchar <0003> <0020> % a space\n<0004> <00660069> endbfchar\n\
             2 beginbfrange <0010><0012><0061> <0020> <0021> [<D83DDE8C> < 00 62 >] endbfrange",
        )
        .unwrap();
        let text = |code| map.text(code);
        assert_eq!((text(3), text(4)), (Some(" "), Some("fi")));
        assert_eq!(
            (text(0x10), text(0x12), text(0x13)),
            (Some("a"), Some("c"), None)
        );
        assert_eq!((text(0x20), text(0x21)), (Some("🚌"), Some("b")));
    }

    #[test]
    fn codes_outside_the_codespace_have_no_text() {
        let map = ToUnicode::parse(
            b"1 begincodespacerange <0000> <000F> endcodespacerange \
              2 beginbfchar <0001> <0061> <0010> <0062> endbfchar",
        )
        .unwrap();
        assert_eq!((map.text(1), map.text(0x10)), (Some("a"), None));
    }

    #[test]
    fn doubtful_maps_are_refused() {
        for body in [
            "1 beginbfchar <03> <0020> endbfchar",
            "1 beginbfchar <0003> <D83D> endbfchar",
            "1 beginbfchar <0003> <0000> endbfchar",
            "1 beginbfchar <0003> endbfchar",
            "1 beginbfrange <0000> <0002> <00FE> endbfrange",
            "1 beginbfrange <0000> <0002> [<0061>] endbfrange",
            "1 beginbfrange <0000> <0002> [<0061> endbfrange",
            "/Other usecmap",
        ] {
            assert!(parse(body).is_err(), "{body}");
        }
        let endless = "<0000> <FFFF> <> ".repeat(8);
        assert!(parse(&format!("8 beginbfrange {endless} endbfrange")).is_err());
    }
}
