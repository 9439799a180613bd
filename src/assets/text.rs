//! Bytes as text, or plainly why they are none.

use super::encoding::{self, Likely};
use crate::names::Fault;

/// What a text must be.
pub(super) const NEEDED: &str = "a text file";

/// A text in UTF-8, byte for byte. `name` is what the author knows the file by.
///
/// # Errors
/// A [`Fault`] of the word `not-utf-8`, which tells the offset of the first byte that does not fit, counted from
/// nought, and what the file probably is.
pub(crate) fn decoded(bytes: Vec<u8>, name: &str) -> Result<String, Fault> {
    if let Some(kind) = encoding::utf16(&bytes) {
        let offset = match std::str::from_utf8(&bytes) {
            Ok(_) => bytes.iter().position(|&byte| byte == 0).unwrap_or(0),
            Err(error) => error.valid_up_to(),
        };
        let likely = Likely {
            name: kind.to_string(),
            words: None,
        };
        return Err(not_utf8(name, &bytes, offset, likely));
    }
    String::from_utf8(bytes).map_err(|error| {
        let offset = error.utf8_error().valid_up_to();
        let bytes = error.as_bytes();
        not_utf8(name, bytes, offset, encoding::likely(bytes, offset))
    })
}

fn not_utf8(name: &str, bytes: &[u8], offset: usize, likely: Likely) -> Fault {
    let before = bytes.get(..offset).unwrap_or(bytes);
    let line = 1 + before.iter().filter(|&&byte| byte == b'\n').count();
    let what = format!(
        "`{name}` is not UTF-8 text from byte offset {offset} on, on line {line}; it is likely {}",
        likely.name
    );
    let mut fault = Fault::new("not-utf-8", what)
        .allowed("UTF-8")
        .help("open it in the program it was written with, and save it as UTF-8 plain text");
    fault.read = likely.words;
    fault
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn text_that_is_not_utf8_is_told_with_its_likely_encoding() {
        let (japanese, ..) =
            encoding_rs::SHIFT_JIS.encode("冬のバスは峠を越えて、雪の村へ手紙を運んだ。");
        let latin = b"The Winter Bus\nShe drank a caf\xe9 cr\xe8me at the pass, na\xefve still.";
        let windows = b"She said \x93the pass is shut\x94 \x97 and drove on.";
        let mac = b"She said \xd2the pass isn\xd5t shut\xd3 in the caf\x8e, fr\x9fher.";
        let little: Vec<u8> = "The Winter Bus"
            .encode_utf16()
            .flat_map(u16::to_le_bytes)
            .collect();
        for (bytes, likely) in [
            (&latin[..], "Windows-1252 or ISO 8859-1"),
            (windows, "Windows-1252"),
            (mac, "Mac Roman"),
            (&japanese, "Shift_JIS"),
            (&little, "UTF-16LE"),
            (b"\xff\xfeT\0h\0", "UTF-16LE"),
            (b"\xfe\xff\0T\0h", "UTF-16BE"),
        ] {
            let fault = decoded(bytes.to_vec(), "poem.txt").unwrap_err();
            assert_eq!(fault.word, "not-utf-8");
            assert!(fault.what.contains(likely), "{}", fault.what);
            assert!(fault.help.unwrap().contains("save it as UTF-8"));
        }
        let fault = decoded(latin.to_vec(), "poem.txt").unwrap_err();
        assert!(
            fault.what.contains("byte offset 30 on, on line 2"),
            "{}",
            fault.what
        );
        assert!(fault.read.unwrap().contains("drank a café crème"));
    }
}
