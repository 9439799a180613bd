//! The inks of a file: colours, overprinting, spot colours.

use pdf_writer::writers::Resources;
use pdf_writer::{Content, Name, Pdf, Ref};

use super::{Document, Drawing, Numbers};
use crate::plan::Ink;

/// The inks that a file uses, each with its objects.
pub(super) struct Inks {
    inks: Vec<Ink>,
    /// Graphics state without and with overprinting.
    knock_out: Ref,
    overprint: Ref,
    /// Colour spaces of spot inks, by ink.
    spots: Vec<Option<Ref>>,
}

impl Inks {
    pub(super) fn collect(document: &Document<'_>, numbers: &mut Numbers) -> Inks {
        let mut inks: Vec<Ink> = Vec::new();
        for drawing in document.pages.iter().flat_map(|page| &page.drawings) {
            let lines = match drawing {
                Drawing::Words { panel, .. } => panel.lines.as_slice(),
                Drawing::Label { line, .. } => std::slice::from_ref(&**line),
                _ => &[],
            };
            for line in lines {
                if !inks.contains(&line.ink) {
                    inks.push(line.ink.clone());
                }
            }
        }
        let spots = inks
            .iter()
            .map(|ink| matches!(ink, Ink::Spot { .. }).then(|| numbers.next()))
            .collect();
        Inks {
            inks,
            knock_out: numbers.next(),
            overprint: numbers.next(),
            spots,
        }
    }

    pub(super) fn index_of(&self, ink: &Ink) -> usize {
        self.inks.iter().position(|known| known == ink).unwrap_or(0)
    }

    /// Sets the fill colour and the overprinting that go with it.
    pub(super) fn apply(&self, ink: &Ink, content: &mut Content) {
        let share = |thousandths: u16| f32::from(thousandths) / 1000.0;
        // Black ink prints over what lies below; every other colour knocks it out.
        let state: &[u8] = if *ink == Ink::Black { b"Go" } else { b"Gk" };
        content.set_parameters(Name(state));
        match ink {
            Ink::Black => content.set_fill_cmyk(0.0, 0.0, 0.0, 1.0),
            Ink::ReversedOut => content.set_fill_cmyk(0.0, 0.0, 0.0, 0.0),
            Ink::Grey(grey) => content.set_fill_gray(share(*grey)),
            Ink::Cmyk(ink) => {
                let [c, m, y, k] = ink.map(share);
                content.set_fill_cmyk(c, m, y, k)
            }
            Ink::Rgb(light) => {
                let [r, g, b] = light.map(share);
                content.set_fill_rgb(r, g, b)
            }
            Ink::Spot { .. } => content
                .set_fill_color_space(pdf_writer::types::ColorSpaceOperand::Named(Name(
                    spot_name(self.index_of(ink)).as_bytes(),
                )))
                .set_fill_color([1.0]),
        };
    }

    pub(super) fn name_resources(&self, resources: &mut Resources<'_>, used: &[usize]) {
        if used.is_empty() {
            return;
        }
        let mut states = resources.ext_g_states();
        let black = |ink: &&usize| self.inks[**ink] == Ink::Black;
        if used.iter().any(|ink| black(&ink)) {
            states.pair(Name(b"Go"), self.overprint);
        }
        if used.iter().any(|ink| !black(&ink)) {
            states.pair(Name(b"Gk"), self.knock_out);
        }
        drop(states);
        let spots: Vec<_> = used
            .iter()
            .filter_map(|&ink| self.spots[ink].map(|id| (ink, id)))
            .collect();
        if !spots.is_empty() {
            let mut spaces = resources.color_spaces();
            for (ink, id) in spots {
                spaces.pair(Name(spot_name(ink).as_bytes()), id);
            }
        }
    }

    pub(super) fn write(&self, pdf: &mut Pdf) {
        for (id, on) in [(self.knock_out, false), (self.overprint, true)] {
            let mut state = pdf.ext_graphics(id);
            state.overprint(on).overprint_fill(on);
            if on {
                state.overprint_mode(pdf_writer::types::OverprintMode::IgnoreZeroChannel);
            }
        }
        for (ink, id) in self.inks.iter().zip(&self.spots) {
            let (Ink::Spot { name, cmyk }, Some(id)) = (ink, id) else {
                continue;
            };
            let space = pdf.color_space(*id);
            let mut separation = space.separation(Name(name.as_bytes()));
            separation.alternate_color_space().device_cmyk();
            let full = cmyk.map(|share| f32::from(share) / 1000.0);
            separation
                .tint_exponential()
                .domain([0.0, 1.0])
                .range([0.0, 1.0].repeat(4))
                .c0([0.0; 4])
                .c1(full)
                .n(1.0);
        }
    }
}

fn spot_name(ink: usize) -> String {
    format!("S{ink}")
}
