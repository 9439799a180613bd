//! The files that the main job writes: made, read back and proved.

use rayon::prelude::*;

use super::Workbench;
use crate::layout::{BrokenPromise, Layout};
use crate::names::{Fault, Faults};
use crate::outputs::{self, CannotWrite, OutputFile, WordsAs};
use crate::readback::proof;

impl Workbench {
    /// Every file that the main job writes, each read back and proved to hold its words.
    ///
    /// # Errors
    /// A font that cannot be subset, or a file that does not read back as it should.
    pub fn output_files(
        &self,
        layout: &Layout,
        words_as: WordsAs,
    ) -> Result<Vec<OutputFile>, Faults> {
        let typeface = self.label_typeface()?;
        let (layers, (sheet, json)) = rayon::join(
            || proved_layers(layout, words_as),
            || {
                (
                    outputs::contact_sheet(layout, &typeface),
                    outputs::json(layout, words_as),
                )
            },
        );
        let mut made = layers?;
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

/// The text layers, each read back and proved to hold its words.
fn proved_layers(layout: &Layout, words_as: WordsAs) -> Result<Vec<OutputFile>, Faults> {
    let layers = outputs::layers(layout, words_as).map_err(|error| cannot(&error))?;
    let proved: Vec<Result<(), BrokenPromise>> = layers
        .par_iter()
        .map(|layer| proof::read_back(&layer.bytes, &layer.words, &layer.name))
        .collect();
    for proof in proved {
        proof.map_err(|broken| broken_promise(&broken))?;
    }
    let files = layers.into_iter().map(|layer| OutputFile {
        name: format!("layers/{}", layer.name),
        bytes: layer.bytes,
    });
    Ok(files.collect())
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
