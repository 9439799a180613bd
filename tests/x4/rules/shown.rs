//! What is shown, and when: fonts, groups, the print dialogue.

use lopdf::{Dictionary, Object};

use super::File;

/// The fonts that resources name.
fn named_fonts<'a>(file: &'a File<'_>) -> Vec<&'a Dictionary> {
    let dicts = file.dicts().into_iter();
    let names = dicts.filter_map(|dict| file.dict(dict, "Font"));
    let fonts = names.flat_map(|names| names.iter());
    let fonts = fonts.filter_map(|(_, font)| file.resolve(font)?.as_dict().ok());
    fonts.collect()
}

/// All fonts are embedded (in use).
pub fn fonts(file: &File<'_>) -> Vec<String> {
    let whole = |font: &Dictionary| {
        let descriptor = file.dict(font, "FontDescriptor");
        descriptor.is_some_and(|descriptor| {
            let programs = ["FontFile", "FontFile2", "FontFile3"];
            programs.iter().any(|key| {
                let program = file.get(descriptor, key);
                program.is_some_and(|program| program.as_stream().is_ok())
            })
        })
    };
    let lacking = named_fonts(file).into_iter().filter(|font| {
        let kind = file.name(font, "Subtype").unwrap_or_default();
        match kind.as_str() {
            "Type0" => {
                let parts = file.items(font, "DescendantFonts");
                let mut parts = parts.iter().filter_map(|part| part.as_dict().ok());
                !parts.any(whole)
            }
            "Type3" => false,
            _ => !whole(font),
        }
    });
    let name = |font: &Dictionary| file.name(font, "BaseFont").unwrap_or_default();
    lacking
        .map(|font| format!("{} is not embedded", name(font)))
        .collect()
}

/// Codes of composite fonts have characters (ISO 32000-1, 9.10.3).
pub fn readable(file: &File<'_>) -> Vec<String> {
    let fonts = named_fonts(file).into_iter();
    let composite = fonts.filter(|font| file.name(font, "Subtype").as_deref() == Some("Type0"));
    let mute = composite.filter(|font| {
        let map = file.get(font, "ToUnicode");
        map.is_none_or(|map| map.as_stream().is_err())
    });
    mute.map(|font| format!("{:?} has no ToUnicode", font.get(b"BaseFont")))
        .collect()
}

/// Groups of optional content: OCGs and D are there, every group has Type and Name, BaseState is one of three (ISO
/// 32000-1, 8.11; the Arlington model, OptContent*.tsv); the configuration has a Name, Order lists all groups, and
/// there is no AS (PDF/A-2 as veraPDF has it, 6.9 t1 to t4; that PDF/X-4 asks the same: from memory). Every group
/// that content names is one of them.
pub fn groups(file: &File<'_>) -> Vec<String> {
    let mut wrong = Vec::new();
    let listed = |dict: &Dictionary, key: &str| -> Vec<Object> {
        let list = file.get(dict, key).and_then(|list| list.as_array().ok());
        list.cloned().unwrap_or_default()
    };
    let properties = file.dict(file.catalog(), "OCProperties");
    let all = properties.map_or(Vec::new(), |properties| listed(properties, "OCGs"));
    if let Some(properties) = properties {
        for group in &all {
            let group = file.resolve(group).and_then(|group| group.as_dict().ok());
            let sound = group.is_some_and(|group| {
                let is_group = file.name(group, "Type").as_deref() == Some("OCG");
                is_group && file.text(group, "Name").is_some()
            });
            if !sound {
                wrong.push(format!("{group:?} is no group with a name"));
            }
        }
        match file.dict(properties, "D") {
            Some(shown) => wrong.extend(configuration(file, shown, &all, listed(shown, "Order"))),
            None => wrong.push("nothing says what is shown at first".to_string()),
        }
        if all.is_empty() {
            wrong.push("OCProperties lists no group".to_string());
        }
    }
    for resources in file
        .pages()
        .iter()
        .filter_map(|page| file.dict(page, "Resources"))
    {
        let names = file.dict(resources, "Properties").into_iter().flatten();
        let unlisted = names.filter(|(_, group)| !all.contains(group));
        wrong.extend(unlisted.map(|(name, _)| format!("{name:?} is no group of the file")));
    }
    wrong
}

fn configuration(
    file: &File<'_>,
    shown: &Dictionary,
    all: &[Object],
    order: Vec<Object>,
) -> Vec<String> {
    let mut wrong = Vec::new();
    if file.text(shown, "Name").is_none_or(|name| name.is_empty()) {
        wrong.push("what is shown at first has no name".to_string());
    }
    if shown.has(b"AS") {
        wrong.push("groups are shown and hidden of themselves (AS)".to_string());
    }
    if !order.is_empty() && all.iter().any(|group| !order.contains(group)) {
        wrong.push("Order leaves out a group".to_string());
    }
    let base = file.name(shown, "BaseState");
    if base.is_some_and(|base| !["ON", "OFF", "Unchanged"].contains(&base.as_str())) {
        wrong.push("BaseState is none of three".to_string());
    }
    wrong
}

/// PrintScaling is None or AppDefault (ISO 32000-1, 12.2; the Arlington model, ViewerPreferences.tsv).
pub fn printing(file: &File<'_>) -> Vec<String> {
    let preferences = file.dict(file.catalog(), "ViewerPreferences");
    let scaling = preferences.and_then(|preferences| file.name(preferences, "PrintScaling"));
    let wrong = scaling.filter(|scaling| !["None", "AppDefault"].contains(&scaling.as_str()));
    wrong
        .map(|scaling| format!("PrintScaling is {scaling}"))
        .into_iter()
        .collect()
}
