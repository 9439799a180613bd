//! The workbench: runs the stations one after the other, and remembers their products.
//!
//! Each product is kept with what it was made from; when the same is asked for again it is handed out, and after a
//! change only what depends on the change is made anew.

pub(crate) mod advice;
mod build_problem;
mod cast_off;
pub mod compare;
mod defaults;
mod divide;
mod kept;
mod labels;
mod made;
mod name_pictures;
pub mod plan_file;
mod prepared;
mod prints;
mod products;
mod proved;
mod strip;
mod trials;
mod why;

pub use build_problem::build_problem;
pub use cast_off::{
    CastOff, CastOffRequest, Cell, Comfort, Figures, Largest, Letters, PartRoom, SizeRow,
    characters_per_line,
};
pub use defaults::NewDefaults;
pub(crate) use divide::{at_last, divide, is_possible, may_give_way};
pub use kept::{ActiveBreaks, BreaksPolicy, BreaksUpdate};
pub use name_pictures::NamedPictures;
pub use prepared::PreparedBook;
pub(crate) use prepared::read_manuscript;
pub use prints::Prints;
#[cfg(test)]
pub(crate) use strip::bench_facts;
pub use strip::{CutBook, GroundsMeet, ScanNote, grounds_meet};
pub use trials::{Trial, Trials, TrialsRequest};
pub use why::{Kept, Otherwise, Outcome, Why};

use std::sync::Arc;

use crate::assets::Assets;
use crate::division::{self, Division};
use crate::layout::{self, Layout, RememberedPanels};
use crate::names::{Faults, SetAs, Source};
use crate::paper::Strip;
use crate::plan::{AreaRequest, Plan};
use crate::setting::{self, Remembered, SetLines};
use crate::text::{Manuscript, has_readings};
use crate::typeface::FontLibrary;
use made::Made;
use products::{Cached, Divided, KnownLines, LinesFrom, known};
use proved::{broken_promise, cannot};

/// The plan's file name in a book's folder.
pub const PLAN_FILE: &str = "concertina.toml";

/// The texts that a book is made from.
#[derive(Clone, Debug)]
pub struct BookTexts {
    /// The plan.
    pub plan: Arc<Source>,
    /// The manuscript.
    pub manuscript: Arc<Source>,
    /// What the author chose and passed, if anything.
    pub breaks: Option<Arc<Source>>,
}

/// What a manuscript is read from: its text, how plain lines are set, and whether parts have readings: those that the
/// plan does not name, and each that it does.
type ManuscriptFrom = (Arc<Source>, SetAs, bool, Vec<(String, bool)>);

/// Makes layouts of one book, again and again.
pub struct Workbench {
    assets: Assets,
    fonts: FontLibrary,
    plan: Option<Cached<Arc<Source>, Plan>>,
    manuscript: Option<Cached<ManuscriptFrom, Manuscript>>,
    set: KnownLines,
    remembered: Remembered,
    divided: Divided,
    searched: division::RememberedSearches,
    laid: RememberedPanels,
    made: Made,
}

impl Workbench {
    /// A workbench for the book that these files are of. Nothing is read yet.
    pub fn new(assets: impl Into<Assets>) -> Workbench {
        let assets = assets.into();
        Workbench {
            fonts: FontLibrary::new(assets.clone()),
            assets,
            plan: None,
            manuscript: None,
            set: None,
            remembered: Remembered::default(),
            divided: Divided::default(),
            searched: division::RememberedSearches::default(),
            laid: RememberedPanels::default(),
            made: Made::default(),
        }
    }

    /// A workbench that is asked for one layout: what only the next one could use, it does not keep.
    pub fn once(assets: impl Into<Assets>) -> Workbench {
        Workbench {
            searched: division::RememberedSearches::none(),
            laid: RememberedPanels::none(),
            made: Made::none(),
            ..Workbench::new(assets)
        }
    }

    /// Reads plan and manuscript and lays the book out.
    ///
    /// # Errors
    /// Everything that is wrong with the book; see [`Workbench::lay_out_texts`].
    pub fn lay_out(&mut self) -> Result<Layout, Faults> {
        self.lay_out_heeding(BreaksPolicy::All)
    }

    /// Lays out the book in the folder with what the author chose and passed, or with what is passed alone.
    ///
    /// # Errors
    /// As [`Workbench::lay_out`].
    pub fn lay_out_heeding(&mut self, policy: BreaksPolicy) -> Result<Layout, Faults> {
        let texts = self.read_files()?;
        self.lay_out_book(&texts, policy)
    }

    /// The texts of the book.
    ///
    /// # Errors
    /// A plan that is missing or cannot be read, files that are missing or no UTF-8 text.
    pub fn read_files(&mut self) -> Result<BookTexts, Faults> {
        let plan_source = Source::new(PLAN_FILE, self.assets.text(PLAN_FILE)?);
        let plan = self.plan(&plan_source)?;
        let name = &plan.manuscript;
        let text = self
            .assets
            .text(name)
            .map_err(|fault| match &plan.manuscript_place {
                Some(place) => fault.at(place.clone()),
                None => fault,
            })?;
        Ok(BookTexts {
            plan: plan_source,
            manuscript: Source::new(name.as_str(), text),
            breaks: self.read_breaks_file()?,
        })
    }

    /// Lays out a book whose plan and manuscript are these texts.
    ///
    /// # Errors
    /// Everything that is wrong with the plan, or else with the manuscript, or else with both together; a
    /// part that does not fit its panels, with what would.
    pub fn lay_out_texts(
        &mut self,
        plan_source: &Arc<Source>,
        manuscript_source: &Arc<Source>,
    ) -> Result<Layout, Faults> {
        let texts = BookTexts {
            plan: Arc::clone(plan_source),
            manuscript: Arc::clone(manuscript_source),
            breaks: None,
        };
        self.lay_out_book(&texts, BreaksPolicy::All)
    }

    /// Lays out a book of these texts.
    ///
    /// # Errors
    /// As [`Workbench::lay_out_texts`]; everything wrong with the breaks, and lines of panels that are passed for press
    /// that could not stay as they are printed.
    pub fn lay_out_book(
        &mut self,
        texts: &BookTexts,
        policy: BreaksPolicy,
    ) -> Result<Layout, Faults> {
        let prepared = self.prepare_book(texts, policy)?;
        let division = self.divide_all(&prepared, &texts.plan)?;
        self.compose(&prepared, &division)
    }

    /// Divides a book whose plan and manuscript are these texts; nothing is laid out.
    ///
    /// # Errors
    /// As [`Workbench::lay_out_texts`].
    pub fn divide_texts(
        &mut self,
        plan_source: &Arc<Source>,
        manuscript_source: &Arc<Source>,
    ) -> Result<Division, Faults> {
        let prepared = self.prepare_texts(plan_source, manuscript_source)?;
        self.divide_all(&prepared, plan_source)
    }

    /// Divides a book of these texts; nothing is laid out.
    ///
    /// # Errors
    /// As [`Workbench::lay_out_book`].
    pub fn divide_book(
        &mut self,
        texts: &BookTexts,
        policy: BreaksPolicy,
    ) -> Result<Division, Faults> {
        let prepared = self.prepare_book(texts, policy)?;
        self.divide_all(&prepared, &texts.plan)
    }

    /// Reads plan and manuscript, sets the lines and poses the problems.
    ///
    /// # Errors
    /// As [`Workbench::lay_out`], but for parts that do not fit.
    pub fn prepare(&mut self) -> Result<PreparedBook, Faults> {
        let texts = self.read_files()?;
        self.prepare_book(&texts, BreaksPolicy::All)
    }

    /// Sets the lines and poses the problems of a book of these texts, and asks of them what is kept.
    ///
    /// # Errors
    /// As [`Workbench::prepare`].
    pub fn prepare_book(
        &mut self,
        texts: &BookTexts,
        policy: BreaksPolicy,
    ) -> Result<PreparedBook, Faults> {
        let mut prepared = self.prepare_texts(&texts.plan, &texts.manuscript)?;
        self.heed(&mut prepared, texts.breaks.as_ref(), policy)?;
        Ok(prepared)
    }

    /// Sets the lines and poses the problems of a book whose plan and manuscript are these texts.
    ///
    /// # Errors
    /// As [`Workbench::prepare`].
    pub fn prepare_texts(
        &mut self,
        plan_source: &Arc<Source>,
        manuscript_source: &Arc<Source>,
    ) -> Result<PreparedBook, Faults> {
        let plan = self.plan(plan_source)?;
        let manuscript = self.manuscript(manuscript_source, &plan)?;
        let strip = Strip::new(plan.paper);
        let labels = self.labels_faults(&plan, &manuscript);
        let set = match self.set(&manuscript, &plan, &strip) {
            Ok(set) if labels.is_empty() => set,
            Ok(_) => return Err(labels),
            Err(faults) => return Err(labels.into_iter().chain(faults).collect()),
        };
        PreparedBook::new(manuscript, plan, strip, set)
    }

    /// The layout of a division.
    fn compose(&mut self, prepared: &PreparedBook, division: &Division) -> Result<Layout, Faults> {
        let typeface = self.fonts.typeface(&prepared.plan.text)?;
        self.laid.heed(&prepared.plan);
        let ready = layout::ComposeInput {
            manuscript: &prepared.manuscript,
            plan: &prepared.plan,
            strip: &prepared.strip,
            set: &prepared.set,
            problems: &prepared.problems,
            division,
            breaks: prepared.keeps.as_ref().map(|keeps| &keeps.breaks),
            lost: prepared
                .keeps
                .as_ref()
                .map_or(&[], |keeps| &keeps.outcome.lost),
            typeface: &typeface,
        };
        let layout = layout::compose_again(ready, &mut self.laid)?;
        self.title_faults(&prepared.plan, &layout, &typeface)?;
        let proved = layout::verify_again(&prepared.manuscript, &layout, &self.laid);
        proved.map_err(|broken| broken_promise(&broken))?;
        self.laid.is_proved(&layout);
        Ok(layout)
    }

    /// The plan, checked.
    ///
    /// # Errors
    /// Everything that is wrong with it.
    pub fn plan(&mut self, source: &Arc<Source>) -> Result<Arc<Plan>, Faults> {
        if let Some(plan) = known(&self.plan, source) {
            return Ok(plan);
        }
        let plan = Arc::new(plan_file::check::read(source)?);
        self.plan = Some(Cached {
            from: Arc::clone(source),
            product: Arc::clone(&plan),
        });
        Ok(plan)
    }

    fn manuscript(&mut self, source: &Arc<Source>, plan: &Plan) -> Result<Arc<Manuscript>, Faults> {
        let parts = plan.parts.iter();
        let parts = parts.map(|part| (part.name.clone(), has_readings(&part.language)));
        let others = has_readings(&plan.language);
        let from = (Arc::clone(source), plan.set_as, others, parts.collect());
        if let Some(manuscript) = known(&self.manuscript, &from) {
            return Ok(manuscript);
        }
        let manuscript = Arc::new(read_manuscript(source, plan)?);
        self.manuscript = Some(Cached {
            from,
            product: Arc::clone(&manuscript),
        });
        Ok(manuscript)
    }

    fn set(
        &mut self,
        manuscript: &Arc<Manuscript>,
        plan: &Arc<Plan>,
        strip: &Strip,
    ) -> Result<Arc<SetLines>, Faults> {
        let from = LinesFrom {
            manuscript: Arc::clone(manuscript),
            plan: Arc::clone(plan),
            masks: self.masks(plan),
        };
        let set = match known(&self.set, &from) {
            Some(set) => set,
            None => {
                let (fonts, remembered) = (&self.fonts, &mut self.remembered);
                Arc::new(setting::set_again(
                    manuscript, plan, strip, fonts, remembered,
                )?)
            }
        };
        self.set = Some(Cached {
            from,
            product: Arc::clone(&set),
        });
        Ok(set)
    }

    /// The bytes of every mask that the plan names; nothing for one that cannot be read.
    fn masks(&self, plan: &Plan) -> Vec<Option<Vec<u8>>> {
        let pins = plan.panels.iter().map(|pin| &pin.shape);
        let shapes = pins.chain(plan.pictures.iter().map(|picture| &picture.shape));
        let files = shapes.flatten().filter_map(|shape| match shape {
            AreaRequest::Mask { file, .. } => Some(file),
            AreaRequest::Boxes(_) => None,
        });
        files.map(|file| self.assets.bytes(file).ok()).collect()
    }
}
