//! Writing an output folder: plan, write beside, move into place, and take back on any failure.

use std::collections::{BTreeSet, HashSet};
use std::fs::{self, File, OpenOptions, TryLockError};
use std::io::ErrorKind;
use std::path::{Path, PathBuf};

use super::changes::FileChanges;
use super::disk::{Disk, sync_folder};
use super::manifest::{Entry, JOURNAL, MANIFEST, Manifest, checksum, refuse_newer};
use super::reason::cannot_write;
use super::{Whose, Written, guard};
use crate::names::Fault;
use crate::outputs::OutputFile;

/// The file that is locked while a run writes.
const LOCK: &str = ".lock";

/// Where files are written before they are moved into place.
const TEMP: &str = ".versefold-writing";

/// What is to be done to a folder.
#[derive(Default)]
struct FolderPlan<'a> {
    write: Vec<&'a OutputFile>,
    /// Names that somebody's own work has, the manifest's included.
    aside: Vec<String>,
    remove: Vec<String>,
    unchanged: Vec<String>,
    out_of_date: Vec<String>,
    manifest: Vec<u8>,
    journal: Vec<u8>,
    manifest_is_there: bool,
}

/// See [`super::write_all`].
pub(super) fn write_all(
    disk: &dyn Disk,
    folder: &Path,
    within: Option<&Path>,
    files: &[OutputFile],
    whose: Whose<'_>,
) -> Result<Written, Fault> {
    guard::names(files)?;
    guard::folder(folder, within)?;
    make_folder(disk, folder)?;
    let own = [MANIFEST, JOURNAL, LOCK, TEMP];
    let names = files.iter().map(|file| file.name.as_str());
    guard::inside(folder, names.chain(own))?;
    guard::no_file_for_folder(folder, files)?;
    let _lock = lock(folder)?;
    refuse_newer(&folder.join(MANIFEST))?;
    refuse_newer(&folder.join(JOURNAL))?;
    let temp = folder.join(TEMP);
    // What a run that was cut short left here is of no use: the journal has what matters.
    if temp.symlink_metadata().is_ok() {
        disk.remove_dir_all(&temp)
            .map_err(|error| cannot_write(&temp, &error))?;
    }
    let plan = FolderPlan::make(folder, files, whose)?;
    let mut written = Written {
        written: plan.write.iter().map(|file| file.name.clone()).collect(),
        unchanged: plan.unchanged.clone(),
        removed: plan.remove.clone(),
        moved_aside: Vec::new(),
        out_of_date: plan.out_of_date.clone(),
    };
    if !plan.is_done() {
        written.moved_aside = carry_out(disk, folder, &temp, &plan)?;
    }
    if folder.join(JOURNAL).symlink_metadata().is_ok() {
        // A journal that stays only makes the next run know more than it needs.
        let _ = disk.remove_file(&folder.join(JOURNAL));
    }
    Ok(written)
}

fn make_folder(disk: &dyn Disk, folder: &Path) -> Result<(), Fault> {
    let missing: Vec<&Path> = folder
        .ancestors()
        .take_while(|path| !path.as_os_str().is_empty() && path.symlink_metadata().is_err())
        .collect();
    for path in missing.into_iter().rev() {
        match disk.create_dir(path) {
            Err(error) if error.kind() != ErrorKind::AlreadyExists => {
                return Err(cannot_write(path, &error));
            }
            _ => {}
        }
    }
    if folder.metadata().is_ok_and(|metadata| !metadata.is_dir()) {
        return Err(cannot_write(folder, &ErrorKind::NotADirectory.into()));
    }
    Ok(())
}

/// Takes the folder for this run; it is given back when the file is dropped.
fn lock(folder: &Path) -> Result<File, Fault> {
    let path = folder.join(LOCK);
    let file = OpenOptions::new()
        .read(true)
        .write(true)
        .create(true)
        .truncate(false)
        .open(&path)
        .map_err(|error| cannot_write(&path, &error))?;
    match file.try_lock() {
        Ok(()) => Ok(file),
        Err(TryLockError::WouldBlock) => {
            let what = format!("another run is writing to `{}` just now", folder.display());
            Err(Fault::new("busy", what).help("wait until it has ended, and try again"))
        }
        // Some network disks know no locks; one run at a time still works there.
        Err(TryLockError::Error(error)) if error.kind() == ErrorKind::Unsupported => Ok(file),
        Err(TryLockError::Error(error)) => Err(cannot_write(&path, &error)),
    }
}

impl<'a> FolderPlan<'a> {
    /// Compares what is there with what is wanted. Changes nothing.
    fn make(
        folder: &Path,
        files: &'a [OutputFile],
        whose: Whose<'_>,
    ) -> Result<FolderPlan<'a>, Fault> {
        let mut plan = FolderPlan::default();
        let old = Manifest::read(&folder.join(MANIFEST));
        let journal = Manifest::read(&folder.join(JOURNAL)).unwrap_or_default();
        let known = journal.with(&old.clone().unwrap_or_default());
        let made = Manifest::of(files, whose.made_from);
        let mut others = Manifest::default();
        for entry in known.files.iter().filter(|entry| !whose.is_mine(entry)) {
            // Where a run was cut short, a name may be there more than once.
            let listed = made.names(&entry.name) || others.names(&entry.name);
            if !listed && is_there(folder, entry) {
                others.files.push(entry.clone());
                if whose.is_out_of_date(entry) {
                    plan.out_of_date.push(entry.name.clone());
                }
            }
        }
        let wanted = made.with(&others);
        for file in files {
            match state(&folder.join(&file.name))? {
                State::Missing => plan.write.push(file),
                State::File(bytes) if bytes == file.bytes => plan.unchanged.push(file.name.clone()),
                State::File(bytes) if known.knows(&file.name, &checksum(&bytes)) => {
                    plan.write.push(file);
                }
                State::File(_) | State::Other => {
                    plan.aside.push(file.name.clone());
                    plan.write.push(file);
                }
            }
        }
        plan.find_stale(folder, &known, &wanted, whose)?;
        plan.manifest = wanted.to_json();
        plan.journal = wanted.with(&journal).to_json();
        match state(&folder.join(MANIFEST))? {
            State::Missing => {}
            State::File(bytes) => plan.manifest_is_there = bytes == plan.manifest,
            State::Other => {}
        }
        if old.is_none() && folder.join(MANIFEST).symlink_metadata().is_ok() {
            plan.aside.push(MANIFEST.to_string());
        }
        Ok(plan)
    }

    /// Finds the files of earlier runs that are no longer wanted.
    fn find_stale(
        &mut self,
        folder: &Path,
        known: &Manifest,
        wanted: &Manifest,
        whose: Whose<'_>,
    ) -> Result<(), Fault> {
        // Two spellings of one name are one file on many disks.
        let wanted = wanted.files.iter().map(|entry| entry.name.to_lowercase());
        let wanted: HashSet<String> = wanted.collect();
        let still = |name: &str| wanted.contains(&name.to_lowercase());
        let mine = known.files.iter().filter(|entry| whose.is_mine(entry));
        let mut names: Vec<&str> = mine.map(|entry| entry.name.as_str()).collect();
        names.dedup();
        for name in names.into_iter().filter(|name| !still(name)) {
            // A list can be edited, and a link can be laid since: what is not inside is not ours.
            if guard::inside(folder, [name]).is_err() {
                continue;
            }
            match state(&folder.join(name))? {
                State::File(bytes) if known.knows(name, &checksum(&bytes)) => {
                    self.remove.push(name.to_string());
                }
                State::Missing => {}
                State::File(_) | State::Other => self.aside.push(name.to_string()),
            }
        }
        Ok(())
    }

    fn is_done(&self) -> bool {
        self.write.is_empty()
            && self.remove.is_empty()
            && self.aside.is_empty()
            && self.manifest_is_there
    }
}

/// Whether a file that another command wrote is there, changed by hand or not.
fn is_there(folder: &Path, entry: &Entry) -> bool {
    let name = entry.name.as_str();
    guard::inside(folder, [name]).is_ok() && folder.join(name).symlink_metadata().is_ok()
}

/// What is at a path.
enum State {
    Missing,
    File(Vec<u8>),
    /// A folder, a link, or something stranger.
    Other,
}

fn state(path: &Path) -> Result<State, Fault> {
    match path.symlink_metadata() {
        Ok(metadata) if metadata.is_file() => fs::read(path)
            .map(State::File)
            .map_err(|error| cannot_write(path, &error)),
        Ok(_) => Ok(State::Other),
        Err(error) if matches!(error.kind(), ErrorKind::NotFound | ErrorKind::NotADirectory) => {
            Ok(State::Missing)
        }
        Err(error) => Err(cannot_write(path, &error)),
    }
}

/// Carries a plan out, or leaves everything as it was. Gives what was moved aside.
fn carry_out(
    disk: &dyn Disk,
    folder: &Path,
    temp: &Path,
    plan: &FolderPlan,
) -> Result<Vec<(String, String)>, Fault> {
    if let Err(fault) = write_beside(disk, folder, temp, plan) {
        let _ = disk.remove_dir_all(temp);
        return Err(fault);
    }
    let mut changes = FileChanges::new(disk, temp);
    match move_into_place(&mut changes, folder, temp, plan) {
        Ok(moved) => {
            let _ = disk.remove_dir_all(temp);
            clear_up(disk, folder, plan);
            Ok(moved)
        }
        Err(fault) => {
            let left = changes.take_back();
            if left.is_empty() {
                let _ = disk.remove_dir_all(temp);
                return Err(fault);
            }
            let list: Vec<String> = left.iter().map(|path| path.display().to_string()).collect();
            Err(fault.help(format!(
                "what was there before could not all be put back; it is in {}",
                list.join(", ")
            )))
        }
    }
}

/// Writes every new file, the manifest and the journal into the hidden folder.
fn write_beside(
    disk: &dyn Disk,
    folder: &Path,
    temp: &Path,
    plan: &FolderPlan,
) -> Result<(), Fault> {
    disk.create_dir(temp)
        .map_err(|error| cannot_write(folder, &error))?;
    let mut names: Vec<&str> = Vec::new();
    let mut files: Vec<(PathBuf, &[u8])> = Vec::new();
    for (number, file) in plan.write.iter().enumerate() {
        names.push(&file.name);
        files.push((numbered(temp, number), &file.bytes));
    }
    for (name, bytes) in [(MANIFEST, &plan.manifest), (JOURNAL, &plan.journal)] {
        names.push(name);
        files.push((temp.join(name), bytes));
    }
    disk.write_all(temp, &files)
        .map_err(|(at, error)| cannot_write(&folder.join(names[at]), &error))?;
    sync_folder(temp);
    Ok(())
}

fn numbered(temp: &Path, number: usize) -> PathBuf {
    temp.join(format!("new-{number}"))
}

/// Moves everything into place; the manifest comes last and makes the run final.
fn move_into_place(
    changes: &mut FileChanges,
    folder: &Path,
    temp: &Path,
    plan: &FolderPlan,
) -> Result<Vec<(String, String)>, Fault> {
    changes.place(&temp.join(JOURNAL), &folder.join(JOURNAL))?;
    sync_folder(folder);
    let mut moved = Vec::new();
    for name in &plan.aside {
        let free = free_name(folder, name, &plan.write);
        changes.rename(&folder.join(name), &folder.join(&free))?;
        moved.push((name.clone(), free));
    }
    for (number, file) in plan.write.iter().enumerate() {
        let target = folder.join(&file.name);
        changes.make_folders(&target)?;
        changes.place(&numbered(temp, number), &target)?;
    }
    for name in &plan.remove {
        changes.take_away(&folder.join(name))?;
    }
    let parents = plan.write.iter().filter_map(|file| parent(&file.name));
    for parent in parents.collect::<BTreeSet<&str>>() {
        sync_folder(&folder.join(parent));
    }
    if !plan.manifest_is_there {
        changes.place(&temp.join(MANIFEST), &folder.join(MANIFEST))?;
    }
    sync_folder(folder);
    Ok(moved)
}

fn parent(name: &str) -> Option<&str> {
    name.rsplit_once('/').map(|(parent, _)| parent)
}

/// `NAME.kept-1.EXT`, or the next number whose name is free and not about to be written.
fn free_name(folder: &Path, name: &str, write: &[&OutputFile]) -> String {
    let file_at = parent(name).map_or(0, |parent| parent.len() + 1);
    let (stem, extension) = match name[file_at..].rfind('.') {
        Some(dot) if dot > 0 => name.split_at(file_at + dot),
        _ => (name, ""),
    };
    let mut number = 1;
    loop {
        let free = format!("{stem}.kept-{number}{extension}");
        let wanted = write.iter().any(|file| file.name == free);
        if !wanted && folder.join(&free).symlink_metadata().is_err() {
            return free;
        }
        number += 1;
    }
}

/// Removes sub-folders that the removed files have left empty.
fn clear_up(disk: &dyn Disk, folder: &Path, plan: &FolderPlan) {
    for name in &plan.remove {
        let mut at = name.as_str();
        while let Some(above) = parent(at) {
            // A folder that is not empty stays, as it should.
            if disk.remove_dir(&folder.join(above)).is_err() {
                break;
            }
            at = above;
        }
    }
}
