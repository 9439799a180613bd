//! Files that are too large by their headers, that break off, or that are not there.

use jpeg_encoder::ColorType;
use png::{BitDepth, ColorType as PngColour};
use versefold::art::Art;
use versefold::assets::Assets;

use crate::art::bad::{check, grey_png, of_rgb, rgb_jpeg};
use crate::art::files::{SIZE, jpeg, slopes, tiff};
use crate::art::lossless::lossless;
use crate::art::read;

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
    let pdf = crate::art::pdf_of(&[&art]);
    let image = crate::art::images(&pdf)[0];
    assert_eq!(crate::art::named(&image.dict, b"Filter"), b"FlateDecode");
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
    let assets = Assets::folder(temp.path());
    let word = |name: &str| Art::read(&assets, name).expect_err(name).word;
    assert_eq!(word("gone.png"), "missing");
    assert_eq!(word("."), "is-folder");
}
