//! JPEG (ITU-T T.81): its markers are read here, and it goes into a PDF as it is; its pixels are only looked at.

use zune_core::bytestream::ZCursor;
use zune_core::colorspace::ColorSpace;
use zune_core::options::DecoderOptions;
use zune_jpeg::JpegDecoder;
use zune_jpeg::errors::DecodeErrors;

use super::kind::{check_size, damaged, unsupported};
use super::pixels::{Clear, Colour, Rows};
use super::way::{self, Way};
use super::{Decoded, Found, Pixels};
use crate::names::Fault;

/// What the markers of a file say.
struct Header {
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
    way: Way,
    profile: Found,
}

/// Reads a JPEG file.
pub(super) fn read(bytes: Vec<u8>, name: &str) -> Result<Decoded, Fault> {
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
    Ok(Decoded {
        size,
        way: header.way,
        bits: 8,
        pixels: Pixels::Jpeg {
            // Programs that write the marker write inks the other way round: 255 is none.
            inverted: colour == Colour::Cmyk && header.adobe.is_some(),
            plain_rgb,
            bytes,
        },
        colour,
        taken: rows.finish(),
        profile: header.profile,
    })
}

/// Unpacks the pixels once, which proves that the file is whole, and looks at its edges.
fn looked_at(bytes: &[u8], header: &Header, colour: &Colour) -> Result<Rows, DecodeErrors> {
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
    let mut rows = Rows::new(size, seen, 8, Clear::Nothing, false);
    for row in pixels.chunks_exact(rows.row_bytes()) {
        rows.row(row);
    }
    Ok(rows)
}

/// Reads the markers up to the one that ends the picture; nothing where they break off or make no sense.
fn header(bytes: &[u8]) -> Option<Header> {
    let mut found: Option<Header> = None;
    let (mut adobe, mut jfif, mut way) = (None, false, Way::UPRIGHT);
    let mut chunks: Vec<(u8, u8, &[u8])> = Vec::new();
    let mut at = 2;
    loop {
        // Any number of fill bytes may stand before a marker.
        if *bytes.get(at)? != 0xff {
            return None;
        }
        while *bytes.get(at)? == 0xff {
            at += 1;
        }
        let marker = bytes[at];
        at += 1;
        match marker {
            0xd9 => break,
            0x01 | 0xd0..=0xd7 => continue,
            _ => {}
        }
        let length = usize::from(u16::from_be_bytes(*bytes.get(at..)?.first_chunk()?));
        let segment = bytes.get(at + 2..at + length)?;
        at += length;
        match marker {
            // DHT, JPG and DAC are no frames.
            0xc0..=0xcf if ![0xc4, 0xc8, 0xcc].contains(&marker) => {
                let two = |at: usize| {
                    let bytes = segment.get(at..)?.first_chunk()?;
                    Some(u32::from(u16::from_be_bytes(*bytes)))
                };
                let components = segment.get(6..)?.chunks_exact(3);
                let header = Header {
                    frame: marker,
                    bits: *segment.first()?,
                    height: two(1)?,
                    width: two(3)?,
                    components: components.map(|component| component[0]).collect(),
                    adobe: None,
                    jfif: false,
                    way: Way::UPRIGHT,
                    profile: Found::None,
                };
                if header.width == 0 || header.components.len() != usize::from(*segment.get(5)?) {
                    return None;
                }
                found.get_or_insert(header);
            }
            0xe1 => {
                if let Some(exif) = segment.strip_prefix(b"Exif\0\0") {
                    way = way::from_exif(exif);
                }
            }
            0xe2 => {
                if let Some([number, of, data @ ..]) = segment.strip_prefix(b"ICC_PROFILE\0") {
                    chunks.push((*number, *of, data));
                }
            }
            0xe0 => jfif |= segment.starts_with(b"JFIF\0"),
            0xee if segment.starts_with(b"Adobe") => adobe = segment.get(11).copied(),
            // The pixels follow, up to a marker that is neither a nought byte nor a restart.
            0xda => loop {
                let next = bytes.get(at..at + 2)?;
                if next[0] == 0xff && !matches!(next[1], 0 | 0xd0..=0xd7 | 0xff) {
                    break;
                }
                at += 1;
            },
            _ => {}
        }
    }
    let mut header = found?;
    (header.adobe, header.jfif, header.way) = (adobe, jfif, way);
    header.profile = joined(chunks);
    Some(header)
}

/// The pieces of a profile in their order (ICC.1:2004-10, annex B.4).
fn joined(mut chunks: Vec<(u8, u8, &[u8])>) -> Found {
    if chunks.is_empty() {
        return Found::None;
    }
    chunks.sort_by_key(|chunk| chunk.0);
    let count = chunks.len();
    let mut places = chunks.iter().enumerate();
    let whole = places
        .all(|(at, &(number, of, _))| usize::from(number) == at + 1 && usize::from(of) == count);
    match whole {
        true => Found::Bytes(
            chunks
                .into_iter()
                .flat_map(|chunk| chunk.2)
                .copied()
                .collect(),
        ),
        false => Found::Broken,
    }
}
