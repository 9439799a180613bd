//! Rows of pixels taken in: the colours packed, what they let through of the paper packed apart, edges looked at.

use super::ground::Edges;
use super::pack::{Packed, Packer};

/// What colours the samples of a pixel are.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(crate) enum Colour {
    Grey,
    Rgb,
    Cmyk,
    /// Numbers of colours: three bytes each, red, green and blue.
    Palette(Vec<u8>),
}

impl Colour {
    /// How many samples a pixel has.
    pub(crate) fn channels(&self) -> usize {
        match self {
            Colour::Grey | Colour::Palette(_) => 1,
            Colour::Rgb => 3,
            Colour::Cmyk => 4,
        }
    }

    /// Red, green and blue of samples of 8 bits; of inks by plain multiplication, near enough for what is asked.
    pub(super) fn rgb(&self, samples: impl Fn(usize) -> u8) -> [u8; 3] {
        match self {
            Colour::Grey => [samples(0); 3],
            Colour::Rgb => [samples(0), samples(1), samples(2)],
            Colour::Cmyk => {
                let light = |ink: u8| u32::from(255 - ink);
                [0, 1, 2].map(|ink| (light(samples(ink)) * light(samples(3)) / 255) as u8)
            }
            Colour::Palette(colours) => {
                let at = 3 * usize::from(samples(0));
                let colour = colours.get(at..at + 3);
                colour.map_or([0; 3], |colour| [colour[0], colour[1], colour[2]])
            }
        }
    }
}

/// What hides the paper, by 255 or by 65,535 wholly.
pub(crate) struct Cover {
    pub(crate) packed: Packed,
    pub(crate) bits: u8,
    /// Whether the colours are multiplied by it already ("associated alpha", TIFF 6.0 section 18).
    pub(crate) multiplied: bool,
}

/// What of a pixel is not opaque.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(super) enum Clear {
    Nothing,
    /// One sample more tells how opaque the pixel is.
    Sample {
        multiplied: bool,
    },
    /// Pixels of this colour are transparent: its samples, as wide as they are stored.
    Colour(Vec<u16>),
    /// How opaque each colour of the palette is.
    OfPalette(Vec<u8>),
}

/// Takes rows in.
pub(super) struct Rows {
    width: usize,
    colour: Colour,
    bits: u8,
    clear: Clear,
    packer: Option<Packer>,
    cover: Packer,
    /// Whether any pixel lets the paper show.
    shows: bool,
    edges: Edges,
    y: u32,
    colours: Vec<u8>,
    covers: Vec<u8>,
}

/// What the rows were.
pub(super) struct Taken {
    /// Nothing where the colours were not to be packed.
    pub(super) packed: Option<Packed>,
    pub(super) cover: Option<Cover>,
    pub(super) edges: Edges,
}

impl Rows {
    /// Rows of `width` pixels of so many bits a sample: 1, 2, 4, 8 or 16. With `pack`, colours are packed.
    pub(super) fn new(
        (width, height): (u32, u32),
        colour: Colour,
        bits: u8,
        clear: Clear,
        pack: bool,
    ) -> Rows {
        let pixel = colour.channels() * usize::from(bits);
        let across = width as usize;
        let packer = pack.then(|| Packer::new((across * pixel).div_ceil(8), pixel));
        let mut rows = Rows {
            width: across,
            colour,
            bits,
            clear,
            packer,
            cover: Packer::new(0, 1),
            shows: false,
            edges: Edges::new(width, height),
            y: 0,
            colours: Vec::new(),
            covers: Vec::new(),
        };
        let cover = usize::from(rows.cover_bits());
        rows.cover = Packer::new((across * cover).div_ceil(8), cover);
        rows
    }

    fn cover_bits(&self) -> u8 {
        match &self.clear {
            Clear::Sample { .. } => self.bits,
            Clear::Nothing | Clear::Colour(_) => 1,
            Clear::OfPalette(_) => 8,
        }
    }

    /// How many bytes a row has, the sample for the cover counted.
    pub(super) fn row_bytes(&self) -> usize {
        let extra = matches!(self.clear, Clear::Sample { .. });
        let samples = self.colour.channels() + usize::from(extra);
        (self.width * samples * usize::from(self.bits)).div_ceil(8)
    }

    /// Takes a row in; samples of 16 bits have the greater byte first.
    pub(super) fn row(&mut self, row: &[u8]) {
        if row.len() < self.row_bytes() || self.width == 0 {
            return;
        }
        let channels = self.colour.channels();
        let samples = channels + usize::from(matches!(self.clear, Clear::Sample { .. }));
        let bits = self.bits;
        let value = |x: usize, sample: usize| sample_at(row, x * samples + sample, bits);
        self.covers.clear();
        match &self.clear {
            Clear::Nothing => {}
            Clear::Sample { .. } => {
                let (width, each) = (usize::from(bits / 8), samples * usize::from(bits / 8));
                self.colours.clear();
                for pixel in row.chunks_exact(each) {
                    let (colours, cover) = pixel.split_at(each - width);
                    self.colours.extend_from_slice(colours);
                    self.covers.extend_from_slice(cover);
                    self.shows |= cover.iter().any(|&byte| byte != 255);
                }
            }
            Clear::Colour(colour) => {
                self.covers.resize(self.width.div_ceil(8), 0);
                for x in 0..self.width {
                    let clear = (0..channels).all(|at| colour.get(at) == Some(&value(x, at)));
                    self.shows |= clear;
                    self.covers[x / 8] |= u8::from(!clear) << (7 - x % 8);
                }
            }
            Clear::OfPalette(opaque) => {
                for x in 0..self.width {
                    let cover = opaque.get(usize::from(value(x, 0))).copied();
                    self.covers.push(cover.unwrap_or(255));
                }
                self.shows |= self.covers.iter().any(|&byte| byte != 255);
            }
        }
        let whole = match &self.clear {
            Clear::Sample { .. } => self.colours.as_slice(),
            _ => &row[..self.row_bytes()],
        };
        if let Some(packer) = &mut self.packer {
            packer.row(whole);
        }
        if self.clear != Clear::Nothing {
            self.cover.row(&self.covers);
        }
        let (colour, clear, covers) = (&self.colour, &self.clear, &self.covers);
        let palette = matches!(colour, Colour::Palette(_));
        self.edges.row(self.y, |x| {
            let light = colour.rgb(|at| match palette {
                true => value(x, at) as u8,
                false => byte_of(value(x, at), bits),
            });
            let (cover, multiplied) = match clear {
                Clear::Nothing => return light,
                Clear::Sample { multiplied } => (byte_of(value(x, channels), bits), *multiplied),
                Clear::Colour(_) => (255 * (covers[x / 8] >> (7 - x % 8) & 1), false),
                Clear::OfPalette(_) => (covers[x], false),
            };
            // On white paper.
            let cover = u32::from(cover);
            let inks = matches!(colour, Colour::Cmyk);
            light.map(|light| match multiplied {
                // Thinner inks let the paper through by themselves.
                true if inks => light,
                true => (u32::from(light) + 255 - cover).min(255) as u8,
                false => ((u32::from(light) * cover + 255 * (255 - cover)) / 255) as u8,
            })
        });
        self.y += 1;
    }

    pub(super) fn finish(self) -> Taken {
        let multiplied = matches!(self.clear, Clear::Sample { multiplied: true });
        let bits = self.cover_bits();
        Taken {
            packed: self.packer.map(Packer::finish),
            cover: self.shows.then(|| Cover {
                packed: self.cover.finish(),
                bits,
                multiplied,
            }),
            edges: self.edges,
        }
    }
}

/// The sample of that number in a row.
fn sample_at(row: &[u8], at: usize, bits: u8) -> u16 {
    match bits {
        16 => u16::from_be_bytes([row[2 * at], row[2 * at + 1]]),
        8 => u16::from(row[at]),
        _ => {
            let bits = usize::from(bits);
            let shift = 8 - bits - at * bits % 8;
            u16::from(row[at * bits / 8] >> shift) & ((1 << bits) - 1)
        }
    }
}

/// A sample in 8 bits.
fn byte_of(value: u16, bits: u8) -> u8 {
    match bits {
        16 => (value >> 8) as u8,
        8 => value as u8,
        _ => (value * (255 / ((1 << bits) - 1))) as u8,
    }
}
