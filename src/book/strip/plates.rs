//! Plates of one ink.

use super::super::{Workbench, cannot};
use super::{CutBook, for_sheets, proved};
use crate::names::Faults;
use crate::outputs::{OutputFile, plates};

impl Workbench {
    /// The plates of one ink, each read back.
    ///
    /// # Errors
    /// As [`Workbench::sheet_files`].
    pub fn plate_files(
        &self,
        book: &CutBook,
        ink: &str,
        mirrored: bool,
    ) -> Result<Vec<OutputFile>, Faults> {
        let typeface = self.label_typeface()?;
        let asked = for_sheets(book, None, &typeface, None);
        let made = plates(&asked, ink, mirrored).map_err(|error| cannot(&error))?;
        let files = made.into_iter().map(|plate| {
            proved(&plate.bytes, &plate.words, &plate.name)?;
            Ok(OutputFile {
                name: format!("strip/{}", plate.name),
                bytes: plate.bytes,
            })
        });
        files.collect()
    }
}
