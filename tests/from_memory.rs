//! The example for other programs draws what it says: lines of the poem in their places, each as long as another
//! shaper and another reader of the font make it.

use harfrust::{Buffer, Font, ShapeOptions, ShaperFont};

#[allow(dead_code, reason = "its `main` prints what is looked at here")]
#[path = "../examples/from_memory.rs"]
mod example;

/// A line: its words, and the points of its path in millimetres, contour by contour.
struct Line<'a> {
    words: &'a str,
    contours: Vec<Vec<(f64, f64)>>,
}

impl Line<'_> {
    fn of(path: &str) -> Line<'_> {
        let (drawn, rest) = path.split_once("\"><title>").expect("a title");
        let (words, _) = rest.split_once("</title>").expect("its end");
        let points = |contour: &str| {
            let numbers = contour.split(' ').filter_map(|step| step.parse().ok());
            let numbers: Vec<f64> = numbers.collect();
            let (pairs, rest) = numbers.as_chunks::<2>();
            assert!(rest.is_empty());
            pairs.iter().map(|pair| (pair[0], pair[1])).collect()
        };
        let contours = drawn.split_terminator('Z').map(points).collect();
        Line { words, contours }
    }

    /// From the left end of the ink to its right.
    fn ink(&self) -> f64 {
        let all = || self.contours.iter().flatten().map(|point| point.0);
        all().fold(f64::MIN, f64::max) - all().fold(f64::MAX, f64::min)
    }

    /// The foot of its first letter.
    fn foot(&self) -> f64 {
        let first = self.contours[0].iter().map(|point| point.1);
        first.fold(f64::MIN, f64::max)
    }
}

/// From the left end of the ink to its right, in millimetres at a size of 11 points, as harfrust shapes a line of Alegreya and
/// ttf-parser bounds its glyphs.
fn ink(words: &str) -> f64 {
    let data = include_bytes!("../fonts-open/alegreya/Alegreya-Regular.ttf");
    let face = ttf_parser::Face::parse(data, 0).expect("a font");
    let mut buffer = Buffer::new();
    buffer.push_str(words);
    buffer.guess_segment_properties();
    let font = Font::new(data.to_vec(), 0).expect("a font");
    harfrust::shape(&ShaperFont::new(&font), &mut buffer, ShapeOptions::new()).expect("shaped");
    let mut pen = 0;
    let mut ends: Vec<i32> = Vec::new();
    for (info, position) in buffer.glyph_infos().iter().zip(buffer.glyph_positions()) {
        let glyph = ttf_parser::GlyphId(info.glyph_id as u16);
        if let Some(bounds) = face.glyph_bounding_box(glyph) {
            let at = pen + position.x_offset;
            ends.extend([at + i32::from(bounds.x_min), at + i32::from(bounds.x_max)]);
        }
        pen += position.x_advance;
    }
    let units = ends.iter().max().expect("ink") - ends.iter().min().expect("ink");
    f64::from(units) * 11.0 / f64::from(face.units_per_em()) / 72.0 * 25.4
}

#[test]
fn the_example_draws_its_first_panel() {
    let svg = example::first_panel().expect("it is sound");
    assert_eq!(svg, example::first_panel().expect("it is sound"));
    let found: Vec<Line> = svg.split("<path d=\"").skip(1).map(Line::of).collect();
    let words: Vec<&str> = found.iter().map(|line| line.words).collect();
    assert_eq!(
        words,
        [
            "I got the pass because the man before me",
            "had married down the valley, and the man",
            "before that man had braked. It was October.",
            "The foreman walked me once around the bus",
        ]
    );
    // The third line has a word in italics, which is another font.
    for line in [&found[0], &found[1], &found[3]] {
        let (ours, theirs) = (line.ink(), ink(line.words));
        assert!(
            (ours - theirs).abs() < 0.02,
            "{}: {ours} {theirs}",
            line.words
        );
    }
    for pair in found.windows(2) {
        // 15 points; round letters overshoot the baseline a little.
        let apart = pair[1].foot() - pair[0].foot();
        assert!((apart - 15.0 / 72.0 * 25.4).abs() < 0.08, "{apart}");
    }
    let mut points = found.iter().flat_map(|line| line.contours.iter().flatten());
    assert!(points.all(|(x, y)| (0.0..105.0).contains(x) && (0.0..148.0).contains(y)));
}
