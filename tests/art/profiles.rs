//! Colour profiles: which are kept, and what is told of the others.

use jpeg_encoder::ColorType;
use lopdf::{Document, Stream};
use versefold::art::{Art, ArtNote, Profile, ProfileSpace};
use versefold::assets::Assets;

use crate::art::files::{SIZE, jpeg, png, slopes, tiff};
use crate::art::{images, named, number, pdf_of, read};

/// A profile as short as can be: a header, and one tag of `text`.
pub fn profile(class: &[u8; 4], space: &[u8; 4], text: &str) -> Vec<u8> {
    let mut tag = b"desc\0\0\0\0".to_vec();
    tag.extend((text.len() as u32 + 1).to_be_bytes());
    tag.extend(text.bytes().chain([0]));
    let mut bytes = (144 + tag.len() as u32).to_be_bytes().to_vec();
    bytes.extend(b"\0\0\0\0\x02\x10\0\0");
    bytes.extend([*class, *space, *b"XYZ "].concat());
    bytes.resize(36, 0);
    bytes.extend(b"acsp");
    bytes.resize(128, 0);
    bytes.extend(1_u32.to_be_bytes());
    bytes.extend(b"desc");
    bytes.extend(144_u32.to_be_bytes());
    bytes.extend((tag.len() as u32).to_be_bytes());
    bytes.extend(tag);
    bytes
}

/// The profile that a picture's colours are based on in a PDF, with its number of channels.
fn based_on(pdf: &Document) -> Option<(Vec<u8>, i64)> {
    let image = images(pdf)[0];
    let mut space = image.dict.get(b"ColorSpace").ok()?.as_array().ok()?;
    if space[0].as_name().ok() == Some(b"Indexed") {
        space = space[1].as_array().ok()?;
    }
    assert_eq!(space[0].as_name().ok(), Some(&b"ICCBased"[..]));
    let id = space[1].as_reference().ok()?;
    let stream: &Stream = pdf.get_object(id).ok()?.as_stream().ok()?;
    let bytes = stream.decompressed_content().expect("it unpacks");
    let channels = number(&stream.dict, b"N");
    let device = [&b"DeviceGray"[..], b"", b"DeviceRGB", b"DeviceCMYK"][channels as usize - 1];
    assert_eq!(named(&stream.dict, b"Alternate"), device);
    Some((bytes, channels))
}

fn in_png(profile: &[u8]) -> Art {
    let bytes = png(
        png::ColorType::Rgb,
        png::BitDepth::Eight,
        &slopes(3),
        |info| {
            info.icc_profile = Some(profile.to_vec().into());
        },
    );
    read("a.png", &bytes).expect("a picture")
}

fn in_tiff(profile: &[u8]) -> Art {
    // The tag is of bytes; pairs of them as numbers of 16 bits would be read alike, had the writer a kind for it.
    let mut bytes = tiff(
        true,
        SIZE,
        &[(258, &[8; 4]), (262, &[5]), (277, &[4]), (34_675, &[0; 3])],
        &[slopes(4)],
    );
    let start = bytes.len() as u32;
    bytes.extend(profile);
    let entry = bytes
        .windows(4)
        .position(|four| four == [0x73, 0x87, 3, 0])
        .expect("the tag");
    bytes[entry + 2] = 7;
    bytes[entry + 4..entry + 8].copy_from_slice(&(profile.len() as u32).to_le_bytes());
    bytes[entry + 8..entry + 12].copy_from_slice(&start.to_le_bytes());
    read("a.tif", &bytes).expect("a picture")
}

#[test]
fn profiles_go_into_the_pdf_whole() {
    let (rgb, inks) = (
        profile(b"scnr", b"RGB ", "a scanner"),
        profile(b"prtr", b"CMYK", "a press"),
    );
    assert_eq!(based_on(&pdf_of(&[&in_png(&rgb)])), Some((rgb.clone(), 3)));
    assert_eq!(
        based_on(&pdf_of(&[&in_tiff(&inks)])),
        Some((inks.clone(), 4))
    );
    // A large one is cut into pieces in JPEG (ICC.1:2004-10, annex B.4), which may come in any order.
    let large = profile(b"prtr", b"CMYK", &"long ".repeat(30_000));
    let bytes = jpeg(ColorType::Cmyk, &slopes(4), |encoder| {
        encoder.add_icc_profile(&large).expect("segments");
    });
    let art = read("a.jpg", &bytes).expect("a picture");
    assert_eq!(based_on(&pdf_of(&[&art])), Some((large.clone(), 4)));
    let mut pieces: Vec<_> = large.chunks(60_000).zip(1..).collect();
    assert_eq!(pieces.len(), 3);
    pieces.rotate_left(1);
    let bytes = jpeg(ColorType::Cmyk, &slopes(4), |encoder| {
        for (piece, place) in &pieces {
            let data = [b"ICC_PROFILE\0", &[*place, 3][..], piece].concat();
            encoder.add_app_segment(2, data).expect("a segment");
        }
    });
    let art = read("a.jpg", &bytes).expect("a picture");
    assert_eq!(art.notes(), []);
    assert_eq!(based_on(&pdf_of(&[&art])), Some((large, 4)));
}

#[test]
fn a_profile_that_is_broken_or_for_other_colours_is_left_out_and_told() {
    let sound = profile(b"scnr", b"RGB ", "a scanner");
    let srgb = based_on(&pdf_of(&[&in_png(&sound[..100])])).expect("sRGB in its place");
    let mut too_long = sound.clone();
    too_long[3] += 1;
    let mut leads_out = sound.clone();
    leads_out[137] = 1;
    let mut of_the_future = sound.clone();
    of_the_future[8] = 5;
    let others = [
        profile(b"scnr", b"GRAY", "grey"),
        profile(b"prtr", b"CMYK", "a press"),
        profile(b"link", b"RGB ", "two devices"),
    ];
    let broken = [sound[..100].to_vec(), too_long, leads_out, of_the_future];
    let told = broken.iter().map(|bytes| (bytes, ArtNote::BrokenProfile));
    let told = told.chain(others.iter().map(|bytes| (bytes, ArtNote::OtherProfile)));
    for (bytes, note) in told {
        let art = in_png(bytes);
        assert_eq!(art.notes(), [note]);
        assert_eq!(based_on(&pdf_of(&[&art])), Some(srgb.clone()));
    }
    // A piece of the profile is missing in the JPEG.
    let bytes = jpeg(ColorType::Luma, &slopes(1), |encoder| {
        let data = [b"ICC_PROFILE\0\x02\x02", &sound[..]].concat();
        encoder.add_app_segment(2, data).expect("a segment");
    });
    let art = read("a.jpg", &bytes).expect("a picture");
    assert_eq!(art.notes(), [ArtNote::BrokenProfile]);
    let pdf = pdf_of(&[&art]);
    assert_eq!(named(&images(&pdf)[0].dict, b"ColorSpace"), b"DeviceGray");
}

/// The primaries are computed here from their chromaticities (IEC 61966-2-1, which has those of ITU-R BT.709) by the
/// Bradford adaptation (ICC.1:2004-10, annex E); ours are the rounded ones that are published.
#[test]
fn untagged_colours_are_those_of_srgb() {
    let bytes = png(
        png::ColorType::Rgb,
        png::BitDepth::Eight,
        &slopes(3),
        |_| {},
    );
    let art = read("a.png", &bytes).expect("a picture");
    let (srgb, _) = based_on(&pdf_of(&[&art])).expect("a profile");
    assert!(srgb.len() < 600, "{}", srgb.len());
    let tag = |name: &[u8]| {
        let entry = (132..)
            .step_by(12)
            .find(|&at| &srgb[at..at + 4] == name)
            .expect("a tag");
        let long = |at: usize| u32::from_be_bytes(srgb[at..at + 4].try_into().expect("four"));
        srgb[long(entry + 4) as usize..][..long(entry + 8) as usize].to_vec()
    };
    let numbers = |tag: &[u8]| -> Vec<f64> {
        let fixed = tag
            .chunks_exact(4)
            .map(|four| i32::from_be_bytes(four.try_into().expect("four")));
        fixed.map(|fixed| f64::from(fixed) / 65_536.0).collect()
    };
    let ours = [b"rXYZ", b"gXYZ", b"bXYZ"].map(|name| numbers(&tag(name)[8..]));
    for (ours, computed) in ours.iter().zip(primaries_under_d50()) {
        for (ours, computed) in ours.iter().zip(computed) {
            assert!((ours - computed).abs() < 0.0003, "{ours} is not {computed}");
        }
    }
    // Together they are white.
    for (at, white) in [0.9642, 1.0, 0.8249].into_iter().enumerate() {
        let sum: f64 = ours.iter().map(|primary| primary[at]).sum();
        assert!((sum - white).abs() < 0.0002, "{sum} is not {white}");
    }
    // 0.5 is 0.21404 of the light by the formula of IEC 61966-2-1.
    let curve = numbers(&tag(b"rTRC")[12..]);
    let [g, a, b, c, d] = curve[..] else {
        panic!("{curve:?}")
    };
    assert!((f64::powf(a * 0.5 + b, g) - 0.214_04).abs() < 0.000_02);
    assert!(
        (f64::powf(a * d + b, g) - c * d).abs() < 0.000_02,
        "the two pieces meet"
    );
}

type Matrix = [[f64; 3]; 3];

fn times(matrix: &Matrix, column: [f64; 3]) -> [f64; 3] {
    matrix.map(|row| row.iter().zip(column).map(|(a, b)| a * b).sum())
}

fn inverse(m: &Matrix) -> Matrix {
    let minor = |r: usize, c: usize| {
        let (r1, r2, c1, c2) = ((r + 1) % 3, (r + 2) % 3, (c + 1) % 3, (c + 2) % 3);
        m[r1][c1] * m[r2][c2] - m[r1][c2] * m[r2][c1]
    };
    let whole: f64 = (0..3).map(|c| m[0][c] * minor(0, c)).sum();
    [0, 1, 2].map(|r| [0, 1, 2].map(|c| minor(c, r) / whole))
}

fn primaries_under_d50() -> [[f64; 3]; 3] {
    let xyz = |x: f64, y: f64| [x / y, 1.0, (1.0 - x - y) / y];
    let primaries = [xyz(0.64, 0.33), xyz(0.30, 0.60), xyz(0.15, 0.06)];
    let white = xyz(0.3127, 0.3290);
    let columns = [0, 1, 2].map(|row| [0, 1, 2].map(|of| primaries[of][row]));
    let shares = times(&inverse(&columns), white);
    let bradford = [
        [0.8951, 0.2664, -0.1614],
        [-0.7502, 1.7135, 0.0367],
        [0.0389, -0.0685, 1.0296],
    ];
    let (from, to) = (
        times(&bradford, white),
        times(&bradford, [0.9642, 1.0, 0.8249]),
    );
    [0, 1, 2].map(|of| {
        let seen = times(&bradford, primaries[of].map(|part| part * shares[of]));
        times(
            &inverse(&bradford),
            [0, 1, 2].map(|at| seen[at] * to[at] / from[at]),
        )
    })
}

#[test]
fn the_profile_of_a_press_is_read() {
    let read = |bytes: &[u8]| {
        let assets = Assets::memory().with("press.icc", bytes);
        Profile::read(&assets.into(), "press.icc")
    };
    let press = profile(b"prtr", b"CMYK", "Uncoated, 60 lines");
    let sound = read(&press).expect("a profile");
    assert_eq!(sound.space(), Some(ProfileSpace::Cmyk));
    assert_eq!(sound.description().as_deref(), Some("Uncoated, 60 lines"));
    assert_eq!(sound.bytes(), press);
    for (bytes, word, says) in [
        (b"%PDF".to_vec(), "not-icc", "no ICC profile"),
        (Vec::new(), "not-icc", "no ICC profile"),
        (press[..150].to_vec(), "damaged", "not as long as it says"),
        (
            profile(b"mntr", b"CMYK", "x"),
            "wrong-profile",
            "of a screen",
        ),
        (
            profile(b"prtr", b"6CLR", "x"),
            "wrong-profile",
            "for 6CLR colours",
        ),
    ] {
        let fault = read(&bytes).expect_err(word);
        assert_eq!(fault.word, word);
        assert!(fault.what.contains(says), "{}", fault.what);
        assert!(fault.help.is_some());
    }
    let missing = Profile::read(&Assets::memory().into(), "gone.icc");
    assert_eq!(missing.expect_err("it is not there").word, "missing");
}
