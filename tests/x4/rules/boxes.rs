//! Pages and their boxes (ISO 32000-1, 14.11.2 and Table 30).

use lopdf::Dictionary;

use super::File;

/// Thousandths of a point are written: boxes that meet may miss each other by one.
const SLACK: f64 = 0.002;

/// Left, bottom, right, top.
pub type Rectangle = [f64; 4];

/// A box of a page; MediaBox and CropBox may be those of all pages.
pub fn box_of(file: &File<'_>, page: &Dictionary, key: &str) -> Option<Rectangle> {
    let own = file.numbers(page, key);
    let inherited = matches!(key, "MediaBox" | "CropBox");
    let [a, b, c, d] = own.try_into().ok().or_else(|| {
        let parent = file.dict(page, "Parent").filter(|_| inherited)?;
        box_of(file, parent, key)
    })?;
    Some([a.min(c), b.min(d), a.max(c), b.max(d)])
}

fn lies_in(inner: Rectangle, outer: Rectangle) -> bool {
    let [left, bottom, right, top] = outer;
    inner[0] >= left - SLACK
        && inner[1] >= bottom - SLACK
        && inner[2] <= right + SLACK
        && inner[3] <= top + SLACK
}

/// What a rule finds wrong on each page, with the page's number.
fn each_page(file: &File<'_>, wrong: impl Fn(&Dictionary) -> Vec<String>) -> Vec<String> {
    let pages = file.pages().into_iter().enumerate();
    let told = pages.flat_map(|(index, page)| {
        let wrong = wrong(page).into_iter();
        wrong.map(move |what| format!("page {}: {what}", index + 1))
    });
    told.collect()
}

/// Every page has a MediaBox, and a TrimBox or an ArtBox, not both (application notes on PDF/X-3:2002, 2.9, as quoted
/// on a public mailing list in November 2005; for X-4 from memory).
pub fn boxes_there(file: &File<'_>) -> Vec<String> {
    each_page(file, |page| {
        let has = |key| box_of(file, page, key).is_some();
        let mut wrong = Vec::new();
        if !has("MediaBox") {
            wrong.push("no MediaBox".to_string());
        }
        match (has("TrimBox"), has("ArtBox")) {
            (true, true) => wrong.push("both TrimBox and ArtBox".to_string()),
            (false, false) => wrong.push("neither TrimBox nor ArtBox".to_string()),
            _ => {}
        }
        wrong
    })
}

/// TrimBox or ArtBox lies in BleedBox and CropBox where there are such (the same application notes), BleedBox in
/// MediaBox (from memory).
pub fn boxes_nested(file: &File<'_>) -> Vec<String> {
    each_page(file, |page| {
        let pairs = [
            ("TrimBox", "MediaBox"),
            ("ArtBox", "MediaBox"),
            ("BleedBox", "MediaBox"),
            ("TrimBox", "BleedBox"),
            ("ArtBox", "BleedBox"),
            ("TrimBox", "CropBox"),
            ("ArtBox", "CropBox"),
        ];
        let out = pairs.into_iter().filter(|(inner, outer)| {
            let boxes = (box_of(file, page, inner), box_of(file, page, outer));
            matches!(boxes, (Some(inner), Some(outer)) if !lies_in(inner, outer))
        });
        let told = out.map(|(inner, outer)| format!("{inner} lies not in {outer}"));
        told.collect()
    })
}

/// A page measures 3 to 14,400 units in both directions (PDF Reference 1.7, implementation note 171, as quoted; the
/// same in veraPDF's PDF/A-2 profile, 6.1.13 t11), and UserUnit is above nought.
pub fn page_size(file: &File<'_>) -> Vec<String> {
    each_page(file, |page| {
        let mut wrong = Vec::new();
        if let Some([left, bottom, right, top]) = box_of(file, page, "MediaBox") {
            let fits = |units: f64| (3.0..=14_400.0 + SLACK).contains(&units);
            if !fits(right - left) || !fits(top - bottom) {
                wrong.push(format!("{} by {} units", right - left, top - bottom));
            }
        }
        if page.has(b"UserUnit") && file.number(page, "UserUnit").is_none_or(|unit| unit <= 0.0) {
            wrong.push("UserUnit is not above nought".to_string());
        }
        wrong
    })
}

/// Rotate is a multiple of 90 (Table 30).
pub fn rotation(file: &File<'_>) -> Vec<String> {
    each_page(file, |page| {
        let turned = file.get(page, "Rotate").map(|turned| turned.as_i64());
        let wrong = turned.filter(|turned| !matches!(turned, Ok(turned) if turned % 90 == 0));
        wrong
            .map(|_| "Rotate is no multiple of 90".to_string())
            .into_iter()
            .collect()
    })
}
