//! Files that cannot be used: each is told, with what would be right.

use jpeg_encoder::ColorType;
use png::{BitDepth, ColorType as PngColour};
use versefold::art::Art;

use crate::files::{SIZE, jpeg, lossless, png, slopes, tiff};
use crate::read;

/// The file's name, its bytes, the fault's word, and what its sentence or its help says.
type Row = (&'static str, Vec<u8>, &'static str, &'static str);

fn check(rows: Vec<Row>) {
    for (name, bytes, word, says) in rows {
        let fault = read(name, &bytes).expect_err(says);
        let told = format!(
            "{} | {}",
            fault.what,
            fault.help.clone().unwrap_or_default()
        );
        assert_eq!(fault.word, word, "{told}");
        assert!(told.contains(says), "{told} does not say {says}");
        assert!(told.contains(name), "{told} does not name {name}");
        assert!(fault.help.is_some(), "{told} does not help");
    }
}

fn grey_png() -> Vec<u8> {
    png(PngColour::Grayscale, BitDepth::Eight, &slopes(1), |_| {})
}

fn rgb_jpeg() -> Vec<u8> {
    jpeg(ColorType::Rgb, &slopes(3), |_| {})
}

fn of_rgb(more: &[(u16, &[u16])], samples: usize) -> Vec<u8> {
    let tags: &[(u16, &[u16])] = &[(262, &[2]), (277, &[samples as u16])];
    tiff(
        true,
        SIZE,
        &[tags, more].concat(),
        &[vec![90; 21 * 19 * samples]],
    )
}

#[test]
fn names_that_promise_another_kind() {
    check(vec![
        (
            "art/tunnel.jpg",
            grey_png(),
            "wrong-name",
            "rename it to `tunnel.png`",
        ),
        ("tunnel.PNG", rgb_jpeg(), "wrong-name", "is a JPEG picture"),
        (
            "a.b.webp",
            of_rgb(&[(258, &[8; 3])], 3),
            "wrong-name",
            "rename it to `a.b.tif`",
        ),
    ]);
    // Names that promise nothing are no lie.
    for (name, bytes) in [
        ("scan", grey_png()),
        ("scan.001", rgb_jpeg()),
        ("scan.JPE", rgb_jpeg()),
    ] {
        assert!(read(name, &bytes).is_ok(), "{name}");
    }
}

#[test]
fn kinds_that_no_pdf_takes_are_named() {
    let with = |start: &[u8]| [start, &[0; 40]].concat();
    check(vec![
        ("a.gif", with(b"GIF89a"), "wrong-kind", "is a GIF picture"),
        (
            "a.webp",
            with(b"RIFF\0\0\0\0WEBPVP8 "),
            "wrong-kind",
            "is a WebP picture",
        ),
        (
            "a.jp2",
            with(b"\0\0\0\x0cjP  \r\n\x87\n"),
            "wrong-kind",
            "is a JPEG 2000 picture",
        ),
        (
            "a.j2k",
            with(b"\xff\x4f\xff\x51"),
            "wrong-kind",
            "is a JPEG 2000 picture",
        ),
        (
            "a.jxl",
            with(b"\xff\x0a"),
            "wrong-kind",
            "is a JPEG XL picture",
        ),
        (
            "a.heic",
            with(b"\0\0\0\x18ftypheic"),
            "wrong-kind",
            "is a HEIF picture",
        ),
        (
            "a.avif",
            with(b"\0\0\0\x18ftypavif"),
            "wrong-kind",
            "is an AVIF picture",
        ),
        ("a.bmp", with(b"BM"), "wrong-kind", "is a BMP picture"),
        ("a.psd", with(b"8BPS\0\x01"), "wrong-kind", "layered file"),
        ("a.pdf", with(b"%PDF-1.7"), "wrong-kind", "is a PDF file"),
        (
            "a.svg",
            b"<?xml version='1.0'?>\n<svg xmlns='x'/>".to_vec(),
            "wrong-kind",
            "SVG drawing",
        ),
        (
            "a.png",
            b"nothing of the kind".to_vec(),
            "wrong-kind",
            "no picture of a known kind",
        ),
        ("a.png", Vec::new(), "damaged", "is empty"),
    ]);
}

#[test]
fn pixels_that_no_pdf_takes_are_named() {
    let frame = |marker: u8, bits: u8| {
        let mut bytes = rgb_jpeg();
        let at = bytes
            .windows(2)
            .position(|two| two == [0xff, 0xc0])
            .expect("a frame");
        (bytes[at + 1], bytes[at + 4]) = (marker, bits);
        bytes
    };
    let eight: (u16, &[u16]) = (258, &[8, 8, 8]);
    let pages = {
        let mut bytes = std::io::Cursor::new(Vec::new());
        let mut encoder = tiff::encoder::TiffEncoder::new(&mut bytes).expect("a header");
        for _ in 0..3 {
            let written =
                encoder.write_image::<tiff::encoder::colortype::Gray8>(SIZE.0, SIZE.1, &slopes(1));
            written.expect("a picture");
        }
        bytes.into_inner()
    };
    let animated = png(PngColour::Grayscale, BitDepth::Eight, &slopes(1), |info| {
        info.animation_control = Some(png::AnimationControl {
            num_frames: 1,
            num_plays: 0,
        });
        info.frame_control = Some(png::FrameControl {
            width: SIZE.0,
            height: SIZE.1,
            ..Default::default()
        });
    });
    let of_palette: &[(u16, &[u16])] = &[(258, &[8]), (262, &[3]), (320, &[7; 768])];
    check(vec![
        ("a.jpg", frame(0xc0, 12), "wrong-kind", "of 12 bits"),
        ("a.jpg", frame(0xc3, 8), "wrong-kind", "packed without loss"),
        (
            "a.jpg",
            frame(0xc9, 8),
            "wrong-kind",
            "in arithmetic coding",
        ),
        (
            "a.jpg",
            frame(0xc5, 8),
            "wrong-kind",
            "several layers of size",
        ),
        ("a.png", animated, "wrong-kind", "an animated PNG picture"),
        ("a.tif", pages, "wrong-kind", "a TIFF file of 3 pictures"),
        (
            "a.tif",
            of_rgb(&[(258, &[8; 4])], 4),
            "wrong-kind",
            "1 channel more than its colours",
        ),
        (
            "a.tif",
            of_rgb(&[(258, &[8; 5]), (338, &[2, 0])], 5),
            "wrong-kind",
            "2 channels more",
        ),
        (
            "a.tif",
            of_rgb(&[(258, &[32; 3]), (339, &[3; 3])], 3),
            "wrong-kind",
            "floating-point",
        ),
        (
            "a.tif",
            of_rgb(&[(258, &[32; 3])], 3),
            "wrong-kind",
            "of 32 bits to a channel",
        ),
        (
            "a.tif",
            of_rgb(&[eight, (339, &[2; 3])], 3),
            "wrong-kind",
            "below nought",
        ),
        (
            "a.tif",
            of_rgb(&[eight, (254, &[1])], 3),
            "wrong-kind",
            "a small preview",
        ),
        (
            "a.tif",
            of_rgb(&[eight, (259, &[34_712])], 3),
            "wrong-kind",
            "an uncommon kind",
        ),
        (
            "a.tif",
            tiff(true, SIZE, of_palette, &[slopes(1)]),
            "wrong-kind",
            "with a palette",
        ),
        (
            "a.tif",
            tiff(
                true,
                SIZE,
                &[(258, &[8; 3]), (262, &[8]), (277, &[3])],
                &[slopes(3)],
            ),
            "wrong-kind",
            "in L*a*b* colours",
        ),
    ]);
}

/// Headers that tell of more than any scan has; hardly a byte follows them.
#[test]
fn bombs_are_told_by_their_headers() {
    let mut huge_png = Vec::new();
    let mut encoder = png::Encoder::new(&mut huge_png, 40_000, 40_000);
    encoder.set_color(PngColour::Rgb);
    drop(encoder.write_header().expect("a header"));
    let mut huge_jpeg = rgb_jpeg();
    let at = huge_jpeg
        .windows(2)
        .position(|two| two == [0xff, 0xc0])
        .expect("a frame");
    huge_jpeg[at + 5..at + 9].fill(0xff);
    let tags: &[(u16, &[u16])] = &[(258, &[16; 4]), (262, &[5]), (277, &[4])];
    let huge_tiff = tiff(true, (10_000, 20_000), tags, &[vec![0; 9]]);
    let large: &[(u16, &[u16])] = &[(258, &[8; 3]), (262, &[2]), (277, &[3])];
    let tiles: &[(u16, &[u16])] = &[(322, &[65_535]), (323, &[65_535])];
    check(vec![
        (
            "a.png",
            huge_png,
            "too-large",
            "40000 × 40000 pixels of 3 channels and 8 bits",
        ),
        ("a.jpg", huge_jpeg, "too-large", "65535 × 65535"),
        (
            "a.tif",
            huge_tiff,
            "too-large",
            "which is 1600 million bytes",
        ),
        (
            "a.tif",
            tiff(true, SIZE, &[large, tiles].concat(), &[vec![0; 9]]),
            "damaged",
            "pixels",
        ),
    ]);
}

/// Long and narrow, or a single pixel: whether they have the right shape is for others to ask.
#[test]
fn uncommon_sizes_are_read() {
    let of = |width: u32, height: u32| -> Art {
        let mut bytes = Vec::new();
        let mut encoder = png::Encoder::new(&mut bytes, width, height);
        encoder.set_depth(BitDepth::One);
        let mut writer = encoder.write_header().expect("a header");
        let pixels = vec![0; width.div_ceil(8) as usize * height as usize];
        writer.write_image_data(&pixels).expect("pixels");
        drop(writer);
        read("a.png", &bytes).expect("a picture")
    };
    assert_eq!(of(40_000, 100).width(), 40_000);
    assert_eq!(of(20_000, 20_000).height(), 20_000);
    assert_eq!((of(1, 1).width(), of(1, 1).height()), (1, 1));
}

#[test]
fn what_breaks_off_is_damaged() {
    let mut files: Vec<(String, Vec<u8>)> = lossless()
        .into_iter()
        .filter(|file| file.name.ends_with(".png"))
        .map(|file| (file.name.to_string(), file.bytes))
        .collect();
    for progressive in [false, true] {
        let bytes = jpeg(ColorType::Rgb, &slopes(3), |encoder| {
            encoder.set_progressive(progressive)
        });
        files.push(("a.jpg".into(), bytes));
    }
    for (name, bytes) in &files {
        for cut in [9, 40, bytes.len() / 2, bytes.len() - 13, bytes.len() - 2] {
            let fault = read(name, &bytes[..cut]).expect_err(name);
            assert_eq!(fault.word, "damaged", "{name} cut at {cut}: {}", fault.what);
        }
    }
    // In TIFF the pixels stand first.
    let whole = of_rgb(&[(258, &[8, 8, 8])], 3);
    assert_eq!(
        read("a.tif", &whole[..whole.len() / 2])
            .expect_err("cut")
            .word,
        "damaged"
    );
    // Its piece says that it is shorter than its pixels are; what follows them are no pixels.
    let tags: &[(u16, &[u16])] = &[(258, &[8]), (262, &[1])];
    let short = tiff(true, SIZE, tags, &[slopes(1)[..390].to_vec()]);
    assert_eq!(read("a.tif", &short).expect_err("short").word, "damaged");
    // A byte of the pixels is another one.
    let mut bytes = grey_png();
    let at = bytes
        .windows(4)
        .position(|four| four == b"IDAT")
        .expect("pixels")
        + 14;
    bytes[at] ^= 0x10;
    assert_eq!(
        read("a.png", &bytes).expect_err("another byte").word,
        "damaged"
    );
}

#[test]
fn jpeg_within_tiff_is_unpacked_and_must_be_whole() {
    let grey = jpeg(ColorType::Luma, &slopes(1), |encoder| {
        encoder.set_quality(100)
    });
    let tags: &[(u16, &[u16])] = &[(258, &[8]), (262, &[1]), (259, &[7])];
    let whole = tiff(true, SIZE, tags, std::slice::from_ref(&grey));
    let art = read("a.tif", &whole).expect("a picture");
    let pdf = crate::pdf_of(&[&art]);
    let image = crate::images(&pdf)[0];
    assert_eq!(crate::named(&image.dict, b"Filter"), b"FlateDecode");
    // Its piece would reach beyond the end.
    let count = whole
        .windows(4)
        .position(|four| four == [0x17, 1, 4, 0])
        .expect("the tag");
    let mut cut = whole.clone();
    cut[count + 10] = 1;
    assert_eq!(read("a.tif", &cut).expect_err("cut").word, "damaged");
}

#[test]
fn what_is_no_file_is_told_as_everywhere() {
    let temp = tempfile::tempdir().expect("a folder");
    let word = |name: &str| {
        Art::read(&temp.path().join(name), name)
            .expect_err(name)
            .word
    };
    assert_eq!(word("gone.png"), "missing");
    assert_eq!(word("."), "is-folder");
}
