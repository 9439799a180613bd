//! Giving pictures without a name one: callouts in the manuscript, each where the words before its panel end, and the
//! division kept as it is.

use std::collections::HashSet;
use std::ops::Range;
use std::sync::Arc;

use super::{BookTexts, BreaksPolicy, BreaksUpdate, Workbench};
use crate::layout::breaks::{self, BREAKS_FILE};
use crate::layout::{LaidPanel, Layout, UnnamedPicture};
use crate::names::{Fault, Faults, PanelName, Source};
use crate::plan::Plan;
use crate::text::Manuscript;

/// A book whose pictures all have a name, as it is to be written.
#[non_exhaustive]
pub struct NamedPictures {
    /// The manuscript with a callout for each picture that had no name.
    pub manuscript: Arc<Source>,
    /// The names that were given, each with its panel, in order.
    pub names: Vec<(PanelName, String)>,
    /// The book with its breaks.
    pub update: BreaksUpdate,
}

impl Workbench {
    /// Names the pictures of a book that have no name yet, and keeps what stands on each panel. Nothing is written.
    ///
    /// # Errors
    /// As [`Workbench::take_book`]. A fault of the word `no-picture`, where every picture has a name; one of the word
    /// `cannot-name`, where callouts in the manuscript would change what stands on the panels.
    pub fn name_pictures(
        &mut self,
        texts: &BookTexts,
        policy: BreaksPolicy,
    ) -> Result<NamedPictures, Faults> {
        let plan = self.plan(&texts.plan)?;
        let prepared = self.prepare_book(texts, policy)?;
        let manuscript = Arc::clone(&prepared.manuscript);
        let before = self.take_book(texts, policy, true, &[])?;
        let unnamed = before.layout.unnamed_pictures();
        if unnamed.is_empty() {
            let what = "every picture of the book has a name";
            let help = "`pictures` in [rules] keeps panels for pictures that no callout names yet";
            return Err(Fault::new("no-picture", what).help(help).into());
        }
        let names: Vec<String> = free_names(&manuscript, &plan).take(unnamed.len()).collect();
        let named: Vec<(PanelName, String)> = (unnamed.iter().map(|picture| picture.panel))
            .zip(names)
            .collect();
        let kept = with_names(&before, &named)?;
        let mut fault = None;
        // Words may be parted only where that changes nothing; else a callout stands below the whole line.
        for part_lines in [true, false] {
            let calls = Calls {
                source: &texts.manuscript,
                manuscript: &manuscript,
                layout: &before.layout,
                part_lines,
            };
            let revised = BookTexts {
                manuscript: calls.written(&unnamed, &named),
                breaks: Some(Arc::clone(&kept)),
                ..texts.clone()
            };
            match self.take_book(&revised, BreaksPolicy::All, true, &[]) {
                Ok(update) if is_same(&before.layout, &update.layout, &named) => {
                    return Ok(NamedPictures {
                        manuscript: revised.manuscript,
                        names: named,
                        update: BreaksUpdate {
                            before: texts.breaks.clone(),
                            ..update
                        },
                    });
                }
                Ok(_) => {}
                Err(faults) => fault = Some(faults),
            }
        }
        let what = "callouts for these pictures would change what stands on the panels";
        let help = "nothing was written; keep the panels with `flow --keep`, and write the callouts yourself";
        Err(fault.unwrap_or_else(|| Fault::new("cannot-name", what).help(help).into()))
    }
}

/// `picture-1` and so on, those left out that the book has already.
fn free_names<'a>(manuscript: &'a Manuscript, plan: &'a Plan) -> impl Iterator<Item = String> + 'a {
    let parts = manuscript.parts().iter();
    let called = parts.flat_map(|part| part.pictures.iter().map(|call| call.name.as_str()));
    let planned = plan.pictures.iter().map(|picture| picture.name.as_str());
    let pinned = plan.panels.iter().filter_map(|pin| pin.picture.as_deref());
    let known: HashSet<&str> = called.chain(planned).chain(pinned).collect();
    let names = (1..).map(|number| format!("picture-{number}"));
    names.filter(move |name| !known.contains(name.as_str()))
}

/// What stands on each panel, with the names of pictures that had none.
fn with_names(update: &BreaksUpdate, named: &[(PanelName, String)]) -> Result<Arc<Source>, Faults> {
    let mut kept = breaks::read(&Source::new(BREAKS_FILE, update.text.as_str()))?;
    for (panel, name) in named {
        for kept in kept.panels.iter_mut().filter(|kept| kept.panel == *panel) {
            kept.picture = Some(name.clone());
        }
    }
    Ok(Source::new(BREAKS_FILE, breaks::write(&kept)))
}

/// Whether two layouts have the same words in the same places, and pictures on the same panels, by these names.
fn is_same(before: &Layout, after: &Layout, named: &[(PanelName, String)]) -> bool {
    let lines = |panel: &LaidPanel| -> Vec<_> {
        let lines = panel.lines.iter();
        lines
            .map(|line| (line.text.clone(), line.x, line.baseline))
            .collect()
    };
    let same = |(one, other): (&LaidPanel, &LaidPanel)| {
        let name = named.iter().find(|(panel, _)| *panel == one.panel);
        let picture = name.map(|(_, name)| name).or(one.picture.as_ref());
        one.role == other.role && picture == other.picture.as_ref() && lines(one) == lines(other)
    };
    before.panels.len() == after.panels.len() && before.panels.iter().zip(&after.panels).all(same)
}

/// Writes callouts into a manuscript.
struct Calls<'a> {
    source: &'a Arc<Source>,
    manuscript: &'a Manuscript,
    layout: &'a Layout,
    /// Whether a line of the manuscript may be parted at a space.
    part_lines: bool,
}

impl Calls<'_> {
    /// The manuscript with the callouts of these pictures.
    fn written(
        &self,
        unnamed: &[UnnamedPicture<'_>],
        named: &[(PanelName, String)],
    ) -> Arc<Source> {
        let text = &self.source.text;
        let line_end = if text.contains("\r\n") { "\r\n" } else { "\n" };
        let mut written = String::with_capacity(text.len() + 32 * named.len());
        let mut from = 0;
        for (picture, (_, name)) in unnamed.iter().zip(named) {
            let gap = self.gap(picture);
            // Callouts stand in the order of their panels, in the text too.
            let gap = gap.start.max(from)..gap.end.max(from);
            written.push_str(&text[from..gap.start]);
            if !(written.is_empty() || written.ends_with('\n')) {
                written.push_str(line_end);
            }
            written.push_str(&format!("[picture: {name}]{line_end}"));
            from = gap.end;
        }
        written.push_str(&text[from..]);
        Source::new(self.source.name.as_str(), written)
    }

    /// Where a picture's callout stands: a place, or white space within a line whose place it takes.
    fn gap(&self, picture: &UnnamedPicture<'_>) -> Range<usize> {
        let text = &self.source.text;
        let first = |line: &crate::layout::LaidLine| line.sources.first().map(|bytes| bytes.0);
        let last = |line: &crate::layout::LaidLine| line.sources.last().map(|bytes| bytes.1);
        let below = picture.below.and_then(first);
        let gap = match picture.above.and_then(last) {
            Some(end) => {
                let spaces = below.filter(|below| self.part_lines && *below > end);
                let spaces = spaces.filter(|below| text[end..*below].chars().all(is_space));
                spaces.map_or_else(
                    || {
                        let behind = line_behind(text, end);
                        behind..behind
                    },
                    |below| end..below,
                )
            }
            None => {
                let head = below.map_or(text.len(), |below| line_begins(text, below));
                head..head
            }
        };
        let (least, most) = self.between_callouts(picture.panel);
        match (gap.start < least, gap.end > most) {
            (true, _) => least..least,
            (false, true) => most..most,
            (false, false) => gap,
        }
    }

    /// Behind the callout of the last picture that stands before a panel, and before that of the first that stands behind
    /// it: pictures come in the order of their callouts.
    fn between_callouts(&self, panel: PanelName) -> (usize, usize) {
        let text = &self.source.text;
        let (mut least, mut most) = (0, text.len());
        let Some(part) = self
            .layout
            .parts
            .iter()
            .find(|part| part.on.contains(&panel))
        else {
            return (least, most);
        };
        let at = |name: PanelName| part.on.iter().position(|on| *on == name);
        let calls = self.manuscript.parts().iter();
        for call in calls.flat_map(|part| &part.pictures) {
            let mut panels = self.layout.panels.iter();
            let stands = panels.find(|laid| laid.picture.as_ref() == Some(&call.name));
            let Some(stands) = stands.and_then(|laid| at(laid.panel)) else {
                continue;
            };
            if Some(stands) < at(panel) {
                least = least.max(line_behind(text, call.place.span.end));
            } else {
                most = most.min(line_begins(text, call.place.span.start));
            }
        }
        (least, most)
    }
}

fn is_space(c: char) -> bool {
    c == ' ' || c == '\t'
}

/// Where the line behind that of a place begins.
fn line_behind(text: &str, at: usize) -> usize {
    text[at..].find('\n').map_or(text.len(), |end| at + end + 1)
}

/// Where the line of a place begins.
fn line_begins(text: &str, at: usize) -> usize {
    text[..at].rfind('\n').map_or(0, |end| end + 1)
}
