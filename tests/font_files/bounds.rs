//! Optical bounds: Alegreya has none, but a feature that moves capitals apart; under another name and with other numbers
//! that is a bound.

use versefold::names::Length;
use versefold::typeface::{Edge, FontStyle, Script, Shaper};

use super::{alegreya, read};

/// The lookup of `cpsp`: each capital 10 units to the right and 20 units wider (OpenType, single adjustment, format 1).
const APART: [u8; 10] = [0, 1, 0, 10, 0, 5, 0, 10, 0, 20];
/// Each capital 40 units to the left and 50 narrower.
const BOUND: [u8; 10] = [0, 1, 0, 10, 0, 5, 0xff, 0xd8, 0xff, 0xce];

/// A font file with some bytes, which stand there once, for others.
fn with(mut font: Vec<u8>, old: &[u8], new: &[u8]) -> Vec<u8> {
    let found: Vec<usize> = font
        .windows(old.len())
        .enumerate()
        .filter_map(|(at, bytes)| (bytes == old).then_some(at))
        .collect();
    assert_eq!(found.len(), 1, "{old:?}");
    font[found[0]..found[0] + new.len()].copy_from_slice(new);
    font
}

#[test]
fn letters_stand_out_by_the_bounds_of_their_face() {
    let voice = FontStyle::plain(Length::pt(10));
    let bound = |font: &[u8], letter: char, edge: Edge| {
        let typeface = read(font).expect("a sound font");
        Shaper::new(&typeface, "en").optical_bound(letter, voice, Script::LATIN, edge)
    };
    // The face has a thousand units to the em.
    let units = |units: i64| Some(Length::pt(10).scaled(units, 1000));
    let apart = with(alegreya(), &APART, &BOUND);
    for (tag, edge, other, stands_out) in [
        (b"lfbd", Edge::Left, Edge::Right, 40),
        (b"rtbd", Edge::Right, Edge::Left, 50),
    ] {
        let font = with(apart.clone(), b"cpsp", tag);
        assert_eq!(bound(&font, 'T', edge), units(stands_out));
        assert_eq!(bound(&font, 't', edge), units(0));
        assert_eq!(bound(&font, 'T', other), None);
        assert_eq!(bound(&font, '\u{5d0}', edge), None);
        assert_eq!(bound(&apart, 'T', edge), None);
    }
}
