//! What of a picture is in a PDF: the same pixels, read by another library, or the very file.

use jpeg_encoder::ColorType;
use lopdf::{Object, Stream};
use versefold::art::Edge;
use versefold::names::Length;

use crate::art::files::{self, SIZE, jpeg, slopes};
use crate::art::lossless::lossless;
use crate::art::{images, mask, named, number, pdf_of, read};

#[test]
fn what_is_packed_without_loss_has_the_same_samples() {
    let files = lossless();
    for file in &files {
        let art = read(file.name, &file.bytes).expect(file.name);
        assert_eq!((art.width(), art.height()), SIZE, "{}", file.name);
        assert_eq!(
            art.is_transparent(),
            !file.cover.is_empty(),
            "{}",
            file.name
        );
        let pdf = pdf_of(&[&art]);
        let [image] = images(&pdf)[..] else {
            panic!("{} is not once in its PDF", file.name);
        };
        let size = (
            number(&image.dict, b"Width"),
            number(&image.dict, b"Height"),
        );
        assert_eq!(size, (21, 19));
        assert_eq!(
            number(&image.dict, b"BitsPerComponent"),
            i64::from(file.bits)
        );
        let samples = unpacked(image, file.channels);
        assert_eq!(samples, file.samples, "{}", file.name);
        let cover = mask(&pdf, image).map(|mask| unpacked(mask, 1));
        assert_eq!(cover.unwrap_or_default(), file.cover, "{}", file.name);
        let matte = mask(&pdf, image).is_some_and(|mask| mask.dict.has(b"Matte"));
        assert_eq!(matte, file.name == "multiplied.tif");
    }
    assert_eq!(files.len(), 24);
}

/// The samples of a picture, unfiltered here (PNG specification, chapter 9).
fn unpacked(image: &Stream, channels: usize) -> Vec<u8> {
    use std::io::Read;
    assert_eq!(named(&image.dict, b"Filter"), b"FlateDecode");
    let mut bytes = Vec::new();
    let mut unpacking = flate2::read::ZlibDecoder::new(&image.content[..]);
    unpacking.read_to_end(&mut bytes).expect("it unpacks");
    let bits = channels * number(&image.dict, b"BitsPerComponent") as usize;
    let width = number(&image.dict, b"Width") as usize;
    let row = (width * bits).div_ceil(8);
    let Ok(parameters) = image.dict.get(b"DecodeParms").and_then(Object::as_dict) else {
        return bytes;
    };
    assert_eq!(number(parameters, b"Predictor"), 15);
    assert_eq!(number(parameters, b"Columns"), width as i64);
    assert_eq!(number(parameters, b"Colors"), channels as i64);
    let back = (bits / 8).max(1);
    let mut all: Vec<u8> = Vec::new();
    let mut above = vec![0; row];
    for line in bytes.chunks_exact(row + 1) {
        let mut now = line[1..].to_vec();
        for at in 0..row {
            let left = if at < back {
                0
            } else {
                i32::from(now[at - back])
            };
            let corner = if at < back {
                0
            } else {
                i32::from(above[at - back])
            };
            let up = i32::from(above[at]);
            let guess = left + up - corner;
            let nearest = [left, up, corner]
                .into_iter()
                .min_by_key(|byte| (guess - byte).abs());
            let add = [0, left, up, (left + up) / 2, nearest.unwrap_or(0)][usize::from(line[0])];
            now[at] = now[at].wrapping_add(add as u8);
        }
        all.extend(&now);
        above = now;
    }
    all
}

#[test]
fn a_jpeg_is_there_byte_for_byte() {
    for (name, colour, channels, space, inverted) in [
        ("grey.jpg", ColorType::Luma, 1, &b"DeviceGray"[..], false),
        ("rgb.jpeg", ColorType::Rgb, 3, b"", false),
        ("inks.jpg", ColorType::Cmyk, 4, b"DeviceCMYK", true),
        (
            "inks-as-luma.jpg",
            ColorType::CmykAsYcck,
            4,
            b"DeviceCMYK",
            true,
        ),
    ] {
        for progressive in [false, true] {
            let bytes = jpeg(colour, &slopes(channels), |encoder| {
                encoder.set_progressive(progressive);
            });
            let pdf = pdf_of(&[&read(name, &bytes).expect(name)]);
            let [image] = images(&pdf)[..] else {
                panic!("{name} is not once in its PDF");
            };
            assert!(image.content == bytes, "{name} has other bytes");
            assert_eq!(named(&image.dict, b"Filter"), b"DCTDecode");
            assert_eq!(named(&image.dict, b"ColorSpace"), space, "{name}");
            let decode = image.dict.get(b"Decode").and_then(Object::as_array);
            let decode = decode.map(|list| list.iter().map(|n| n.as_float().expect("a number")));
            let decode: Option<Vec<f32>> = decode.ok().map(Iterator::collect);
            assert_eq!(decode, inverted.then(|| [1.0, 0.0].repeat(4)), "{name}");
        }
    }
}

/// A segment of that marker taken out of a JPEG file.
fn without(mut bytes: Vec<u8>, marker: u8) -> Vec<u8> {
    let at = bytes.windows(2).position(|two| two == [0xff, marker]);
    let at = at.expect("the marker is there");
    let length = usize::from(u16::from_be_bytes([bytes[at + 2], bytes[at + 3]]));
    bytes.drain(at..at + 2 + length);
    bytes
}

/// Without an Adobe marker 255 is all ink, and channels called R, G and B are those.
#[test]
fn channels_are_what_no_marker_says_they_are_not() {
    let inks = without(jpeg(ColorType::Cmyk, &[0; 21 * 19 * 4], |_| {}), 0xee);
    let art = read("inks.jpg", &inks).expect("a picture");
    assert!(!images(&pdf_of(&[&art]))[0].dict.has(b"Decode"));
    // What the encoder writes for no ink is then all ink.
    let size = (Length::mm(21), Length::mm(19));
    assert_eq!(art.edge(Edge::Top, size, Length::ZERO).mean, [0; 3]);
    let mut rgb = jpeg(ColorType::Rgb, &slopes(3), |_| {});
    for (marker, first, step) in [(0xc0, 10, 3), (0xda, 5, 2)] {
        let at = rgb
            .windows(2)
            .position(|two| two == [0xff, marker])
            .expect("a marker");
        for (place, letter) in b"RGB".iter().enumerate() {
            rgb[at + first + place * step] = *letter;
        }
    }
    let says_so = |bytes: &[u8]| {
        let pdf = pdf_of(&[&read("rgb.jpg", bytes).expect("a picture")]);
        let parameters = images(&pdf)[0].dict.get(b"DecodeParms");
        let parameters = parameters.and_then(Object::as_dict).ok();
        parameters.map(|parameters| number(parameters, b"ColorTransform"))
    };
    assert_eq!(says_so(&rgb), None);
    assert_eq!(says_so(&without(rgb, 0xe0)), Some(0));
}

#[test]
fn packed_pixels_of_a_png_are_taken_as_they_are() {
    let file = lossless()
        .into_iter()
        .find(|file| file.name == "rgb-16.png");
    let file = file.expect("it is made");
    let start = file
        .bytes
        .windows(4)
        .position(|four| four == b"IDAT")
        .expect("pixels")
        + 4;
    let length = u32::from_be_bytes(file.bytes[start - 8..start - 4].try_into().expect("four"));
    let pdf = pdf_of(&[&read(file.name, &file.bytes).expect("it is read")]);
    let image = images(&pdf)[0];
    assert!(image.content == file.bytes[start..start + length as usize]);
}

#[test]
fn a_picture_is_once_in_a_file_however_often_it_is_drawn() {
    let files = lossless();
    let read = |at: usize| read(files[at].name, &files[at].bytes).expect("it is read");
    let (one, again, other) = (read(4), read(4), read(8));
    let pdf = pdf_of(&[&one, &other, &again, &one]);
    assert_eq!(images(&pdf).len(), 2);
    // Three of the four pages name the same one.
    let pages = pdf.get_pages();
    let used = |id| {
        let (resources, _) = pdf.get_page_resources(id).expect("resources");
        let objects = resources.and_then(|named| named.get(b"XObject").ok()?.as_dict().ok());
        let ids = objects.expect("objects").iter();
        ids.map(|(_, id)| id.as_reference().expect("a reference"))
            .collect::<Vec<_>>()
    };
    let used: Vec<_> = pages.values().map(|&id| used(id)).collect();
    assert_eq!(used[0], used[2]);
    assert_eq!(used[0], used[3]);
    assert_ne!(used[0], used[1]);
}

/// A row or two of one colour packs as well without filters, slopes much better with them.
#[test]
fn filters_are_used_where_they_make_it_smaller() {
    let of = |samples: Vec<u8>| {
        let tags: &[(u16, &[u16])] = &[(258, &[8; 3]), (262, &[2]), (277, &[3])];
        let bytes = files::tiff(true, SIZE, tags, &[samples]);
        let pdf = pdf_of(&[&read("a.tif", &bytes).expect("it is read")]);
        let image = images(&pdf)[0];
        (image.dict.has(b"DecodeParms"), image.content.len())
    };
    let (filtered, length) = of(slopes(3));
    assert!(filtered && length < 21 * 19, "{length}");
    assert!(!of(vec![200; 21 * 19 * 3]).0);
}
