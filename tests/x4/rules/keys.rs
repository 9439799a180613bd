//! Every dictionary of a file, walked from the trailer on: it has no key that PDF 1.6 does not know there.

use std::collections::HashSet;

use lopdf::{Dictionary, Object, ObjectId};

use super::File;
use super::file::dict_of;

/// What stands in every stream (ISO 32000-1, Table 5; the Arlington model, e.g. Metadata.tsv).
const STREAM: &str = "Length Filter DecodeParms:Any F FFilter FDecodeParms DL";

/// The keys that a kind of dictionary may have in PDF 1.6, and behind a colon what kind of dictionary they lead to, on
/// their own or in an array; a star stands before a kind where keys of a dictionary are names that lead to such. `?` is
/// the kind that the dictionary itself tells. From the Arlington model (tables of PDF 1.6 at
/// github:pdf-association/arlington-pdf-model, `tsv/1.6`): trailer, catalog, page, preferences, info, output intent,
/// groups and what is shown of them, resources, structure elements, fonts, descriptors, graphics states, profiles,
/// pictures, metadata. The others from memory (ISO 32000-1, in the tables named).
const KINDS: [(&str, &str); 27] = [
    (
        "Trailer",
        "Size Prev Root:Catalog Encrypt Info:Info ID XRefStm",
    ),
    (
        "Catalog",
        "Type Version Pages:? PageLabels Names Dests ViewerPreferences:Preferences PageLayout PageMode Outlines \
         Threads OpenAction AA URI AcroForm Metadata:Metadata StructTreeRoot:Tree MarkInfo:MarkInfo Lang SpiderInfo \
         OutputIntents:Intent PieceInfo OCProperties:Groups Perms Legal NeedsRendering",
    ),
    // Table 29 (Arlington's PageTreeNode).
    (
        "Pages",
        "Type Parent Kids:? Count Resources:Resources MediaBox CropBox Rotate",
    ),
    (
        "Page",
        "Type Parent LastModified Resources:Resources MediaBox CropBox BleedBox TrimBox ArtBox BoxColorInfo \
         Contents:Content Rotate Group:Transparency Thumb B Dur Trans Annots AA Metadata:Metadata PieceInfo \
         StructParents ID PZ SeparationInfo Tabs TemplateInstantiated PresSteps UserUnit VP",
    ),
    ("Content", ""),
    (
        "Preferences",
        "HideToolbar HideMenubar HideWindowUI FitWindow CenterWindow DisplayDocTitle NonFullScreenPageMode Direction \
         ViewArea ViewClip PrintArea PrintClip PrintScaling",
    ),
    (
        "Info",
        "Title Author Subject Keywords Creator Producer CreationDate ModDate Trapped",
    ),
    (
        "Intent",
        "Type S OutputCondition OutputConditionIdentifier RegistryName Info DestOutputProfile:Profile",
    ),
    ("Profile", "N Alternate Range Metadata:Metadata"),
    ("Metadata", "Type Subtype"),
    // Table 321.
    ("MarkInfo", "Marked UserProperties Suspects"),
    // Table 322.
    (
        "Tree",
        "Type K:Element IDTree ParentTree:Numbers ParentTreeNextKey RoleMap ClassMap",
    ),
    // Table 37. Its values, objects of the structure, are reached from the tree.
    ("Numbers", "Kids:Numbers Nums Limits"),
    (
        "Element",
        "Type S P ID Pg K:Element A C R T Lang Alt E ActualText",
    ),
    // Table 100.
    ("Groups", "OCGs:Group D:Shown Configs:Shown"),
    ("Group", "Type Name Intent Usage"),
    (
        "Shown",
        "Name Creator BaseState ON OFF Intent AS Order ListMode RBGroups Locked",
    ),
    (
        "Resources",
        "ExtGState:*State ColorSpace:*Any Pattern:*Any Shading:*Any XObject:*? Font:*? ProcSet Properties:*Group",
    ),
    (
        "State",
        "Type LW LC LJ ML D RI OP op OPM Font BG BG2 UCR UCR2 TR TR2 HT:Any FL SM SA BM SMask:Any CA ca AIS TK HTP",
    ),
    (
        "Type0",
        "Type Subtype BaseFont Encoding DescendantFonts:CIDFont ToUnicode:CMap",
    ),
    (
        "CIDFont",
        "Type Subtype BaseFont CIDSystemInfo:System FontDescriptor:Descriptor DW W DW2 W2 CIDToGIDMap ToUnicode:CMap",
    ),
    // Table 116.
    ("System", "Registry Ordering Supplement"),
    // Table 120.
    ("CMap", "Type CMapName CIDSystemInfo:System WMode UseCMap"),
    (
        "Descriptor",
        "Type FontName FontFamily FontStretch FontWeight Flags FontBBox ItalicAngle Ascent Descent Leading CapHeight \
         XHeight StemV StemH AvgWidth MaxWidth MissingWidth FontFile:Program FontFile2:Program FontFile3:Program \
         Style Lang FD CIDSet:Content",
    ),
    // Table 127.
    (
        "Program",
        "Length1 Length2 Length3 Subtype Metadata:Metadata",
    ),
    (
        "Image",
        "Type Subtype Width Height ColorSpace:Any BitsPerComponent Intent ImageMask Mask:Image Decode Interpolate \
         Alternates SMask:Image SMaskInData Name StructParent ID OPI Metadata:Metadata OC:Group Matte",
    ),
    // Table 96 (Arlington's GroupAttributes).
    ("Transparency", "Type S CS:Any I K"),
];

/// Dictionaries of colour spaces, functions and filters, by what they have.
const BY_KEY: [(&str, &str); 5] = [
    // Tables 38 to 41.
    (
        "FunctionType",
        "FunctionType Domain Range C0 C1 N Functions:Any Bounds Encode Size BitsPerSample Order Decode",
    ),
    // The Arlington model, ICCProfileStream.tsv.
    ("N", "N Alternate Range Metadata:Metadata"),
    // Table 8.
    (
        "Columns",
        "Predictor Colors BitsPerComponent Columns EarlyChange",
    ),
    // Table 13.
    ("ColorTransform", "ColorTransform"),
    // Table 130.
    (
        "HalftoneType",
        "Type HalftoneType HalftoneName Frequency Angle SpotFunction AccurateScreens TransferFunction",
    ),
];

/// What dictionaries of the file have and PDF 1.6 does not know.
pub fn keys(file: &File<'_>) -> Vec<String> {
    let mut walk = Walk {
        file,
        seen: HashSet::new(),
        wrong: Vec::new(),
    };
    walk.dict(&file.document.trailer, "Trailer", false);
    walk.wrong
}

struct Walk<'f, 'b> {
    file: &'f File<'b>,
    seen: HashSet<ObjectId>,
    wrong: Vec<String>,
}

impl<'f> Walk<'f, '_> {
    fn object(&mut self, object: &'f Object, kind: &str) {
        if let Object::Reference(id) = object
            && !self.seen.insert(*id)
        {
            return;
        }
        let Some(object) = self.file.resolve(object) else {
            return;
        };
        if let Object::Array(items) = object {
            items.iter().for_each(|item| self.object(item, kind));
        } else if let Some(dict) = dict_of(object) {
            self.dict(dict, kind, object.as_stream().is_ok());
        }
    }

    fn dict(&mut self, dict: &'f Dictionary, kind: &str, is_stream: bool) {
        if let Some(kind) = kind.strip_prefix('*') {
            dict.iter().for_each(|(_, value)| self.object(value, kind));
            return;
        }
        let kind = if kind == "?" {
            self.told(dict)
        } else {
            kind.to_string()
        };
        let known = match kind.as_str() {
            "Any" => BY_KEY.iter().find(|(key, _)| dict.has(key.as_bytes())),
            kind => KINDS.iter().find(|(known, _)| *known == kind),
        };
        let Some((_, keys)) = known else {
            self.wrong.push(format!(
                "a dictionary is of no kind known ({kind}): {dict:?}"
            ));
            return;
        };
        let stream = if is_stream { STREAM } else { "" };
        for (key, value) in dict {
            let mut known = keys.split_whitespace().chain(stream.split_whitespace());
            let found = known.find(|known| known.split(':').next().map(str::as_bytes) == Some(key));
            match found.map(|known| known.split_once(':')) {
                Some(Some((_, leads_to))) => self.object(value, leads_to),
                Some(None) => {}
                None => {
                    let key = String::from_utf8_lossy(key);
                    self.wrong
                        .push(format!("{key} is no key of a {kind} in PDF 1.6"));
                }
            }
        }
    }

    /// The kind that a dictionary tells: its Type, or Subtype where that says more.
    fn told(&self, dict: &Dictionary) -> String {
        let kind = self.file.name(dict, "Type").unwrap_or_default();
        match kind.as_str() {
            "Pages" | "Page" => kind,
            _ => self.file.name(dict, "Subtype").unwrap_or(kind),
        }
    }
}
