//! Assets: the files that a book is made of, asked for by the names that its plan has for them.
//!
//! Fonts, art, masks, profiles and texts come from a [`Store`]: a folder ([`Assets::folder`]), memory
//! ([`Assets::memory`]), or whatever another program keeps them in. Nothing is opened before it is needed.

mod encoding;
mod installed;
mod reason;
mod text;

use std::collections::HashMap;
use std::fmt;
use std::io::{self, Cursor, Read, Seek};
use std::sync::Arc;

use crate::names::Fault;

pub use installed::{FontBytes, InstalledFamily, NotInstalled};
#[cfg(feature = "cli")]
pub(crate) use reason::plain;
pub(crate) use reason::unreadable;
pub(crate) use text::decoded;

/// Where the files of a book are. It is asked from several threads at a time.
pub trait Store: Send + Sync {
    /// Opens a file, at its beginning. A name is as the plan has it; in a folder below others it has forward slashes.
    ///
    /// # Errors
    /// Why it cannot be read.
    fn open(&self, name: &str) -> Result<Box<dyn Content + '_>, Unread>;

    /// Whether there is anything of that name, readable or not.
    fn holds(&self, name: &str) -> bool;

    /// The names of what is there, folders below left out, in any order; none where they cannot be listed.
    fn names(&self) -> Vec<String> {
        Vec::new()
    }

    /// The faces of a family that is installed on the machine, by its name in small or capital letters.
    ///
    /// # Errors
    /// Why it is not to be had. A store that knows of nothing installed need not say more.
    fn installed(&self, family: &str) -> Result<InstalledFamily, NotInstalled> {
        let _ = family;
        Err(NotInstalled::Nothing)
    }
}

/// What is read of a file: its bytes, from wherever they are wanted.
pub trait Content: Read + Seek {}

impl<T: Read + Seek> Content for T {}

/// Why a file cannot be read.
#[derive(Debug)]
#[non_exhaustive]
pub enum Unread {
    /// There is none; where it was looked for, if people can look there too.
    Missing(Option<String>),
    /// It is a folder.
    IsFolder,
    /// It is no ordinary file, and may never end.
    NotAFile,
    /// It may not be read.
    NoPermission,
    /// Something else, as the operating system says it.
    Failed(io::Error),
}

impl Unread {
    /// The fault of a file that cannot be read, which its author knows as `name`; `needed` says what it must be, as
    /// `a PNG picture`.
    pub fn fault(&self, name: &str, needed: &str) -> Fault {
        let (word, what) = match self {
            Unread::Missing(None) => ("missing", format!("`{name}` is missing")),
            Unread::Missing(Some(place)) => (
                "missing",
                format!("`{name}` is missing; it was looked for at `{place}`"),
            ),
            Unread::IsFolder => (
                "is-folder",
                format!("`{name}` is a folder, where {needed} is needed"),
            ),
            Unread::NotAFile => ("not-a-file", format!("`{name}` is not an ordinary file")),
            Unread::NoPermission => (
                "no-permission",
                format!("you do not have permission to read `{name}`"),
            ),
            Unread::Failed(error) => return unreadable(name, error),
        };
        Fault::new(word, what)
    }
}

/// The files of one book. Cheap to clone: all clones ask the same store.
#[derive(Clone)]
pub struct Assets(Arc<dyn Store>);

impl Assets {
    /// What a store has.
    pub fn new(store: impl Store + 'static) -> Assets {
        Assets(Arc::new(store))
    }

    /// Files in memory: none yet.
    pub fn memory() -> Memory {
        Memory::default()
    }

    /// Whether there is anything of that name, readable or not.
    pub fn holds(&self, name: &str) -> bool {
        self.0.holds(name)
    }

    /// The names of what is there, folders below left out, in order.
    pub fn names(&self) -> Vec<String> {
        let mut names = self.0.names();
        names.sort_unstable();
        names
    }

    /// Opens a file; `needed` says what it must be, as `a PNG picture`.
    ///
    /// # Errors
    /// A [`Fault`] of the word `missing`, `is-folder`, `not-a-file`, `no-permission` or `cannot-read`.
    pub fn open(&self, name: &str, needed: &str) -> Result<Box<dyn Content + '_>, Fault> {
        let opened = self.0.open(name);
        opened.map_err(|unread| unread.fault(name, needed))
    }

    /// The faces of a family that is installed on the machine.
    ///
    /// # Errors
    /// Why it is not to be had.
    pub fn installed(&self, family: &str) -> Result<InstalledFamily, NotInstalled> {
        self.0.installed(family)
    }

    /// The whole of a file.
    ///
    /// # Errors
    /// Why it cannot be read.
    pub fn bytes(&self, name: &str) -> Result<Vec<u8>, Unread> {
        let mut bytes = Vec::new();
        let read = self.0.open(name)?.read_to_end(&mut bytes);
        read.map_err(Unread::Failed)?;
        Ok(bytes)
    }

    /// A text file in UTF-8, byte for byte.
    ///
    /// # Errors
    /// Those of [`open`](Assets::open), and `not-utf-8`, which tells the offset of the first byte that does not fit,
    /// counted from nought, and what the file probably is.
    pub fn text(&self, name: &str) -> Result<String, Fault> {
        let bytes = self.bytes(name);
        let bytes = bytes.map_err(|unread| unread.fault(name, text::NEEDED))?;
        decoded(bytes, name)
    }
}

impl fmt::Debug for Assets {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str("Assets")
    }
}

/// Files in memory, by their names.
#[derive(Clone, Debug, Default)]
pub struct Memory {
    files: HashMap<String, Vec<u8>>,
}

impl Memory {
    /// With one more file, or with another content for one that is there.
    pub fn with(mut self, name: impl Into<String>, bytes: impl Into<Vec<u8>>) -> Memory {
        self.files.insert(name.into(), bytes.into());
        self
    }
}

impl Store for Memory {
    fn open(&self, name: &str) -> Result<Box<dyn Content + '_>, Unread> {
        match self.files.get(name) {
            Some(bytes) => Ok(Box::new(Cursor::new(bytes.as_slice()))),
            None => Err(Unread::Missing(None)),
        }
    }

    fn holds(&self, name: &str) -> bool {
        self.files.contains_key(name)
    }

    fn names(&self) -> Vec<String> {
        self.files.keys().cloned().collect()
    }
}

impl From<Memory> for Assets {
    fn from(memory: Memory) -> Assets {
        Assets::new(memory)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn files_in_memory_are_found_by_their_names_alone() {
        let assets = Assets::from(Assets::memory().with("art/a.png", [1, 2]));
        assert_eq!(assets.bytes("art/a.png").unwrap(), [1, 2]);
        assert!(assets.holds("art/a.png") && !assets.holds("a.png"));
        let fault = assets.open("a.png", "a PNG picture").err().unwrap();
        assert_eq!(
            (fault.word, &*fault.what),
            ("missing", "`a.png` is missing")
        );
    }
}
