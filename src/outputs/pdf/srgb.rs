//! An ICC profile of the colours that screens show: IEC 61966-2-1 (sRGB), as a profile of version 2 (ICC.1:2001-04),
//! which every PDF since 1.5 may hold.

/// White under the light D50, which all profiles speak of (ICC.1:2001-04, 6.1.8): X, Y, Z in 65,536ths.
const WHITE: [u32; 3] = [0xF6D6, 0x1_0000, 0xD32D];
/// Red, green and blue adapted to that light: X, Y, Z in 65,536ths. They are those of the profiles in common use,
/// from memory; a test holds that they add up to white.
const RED: [u32; 3] = [0x6FA2, 0x38F5, 0x0390];
const GREEN: [u32; 3] = [0x6299, 0xB785, 0x18DA];
const BLUE: [u32; 3] = [0x24A0, 0x0F84, 0xB6CF];
/// How many steps the curve from numbers to light has.
const STEPS: u16 = 1024;
/// What precedes the tags' contents: the header, a count, and twelve bytes for each of nine tags.
const FRONT: usize = 128 + 4 + 12 * 9;

/// The profile, always the same.
pub(super) fn profile() -> Vec<u8> {
    // The three colours share one curve.
    let parts: [(&[&[u8; 4]], Vec<u8>); 7] = [
        (&[b"desc"], description("sRGB")),
        (&[b"cprt"], text("No copyright, use freely")),
        (&[b"wtpt"], place(WHITE)),
        (&[b"rXYZ"], place(RED)),
        (&[b"gXYZ"], place(GREEN)),
        (&[b"bXYZ"], place(BLUE)),
        (&[b"rTRC", b"gTRC", b"bTRC"], curve()),
    ];
    let mut table = 9_u32.to_be_bytes().to_vec();
    let mut contents = Vec::new();
    for (tags, part) in parts {
        let at = (FRONT + contents.len()) as u32;
        for tag in tags {
            table.extend(*tag);
            table.extend(at.to_be_bytes());
            table.extend((part.len() as u32).to_be_bytes());
        }
        contents.extend(part);
        contents.resize(contents.len().next_multiple_of(4), 0);
    }
    let mut profile = header((FRONT + contents.len()) as u32);
    profile.extend(table);
    profile.extend(contents);
    profile
}

/// The 128 bytes of ICC.1:2001-04, 6.1.
fn header(size: u32) -> Vec<u8> {
    let mut header = Vec::with_capacity(128);
    header.extend(size.to_be_bytes());
    header.extend([0; 4]);
    header.extend([2, 0x10, 0, 0]);
    header.extend(b"mntrRGB XYZ ");
    // Made on 1 January 2000.
    header.extend([0x07, 0xD0, 0, 1, 0, 1, 0, 0, 0, 0, 0, 0]);
    header.extend(b"acsp");
    header.resize(68, 0);
    header.extend(WHITE.iter().flat_map(|part| part.to_be_bytes()));
    header.resize(128, 0);
    header
}

fn place(xyz: [u32; 3]) -> Vec<u8> {
    let mut bytes = b"XYZ \0\0\0\0".to_vec();
    bytes.extend(xyz.iter().flat_map(|part| part.to_be_bytes()));
    bytes
}

fn text(words: &str) -> Vec<u8> {
    let mut bytes = b"text\0\0\0\0".to_vec();
    bytes.extend(words.as_bytes());
    bytes.push(0);
    bytes
}

/// In ASCII; the places for two other writings stay empty.
fn description(words: &str) -> Vec<u8> {
    let mut bytes = b"desc\0\0\0\0".to_vec();
    bytes.extend((words.len() as u32 + 1).to_be_bytes());
    bytes.extend(words.as_bytes());
    bytes.extend([0; 1 + 4 + 4 + 2 + 1 + 67]);
    bytes
}

fn curve() -> Vec<u8> {
    let mut bytes = b"curv\0\0\0\0".to_vec();
    bytes.extend(u32::from(STEPS).to_be_bytes());
    for step in 0..STEPS {
        let number = f64::from(step) / f64::from(STEPS - 1);
        let share = (light(number) * 65_535.0).round() as u16;
        bytes.extend(share.to_be_bytes());
    }
    bytes
}

/// The light that a number stands for (IEC 61966-2-1, 5.2).
fn light(number: f64) -> f64 {
    match number <= 0.04045 {
        true => number / 12.92,
        false => ((number + 0.055) / 1.055).powf(2.4),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Red, green and blue together are white; and half of the numbers is a fifth of the light, as anybody finds
    /// who works it out by the published formula: ((0.5 + 0.055) ÷ 1.055)^2.4 = 0.21404.
    #[test]
    fn the_profile_adds_up() {
        for part in 0..3 {
            let sum = RED[part] + GREEN[part] + BLUE[part];
            assert!(sum.abs_diff(WHITE[part]) <= 12, "{part}: {sum}");
        }
        assert!((light(0.5) - 0.21404).abs() < 0.00001);
        let profile = profile();
        let number = |at: usize| {
            let bytes = profile[at..at + 4].try_into().expect("four bytes");
            u32::from_be_bytes(bytes) as usize
        };
        assert_eq!(number(0), profile.len());
        for tag in 0..number(128) {
            let (at, size) = (number(132 + tag * 12 + 4), number(132 + tag * 12 + 8));
            assert!(at % 4 == 0 && at >= FRONT && at + size <= profile.len());
        }
        assert_eq!(number(128), 9);
    }
}
