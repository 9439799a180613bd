//! What each file below `out/` is made from, as a fingerprint: it is out of date when that is another.
//!
//! Of the plan it has what that prints as, so it may change with the program: then a file is made again that need not be.

use std::cell::OnceCell;

use sha2::{Digest, Sha256};

use super::products::without_press;
use super::{BookTexts, Workbench};
use crate::assets::Assets;
use crate::layout::{self, Layout, breaks};
use crate::names::Faults;
use crate::outputs::Kind;
use crate::plan::Plan;

/// What the files of a book would be made from now. Each thing is looked at once, and only if it is asked for.
pub struct Prints<'a> {
    assets: Assets,
    /// Apart from where its keys stand.
    plan: Plan,
    texts: BookTexts,
    layout: &'a Layout,
    shown: OnceCell<String>,
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
            plan: self.plan(&texts.plan)?.as_ref().clone().without_places(),
            texts,
            layout,
            shown: OnceCell::new(),
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
            Kind::Layer => self.shown().to_string(),
            Kind::ContactSheet | Kind::Record => self.book().to_string(),
            Kind::Trials => self.trials().to_string(),
            Kind::Dummy => digits([self.book(), art]),
            Kind::Sheet { x4 } | Kind::WordsSheet { x4 } => {
                let intent = if x4 { self.intent() } else { String::new() };
                digits([self.book(), art, &self.cut(), &intent])
            }
            Kind::Plate => digits([self.book(), &self.cut()]),
            Kind::Guide => {
                let making = (plan.stock, plan.score, plan.boards, plan.wrapper);
                digits([self.book(), art, &self.cut(), &format!("{making:?}")])
            }
        })
    }

    /// What all layers show.
    fn shown(&self) -> &str {
        self.shown.get_or_init(|| {
            let shown = layout::shown(self.layout);
            digits(shown.iter().map(String::as_str))
        })
    }

    /// The book, panel by panel, with its names.
    fn book(&self) -> &str {
        self.book.get_or_init(|| {
            let layout = self.layout;
            let panels = layout.panels.iter();
            let panels = panels.map(|panel| (panel.panel, panel.role, panel.picture.as_deref()));
            let panels: Vec<_> = panels.collect();
            let facts = format!("{:?} {:?} {panels:?}", layout.title, layout.strip.paper());
            digits([self.shown(), &facts])
        })
    }

    /// How the strip is cut, and what its marks show.
    fn cut(&self) -> String {
        format!("{:?} {:?}", self.plan.sheets, self.plan.crossovers)
    }

    /// The scans that the plan names.
    fn art(&self) -> &str {
        self.art.get_or_init(|| {
            let pictures = self.plan.pictures.iter();
            let scans = pictures.filter_map(|picture| {
                let file = &picture.art.as_ref()?.file;
                let bytes = file_digits(&self.assets, file);
                Some(format!(
                    "{:?} {:?} {bytes}",
                    picture.name, picture.runs_over
                ))
            });
            let scans: Vec<String> = scans.collect();
            digits(scans.iter().map(String::as_str))
        })
    }

    /// The printing condition's profile.
    fn intent(&self) -> String {
        let intent = self.plan.sheets.intent.as_ref();
        intent.map_or(String::new(), |intent| {
            format!(
                "{:?} {}",
                self.plan.date,
                file_digits(&self.assets, &intent.profile)
            )
        })
    }

    /// What the words may be divided by, and how they are set.
    fn trials(&self) -> &str {
        self.trials.get_or_init(|| {
            let plan = format!("{:?}", without_press(&self.plan));
            let words = &self.texts.manuscript.text;
            let passed = self.texts.breaks.as_ref().map(|source| {
                let breaks = breaks::read(source).ok();
                breaks.map(|breaks| breaks::write(&breaks.only_passed()))
            });
            digits([plan.as_str(), words, &format!("{passed:?}")])
        })
    }
}

/// Half a SHA-256 of these texts.
fn digits<'t>(texts: impl IntoIterator<Item = &'t str>) -> String {
    let mut hash = Sha256::new();
    for text in texts {
        hash.update((text.len() as u64).to_le_bytes());
        hash.update(text);
    }
    hex(&hash.finalize()[..16])
}

/// Half a SHA-256 of a file's bytes; nothing of one that cannot be read.
fn file_digits(assets: &Assets, name: &str) -> String {
    let bytes = assets.bytes(name);
    bytes.map_or(String::new(), |bytes| hex(&Sha256::digest(bytes)[..16]))
}

fn hex(bytes: &[u8]) -> String {
    bytes.iter().map(|byte| format!("{byte:02x}")).collect()
}
