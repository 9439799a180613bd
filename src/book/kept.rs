//! What the author chose and passed: asked of the division, and taken down from a layout.

use std::sync::Arc;

use super::{BookTexts, PreparedBook, Trials, Workbench};
use crate::division::Division;
use crate::layout::breaks::{self, BREAKS_FILE, Breaks, BreaksOutcome, WayName};
use crate::layout::{self, Layout};
use crate::names::{Fault, Faults, PanelName, Source};

/// Which of what is kept is asked.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum BreaksPolicy {
    /// What was chosen, and what is passed for press.
    #[default]
    All,
    /// Only what is passed for press: the rest is divided afresh.
    Passed,
}

/// What is kept of a book, and what it asks of this division.
#[derive(Clone, Debug)]
pub struct ActiveBreaks {
    /// What is kept.
    pub breaks: Breaks,
    /// What came of asking it.
    pub outcome: BreaksOutcome,
}

impl BreaksUpdate {
    /// What the file of a way that is kept by name shall hold: what is chosen, and nothing that is passed.
    ///
    /// # Errors
    /// None that a text written by the program has.
    pub fn way_text(&self, way: &WayName) -> Result<String, Faults> {
        let written = Source::new(way.file(), self.text.as_str());
        Ok(breaks::write(&breaks::read(&written)?.only_chosen()))
    }
}

/// A book with its breaks as they are to be written.
#[non_exhaustive]
pub struct BreaksUpdate {
    /// The book, laid out.
    pub layout: Layout,
    /// What the file holds now; nothing where there is none.
    pub before: Option<Arc<Source>>,
    /// What it shall hold.
    pub text: String,
}

impl Workbench {
    /// The file with the breaks, if there is one.
    ///
    /// # Errors
    /// A file that cannot be read.
    pub(super) fn read_breaks_file(&self) -> Result<Option<Arc<Source>>, Faults> {
        if !self.assets.holds(BREAKS_FILE) {
            return Ok(None);
        }
        let text = self.assets.text(BREAKS_FILE)?;
        Ok(Some(Source::new(BREAKS_FILE, text)))
    }

    /// The ways that are kept by name, in the order of their names.
    pub fn ways(&self) -> Vec<WayName> {
        let names = self.assets.names();
        names
            .iter()
            .filter_map(|name| WayName::of_file(name))
            .collect()
    }

    /// The texts of the book with a way that is kept by name in the place of the chosen one; what is passed for press
    /// stays.
    ///
    /// # Errors
    /// As [`Workbench::read_files`]; a way that is not there, or that cannot be read.
    pub fn read_files_with(&mut self, way: &WayName) -> Result<BookTexts, Faults> {
        let texts = self.read_files()?;
        if !self.assets.holds(&way.file()) {
            let known: Vec<String> = self.ways().iter().map(WayName::to_string).collect();
            let fault = Fault::new("no-way", format!("no way is kept by the name {way}"));
            return Err(match known.is_empty() {
                true => fault.help("`flow --keep --name` keeps one"),
                false => fault.allowed(known.join(", ")),
            }
            .into());
        }
        let file = way.file();
        let kept = breaks::read(&Source::new(file.as_str(), self.assets.text(&file)?))?;
        let passed = texts.breaks.as_ref().map(breaks::read).transpose()?;
        let kept = match &passed {
            Some(passed) => kept.only_chosen().beside_passed(passed),
            None => kept.only_chosen(),
        };
        Ok(BookTexts {
            breaks: Some(Source::new(file.as_str(), breaks::write(&kept))),
            ..texts
        })
    }

    /// The file that keeps a way by name, if there is one.
    ///
    /// # Errors
    /// A file that cannot be read.
    pub fn way_file(&self, way: &WayName) -> Result<Option<Arc<Source>>, Faults> {
        let file = way.file();
        if !self.assets.holds(&file) {
            return Ok(None);
        }
        Ok(Some(Source::new(file.as_str(), self.assets.text(&file)?)))
    }

    /// Asks of prepared problems what is kept.
    pub(super) fn heed(
        &self,
        prepared: &mut PreparedBook,
        source: Option<&Arc<Source>>,
        policy: BreaksPolicy,
    ) -> Result<(), Faults> {
        let Some(source) = source else { return Ok(()) };
        let kept = breaks::read(source)?;
        let kept = match policy {
            BreaksPolicy::All => kept,
            BreaksPolicy::Passed => kept.only_passed(),
        };
        prepared.keep(kept)
    }

    /// Lays the book out as it is kept, and takes it down: with `choose` every panel as chosen, and those of `pass` as
    /// passed for press.
    ///
    /// # Errors
    /// As [`Workbench::lay_out`]; panels that the strip does not have.
    pub fn take(
        &mut self,
        policy: BreaksPolicy,
        choose: bool,
        pass: &[PanelName],
    ) -> Result<BreaksUpdate, Faults> {
        let texts = self.read_files()?;
        self.take_book(&texts, policy, choose, pass)
    }

    /// Lays out a book of these texts and takes it down, as [`Workbench::take`] does.
    ///
    /// # Errors
    /// As [`Workbench::take`].
    pub fn take_book(
        &mut self,
        texts: &BookTexts,
        policy: BreaksPolicy,
        choose: bool,
        pass: &[PanelName],
    ) -> Result<BreaksUpdate, Faults> {
        let prepared = self.prepare_book(texts, policy)?;
        let gone = pass
            .iter()
            .filter(|panel| !prepared.plan.paper.panels.contains(**panel));
        let gone: Faults = gone.map(|panel| no_panel(&prepared, *panel)).collect();
        if !gone.is_empty() {
            return Err(gone);
        }
        let division = self.divide_all(&prepared, &texts.plan)?;
        let layout = self.compose(&prepared, &division)?;
        let text = taken(&prepared, &division, &layout, texts, (choose, pass))?;
        Ok(BreaksUpdate {
            layout,
            before: texts.breaks.clone(),
            text,
        })
    }

    /// What to write so that a trial is chosen.
    ///
    /// # Errors
    /// A trial that there is not; one that the plan has no room for as it is, for it is another size or number of
    /// panels.
    pub fn choose(&self, trials: &Trials, number: usize) -> Result<BreaksUpdate, Faults> {
        let found = number.checked_sub(1).and_then(|at| trials.trials.get(at));
        let Some(trial) = found else {
            let what = format!("there is no trial {number}");
            let fault = Fault::new("no-trial", what).read(number.to_string());
            return Err(fault
                .allowed(format!("1 to {}", trials.trials.len()))
                .into());
        };
        let Some((prepared, division)) = trials.prepared.as_ref().zip(trial.division.as_ref())
        else {
            let what = format!(
                "trial {number} is {}, and the plan is not",
                trial.variation.name()
            );
            let help = "write that into the plan first, and choose then";
            return Err(Fault::new("no-trial", what).help(help).into());
        };
        let layout = trial.layout.clone();
        let text = taken(prepared, division, &layout, &trials.texts, (true, &[]))?;
        Ok(BreaksUpdate {
            layout,
            before: trials.texts.breaks.clone(),
            text,
        })
    }
}

impl PreparedBook {
    /// Asks of the problems what is kept.
    ///
    /// # Errors
    /// As [`breaks::ask`].
    pub(super) fn keep(&mut self, kept: Breaks) -> Result<(), Faults> {
        if kept.chosen() || kept.passed().next().is_some() {
            let book = (&*self.plan, &self.strip, &*self.set);
            let (problems, outcome) = breaks::ask(&kept, &self.manuscript, book, &self.problems)?;
            self.problems = problems.into_iter().map(Arc::new).collect();
            self.keeps = Some(Arc::new(ActiveBreaks {
                breaks: kept,
                outcome,
            }));
        }
        Ok(())
    }
}

fn no_panel(prepared: &PreparedBook, panel: PanelName) -> Fault {
    let known: Vec<PanelName> = prepared.strip.panels().collect();
    let fault = Fault::new("wrong-panel", format!("the strip has no panel {panel}"));
    fault.allowed(format!("{} to {}", known[0], known[known.len() - 1]))
}

/// The file's text with a layout taken down.
fn taken(
    prepared: &PreparedBook,
    division: &Division,
    layout: &Layout,
    texts: &BookTexts,
    (choose, pass): (bool, &[PanelName]),
) -> Result<String, Faults> {
    let before = texts.breaks.as_ref().map(breaks::read).transpose()?;
    let taken = layout::take(
        layout::Taking {
            manuscript: &prepared.manuscript,
            set: &prepared.set,
            division,
            layout,
            before: before.as_ref(),
        },
        choose,
        pass,
    );
    Ok(breaks::write(&taken))
}
