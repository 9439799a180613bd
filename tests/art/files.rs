//! Picture files, made here.

use jpeg_encoder::{ColorType as JpegColour, Encoder as JpegEncoder, SamplingFactor};

/// Every picture has this many pixels: rows of one bit are no whole bytes, and tiles of 16 are cut.
pub const SIZE: (u32, u32) = (21, 19);

/// Samples of 8 bits: each channel a slope of its own.
pub fn slopes(channels: usize) -> Vec<u8> {
    let (width, height) = SIZE;
    let pixels = (0..height).flat_map(|y| (0..width).map(move |x| (x, y)));
    let sample = |x: u32, y: u32, channel: usize| match channel {
        0 => 12 * x,
        1 => 13 * y,
        2 => 6 * (x + y),
        _ => 255 - 5 * (x + y),
    };
    let samples = pixels.flat_map(|(x, y)| (0..channels).map(move |at| sample(x, y, at) as u8));
    samples.collect()
}

/// Those in 16 bits, the greater byte first.
pub fn wide(samples: &[u8]) -> Vec<u8> {
    let wide = samples.iter().map(|&s| u16::from(s) * 256 + 77);
    wide.flat_map(u16::to_be_bytes).collect()
}

/// One channel in fewer bits, rows whole bytes.
pub fn narrow(samples: &[u8], bits: u8) -> Vec<u8> {
    let mut packed = Vec::new();
    for row in samples.chunks_exact(SIZE.0 as usize) {
        for pixels in row.chunks(8 / usize::from(bits)) {
            let places = (1..).map(|place| 8 - bits * place);
            let byte = pixels.iter().zip(places);
            packed.push(byte.fold(0, |byte, (s, shift)| byte | (s >> (8 - bits)) << shift));
        }
    }
    packed
}

/// A PNG file; `more` are chunks that stand before the pixels.
pub fn png(
    colour: png::ColorType,
    depth: png::BitDepth,
    pixels: &[u8],
    more: impl FnOnce(&mut png::Info<'_>),
) -> Vec<u8> {
    let mut info = png::Info::with_size(SIZE.0, SIZE.1);
    (info.color_type, info.bit_depth) = (colour, depth);
    more(&mut info);
    let mut bytes = Vec::new();
    let encoder = png::Encoder::with_info(&mut bytes, info).expect("a header");
    let mut writer = encoder.write_header().expect("a header");
    writer.write_image_data(pixels).expect("pixels");
    drop(writer);
    bytes
}

/// A JPEG file; `more` may add segments.
pub fn jpeg(
    colour: JpegColour,
    samples: &[u8],
    more: impl FnOnce(&mut JpegEncoder<&mut Vec<u8>>),
) -> Vec<u8> {
    let mut bytes = Vec::new();
    let mut encoder = JpegEncoder::new(&mut bytes, 95);
    encoder.set_sampling_factor(SamplingFactor::F_1_1);
    more(&mut encoder);
    let (width, height) = SIZE;
    encoder
        .encode(samples, width as u16, height as u16, colour)
        .expect("a picture");
    bytes
}

/// A TIFF file by its tags (number, values of 16 bits) and its pieces, one after the other.
pub fn tiff(little: bool, size: (u32, u32), tags: &[(u16, &[u16])], pieces: &[Vec<u8>]) -> Vec<u8> {
    let tiled = tags.iter().any(|tag| tag.0 == 322);
    let (offsets, counts) = if tiled { (324, 325) } else { (273, 279) };
    let short = |number: u16| match little {
        true => number.to_le_bytes(),
        false => number.to_be_bytes(),
    };
    let long = |number: u32| match little {
        true => number.to_le_bytes(),
        false => number.to_be_bytes(),
    };
    let mut at = 8;
    let starts = pieces.iter().map(|piece| {
        let start = at;
        at += piece.len() as u32;
        start
    });
    let starts: Vec<u32> = starts.collect();
    let lengths = pieces.iter().map(|piece| piece.len() as u32).collect();
    let mut entries: Vec<(u16, u16, Vec<u32>)> = vec![
        (256, 4, vec![size.0]),
        (257, 4, vec![size.1]),
        (offsets, 4, starts),
        (counts, 4, lengths),
    ];
    for (tag, values) in tags {
        entries.push((*tag, 3, values.iter().map(|&value| value.into()).collect()));
    }
    entries.sort();
    let directory = at.next_multiple_of(2);
    let mut bytes = if little { b"II*\0" } else { b"MM\0*" }.to_vec();
    bytes.extend(long(directory));
    bytes.extend(pieces.iter().flatten());
    bytes.resize(directory as usize, 0);
    bytes.extend(short(entries.len() as u16));
    let mut beyond = directory + 2 + 12 * entries.len() as u32 + 4;
    let mut values_beyond = Vec::new();
    for (tag, kind, values) in &entries {
        bytes.extend([short(*tag), short(*kind)].concat());
        bytes.extend(long(values.len() as u32));
        let written = values.iter().flat_map(|&value| match kind {
            3 => short(value as u16).to_vec(),
            _ => long(value).to_vec(),
        });
        let mut written: Vec<u8> = written.collect();
        if written.len() <= 4 {
            written.resize(4, 0);
            bytes.extend(written);
        } else {
            bytes.extend(long(beyond));
            beyond += written.len() as u32;
            values_beyond.extend(written);
        }
    }
    bytes.extend(long(0));
    bytes.extend(values_beyond);
    bytes
}
