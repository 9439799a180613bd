//! Picture files of every kind that is packed without loss, with the pixels that they have.

use super::files::{SIZE, narrow, png, slopes, tiff, wide};

/// A made file.
pub struct File {
    pub name: &'static str,
    pub bytes: Vec<u8>,
    /// Its samples as a PDF has them: without transparency, rows whole bytes, the greater byte first.
    pub samples: Vec<u8>,
    /// How opaque its pixels are, likewise; empty where all are.
    pub cover: Vec<u8>,
    pub channels: usize,
    pub bits: u8,
}

/// Samples of 16 bits in a file that begins with the lesser byte.
fn swapped(samples: &[u8]) -> Vec<u8> {
    samples
        .chunks_exact(2)
        .flat_map(|pair| [pair[1], pair[0]])
        .collect()
}

/// Every file of the kinds that are packed without loss.
pub fn lossless() -> Vec<File> {
    [
        png_files(),
        tiff_files(),
        packed_tiff_files(),
        transparent(),
    ]
    .into_iter()
    .flatten()
    .collect()
}

/// A file all of whose pixels are opaque.
fn file(name: &'static str, bytes: Vec<u8>, samples: &[u8], channels: usize, bits: u8) -> File {
    File {
        name,
        bytes,
        samples: samples.to_vec(),
        cover: Vec::new(),
        channels,
        bits,
    }
}

/// PNG of every depth.
fn png_files() -> Vec<File> {
    use png::{BitDepth, ColorType};
    let (grey, rgb) = (slopes(1), slopes(3));
    let palette: Vec<u8> = (0..16)
        .flat_map(|at| [at * 16, 255 - at * 15, 90])
        .collect();
    let plain = |_: &mut png::Info<'_>| {};
    let mut files = Vec::new();
    for (name, depth, bits) in [
        ("grey-1.png", BitDepth::One, 1),
        ("grey-2.png", BitDepth::Two, 2),
        ("grey-4.png", BitDepth::Four, 4),
    ] {
        let packed = narrow(&grey, bits);
        files.push(file(
            name,
            png(ColorType::Grayscale, depth, &packed, plain),
            &packed,
            1,
            bits,
        ));
    }
    let made = png(ColorType::Grayscale, BitDepth::Eight, &grey, plain);
    files.push(file("grey-8.png", made, &grey, 1, 8));
    let made = png(ColorType::Rgb, BitDepth::Eight, &rgb, plain);
    files.push(file("rgb-8.png", made, &rgb, 3, 8));
    let made = png(ColorType::Rgb, BitDepth::Sixteen, &wide(&rgb), plain);
    files.push(file("rgb-16.png", made, &wide(&rgb), 3, 16));
    let packed = narrow(&grey, 4);
    let with_palette = |info: &mut png::Info<'_>| info.palette = Some(palette.clone().into());
    let made = png(ColorType::Indexed, BitDepth::Four, &packed, with_palette);
    files.push(file("palette.png", made, &packed, 1, 4));
    files
}

/// TIFF of every depth and colour, in rows, planes and tiles.
fn tiff_files() -> Vec<File> {
    let (grey, rgb, inks) = (slopes(1), slopes(3), slopes(4));
    let mut files = Vec::new();
    let with = |tags: &[(u16, &[u16])], pieces: &[Vec<u8>]| tiff(true, SIZE, tags, pieces);
    let black: &[u16] = &[1];
    let one = narrow(&grey, 1);
    let made = with(&[(258, &[1]), (262, black)], std::slice::from_ref(&one));
    files.push(file("grey-1.tif", made, &one, 1, 1));
    let inverted: Vec<u8> = one.iter().map(|byte| !byte).collect();
    let made = with(&[(258, &[1]), (262, &[0])], &[inverted]);
    files.push(file("white-is-nought.tif", made, &one, 1, 1));
    let rows: Vec<Vec<u8>> = rgb.chunks(5 * 21 * 3).map(<[u8]>::to_vec).collect();
    let of_rgb: &[(u16, &[u16])] = &[(258, &[8, 8, 8]), (262, &[2]), (277, &[3])];
    let made = with(&[of_rgb, &[(278, &[5])]].concat(), &rows);
    files.push(file("rgb-8.tif", made, &rgb, 3, 8));
    let planes: Vec<Vec<u8>> = (0..3)
        .map(|channel| rgb.iter().skip(channel).step_by(3).copied().collect())
        .collect();
    let made = with(&[of_rgb, &[(284, &[2])]].concat(), &planes);
    files.push(file("planes.tif", made, &rgb, 3, 8));
    let made = with(
        &[of_rgb, &[(322, &[16]), (323, &[16])]].concat(),
        &tiles(&rgb, 3),
    );
    files.push(file("tiles.tif", made, &rgb, 3, 8));
    let of_inks: &[(u16, &[u16])] = &[(258, &[8; 4]), (262, &[5]), (277, &[4])];
    files.push(file(
        "inks.tif",
        with(of_inks, std::slice::from_ref(&inks)),
        &inks,
        4,
        8,
    ));
    let of_wide: &[(u16, &[u16])] = &[(258, &[16; 3]), (262, &[2]), (277, &[3])];
    let made = with(of_wide, &[swapped(&wide(&rgb))]);
    files.push(file("rgb-16.tif", made, &wide(&rgb), 3, 16));
    let made = tiff(false, SIZE, of_wide, &[wide(&rgb)]);
    files.push(file("rgb-16-greater-first.tif", made, &wide(&rgb), 3, 16));
    files
}

/// TIFF as another program packs it.
fn packed_tiff_files() -> Vec<File> {
    let rgb = slopes(3);
    let mut files = Vec::new();
    for (name, compression) in [
        ("lzw.tif", tiff::encoder::Compression::Lzw),
        (
            "deflate.tif",
            tiff::encoder::Compression::Deflate(Default::default()),
        ),
        ("packbits.tif", tiff::encoder::Compression::Packbits),
    ] {
        let mut bytes = std::io::Cursor::new(Vec::new());
        let encoder = tiff::encoder::TiffEncoder::new(&mut bytes).expect("a header");
        let mut encoder = encoder
            .with_compression(compression)
            .with_predictor(match name {
                "packbits.tif" => tiff::encoder::Predictor::None,
                _ => tiff::encoder::Predictor::Horizontal,
            });
        let written = encoder.write_image::<tiff::encoder::colortype::RGB8>(SIZE.0, SIZE.1, &rgb);
        written.expect("a picture");
        files.push(file(name, bytes.into_inner(), &rgb, 3, 8));
    }
    files
}

/// The tiles of 16 × 16 pixels that samples of 8 bits are cut into.
fn tiles(samples: &[u8], channels: usize) -> Vec<Vec<u8>> {
    let (width, height) = (SIZE.0 as usize, SIZE.1 as usize);
    let mut tiles = Vec::new();
    for top in (0..height).step_by(16) {
        for left in (0..width).step_by(16) {
            let pixels = (top..top + 16).flat_map(|y| (left..left + 16).map(move |x| (x, y)));
            let tile = pixels.flat_map(|(x, y)| {
                let at = (y.min(height - 1) * width + x.min(width - 1)) * channels;
                samples[at..at + channels].to_vec()
            });
            tiles.push(tile.collect());
        }
    }
    tiles
}

/// Files that let the paper show.
fn transparent() -> Vec<File> {
    let mut files = with_a_channel();
    files.extend([with_a_key(), with_a_palette()]);
    files
}

/// Those that have a channel for it.
fn with_a_channel() -> Vec<File> {
    use png::{BitDepth, ColorType};
    let rgb = slopes(3);
    let cover: Vec<u8> = slopes(2).iter().skip(1).step_by(2).copied().collect();
    let with_cover: Vec<u8> = rgb
        .chunks_exact(3)
        .zip(&cover)
        .flat_map(|(pixel, &cover)| [pixel, &[cover]].concat())
        .collect();
    let made = |depth, of: &[u8]| png(ColorType::Rgba, depth, of, |_| {});
    let tags = |kind: u16| {
        tiff(
            true,
            SIZE,
            &[(258, &[8; 4]), (262, &[2]), (277, &[4]), (338, &[kind])],
            std::slice::from_ref(&with_cover),
        )
    };
    let of = |name, bytes| File {
        cover: cover.clone(),
        ..file(name, bytes, &rgb, 3, 8)
    };
    let deep = made(BitDepth::Sixteen, &wide(&with_cover));
    vec![
        of("alpha-8.png", made(BitDepth::Eight, &with_cover)),
        File {
            cover: wide(&cover),
            ..file("alpha-16.png", deep, &wide(&rgb), 3, 16)
        },
        of("alpha.tif", tags(2)),
        of("multiplied.tif", tags(1)),
    ]
}

/// One in which the colour of the pixel at 3, 2 stands for paper; no other has it.
fn with_a_key() -> File {
    let rgb = slopes(3);
    let key = &rgb[(2 * 21 + 3) * 3..][..3];
    let keyed = |info: &mut png::Info<'_>| {
        info.trns = Some(key.iter().flat_map(|&s| [0, s]).collect::<Vec<u8>>().into());
    };
    let all_but_one: Vec<u8> = (0..21 * 19)
        .map(|at| if at == 45 { 0 } else { 255 })
        .collect();
    let made = png(png::ColorType::Rgb, png::BitDepth::Eight, &rgb, keyed);
    File {
        cover: narrow(&all_but_one, 1),
        ..file("key.png", made, &rgb, 3, 8)
    }
}

/// One whose palette has colours that let paper through.
fn with_a_palette() -> File {
    let grey = slopes(1);
    let packed = narrow(&grey, 4);
    let palette: Vec<u8> = (0..16).flat_map(|at| [at * 16, 9, 9]).collect();
    let half = |info: &mut png::Info<'_>| {
        info.palette = Some(palette.into());
        info.trns = Some(vec![0, 64, 128].into());
    };
    let cover = grey.iter().map(|s| match s >> 4 {
        at @ 0..=2 => at * 64,
        _ => 255,
    });
    let made = png(png::ColorType::Indexed, png::BitDepth::Four, &packed, half);
    File {
        cover: cover.collect(),
        ..file("palette-alpha.png", made, &packed, 1, 4)
    }
}
