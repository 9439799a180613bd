//! Reading an author's files, or saying plainly why they cannot be read.

use std::fs::{self, File};
use std::io::{ErrorKind, Read};
use std::path::{Path, PathBuf};

use super::installed::installed;
use crate::assets::{Assets, Content, InstalledFamily, NotInstalled, Store, Unread, decoded};
use crate::names::Fault;

/// A folder with the files of a book.
struct Folder(PathBuf);

impl Store for Folder {
    fn open(&self, name: &str) -> Result<Box<dyn Content + '_>, Unread> {
        Ok(Box::new(open(&self.0.join(name))?))
    }

    fn holds(&self, name: &str) -> bool {
        self.0.join(name).symlink_metadata().is_ok()
    }

    fn names(&self) -> Vec<String> {
        let entries = fs::read_dir(&self.0).into_iter().flatten().flatten();
        let files = entries.filter(|entry| entry.path().is_file());
        files
            .filter_map(|entry| entry.file_name().into_string().ok())
            .collect()
    }

    fn installed(&self, family: &str) -> Result<InstalledFamily, NotInstalled> {
        installed(family)
    }
}

impl Assets {
    /// The files of a folder. It is looked at when something is asked for.
    pub fn folder(folder: impl Into<PathBuf>) -> Assets {
        Assets::new(Folder(folder.into()))
    }
}

/// Reads a text file in UTF-8, byte for byte. `name` is what the author knows the file by.
///
/// # Errors
/// A [`Fault`] of the word `missing`, `is-folder`, `not-a-file`, `no-permission`, `cannot-read` or
/// `not-utf-8`; the last tells the offset of the first byte that does not fit, counted from nought,
/// and what the file probably is.
pub fn read_text(path: &Path, name: &str) -> Result<String, Fault> {
    let bytes = open(path).and_then(|mut file| {
        let mut bytes = Vec::new();
        file.read_to_end(&mut bytes).map_err(Unread::Failed)?;
        Ok(bytes)
    });
    decoded(
        bytes.map_err(|unread| unread.fault(name, "a text file"))?,
        name,
    )
}

/// Opens an ordinary file: a pipe or a device may never end.
fn open(path: &Path) -> Result<File, Unread> {
    let unread = |error| unread(path, error);
    let metadata = fs::metadata(path).map_err(unread)?;
    if metadata.is_dir() {
        return Err(Unread::IsFolder);
    }
    if !metadata.is_file() {
        return Err(Unread::NotAFile);
    }
    File::open(path).map_err(unread)
}

fn unread(path: &Path, error: std::io::Error) -> Unread {
    match error.kind() {
        ErrorKind::NotFound | ErrorKind::NotADirectory => {
            let place = std::path::absolute(path).unwrap_or_else(|_| path.to_path_buf());
            Unread::Missing(Some(place.display().to_string()))
        }
        ErrorKind::PermissionDenied => Unread::NoPermission,
        _ => Unread::Failed(error),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

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
