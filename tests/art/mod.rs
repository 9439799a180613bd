//! Picture files: each kind goes into a PDF with the pixels that it has, upright; what is wrong with a file is told.
//! (`tests/outside/art` has other programs read the same.)

mod bad;
mod damaged;
mod demo;
mod embedded;
mod files;
mod ground;
mod lossless;
mod mutations;
mod profiles;
mod shape;
mod way;

use lopdf::{Dictionary, Document, Object, Stream};
use versefold::art::Art;
use versefold::assets::Assets;
use versefold::names::{Fault, Length};
use versefold::outputs::pictures;

/// Reads a file of that name and these bytes.
fn read(name: &str, bytes: &[u8]) -> Result<Art, Fault> {
    Art::read(&Assets::memory().with(name, bytes).into(), name)
}

/// A PDF of pages of 210 × 190 points with a picture each, parsed by another library than wrote it.
fn pdf_of(art: &[&Art]) -> Document {
    let size = (Length::pt(210), Length::pt(190));
    let pages: Vec<_> = art.iter().map(|art| (*art, size, false)).collect();
    let bytes = pictures(&pages).expect("a PDF");
    Document::load_mem(&bytes).expect("it can be parsed")
}

/// The pictures of a file that are no masks.
fn images(pdf: &Document) -> Vec<&Stream> {
    let streams = pdf
        .objects
        .values()
        .filter_map(|object| object.as_stream().ok());
    let images: Vec<&Stream> = streams
        .filter(|stream| named(&stream.dict, b"Subtype") == b"Image")
        .collect();
    let masks: Vec<_> = images
        .iter()
        .filter_map(|image| image.dict.get(b"SMask").ok()?.as_reference().ok())
        .map(|id| {
            pdf.get_object(id)
                .and_then(Object::as_stream)
                .expect("a mask")
        })
        .collect();
    images
        .into_iter()
        .filter(|image| !masks.iter().any(|mask| std::ptr::eq(*mask, *image)))
        .collect()
}

fn mask<'a>(pdf: &'a Document, image: &Stream) -> Option<&'a Stream> {
    let id = image.dict.get(b"SMask").ok()?.as_reference().ok()?;
    pdf.get_object(id).ok()?.as_stream().ok()
}

fn named<'a>(dictionary: &'a Dictionary, key: &[u8]) -> &'a [u8] {
    let value = dictionary.get(key).and_then(Object::as_name);
    value.unwrap_or_default()
}

fn number(dictionary: &Dictionary, key: &[u8]) -> i64 {
    let value = dictionary.get(key).and_then(Object::as_i64);
    value.unwrap_or_else(|_| panic!("no number {}", String::from_utf8_lossy(key)))
}
