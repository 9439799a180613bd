//! Checks before anything is written: names, and links that would lead elsewhere.

use std::collections::HashSet;
use std::fs;
use std::path::{Component, Path, PathBuf};

use super::manifest::is_plain;
use super::reason::cannot_write;
use crate::names::Fault;
use crate::outputs::OutputFile;

/// Refuses names that are not plain, that are there twice, or that are a file and a folder at once.
///
/// Letter case does not tell names apart, since on many disks it does not.
pub(super) fn names(files: &[OutputFile]) -> Result<(), Fault> {
    let bad = |name: &str, why: &str| {
        let what = format!("`{name}` {why} in an output folder");
        Err(Fault::new("bad-name", what).read(name))
    };
    let mut met = HashSet::new();
    for file in files {
        if !is_plain(&file.name) {
            return bad(&file.name, "cannot be the name of a file");
        }
        if !met.insert(file.name.to_lowercase()) {
            return bad(&file.name, "is there twice");
        }
    }
    for file in files {
        let lower = file.name.to_lowercase();
        let clash = lower
            .match_indices('/')
            .any(|(at, _)| met.contains(&lower[..at]));
        if clash {
            return bad(&file.name, "lies below another file");
        }
    }
    Ok(())
}

/// Where a path leads when links are followed, for paths whose end may not be there yet; nothing
/// when a link on the way leads nowhere.
fn leads_to(path: &Path) -> Option<PathBuf> {
    let path = std::path::absolute(path).ok()?;
    for base in path.ancestors() {
        if base.symlink_metadata().is_ok() {
            let rest = path.strip_prefix(base).ok()?;
            // Past what is there, `..` cannot be told.
            if rest.components().any(|part| part == Component::ParentDir) {
                return None;
            }
            let base = fs::canonicalize(base).ok()?;
            // Joining nothing would add a slash.
            let nothing = rest.as_os_str().is_empty();
            return Some(if nothing { base } else { base.join(rest) });
        }
    }
    None
}

fn leads_out(path: &Path, of: &Path) -> Fault {
    let end = match leads_to(path) {
        Some(end) => format!("it ends at `{}`", end.display()),
        None => "its end is not there".to_string(),
    };
    let what = format!(
        "`{}` leads out of `{}`: {end}",
        path.display(),
        of.display()
    );
    Fault::new("leads-out", what).help("replace the link with a real folder or file")
}

/// Refuses an output folder that is not inside `within`, links followed.
pub(super) fn folder(folder: &Path, within: Option<&Path>) -> Result<(), Fault> {
    let Some(book) = within else { return Ok(()) };
    let canonical = fs::canonicalize(book).map_err(|error| cannot_write(book, &error))?;
    match leads_to(folder) {
        Some(end) if end.starts_with(&canonical) => Ok(()),
        _ => Err(leads_out(folder, book)),
    }
}

/// Refuses names below `folder` whose folders or files are links that lead out of it.
pub(super) fn inside<'a>(
    folder: &Path,
    names: impl IntoIterator<Item = &'a str>,
) -> Result<(), Fault> {
    let root = fs::canonicalize(folder).map_err(|error| cannot_write(folder, &error))?;
    for name in names {
        for part in Path::new(name).ancestors() {
            if part.as_os_str().is_empty() {
                continue;
            }
            let path = folder.join(part);
            let Ok(metadata) = path.symlink_metadata() else {
                continue;
            };
            if metadata.is_symlink()
                && !fs::canonicalize(&path).is_ok_and(|end| end.starts_with(&root))
            {
                return Err(leads_out(&path, folder));
            }
        }
    }
    Ok(())
}

/// Refuses names for whose folders there is a file already.
pub(super) fn no_file_for_folder(folder: &Path, files: &[OutputFile]) -> Result<(), Fault> {
    for file in files {
        for parent in Path::new(&file.name).ancestors().skip(1) {
            let path = folder.join(parent);
            if path.metadata().is_ok_and(|metadata| !metadata.is_dir()) {
                return Err(cannot_write(
                    &path,
                    &std::io::ErrorKind::NotADirectory.into(),
                ));
            }
        }
    }
    Ok(())
}
