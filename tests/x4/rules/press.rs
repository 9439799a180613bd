//! What a file asks of the press: the printing condition, and how inks meet.

use lopdf::{Dictionary, Object};

use super::File;
use super::file::plain;

/// The output intent for PDF/X, if there is one.
fn intent_of<'a>(file: &'a File<'_>) -> Option<&'a Dictionary> {
    let intents = file.items(file.catalog(), "OutputIntents").into_iter();
    let mut dicts = intents.filter_map(|intent| intent.as_dict().ok());
    dicts.find(|intent| file.name(intent, "S").as_deref() == Some("GTS_PDFX"))
}

/// There is one output intent whose S is GTS_PDFX (the key: the Arlington model, OutputIntents.tsv; that it must be
/// there: from memory).
pub fn intent(file: &File<'_>) -> Vec<String> {
    let intents = file.items(file.catalog(), "OutputIntents").into_iter();
    let dicts = intents.filter_map(|intent| intent.as_dict().ok());
    let for_x = dicts.filter(|intent| file.name(intent, "S").as_deref() == Some("GTS_PDFX"));
    match for_x.count() {
        1 => Vec::new(),
        count => vec![format!("{count} output intents are for PDF/X")],
    }
}

/// It names its printing condition (the key is required by the Arlington model, OutputIntents.tsv).
pub fn condition(file: &File<'_>) -> Vec<String> {
    let Some(intent) = intent_of(file) else {
        return Vec::new();
    };
    let named = file.text(intent, "OutputConditionIdentifier");
    match named.is_some_and(|named| !named.is_empty()) {
        true => Vec::new(),
        false => vec!["the output intent has no OutputConditionIdentifier".to_string()],
    }
}

/// The colour space that the profile of the output intent is for, as its header has it: `CMYK`, `RGB `, `GRAY`.
pub fn profile_space(file: &File<'_>) -> Option<String> {
    let profile = file.get(intent_of(file)?, "DestOutputProfile")?;
    let profile = plain(profile.as_stream().ok()?);
    Some(String::from_utf8_lossy(profile.get(16..20)?).into_owned())
}

/// Its ICC profile is in the file (from memory), is one of an output device (from memory), and has as many channels as
/// N says (ISO 32000-1, 8.6.5.5). Header: ICC.1:2001-04, 6.1.
pub fn profile(file: &File<'_>) -> Vec<String> {
    let Some(intent) = intent_of(file) else {
        return Vec::new();
    };
    let stream = file.get(intent, "DestOutputProfile");
    let Some(stream) = stream.and_then(|stream| stream.as_stream().ok()) else {
        return vec!["the output intent has no profile in the file".to_string()];
    };
    let bytes = plain(stream);
    if bytes.get(36..40) != Some(b"acsp") {
        return vec!["the profile is none: it lacks the sign `acsp`".to_string()];
    }
    let mut wrong = Vec::new();
    if bytes[..4] != (bytes.len() as u32).to_be_bytes() {
        wrong.push("the profile is longer or shorter than it says".to_string());
    }
    if &bytes[12..16] != b"prtr" {
        wrong.push("the profile is not one of an output device".to_string());
    }
    let channels = match &bytes[16..20] {
        b"GRAY" => 1,
        b"RGB " => 3,
        b"CMYK" => 4,
        _ => 0,
    };
    if file.number(&stream.dict, "N") != Some(f64::from(channels)) {
        wrong.push(format!("N is not the profile's {channels} channels"));
    }
    wrong
}

/// The graphics states of a file: dictionaries in the ExtGState of resources.
fn states<'a>(file: &'a File<'_>) -> Vec<&'a Dictionary> {
    let dicts = file.dicts().into_iter();
    let named = dicts.filter_map(|dict| file.dict(dict, "ExtGState"));
    let states = named.flat_map(|names| names.iter());
    let states = states.filter_map(|(_, state)| file.resolve(state)?.as_dict().ok());
    states.collect()
}

/// What a rule finds wrong in each graphics state.
fn each_state(file: &File<'_>, wrong: impl Fn(&Dictionary) -> Option<String>) -> Vec<String> {
    let states = states(file).into_iter();
    states.filter_map(wrong).collect()
}

/// OP and op are true or false, OPM is 0 or 1 (ISO 32000-1, 8.6.7; the Arlington model, GraphicsStateParameter.tsv).
pub fn overprinting(file: &File<'_>) -> Vec<String> {
    each_state(file, |state| {
        let flag = |key: &str| {
            let value = file.get(state, key);
            value.is_none_or(|value| matches!(value, Object::Boolean(_)))
        };
        let mode = file.get(state, "OPM");
        let mode = mode.is_none_or(|mode| matches!(mode, Object::Integer(0 | 1)));
        let sound = flag("OP") && flag("op") && mode;
        (!sound).then(|| format!("{state:?}"))
    })
}

/// No transfer curves (in use): no TR, and no TR2 but Default (from memory).
pub fn transfer_curves(file: &File<'_>) -> Vec<String> {
    each_state(file, |state| {
        let second = file.get(state, "TR2");
        let default = |curve: &Object| curve.as_name().is_ok_and(|name| name == b"Default");
        let curved = state.has(b"TR") || second.is_some_and(|curve| !default(curve));
        curved.then(|| "a graphics state has a transfer curve".to_string())
    })
}

/// Halftones are of type 1 or 5 and have no HalftoneName (from memory).
pub fn halftones(file: &File<'_>) -> Vec<String> {
    each_state(file, |state| {
        let halftone = file.dict(state, "HT")?;
        let kind = file.number(halftone, "HalftoneType");
        let sound = matches!(kind, Some(1.0 | 5.0)) && !halftone.has(b"HalftoneName");
        (!sound).then(|| format!("a halftone of type {kind:?}"))
    })
}

/// Blend modes are those of the standard (the list: the Arlington model, GraphicsStateParameter.tsv; that others are
/// not allowed: from memory).
pub fn blending(file: &File<'_>) -> Vec<String> {
    const MODES: [&str; 17] = [
        "Compatible",
        "Normal",
        "Multiply",
        "Screen",
        "Difference",
        "Darken",
        "Lighten",
        "ColorDodge",
        "ColorBurn",
        "Exclusion",
        "HardLight",
        "Overlay",
        "SoftLight",
        "Luminosity",
        "Hue",
        "Saturation",
        "Color",
    ];
    each_state(file, |state| {
        let modes = file.items(state, "BM").into_iter();
        let known = |mode: &Object| {
            let name = mode.as_name().unwrap_or_default();
            MODES.iter().any(|known| known.as_bytes() == name)
        };
        let unknown: Vec<&Object> = modes.filter(|mode| !known(mode)).collect();
        (!unknown.is_empty()).then(|| format!("a blend mode {unknown:?}"))
    })
}
