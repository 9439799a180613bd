//! A book laid out in memory and drawn by a program of one's own: the words of its first panel as outlines, in SVG.
//!
//! ```sh
//! cargo run --example from_memory --no-default-features > panel.svg
//! ```

use std::error::Error;

use versefold::assets::Assets;
use versefold::book::Workbench;
use versefold::layout::{GlyphRun, LaidPanel};
use versefold::typeface::Outline;

const PLAN: &str = r#"
title = "The Winter Bus"
language = "en-GB"
manuscript = "winter-bus.txt"

[paper]
panel-width = "105 mm"
panel-height = "148 mm"
panels-per-side = 4

[text]
size = "11 pt"
leading = "15 pt"
"#;

const POEM: &str = "\
I got the pass because the man before me
had married down the valley, and the man
before that man had braked. It was *October*.
The foreman walked me once around the bus
";

fn main() -> Result<(), Box<dyn Error>> {
    print!("{}", first_panel()?);
    Ok(())
}

/// The first panel as an SVG picture, in millimetres.
pub fn first_panel() -> Result<String, Box<dyn Error>> {
    // Fonts, scans and masks that the plan names would lie beside the texts.
    let files = Assets::memory()
        .with("concertina.toml", PLAN)
        .with("winter-bus.txt", POEM);
    let layout = Workbench::new(files).lay_out()?;
    Ok(drawn(layout.panels.first().ok_or("a strip has panels")?))
}

fn drawn(panel: &LaidPanel) -> String {
    let (width, height) = (panel.size.0.as_mm(), panel.size.1.as_mm());
    let mut svg = format!(
        "<svg xmlns=\"http://www.w3.org/2000/svg\" width=\"{width}mm\" height=\"{height}mm\" \
         viewBox=\"0 0 {width} {height}\">\n"
    );
    for line in &panel.lines {
        let words = line.text.replace('&', "&amp;").replace('<', "&lt;");
        let outlines: String = line.runs.iter().map(outlines).collect();
        svg.push_str(&format!(
            "<path d=\"{}\"><title>{words}</title></path>\n",
            outlines.trim_end()
        ));
    }
    svg.push_str("</svg>\n");
    svg
}

/// The outlines of a run's glyphs. Font units point up, those of the panel down.
fn outlines(run: &GlyphRun) -> String {
    let scale = run.size.as_mm() / f64::from(run.face.metrics().units_per_em);
    let (left, baseline) = (run.x.as_mm(), run.baseline.as_mm());
    let mut path = String::new();
    let mut pen = 0;
    for glyph in &run.glyphs {
        let at = |x: f32, y: f32| {
            let x = left + (f64::from(x) + f64::from(pen + glyph.dx)) * scale;
            let y = baseline - (f64::from(y) + f64::from(glyph.dy)) * scale;
            format!("{x:.3} {y:.3} ")
        };
        for piece in run.face.outline(glyph.id) {
            path += &match piece {
                Outline::Move(x, y) => format!("M {}", at(x, y)),
                Outline::Line(x, y) => format!("L {}", at(x, y)),
                Outline::Curve([x1, y1, x2, y2, x, y]) => {
                    format!("C {}{}{}", at(x1, y1), at(x2, y2), at(x, y))
                }
                Outline::Close => "Z ".to_string(),
            };
        }
        pen += glyph.advance;
    }
    path
}
