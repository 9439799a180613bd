//! The author's own files, replaced one at a time: the manuscript, and what she chose about her book.

use std::fs::{self, File, OpenOptions, TryLockError};
use std::io::{Error, ErrorKind};
use std::path::{Path, PathBuf};

use super::disk::{Disk, RealDisk, sync_folder};
use super::guard;
use super::reason::cannot_write;
use crate::names::Fault;

/// A book's folder, held for one run: no other run writes the author's own files meanwhile. Let go when dropped.
#[derive(Debug)]
pub struct Held {
    folder: PathBuf,
    _lock: File,
}

/// Holds a book's folder. Hold it before reading what shall be replaced, so that nothing comes between.
///
/// Where the system can lock a folder nothing is left in it; elsewhere an empty file `.lock` is.
///
/// # Errors
/// A [`Fault`] of the word `busy` (another run holds it) or `cannot-write` (with the operating system's reason).
pub fn hold(folder: &Path) -> Result<Held, Fault> {
    let held = |lock| Held {
        folder: folder.to_path_buf(),
        _lock: lock,
    };
    let busy = || {
        let what = format!(
            "another run is changing the book in `{}` just now",
            folder.display()
        );
        Fault::new("busy", what).help("wait until it has ended, and try again")
    };
    if let Ok(itself) = File::open(folder) {
        match itself.try_lock() {
            Ok(()) => return Ok(held(itself)),
            Err(TryLockError::WouldBlock) => return Err(busy()),
            // Some network disks lock only files that are open for writing.
            Err(TryLockError::Error(_)) => {}
        }
    }
    let path = folder.join(".lock");
    let mut options = OpenOptions::new();
    options.read(true).write(true).create(true).truncate(false);
    let failed = |error: Error| cannot_write(&path, &error);
    let file = options.open(&path).map_err(failed)?;
    match file.try_lock() {
        Ok(()) => Ok(held(file)),
        Err(TryLockError::WouldBlock) => Err(busy()),
        // Some know no locks at all; one run at a time still works there.
        Err(TryLockError::Error(error)) if error.kind() == ErrorKind::Unsupported => Ok(held(file)),
        Err(TryLockError::Error(error)) => Err(failed(error)),
    }
}

impl Held {
    /// Replaces the file `name` below the folder by one with these bytes, or makes it. At every instant there is a
    /// whole file of that name, the old one or the new.
    ///
    /// `read` is what was read there (nothing for a file that is not there yet): what somebody has changed since is
    /// not replaced. With `keep_old` a copy of the old file is made first, beside it under the first free number
    /// (`poem.txt`: `poem.1.txt`), and its name below the folder is given.
    ///
    /// # Errors
    /// A [`Fault`] of the word `leads-out` (a link leads out of the folder), `changed` (what is there is not what was
    /// read), `write-protected`, or `cannot-write` (with the operating system's reason). All is then as it was.
    pub fn replace(
        &self,
        name: &str,
        read: Option<&[u8]>,
        bytes: &[u8],
        keep_old: bool,
    ) -> Result<Option<String>, Fault> {
        replace(&RealDisk, &self.folder, name, read, bytes, keep_old)
    }
}

/// See [`Held::replace`].
pub(super) fn replace(
    disk: &dyn Disk,
    folder: &Path,
    name: &str,
    read: Option<&[u8]>,
    bytes: &[u8],
    keep_old: bool,
) -> Result<Option<String>, Fault> {
    guard::inside(folder, [name])?;
    // Behind a link it is the file itself that is replaced.
    let named = folder.join(name);
    let path = fs::canonicalize(&named).unwrap_or_else(|_| named.clone());
    as_it_was_read(&named, &path, read)?;
    let name_of = path.file_name().unwrap_or_default().to_string_lossy();
    let temp = path.with_file_name(format!(".{name_of}.versefold-writing"));
    let old = read.filter(|_| keep_old);
    let kept = old
        .map(|old| keep(disk, &named, &path, &temp, old))
        .transpose()?;
    if let Err(error) = put(disk, &temp, &path, read.is_some(), bytes) {
        if let Some((kept, true)) = &kept {
            let _ = disk.remove_file(kept);
        }
        return Err(cannot_write(&named, &error));
    }
    Ok(kept.map(
        |(kept, _)| match (kept.file_name(), Path::new(name).parent()) {
            (Some(file), Some(parent)) => parent.join(file).display().to_string(),
            _ => kept.display().to_string(),
        },
    ))
}

/// Refuses a file that is not as it was when it was read.
fn as_it_was_read(named: &Path, path: &Path, read: Option<&[u8]>) -> Result<(), Fault> {
    let there = match fs::read(path) {
        Ok(there) => Some(there),
        Err(error) if error.kind() == ErrorKind::NotFound => None,
        Err(error) => return Err(cannot_write(named, &error)),
    };
    let shown = named.display();
    if there.as_deref() != read {
        let what = format!("`{shown}` was changed by somebody while this run was at work");
        return Err(Fault::new("changed", what).help("nothing was written; try again"));
    }
    let protected = |metadata: fs::Metadata| metadata.permissions().readonly();
    if fs::metadata(path).is_ok_and(protected) {
        let what = format!("`{shown}` is protected against writing");
        return Err(Fault::new("write-protected", what)
            .help("if it may be replaced, take the protection off and try again"));
    }
    Ok(())
}

/// A copy of the old file under the first free number, and whether it was made now: a run that was cut short may
/// have made it already.
fn keep(
    disk: &dyn Disk,
    named: &Path,
    path: &Path,
    temp: &Path,
    old: &[u8],
) -> Result<(PathBuf, bool), Fault> {
    let mut number = 1;
    let mut last = None;
    let kept = loop {
        let kept = numbered(path, number);
        if kept.symlink_metadata().is_err() {
            break kept;
        }
        last = Some(kept);
        number += 1;
    };
    if let Some(last) = last
        && fs::read(&last).is_ok_and(|bytes| bytes == old)
    {
        return Ok((last, false));
    }
    match put(disk, temp, &kept, false, old) {
        Ok(()) => Ok((kept, true)),
        Err(error) => {
            let what = format!("cannot keep a copy of `{}`", named.display());
            let fault = cannot_write(&kept, &error);
            Err(Fault::new(
                "cannot-write",
                format!("{what}: {}", fault.what),
            ))
        }
    }
}

/// `poem.txt` with a number: `poem.1.txt`.
fn numbered(path: &Path, number: usize) -> PathBuf {
    let part = |part: Option<&std::ffi::OsStr>| {
        part.map_or(String::new(), |part| part.to_string_lossy().into_owned())
    };
    let (stem, extension) = (part(path.file_stem()), part(path.extension()));
    let dot = if extension.is_empty() { "" } else { "." };
    path.with_file_name(format!("{stem}.{number}{dot}{extension}"))
}

/// Writes a file beside its place as `temp`, down to the disk, and then gives it its name. Only with `replacing` may the name
/// be taken.
fn put(
    disk: &dyn Disk,
    temp: &Path,
    path: &Path,
    replacing: bool,
    bytes: &[u8],
) -> Result<(), Error> {
    if temp.symlink_metadata().is_ok() {
        // This is left of a run that was cut short; the folder is held, so nobody writes there now.
        disk.remove_file(temp)?;
    }
    let placed = disk.write(temp, bytes).and_then(|()| {
        if replacing {
            if let Ok(metadata) = fs::metadata(path) {
                // Who may read it stays as it was, where the system lets us.
                let _ = fs::set_permissions(temp, metadata.permissions());
            }
            disk.rename(temp, path)
        } else {
            disk.place_new(temp, path)
        }
    });
    if temp.symlink_metadata().is_ok() {
        let _ = disk.remove_file(temp);
    }
    placed?;
    sync_folder(path.parent().unwrap_or(path));
    Ok(())
}
