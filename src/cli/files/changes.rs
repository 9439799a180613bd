//! Changes to a folder that can all be taken back until they are final.

use std::path::{Path, PathBuf};

use super::disk::Disk;
use super::reason::cannot_write;
use crate::names::Fault;

/// How one change is taken back.
enum Undo {
    Move { from: PathBuf, to: PathBuf },
    RemoveFile(PathBuf),
    RemoveFolder(PathBuf),
}

/// The changes made so far.
pub(super) struct FileChanges<'a> {
    disk: &'a dyn Disk,
    /// A folder on the same disk where replaced files wait.
    temp: &'a Path,
    undo: Vec<Undo>,
}

impl<'a> FileChanges<'a> {
    pub(super) fn new(disk: &'a dyn Disk, temp: &'a Path) -> FileChanges<'a> {
        FileChanges {
            disk,
            temp,
            undo: Vec::new(),
        }
    }

    /// A free name for a file that is replaced.
    fn waiting(&self) -> PathBuf {
        self.temp.join(format!("old-{}", self.undo.len()))
    }

    /// Makes the folders that are missing above `target`.
    pub(super) fn make_folders(&mut self, target: &Path) -> Result<(), Fault> {
        let missing: Vec<&Path> = target
            .ancestors()
            .skip(1)
            .take_while(|folder| !folder.exists())
            .collect();
        for folder in missing.into_iter().rev() {
            self.disk
                .create_dir(folder)
                .map_err(|error| cannot_write(folder, &error))?;
            self.undo.push(Undo::RemoveFolder(folder.to_path_buf()));
        }
        Ok(())
    }

    /// Moves a finished file into place. A file that is there stays there until the very moment.
    pub(super) fn place(&mut self, finished: &Path, target: &Path) -> Result<(), Fault> {
        let failed = |error| cannot_write(target, &error);
        let undo = if target.symlink_metadata().is_ok() {
            let from = self.waiting();
            self.disk.keep(target, &from).map_err(failed)?;
            let to = target.to_path_buf();
            Undo::Move { from, to }
        } else {
            Undo::RemoveFile(target.to_path_buf())
        };
        self.disk.rename(finished, target).map_err(failed)?;
        self.undo.push(undo);
        Ok(())
    }

    /// Gives a file or folder another name.
    pub(super) fn rename(&mut self, from: &Path, to: &Path) -> Result<(), Fault> {
        self.disk
            .rename(from, to)
            .map_err(|error| cannot_write(to, &error))?;
        self.undo.push(Undo::Move {
            from: to.to_path_buf(),
            to: from.to_path_buf(),
        });
        Ok(())
    }

    /// Takes a file away.
    pub(super) fn take_away(&mut self, target: &Path) -> Result<(), Fault> {
        let waiting = self.waiting();
        self.disk
            .rename(target, &waiting)
            .map_err(|error| cannot_write(target, &error))?;
        self.undo.push(Undo::Move {
            from: waiting,
            to: target.to_path_buf(),
        });
        Ok(())
    }

    /// Takes every change back, last to first. What cannot be moved back is left, and where it is
    /// is given; the first change, the journal, then stays so that the next run knows what is what.
    pub(super) fn take_back(self) -> Vec<PathBuf> {
        let mut left = Vec::new();
        let mut failed = false;
        for (number, undo) in self.undo.into_iter().enumerate().rev() {
            if number == 0 && failed {
                break;
            }
            let result = match undo {
                Undo::Move { from, to } => self.disk.rename(&from, &to).inspect_err(|_| {
                    left.push(from.clone());
                }),
                Undo::RemoveFile(path) => self.disk.remove_file(&path),
                Undo::RemoveFolder(path) => self.disk.remove_dir(&path),
            };
            failed |= result.is_err();
        }
        left
    }
}
