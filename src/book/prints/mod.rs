//! What each file below `out/` is made from, as a fingerprint: it is out of date when that is another.
//!
//! A fingerprint hangs on what the file shows, value by value, and not on how a type of the program is named, ordered or
//! printed: `shown` has these records. Trials alone are made from nearly all of the plan; theirs has its keys as they are
//! written (`keys`). Whoever changes what is recorded gives `VERSION` the next number; files that an earlier version of
//! the program made are then made again.

mod keys;
mod shown;

use std::cell::OnceCell;
use std::sync::Arc;

use sha2::{Digest, Sha256};

use super::{BookTexts, Workbench};
use crate::assets::Assets;
use crate::layout::{self, Encoder, Layout, breaks};
use crate::names::Faults;
use crate::outputs::Kind;
use crate::plan::Plan;

/// The version of the records. The first hashed the plan as the program printed it.
const VERSION: u32 = 2;

/// What the files of a book would be made from now. Each thing is looked at once, and only if it is asked for.
pub struct Prints<'a> {
    assets: Assets,
    plan: Arc<Plan>,
    texts: BookTexts,
    layout: &'a Layout,
    layers: OnceCell<String>,
    book: OnceCell<String>,
    art: OnceCell<String>,
    trials: OnceCell<String>,
}

impl Workbench {
    /// What the files of the book in the folder would be made from, which is laid out so.
    ///
    /// # Errors
    /// Files of the book that can no longer be read.
    pub fn prints<'a>(&mut self, layout: &'a Layout) -> Result<Prints<'a>, Faults> {
        let texts = self.read_files()?;
        Ok(Prints {
            assets: self.assets.clone(),
            plan: self.plan(&texts.plan)?,
            texts,
            layout,
            layers: OnceCell::new(),
            book: OnceCell::new(),
            art: OnceCell::new(),
            trials: OnceCell::new(),
        })
    }
}

impl Prints<'_> {
    /// What the file of that name, below the output folder, would be made from: 32 hexadecimal digits. Nothing for a
    /// name that no output has.
    pub fn of(&self, name: &str) -> Option<String> {
        let kind = Kind::of(name)?;
        let plan = &self.plan;
        let art = if kind.shows_art() { self.art() } else { "" };
        Some(match kind {
            Kind::Layer => self.layers().to_string(),
            Kind::ContactSheet | Kind::Record => self.book().to_string(),
            Kind::Trials => self.trials().to_string(),
            Kind::Dummy => together([self.book(), art]),
            Kind::Sheet { x4 } | Kind::WordsSheet { x4 } => {
                let intent = if x4 { self.intent() } else { String::new() };
                together([self.book(), art, &shown::cut(plan), &intent])
            }
            Kind::Plate => together([self.book(), &shown::cut(plan)]),
            Kind::Guide => together([self.book(), art, &shown::cut(plan), &shown::making(plan)]),
        })
    }

    /// What all layers show.
    fn layers(&self) -> &str {
        let panels = || layout::shown(self.layout);
        self.layers
            .get_or_init(|| together(panels().iter().map(String::as_str)))
    }

    /// The book, panel by panel, with its names.
    fn book(&self) -> &str {
        self.book
            .get_or_init(|| together([self.layers(), &shown::book(self.layout)]))
    }

    /// The scans that the plan names.
    fn art(&self) -> &str {
        let content = |file: &str| file_digits(&self.assets, file);
        self.art.get_or_init(|| shown::art(&self.plan, content))
    }

    /// The printing condition, and the date that is told of it.
    fn intent(&self) -> String {
        let Some(intent) = &self.plan.sheets.intent else {
            return String::new();
        };
        shown::intent(self.plan.date, &file_digits(&self.assets, &intent.profile))
    }

    /// What the words may be divided by, and how they are set.
    fn trials(&self) -> &str {
        self.trials.get_or_init(|| {
            let passed = self.texts.breaks.as_ref().and_then(|source| {
                let breaks = breaks::read(source).ok()?;
                Some(breaks::write(&breaks.only_passed()))
            });
            let passed = passed.unwrap_or_default();
            let keys = keys::of_words(&self.texts.plan);
            let words = &self.texts.manuscript.text;
            together([keys.as_str(), words, &passed])
        })
    }
}

/// The fingerprint of several things, texts or fingerprints themselves.
fn together<'t>(texts: impl IntoIterator<Item = &'t str>) -> String {
    let mut encoder = Encoder::new(VERSION, "together");
    texts.into_iter().for_each(|text| encoder.text(text));
    digits(encoder)
}

/// Half a SHA-256 of what was taken in.
fn digits(encoder: Encoder) -> String {
    hex(&encoder.digest()[..16])
}

/// Half a SHA-256 of a file's bytes; nothing of one that cannot be read.
fn file_digits(assets: &Assets, name: &str) -> String {
    let bytes = assets.bytes(name);
    bytes.map_or(String::new(), |bytes| hex(&Sha256::digest(bytes)[..16]))
}

fn hex(bytes: &[u8]) -> String {
    bytes.iter().map(|byte| format!("{byte:02x}")).collect()
}
