//! TIFF (revision 6.0): its first picture, unpacked in strips or tiles and packed again.

use std::io::Cursor;

use tiff::decoder::{ChunkType, Decoder, DecodingResult, Limits};
use tiff::tags::Tag;
use tiff::{TiffError, TiffUnsupportedError};

use super::kind::{check_size, damaged, unsupported};
use super::pixels::{Clear, Colour, Rows};
use super::way::Way;
use super::{Decoded, Found, Pixels};
use crate::names::Fault;

/// The largest value of a tag: a profile, or the places of the strips.
const LARGEST_TAG: usize = 50_000_000;

/// What is unpacked at once, at most.
const LARGEST_PIECE: usize = 600_000_000;

type Opened<'a> = Decoder<Cursor<&'a [u8]>>;

/// How the pixels lie in the file.
struct Kind {
    colour: Colour,
    bits: u8,
    clear: Clear,
    /// Luma and chroma, to be made red, green and blue.
    chroma: bool,
    planar: bool,
    packed: bool,
    samples: usize,
}

/// Reads a TIFF file.
pub(super) fn read(bytes: &[u8], name: &str) -> Result<Decoded, Fault> {
    let broken = |error: TiffError| told(name, &error);
    let mut decoder = opened(bytes).map_err(broken)?;
    let size = decoder.dimensions().map_err(broken)?;
    let kind = kind(&mut decoder, name)?;
    check_size(name, size, kind.samples, kind.bits)?;
    let (across, down) = decoder.chunk_dimensions();
    let piece =
        u64::from(across).saturating_mul(kind.samples as u64 * u64::from(kind.bits / 8).max(1));
    if decoder.get_chunk_type() == ChunkType::Tile
        && piece.saturating_mul(u64::from(down)) > LARGEST_PIECE as u64
    {
        return Err(damaged(name));
    }
    check_alone(bytes, name)?;
    let way = decoder.find_tag_unsigned(Tag::Orientation);
    let way = way.ok().flatten().map_or(Way::UPRIGHT, Way::numbered);
    let profile = match decoder.find_tag(Tag::IccProfile) {
        Ok(Some(value)) => value.into_u8_vec().map_or(Found::Broken, Found::Bytes),
        Ok(None) => Found::None,
        Err(_) => Found::Broken,
    };
    let mut rows = Rows::new(
        size,
        kind.colour.clone(),
        kind.bits,
        kind.clear.clone(),
        true,
    );
    let least = if kind.packed {
        0
    } else {
        rows.row_bytes() * size.1 as usize
    };
    if !is_whole(&mut decoder, bytes.len(), least) {
        return Err(damaged(name));
    }
    unpack(&mut decoder, &kind, size, &mut rows).map_err(broken)?;
    let mut taken = rows.finish();
    let packed = taken.packed.take().ok_or_else(|| damaged(name))?;
    Ok(Decoded {
        size,
        way,
        colour: kind.colour,
        bits: kind.bits,
        pixels: Pixels::Packed(packed),
        taken,
        profile,
    })
}

fn opened(bytes: &[u8]) -> Result<Opened<'_>, TiffError> {
    let mut limits = Limits::default();
    limits.decoding_buffer_size = LARGEST_PIECE;
    limits.intermediate_buffer_size = LARGEST_PIECE;
    limits.ifd_value_size = LARGEST_TAG;
    Ok(Decoder::new(Cursor::new(bytes))?.with_limits(limits))
}

/// What the library says cannot be read, in our words.
fn told(name: &str, error: &TiffError) -> Fault {
    match error {
        TiffError::UnsupportedError(TiffUnsupportedError::UnsupportedCompressionMethod(_)) => {
            let fault = unsupported(name, "a TIFF picture packed in an uncommon way");
            fault.help("save it as PNG, or as TIFF with LZW or without packing")
        }
        TiffError::UnsupportedError(_) => unsupported(name, "a TIFF picture of an uncommon kind"),
        _ => damaged(name),
    }
}

/// Which pixels the tags tell of.
fn kind(decoder: &mut Opened<'_>, name: &str) -> Result<Kind, Fault> {
    let mut number = |tag: Tag, unless: u16| {
        let value = decoder.find_tag_unsigned_vec::<u16>(tag).ok().flatten();
        value
            .and_then(|list| list.first().copied())
            .unwrap_or(unless)
    };
    let refuse = |what: String| Err(unsupported(name, &format!("a TIFF picture {what}")));
    let (photometric, packing) = (
        number(Tag::PhotometricInterpretation, 0),
        number(Tag::Compression, 1),
    );
    let (bits, samples) = (
        number(Tag::BitsPerSample, 1),
        number(Tag::SamplesPerPixel, 1),
    );
    let (format, planar) = (
        number(Tag::SampleFormat, 1),
        number(Tag::PlanarConfiguration, 1),
    );
    let subfile = number(Tag::NewSubfileType, 0);
    if subfile & 1 != 0 {
        return refuse("whose first picture is only a small preview, as cameras write it".into());
    }
    let colour = match photometric {
        0 | 1 => Colour::Grey,
        2 => Colour::Rgb,
        5 => Colour::Cmyk,
        6 if packing == 7 => Colour::Rgb,
        3 => return refuse("with a palette of colours".into()),
        4 => return refuse("that is a mask for another".into()),
        6 => return refuse("of luma and chroma".into()),
        8..=10 => return refuse("in L*a*b* colours".into()),
        32_803 | 34_892 => return refuse("as the sensor of a camera saw it".into()),
        _ => return refuse("of unknown colours".into()),
    };
    match format {
        1 | 4 => {}
        3 => return refuse("of floating-point numbers".into()),
        2 => return refuse("of numbers below nought".into()),
        _ => return refuse("of an unknown kind of numbers".into()),
    }
    let small = photometric < 2 && samples == 1 && [1, 2, 4].contains(&bits);
    if !small && bits != 8 && bits != 16 {
        return refuse(format!("of {bits} bits to a channel"));
    }
    let (channels, samples) = (colour.channels(), usize::from(samples));
    let extra = decoder.find_tag_unsigned_vec::<u16>(Tag::ExtraSamples);
    let extra = extra.ok().flatten().unwrap_or_default();
    let clear = match (samples.checked_sub(channels), extra.as_slice()) {
        (Some(0), _) => Clear::Nothing,
        (Some(1), [1]) => Clear::Sample { multiplied: true },
        (Some(1), [2]) => Clear::Sample { multiplied: false },
        (None, _) => return Err(damaged(name)),
        (Some(more), _) => {
            let channels = if more == 1 { "channel" } else { "channels" };
            return refuse(format!(
                "with {more} {channels} more than its colours need (a saved selection, or a spot ink)"
            ));
        }
    };
    if photometric == 0 && clear != Clear::Nothing {
        return refuse("of inverted greys with transparency".into());
    }
    if photometric == 6 && (clear != Clear::Nothing || bits != 8) {
        return refuse("of luma and chroma with more than those".into());
    }
    Ok(Kind {
        colour,
        bits: bits as u8,
        clear,
        chroma: photometric == 6,
        planar: planar == 2 && samples > 1,
        packed: packing != 1,
        samples,
    })
}

/// Whether the pieces of a picture lie within a file of `length` bytes, and have at least `least` together: else
/// JPEG pieces that are cut short would be taken for grey, and other bytes for pixels.
fn is_whole(decoder: &mut Opened<'_>, length: usize, least: usize) -> bool {
    let tags = match decoder.get_chunk_type() {
        ChunkType::Strip => [Tag::StripOffsets, Tag::StripByteCounts],
        ChunkType::Tile => [Tag::TileOffsets, Tag::TileByteCounts],
    };
    let lists = tags.map(|tag| decoder.find_tag_unsigned_vec::<u64>(tag).ok().flatten());
    let [Some(from), Some(long)] = lists else {
        return false;
    };
    let within = |(from, long): (&u64, &u64)| from.saturating_add(*long) <= length as u64;
    let sum = long
        .iter()
        .fold(0_u64, |sum, long| sum.saturating_add(*long));
    from.iter().zip(&long).all(within) && sum >= least as u64
}

/// Tells a file of several pictures; small previews, and masks of other pictures, are not counted.
fn check_alone(bytes: &[u8], name: &str) -> Result<(), Fault> {
    let Ok(mut decoder) = opened(bytes) else {
        return Ok(());
    };
    let mut pages = 1;
    // Each directory points to the next; a ring of them ends with an error.
    while pages < 100 && decoder.more_images() && decoder.next_image().is_ok() {
        let subfile = decoder.find_tag_unsigned::<u32>(Tag::NewSubfileType);
        let subfile = subfile.ok().flatten().unwrap_or(0);
        pages += usize::from(subfile & 0b101 == 0);
    }
    if pages == 1 {
        return Ok(());
    }
    let what = format!("a TIFF file of {pages} pictures");
    let help = "save the one that is meant as a file by itself";
    Err(unsupported(name, &what).help(help))
}

/// Unpacks a band of strips or tiles at a time.
fn unpack(
    decoder: &mut Opened<'_>,
    kind: &Kind,
    (width, height): (u32, u32),
    rows: &mut Rows,
) -> Result<(), TiffError> {
    let (chunk_width, chunk_height) = decoder.chunk_dimensions();
    let across = match decoder.get_chunk_type() {
        ChunkType::Strip => 1,
        ChunkType::Tile => width.div_ceil(chunk_width),
    };
    let down = height.div_ceil(chunk_height);
    let planes = if kind.planar { kind.samples } else { 1 };
    let row_bytes = rows.row_bytes();
    // Bytes of a sample, and of those of a pixel that lie together.
    let sample = usize::from(kind.bits / 8).max(1);
    let mut band = Vec::new();
    for line in 0..down {
        let high = chunk_height.min(height - line * chunk_height) as usize;
        band.clear();
        band.resize(high * row_bytes, 0);
        for plane in 0..planes {
            for column in 0..across {
                let index = (plane as u32 * down + line) * across + column;
                let bytes = read_piece(decoder, index)?;
                let (wide, _) = decoder.chunk_data_dimensions(index);
                let together = if kind.planar { 1 } else { kind.samples };
                let piece_row = (wide as usize * together * usize::from(kind.bits)).div_ceil(8);
                let left = column as usize * chunk_width as usize * usize::from(kind.bits);
                for (y, from) in bytes.chunks_exact(piece_row).take(high).enumerate() {
                    let row = &mut band[y * row_bytes..(y + 1) * row_bytes];
                    if kind.planar {
                        let pixels = row.chunks_exact_mut(kind.samples * sample);
                        let pixels = pixels.skip(left / usize::from(kind.bits));
                        for (pixel, from) in pixels.zip(from.chunks_exact(sample)) {
                            let at = plane * sample;
                            pixel[at..at + sample].copy_from_slice(from);
                        }
                    } else {
                        let left = left * kind.samples / 8;
                        let right = (left + piece_row).min(row_bytes);
                        row[left..right].copy_from_slice(&from[..right - left]);
                    }
                }
            }
        }
        for row in band.chunks_exact_mut(row_bytes) {
            if kind.chroma {
                row.chunks_exact_mut(3).for_each(to_rgb);
            }
            rows.row(row);
        }
    }
    Ok(())
}

/// A strip or tile, samples of 16 bits with the greater byte first.
fn read_piece(decoder: &mut Opened<'_>, index: u32) -> Result<Vec<u8>, TiffError> {
    Ok(match decoder.read_chunk(index)? {
        DecodingResult::U8(bytes) => bytes,
        DecodingResult::U16(samples) => samples.into_iter().flat_map(u16::to_be_bytes).collect(),
        _ => Vec::new(),
    })
}

/// Luma and chroma of full range to red, green and blue (ITU-R BT.601, as JFIF has it).
fn to_rgb(pixel: &mut [u8]) {
    let [luma, blue, red] = [pixel[0], pixel[1], pixel[2]].map(f32::from);
    let (blue, red) = (blue - 128.0, red - 128.0);
    let rgb = [
        luma + 1.402 * red,
        luma - 0.344_136 * blue - 0.714_136 * red,
        luma + 1.772 * blue,
    ];
    for (byte, light) in pixel.iter_mut().zip(rgb) {
        *byte = light.round().clamp(0.0, 255.0) as u8;
    }
}
