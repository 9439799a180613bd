//! Which way up: all eight orientations, from Exif in JPEG and PNG, and from TIFF's own tag.

use jpeg_encoder::ColorType;
use lopdf::content::Content;
use versefold::art::{Art, Edge};
use versefold::names::Length;
use versefold::outputs::pictures;

use crate::art::files::{SIZE, jpeg, png, tiff};
use crate::art::read;

/// Where the first row and the first column of what is stored stand in the upright picture: TIFF 6.0, tag 274.
const MEANT: [(Edge, Edge); 8] = [
    (Edge::Top, Edge::Left),
    (Edge::Top, Edge::Right),
    (Edge::Bottom, Edge::Right),
    (Edge::Bottom, Edge::Left),
    (Edge::Left, Edge::Top),
    (Edge::Right, Edge::Top),
    (Edge::Right, Edge::Bottom),
    (Edge::Left, Edge::Bottom),
];

/// White, but for a black first row, or first column.
fn striped(row: bool) -> Vec<u8> {
    let (width, height) = SIZE;
    let pixels = (0..height).flat_map(|y| (0..width).map(move |x| (x, y)));
    pixels
        .map(|(x, y)| {
            if (if row { y } else { x }) == 0 {
                0
            } else {
                255
            }
        })
        .collect()
}

fn exif(way: u16) -> Vec<u8> {
    tiff(false, (1, 1), &[(274, &[way])], &[])
}

/// Each kind of file with the same pixels.
fn turned(way: u16, pixels: &[u8]) -> Vec<Art> {
    let in_png = png(
        png::ColorType::Grayscale,
        png::BitDepth::Eight,
        pixels,
        |info| {
            info.exif_metadata = Some(exif(way).into());
        },
    );
    let in_tiff = tiff(
        true,
        SIZE,
        &[(258, &[8]), (262, &[1]), (274, &[way])],
        &[pixels.to_vec()],
    );
    let in_jpeg = jpeg(ColorType::Luma, pixels, |encoder| {
        encoder.set_quality(100);
        encoder.add_exif_metadata(&exif(way)).expect("a segment");
    });
    vec![
        read("a.png", &in_png).expect("a PNG picture"),
        read("a.tif", &in_tiff).expect("a TIFF picture"),
        read("a.jpg", &in_jpeg).expect("a JPEG picture"),
    ]
}

#[test]
fn pictures_stand_upright_whichever_way_they_are_stored() {
    for (number, (row, column)) in (1..).zip(MEANT) {
        for (stripe, meant) in [(true, row), (false, column)] {
            for art in turned(number, &striped(stripe)) {
                let stored = [SIZE, (SIZE.1, SIZE.0)][usize::from(number > 4)];
                assert_eq!((art.width(), art.height()), stored);
                // A pixel is 1 mm: the outermost 1.5 mm are the stripe.
                let size = (
                    Length::mm(art.width().into()),
                    Length::mm(art.height().into()),
                );
                let inked = Edge::ALL.map(|edge| art.edge(edge, size, Length::ZERO).is_ground());
                assert_eq!(
                    inked,
                    Edge::ALL.map(|edge| edge == meant),
                    "orientation {number}"
                );
                assert_eq!(drawn_at(&art, false, stripe), meant, "orientation {number}");
                let opposite = match meant {
                    Edge::Left => Edge::Right,
                    Edge::Right => Edge::Left,
                    Edge::Top => Edge::Bottom,
                    Edge::Bottom => Edge::Top,
                };
                assert_eq!(drawn_at(&art, true, stripe), opposite);
            }
        }
    }
}

/// On which edge of a page of 200 × 100 points the first row, or the first column, of what is stored is drawn.
fn drawn_at(art: &Art, turned: bool, row: bool) -> Edge {
    let size = (Length::pt(200), Length::pt(100));
    let bytes = pictures(&[(art, size, turned)]).expect("a PDF");
    let pdf = lopdf::Document::load_mem(&bytes).expect("it can be parsed");
    let page = pdf.get_pages()[&1];
    let content = pdf.get_page_content(page);
    let content = Content::decode(&content).expect("it can be parsed");
    let matrix = content
        .operations
        .iter()
        .find(|operation| operation.operator == "cm");
    let matrix: Vec<f32> = matrix
        .expect("a matrix")
        .operands
        .iter()
        .map(|number| number.as_float().expect("a number"))
        .collect();
    // The middle of the first row, or column, in the unit square that the stored picture fills (PDF 1.7, 8.9.5).
    let (x, y) = if row { (0.5, 1.0) } else { (0.0, 0.5) };
    let at = (
        matrix[0] * x + matrix[2] * y + matrix[4],
        matrix[1] * x + matrix[3] * y + matrix[5],
    );
    match at {
        (0.0, 50.0) => Edge::Left,
        (200.0, 50.0) => Edge::Right,
        (100.0, 100.0) => Edge::Top,
        (100.0, 0.0) => Edge::Bottom,
        _ => panic!("the row is drawn at {at:?}"),
    }
}

#[test]
fn an_orientation_that_makes_no_sense_is_none() {
    for block in [&b"MM"[..], b"MM\0*\0\0\xff\xff", &exif(9), &exif(0), b""] {
        let bytes = jpeg(ColorType::Luma, &striped(true), |encoder| {
            encoder.add_exif_metadata(block).expect("a segment");
        });
        let art = read("a.jpg", &bytes).expect("a picture");
        assert_eq!((art.width(), art.height()), SIZE);
    }
}
