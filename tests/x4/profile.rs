//! A small ICC profile of a printer with four inks, made by hand: header and the fewest tags that a reader needs
//! (ICC.1:2001-04, 6.1, 6.3.2 and 6.5.7, from memory).

/// How many bytes precede the tags' contents: the header, a count, and twelve for each of five tags.
const FRONT: usize = 128 + 4 + 12 * 5;

/// Ink by ink darker and more coloured, evenly between paper and all four.
pub fn cmyk() -> Vec<u8> {
    let parts: [(&[u8; 4], Vec<u8>); 5] = [
        (b"desc", description("A press for tests")),
        (b"cprt", text("No copyright, use freely")),
        (b"wtpt", white()),
        (b"A2B0", table(4, 3, &looks())),
        (b"B2A0", table(3, 4, &inks())),
    ];
    let (mut tags, mut contents) = (5_u32.to_be_bytes().to_vec(), Vec::new());
    for (tag, part) in parts {
        tags.extend(tag);
        tags.extend(((FRONT + contents.len()) as u32).to_be_bytes());
        tags.extend((part.len() as u32).to_be_bytes());
        contents.extend(part);
        contents.resize(contents.len().next_multiple_of(4), 0);
    }
    let mut profile = ((FRONT + contents.len()) as u32).to_be_bytes().to_vec();
    profile.extend([0, 0, 0, 0, 2, 0x10, 0, 0]);
    profile.extend(b"prtrCMYKLab ");
    profile.extend([0x07, 0xD0, 0, 1, 0, 1, 0, 0, 0, 0, 0, 0]);
    profile.extend(b"acsp");
    profile.resize(68, 0);
    profile.extend(&white()[8..]);
    profile.resize(128, 0);
    profile.extend(tags);
    profile.extend(contents);
    profile
}

/// The light D50: X, Y, Z in 65,536ths.
fn white() -> Vec<u8> {
    let mut bytes = b"XYZ \0\0\0\0".to_vec();
    for part in [0xF6D6_u32, 0x1_0000, 0xD32D] {
        bytes.extend(part.to_be_bytes());
    }
    bytes
}

fn text(words: &str) -> Vec<u8> {
    let mut bytes = b"text\0\0\0\0".to_vec();
    bytes.extend(words.as_bytes());
    bytes.push(0);
    bytes
}

fn description(words: &str) -> Vec<u8> {
    let mut bytes = b"desc\0\0\0\0".to_vec();
    bytes.extend((words.len() as u32 + 1).to_be_bytes());
    bytes.extend(words.as_bytes());
    bytes.extend([0; 1 + 4 + 4 + 2 + 1 + 67]);
    bytes
}

/// A table of 8-bit numbers with two steps in each direction (`mft1`).
fn table(from: u8, to: u8, corners: &[u8]) -> Vec<u8> {
    let mut bytes = b"mft1\0\0\0\0".to_vec();
    bytes.extend([from, to, 2, 0]);
    for part in [1_u32, 0, 0, 0, 1, 0, 0, 0, 1] {
        bytes.extend((part << 16).to_be_bytes());
    }
    let straight = || 0..=255_u8;
    (0..from).for_each(|_| bytes.extend(straight()));
    bytes.extend(corners);
    (0..to).for_each(|_| bytes.extend(straight()));
    bytes
}

/// What each mixture of solid inks looks like: L*, a*, b* in 8 bits, the last ink changing fastest.
fn looks() -> Vec<u8> {
    let mut looks = Vec::new();
    for mixture in 0..16_i32 {
        let [cyan, magenta, yellow, black] = [8, 4, 2, 1].map(|bit| i32::from(mixture & bit > 0));
        let light = (255 - 90 * cyan - 100 * magenta - 25 * yellow) * (8 - 7 * black) / 8;
        let red = 128 + (70 * magenta - 35 * cyan) * (1 - black);
        let gold = 128 + (85 * yellow - 45 * cyan - 5 * magenta) * (1 - black);
        looks.extend([light, red, gold].map(|part| part.clamp(0, 255) as u8));
    }
    looks
}

/// The inks for each corner of L*, a*, b*: black ink alone for what is dark.
fn inks() -> Vec<u8> {
    let mut inks = Vec::new();
    for corner in 0..8 {
        let [light, red, gold] = [4, 2, 1].map(|bit| corner & bit > 0);
        let ink = |on: bool| if on { 255 } else { 0 };
        inks.extend([ink(!red && !gold), ink(red), ink(gold), ink(!light)]);
    }
    inks
}
