//! Finding typefaces: the open fonts that come with the program, and font files by path.

use std::borrow::Cow;
use std::collections::{BTreeMap, HashMap};
use std::sync::{Arc, Mutex, PoisonError};

use unicode_segmentation::UnicodeSegmentation;

use super::face::Face;
use super::tables::{FontTrouble, alone};
use super::{Family, KnownWords, Typeface};
use crate::assets::{Assets, FontBytes, NotInstalled, Unread};
use crate::names::{Fault, Faults, Feature, nearest};
use crate::plan::{TextStyle, TypefaceChoice, TypefaceNamed};

/// A family that comes with the program: its name and its regular, italic and bold font files.
struct OpenFamily {
    name: &'static str,
    regular: &'static [u8],
    italic: Option<&'static [u8]>,
    bold: Option<&'static [u8]>,
}

macro_rules! font {
    ($path:literal) => {
        include_bytes!(concat!("../../fonts-open/", $path))
    };
}

const OPEN: [OpenFamily; 7] = [
    OpenFamily {
        name: "Alegreya",
        regular: font!("alegreya/Alegreya-Regular.ttf"),
        italic: Some(font!("alegreya/Alegreya-Italic.ttf")),
        bold: Some(font!("alegreya/Alegreya-Bold.ttf")),
    },
    OpenFamily {
        name: "Alegreya Sans",
        regular: font!("alegreya-sans/AlegreyaSans-Regular.ttf"),
        italic: Some(font!("alegreya-sans/AlegreyaSans-Italic.ttf")),
        bold: Some(font!("alegreya-sans/AlegreyaSans-Bold.ttf")),
    },
    upright(
        "Playpen Sans",
        font!("playpen-sans/PlaypenSans-Regular.ttf"),
    ),
    two_weights(
        "Amiri",
        font!("amiri/Amiri-Regular.ttf"),
        font!("amiri/Amiri-Bold.ttf"),
    ),
    two_weights(
        "Noto Serif Hebrew",
        font!("noto-serif-hebrew/NotoSerifHebrew-Regular.ttf"),
        font!("noto-serif-hebrew/NotoSerifHebrew-Bold.ttf"),
    ),
    two_weights(
        "Noto Serif Devanagari",
        font!("noto-serif-devanagari/NotoSerifDevanagari-Regular.ttf"),
        font!("noto-serif-devanagari/NotoSerifDevanagari-Bold.ttf"),
    ),
    two_weights(
        "Noto Serif Thai",
        font!("noto-serif-thai/NotoSerifThai-Regular.ttf"),
        font!("noto-serif-thai/NotoSerifThai-Bold.ttf"),
    ),
];

const fn upright(name: &'static str, regular: &'static [u8]) -> OpenFamily {
    OpenFamily {
        name,
        regular,
        italic: None,
        bold: None,
    }
}

/// A family of a script that has no italic.
const fn two_weights(
    name: &'static str,
    regular: &'static [u8],
    bold: &'static [u8],
) -> OpenFamily {
    OpenFamily {
        bold: Some(bold),
        ..upright(name, regular)
    }
}

/// The names of the families that come with the program.
pub fn families() -> impl Iterator<Item = &'static str> {
    OPEN.iter().map(|family| family.name)
}

/// Where fonts are found, and those found so far.
pub struct FontLibrary {
    assets: Assets,
    faces: Mutex<Vec<Arc<Face>>>,
    /// The installed families that were asked for.
    installed: Mutex<HashMap<String, Family>>,
    /// What is known of words in the typefaces of late: by their faces and features.
    known: Mutex<Vec<(TypefaceKey, KnownWords)>>,
}

/// The faces of a typeface, by their addresses in the order in which they are tried, and its features.
type TypefaceKey = (Vec<Option<usize>>, Vec<Feature>);

/// Of how many typefaces words are known.
const TYPEFACES: usize = 32;

impl FontLibrary {
    /// What has the files that a plan names.
    pub fn assets(&self) -> &Assets {
        &self.assets
    }

    /// A library that looks for font files among a book's own.
    pub fn new(assets: impl Into<Assets>) -> FontLibrary {
        FontLibrary {
            assets: assets.into(),
            faces: Mutex::new(Vec::new()),
            installed: Mutex::new(HashMap::new()),
            known: Mutex::new(Vec::new()),
        }
    }

    /// The typeface that a plan's text asks for.
    ///
    /// # Errors
    /// Every family that is not known and every font file that is missing, is no font, ends too early,
    /// or may not be embedded.
    pub fn typeface(&self, style: &TextStyle) -> Result<Typeface, Faults> {
        let mut faults = Faults::new();
        let mut read = |choice| self.family(choice).map_err(|fault| faults.push(fault)).ok();
        let main = read(&style.typeface);
        let fallback: Vec<Family> = style.fallback.iter().filter_map(&mut read).collect();
        let headings = style
            .headings
            .map(|own| own.typeface.as_ref().and_then(&mut read));
        match main {
            Some(main) if faults.is_empty() => Ok(self.with_known(Typeface {
                features: style.features.clone(),
                headings,
                ..Typeface::new(main, fallback)
            })),
            _ => Err(faults),
        }
    }

    /// A typeface that knows what was shaped in it before.
    fn with_known(&self, typeface: Typeface) -> Typeface {
        let faces = |family: &Family| {
            [
                Some(&family.regular),
                family.italic.as_ref(),
                family.bold.as_ref(),
            ]
            .map(|face| face.map(|face| Arc::as_ptr(face) as usize))
        };
        let own = [Some(&typeface.main)].into_iter();
        let headings = typeface.headings.all().map(|(_, own)| own.as_ref());
        let families = own
            .chain(headings)
            .chain(typeface.fallback.iter().map(Some));
        let faces = families.flat_map(|family| family.map_or([None; 3], faces));
        let key = (faces.collect(), typeface.features.clone());
        let mut all = self.known.lock().unwrap_or_else(PoisonError::into_inner);
        if let Some((_, known)) = all.iter().find(|(own, _)| *own == key) {
            let known = known.clone();
            return Typeface { known, ..typeface };
        }
        if all.len() >= TYPEFACES {
            all.remove(0);
        }
        all.push((key, typeface.known.clone()));
        typeface
    }

    /// A family that comes with the program, by its exact name.
    pub fn open_family(&self, name: &str) -> Option<Family> {
        let open = OPEN.iter().find(|family| same_name(family.name, name))?;
        let read = |data: &'static [u8]| self.face(Cow::Borrowed(data)).ok();
        Some(Family {
            regular: read(open.regular)?,
            italic: open.italic.and_then(read),
            bold: open.bold.and_then(read),
        })
    }

    /// The families that come with the program and have these clusters between them, those with the most of them
    /// first, and the clusters that none has.
    pub fn families_with<'c>(
        &self,
        clusters: impl IntoIterator<Item = &'c str>,
    ) -> (Vec<&'static str>, Vec<&'c str>) {
        let mut left: BTreeMap<&str, usize> = clusters.into_iter().map(|one| (one, 1)).collect();
        let chosen = self.chosen(&mut left, None);
        (chosen, left.into_keys().collect())
    }

    /// The families that come with the program and set a text between them: first the one it is set in, which
    /// is the usual one where that has most of it; then those for what is left. What none has is passed over.
    pub fn families_for(&self, text: &str) -> Vec<&'static str> {
        let mut left: BTreeMap<&str, usize> = BTreeMap::new();
        for cluster in text.graphemes(true) {
            if cluster.chars().any(char::is_alphanumeric) {
                *left.entry(cluster).or_default() += 1;
            }
        }
        self.chosen(&mut left, families().next())
    }

    /// Chooses families until they have all that any has, each time the one with the most of what is left;
    /// `usual` comes first where it has at least half. Takes away what they have.
    fn chosen(
        &self,
        left: &mut BTreeMap<&str, usize>,
        usual: Option<&'static str>,
    ) -> Vec<&'static str> {
        let mut chosen: Vec<&'static str> = Vec::new();
        let all: usize = left.values().sum();
        let open = families().filter_map(|name| Some((name, self.open_family(name)?)));
        let open: Vec<(&'static str, Family)> = open.collect();
        while !left.is_empty() {
            let has = |family: &Family| -> usize {
                let covered = left.iter().filter(|(one, _)| family.regular.covers(one));
                covered.map(|(_, count)| count).sum()
            };
            let usual = open.iter().find(|(name, family)| {
                chosen.is_empty() && usual == Some(name) && has(family) * 2 >= all
            });
            let best = open.iter().rev().max_by_key(|(_, family)| has(family));
            let Some((name, family)) = usual.or(best.filter(|(_, family)| has(family) > 0)) else {
                break;
            };
            chosen.push(name);
            left.retain(|one, _| !family.regular.covers(one));
        }
        chosen
    }

    fn family(&self, choice: &TypefaceChoice) -> Result<Family, Fault> {
        let at = |fault: Fault| match &choice.place {
            Some(place) => fault.at(place.clone()),
            None => fault,
        };
        match &choice.named {
            TypefaceNamed::Family(name) => self
                .open_family(name)
                .ok_or_else(|| at(unknown_family(name))),
            TypefaceNamed::Installed(name) => self.installed(name).map_err(at),
            TypefaceNamed::File(name) => {
                let regular = self.file(name).map_err(at)?;
                Ok(Family {
                    regular,
                    italic: None,
                    bold: None,
                })
            }
            TypefaceNamed::Files {
                regular,
                italic,
                bold,
            } => {
                let read = |name: &String| self.file(name).map_err(at);
                Ok(Family {
                    regular: read(regular)?,
                    italic: italic.as_ref().map(read).transpose()?,
                    bold: bold.as_ref().map(read).transpose()?,
                })
            }
        }
    }

    fn file(&self, shown: &str) -> Result<Arc<Face>, Fault> {
        let data = self.assets.bytes(shown).map_err(|unread| {
            let reason = match unread {
                Unread::Missing(_) => "there is no such file".to_string(),
                Unread::IsFolder => "it is a folder".to_string(),
                Unread::NotAFile => "it is not an ordinary file".to_string(),
                Unread::NoPermission => "it may not be read".to_string(),
                Unread::Failed(error) => error.to_string(),
            };
            Fault::new(
                "font",
                format!("the font file {shown} cannot be read: {reason}"),
            )
            .allowed("a .ttf or .otf file; the path counts from the book's folder")
        })?;
        self.face(Cow::Owned(data))
            .map_err(|trouble| font_fault(shown, trouble))
    }

    fn installed(&self, name: &str) -> Result<Family, Fault> {
        let mut known = self
            .installed
            .lock()
            .unwrap_or_else(PoisonError::into_inner);
        if let Some(family) = known.get(name) {
            return Ok(family.clone());
        }
        let found = self.assets.installed(name);
        let found = found.map_err(|why| not_installed(name, why))?;
        let face = |font: FontBytes| {
            let data = alone(font.bytes, font.index).ok_or(FontTrouble::Truncated);
            let face = data.and_then(|data| self.face(Cow::Owned(data)));
            face.map_err(|trouble| font_fault(name, trouble))
        };
        let family = Family {
            regular: face(found.regular)?,
            italic: found.italic.map(face).transpose()?,
            bold: found.bold.map(face).transpose()?,
        };
        known.insert(name.to_string(), family.clone());
        Ok(family)
    }

    /// The face of a font file's bytes. A file is read and kept once: glyphs are told apart by their faces.
    fn face(&self, data: Cow<'static, [u8]>) -> Result<Arc<Face>, FontTrouble> {
        let mut faces = self.faces.lock().unwrap_or_else(PoisonError::into_inner);
        if let Some(face) = faces.iter().find(|face| face.is_of(&data)) {
            return Ok(Arc::clone(face));
        }
        let face = Arc::new(Face::read(data)?);
        faces.push(Arc::clone(&face));
        Ok(face)
    }
}

fn same_name(known: &str, asked: &str) -> bool {
    let folded = |name: &str| name.to_lowercase().replace([' ', '-'], "");
    folded(known) == folded(asked)
}

/// What is wrong with a font that its author knows by a name.
fn font_fault(shown: &str, trouble: FontTrouble) -> Fault {
    let fault = |what: String| Fault::new("font", what);
    match trouble {
        FontTrouble::NoFont => fault(format!("{shown} is no font file"))
            .allowed("a TrueType or OpenType font (.ttf, .otf)"),
        FontTrouble::Truncated => fault(format!("the font file {shown} is cut short"))
            .help("copy it again from where it came from"),
        FontTrouble::NoOutlines => fault(format!("the font {shown} has no outlines that a PDF can carry"))
            .allowed("TrueType (glyf) or CFF outlines"),
        FontTrouble::EmbeddingForbidden => fault(format!("the maker of the font {shown} forbids embedding it"))
            .help("a PDF text layer carries its fonts: choose another, or ask the maker for a licence and a file that allow it"),
        FontTrouble::SubsettingForbidden => fault(format!("the maker of the font {shown} forbids embedding a part of it"))
            .help("text layers carry only the letters they use: choose another font"),
    }
}

fn not_installed(name: &str, why: NotInstalled) -> Fault {
    let none = |what: String| Fault::new("not-installed", what).read(name);
    match why {
        NotInstalled::Unknown(families) => {
            let near = nearest(name, families.iter().map(String::as_str));
            none(format!("no typeface `{name}` is installed on this machine"))
                .allowed("the name of a family as other programs of this machine list it")
                .meant(near)
        }
        NotInstalled::Unreadable => none(format!("the installed typeface `{name}` cannot be read"))
            .help("install it again, or name its font file by its path"),
        NotInstalled::Nothing => none(format!(
            "the typeface `{name}` cannot be looked for: there are no installed typefaces here"
        ))
        .help("name a font file by its path"),
    }
}

fn unknown_family(name: &str) -> Fault {
    let known: Vec<&str> = families().collect();
    Fault::new("typeface", format!("there is no typeface `{name}` here"))
        .read(name)
        .allowed(format!(
            "{}, or the path of a .ttf or .otf file",
            known.join(", ")
        ))
        .meant(nearest(name, families()))
}
