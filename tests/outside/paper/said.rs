//! What `pdfinfo` says of a file: where its paper is cut.

use std::path::Path;

use super::super::says;

/// A box by its left, head, right and foot in points, from the head of the page.
#[derive(Clone, Copy, Debug)]
pub struct Edges {
    pub left: f64,
    pub head: f64,
    pub right: f64,
    pub foot: f64,
}

/// Where the paper is cut, and how far art goes beyond that, for every page.
pub fn trims(file: &Path) -> Vec<(Edges, f64)> {
    let said = says(
        "pdfinfo",
        &["-box", "-f", "1", "-l", "9999"],
        &[file.into()],
    );
    let said = said.expect("it reads");
    let boxes = |name: &str| -> Vec<[f64; 4]> {
        let lines = said.lines().filter(|line| line.contains(name));
        let numbers = lines.map(|line| {
            let (_, numbers) = line.split_once(':').expect("numbers");
            let numbers: Vec<f64> = numbers
                .split_whitespace()
                .map(|number| number.parse().expect("a number"))
                .collect();
            numbers.try_into().expect("four numbers")
        });
        numbers.collect()
    };
    let (media, bleeds, trims) = (boxes("MediaBox"), boxes("BleedBox"), boxes("TrimBox"));
    assert!(media.len() == trims.len() && bleeds.len() == trims.len() && !trims.is_empty());
    let pages = media.iter().zip(bleeds).zip(trims);
    let pages = pages.map(|((media, bleed), trim)| {
        let edges = Edges {
            left: trim[0],
            head: media[3] - trim[3],
            right: trim[2],
            foot: media[3] - trim[1],
        };
        (edges, trim[1] - bleed[1])
    });
    pages.collect()
}
