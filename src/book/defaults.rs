//! What has moved because something else holds now where a plan does not say, since layers were written.

use std::sync::Arc;

use super::plan_file::change::{Change, changed};
use super::plan_file::older::Older;
use super::plan_file::vary::{Variation, varied};
use super::{BookTexts, BreaksPolicy, PreparedBook, Workbench};
use crate::layout::{self, Layout};
use crate::names::{Faults, PanelName};
use crate::paper::Strip;

/// What has moved by new defaults.
#[derive(Clone, Debug, PartialEq, Eq)]
#[non_exhaustive]
pub struct NewDefaults {
    /// The panels whose layers look otherwise for that alone.
    pub panels: Vec<PanelName>,
    /// What keeps all of them as they were, each as she writes it.
    pub keys: Vec<String>,
}

impl Workbench {
    /// What has moved, in a book of these texts that is laid out so, since layers of an older edition of
    /// [`DEFAULTS`](crate::plan::DEFAULTS) were written; nothing where all panels look the same.
    ///
    /// # Errors
    /// As [`Workbench::lay_out_book`].
    pub fn new_defaults(
        &mut self,
        texts: &BookTexts,
        policy: BreaksPolicy,
        layout: &Layout,
        edition: u64,
    ) -> Result<Option<NewDefaults>, Faults> {
        let prepared = self.prepare_book(texts, policy)?;
        // What she chose is as she chose it, whatever holds unless said.
        if prepared
            .keeps
            .as_ref()
            .is_some_and(|keeps| keeps.breaks.chosen())
        {
            return Ok(None);
        }
        let written = varied(&texts.plan, Variation::default()).written;
        let mut older = Older::than(edition, &written, standing_alone(&prepared));
        let now = layout::shown(layout);
        let moved = |then: &[String]| {
            let panels = layout.panels.iter().zip(now.iter().zip(then));
            let other = panels.filter(|(_, (now, then))| now != then);
            other.map(|(panel, _)| panel.panel).collect::<Vec<_>>()
        };
        // Where what held then has no way now, nothing can be said.
        let Ok(then) = self.shown_with(texts, &prepared, &older) else {
            return Ok(None);
        };
        let panels = moved(&then);
        if panels.is_empty() {
            return Ok(None);
        }
        let mut at = 0;
        while at < older.len() {
            let mut fewer = older.clone();
            fewer.remove(at);
            match self.shown_with(texts, &prepared, &fewer) {
                Ok(shown) if shown == then => older = fewer,
                _ => at += 1,
            }
        }
        Ok(Some(NewDefaults {
            panels,
            keys: older.iter().map(Older::told).collect(),
        }))
    }

    /// What each panel shows where all this holds again.
    fn shown_with(
        &mut self,
        texts: &BookTexts,
        prepared: &PreparedBook,
        older: &[Older],
    ) -> Result<Vec<String>, Faults> {
        let changes = older.iter().cloned().map(Change::Older);
        let changes: Vec<Change> = changes.collect();
        let plan = changed(&texts.plan, Variation::default(), &changes)?;
        let strip = Strip::new(plan.paper);
        let manuscript = Arc::clone(&prepared.manuscript);
        let set = crate::setting::set(&manuscript, &plan, &strip, &self.fonts)?;
        let mut then = PreparedBook::new(manuscript, Arc::new(plan), strip, Arc::new(set))?;
        if let Some(keeps) = &prepared.keeps {
            then.keep(keeps.breaks.clone())?;
        }
        let division = self.divide_all(&then, &texts.plan)?;
        Ok(layout::shown(&self.compose(&then, &division)?))
    }
}

/// The pictures of a book that leave no room to words.
fn standing_alone(prepared: &PreparedBook) -> Vec<String> {
    let pictures = prepared.problems.iter().flat_map(|part| &part.pictures);
    let placed = pictures.filter(|picture| picture.queued || picture.panel.is_some());
    let alone = placed.filter(|picture| !picture.leaves_room);
    alone.map(|picture| picture.name.clone()).collect()
}
