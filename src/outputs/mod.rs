//! Outputs: bytes made from a layout, and nothing else. No output computes a layout, and none writes files.

mod contact_sheet;
mod differences;
mod dummy;
mod folding_guide;
mod json;
mod kind;
mod layers;
mod picture;
mod scans;
mod sheet;
mod strip;
mod trials;
mod words;

pub use crate::pdf::{CannotWrite, WordsAs};
pub use contact_sheet::contact_sheet;
pub use differences::{difference, differing};
pub use dummy::{Backs, Dummy, Fitted, ForDummy, dummy};
pub use folding_guide::{BenchFacts, Guide, folding_guide};
pub(crate) use json::json_of;
pub use json::{
    FoldRecord, GaveWayRecord, LayoutRecord, LineRecord, PanelRecord, PanelRecords,
    RectangleRecord, StripRecord, json, layout_record, layout_schema,
};
pub use kind::Kind;
pub(crate) use layers::{Again, each_layer};
pub use layers::{Layer, layer_name, layers, side_layer_name};
pub use picture::pictures;
pub use scans::{Scan, Scans};
pub use strip::{
    ForSheets, OutputIntent, Plate, PrintSheet, is_plate_of, plate_inks, plates, print_sheets,
};
pub use trials::trials;

/// A file to be written below an output folder.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct OutputFile {
    /// The name below the folder, with forward slashes: `layers/front-02.pdf`. No part of it may
    /// begin with a full stop, and `manifest.json` is taken.
    pub name: String,
    /// The whole content.
    pub bytes: Vec<u8>,
}
