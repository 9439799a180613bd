//! Reading an author's text file, or saying plainly why it cannot be read.

use std::fs::{self, File};
use std::io::{Error, ErrorKind};
use std::path::Path;

use super::encoding::{self, Likely};
use super::reason::plain;
use crate::names::Fault;

/// Reads a text file in UTF-8, byte for byte. `name` is what the author knows the file by.
///
/// # Errors
/// A [`Fault`] of the word `missing`, `is-folder`, `not-a-file`, `no-permission`, `cannot-read` or
/// `not-utf-8`; the last tells the offset of the first byte that does not fit, counted from nought,
/// and what the file probably is.
pub fn read_text(path: &Path, name: &str) -> Result<String, Fault> {
    ordinary(path, name, "a text file")?;
    let bytes = fs::read(path).map_err(|error| cannot_read(path, name, &error))?;
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

/// Opens an author's file that is not text; `needed` says what it must be, as `a PNG picture`.
///
/// # Errors
/// A [`Fault`] of the word `missing`, `is-folder`, `not-a-file`, `no-permission` or `cannot-read`.
pub fn open(path: &Path, name: &str, needed: &str) -> Result<File, Fault> {
    ordinary(path, name, needed)?;
    File::open(path).map_err(|error| cannot_read(path, name, &error))
}

/// The fault of a file that was opened and then cannot be read.
pub fn unreadable(name: &str, error: &Error) -> Fault {
    cannot_read(Path::new(name), name, error)
}

/// Tells what is no ordinary file.
fn ordinary(path: &Path, name: &str, needed: &str) -> Result<(), Fault> {
    let metadata = fs::metadata(path).map_err(|error| cannot_read(path, name, &error))?;
    if metadata.is_dir() {
        let what = format!("`{name}` is a folder, where {needed} is needed");
        return Err(Fault::new("is-folder", what));
    }
    if !metadata.is_file() {
        // A pipe or a device may never end.
        let what = format!("`{name}` is not an ordinary file");
        return Err(Fault::new("not-a-file", what));
    }
    Ok(())
}

fn cannot_read(path: &Path, name: &str, error: &Error) -> Fault {
    match error.kind() {
        ErrorKind::NotFound | ErrorKind::NotADirectory => {
            let place = std::path::absolute(path).unwrap_or_else(|_| path.to_path_buf());
            let place = place.display();
            let what = format!("`{name}` is missing; it was looked for at `{place}`");
            Fault::new("missing", what)
        }
        ErrorKind::PermissionDenied => {
            let what = format!("you do not have permission to read `{name}`");
            Fault::new("no-permission", what)
        }
        _ => {
            let what = format!("`{name}` cannot be read: {}", plain(error));
            Fault::new("cannot-read", what)
        }
    }
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

    fn read_fault(bytes: &[u8]) -> Fault {
        let temp = tempfile::tempdir().unwrap();
        let path = temp.path().join("poem.txt");
        fs::write(&path, bytes).unwrap();
        read_text(&path, "poem.txt").unwrap_err()
    }

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
            let fault = read_fault(bytes);
            assert_eq!(fault.word, "not-utf-8");
            assert!(fault.what.contains(likely), "{}", fault.what);
            assert!(fault.help.unwrap().contains("save it as UTF-8"));
        }
        let fault = read_fault(latin);
        assert!(
            fault.what.contains("byte offset 30 on, on line 2"),
            "{}",
            fault.what
        );
        assert!(fault.read.unwrap().contains("drank a café crème"));
    }

    #[test]
    fn text_that_cannot_be_read_is_told_plainly() {
        let temp = tempfile::tempdir().unwrap();
        let missing = read_text(&temp.path().join("poem.txt"), "poem.txt").unwrap_err();
        assert_eq!(missing.word, "missing");
        let place = temp.path().join("poem.txt").display().to_string();
        assert!(missing.what.contains(&place), "{}", missing.what);
        assert_eq!(
            read_text(temp.path(), "poem.txt").unwrap_err().word,
            "is-folder"
        );
        let path = temp.path().join("a.txt");
        fs::write(&path, "\u{feff}höher\r\n").unwrap();
        assert_eq!(read_text(&path, "a.txt").unwrap(), "\u{feff}höher\r\n");
    }
}
