//! Ways into a parsed file, to spoil it.

use lopdf::{Dictionary, Document, Object, ObjectId, Stream, dictionary};

pub fn name(name: &str) -> Object {
    Object::Name(name.as_bytes().to_vec())
}

pub fn numbers<const N: usize>(numbers: [i64; N]) -> Object {
    Object::Array(numbers.map(Object::Integer).to_vec())
}

pub fn halftone(kind: i64) -> Object {
    Object::Dictionary(dictionary! { "Type" => "Halftone", "HalftoneType" => kind })
}

pub fn dict(object: &mut Object) -> &mut Dictionary {
    object.as_dict_mut().expect("a dictionary")
}

pub fn get(dict: &Dictionary, key: &str) -> Object {
    dict.get(key.as_bytes())
        .expect("a key that is there")
        .clone()
}

pub fn set(dict: &mut Dictionary, key: &str, value: Object) {
    dict.set(key, value);
}

pub fn unset(dict: &mut Dictionary, key: &str) {
    assert!(dict.remove(key.as_bytes()).is_some(), "there is no {key}");
}

/// The dictionary that a key leads to, be it an object of its own or not.
pub fn within<'a>(pdf: &'a mut Document, outer: ObjectId, key: &str) -> &'a mut Dictionary {
    let inner = pdf
        .get_dictionary(outer)
        .and_then(|outer| outer.get(key.as_bytes()));
    match *inner.expect("a key that is there") {
        Object::Reference(id) => dict(pdf.get_object_mut(id).expect("an object")),
        _ => {
            let outer = pdf.get_dictionary_mut(outer).expect("a dictionary");
            dict(outer.get_mut(key.as_bytes()).expect("a key"))
        }
    }
}

pub fn catalog_id(pdf: &Document) -> ObjectId {
    let root = pdf.trailer.get(b"Root").and_then(Object::as_reference);
    root.expect("a catalog")
}

pub fn page_id(pdf: &Document) -> ObjectId {
    pdf.page_iter().next().expect("a page")
}

pub fn catalog(pdf: &mut Document) -> &mut Dictionary {
    pdf.catalog_mut().expect("a catalog")
}

pub fn page(pdf: &mut Document) -> &mut Dictionary {
    let id = page_id(pdf);
    pdf.get_dictionary_mut(id).expect("a page")
}

pub fn info(pdf: &mut Document) -> &mut Dictionary {
    let id = pdf.trailer.get(b"Info").and_then(Object::as_reference);
    pdf.get_dictionary_mut(id.expect("Info")).expect("Info")
}

pub fn preferences(pdf: &mut Document) -> &mut Dictionary {
    let id = catalog_id(pdf);
    within(pdf, id, "ViewerPreferences")
}

/// What of the groups is shown at first.
pub fn shown(pdf: &mut Document) -> &mut Dictionary {
    let id = catalog_id(pdf);
    dict(
        within(pdf, id, "OCProperties")
            .get_mut(b"D")
            .expect("what is shown"),
    )
}

pub fn intent(pdf: &mut Document) -> &mut Dictionary {
    let Ok(Object::Array(intents)) = catalog(pdf).get_mut(b"OutputIntents") else {
        panic!("no output intents");
    };
    dict(&mut intents[0])
}

pub fn profile(pdf: &mut Document) -> &mut Stream {
    let id = get(intent(pdf), "DestOutputProfile").as_reference();
    let id = id.expect("a profile of its own");
    pdf.get_object_mut(id)
        .and_then(Object::as_stream_mut)
        .expect("a profile")
}

pub fn in_profile(pdf: &mut Document, at: usize, bytes: &[u8]) {
    let profile = profile(pdf);
    let mut plain = profile.decompressed_content().expect("it unpacks");
    plain[at..at + bytes.len()].copy_from_slice(bytes);
    profile.set_plain_content(plain);
}

pub fn in_xmp(pdf: &mut Document, from: &str, to: &str) {
    let id = get(catalog(pdf), "Metadata")
        .as_reference()
        .expect("metadata");
    let xmp = pdf
        .get_object_mut(id)
        .and_then(Object::as_stream_mut)
        .expect("metadata");
    let text = String::from_utf8(xmp.content.clone()).expect("UTF-8");
    assert!(text.contains(from), "XMP has no {from}");
    xmp.set_plain_content(text.replace(from, to).into_bytes());
}

/// One of the graphics states of the first page.
pub fn state(pdf: &mut Document) -> &mut Dictionary {
    let page = page_id(pdf);
    let states = within(pdf, page, "Resources")
        .get(b"ExtGState")
        .expect("states");
    let (_, first) = states
        .as_dict()
        .expect("states")
        .iter()
        .next()
        .expect("a state");
    let id = first.as_reference().expect("a state of its own");
    pdf.get_dictionary_mut(id).expect("a state")
}

pub fn spaces(pdf: &mut Document) -> &mut Dictionary {
    let page = page_id(pdf);
    dict(
        within(pdf, page, "Resources")
            .get_mut(b"ColorSpace")
            .expect("spaces"),
    )
}

pub fn plate<'a>(pdf: &'a mut Document, plate: &[u8]) -> &'a mut Vec<Object> {
    let id = spaces(pdf).get(plate).and_then(Object::as_reference);
    let plate = pdf.get_object_mut(id.expect("a plate")).expect("a plate");
    plate.as_array_mut().expect("a plate")
}

/// The first dictionary with this name under a key.
pub fn with<'a>(pdf: &'a mut Document, key: &str, wanted: &str) -> &'a mut Dictionary {
    let mut dicts = pdf
        .objects
        .values_mut()
        .filter_map(|object| object.as_dict_mut().ok());
    let is = |dict: &&mut Dictionary| {
        let name = dict.get(key.as_bytes()).and_then(Object::as_name);
        name.is_ok_and(|name| name == wanted.as_bytes())
    };
    dicts.find(is).expect("such a dictionary")
}

pub fn of_type<'a>(pdf: &'a mut Document, kind: &str) -> &'a mut Dictionary {
    with(pdf, "Type", kind)
}

pub fn of_subtype<'a>(pdf: &'a mut Document, kind: &str) -> &'a mut Dictionary {
    with(pdf, "Subtype", kind)
}

/// Puts an annotation onto the first page, within the bleed or in the corner of the page.
pub fn note(pdf: &mut Document, kind: &str, within: bool) {
    let bleed = get(page(pdf), "BleedBox");
    let bleed = bleed.as_array().expect("numbers").iter();
    let bleed: Vec<f32> = bleed
        .map(|side| side.as_float().expect("a number"))
        .collect();
    let at = match within {
        true => [bleed[0] as i64 + 9, bleed[1] as i64 + 9],
        false => [0, 0],
    };
    let at = numbers([at[0], at[1], at[0] + 4, at[1] + 4]);
    let note = dictionary! { "Type" => "Annot", "Subtype" => kind, "Rect" => at };
    set(page(pdf), "Annots", Object::Array(vec![note.into()]));
}

/// With an empty password, so that any reader opens it.
pub fn encrypt(pdf: &mut Document) {
    let version = lopdf::EncryptionVersion::V2 {
        document: pdf,
        owner_password: "owner",
        user_password: "",
        key_length: 128,
        permissions: lopdf::Permissions::all(),
    };
    let state = lopdf::EncryptionState::try_from(version).expect("a key");
    pdf.encrypt(&state).expect("it can be encrypted");
}
