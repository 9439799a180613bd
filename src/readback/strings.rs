//! PDF text strings: UTF-16BE, UTF-8 or PDFDocEncoding (ISO 32000-2, 7.9.2.2).

/// PDFDocEncoding from 0x18 to 0x1F (ISO 32000-2, annex D.3).
const ACCENTS: [char; 8] = ['˘', 'ˇ', 'ˆ', '˙', '˝', '˛', '˚', '˜'];

/// PDFDocEncoding from 0x80 to 0xA0; 0x9F is undefined.
const SIGNS: &str = "•†‡…—–ƒ⁄‹›−‰„“”‘’‚™ﬁﬂŁŒŠŸŽıłœšž\u{fffd}€";

/// The text of a PDF text string, language escapes left out; nothing when it is malformed.
pub(super) fn text(bytes: &[u8]) -> Option<String> {
    if let Some(rest) = bytes.strip_prefix(&[0xFE, 0xFF]) {
        return utf16(rest).map(without_escapes);
    }
    if let Some(rest) = bytes.strip_prefix(&[0xEF, 0xBB, 0xBF]) {
        return String::from_utf8(rest.to_vec()).ok().map(without_escapes);
    }
    bytes.iter().map(|&byte| pdf_doc(byte)).collect()
}

/// UTF-16BE without a byte-order mark; nothing when a surrogate stands alone.
pub(super) fn utf16(bytes: &[u8]) -> Option<String> {
    let (pairs, []) = bytes.as_chunks::<2>() else {
        return None;
    };
    char::decode_utf16(pairs.iter().map(|&pair| u16::from_be_bytes(pair)))
        .collect::<Result<_, _>>()
        .ok()
}

fn pdf_doc(byte: u8) -> Option<char> {
    match byte {
        b'\t' | b'\n' | b'\r' | 0x20..=0x7E => Some(char::from(byte)),
        0x18..=0x1F => ACCENTS.get(usize::from(byte - 0x18)).copied(),
        0x80..=0xA0 => SIGNS
            .chars()
            .nth(usize::from(byte - 0x80))
            .filter(|&sign| sign != '\u{fffd}'),
        0xA1..=0xAC | 0xAE..=0xFF => Some(char::from(byte)),
        _ => None,
    }
}

/// Drops `ESC language ESC` (ISO 32000-2, 7.9.2.2.3), which says how to speak, not what.
fn without_escapes(text: String) -> String {
    if text.contains('\u{1b}') {
        text.split('\u{1b}').step_by(2).collect()
    } else {
        text
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_three_encodings_are_read() {
        assert_eq!(text(b"The Winter Bus").as_deref(), Some("The Winter Bus"));
        assert_eq!(text(b"\x84 caf\xe9 \xa0").as_deref(), Some("— café €"));
        assert_eq!(
            text(b"\xfe\xff\x00t\xd8\x3d\xde\x8c").as_deref(),
            Some("t🚌")
        );
        assert_eq!(text("\u{feff}höher".as_bytes()).as_deref(), Some("höher"));
        assert_eq!(
            text(b"\xfe\xff\0\x1b\0d\0e\0\x1b\0P\0a\0\xdf").as_deref(),
            Some("Paß")
        );
    }

    #[test]
    fn malformed_strings_are_no_text() {
        assert_eq!(text(b"\xfe\xff\x00"), None);
        assert_eq!(text(b"\xfe\xff\xd8\x3d"), None);
        assert_eq!(text(b"\xef\xbb\xbf\xff"), None);
        assert_eq!(text(b"\x9f"), None);
    }
}
