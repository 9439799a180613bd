//! Files that cannot be used: each is told, with what would be right.

use jpeg_encoder::ColorType;
use png::{BitDepth, ColorType as PngColour};

use crate::art::files::{SIZE, jpeg, png, slopes, tiff};
use crate::art::read;

/// The file's name, its bytes, the fault's word, and what its sentence or its help says.
pub type Row = (&'static str, Vec<u8>, &'static str, &'static str);

pub fn check(rows: Vec<Row>) {
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

pub fn grey_png() -> Vec<u8> {
    png(PngColour::Grayscale, BitDepth::Eight, &slopes(1), |_| {})
}

pub fn rgb_jpeg() -> Vec<u8> {
    jpeg(ColorType::Rgb, &slopes(3), |_| {})
}

pub fn of_rgb(more: &[(u16, &[u16])], samples: usize) -> Vec<u8> {
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
#[expect(clippy::too_many_lines, reason = "a table of files")]
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
            "below zero",
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
            "packed in an uncommon way",
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
