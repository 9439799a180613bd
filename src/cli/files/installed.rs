//! The typefaces that are installed on this machine: the one file that knows fontdb.

use fontdb::{Database, Family, ID, Query, Stretch, Style, Weight};

use crate::assets::{FontBytes, InstalledFamily, NotInstalled};

/// The faces of an installed family. The fonts of the machine are looked through each time that one is asked for.
pub(super) fn installed(family: &str) -> Result<InstalledFamily, NotInstalled> {
    let mut fonts = Database::new();
    fonts.load_system_fonts();
    let mut names: Vec<&str> = fonts
        .faces()
        .filter_map(|face| Some(&*face.families.first()?.0))
        .collect();
    names.sort_unstable();
    names.dedup();
    let folded = family.to_lowercase();
    let all = fonts.faces().flat_map(|face| &face.families);
    let Some((name, _)) = all
        .into_iter()
        .find(|(name, _)| name.to_lowercase() == folded)
    else {
        return Err(match names.is_empty() {
            true => NotInstalled::Nothing,
            false => NotInstalled::Unknown(names.into_iter().map(str::to_string).collect()),
        });
    };
    let find = |weight: Weight, style: Style| {
        let asked = Query {
            families: &[Family::Name(name)],
            weight,
            stretch: Stretch::Normal,
            style,
        };
        fonts.query(&asked)
    };
    let is =
        |id: &ID, right: &dyn Fn(&fontdb::FaceInfo) -> bool| fonts.face(*id).is_some_and(right);
    let regular = find(Weight::NORMAL, Style::Normal);
    let italic = find(Weight::NORMAL, Style::Italic)
        .filter(|id| is(id, &|face| face.style != Style::Normal));
    let bold = find(Weight::BOLD, Style::Normal).filter(|id| {
        is(id, &|face| {
            face.style == Style::Normal && face.weight >= Weight::SEMIBOLD
        })
    });
    let bytes = |id: ID| {
        fonts.with_face_data(id, |data, index| FontBytes {
            bytes: data.to_vec(),
            index,
        })
    };
    Ok(InstalledFamily {
        regular: regular.and_then(bytes).ok_or(NotInstalled::Unreadable)?,
        italic: italic.and_then(bytes),
        bold: bold.and_then(bytes),
    })
}
