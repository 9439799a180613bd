//! A paragraph of a million words: it ends, in memory that grows with the text alone.

use versefold::names::Length;
use versefold::setting::line_breaks::{How, Justified, Measures, Ragged, best_breaks};

use crate::line_breaks::builder::Builder;

/// Words of one to twelve letters' width, one in eight of which may be divided, drawn with a fixed generator.
fn points(words: usize) -> Vec<versefold::setting::line_breaks::Point> {
    let mut builder = Builder::new();
    let mut state = 0x1970_u64;
    for word in 0..words {
        state = state
            .wrapping_mul(6_364_136_223_846_793_005)
            .wrapping_add(1_442_695_040_888_963_407);
        if word > 0 {
            builder.space((25, 12, 8), 0, 0);
        }
        builder.letters(50 + (state >> 33) as i64 % 400);
        if state >> 61 == 0 {
            builder.division(33, 50);
            builder.letters(150);
        }
    }
    builder.end()
}

#[test]
fn a_million_words_keep_few_lines_each() {
    let points = points(1_000_000);
    let first = [Length::from_units(1_500), Length::from_units(1_500)];
    let measures = Measures {
        first: &first,
        rest: Length::from_units(1_700),
    };
    let ragged = How::Ragged(Ragged::of(Length::from_units(100)));
    for how in [ragged, How::Justified(Justified::default())] {
        let fall = best_breaks(&points, &measures, &how);
        println!("{} points, {} lines kept", points.len(), fall.kept());
        assert!(
            fall.kept() <= 3 * points.len(),
            "{} lines kept",
            fall.kept()
        );
        let lines: Vec<_> = fall.lines_from(0).collect();
        assert!(lines.len() > 100_000);
        assert!(lines.windows(2).all(|pair| pair[0].to == pair[1].from));
        assert_eq!(lines.last().map(|line| line.to), Some(points.len() - 1));
        assert_eq!(fall.cost_from(0).overfull, 0);
    }
}
