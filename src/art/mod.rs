//! Art: what an author's picture file is. Headers are read first, so that nothing of an absurd size is taken in.

mod fit;
mod ground;
mod icc;
mod jpeg;
mod kind;
mod mask;
mod orientation;
mod pack;
mod pixels;
mod png;
mod srgb;
mod tiff;

use std::fmt;
use std::io::Read;

use sha2::{Digest, Sha256};

use crate::assets::{Assets, unreadable};
use crate::names::{Fault, Length};
use ground::EdgeColours;
use kind::PictureFormat;
use pixels::PackedRows;

pub use fit::{Fit, fit, pixels_at};
pub use ground::Ground;
pub use icc::{Profile, ProfileSpace};
pub use mask::{MOST_PIXELS, Mask};
pub(crate) use orientation::Orientation;
pub(crate) use pack::PackedPixels;
pub(crate) use pixels::{AlphaChannel, Colour};
pub(crate) use srgb::profile as srgb_profile;

/// How deep an edge is looked at, as the picture is placed.
const EDGE: Length = Length::from_units(Length::mm(3).units() / 2);

/// A picture file that has been read to its end, ready to go into a PDF.
///
/// Widths and heights are those of the picture as it stands upright, whatever way its pixels are stored.
pub struct Art {
    /// Width and height as stored.
    size: (u32, u32),
    orientation: Orientation,
    colour: Colour,
    bits: u8,
    pixels: Pixels,
    alpha: Option<AlphaChannel>,
    profile: Option<Profile>,
    edges: EdgeColours,
    notes: Vec<ArtNote>,
    checksum: [u8; 32],
}

/// The pixels, as a PDF takes them.
pub(crate) enum Pixels {
    /// A JPEG file, byte for byte.
    Jpeg {
        bytes: Vec<u8>,
        /// Whether 255 is no ink.
        inverted: bool,
        /// Whether its three channels are red, green and blue and no marker says so.
        plain_rgb: bool,
    },
    Packed(PackedPixels),
}

/// An edge of a picture.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Edge {
    /// On the left.
    Left,
    /// On the right.
    Right,
    /// At the head.
    Top,
    /// At the foot.
    Bottom,
}

impl Edge {
    /// All four.
    pub const ALL: [Edge; 4] = [Edge::Left, Edge::Right, Edge::Top, Edge::Bottom];
}

/// Something about a picture that was put right, and that its maker may want to know.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
#[non_exhaustive]
pub enum ArtNote {
    /// Its colour profile is broken, and is left out.
    BrokenProfile,
    /// Its colour profile is for other colours than its pixels have, and is left out.
    OtherProfile,
}

impl fmt::Display for ArtNote {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(match self {
            ArtNote::BrokenProfile => "its colour profile is broken, and is left out",
            ArtNote::OtherProfile => {
                "its colour profile is for other colours than its pixels have, and is left out"
            }
        })
    }
}

/// What a file's reader makes of it.
struct DecodedPicture {
    size: (u32, u32),
    orientation: Orientation,
    colour: Colour,
    bits: u8,
    pixels: Pixels,
    packed_rows: PackedRows,
    profile: EmbeddedProfile,
}

/// A profile in a picture.
enum EmbeddedProfile {
    None,
    Bytes(Vec<u8>),
    Broken,
}

impl Art {
    /// Reads a picture from a JPEG, PNG or TIFF file, told apart by their first bytes. It is unpacked once, to prove
    /// that it is whole; what is kept is packed.
    ///
    /// # Errors
    /// A [`Fault`] of the word `missing`, `is-folder`, `not-a-file`, `no-permission` or `cannot-read`; `wrong-kind`
    /// for a picture of another kind, or one that no PDF takes; `wrong-name` where the name promises another kind;
    /// `too-large`, told by its header; `damaged`.
    pub fn read(assets: &Assets, name: &str) -> Result<Art, Fault> {
        let file = assets.open(name, kind::ALLOWED)?;
        let mut bytes = Vec::new();
        let read = file.take(kind::LARGEST_FILE + 1).read_to_end(&mut bytes);
        read.map_err(|error| unreadable(name, &error))?;
        if bytes.len() as u64 > kind::LARGEST_FILE {
            let most = kind::LARGEST_FILE / 1_000_000;
            let what = format!("`{name}` is larger than {most} million bytes");
            return Err(Fault::new("too-large", what).help(
                "save it packed (as PNG, or as TIFF with LZW), or at fewer pixels to the inch",
            ));
        }
        Art::of(bytes, name)
    }

    /// The picture that these bytes are.
    fn of(bytes: Vec<u8>, name: &str) -> Result<Art, Fault> {
        let kind = kind::of(&bytes, name)?;
        let checksum = Sha256::digest(&bytes).into();
        let decoded = match kind {
            PictureFormat::Jpeg => jpeg::read(bytes, name)?,
            PictureFormat::Png => png::read(&bytes, name)?,
            PictureFormat::Tiff => tiff::read(&bytes, name)?,
        };
        let mut notes = Vec::new();
        let profile = match decoded.profile {
            EmbeddedProfile::None => None,
            EmbeddedProfile::Broken => {
                notes.push(ArtNote::BrokenProfile);
                None
            }
            EmbeddedProfile::Bytes(bytes) => match Profile::of(bytes) {
                None => {
                    notes.push(ArtNote::BrokenProfile);
                    None
                }
                Some(profile) => {
                    let space = match decoded.colour {
                        Colour::Grey => ProfileSpace::Grey,
                        Colour::Rgb | Colour::Palette(_) => ProfileSpace::Rgb,
                        Colour::Cmyk => ProfileSpace::Cmyk,
                    };
                    let fits = profile.is_for_pictures() && profile.space() == Some(space);
                    if !fits {
                        notes.push(ArtNote::OtherProfile);
                    }
                    fits.then_some(profile)
                }
            },
        };
        Ok(Art {
            size: decoded.size,
            orientation: decoded.orientation,
            colour: decoded.colour,
            bits: decoded.bits,
            pixels: decoded.pixels,
            alpha: decoded.packed_rows.alpha,
            profile,
            edges: decoded.packed_rows.edges,
            notes,
            checksum,
        })
    }

    /// Its width in pixels.
    pub fn width(&self) -> u32 {
        match self.orientation.swaps() {
            true => self.size.1,
            false => self.size.0,
        }
    }

    /// Its height in pixels.
    pub fn height(&self) -> u32 {
        match self.orientation.swaps() {
            true => self.size.0,
            false => self.size.1,
        }
    }

    /// How many bits a sample has: 1, 2, 4, 8 or 16.
    pub fn bits(&self) -> u8 {
        self.bits
    }

    /// Whether it is black and white alone, one bit to a pixel.
    pub fn is_line_art(&self) -> bool {
        self.bits == 1 && self.colour == Colour::Grey
    }

    /// Whether the paper shows through anywhere.
    pub fn is_transparent(&self) -> bool {
        self.alpha.is_some()
    }

    /// What was put right.
    pub fn notes(&self) -> &[ArtNote] {
        &self.notes
    }

    /// How many pixels it has to the inch where it is drawn that wide and high: along the axis that has fewer.
    pub fn ppi_on(&self, width: Length, height: Length) -> f64 {
        let ppi = |pixels: u32, length: Length| f64::from(pixels) / (length.as_pt() / 72.0);
        ppi(self.width(), width).min(ppi(self.height(), height))
    }

    /// What lies along an edge where it is drawn that wide and high: 1.5 mm, from so far within the edge on.
    pub fn edge(&self, edge: Edge, (width, height): (Length, Length), within: Length) -> Ground {
        let (pixels, length) = match edge {
            Edge::Left | Edge::Right => (self.width(), width),
            Edge::Top | Edge::Bottom => (self.height(), height),
        };
        let depth = |within: Length| {
            let depth = i64::from(pixels) * within.units() / length.units().max(1);
            u32::try_from(depth).unwrap_or(u32::MAX)
        };
        let depths = (depth(within), depth(within + EDGE));
        self.edges.ground(self.orientation.stored(edge), depths)
    }

    /// Width and height of the pixels as they are stored.
    pub(crate) fn stored_size(&self) -> (u32, u32) {
        self.size
    }

    /// How they stand upright.
    pub(crate) fn orientation(&self) -> Orientation {
        self.orientation
    }

    pub(crate) fn colour(&self) -> &Colour {
        &self.colour
    }

    pub(crate) fn pixels(&self) -> &Pixels {
        &self.pixels
    }

    pub(crate) fn alpha(&self) -> Option<&AlphaChannel> {
        self.alpha.as_ref()
    }

    pub(crate) fn profile(&self) -> Option<&Profile> {
        self.profile.as_ref()
    }

    /// The checksum of the file: pictures of one checksum are one.
    pub(crate) fn checksum(&self) -> &[u8; 32] {
        &self.checksum
    }
}

impl fmt::Debug for Art {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let (width, height, bits) = (self.width(), self.height(), self.bits);
        write!(f, "Art({width} × {height}, {bits} bits)")
    }
}
