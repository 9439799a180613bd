//! What has changed since earlier layers: read before a command writes, told when it is done.

mod words;

use std::path::{Path, PathBuf};

use super::{Done, speak};
use crate::book::compare::{Changes, Difference, PanelChange, Record, compare};
use crate::cli::files::{self, Listed};
use crate::json::{Figure, records};
use crate::layout::breaks::WayName;
use crate::names::{Fault, Faults};
use words::Most;

/// The record of a layout below an output folder.
const RECORD: &str = "layout.json";

/// What the new layout is compared with.
pub(super) enum Earlier {
    /// Nothing: no layers were made.
    Nothing,
    /// Nothing, for what is there is not as it was left.
    Otherwise(PathBuf),
    /// Nothing, for what is there is no record that this version reads: why not, in a clause.
    Unread(PathBuf, String),
    /// The layers in the output folder.
    Last(Record),
    /// A file that she names.
    Named(Record, PathBuf),
    /// A way that she keeps by name.
    Way(Record, WayName),
}

impl Earlier {
    /// What to compare with: the file that is named, or else the last layers in `folder`.
    ///
    /// # Errors
    /// A named file that is missing or no layout.
    pub(super) fn read(folder: &Path, named: Option<&Path>) -> Result<Earlier, Faults> {
        if let Some(path) = named {
            return match read_named(path) {
                Ok(record) => Ok(Earlier::Named(record, path.to_path_buf())),
                Err(fault) => Err(fault.into()),
            };
        }
        Ok(match files::read_listed(folder, RECORD) {
            Listed::Never => Earlier::Nothing,
            Listed::Otherwise => Earlier::Otherwise(folder.join(RECORD)),
            Listed::AsWritten(bytes) => {
                let path = folder.join(RECORD);
                match String::from_utf8(bytes) {
                    Err(_) => Earlier::Otherwise(path),
                    Ok(text) => match Record::read(&text) {
                        Ok(record) => Earlier::Last(record),
                        Err(error) => Earlier::Unread(path, error.what),
                    },
                }
            }
        })
    }

    /// The edition of what held unless said when the last layers were written.
    pub(super) fn edition(&self) -> Option<u64> {
        match self {
            Earlier::Last(record) => Some(record.defaults),
            _ => None,
        }
    }

    /// Holds the new layout against it. `rewritten` are files that have other bytes than those the last run wrote;
    /// nothing where none are written.
    pub(super) fn since(
        self,
        new: impl FnOnce() -> Record,
        rewritten: Option<Vec<String>>,
    ) -> Since {
        let changes = match &self {
            Earlier::Nothing | Earlier::Otherwise(_) | Earlier::Unread(..) => None,
            Earlier::Last(old) | Earlier::Named(old, _) | Earlier::Way(old, _) => {
                Some(compare(old, &new()))
            }
        };
        let ahead = rewritten.is_none();
        // It is not known what layers were beside a file that she names.
        let last = matches!(self, Earlier::Last(_));
        let kept = changes.as_ref().filter(|_| last);
        let kept = kept.map_or(Vec::new(), |changes| all_below(&changes.layers.keep));
        let mut rewritten = rewritten.unwrap_or_default();
        rewritten.retain(|name| kept.contains(name));
        Since {
            earlier: self,
            changes,
            ahead,
            rewritten,
        }
    }

    /// Why it cannot be told what has changed, where that is not plain.
    fn why_not(&self) -> Option<String> {
        match self {
            Earlier::Otherwise(path) => Some(format!(
                "{} is not as the last run left it: what has changed since cannot be told.",
                path.display()
            )),
            Earlier::Unread(path, why) => Some(format!(
                "{} cannot be compared with: {why}.",
                path.display()
            )),
            _ => None,
        }
    }

    fn name(&self) -> String {
        match self {
            Earlier::Named(_, path) => path.display().to_string(),
            Earlier::Way(_, way) => format!("the way kept as {way}"),
            _ => "the last layers".to_string(),
        }
    }

    /// How much is told: all that is readable where she asks for it.
    fn most(&self) -> Most {
        match self {
            Earlier::Named(..) | Earlier::Way(..) => Most {
                panels: 30,
                moves: 12,
                differences: 4,
            },
            _ => Most {
                panels: 8,
                moves: 6,
                differences: 1,
            },
        }
    }
}

/// What two steps came to, with the faults of both.
pub(super) fn both<A, B>(
    one: Result<A, Faults>,
    other: Result<B, Faults>,
) -> Result<(A, B), Faults> {
    match (one, other) {
        (Ok(one), Ok(other)) => Ok((one, other)),
        (Err(faults), Ok(_)) | (Ok(_), Err(faults)) => Err(faults),
        (Err(mut faults), Err(more)) => {
            faults.extend(more);
            Err(faults)
        }
    }
}

fn read_named(path: &Path) -> Result<Record, Fault> {
    let name = path.display().to_string();
    let right = "a `layout.json` that `versefold layers` wrote, or a copy of one";
    let text = files::read_text(path, &name).map_err(|fault| match fault.allowed {
        Some(_) => fault,
        None => fault.allowed(right),
    })?;
    Record::read(&text).map_err(|error| {
        let what = format!("`{name}` is no layout to compare with: {}", error.what);
        Fault::new("no-layout", what).allowed(right)
    })
}

/// What has changed since earlier layers.
pub(super) struct Since {
    earlier: Earlier,
    /// Nothing where nothing is compared.
    changes: Option<Changes>,
    /// Whether nothing is written yet.
    ahead: bool,
    /// Layers that show what they showed and yet have other bytes.
    rewritten: Vec<String>,
}

impl Since {
    /// Tells people.
    pub(super) fn tell(&self) -> Done {
        if let Some(changes) = &self.changes {
            let (name, most) = (self.earlier.name(), self.earlier.most());
            let rewritten = self.rewritten.len();
            let words = words::told(changes, &name, &most, self.ahead, rewritten);
            speak::result(&format!("\n{words}"))?;
            if changes.lines_alone {
                speak::message(&format!(
                    "An older version of the program wrote {name}: only pages and lines were compared. Another ink or \
                     bleed would not be seen."
                ));
            }
        } else if let Some(why) = self.earlier.why_not() {
            speak::message(&why);
        }
        Ok(())
    }

    /// Tells programs.
    pub(super) fn record(&self) -> SinceRecord {
        let changes = self.changes.as_ref();
        SinceRecord {
            not_compared: self.earlier.why_not(),
            changed: changes.map(|changes| self.changed(changes)),
        }
    }

    fn changed(&self, changes: &Changes) -> ChangedRecord {
        let moved = changes.moved.iter().map(|moved| MovedRecord {
            from: moved.from.to_string(),
            to: moved.to.to_string(),
            lines: moved.lines,
            words: moved.words,
        });
        ChangedRecord {
            since: self.earlier.name(),
            lines_alone: changes.lines_alone,
            panels: changes.panels.iter().map(panel_record).collect(),
            moved: moved.collect(),
            other_form: changes.other_form,
            replace: all_below(&changes.layers.replace),
            replace_passed: all_below(&changes.layers.replace[..changes.layers.passed]),
            place: all_below(&changes.layers.place),
            take_out: all_below(&changes.layers.take_out),
            keep: all_below(&changes.layers.keep),
            keep_though_written: self.rewritten.clone(),
        }
    }
}

fn panel_record(panel: &PanelChange) -> PanelChangeRecord {
    let difference = |one: &Difference| DifferenceRecord {
        before: one.before.clone(),
        was: one.old.clone(),
        now: one.new.clone(),
        after: one.after.clone(),
    };
    PanelChangeRecord {
        panel: panel.panel.to_string(),
        what: panel.what.word(),
        shift_mm: panel.shift.map(Figure::mm),
        differences: panel.differences.iter().map(difference).collect(),
    }
}

records! {
    /// What has changed since earlier layers.
    pub(in crate::cli) struct SinceRecord {
        /// Why nothing is compared, where that is not plain.
        not_compared: Option<String>,
        /// What has changed. Null where nothing is compared.
        changed: Option<ChangedRecord>,
    }

    /// What has changed between two layouts; names of layers are those below the output folder.
    pub(in crate::cli) struct ChangedRecord {
        /// What is compared with: a file, or the last layers.
        since: String,
        /// Whether an older version of the program wrote that, so that only pages and lines were compared: another ink
        /// or bleed would not be seen.
        lines_alone: bool,
        /// Every panel whose layer looks or reads otherwise.
        panels: Vec<PanelChangeRecord>,
        /// Words that stand elsewhere without being changed.
        moved: Vec<MovedRecord>,
        /// Whether the layers hold their words in another form, as outlines or as text.
        other_form: bool,
        /// Layers that show something else than before, those of panels that are passed for press first.
        replace: Vec<String>,
        /// Those of them whose panel is, or was, passed for press.
        replace_passed: Vec<String>,
        /// Layers that were not there before.
        place: Vec<String>,
        /// Layers that are no longer there.
        take_out: Vec<String>,
        /// Layers that show what they showed.
        keep: Vec<String>,
        /// Those of them that were written anew all the same: they say something else of themselves, such as a title.
        keep_though_written: Vec<String>,
    }

    /// What has changed on a panel.
    pub(in crate::cli) struct PanelChangeRecord {
        /// The panel.
        panel: String,
        /// The first of these that has: its `words`, their `places`, or their `look`.
        what: &'static str,
        /// How far a line moved at most, where all that changed is where lines stand.
        shift_mm: Option<Figure>,
        /// The words that were changed, put in or taken out.
        differences: Vec<DifferenceRecord>,
    }

    /// Words that are others now.
    pub(in crate::cli) struct DifferenceRecord {
        /// A few words before them.
        before: String,
        /// What stood there; empty for words that were put in.
        was: String,
        /// What stands there; empty for words that were taken out.
        now: String,
        /// A few words after them.
        after: String,
    }

    /// Words that stand elsewhere.
    pub(in crate::cli) struct MovedRecord {
        /// The panel where they stood.
        from: String,
        /// The panel where they stand.
        to: String,
        /// How many lines begin with them.
        lines: usize,
        /// How many words they are.
        words: usize,
    }
}

/// Layers' names below the output folder.
fn all_below(names: &[String]) -> Vec<String> {
    names.iter().map(|name| format!("layers/{name}")).collect()
}
