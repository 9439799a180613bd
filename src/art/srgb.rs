//! The profile of sRGB, made from the numbers of IEC 61966-2-1.

use std::sync::LazyLock;

/// The primaries of sRGB (ITU-R BT.709: red 0.64, 0.33; green 0.30, 0.60; blue 0.15, 0.06), each as X, Y, Z under
/// D50: adapted from D65 by the Bradford matrix, as the ICC does it.
const PRIMARIES: [(&[u8; 4], [f64; 3]); 3] = [
    (b"rXYZ", [0.436_07, 0.222_49, 0.013_92]),
    (b"gXYZ", [0.385_15, 0.716_87, 0.097_08]),
    (b"bXYZ", [0.143_07, 0.060_61, 0.714_10]),
];

/// D50 as every profile has it (ICC.1:2004-10, 7.2.16).
const D50: [f64; 3] = [0.964_2, 1.0, 0.824_9];

/// The Bradford adaptation from D65 to D50 (ICC.1:2004-10, annex E).
const ADAPTATION: [f64; 9] = [
    1.047_88, 0.022_92, -0.050_22, 0.029_59, 0.990_48, -0.017_08, -0.009_25, 0.015_08, 0.751_68,
];

/// The curve of IEC 61966-2-1: ((x + 0.055) ÷ 1.055) to the 2.4, below 0.04045 x ÷ 12.92.
const CURVE: [f64; 5] = [2.4, 1.0 / 1.055, 0.055 / 1.055, 1.0 / 12.92, 0.040_45];

/// An ICC profile of sRGB: version 4.2, matrix and curve.
pub(crate) fn profile() -> &'static [u8] {
    static PROFILE: LazyLock<Vec<u8>> = LazyLock::new(made);
    &PROFILE
}

fn made() -> Vec<u8> {
    let mut curve = b"para\0\0\0\0\0\x03\0\0".to_vec();
    curve.extend(CURVE.into_iter().flat_map(fixed));
    let mut tags: Vec<(&[u8; 4], Vec<u8>)> = vec![
        (b"desc", text("sRGB")),
        (b"cprt", text("No copyright, use freely")),
        (b"wtpt", xyz(D50)),
        (b"chad", {
            let mut tag = b"sf32\0\0\0\0".to_vec();
            tag.extend(ADAPTATION.into_iter().flat_map(fixed));
            tag
        }),
    ];
    for (name, primary) in PRIMARIES {
        tags.push((name, xyz(primary)));
    }
    for name in [b"rTRC", b"gTRC", b"bTRC"] {
        tags.push((name, curve.clone()));
    }
    let mut table = (tags.len() as u32).to_be_bytes().to_vec();
    let mut data: Vec<u8> = Vec::new();
    let mut placed: Vec<(Vec<u8>, u32)> = Vec::new();
    let start = 128 + 4 + 12 * tags.len() as u32;
    for (name, tag) in tags {
        // The three curves are one.
        let known = placed.iter().find(|(other, _)| *other == tag);
        let at = known.map(|(_, at)| *at).unwrap_or_else(|| {
            let at = start + data.len() as u32;
            data.extend_from_slice(&tag);
            data.resize(data.len().next_multiple_of(4), 0);
            placed.push((tag.clone(), at));
            at
        });
        table.extend_from_slice(name);
        table.extend(at.to_be_bytes());
        table.extend((tag.len() as u32).to_be_bytes());
    }
    let size = 128 + table.len() + data.len();
    let mut bytes = (size as u32).to_be_bytes().to_vec();
    bytes.extend(b"\0\0\0\0\x04\x20\0\0mntrRGB XYZ ");
    // When it was made: the year of the standard, so that it is always the same.
    for part in [1999_u16, 10, 18, 0, 0, 0] {
        bytes.extend(part.to_be_bytes());
    }
    bytes.extend(b"acsp");
    bytes.resize(68, 0);
    bytes.extend(D50.into_iter().flat_map(fixed));
    bytes.resize(128, 0);
    bytes.extend(table);
    bytes.extend(data);
    bytes
}

/// A number of 16 bits and 16 bits behind the point.
fn fixed(number: f64) -> [u8; 4] {
    ((number * 65_536.0).round() as i32).to_be_bytes()
}

fn xyz(colour: [f64; 3]) -> Vec<u8> {
    let mut tag = b"XYZ \0\0\0\0".to_vec();
    tag.extend(colour.into_iter().flat_map(fixed));
    tag
}

/// One text in one language.
fn text(words: &str) -> Vec<u8> {
    let units: Vec<u8> = words.encode_utf16().flat_map(u16::to_be_bytes).collect();
    let mut tag = b"mluc\0\0\0\0\0\0\0\x01\0\0\0\x0cenUS".to_vec();
    tag.extend((units.len() as u32).to_be_bytes());
    tag.extend(28_u32.to_be_bytes());
    tag.extend(units);
    tag
}
