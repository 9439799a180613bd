//! JPEG (ITU-T T.81): its markers are read here, and it goes into a PDF as it is; its pixels are only looked at.

use zune_core::bytestream::ZCursor;
use zune_core::colorspace::ColorSpace;
use zune_core::options::DecoderOptions;
use zune_jpeg::JpegDecoder;
use zune_jpeg::errors::DecodeErrors;

use super::kind::{check_size, damaged, unsupported};
use super::orientation::{self, Orientation};
use super::pixels::{Colour, PixelRows, Transparency};
use super::{DecodedPicture, EmbeddedProfile, Pixels};
use crate::names::Fault;

/// What the markers of a file say.
struct JpegHeader {
    /// The marker that begins the picture, and so how it is coded.
    frame: u8,
    bits: u8,
    width: u32,
    height: u32,
    components: Vec<u8>,
    /// The transform of an Adobe marker, if there is one.
    adobe: Option<u8>,
    /// Whether there is a JFIF marker: three channels are then luma and chroma.
    jfif: bool,
    orientation: Orientation,
    profile: EmbeddedProfile,
}

/// Reads a JPEG file.
///
/// # Errors
/// A [`Fault`] of the word `wrong-kind` for a kind of JPEG that PDFs do not take, `too-large` or `damaged`.
pub(super) fn read(bytes: Vec<u8>, name: &str) -> Result<DecodedPicture, Fault> {
    let header = header(&bytes).ok_or_else(|| damaged(name))?;
    let what = match header.frame {
        0xc0..=0xc2 if header.bits == 8 => None,
        0xc0..=0xc2 => Some("a JPEG picture of 12 bits"),
        0xc3 => Some("a JPEG picture packed without loss"),
        0xc9..=0xcb => Some("a JPEG picture in arithmetic coding"),
        _ => Some("a JPEG picture of several layers of size"),
    };
    if let Some(what) = what {
        return Err(unsupported(name, what));
    }
    let colour = match header.components.len() {
        1 => Colour::Grey,
        3 => Colour::Rgb,
        4 => Colour::Cmyk,
        count => {
            let what = format!("a JPEG picture of {count} channels");
            return Err(unsupported(name, &what));
        }
    };
    if header.height == 0 {
        let what = "a JPEG picture that tells its height only at its end";
        return Err(unsupported(name, what));
    }
    let size = (header.width, header.height);
    check_size(name, size, colour.channels(), 8)?;
    let rows = looked_at(&bytes, &header, &colour).map_err(|error| match error {
        DecodeErrors::Unsupported(_) => unsupported(name, "a JPEG picture of an uncommon kind"),
        _ => damaged(name),
    })?;
    // Where no marker says otherwise, three channels called R, G and B are those.
    let plain_rgb = header.components == *b"RGB" && header.adobe.is_none() && !header.jfif;
    Ok(DecodedPicture {
        size,
        orientation: header.orientation,
        bits: 8,
        pixels: Pixels::Jpeg {
            // Programs that write the marker write inks the other way round: 255 is none.
            inverted: colour == Colour::Cmyk && header.adobe.is_some(),
            plain_rgb,
            bytes,
        },
        colour,
        packed_rows: rows.finish(),
        profile: header.profile,
    })
}

/// Unpacks the pixels once, which proves that the file is whole, and looks at its edges.
fn looked_at(
    bytes: &[u8],
    header: &JpegHeader,
    colour: &Colour,
) -> Result<PixelRows, DecodeErrors> {
    let out = match (colour, header.adobe) {
        (Colour::Grey | Colour::Palette(_), _) => ColorSpace::Luma,
        // Luma and chroma of inks: the decoder knows how they become light.
        (Colour::Rgb, _) | (Colour::Cmyk, Some(2)) => ColorSpace::RGB,
        (Colour::Cmyk, _) => ColorSpace::CMYK,
    };
    let options = DecoderOptions::default()
        .set_strict_mode(true)
        .set_max_width(usize::from(u16::MAX))
        .set_max_height(usize::from(u16::MAX))
        .jpeg_set_out_colorspace(out);
    let mut decoder = JpegDecoder::new_with_options(ZCursor::new(bytes), options);
    let mut pixels = decoder.decode()?;
    if out == ColorSpace::CMYK && header.adobe.is_some() {
        pixels.iter_mut().for_each(|ink| *ink = 255 - *ink);
    }
    let seen = match out {
        ColorSpace::Luma => Colour::Grey,
        ColorSpace::CMYK => Colour::Cmyk,
        _ => Colour::Rgb,
    };
    let size = (header.width, header.height);
    let mut rows = PixelRows::new(size, seen, 8, Transparency::Nothing, false);
    for row in pixels.chunks_exact(rows.row_bytes()) {
        rows.row(row);
    }
    Ok(rows)
}

/// Reads the markers up to the one that ends the picture; nothing where they break off or make no sense.
fn header(bytes: &[u8]) -> Option<JpegHeader> {
    let mut found = JpegSegments::default();
    let mut at = 2;
    loop {
        let marker = next_marker(bytes, &mut at)?;
        match marker {
            0xd9 => return found.finish(),
            // TEM and the restart markers stand alone.
            0x01 | 0xd0..=0xd7 => continue,
            _ => {}
        }
        let length = usize::from(u16::from_be_bytes(*bytes.get(at..)?.first_chunk()?));
        let segment = bytes.get(at + 2..at + length)?;
        at += length;
        found.take(marker, segment)?;
        if marker == 0xda {
            skip_pixels(bytes, &mut at)?;
        }
    }
}

/// The marker at a place, which is moved behind it. Any number of fill bytes may stand before a marker.
fn next_marker(bytes: &[u8], at: &mut usize) -> Option<u8> {
    if *bytes.get(*at)? != 0xff {
        return None;
    }
    while *bytes.get(*at)? == 0xff {
        *at += 1;
    }
    *at += 1;
    Some(bytes[*at - 1])
}

/// Moves a place behind packed pixels: to a marker that is neither a zero byte nor a restart.
fn skip_pixels(bytes: &[u8], at: &mut usize) -> Option<()> {
    loop {
        let next = bytes.get(*at..*at + 2)?;
        if next[0] == 0xff && !matches!(next[1], 0 | 0xd0..=0xd7 | 0xff) {
            return Some(());
        }
        *at += 1;
    }
}

/// What the segments of a file say that have been read.
#[derive(Default)]
struct JpegSegments<'a> {
    /// By the first frame; what other segments say is filled in at the end.
    header: Option<JpegHeader>,
    adobe: Option<u8>,
    jfif: bool,
    orientation: Option<Orientation>,
    /// The pieces of a colour profile: the number of each, how many it says that there are, and its bytes.
    profile: Vec<(u8, u8, &'a [u8])>,
}

impl<'a> JpegSegments<'a> {
    /// Takes a segment; nothing where it is a frame that makes no sense.
    fn take(&mut self, marker: u8, segment: &'a [u8]) -> Option<()> {
        match marker {
            // The markers DHT, JPG and DAC begin no frames.
            0xc0..=0xcf if ![0xc4, 0xc8, 0xcc].contains(&marker) => {
                let header = frame(marker, segment)?;
                self.header.get_or_insert(header);
            }
            0xe0 => self.jfif |= segment.starts_with(b"JFIF\0"),
            0xe1 => {
                if let Some(exif) = segment.strip_prefix(b"Exif\0\0") {
                    self.orientation = Some(orientation::from_exif(exif));
                }
            }
            0xe2 => {
                if let Some([number, of, data @ ..]) = segment.strip_prefix(b"ICC_PROFILE\0") {
                    self.profile.push((*number, *of, data));
                }
            }
            0xee if segment.starts_with(b"Adobe") => self.adobe = segment.get(11).copied(),
            _ => {}
        }
        Some(())
    }

    fn finish(self) -> Option<JpegHeader> {
        Some(JpegHeader {
            adobe: self.adobe,
            jfif: self.jfif,
            orientation: self.orientation.unwrap_or(Orientation::UPRIGHT),
            profile: joined(self.profile),
            ..self.header?
        })
    }
}

/// What a frame says: how the picture is coded, its size in pixels and its channels.
fn frame(marker: u8, segment: &[u8]) -> Option<JpegHeader> {
    let two = |at: usize| {
        let bytes = segment.get(at..)?.first_chunk()?;
        Some(u32::from(u16::from_be_bytes(*bytes)))
    };
    let components = segment.get(6..)?.chunks_exact(3);
    let header = JpegHeader {
        frame: marker,
        bits: *segment.first()?,
        height: two(1)?,
        width: two(3)?,
        components: components.map(|component| component[0]).collect(),
        adobe: None,
        jfif: false,
        orientation: Orientation::UPRIGHT,
        profile: EmbeddedProfile::None,
    };
    let count = usize::from(*segment.get(5)?);
    (header.width > 0 && header.components.len() == count).then_some(header)
}

/// A profile from its pieces in their order (ICC.1:2004-10, annex B.4); a broken one where some are missing.
fn joined(mut chunks: Vec<(u8, u8, &[u8])>) -> EmbeddedProfile {
    if chunks.is_empty() {
        return EmbeddedProfile::None;
    }
    chunks.sort_by_key(|chunk| chunk.0);
    let count = chunks.len();
    let mut places = chunks.iter().enumerate();
    let whole = places
        .all(|(at, &(number, of, _))| usize::from(number) == at + 1 && usize::from(of) == count);
    match whole {
        true => EmbeddedProfile::Bytes(
            chunks
                .into_iter()
                .flat_map(|chunk| chunk.2)
                .copied()
                .collect(),
        ),
        false => EmbeddedProfile::Broken,
    }
}
