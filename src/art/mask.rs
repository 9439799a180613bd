//! Masks: pictures of a whole panel, white where words may stand.

use std::io::BufReader;
use std::ops::Range;

use png::{ColorType, Decoder, DecodingError, Transformations};

use crate::assets::{Assets, unreadable};
use crate::names::Fault;

/// A mask has at most this many pixels: a panel of half a metre by a metre at 350 to the inch has less.
pub const MOST_PIXELS: u64 = 100_000_000;

/// Pixels as light as this, of 255, are white: where an edge is smoothed, it runs through the middle of its pixels.
const WHITE: u32 = 128;

/// Which pixels of a picture are white.
///
/// What is lighter than mid grey counts as white, and so does what is transparent, for the paper shows there. Greys,
/// colours, palettes and 16 bits a channel are all read; colours by their luma (ITU-R BT.601).
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Mask {
    width: u32,
    /// For each row of pixels its white runs, from the left.
    rows: Vec<Vec<Range<u32>>>,
}

impl Mask {
    /// Reads a mask from a PNG file.
    ///
    /// # Errors
    /// A [`Fault`] of the word `missing`, `is-folder`, `not-a-file`, `no-permission` or `cannot-read`; `not-png`;
    /// `too-large` where it has more than [`MOST_PIXELS`], told before its pixels are read; `damaged`.
    pub fn read(assets: &Assets, name: &str) -> Result<Mask, Fault> {
        let file = assets.open(name, "a PNG picture")?;
        let mut decoder = Decoder::new(BufReader::new(file));
        decoder.set_transformations(Transformations::normalize_to_color8());
        let header = decoder.read_header_info();
        let header = header.map_err(|error| not_png(name, &error))?;
        let (width, height) = (header.width, header.height);
        let pixels = u64::from(width) * u64::from(height);
        if pixels > MOST_PIXELS {
            let what = format!(
                "`{name}` has {width} × {height} pixels, which is {} million",
                pixels.div_ceil(1_000_000)
            );
            let allowed = format!("at most {} million pixels", MOST_PIXELS / 1_000_000);
            let fault = Fault::new("too-large", what).allowed(allowed);
            return Err(fault.help("a mask needs no more than 300 pixels to the inch"));
        }
        let damaged = |error: DecodingError| damaged(name, &error);
        let mut reader = decoder.read_info().map_err(damaged)?;
        let channels = channels(reader.output_color_type().0);
        let mut rows = Vec::with_capacity(height as usize);
        if reader.info().interlaced {
            let size = reader.output_buffer_size().unwrap_or(0);
            let mut pixels = vec![0; size];
            let info = reader.next_frame(&mut pixels).map_err(damaged)?;
            let lines = pixels.chunks_exact(info.line_size.max(1));
            rows.extend(lines.map(|line| runs(line, channels)));
        } else {
            while let Some(row) = reader.next_row().map_err(damaged)? {
                rows.push(runs(row.data(), channels));
            }
        }
        Ok(Mask { width, rows })
    }

    /// Its width in pixels.
    pub fn width(&self) -> u32 {
        self.width
    }

    /// Its height in pixels.
    pub fn height(&self) -> u32 {
        self.rows.len() as u32
    }

    /// The largest run of columns among these that is white in all these rows of pixels; of equals the first.
    pub fn largest_run(&self, rows: Range<u32>, columns: Range<u32>) -> Option<Range<u32>> {
        let mut common = vec![columns];
        for row in rows {
            let white = self.rows.get(row as usize)?;
            common = shared(&common, white);
        }
        let widest =
            |best: Range<u32>, run: Range<u32>| if run.len() > best.len() { run } else { best };
        common
            .into_iter()
            .reduce(widest)
            .filter(|run| !run.is_empty())
    }
}

/// What two lists of runs share.
fn shared(one: &[Range<u32>], other: &[Range<u32>]) -> Vec<Range<u32>> {
    let (mut at, mut against) = (0, 0);
    let mut found = Vec::new();
    while let (Some(a), Some(b)) = (one.get(at), other.get(against)) {
        let both = a.start.max(b.start)..a.end.min(b.end);
        if !both.is_empty() {
            found.push(both);
        }
        if a.end <= b.end {
            at += 1;
        } else {
            against += 1;
        }
    }
    found
}

fn channels(kind: ColorType) -> usize {
    match kind {
        ColorType::Grayscale | ColorType::Indexed => 1,
        ColorType::GrayscaleAlpha => 2,
        ColorType::Rgb => 3,
        ColorType::Rgba => 4,
    }
}

/// The white runs of a row of pixels, of 8 bits a channel.
fn runs(row: &[u8], channels: usize) -> Vec<Range<u32>> {
    let mut found: Vec<Range<u32>> = Vec::new();
    for (at, pixel) in row.chunks_exact(channels).enumerate() {
        if !is_white(pixel) {
            continue;
        }
        let at = at as u32;
        match found.last_mut() {
            Some(run) if run.end == at => run.end += 1,
            _ => found.push(at..at + 1),
        }
    }
    found
}

fn is_white(pixel: &[u8]) -> bool {
    let luma = |red: u8, green: u8, blue: u8| {
        (u32::from(red) * 299 + u32::from(green) * 587 + u32::from(blue) * 114) / 1000
    };
    let (light, alpha) = match *pixel {
        [grey] => (u32::from(grey), 255),
        [grey, alpha] => (u32::from(grey), u32::from(alpha)),
        [red, green, blue] => (luma(red, green, blue), 255),
        [red, green, blue, alpha] => (luma(red, green, blue), u32::from(alpha)),
        _ => return false,
    };
    light * alpha + 255 * (255 - alpha) >= WHITE * 255
}

fn not_png(name: &str, error: &DecodingError) -> Fault {
    if let DecodingError::IoError(error) = error
        && error.kind() != std::io::ErrorKind::UnexpectedEof
    {
        return unreadable(name, error);
    }
    let what = format!("`{name}` is no PNG picture");
    Fault::new("not-png", what)
        .allowed("a PNG picture")
        .help("save it as PNG from the program it was drawn in; a new name is not enough")
}

fn damaged(name: &str, error: &DecodingError) -> Fault {
    if let DecodingError::IoError(error) = error
        && error.kind() != std::io::ErrorKind::UnexpectedEof
    {
        return unreadable(name, error);
    }
    let what = format!("`{name}` is damaged: its pixels cannot be read to the end");
    Fault::new("damaged", what).help("save it anew from the program it was drawn in")
}

#[cfg(test)]
mod tests {
    use super::*;
    use png::{BitDepth, Encoder};

    fn written(kind: ColorType, depth: BitDepth, palette: Option<&[u8]>, data: &[u8]) -> Vec<u8> {
        let mut bytes = Vec::new();
        let mut encoder = Encoder::new(&mut bytes, 4, 2);
        encoder.set_color(kind);
        encoder.set_depth(depth);
        if let Some(palette) = palette {
            encoder.set_palette(palette.to_vec());
        }
        encoder
            .write_header()
            .unwrap()
            .write_image_data(data)
            .unwrap();
        bytes
    }

    fn read(bytes: &[u8]) -> Result<Mask, Fault> {
        Mask::read(
            &Assets::memory().with("words.png", bytes).into(),
            "words.png",
        )
    }

    #[test]
    fn every_kind_of_picture_is_white_in_the_same_places() {
        // The pixels are black, white, dark and light, and so again.
        let grey = [0u8, 255, 127, 128, 0, 255, 127, 128];
        let each = |f: &dyn Fn(u8) -> Vec<u8>| grey.iter().flat_map(|&g| f(g)).collect::<Vec<u8>>();
        use BitDepth::{Eight, Four, One, Sixteen};
        let kinds = [
            (ColorType::Grayscale, Eight, None, grey.to_vec()),
            (ColorType::Grayscale, Sixteen, None, each(&|g| vec![g, 0])),
            (
                ColorType::Grayscale,
                Four,
                None,
                vec![0x0f, 0x78, 0x0f, 0x78],
            ),
            (ColorType::Grayscale, One, None, vec![0b0101_0000; 2]),
            (ColorType::Rgb, Eight, None, each(&|g| vec![g, g, g])),
            (
                ColorType::Rgb,
                Sixteen,
                None,
                each(&|g| vec![g, 0, g, 0, g, 0]),
            ),
            // Black that is half transparent is dark, and what is wholly so is white.
            (
                ColorType::GrayscaleAlpha,
                Eight,
                None,
                each(&|g| vec![0, 255 - g]),
            ),
            (
                ColorType::Rgba,
                Eight,
                None,
                each(&|g| vec![0, 0, 0, 255 - g]),
            ),
            (
                ColorType::Rgba,
                Sixteen,
                None,
                each(&|g| vec![0, 0, 0, 0, 0, 0, 255 - g, 0]),
            ),
            (
                ColorType::Indexed,
                Eight,
                Some(&[0u8, 0, 0, 255, 255, 255, 127, 127, 127, 128, 128, 128][..]),
                vec![0, 1, 2, 3, 0, 1, 2, 3],
            ),
        ];
        for (kind, depth, palette, data) in kinds {
            let mask = read(&written(kind, depth, palette, &data)).unwrap();
            assert_eq!((mask.width(), mask.height()), (4, 2));
            assert_eq!(mask.rows, vec![vec![1..2, 3..4]; 2], "{kind:?} {depth:?}");
        }
    }

    #[test]
    fn the_largest_run_is_white_in_every_row() {
        let mask = Mask {
            width: 20,
            rows: vec![vec![0..5, 7..20], vec![1..9, 10..15, 16..20], vec![0..20]],
        };
        assert_eq!(mask.largest_run(0..1, 0..20), Some(7..20));
        assert_eq!(mask.largest_run(0..2, 0..20), Some(10..15));
        // Among equals the first is taken.
        assert_eq!(mask.largest_run(0..2, 0..14), Some(1..5));
        assert_eq!(mask.largest_run(1..3, 0..20), Some(1..9));
        assert_eq!(mask.largest_run(0..2, 9..10), None);
        assert_eq!(mask.largest_run(0..4, 0..20), None);
    }

    #[test]
    fn what_is_no_mask_is_told() {
        assert_eq!(read(b"GIF89a, and so on").unwrap_err().word, "not-png");
        assert_eq!(read(b"").unwrap_err().word, "not-png");
        let mut sound = written(ColorType::Grayscale, BitDepth::Eight, None, &[255; 8]);
        sound.truncate(sound.len() - 20);
        assert_eq!(read(&sound).unwrap_err().word, "damaged");
        // Its header alone tells that it is too large.
        let mut huge = Vec::new();
        let mut encoder = Encoder::new(&mut huge, 20_000, 20_000);
        encoder.set_color(ColorType::Grayscale);
        drop(encoder.write_header().unwrap());
        let fault = read(&huge[..33]).unwrap_err();
        assert_eq!(fault.word, "too-large");
        assert!(
            fault
                .what
                .contains("20000 × 20000 pixels, which is 400 million"),
            "{}",
            fault.what
        );
    }
}
