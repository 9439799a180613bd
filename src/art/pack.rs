//! Pixels packed without loss, row by row, so that no picture is ever held unpacked.

use std::io::Write;

use flate2::Compression;
use flate2::write::ZlibEncoder;

/// Pixels as a PDF takes them.
pub(crate) struct PackedPixels {
    pub(crate) bytes: Vec<u8>,
    /// Whether each row begins with the number of its PNG filter, and is filtered by it.
    pub(crate) filtered: bool,
}

/// Packs rows as they come, plain and filtered; the smaller is kept.
pub(super) struct Packer {
    plain: ZlibEncoder<Vec<u8>>,
    filtered: Option<FilteredRows>,
}

struct FilteredRows {
    encoder: ZlibEncoder<Vec<u8>>,
    above: Vec<u8>,
    /// How many bytes back the pixel on the left is.
    step: usize,
    best: Vec<u8>,
    tried: Vec<u8>,
}

impl Packer {
    /// A packer for rows of `row` bytes with `bits` to a pixel. Filters make rows of pixels smaller than a byte no smaller
    /// (PNG specification, 12.7), so those are packed plain alone.
    pub(super) fn new(row: usize, bits: usize) -> Packer {
        let encoder = || ZlibEncoder::new(Vec::new(), Compression::new(6));
        Packer {
            plain: encoder(),
            filtered: (bits >= 8).then(|| FilteredRows {
                encoder: encoder(),
                above: vec![0; row],
                step: bits / 8,
                best: Vec::with_capacity(row),
                tried: Vec::with_capacity(row),
            }),
        }
    }

    /// Packs the next row.
    pub(super) fn row(&mut self, row: &[u8]) {
        write(&mut self.plain, row);
        let Some(filtered) = &mut self.filtered else {
            return;
        };
        let kind = filtered.choose(row);
        write(&mut filtered.encoder, &[kind]);
        write(&mut filtered.encoder, &filtered.best);
        filtered.above.copy_from_slice(row);
    }

    pub(super) fn finish(self) -> PackedPixels {
        let plain = done(self.plain);
        match self.filtered.map(|filtered| done(filtered.encoder)) {
            Some(bytes) if bytes.len() < plain.len() => PackedPixels {
                bytes,
                filtered: true,
            },
            _ => PackedPixels {
                bytes: plain,
                filtered: false,
            },
        }
    }
}

impl FilteredRows {
    /// Leaves the row in `best` as the filter has it whose bytes, read as signed numbers, have the least sum (PNG
    /// specification, 12.7); returns the filter's number.
    fn choose(&mut self, row: &[u8]) -> u8 {
        let (mut chosen, mut least) = (0, u64::MAX);
        for kind in 0..5 {
            self.tried.clear();
            for (at, &byte) in row.iter().enumerate() {
                let left = at.checked_sub(self.step);
                let corner = left.map_or(0, |left| self.above[left]);
                let left = left.map_or(0, |left| row[left]);
                let up = self.above[at];
                let guess = match kind {
                    0 => 0,
                    1 => left,
                    2 => up,
                    3 => ((u16::from(left) + u16::from(up)) / 2) as u8,
                    _ => paeth(left, up, corner),
                };
                self.tried.push(byte.wrapping_sub(guess));
            }
            let size = |byte: &u8| u64::from((*byte as i8).unsigned_abs());
            let sum = self.tried.iter().map(size).sum();
            if sum < least {
                (chosen, least) = (kind, sum);
                std::mem::swap(&mut self.best, &mut self.tried);
            }
        }
        chosen
    }
}

/// Which neighbour is nearest to left + up − corner (PNG specification, 9.4).
fn paeth(left: u8, up: u8, corner: u8) -> u8 {
    let [a, b, c] = [left, up, corner].map(i16::from);
    let guess = a + b - c;
    let far = |byte: i16| (guess - byte).abs();
    if far(a) <= far(b) && far(a) <= far(c) {
        left
    } else if far(b) <= far(c) {
        up
    } else {
        corner
    }
}

/// Memory takes every byte: no write to it fails.
fn write(encoder: &mut ZlibEncoder<Vec<u8>>, bytes: &[u8]) {
    let _ = encoder.write_all(bytes);
}

fn done(encoder: ZlibEncoder<Vec<u8>>) -> Vec<u8> {
    encoder.finish().unwrap_or_default()
}
