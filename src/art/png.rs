//! PNG (W3C recommendation, third edition). Where a PDF can take the packed pixels as they are, it does.

use std::io::Cursor;

use png::{ColorType, DecodeOptions, Decoder, DecodingError, Info, Reader};

use super::kind::{check_size, damaged, unsupported};
use super::orientation::{self, Orientation};
use super::pixels::{Colour, PixelRows, Transparency};
use super::{DecodedPicture, EmbeddedProfile, Pixels};
use crate::art::pack::PackedPixels;
use crate::names::Fault;

/// Reads a PNG file.
///
/// # Errors
/// A [`Fault`] of the word `wrong-kind` for an animated picture, `too-large` or `damaged`.
pub(super) fn read(bytes: &[u8], name: &str) -> Result<DecodedPicture, Fault> {
    let mut options = DecodeOptions::default();
    options.set_ignore_adler32(false);
    options.set_ignore_text_chunk(true);
    let broken = |_: DecodingError| damaged(name);
    let mut decoder = Decoder::new_with_options(Cursor::new(bytes), options);
    let header = decoder.read_header_info().map_err(broken)?;
    let size = (header.width, header.height);
    let bits = header.bit_depth as u8;
    check_size(name, size, header.color_type.samples(), bits)?;
    let chunks = PngChunks::of(bytes).ok_or_else(|| damaged(name))?;
    if chunks.animated {
        return Err(unsupported(name, "an animated PNG picture"));
    }
    let mut reader = decoder.read_info().map_err(broken)?;
    let info = reader.info();
    let (colour, transparency) = (colour_of(info, bits), transparency_of(info, bits));
    let as_it_is = !info.interlaced && !matches!(transparency, Transparency::Sample { .. });
    let mut rows = PixelRows::new(size, colour.clone(), bits, transparency, !as_it_is);
    unpack(&mut reader, &mut rows).map_err(broken)?;
    let info = reader.info();
    let orientation = info.exif_metadata.as_deref();
    let orientation = orientation.map_or(Orientation::UPRIGHT, orientation::from_exif);
    let profile = match (&info.icc_profile, chunks.profile) {
        (Some(profile), _) => EmbeddedProfile::Bytes(profile.to_vec()),
        (None, true) => EmbeddedProfile::Broken,
        (None, false) => EmbeddedProfile::None,
    };
    let mut packed_rows = rows.finish();
    let packed = packed_rows.packed.take().unwrap_or(PackedPixels {
        bytes: chunks.packed,
        filtered: true,
    });
    Ok(DecodedPicture {
        size,
        orientation,
        colour,
        bits,
        pixels: Pixels::Packed(packed),
        packed_rows,
        profile,
    })
}

/// What colours the samples are, those for transparency aside.
fn colour_of(info: &Info<'_>, bits: u8) -> Colour {
    match info.color_type {
        ColorType::Grayscale | ColorType::GrayscaleAlpha => Colour::Grey,
        ColorType::Rgb | ColorType::Rgba => Colour::Rgb,
        ColorType::Indexed => {
            let mut palette = info.palette.as_deref().unwrap_or_default().to_vec();
            // No number of a pixel may lead out of it.
            palette.truncate(3 << bits);
            Colour::Palette(palette)
        }
    }
}

/// Which pixels are transparent, by a channel of their own or by the chunk tRNS.
fn transparency_of(info: &Info<'_>, bits: u8) -> Transparency {
    match (info.color_type, info.trns.as_deref()) {
        (ColorType::GrayscaleAlpha | ColorType::Rgba, _) => {
            Transparency::Sample { multiplied: false }
        }
        (_, None) => Transparency::Nothing,
        (ColorType::Indexed, Some(opaque)) => Transparency::OfPalette(opaque.to_vec()),
        // The reader gives samples of 8 bits and fewer as bytes.
        (_, Some(samples)) => Transparency::Colour(match bits {
            16 => {
                let pairs = samples.chunks_exact(2);
                let pairs = pairs.map(|pair| u16::from_be_bytes([pair[0], pair[1]]));
                pairs.collect()
            }
            _ => samples.iter().map(|&sample| sample.into()).collect(),
        }),
    }
}

/// Unpacks the pixels into rows and reads on to the end of the file, which proves that it is whole.
fn unpack(reader: &mut Reader<Cursor<&[u8]>>, rows: &mut PixelRows) -> Result<(), DecodingError> {
    if reader.info().interlaced {
        let mut pixels = vec![0; reader.output_buffer_size().unwrap_or(0)];
        let info = reader.next_frame(&mut pixels)?;
        for row in pixels.chunks_exact(info.line_size.max(1)) {
            rows.row(row);
        }
    } else {
        while let Some(row) = reader.next_row()? {
            rows.row(row.data());
        }
    }
    reader.finish()
}

/// What the chunks of a file are.
struct PngChunks {
    /// The packed pixels, joined: a PDF's FlateDecode with a PNG predictor (PDF 1.7, 7.4.4.4).
    packed: Vec<u8>,
    /// Whether it has several frames (acTL).
    animated: bool,
    /// Whether it has a colour profile (iCCP).
    profile: bool,
}

impl PngChunks {
    /// Reads the chunks; nothing where the file breaks off before its end.
    fn of(bytes: &[u8]) -> Option<PngChunks> {
        let mut chunks = PngChunks {
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
