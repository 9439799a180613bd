//! The inks of a file: colours, overprinting, spot colours, and the colour of all plates.

use pdf_writer::types::ColorSpaceOperand;
use pdf_writer::writers::Resources;
use pdf_writer::{Content, Name, Pdf, Ref};

use super::content::DrawnPage;
use super::intent::write_profile;
use super::{Document, Drawing, ObjectNumbers, Paint};
use crate::art::srgb_profile;
use crate::names::Ink;

/// The resource name of the colour of all plates.
pub(super) const REGISTRATION: Name<'static> = Name(b"All");

/// The inks that a file uses, each with its objects.
pub(super) struct Inks {
    inks: Vec<Ink>,
    /// The graphics state without overprinting.
    knock_out: Ref,
    /// The graphics state with overprinting.
    overprint: Ref,
    /// Colour spaces of spot inks, by ink.
    spots: Vec<Option<Ref>>,
    /// The colour space of marks on all plates, if there are any.
    registration: Option<Ref>,
    /// What calibrates red, green and blue where the file's claim asks for that: a colour space and its profile.
    light: Option<(Ref, Ref)>,
}

impl Inks {
    pub(super) fn collect(document: &Document<'_>, numbers: &mut ObjectNumbers) -> Inks {
        let mut inks: Vec<Ink> = Vec::new();
        let mut on_all_plates = false;
        let mut take = |ink: &Ink| {
            if !inks.contains(ink) {
                inks.push(ink.clone());
            }
        };
        for drawing in document.pages.iter().flat_map(|page| &page.drawings) {
            let lines = match drawing {
                Drawing::Words { panel, .. } => panel.lines.as_slice(),
                Drawing::Label { line, .. } => std::slice::from_ref(&**line),
                _ => &[],
            };
            lines.iter().for_each(|line| take(&line.ink));
            for paint in drawing.paints().into_iter().flatten() {
                match paint {
                    Paint::Ink(ink) => take(ink),
                    Paint::Registration => on_all_plates = true,
                    Paint::Grey(_) => {}
                }
            }
        }
        let spots = inks
            .iter()
            .map(|ink| matches!(ink, Ink::Spot { .. }).then(|| numbers.next()))
            .collect();
        let (knock_out, overprint) = (numbers.next(), numbers.next());
        let calibrated = document.claims.for_press() && inks.iter().any(is_light);
        Inks {
            inks,
            knock_out,
            overprint,
            spots,
            registration: on_all_plates.then(|| numbers.next()),
            light: calibrated.then(|| (numbers.next(), numbers.next())),
        }
    }

    pub(super) fn index_of(&self, ink: &Ink) -> usize {
        self.inks.iter().position(|known| known == ink).unwrap_or(0)
    }

    /// Sets the colour of words and areas, and the overprinting that goes with it.
    pub(super) fn apply(&self, ink: &Ink, content: &mut Content) {
        content.set_parameters(Name(state_of(ink)));
        match ink {
            Ink::Black | Ink::ReversedOut | Ink::Cmyk(_) => {
                let [c, m, y, k] = plates(ink);
                content.set_fill_cmyk(c, m, y, k)
            }
            Ink::Grey(grey) => content.set_fill_gray(share(*grey)),
            Ink::Rgb(light) => {
                let [r, g, b] = light.map(share);
                content.set_fill_rgb(r, g, b)
            }
            Ink::Spot { .. } => content
                .set_fill_color_space(ColorSpaceOperand::Named(Name(
                    spot_name(self.index_of(ink)).as_bytes(),
                )))
                .set_fill_color([1.0]),
        };
    }

    /// Sets the colour of lines, and the overprinting that goes with it.
    pub(super) fn apply_to_lines(&self, ink: &Ink, content: &mut Content) {
        content.set_parameters(Name(state_of(ink)));
        match ink {
            Ink::Black | Ink::ReversedOut | Ink::Cmyk(_) => {
                let [c, m, y, k] = plates(ink);
                content.set_stroke_cmyk(c, m, y, k)
            }
            Ink::Grey(grey) => content.set_stroke_gray(share(*grey)),
            Ink::Rgb(light) => {
                let [r, g, b] = light.map(share);
                content.set_stroke_rgb(r, g, b)
            }
            Ink::Spot { .. } => content
                .set_stroke_color_space(ColorSpaceOperand::Named(Name(
                    spot_name(self.index_of(ink)).as_bytes(),
                )))
                .set_stroke_color([1.0]),
        };
    }

    /// Names the inks and graphics states that a page uses.
    pub(super) fn name_resources(&self, resources: &mut Resources<'_>, drawn: &DrawnPage) {
        let used = || drawn.inks.iter().map(|&ink| (ink, &self.inks[ink]));
        if used().next().is_some() {
            let mut states = resources.ext_g_states();
            let state = |name: &[u8]| used().any(|(_, ink)| state_of(ink) == name);
            if state(OVERPRINTS) {
                states.pair(Name(OVERPRINTS), self.overprint);
            }
            if state(KNOCKS_OUT) {
                states.pair(Name(KNOCKS_OUT), self.knock_out);
            }
        }
        let spots = used().filter_map(|(ink, _)| Some((spot_name(ink), self.spots[ink]?)));
        let mut spaces: Vec<(String, Ref)> = spots.collect();
        let name = |name: Name<'_>| String::from_utf8_lossy(name.0).into_owned();
        let all = self.registration.filter(|_| drawn.registration);
        spaces.extend(all.map(|id| (name(REGISTRATION), id)));
        let light = self.light.filter(|_| used().any(|(_, ink)| is_light(ink)));
        spaces.extend(light.map(|(id, _)| ("DefaultRGB".to_string(), id)));
        if !spaces.is_empty() {
            let mut entry = resources.color_spaces();
            for (name, id) in spaces {
                entry.pair(Name(name.as_bytes()), id);
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
            separation(pdf, *id, Name(name.as_bytes()), cmyk.map(share));
        }
        if let Some(id) = self.registration {
            separation(pdf, id, REGISTRATION, [1.0; 4]);
        }
        if let Some((space, profile)) = self.light {
            pdf.color_space(space).icc_based(profile);
            write_profile(pdf, profile, srgb_profile(), 3);
        }
    }
}

/// A plate, and what it looks like in cyan, magenta, yellow and black: all of it at full tint, nothing at none.
fn separation(pdf: &mut Pdf, id: Ref, plate: Name<'_>, full: [f32; 4]) {
    let space = pdf.color_space(id);
    let mut separation = space.separation(plate);
    separation.alternate_color_space().device_cmyk();
    separation
        .tint_exponential()
        .domain([0.0, 1.0])
        .range([0.0, 1.0].repeat(4))
        .c0([0.0; 4])
        .c1(full)
        .n(1.0);
}

/// The graphics state that goes with an ink: black ink prints over what lies below, every other colour knocks it
/// out.
fn state_of(ink: &Ink) -> &'static [u8] {
    match ink {
        Ink::Black => OVERPRINTS,
        _ => KNOCKS_OUT,
    }
}

/// Resource names of the two states.
const OVERPRINTS: &[u8] = b"Go";
const KNOCKS_OUT: &[u8] = b"Gk";

fn is_light(ink: &Ink) -> bool {
    matches!(ink, Ink::Rgb(_))
}

/// The four plates of an ink that is made of them.
fn plates(ink: &Ink) -> [f32; 4] {
    match ink {
        Ink::Black => [0.0, 0.0, 0.0, 1.0],
        Ink::Cmyk(ink) => ink.map(share),
        _ => [0.0; 4],
    }
}

fn share(thousandths: u16) -> f32 {
    f32::from(thousandths) / 1000.0
}

fn spot_name(ink: usize) -> String {
    format!("S{ink}")
}
