//! Sheets by name.
//!
//! Sizes as the PWG Media Standardized Names (PWG 5101.1) list them: ISO 216 A and B, ISO 217 RA and SRA, ISO 269 C, the
//! elongated sizes, JIS B, North American sheets. Each is short side by long side.

use crate::names::{Length, SheetSize};

/// In millimetres.
const METRIC: &[(&str, i64, i64)] = &[
    ("2A0", 1189, 1682),
    ("A0", 841, 1189),
    ("A1", 594, 841),
    ("A2", 420, 594),
    ("A3", 297, 420),
    ("A4", 210, 297),
    ("A5", 148, 210),
    ("A6", 105, 148),
    ("A7", 74, 105),
    ("A8", 52, 74),
    ("A9", 37, 52),
    ("A10", 26, 37),
    ("B0", 1000, 1414),
    ("B1", 707, 1000),
    ("B2", 500, 707),
    ("B3", 353, 500),
    ("B4", 250, 353),
    ("B5", 176, 250),
    ("B6", 125, 176),
    ("B7", 88, 125),
    ("B8", 62, 88),
    ("B9", 44, 62),
    ("B10", 31, 44),
    ("C0", 917, 1297),
    ("C1", 648, 917),
    ("C2", 458, 648),
    ("C3", 324, 458),
    ("C4", 229, 324),
    ("C5", 162, 229),
    ("C6", 114, 162),
    ("C7", 81, 114),
    ("C8", 57, 81),
    ("C9", 40, 57),
    ("C10", 28, 40),
    ("RA0", 860, 1220),
    ("RA1", 610, 860),
    ("RA2", 430, 610),
    ("RA3", 305, 430),
    ("RA4", 215, 305),
    ("SRA0", 900, 1280),
    ("SRA1", 640, 900),
    ("SRA2", 450, 640),
    ("SRA3", 320, 450),
    ("SRA4", 225, 320),
    ("A4x3", 297, 630),
    ("A4x4", 297, 841),
    ("A4x5", 297, 1051),
    ("A4x6", 297, 1261),
    ("A4x7", 297, 1471),
    ("A4x8", 297, 1682),
    ("A4x9", 297, 1892),
    ("A3x3", 420, 891),
    ("A3x4", 420, 1189),
    ("A3x5", 420, 1486),
    ("A3x6", 420, 1783),
    ("A3x7", 420, 2080),
    ("A2x3", 594, 1261),
    ("A2x4", 594, 1682),
    ("A2x5", 594, 2102),
    ("JIS B0", 1030, 1456),
    ("JIS B1", 728, 1030),
    ("JIS B2", 515, 728),
    ("JIS B3", 364, 515),
    ("JIS B4", 257, 364),
    ("JIS B5", 182, 257),
];

/// In tenths of an inch.
const INCHES: &[(&str, i64, i64)] = &[
    ("letter", 85, 110),
    ("legal", 85, 140),
    ("ledger", 110, 170),
    ("tabloid", 110, 170),
    ("ANSI C", 170, 220),
    ("ANSI D", 220, 340),
    ("ANSI E", 340, 440),
    ("ANSI F", 280, 400),
    ("arch A", 90, 120),
    ("arch B", 120, 180),
    ("arch C", 180, 240),
    ("arch D", 240, 360),
    ("arch E", 360, 480),
    ("super B", 130, 190),
];

/// The names of all sheets, each with its size.
pub fn all() -> impl Iterator<Item = SheetSize> {
    let sized = |name: &str, short, long| SheetSize {
        name: Some(name.to_string()),
        long,
        short,
    };
    let metric = METRIC.iter();
    let metric =
        metric.map(move |&(name, short, long)| sized(name, Length::mm(short), Length::mm(long)));
    // A tenth of an inch is 7.2 pt.
    let inch = |tenths: i64| Length::pt(72) * tenths / 10;
    let inches = INCHES.iter();
    metric.chain(inches.map(move |&(name, short, long)| sized(name, inch(short), inch(long))))
}

/// The sheet of that name. Capitals, spaces and hyphens do not matter, nor whether a size is written `A4x3` or `A4×3`.
pub fn named(name: &str) -> Option<SheetSize> {
    let plain = |name: &str| -> String {
        let kept = name.chars().filter(|c| !" -_".contains(*c));
        kept.map(|c| if c == '×' { 'x' } else { c })
            .flat_map(char::to_lowercase)
            .collect()
    };
    let asked = plain(name);
    all().find(|size| size.name.as_deref().map(plain).as_deref() == Some(asked.as_str()))
}

#[cfg(test)]
mod tests {
    use super::*;

    /// ISO 216: each size of a row is the one before halved, rounded down to the millimetre.
    #[test]
    fn each_size_of_a_row_is_the_one_before_halved() {
        for row in ["A", "B"] {
            for step in 1..=10 {
                let before = named(&format!("{row}{}", step - 1)).unwrap();
                let size = named(&format!("{row}{step}")).unwrap();
                let halved = before.long.units() / 36_000 / 2;
                assert_eq!(size.short, Length::mm(halved), "{row}{step}");
                assert_eq!(size.long, before.short, "{row}{step}");
            }
        }
    }

    /// The elongated sizes are so many short sides of the A size beside each other, give or take a millimetre for what
    /// halving rounded off.
    #[test]
    fn elongated_sizes_are_several_sheets_beside_each_other() {
        let long = all().filter_map(|size| {
            let name = size.name.clone()?;
            let (base, times) = name.split_once('x')?;
            let times: i64 = times.parse().ok()?;
            Some((named(base)?, times, size))
        });
        let mut seen = 0;
        for (base, times, size) in long {
            assert_eq!(size.short, base.long);
            let off = size.long - base.short * times;
            assert!(off >= Length::ZERO && off <= Length::mm(3), "{size:?}");
            seen += 1;
        }
        assert_eq!(seen, 15);
    }

    #[test]
    fn names_are_read_as_people_write_them() {
        for (written, long) in [("a4", 297), ("sra3", 450), ("A4 × 3", 630), ("jis-b4", 364)] {
            assert_eq!(named(written).unwrap().long, Length::mm(long), "{written}");
        }
        let letter = named("Letter").unwrap();
        assert_eq!(
            (letter.short, letter.long),
            (Length::pt(612), Length::pt(792))
        );
        assert_eq!(named("A11"), None);
        assert_eq!(named(""), None);
    }
}
