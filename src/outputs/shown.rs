//! What a panel's layer shows, as a fingerprint: whoever has placed a layer need not replace it while this stays.

use std::collections::HashMap;

use sha2::{Digest, Sha256};

use crate::layout::{GlyphRun, LaidPanel, Layout};
use crate::names::Length;

/// A fingerprint of what the layer of each panel shows.
pub fn shown(layout: &Layout) -> Vec<String> {
    let mut shown = Shown::default();
    let panels = layout.panels.iter();
    panels.map(|panel| shown.of(layout, panel)).collect()
}

/// Makes the fingerprints of one book; each font file is read through once.
#[derive(Default)]
struct Shown {
    faces: HashMap<usize, [u8; 32]>,
}

impl Shown {
    /// 32 hexadecimal digits (half a SHA-256) of the page's size, every glyph with its face, size and place, and
    /// the inks. What a file says of itself (its title, language, date and tags) is left out. Places are taken
    /// to the ten-thousandth of a millimetre, as in all of `layout.json`.
    fn of(&mut self, layout: &Layout, panel: &LaidPanel) -> String {
        let mut hash = Sha256::new();
        let bleed = layout.strip.paper().bleed;
        numbers(&mut hash, [panel.size.0, panel.size.1, bleed].map(fine));
        for line in &panel.lines {
            hash.update(format!("{:?}", line.ink));
            for run in &line.runs {
                self.add(&mut hash, run);
            }
        }
        let digits = hash.finalize();
        digits[..16].iter().map(|b| format!("{b:02x}")).collect()
    }

    fn add(&mut self, hash: &mut Sha256, run: &GlyphRun) {
        let face = self.faces.entry(run.face.id());
        hash.update(face.or_insert_with(|| Sha256::digest(run.face.data()).into()));
        numbers(hash, [run.size, run.x, run.baseline].map(fine));
        for glyph in &run.glyphs {
            let (advance, dx, dy) = (glyph.advance, glyph.dx, glyph.dy);
            numbers(hash, [i32::from(glyph.id), advance, dx, dy].map(i64::from));
        }
    }
}

/// Ten-thousandths of a millimetre.
fn fine(length: Length) -> i64 {
    (length.as_mm() * 10_000.0).round() as i64
}

fn numbers<const N: usize>(hash: &mut Sha256, numbers: [i64; N]) {
    numbers
        .iter()
        .for_each(|number| hash.update(number.to_le_bytes()));
}
