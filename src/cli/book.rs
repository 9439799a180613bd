//! A book's folder.

use std::path::Path;

use crate::assets::Assets;
use crate::book::{PLAN_FILE, Workbench};
use crate::names::{Fault, Faults};

/// A workbench for the book in a folder.
///
/// # Errors
/// A folder that is not there, or holds no plan.
pub(super) fn open(folder: &Path) -> Result<Workbench, Faults> {
    let shown = folder.display();
    if !folder.is_dir() {
        let fault = Fault::new("missing", format!("there is no folder {shown}"))
            .help(format!("begin a book there with: versefold new {shown}"));
        return Err(fault.into());
    }
    if !folder.join(PLAN_FILE).exists() {
        let fault = Fault::new("missing", format!("there is no plan in the folder {shown}"))
            .allowed(format!(
                "a book's folder holds a {PLAN_FILE} and a manuscript"
            ))
            .help(format!("begin a book with: versefold new {shown}"));
        return Err(fault.into());
    }
    Ok(Workbench::once(Assets::folder(folder)))
}
