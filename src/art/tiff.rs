//! TIFF (revision 6.0): its first picture, unpacked in strips or tiles and packed again.

use std::io::Cursor;

use tiff::decoder::{ChunkType, Decoder, DecodingResult, Limits};
use tiff::tags::Tag;
use tiff::{TiffError, TiffUnsupportedError};

use super::kind::{check_size, damaged, unsupported};
use super::orientation::Orientation;
use super::pixels::{Colour, PixelRows, Transparency};
use super::{DecodedPicture, EmbeddedProfile, Pixels};
use crate::names::Fault;

/// The largest value of a tag: a profile, or the places of the strips.
const LARGEST_TAG: usize = 50_000_000;

/// The most bytes that are unpacked at once.
const LARGEST_PIECE: usize = 600_000_000;

type TiffDecoder<'a> = Decoder<Cursor<&'a [u8]>>;

/// How the pixels lie in the file.
struct PixelLayout {
    colour: Colour,
    bits: u8,
    transparency: Transparency,
    /// Luma and chroma, to be made red, green and blue.
    chroma: bool,
    planar: bool,
    packed: bool,
    samples: usize,
}

/// Reads a TIFF file.
///
/// # Errors
/// A [`Fault`] of the word `wrong-kind` for pixels that no PDF takes and for a file of several pictures, `too-large` or
/// `damaged`.
pub(super) fn read(bytes: &[u8], name: &str) -> Result<DecodedPicture, Fault> {
    let broken = |error: TiffError| unreadable(name, &error);
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
    let orientation = decoder.find_tag_unsigned(Tag::Orientation);
    let orientation = orientation
        .ok()
        .flatten()
        .map_or(Orientation::UPRIGHT, Orientation::numbered);
    let profile = match decoder.find_tag(Tag::IccProfile) {
        Ok(Some(value)) => value
            .into_u8_vec()
            .map_or(EmbeddedProfile::Broken, EmbeddedProfile::Bytes),
        Ok(None) => EmbeddedProfile::None,
        Err(_) => EmbeddedProfile::Broken,
    };
    let mut rows = PixelRows::new(
        size,
        kind.colour.clone(),
        kind.bits,
        kind.transparency.clone(),
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
    let mut packed_rows = rows.finish();
    let packed = packed_rows.packed.take().ok_or_else(|| damaged(name))?;
    Ok(DecodedPicture {
        size,
        orientation,
        colour: kind.colour,
        bits: kind.bits,
        pixels: Pixels::Packed(packed),
        packed_rows,
        profile,
    })
}

fn opened(bytes: &[u8]) -> Result<TiffDecoder<'_>, TiffError> {
    let mut limits = Limits::default();
    limits.decoding_buffer_size = LARGEST_PIECE;
    limits.intermediate_buffer_size = LARGEST_PIECE;
    limits.ifd_value_size = LARGEST_TAG;
    Ok(Decoder::new(Cursor::new(bytes))?.with_limits(limits))
}

/// A fault for what the library cannot read.
fn unreadable(name: &str, error: &TiffError) -> Fault {
    match error {
        TiffError::UnsupportedError(TiffUnsupportedError::UnsupportedCompressionMethod(_)) => {
            let fault = unsupported(name, "a TIFF picture packed in an uncommon way");
            fault.help("save it as PNG, or as TIFF with LZW or without packing")
        }
        TiffError::UnsupportedError(_) => unsupported(name, "a TIFF picture of an uncommon kind"),
        _ => damaged(name),
    }
}

/// The numbers of the tags that tell how pixels lie (TIFF 6.0, section 8); the standard's defaults where there is none.
struct TiffTags {
    photometric: u16,
    compression: u16,
    bits: u16,
    samples: u16,
    format: u16,
    planar: u16,
    subfile: u16,
    /// What each channel beyond the colours is: 1 and 2 are transparency, with colours multiplied by it and without.
    extra: Vec<u16>,
}

impl TiffTags {
    fn read(decoder: &mut TiffDecoder<'_>) -> TiffTags {
        let mut list = |tag: Tag| {
            let value = decoder.find_tag_unsigned_vec::<u16>(tag);
            value.ok().flatten().unwrap_or_default()
        };
        let mut number = |tag, default| list(tag).first().copied().unwrap_or(default);
        TiffTags {
            photometric: number(Tag::PhotometricInterpretation, 0),
            compression: number(Tag::Compression, 1),
            bits: number(Tag::BitsPerSample, 1),
            samples: number(Tag::SamplesPerPixel, 1),
            format: number(Tag::SampleFormat, 1),
            planar: number(Tag::PlanarConfiguration, 1),
            subfile: number(Tag::NewSubfileType, 0),
            extra: list(Tag::ExtraSamples),
        }
    }

    /// Whether the pixels are luma and chroma. Only those that a JPEG decoder unpacks are taken.
    fn is_chroma(&self) -> bool {
        self.photometric == 6
    }

    /// What colours the samples are.
    ///
    /// # Errors
    /// What the picture is, in words that follow "a TIFF picture", where no PDF takes its colours.
    fn colour(&self) -> Result<Colour, String> {
        if self.subfile & 1 != 0 {
            return Err("whose first picture is only a small preview, as cameras write it".into());
        }
        let refused = match self.photometric {
            0 | 1 => return Ok(Colour::Grey),
            2 => return Ok(Colour::Rgb),
            5 => return Ok(Colour::Cmyk),
            6 if self.compression == 7 => return Ok(Colour::Rgb),
            3 => "with a palette of colours",
            4 => "that is a mask for another",
            6 => "of luma and chroma",
            8..=10 => "in L*a*b* colours",
            32_803 | 34_892 => "as the sensor of a camera saw it",
            _ => "of unknown colours",
        };
        Err(refused.into())
    }

    /// Refuses samples that are no whole numbers of a usual width.
    fn check_samples(&self) -> Result<(), String> {
        match self.format {
            1 | 4 => {}
            3 => return Err("of floating-point numbers".into()),
            2 => return Err("of numbers below zero".into()),
            _ => return Err("of an unknown kind of numbers".into()),
        }
        let small = self.photometric < 2 && self.samples == 1 && [1, 2, 4].contains(&self.bits);
        match small || self.bits == 8 || self.bits == 16 {
            true => Ok(()),
            false => Err(format!("of {} bits to a channel", self.bits)),
        }
    }

    /// Which pixels are transparent, where there are at least as many channels as colours need.
    fn transparency(&self, colour: &Colour) -> Result<Transparency, String> {
        let more = usize::from(self.samples).saturating_sub(colour.channels());
        let transparency = match (more, self.extra.as_slice()) {
            (0, _) => Transparency::Nothing,
            (1, [1]) => Transparency::Sample { multiplied: true },
            (1, [2]) => Transparency::Sample { multiplied: false },
            (more, _) => {
                let channels = if more == 1 { "channel" } else { "channels" };
                return Err(format!(
                    "with {more} {channels} more than its colours need (a saved selection, or a spot ink)"
                ));
            }
        };
        if self.photometric == 0 && transparency != Transparency::Nothing {
            return Err("of inverted greys with transparency".into());
        }
        if self.is_chroma() && (transparency != Transparency::Nothing || self.bits != 8) {
            return Err("of luma and chroma with more than those".into());
        }
        Ok(transparency)
    }
}

/// How the pixels lie, by the tags.
///
/// # Errors
/// A picture that no PDF takes; too few channels for the colours, as in a damaged file.
fn kind(decoder: &mut TiffDecoder<'_>, name: &str) -> Result<PixelLayout, Fault> {
    let tags = TiffTags::read(decoder);
    let refuse = |what: String| unsupported(name, &format!("a TIFF picture {what}"));
    let colour = tags.colour().map_err(refuse)?;
    tags.check_samples().map_err(refuse)?;
    let samples = usize::from(tags.samples);
    if samples < colour.channels() {
        return Err(damaged(name));
    }
    let transparency = tags.transparency(&colour).map_err(refuse)?;
    Ok(PixelLayout {
        colour,
        bits: tags.bits as u8,
        transparency,
        chroma: tags.is_chroma(),
        planar: tags.planar == 2 && samples > 1,
        packed: tags.compression != 1,
        samples,
    })
}

/// Whether the pieces of a picture lie within a file of `length` bytes, and have at least `least` together: otherwise
/// JPEG pieces that are cut short would be taken for grey, and other bytes for pixels.
fn is_whole(decoder: &mut TiffDecoder<'_>, length: usize, least: usize) -> bool {
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

/// Refuses a file of several pictures; small previews, and masks of other pictures, are not counted.
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
    decoder: &mut TiffDecoder<'_>,
    kind: &PixelLayout,
    (width, height): (u32, u32),
    rows: &mut PixelRows,
) -> Result<(), TiffError> {
    let (chunk_width, chunk_height) = decoder.chunk_dimensions();
    let across = match decoder.get_chunk_type() {
        ChunkType::Strip => 1,
        ChunkType::Tile => width.div_ceil(chunk_width),
    };
    let down = height.div_ceil(chunk_height);
    let planes = if kind.planar { kind.samples } else { 1 };
    let row_bytes = rows.row_bytes();
    // A sample takes at least one byte.
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
fn read_piece(decoder: &mut TiffDecoder<'_>, index: u32) -> Result<Vec<u8>, TiffError> {
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
