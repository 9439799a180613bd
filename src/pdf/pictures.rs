//! The pictures of a file: each once, however often it is drawn, and with its profile.

use pdf_writer::types::Predictor;
use pdf_writer::writers::{ImageXObject, Resources};
use pdf_writer::{Array, Filter, Name, Pdf, Ref, Str};

use super::content::note;
use super::{Document, Drawing, ObjectNumbers, deflate, rounded};
use crate::art::{Art, Colour, PackedPixels, Pixels, srgb_profile};
use crate::names::Length;

/// The pictures that a file draws.
pub(super) struct Pictures<'a> {
    pictures: Vec<PictureObject<'a>>,
    /// Profiles, each once, with how many channels they have and their objects.
    profiles: Vec<(&'a [u8], u8, Ref)>,
}

struct PictureObject<'a> {
    art: &'a Art,
    id: Ref,
    alpha: Option<Ref>,
    profile: Option<Ref>,
}

impl<'a> Pictures<'a> {
    pub(super) fn collect(document: &Document<'a>, numbers: &mut ObjectNumbers) -> Pictures<'a> {
        let mut found = Pictures {
            pictures: Vec::new(),
            profiles: Vec::new(),
        };
        for drawing in document.pages.iter().flat_map(|page| &page.drawings) {
            if let Drawing::Picture { art, .. } = drawing
                && found.place_of(art).is_none()
            {
                let id = numbers.next();
                let alpha = art.alpha().map(|_| numbers.next());
                let profile = found.profile_of(art, numbers);
                found.pictures.push(PictureObject {
                    art,
                    id,
                    alpha,
                    profile,
                });
            }
        }
        found
    }

    fn place_of(&self, art: &Art) -> Option<usize> {
        let mut pictures = self.pictures.iter();
        pictures.position(|picture| picture.art.checksum() == art.checksum())
    }

    /// The profile of a picture: its own; sRGB where it has none and is red, green and blue.
    fn profile_of(&mut self, art: &'a Art, numbers: &mut ObjectNumbers) -> Option<Ref> {
        let channels = match art.colour() {
            Colour::Grey => 1,
            Colour::Rgb | Colour::Palette(_) => 3,
            Colour::Cmyk => 4,
        };
        let own = art.profile().map(|profile| profile.bytes());
        let bytes = own.or((channels == 3).then(srgb_profile))?;
        if let Some((.., id)) = self.profiles.iter().find(|(known, ..)| *known == bytes) {
            return Some(*id);
        }
        let id = numbers.next();
        self.profiles.push((bytes, channels, id));
        Some(id)
    }

    pub(super) fn name_resources(&self, resources: &mut Resources<'_>, used: &[usize]) {
        if used.is_empty() {
            return;
        }
        let mut objects = resources.x_objects();
        for &place in used {
            objects.pair(Name(name(place).as_bytes()), self.pictures[place].id);
        }
    }

    pub(super) fn write(&self, pdf: &mut Pdf) {
        for picture in &self.pictures {
            picture.write(pdf);
        }
        for &(bytes, channels, id) in &self.profiles {
            let packed = deflate(bytes);
            let mut profile = pdf.icc_profile(id, &packed);
            profile
                .n(i32::from(channels))
                .alternate_name(Name(device(channels)))
                .filter(Filter::FlateDecode);
        }
    }
}

impl PictureObject<'_> {
    fn write(&self, pdf: &mut Pdf) {
        let art = self.art;
        let size = art.stored_size();
        let channels = art.colour().channels() as i32;
        let bytes = match art.pixels() {
            Pixels::Jpeg { bytes, .. } => bytes,
            Pixels::Packed(packed) => &packed.bytes,
        };
        let mut image = pdf.image_xobject(self.id, bytes);
        begin(&mut image, size, art.bits());
        match art.pixels() {
            Pixels::Jpeg {
                inverted,
                plain_rgb,
                ..
            } => {
                image.filter(Filter::DctDecode);
                if *plain_rgb {
                    image.decode_parms().color_transform(false);
                }
                if *inverted {
                    image.decode([1.0, 0.0].repeat(4));
                }
            }
            Pixels::Packed(packed) => unpacked_by(&mut image, packed, size.0, channels, art.bits()),
        }
        self.colours(&mut image);
        if let Some(alpha) = self.alpha {
            image.s_mask(alpha);
        }
        drop(image);
        let (Some(id), Some(alpha)) = (self.alpha, art.alpha()) else {
            return;
        };
        let mut mask = pdf.image_xobject(id, &alpha.packed.bytes);
        begin(&mut mask, size, alpha.bits);
        mask.color_space().device_gray();
        unpacked_by(&mut mask, &alpha.packed, size.0, 1, alpha.bits);
        if alpha.multiplied {
            mask.insert(Name(b"Matte"))
                .array()
                .items((0..channels).map(|_| 0));
        }
    }

    /// The colour space. A reader that does not know profiles takes the one of the device.
    fn colours(&self, image: &mut ImageXObject<'_>) {
        let based = |mut array: Array<'_>, profile: Ref| {
            array.item(Name(b"ICCBased")).item(profile);
        };
        match (self.art.colour(), self.profile) {
            (Colour::Palette(colours), Some(profile)) => {
                let mut array = image.insert(Name(b"ColorSpace")).array();
                array.item(Name(b"Indexed"));
                based(array.push().array(), profile);
                let last = (colours.len() / 3).max(1) - 1;
                array.item(last as i32).item(Str(colours));
            }
            (_, Some(profile)) => based(image.insert(Name(b"ColorSpace")).array(), profile),
            (colour, None) => {
                image.color_space_name(Name(device(colour.channels() as u8)));
            }
        }
    }
}

fn begin(image: &mut ImageXObject<'_>, (width, height): (u32, u32), bits: u8) {
    image
        .width(width as i32)
        .height(height as i32)
        .bits_per_component(i32::from(bits));
}

/// How packed pixels are unpacked.
fn unpacked_by(
    image: &mut ImageXObject<'_>,
    packed: &PackedPixels,
    width: u32,
    channels: i32,
    bits: u8,
) {
    image.filter(Filter::FlateDecode);
    if packed.filtered {
        image
            .decode_parms()
            .predictor(Predictor::PngOptimum)
            .colors(channels)
            .bits_per_component(i32::from(bits))
            .columns(width as i32);
    }
}

fn device(channels: u8) -> &'static [u8] {
    match channels {
        1 => b"DeviceGray",
        3 => b"DeviceRGB",
        _ => b"DeviceCMYK",
    }
}

fn name(place: usize) -> String {
    format!("P{place}")
}

impl super::content::PagePen<'_> {
    /// Draws a picture upright on a rectangle of the page, or turned by half a turn.
    pub(super) fn picture(&mut self, art: &Art, at: [Length; 4], turned: bool) {
        let Some(place) = self.pictures.place_of(art) else {
            return;
        };
        let matrix = placed(art, at.map(|length| self.pt(length)), turned);
        self.begin_artifact();
        self.content
            .save_state()
            .transform(matrix)
            .x_object(Name(name(place).as_bytes()))
            .restore_state()
            .end_marked_content();
        note(&mut self.drawn.pictures, place);
    }
}

/// The matrix that takes the unit square, which the stored pixels fill, to where the picture stands upright on the page.
fn placed(art: &Art, at: [f32; 4], turned: bool) -> [f32; 6] {
    let [a, b, c, d, e, f] = art.orientation().matrix().map(f64::from);
    let half = |[a, b, c, d, e, f]: [f64; 6]| [-a, -b, -c, -d, 1.0 - e, 1.0 - f];
    let upright = [a, b, c, d, e, f];
    let [a, b, c, d, e, f] = if turned { half(upright) } else { upright };
    let [left, bottom, width, height] = at.map(f64::from);
    [
        a * width,
        b * height,
        c * width,
        d * height,
        e * width + left,
        f * height + bottom,
    ]
    .map(rounded)
}
