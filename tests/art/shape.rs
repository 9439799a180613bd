//! How a picture lies on its panels, and how many pixels to the inch it has there.

use versefold::art::{Art, Fit, fit, pixels_at};
use versefold::names::{Length, decimals};

use crate::art::read;

/// A black picture of that size.
fn sized(width: u32, height: u32) -> Art {
    let row = vec![0; width.div_ceil(8) as usize * height as usize];
    let tags: &[(u16, &[u16])] = &[(258, &[1]), (262, &[1])];
    let bytes = crate::art::files::tiff(true, (width, height), tags, &[row]);
    read("a.tif", &bytes).expect("a picture")
}

/// 210 × 297 mm at 300 pixels to the inch, with 3 mm bleed and without: common practice, computed from 25.4 mm to the
/// inch.
#[test]
fn the_worked_example() {
    let page = (Length::mm(210), Length::mm(297));
    let full = (Length::mm(216), Length::mm(303));
    assert_eq!(pixels_at(full, 300), (2551, 3579));
    assert_eq!(pixels_at(page, 300), (2480, 3508));
    let told = |art: &Art| fit(art, "tunnel.png", page, Length::mm(3));
    assert_eq!(told(&sized(2551, 3579)), Ok(Fit::WithBleed));
    assert_eq!(told(&sized(2480, 3508)), Ok(Fit::Trimmed));
    assert_eq!(decimals(sized(2551, 3579).ppi_on(full.0, full.1), 1), "300");
    let fault = told(&sized(3000, 3000)).expect_err("a square");
    assert_eq!(fault.word, "wrong-shape");
    assert_eq!(
        fault.what,
        "`tunnel.png` has 3000 × 3000 pixels, a shape of 1.000 : 1, which is not that of its place"
    );
    assert_eq!(
        fault.allowed.as_deref(),
        Some(
            "216 mm × 303 mm with the bleed (1 : 1.403; 2551 × 3579 pixels at 300 to the inch), or \
             210 mm × 297 mm without (1 : 1.414; 2480 × 3508 pixels at 300 to the inch)"
        )
    );
}

#[test]
fn the_nearer_shape_wins_within_a_hundredth() {
    // 100 × 150 mm: with 5 mm bleed 110 × 160.
    let told = |width, height| {
        let (panel, bleed) = ((Length::mm(100), Length::mm(150)), Length::mm(5));
        fit(&sized(width, height), "a.png", panel, bleed).ok()
    };
    assert_eq!(told(1100, 1600), Some(Fit::WithBleed));
    assert_eq!(told(1110, 1600), Some(Fit::WithBleed));
    assert_eq!(told(1113, 1600), None);
    assert_eq!(told(1089, 1600), None, "1 % and a little");
    assert_eq!(told(1090, 1600), Some(Fit::WithBleed));
    assert_eq!(told(1000, 1500), Some(Fit::Trimmed));
    assert_eq!(told(1500, 1000), None);
    // Without bleed the two are one.
    let panel = (Length::mm(100), Length::mm(150));
    let without = |width| fit(&sized(width, 1500), "a.png", panel, Length::ZERO);
    assert_eq!(without(1000), Ok(Fit::WithBleed));
    let fault = without(1100).expect_err("too wide");
    let allowed = "100 mm × 150 mm trimmed (1 : 1.500; 1181 × 1772 pixels at 300 to the inch)";
    assert_eq!(fault.allowed.as_deref(), Some(allowed));
}

#[test]
fn resolution_is_that_of_the_axis_that_has_less() {
    let art = sized(600, 600);
    assert_eq!(art.ppi_on(Length::pt(72), Length::pt(144)), 300.0);
    assert_eq!(art.ppi_on(Length::pt(288), Length::pt(144)), 150.0);
    assert!(art.is_line_art());
}
