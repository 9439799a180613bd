//! The files that the main job writes: made, read back and proved.

use super::Workbench;
use super::made::Made;
use crate::layout::{BrokenPromise, Layout};
use crate::names::{Fault, Faults};
use crate::outputs::{self, Again, CannotWrite, Layer, OutputFile, WordsAs};
use crate::readback::proof;

impl Workbench {
    /// Every file that the main job writes, each read back and proved to hold its words. Layers on which all looks as in
    /// the last layout of which files were made are handed out as they were made and proved then.
    ///
    /// # Errors
    /// A font that cannot be subset, or a file that does not read back as it should.
    pub fn output_files(
        &mut self,
        layout: &Layout,
        words_as: WordsAs,
    ) -> Result<Vec<OutputFile>, Faults> {
        let typeface = self.label_typeface()?;
        self.made.begin(layout, words_as);
        let (layers, (sheet, json)) = rayon::join(
            || proved_layers(layout, words_as, &self.made),
            || {
                (
                    outputs::contact_sheet(layout, &typeface),
                    outputs::json_of(layout, words_as, self.made.shown()),
                )
            },
        );
        let mut made = layers?;
        self.made.keep(&made);
        made.push(OutputFile {
            name: "contact-sheet.pdf".to_string(),
            bytes: sheet.map_err(|error| cannot(&error))?,
        });
        made.push(OutputFile {
            name: "layout.json".to_string(),
            bytes: json,
        });
        Ok(made)
    }
}

/// The text layers, each read back and proved to hold its words while the next is made.
fn proved_layers(
    layout: &Layout,
    words_as: WordsAs,
    made: &Made,
) -> Result<Vec<OutputFile>, Faults> {
    let again = Again {
        known: &|name, panels| made.layer(&in_folder(name), panels).map(Ok),
        packed: made.packed(),
    };
    let proved = outputs::each_layer(layout, words_as, again, |layer| {
        let Layer { name, bytes, words } = layer;
        proof::read_back(&bytes, &words, &name)?;
        let name = in_folder(&name);
        Ok(OutputFile { name, bytes })
    });
    let mut files = Vec::with_capacity(proved.len());
    for file in proved {
        let file = file.map_err(|error| cannot(&error))?;
        files.push(file.map_err(|broken: BrokenPromise| broken_promise(&broken))?);
    }
    Ok(files)
}

/// The name of a layer's file in the output folder.
fn in_folder(layer: &str) -> String {
    format!("layers/{layer}")
}

/// A promise that a layout or a file breaks, as the author is told.
pub(super) fn broken_promise(broken: &BrokenPromise) -> Fault {
    Fault::new("lost", broken.to_string()).help(
        "this is a fault of the program, not of your book; nothing was written. \
         Please report it with the manuscript and the plan",
    )
}

/// A file that cannot be written, as the author is told.
pub(super) fn cannot(error: &CannotWrite) -> Fault {
    Fault::new(
        "font",
        format!("the font {} cannot be embedded: {}", error.font, error.why),
    )
    .help("choose another font file")
}
