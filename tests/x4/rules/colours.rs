//! Colours of devices, and of plates.

use lopdf::{Dictionary, Object};

use super::File;
use super::press::profile_space;

/// The device colours that the content of a page sets, and those its pictures are in.
fn device_colours(file: &File<'_>, number: usize, resources: &Dictionary) -> Vec<&'static str> {
    let mut used = Vec::new();
    let spaces = ["DeviceGray", "DeviceRGB", "DeviceCMYK"];
    let named = |name: &[u8]| spaces.into_iter().find(|space| space.as_bytes() == name);
    for operation in file.operations(number) {
        used.extend(match operation.operator.as_str() {
            "g" | "G" => Some("DeviceGray"),
            "rg" | "RG" => Some("DeviceRGB"),
            "k" | "K" => Some("DeviceCMYK"),
            "cs" | "CS" => {
                let name = operation
                    .operands
                    .first()
                    .and_then(|name| name.as_name().ok());
                name.and_then(named)
            }
            _ => None,
        });
    }
    let objects = file.dict(resources, "XObject").into_iter().flatten();
    for (_, object) in objects {
        let Some(stream) = file
            .resolve(object)
            .and_then(|object| object.as_stream().ok())
        else {
            continue;
        };
        let space = file.name(&stream.dict, "ColorSpace");
        used.extend(space.and_then(|space| named(space.as_bytes())));
    }
    // A plate is shown in its alternate space.
    let separations = plates(file, resources);
    used.extend(separations.iter().filter_map(|plate| {
        let alternate = plate.get(2).and_then(|space| file.resolve(space));
        alternate
            .and_then(|space| space.as_name().ok())
            .and_then(named)
    }));
    used.sort_unstable();
    used.dedup();
    used
}

/// DeviceRGB, DeviceCMYK and DeviceGray stand only where a default space of the page, or the output intent, says what
/// they look like; DeviceGray is also black ink of a CMYK condition (PDF/A-2 as veraPDF has it, 6.2.4.3 t2 to t4;
/// that PDF/X-4 asks the same: from memory).
pub fn device_colours_fit(file: &File<'_>) -> Vec<String> {
    let intent = profile_space(file);
    let mut wrong = Vec::new();
    for (number, page) in file.pages().into_iter().enumerate() {
        let Some(resources) = file.dict(page, "Resources") else {
            continue;
        };
        let spaces = file.dict(resources, "ColorSpace");
        for used in device_colours(file, number, resources) {
            let default = used.replace("Device", "Default");
            let calibrated = spaces.is_some_and(|spaces| file.get(spaces, &default).is_some());
            let fits = match (used, intent.as_deref()) {
                // Without an intent, that is what is wrong.
                (_, None) => true,
                ("DeviceGray", Some(intent)) => matches!(intent, "GRAY" | "CMYK"),
                ("DeviceRGB", Some(intent)) => intent == "RGB ",
                (_, Some(intent)) => intent == "CMYK",
            };
            if !calibrated && !fits {
                wrong.push(format!("page {}: {used} is not calibrated", number + 1));
            }
        }
    }
    wrong
}

/// The Separation spaces among resources.
fn plates<'a>(file: &'a File<'_>, resources: &'a Dictionary) -> Vec<&'a [Object]> {
    let spaces = file.dict(resources, "ColorSpace").into_iter().flatten();
    let arrays = spaces.filter_map(|(_, space)| file.resolve(space)?.as_array().ok());
    let is_plate = |array: &&[Object]| {
        let kind = array.first().and_then(|kind| kind.as_name().ok());
        kind == Some(b"Separation")
    };
    arrays.map(Vec::as_slice).filter(is_plate).collect()
}

/// A plate is [/Separation name alternate tint]; the alternate space is no Pattern, Indexed, Separation or DeviceN
/// (ISO 32000-1, 8.6.6.4; the Arlington model, SeparationColorSpace.tsv), the tint has as many results as that has
/// colours, and plates of one name are alike (PDF/A-2 as veraPDF has it, 6.2.4.4 t2).
pub fn separations(file: &File<'_>) -> Vec<String> {
    let mut wrong = Vec::new();
    let mut known: Vec<(Object, String)> = Vec::new();
    for resources in file
        .pages()
        .iter()
        .filter_map(|page| file.dict(page, "Resources"))
    {
        for plate in plates(file, resources) {
            let [_, name, alternate, tint] = plate else {
                wrong.push(format!("a plate has {} parts, not 4", plate.len()));
                continue;
            };
            let (alternate, tint) = (file.resolve(alternate), file.resolve(tint));
            wrong.extend(alternate.zip(tint).map_or_else(
                || Some(format!("{name:?} has no alternate space or no tint")),
                |(alternate, tint)| amiss(file, alternate, tint),
            ));
            let look = format!("{alternate:?} {tint:?}");
            match known.iter().find(|(known, _)| known == name) {
                Some((_, other)) if *other != look => {
                    wrong.push(format!("plates of the name {name:?} differ"));
                }
                Some(_) => {}
                None => known.push((name.clone(), look)),
            }
        }
    }
    wrong
}

/// What is wrong with the alternate space of a plate, or with its tint.
fn amiss(file: &File<'_>, alternate: &Object, tint: &Object) -> Option<String> {
    let kind = match alternate {
        Object::Array(parts) => parts.first()?.as_name().ok()?,
        other => other.as_name().ok()?,
    };
    let colours = match kind {
        b"DeviceCMYK" => 4,
        b"DeviceRGB" | b"CalRGB" | b"Lab" => 3,
        b"DeviceGray" | b"CalGray" => 1,
        b"Pattern" | b"Indexed" | b"Separation" | b"DeviceN" => {
            return Some(format!("a plate's alternate space is {alternate:?}"));
        }
        // A profile says itself how many it has.
        _ => return None,
    };
    let tint = super::file::dict_of(tint)?;
    let exponential = file.number(tint, "FunctionType") == Some(2.0);
    let ends = [file.numbers(tint, "C0"), file.numbers(tint, "C1")];
    let short = exponential && ends.iter().any(|end| end.len() != colours);
    short.then(|| format!("a plate's tint has not {colours} results"))
}
