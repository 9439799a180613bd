//! The few things that are ever done to a disk, so that tests can let each of them fail.

use std::fs::{self, File, OpenOptions};
use std::io::{Error, ErrorKind, Result};
use std::path::{Path, PathBuf};

use super::lasting;
use super::reason::cannot_write;
use crate::assets::plain;
use crate::names::Fault;

/// Everything that changes a disk.
pub(super) trait Disk {
    /// Writes a file that must not be there yet, down to the disk.
    fn write(&self, path: &Path, bytes: &[u8]) -> Result<()>;
    /// Writes files into a folder that must not be there yet, down to the disk. An error tells which of them it was.
    fn write_all(
        &self,
        folder: &Path,
        files: &[(PathBuf, &[u8])],
    ) -> std::result::Result<(), (usize, Error)>;
    /// Makes a folder that must not be there yet.
    fn create_dir(&self, path: &Path) -> Result<()>;
    /// Moves a file or folder; a file at `to` is replaced.
    fn rename(&self, from: &Path, to: &Path) -> Result<()>;
    /// Keeps a second name for a file, so that the first can be given to another.
    fn keep(&self, from: &Path, to: &Path) -> Result<()>;
    /// Gives a finished file a name that must be free; it may keep its first name too.
    fn place_new(&self, from: &Path, to: &Path) -> Result<()>;
    /// Removes a file.
    fn remove_file(&self, path: &Path) -> Result<()>;
    /// Removes an empty folder.
    fn remove_dir(&self, path: &Path) -> Result<()>;
    /// Removes a folder with everything in it.
    fn remove_dir_all(&self, path: &Path) -> Result<()>;
}

/// The disk of this machine.
pub(super) struct RealDisk;

impl Disk for RealDisk {
    fn write(&self, path: &Path, bytes: &[u8]) -> Result<()> {
        lasting::write(path, bytes, true)
    }

    fn write_all(
        &self,
        folder: &Path,
        files: &[(PathBuf, &[u8])],
    ) -> std::result::Result<(), (usize, Error)> {
        lasting::write_all(folder, files)
    }

    fn create_dir(&self, path: &Path) -> Result<()> {
        fs::create_dir(path)
    }

    fn rename(&self, from: &Path, to: &Path) -> Result<()> {
        fs::rename(from, to)
    }

    fn keep(&self, from: &Path, to: &Path) -> Result<()> {
        // Some disks know no second names; there a copy serves.
        fs::hard_link(from, to).or_else(|_| fs::copy(from, to).map(drop))
    }

    fn place_new(&self, from: &Path, to: &Path) -> Result<()> {
        place_new(from, to)
    }

    fn remove_file(&self, path: &Path) -> Result<()> {
        fs::remove_file(path)
    }

    fn remove_dir(&self, path: &Path) -> Result<()> {
        fs::remove_dir(path)
    }

    fn remove_dir_all(&self, path: &Path) -> Result<()> {
        fs::remove_dir_all(path)
    }
}

/// Makes the names in a folder lasting, where the system can; the files themselves already are.
pub(super) fn sync_folder(folder: &Path) {
    if let Ok(folder) = File::open(folder) {
        // Not every system lets a folder be synchronised, and nothing is lost without.
        let _ = folder.sync_all();
    }
}

/// Writes a new file whole or not at all; never overwrites. Its folder must be there.
///
/// # Errors
/// A [`Fault`] of the word `exists` (something of that name is there) or `cannot-write` (with the
/// operating system's reason; nothing is left behind).
pub fn write_new(path: &Path, bytes: &[u8]) -> std::result::Result<(), Fault> {
    let failed = |error: &Error| {
        if error.kind() == ErrorKind::AlreadyExists {
            let what = format!(
                "`{}` is there already and is not overwritten",
                path.display()
            );
            Fault::new("exists", what).help("choose another name, or move that one away")
        } else {
            cannot_write(path, error)
        }
    };
    // Looked at first only so that nothing is written in vain; the link below decides.
    if path.symlink_metadata().is_ok() {
        return Err(failed(&ErrorKind::AlreadyExists.into()));
    }
    let temp = beside(path, bytes).map_err(|error| {
        let what = format!("cannot write `{}`: {}", path.display(), plain(&error));
        Fault::new("cannot-write", what)
    })?;
    let placed = RealDisk.place_new(&temp, path);
    // After a rename it is gone already.
    let _ = fs::remove_file(&temp);
    placed.map_err(|error| failed(&error))?;
    sync_folder(path.parent().unwrap_or(path));
    Ok(())
}

/// Writes the bytes to a hidden file of a free name beside `path`.
fn beside(path: &Path, bytes: &[u8]) -> Result<PathBuf> {
    let name = path.file_name().ok_or(ErrorKind::InvalidFilename)?;
    let process = std::process::id();
    let mut number = 0;
    loop {
        let temp = path.with_file_name(format!(
            ".{}.writing-{process}-{number}",
            name.to_string_lossy()
        ));
        match RealDisk.write(&temp, bytes) {
            Ok(()) => return Ok(temp),
            Err(error) if error.kind() == ErrorKind::AlreadyExists && number < 100 => number += 1,
            Err(error) => {
                if error.kind() != ErrorKind::AlreadyExists {
                    let _ = fs::remove_file(&temp);
                }
                return Err(error);
            }
        }
    }
}

/// Gives a finished file its name, unless that is taken.
fn place_new(temp: &Path, path: &Path) -> Result<()> {
    match fs::hard_link(temp, path) {
        Err(error) if error.kind() != ErrorKind::AlreadyExists => {
            // Without second names the name is taken with an empty file first.
            OpenOptions::new().write(true).create_new(true).open(path)?;
            fs::rename(temp, path).inspect_err(|_| {
                let _ = fs::remove_file(path);
            })
        }
        linked => linked,
    }
}
