//! Sound files, spoilt one thing at a time.

mod spoil;

use lopdf::{Document, Object, Stream, dictionary};

use super::rules::{File, RULES, findings};
use spoil::*;

/// What is spoilt, how, and the rule that must tell of it.
type Breakage = (&'static str, &'static str, fn(&mut Document));

/// One breakage for every line of every rule, or nearly.
const BREAKAGES: [Breakage; 57] = [
    ("a later version", "version", |pdf| {
        pdf.version = "1.7".into()
    }),
    ("a later version in the catalog", "version", |pdf| {
        set(catalog(pdf), "Version", name("1.7"))
    }),
    ("another part of the standard", "named-x4", |pdf| {
        in_xmp(pdf, "PDF/X-4", "PDF/X-3")
    }),
    ("another namespace", "named-x4", |pdf| {
        in_xmp(pdf, "npes.org/pdfx/ns/id/", "npes.org/pdfx/ns/if/")
    }),
    ("no name for the edition", "edition", |pdf| {
        in_xmp(pdf, "xmpMM:DocumentID", "xmpMM:DocumentNo")
    }),
    ("no number of the edition", "edition", |pdf| {
        in_xmp(pdf, "xmpMM:VersionID", "xmpMM:VersionNo")
    }),
    ("no kind of edition", "edition", |pdf| {
        in_xmp(pdf, "xmpMM:RenditionClass", "xmpMM:RenditionSort")
    }),
    ("no title", "title", |pdf| unset(info(pdf), "Title")),
    ("another title in XMP", "title", |pdf| {
        in_xmp(pdf, "The Winter Bus", "The Summer Bus")
    }),
    ("no date of change", "dates", |pdf| {
        unset(info(pdf), "ModDate")
    }),
    ("only a year", "dates", |pdf| {
        set(info(pdf), "CreationDate", Object::string_literal("D:2026"))
    }),
    ("another date in XMP", "dates", |pdf| {
        in_xmp(pdf, "<xmp:CreateDate>2026", "<xmp:CreateDate>2025")
    }),
    ("no date of the metadata", "dates", |pdf| {
        in_xmp(pdf, "xmp:MetadataDate", "xmp:MetadataTime")
    }),
    ("unknown trapping", "trapped", |pdf| {
        set(info(pdf), "Trapped", name("Unknown"))
    }),
    ("no word on trapping", "trapped", |pdf| {
        unset(info(pdf), "Trapped")
    }),
    ("no ID", "file-id", |pdf| unset(&mut pdf.trailer, "ID")),
    ("no trim", "boxes-there", |pdf| unset(page(pdf), "TrimBox")),
    ("trim and art", "boxes-there", |pdf| {
        let trim = get(page(pdf), "TrimBox");
        set(page(pdf), "ArtBox", trim)
    }),
    ("trim outside the bleed", "boxes-nested", |pdf| {
        set(page(pdf), "TrimBox", numbers([1, 1, 320, 320]))
    }),
    ("bleed outside the page", "boxes-nested", |pdf| {
        set(page(pdf), "BleedBox", numbers([-9, 0, 320, 320]))
    }),
    ("trim outside the crop", "boxes-nested", |pdf| {
        set(page(pdf), "CropBox", numbers([60, 60, 200, 200]))
    }),
    ("too long a page", "page-size", |pdf| {
        set(page(pdf), "MediaBox", numbers([0, 0, 14_500, 2000]))
    }),
    ("units of nothing", "page-size", |pdf| {
        set(page(pdf), "UserUnit", 0.into())
    }),
    ("a page turned by half a quarter", "rotation", |pdf| {
        set(page(pdf), "Rotate", 45.into())
    }),
    ("no output intent", "intent", |pdf| {
        unset(catalog(pdf), "OutputIntents")
    }),
    ("an output intent for archives", "intent", |pdf| {
        set(intent(pdf), "S", name("GTS_PDFA1"))
    }),
    ("no condition", "condition", |pdf| {
        set(
            intent(pdf),
            "OutputConditionIdentifier",
            Object::string_literal(""),
        )
    }),
    ("no profile", "profile", |pdf| {
        unset(intent(pdf), "DestOutputProfile")
    }),
    ("a profile of another number of inks", "profile", |pdf| {
        set(&mut profile(pdf).dict, "N", 3.into())
    }),
    ("a profile of a screen", "profile", |pdf| {
        in_profile(pdf, 12, b"mntr")
    }),
    ("no profile at all inside", "profile", |pdf| {
        in_profile(pdf, 36, b"ACSP")
    }),
    ("a profile that is cut off", "profile", |pdf| {
        in_profile(pdf, 0, &[0, 1, 0, 0])
    }),
    ("an overprint mode of two", "overprinting", |pdf| {
        set(state(pdf), "OPM", 2.into())
    }),
    ("a transfer curve", "transfer-curves", |pdf| {
        set(state(pdf), "TR", name("Identity"))
    }),
    ("a second transfer curve", "transfer-curves", |pdf| {
        set(state(pdf), "TR2", name("Identity"))
    }),
    (
        "a halftone of a type that is no longer",
        "halftones",
        |pdf| set(state(pdf), "HT", halftone(6)),
    ),
    ("a named halftone", "halftones", |pdf| {
        let mut named = halftone(1);
        dict(&mut named).set("HalftoneName", name("Fine"));
        set(state(pdf), "HT", named)
    }),
    ("a blend mode of no standard", "blending", |pdf| {
        set(state(pdf), "BM", name("Glow"))
    }),
    (
        "red light that nobody calibrates",
        "device-colours",
        |pdf| unset(spaces(pdf), "DefaultRGB"),
    ),
    ("four inks for one", "device-colours", |pdf| {
        in_profile(pdf, 16, b"GRAY");
        set(&mut profile(pdf).dict, "N", 1.into())
    }),
    ("a plate shown in a palette", "separations", |pdf| {
        let plate = plate(pdf, b"All");
        plate[2] = Object::Array(vec![name("Indexed"), name("DeviceCMYK")])
    }),
    ("a plate with too short a tint", "separations", |pdf| {
        let plate = plate(pdf, b"All");
        dict(&mut plate[3]).set("C1", numbers([1, 1, 1]))
    }),
    ("a plate in two tints", "separations", |pdf| {
        let mut other = plate(pdf, b"All").clone();
        dict(&mut other[3]).set("C1", numbers([0, 0, 0, 1]));
        set(spaces(pdf), "Other", Object::Array(other))
    }),
    ("a font that is not there", "fonts", |pdf| {
        unset(of_type(pdf, "FontDescriptor"), "FontFile2")
    }),
    ("a font without characters", "readable", |pdf| {
        unset(of_subtype(pdf, "Type0"), "ToUnicode")
    }),
    ("a group without a name", "groups", |pdf| {
        unset(of_type(pdf, "OCG"), "Name")
    }),
    ("groups shown of themselves", "groups", |pdf| {
        set(shown(pdf), "AS", Object::Array(Vec::new()))
    }),
    ("a group that is not listed", "groups", |pdf| {
        let Object::Array(order) = shown(pdf).get_mut(b"Order").expect("an order") else {
            panic!()
        };
        order.pop();
    }),
    ("pages fitted to the paper", "printing", |pdf| {
        set(preferences(pdf), "PrintScaling", name("Fit"))
    }),
    ("encryption", "encryption", encrypt),
    ("a stream packed by LZW", "packing", |pdf| {
        let id = pdf.add_object(Stream::new(
            dictionary! { "Type" => "Metadata", "Subtype" => "XML", "Filter" => "LZWDecode" },
            vec![128, 11, 96, 80, 34, 12, 12, 133, 1],
        ));
        set(page(pdf), "Metadata", id.into())
    }),
    ("a script", "actions", |pdf| {
        set(
            catalog(pdf),
            "OpenAction",
            dictionary! { "S" => "JavaScript", "JS" => Object::string_literal("1") }.into(),
        )
    }),
    ("a form", "actions", |pdf| {
        set(
            catalog(pdf),
            "AcroForm",
            dictionary! { "Fields" => Object::Array(Vec::new()) }.into(),
        )
    }),
    ("a note on the art", "annotations", |pdf| {
        note(pdf, "Text", true)
    }),
    ("a sound beside the page", "actions", |pdf| {
        note(pdf, "Sound", false)
    }),
    ("a key of a later PDF", "keys", |pdf| {
        set(preferences(pdf), "Duplex", name("Simplex"))
    }),
    ("a profile elsewhere", "keys", |pdf| {
        set(intent(pdf), "DestOutputProfileRef", dictionary! {}.into())
    }),
];

/// Every breakage is found by its own rule and by no other; what breaks nothing by none.
///
/// Panics, with all that went wrong, where that is not so. The file must have a spot ink or marks on all plates, an ink
/// given as light, groups, and marks around the bleed.
pub fn every_breakage_is_found(sound: &[u8]) {
    let mut amiss = Vec::new();
    for (what, rule, spoil) in BREAKAGES {
        let found = findings(&spoilt(sound, spoil));
        if found.is_empty() || found.iter().any(|(by, _)| *by != rule) {
            amiss.push(format!("{what}, which {rule} should find: {found:?}"));
        }
    }
    let harmless: [fn(&mut Document); 3] = [
        |_| {},
        |pdf| note(pdf, "Text", false),
        |pdf| set(state(pdf), "TR2", name("Default")),
    ];
    for spoil in harmless {
        let found = findings(&spoilt(sound, spoil));
        if !found.is_empty() {
            amiss.push(format!("what breaks nothing: {found:?}"));
        }
    }
    let untried = RULES.iter().filter(|(rule, _)| {
        let tried = BREAKAGES.iter().any(|(_, tried, _)| tried == rule);
        !tried
    });
    amiss.extend(untried.map(|(rule, _)| format!("no breakage is for {rule}")));
    assert!(amiss.is_empty(), "{}", amiss.join("\n"));
}

/// A file with a change, written anew by the parser's library.
fn spoilt(sound: &[u8], spoil: fn(&mut Document)) -> Vec<u8> {
    let mut pdf = File::read(sound).document;
    spoil(&mut pdf);
    let mut bytes = Vec::new();
    pdf.save_to(&mut bytes).expect("it can be written");
    bytes
}
