//! Grounds: what is inked to the edge.

use versefold::art::Edge;
use versefold::names::Length;

use crate::art::files::{png, tiff};
use crate::art::read;

/// 100 × 80 pixels of red, green and blue, each pixel by what it is asked.
fn painted(paint: impl Fn(u32, u32) -> [u8; 3]) -> versefold::art::Art {
    let pixels = (0..80).flat_map(|y| (0..100).map(move |x| (x, y)));
    let samples: Vec<u8> = pixels.flat_map(|(x, y)| paint(x, y)).collect();
    let tags: &[(u16, &[u16])] = &[(258, &[8; 3]), (262, &[2]), (277, &[3])];
    read("a.tif", &tiff(true, (100, 80), tags, &[samples])).expect("a picture")
}

#[test]
fn grounds_are_told_edge_by_edge_with_their_colour() {
    // A yellow ground over the left half and a grey frame of paper, darker than white but not much.
    let art = painted(|x, _| {
        if x < 50 {
            [240, 200, 40]
        } else {
            [244, 242, 238]
        }
    });
    let size = (Length::mm(100), Length::mm(80));
    let edge = |edge| art.edge(edge, size, Length::ZERO);
    let left = edge(Edge::Left);
    assert_eq!((left.covered_per_mille, left.mean), (1000, [240, 200, 40]));
    assert!(left.is_ground());
    assert_eq!(edge(Edge::Right).covered_per_mille, 0);
    assert_eq!(edge(Edge::Right).mean, [255; 3]);
    for half in [Edge::Top, Edge::Bottom] {
        assert_eq!(edge(half).covered_per_mille, 500);
        assert!(!edge(half).is_ground());
        assert_eq!(edge(half).mean, [240, 200, 40]);
    }
}

/// What counts is the outermost 1.5 mm as it is placed: of a stripe three pixels wide that stands off the edge by
/// three, all, some or nothing.
#[test]
fn how_deep_an_edge_is_looked_at_follows_its_size() {
    let art = painted(|x, _| {
        if (3..6).contains(&x) {
            [0; 3]
        } else {
            [255; 3]
        }
    });
    let covered = |pixel: Length| {
        art.edge(Edge::Left, (pixel * 100, pixel * 80), Length::ZERO)
            .mean
    };
    // Pixels of 1 mm: the first alone. Pixels of 0.25 mm: the first six, half of them black. Pixels of 0.05 mm: of the
    // 30 the first 24, to which bands reach, three of them black.
    assert_eq!(covered(Length::mm(1)), [255; 3]);
    assert_eq!(covered(Length::mm(1) / 4), [127; 3]);
    assert_eq!(covered(Length::mm(1) / 20), [223; 3]);
}

#[test]
fn paper_that_shows_through_is_no_ground() {
    let black = |cover: u8| {
        let pixels = [0, 0, 0, cover].repeat(21 * 19);
        let bytes = png(png::ColorType::Rgba, png::BitDepth::Eight, &pixels, |_| {});
        let art = read("a.png", &bytes).expect("a picture");
        art.edge(Edge::Top, (Length::mm(21), Length::mm(19)), Length::ZERO)
            .mean
    };
    assert_eq!(black(255), [0; 3]);
    assert_eq!(black(128), [127; 3]);
    assert_eq!(black(0), [255; 3]);
}
