//! What has changed since earlier layers: read before a command writes, told when it is done.

mod words;

use std::path::{Path, PathBuf};

use serde_json::{Value, json};

use super::{Done, speak};
use crate::book::compare::{Changes, Difference, Record, compare};
use crate::cli::files::{self, Listed};
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
    /// The layers in the output folder.
    Last(Record),
    /// A file that she names.
    Named(Record, PathBuf),
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
                let text = String::from_utf8(bytes).ok();
                let record = text.and_then(|text| Record::read(&text).ok());
                record.map_or(Earlier::Otherwise(folder.join(RECORD)), Earlier::Last)
            }
        })
    }

    /// Holds the new layout against it. `rewritten` are files that have other bytes than those the last run wrote;
    /// nothing where none are written.
    pub(super) fn since(
        self,
        new: impl FnOnce() -> Record,
        rewritten: Option<Vec<String>>,
    ) -> Since {
        let changes = match &self {
            Earlier::Nothing | Earlier::Otherwise(_) => None,
            Earlier::Last(old) | Earlier::Named(old, _) => Some(compare(old, &new())),
        };
        let ahead = rewritten.is_none();
        // Of a file that she names it is not known what layers were beside it.
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
            _ => None,
        }
    }

    fn name(&self) -> String {
        match self {
            Earlier::Named(_, path) => path.display().to_string(),
            _ => "the last layers".to_string(),
        }
    }

    /// How much is told: all that is readable where she asks for it.
    fn most(&self) -> Most {
        match self {
            Earlier::Named(..) => Most {
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
        } else if let Some(why) = self.earlier.why_not() {
            speak::message(&why);
        }
        Ok(())
    }

    /// Tells programs, as `changed` of a value: null where nothing is compared; `not_compared` then says why, if that
    /// is not plain.
    pub(super) fn add_to(&self, value: &mut Value) {
        if let Some(why) = self.earlier.why_not() {
            value["not_compared"] = json!(why);
        }
        let changes = self.changes.as_ref();
        value["changed"] = changes.map_or(Value::Null, |changes| self.value(changes));
    }

    fn value(&self, changes: &Changes) -> Value {
        let difference = |one: &Difference| json!({ "before": one.before, "old": one.old, "new": one.new, "after": one.after });
        let panels = changes.panels.iter().map(|panel| {
            json!({
                "panel": panel.panel.to_string(),
                "what": panel.what.word(),
                "shift_mm": panel.shift.map(|shift| (shift.as_mm() * 10_000.0).round() / 10_000.0),
                "differences": panel.differences.iter().map(difference).collect::<Vec<_>>(),
            })
        });
        let moved = changes.moved.iter().map(|moved| {
            json!({
                "from": moved.from.to_string(), "to": moved.to.to_string(),
                "lines": moved.lines, "words": moved.words,
            })
        });
        json!({
            "since": self.earlier.name(),
            "panels": panels.collect::<Vec<_>>(),
            "moved": moved.collect::<Vec<_>>(),
            "other_form": changes.other_form,
            "replace": all_below(&changes.layers.replace),
            "place": all_below(&changes.layers.place),
            "take_out": all_below(&changes.layers.take_out),
            "keep": all_below(&changes.layers.keep),
            "keep_though_written": self.rewritten,
        })
    }
}

/// Layers' names below the output folder.
fn all_below(names: &[String]) -> Vec<String> {
    names.iter().map(|name| format!("layers/{name}")).collect()
}
