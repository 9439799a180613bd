//! The scans of the demo: each has the shape of its panels, with bleed, and enough pixels.

use std::fs;
use std::path::Path;

use versefold::art::{Art, Edge, Fit, fit};
use versefold::assets::Assets;
use versefold::book::plan_file::check;
use versefold::names::{Length, Source};

#[test]
fn the_scans_of_the_demo_fit_their_panels() {
    let book = Path::new(env!("CARGO_MANIFEST_DIR")).join("examples/winter-bus");
    let text = fs::read_to_string(book.join("concertina.toml")).expect("a plan");
    let plan = check::read(&Source::new("concertina.toml", text)).expect("a sound plan");
    let panel = (plan.paper.panel_width, plan.paper.panel_height);
    let bleed = plan.paper.bleed;
    let mut inked = Vec::new();
    for picture in &plan.pictures {
        let Some(asked) = &picture.art else {
            continue;
        };
        let name = asked.file.as_str();
        let art = Art::read(&Assets::folder(&book), name).expect(name);
        assert_eq!(fit(&art, name, panel, bleed), Ok(Fit::WithBleed), "{name}");
        let (width, height) = (panel.0 + bleed * 2, panel.1 + bleed * 2);
        assert!(art.ppi_on(width, height) > 239.0, "{name}");
        assert_eq!(art.notes(), []);
        let edges = Edge::ALL.map(|edge| art.edge(edge, (width, height), Length::ZERO).is_ground());
        inked.push((picture.name.as_str(), edges));
    }
    // Left, right, head, foot. Rock that is cut all over is still a ground; snow is none.
    assert_eq!(
        inked,
        [
            ("the snow poles", [false; 4]),
            ("first light", [false, false, false, true]),
            ("the hairpins", [true, true, true, true]),
            ("the tunnel", [true, true, true, true]),
        ]
    );
}
