//! A disk for tests that fails when it is told to.

use std::cell::Cell;
use std::fs;
use std::io::{self, ErrorKind};
use std::path::{Path, PathBuf};

use super::disk::{Disk, RealDisk};

/// How a disk fails.
#[derive(Clone, Copy, Debug)]
pub(super) enum Failure {
    /// One change fails, whatever it is.
    Once,
    /// From then on there is no room for anything new.
    Full,
    /// From then on nothing happens any more, as when the run is killed.
    Killed,
}

/// A disk that fails at some change.
pub(super) struct BadDisk {
    left: Cell<usize>,
    failure: Failure,
}

impl BadDisk {
    /// A disk that fails at its `at`th change, counted from one.
    pub(super) fn new(failure: Failure, at: usize) -> BadDisk {
        BadDisk {
            left: Cell::new(at),
            failure,
        }
    }

    fn change(&self, needs_room: bool, change: impl FnOnce() -> io::Result<()>) -> io::Result<()> {
        let left = self.left.get();
        let fails = match self.failure {
            Failure::Once => left == 1,
            Failure::Full => left <= 1 && needs_room,
            Failure::Killed => left <= 1,
        };
        if fails && matches!(self.failure, Failure::Once) {
            self.left.set(usize::MAX);
        } else if left > 1 {
            self.left.set(left - 1);
        }
        if fails {
            Err(ErrorKind::StorageFull.into())
        } else {
            change()
        }
    }
}

impl Disk for BadDisk {
    fn write(&self, path: &Path, bytes: &[u8]) -> io::Result<()> {
        let half = bytes.get(..bytes.len() / 2).unwrap_or_default();
        self.change(true, || RealDisk.write(path, bytes))
            .inspect_err(|_| drop(fs::write(path, half)))
    }
    fn write_all(&self, _: &Path, files: &[(PathBuf, &[u8])]) -> Result<(), (usize, io::Error)> {
        for (at, (path, bytes)) in files.iter().enumerate() {
            self.write(path, bytes).map_err(|error| (at, error))?;
        }
        // They may be written and yet not all come to the disk.
        let last = files.len().saturating_sub(1);
        self.change(true, || Ok(())).map_err(|error| (last, error))
    }
    fn create_dir(&self, path: &Path) -> io::Result<()> {
        self.change(true, || RealDisk.create_dir(path))
    }
    fn rename(&self, from: &Path, to: &Path) -> io::Result<()> {
        self.change(false, || RealDisk.rename(from, to))
    }
    fn keep(&self, from: &Path, to: &Path) -> io::Result<()> {
        self.change(true, || RealDisk.keep(from, to))
    }
    fn place_new(&self, from: &Path, to: &Path) -> io::Result<()> {
        self.change(true, || RealDisk.place_new(from, to))
    }
    fn remove_file(&self, path: &Path) -> io::Result<()> {
        self.change(false, || RealDisk.remove_file(path))
    }
    fn remove_dir(&self, path: &Path) -> io::Result<()> {
        self.change(false, || RealDisk.remove_dir(path))
    }
    fn remove_dir_all(&self, path: &Path) -> io::Result<()> {
        self.change(false, || RealDisk.remove_dir_all(path))
    }
}
