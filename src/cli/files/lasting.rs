//! Writing many new files so that they last: when this is done, all of them are on the disk and not only in the system's
//! memory.
//!
//! Each file can be asked for by itself (`fsync`): each then costs a turn of the disk, and its book-keeping written once
//! more. Linux can be asked for all that waits for one file system (`syncfs`), which costs about one turn however many
//! files there are. That is done where it is known to keep the same promise: where the kernel tells of what could not be
//! written (from 5.8 on), and on file systems that write to a disk of this machine. On all others, and for a few files, for
//! which it would be a waste to wait for what other programs have written meanwhile, each file is asked for.

use std::fs::OpenOptions;
use std::io::{Error, Write};
use std::path::{Path, PathBuf};

use rayon::prelude::*;

/// From how many files on the file system is asked for all of them.
const MANY: usize = 16;

/// Writes files that must not be there yet into a folder, whole and down to the disk.
///
/// # Errors
/// Which of the files it was, counted from nought, and the operating system's reason; where that is not known, the last.
pub(super) fn write_all(folder: &Path, files: &[(PathBuf, &[u8])]) -> Result<(), (usize, Error)> {
    // It tells of what failed since it was opened, so that comes first.
    if files.len() >= MANY
        && let Some(file_system) = whole::FileSystem::of(folder)
    {
        for (at, (path, bytes)) in files.iter().enumerate() {
            write(path, bytes, false).map_err(|error| (at, error))?;
        }
        return file_system.sync().map_err(|error| (files.len() - 1, error));
    }
    let each = |(at, (path, bytes)): (usize, &(PathBuf, &[u8]))| {
        write(path, bytes, true).map_err(|error| (at, error))
    };
    // Disks take several at once.
    files.par_iter().enumerate().try_for_each(each)
}

/// Writes a file that must not be there yet, down to the disk if it shall last by itself.
pub(super) fn write(path: &Path, bytes: &[u8], down: bool) -> Result<(), Error> {
    let mut file = OpenOptions::new().write(true).create_new(true).open(path)?;
    file.write_all(bytes)?;
    if down { file.sync_all() } else { Ok(()) }
}

#[cfg(target_os = "linux")]
mod whole {
    use std::fs::File;
    use std::io::Error;
    use std::path::Path;

    use rustix::fs::{fstatfs, syncfs};
    use rustix::system::uname;

    /// Numbers of file systems that write to disks of this machine, by Linux's `magic.h`: ext2 to ext4, XFS, Btrfs, F2FS.
    const ON_DISK: [u64; 4] = [0xEF53, 0x5846_5342, 0x9123_683E, 0xF2F5_2010];

    /// The first kernel whose `syncfs` tells of what could not be written (syncfs(2)).
    const TELLS: (u32, u32) = (5, 8);

    /// A file system that can be asked for all its files.
    pub struct FileSystem(File);

    impl FileSystem {
        /// The file system of a folder, if it can be.
        pub fn of(folder: &Path) -> Option<FileSystem> {
            let folder = File::open(folder).ok()?;
            let kind = fstatfs(&folder).ok()?.f_type as u64;
            let name = uname();
            let mut numbers = name.release().to_str().ok()?.split(['.', '-']);
            let mut number = || numbers.next()?.parse::<u32>().ok();
            let version = (number()?, number()?);
            (version >= TELLS && ON_DISK.contains(&kind)).then_some(FileSystem(folder))
        }

        /// Waits until everything that was written to it is on the disk.
        pub fn sync(&self) -> Result<(), Error> {
            syncfs(&self.0).map_err(Error::from)
        }
    }
}

#[cfg(not(target_os = "linux"))]
mod whole {
    use std::io::Error;
    use std::path::Path;

    /// No other system is known to be asked for a whole file system.
    pub struct FileSystem;

    impl FileSystem {
        pub fn of(_: &Path) -> Option<FileSystem> {
            None
        }

        pub fn sync(&self) -> Result<(), Error> {
            Ok(())
        }
    }
}
