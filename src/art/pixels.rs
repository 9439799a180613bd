//! Taking in rows of pixels: colours and transparency are packed apart, and edges are looked at.

use super::ground::EdgeColours;
use super::pack::{PackedPixels, Packer};

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

    /// Red, green and blue of samples of 8 bits; those of inks by plain multiplication, which is near enough for judging edges.
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

/// How far each pixel covers the paper: wholly with all bits set.
pub(crate) struct AlphaChannel {
    pub(crate) packed: PackedPixels,
    pub(crate) bits: u8,
    /// Whether the colours are multiplied by it already ("associated alpha", TIFF 6.0 section 18).
    pub(crate) multiplied: bool,
}

/// Which pixels are transparent.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(super) enum Transparency {
    /// No pixel is transparent.
    Nothing,
    /// One sample more of each pixel tells how opaque it is.
    Sample { multiplied: bool },
    /// Pixels of this colour are transparent: its samples, as wide as they are stored.
    Colour(Vec<u16>),
    /// How opaque each colour of the palette is.
    OfPalette(Vec<u8>),
}

/// Takes in the rows of a picture, from its first to its last.
pub(super) struct PixelRows {
    width: usize,
    colour: Colour,
    bits: u8,
    transparency: Transparency,
    packer: Option<Packer>,
    alpha: Packer,
    /// Whether any pixel lets the paper show.
    shows: bool,
    edges: EdgeColours,
    y: u32,
    colours: Vec<u8>,
    alphas: Vec<u8>,
}

/// What was made of all rows.
pub(super) struct PackedRows {
    /// The colours; nothing where they were not to be packed.
    pub(super) packed: Option<PackedPixels>,
    /// Nothing where no pixel lets the paper show.
    pub(super) alpha: Option<AlphaChannel>,
    pub(super) edges: EdgeColours,
}

impl PixelRows {
    /// Rows of `width` pixels of so many bits a sample: 1, 2, 4, 8 or 16. With `pack`, colours are packed.
    pub(super) fn new(
        (width, height): (u32, u32),
        colour: Colour,
        bits: u8,
        transparency: Transparency,
        pack: bool,
    ) -> PixelRows {
        let pixel = colour.channels() * usize::from(bits);
        let across = width as usize;
        let packer = pack.then(|| Packer::new((across * pixel).div_ceil(8), pixel));
        let mut rows = PixelRows {
            width: across,
            colour,
            bits,
            transparency,
            packer,
            alpha: Packer::new(0, 1),
            shows: false,
            edges: EdgeColours::new(width, height),
            y: 0,
            colours: Vec::new(),
            alphas: Vec::new(),
        };
        let alpha = usize::from(rows.alpha_bits());
        rows.alpha = Packer::new((across * alpha).div_ceil(8), alpha);
        rows
    }

    fn alpha_bits(&self) -> u8 {
        match &self.transparency {
            Transparency::Sample { .. } => self.bits,
            Transparency::Nothing | Transparency::Colour(_) => 1,
            Transparency::OfPalette(_) => 8,
        }
    }

    /// How many bytes a row has, with the samples for transparency.
    pub(super) fn row_bytes(&self) -> usize {
        let extra = matches!(self.transparency, Transparency::Sample { .. });
        let samples = self.colour.channels() + usize::from(extra);
        (self.width * samples * usize::from(self.bits)).div_ceil(8)
    }

    /// Takes a row in; samples of 16 bits have the greater byte first.
    pub(super) fn row(&mut self, row: &[u8]) {
        if row.len() < self.row_bytes() || self.width == 0 {
            return;
        }
        let has_alpha = matches!(self.transparency, Transparency::Sample { .. });
        let samples = RowSamples {
            row,
            per_pixel: self.colour.channels() + usize::from(has_alpha),
            bits: self.bits,
        };
        self.take_alphas(&samples);
        let colours = match has_alpha {
            true => self.colours.as_slice(),
            false => &row[..self.row_bytes()],
        };
        if let Some(packer) = &mut self.packer {
            packer.row(colours);
        }
        if self.transparency != Transparency::Nothing {
            self.alpha.row(&self.alphas);
        }
        let (colour, transparency, alphas) = (&self.colour, &self.transparency, &self.alphas);
        let channels = colour.channels();
        self.edges.row(self.y, |x| {
            let light = colour.rgb(|at| match colour {
                Colour::Palette(_) => samples.value(x, at) as u8,
                _ => samples.byte(x, at),
            });
            let (alpha, multiplied) = match transparency {
                Transparency::Nothing => return light,
                Transparency::Sample { multiplied } => (samples.byte(x, channels), *multiplied),
                Transparency::Colour(_) => (255 * (alphas[x / 8] >> (7 - x % 8) & 1), false),
                Transparency::OfPalette(_) => (alphas[x], false),
            };
            match multiplied && *colour == Colour::Cmyk {
                // Thinner inks let the paper through by themselves.
                true => light,
                false => on_white(light, alpha, multiplied),
            }
        });
        self.y += 1;
    }

    /// Works out how far the pixels of a row cover the paper, packed as it is kept. Where each pixel has a sample for that,
    /// its colours are taken apart from it.
    fn take_alphas(&mut self, samples: &RowSamples<'_>) {
        let channels = self.colour.channels();
        self.alphas.clear();
        match &self.transparency {
            Transparency::Nothing => {}
            Transparency::Sample { .. } => {
                let width = usize::from(self.bits / 8);
                let each = samples.per_pixel * width;
                self.colours.clear();
                for pixel in samples.row.chunks_exact(each) {
                    let (colours, alpha) = pixel.split_at(each - width);
                    self.colours.extend_from_slice(colours);
                    self.alphas.extend_from_slice(alpha);
                    self.shows |= alpha.iter().any(|&byte| byte != 255);
                }
            }
            Transparency::Colour(colour) => {
                self.alphas.resize(self.width.div_ceil(8), 0);
                for x in 0..self.width {
                    let is_clear =
                        (0..channels).all(|at| colour.get(at) == Some(&samples.value(x, at)));
                    self.shows |= is_clear;
                    self.alphas[x / 8] |= u8::from(!is_clear) << (7 - x % 8);
                }
            }
            Transparency::OfPalette(opaque) => {
                for x in 0..self.width {
                    let alpha = opaque.get(usize::from(samples.value(x, 0))).copied();
                    self.alphas.push(alpha.unwrap_or(255));
                }
                self.shows |= self.alphas.iter().any(|&byte| byte != 255);
            }
        }
    }

    pub(super) fn finish(self) -> PackedRows {
        let multiplied = matches!(self.transparency, Transparency::Sample { multiplied: true });
        let bits = self.alpha_bits();
        PackedRows {
            packed: self.packer.map(Packer::finish),
            alpha: self.shows.then(|| AlphaChannel {
                packed: self.alpha.finish(),
                bits,
                multiplied,
            }),
            edges: self.edges,
        }
    }
}

/// How a colour looks on white paper that it covers by so much of 255.
fn on_white(light: [u8; 3], alpha: u8, multiplied: bool) -> [u8; 3] {
    let alpha = u32::from(alpha);
    light.map(|light| match multiplied {
        true => (u32::from(light) + 255 - alpha).min(255) as u8,
        false => ((u32::from(light) * alpha + 255 * (255 - alpha)) / 255) as u8,
    })
}

/// The samples of a row.
struct RowSamples<'a> {
    row: &'a [u8],
    per_pixel: usize,
    bits: u8,
}

impl RowSamples<'_> {
    /// A sample of a pixel, as wide as it is stored.
    fn value(&self, x: usize, sample: usize) -> u16 {
        let (row, at) = (self.row, x * self.per_pixel + sample);
        match self.bits {
            16 => u16::from_be_bytes([row[2 * at], row[2 * at + 1]]),
            8 => u16::from(row[at]),
            bits => {
                let bits = usize::from(bits);
                let shift = 8 - bits - at * bits % 8;
                u16::from(row[at * bits / 8] >> shift) & ((1 << bits) - 1)
            }
        }
    }

    /// A sample of a pixel in 8 bits.
    fn byte(&self, x: usize, sample: usize) -> u8 {
        byte_of(self.value(x, sample), self.bits)
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
