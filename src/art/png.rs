//! PNG (W3C recommendation, third edition). Where a PDF can take the packed pixels as they are, it does.

use std::io::Cursor;

use png::{ColorType, DecodeOptions, Decoder, DecodingError};

use super::kind::{check_size, damaged, unsupported};
use super::pixels::{Clear, Colour, Rows};
use super::way::{self, Way};
use super::{Decoded, Found, Pixels};
use crate::art::pack::Packed;
use crate::names::Fault;

/// Reads a PNG file.
pub(super) fn read(bytes: &[u8], name: &str) -> Result<Decoded, Fault> {
    let mut options = DecodeOptions::default();
    options.set_ignore_adler32(false);
    options.set_ignore_text_chunk(true);
    let broken = |_: DecodingError| damaged(name);
    let mut decoder = Decoder::new_with_options(Cursor::new(bytes), options);
    let header = decoder.read_header_info().map_err(broken)?;
    let size = (header.width, header.height);
    let bits = header.bit_depth as u8;
    check_size(name, size, header.color_type.samples(), bits)?;
    let chunks = Chunks::of(bytes).ok_or_else(|| damaged(name))?;
    if chunks.animated {
        return Err(unsupported(name, "an animated PNG picture"));
    }
    let mut reader = decoder.read_info().map_err(broken)?;
    let info = reader.info();
    let interlaced = info.interlaced;
    let kind = info.color_type;
    let colour = match kind {
        ColorType::Grayscale | ColorType::GrayscaleAlpha => Colour::Grey,
        ColorType::Rgb | ColorType::Rgba => Colour::Rgb,
        ColorType::Indexed => {
            let mut palette = info.palette.as_deref().unwrap_or_default().to_vec();
            // No number of a pixel may lead out of it.
            palette.truncate(3 << bits);
            Colour::Palette(palette)
        }
    };
    let clear = match (kind, info.trns.as_deref()) {
        (ColorType::GrayscaleAlpha | ColorType::Rgba, _) => Clear::Sample { multiplied: false },
        (_, None) => Clear::Nothing,
        (ColorType::Indexed, Some(opaque)) => Clear::OfPalette(opaque.to_vec()),
        // The reader gives samples of 8 bits and fewer as bytes.
        (_, Some(samples)) => Clear::Colour(match bits {
            16 => {
                let pairs = samples.chunks_exact(2);
                let pairs = pairs.map(|pair| u16::from_be_bytes([pair[0], pair[1]]));
                pairs.collect()
            }
            _ => samples.iter().map(|&sample| sample.into()).collect(),
        }),
    };
    let as_it_is = !interlaced && !matches!(clear, Clear::Sample { .. });
    let mut rows = Rows::new(size, colour.clone(), bits, clear, !as_it_is);
    if interlaced {
        let mut pixels = vec![0; reader.output_buffer_size().unwrap_or(0)];
        let info = reader.next_frame(&mut pixels).map_err(broken)?;
        for row in pixels.chunks_exact(info.line_size.max(1)) {
            rows.row(row);
        }
    } else {
        while let Some(row) = reader.next_row().map_err(broken)? {
            rows.row(row.data());
        }
    }
    reader.finish().map_err(broken)?;
    let info = reader.info();
    let way = info.exif_metadata.as_deref();
    let way = way.map_or(Way::UPRIGHT, way::from_exif);
    let profile = match (&info.icc_profile, chunks.profile) {
        (Some(profile), _) => Found::Bytes(profile.to_vec()),
        (None, true) => Found::Broken,
        (None, false) => Found::None,
    };
    let mut taken = rows.finish();
    let packed = taken.packed.take().unwrap_or(Packed {
        bytes: chunks.packed,
        filtered: true,
    });
    Ok(Decoded {
        size,
        way,
        colour,
        bits,
        pixels: Pixels::Packed(packed),
        taken,
        profile,
    })
}

/// What the chunks of a file are.
struct Chunks {
    /// The packed pixels, joined: a PDF's FlateDecode with a PNG predictor (PDF 1.7, 7.4.4.4).
    packed: Vec<u8>,
    animated: bool,
    profile: bool,
}

impl Chunks {
    /// Nothing where the file breaks off before its end.
    fn of(bytes: &[u8]) -> Option<Chunks> {
        let mut chunks = Chunks {
            packed: Vec::new(),
            animated: false,
            profile: false,
        };
        let mut at = 8;
        loop {
            let length = u32::from_be_bytes(*bytes.get(at..)?.first_chunk()?) as usize;
            let data = bytes.get(at + 8..)?.get(..length)?;
            match bytes.get(at + 4..at + 8)? {
                b"IDAT" => chunks.packed.extend_from_slice(data),
                b"acTL" => chunks.animated = true,
                b"iCCP" => chunks.profile = true,
                b"IEND" => return Some(chunks),
                _ => {}
            }
            at += 12 + length;
        }
    }
}
