//! PDF/X-4, as the rules of `tests/x4` see it.

#[path = "../../../../tests/x4/check.rs"]
mod check;

use super::sample::{document, file, page, panel};
use super::*;
use crate::units::Length;
use check::broken::every_breakage_is_found;
use check::profile::cmyk;
use check::rules::findings;

/// A press that no printer has.
pub fn intent() -> Intent {
    Intent {
        profile: cmyk(),
        channels: 4,
        condition: "A press for tests".to_string(),
        info: Some("Four inks on uncoated paper".to_string()),
    }
}

#[test]
fn a_file_for_the_press_keeps_every_rule() {
    let intent = intent();
    let panel = panel();
    let claims = Claims::X4(&intent);
    let mut long = page(&panel);
    long.size.0 = Length::mm(6000);
    let mut mirrored = page(&panel);
    mirrored.mirrored = true;
    let mut untrimmed = page(&panel);
    untrimmed.boxes = None;
    for page in [page(&panel), long, mirrored, untrimmed] {
        let pdf = write(&document(vec![page], claims)).expect("written");
        assert_eq!(findings(&pdf), []);
    }
}

#[test]
fn what_breaks_a_rule_is_found_by_that_rule() {
    every_breakage_is_found(&file(Claims::X4(&intent())));
}

/// The same file is the same edition; another is another.
#[test]
fn an_edition_is_named_by_what_is_in_it() {
    let id = |pdf: &[u8]| {
        let file = check::rules::File::read(pdf);
        let id = file.xmp_value("http://ns.adobe.com/xap/1.0/mm/", "DocumentID");
        id.expect("an identifier").to_string()
    };
    let intent = intent();
    let (panel, mut other) = (panel(), panel());
    other.lines.truncate(2);
    let written =
        |panel| write(&document(vec![page(panel)], Claims::X4(&intent))).expect("written");
    let (one, again, other) = (written(&panel), written(&panel), written(&other));
    assert_eq!(one, again);
    assert_ne!(id(&one), id(&other));
}
