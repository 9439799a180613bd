//! Making sure that the new manuscript can be read: what cannot stand in it is taken out, and the author is told.

use std::sync::Arc;

use super::compose::{ComposedLine, Composer};
use super::places::CalloutFate;
use super::view::ClientView;
use super::{CalloutNotice, ReadAs};
use crate::names::{Fault, Faults, Source};
use crate::text::Manuscript;

/// A new manuscript that was read.
pub(super) struct ComposedManuscript {
    pub text: String,
    pub lost: Vec<String>,
    /// The new manuscript as the client sees it.
    pub read: ClientView,
    composed: Vec<ComposedLine>,
    /// Callouts that had to be taken out.
    dropped: Vec<usize>,
}

/// Puts the new manuscript together and reads it.
///
/// # Errors
/// What still stands in the way of reading it. A fault of the word `lost`, where its words are not the client's: that is a
/// fault of the program.
pub(super) fn mend(
    composer: &Composer<'_>,
    read_as: ReadAs<'_>,
) -> Result<ComposedManuscript, Faults> {
    let (mut composed, mut lost) = composer.compose();
    let mut dropped = Vec::new();
    loop {
        let (text, starts) = text_of(composer, &composed);
        let source = Source::new(composer.old.source.name.as_str(), text);
        let faults = match Manuscript::read_as(&source, read_as.set_as, read_as.has_readings) {
            Ok(_) => {
                let read = checked(composer, &source, read_as)?;
                return Ok(ComposedManuscript {
                    read,
                    text: source.text.clone(),
                    lost,
                    composed,
                    dropped,
                });
            }
            Err(faults) => faults,
        };
        let at = |fault: &Fault| {
            let place = fault.place.as_ref()?.span.start;
            Some(
                starts
                    .partition_point(|start| *start <= place)
                    .saturating_sub(1),
            )
        };
        let found = faults.iter().find_map(|fault| {
            let at = at(fault)?;
            let out = &composed[at];
            (out.call.is_some() || out.without_sign.is_some()).then_some(at)
        });
        match found {
            Some(at) => match composed[at].call {
                Some(call) => {
                    dropped.push(call);
                    composed.remove(at);
                }
                None => {
                    if let Some(plain) = composed[at].without_sign.take() {
                        lost.push(format!("`>>` before: {plain}"));
                        composed[at].text = plain;
                    }
                }
            },
            None => return Err(faults),
        }
    }
}

/// The whole text, and where each line begins.
fn text_of(composer: &Composer<'_>, composed: &[ComposedLine]) -> (String, Vec<usize>) {
    let old = &composer.old.source.text;
    let line_ends = composer.old.lines.iter().map(|line| &old[line.end.clone()]);
    let usual = line_ends
        .clone()
        .find(|end| !end.is_empty())
        .unwrap_or("\n");
    let last_end = line_ends.clone().next_back().unwrap_or_default();
    let mut text = String::with_capacity(old.len() + 256);
    if old.starts_with('\u{feff}') {
        text.push('\u{feff}');
    }
    let mut starts = Vec::with_capacity(composed.len());
    for (number, out) in composed.iter().enumerate() {
        starts.push(text.len());
        text.push_str(&out.text);
        let own = out.end.as_deref().filter(|end| !end.is_empty());
        let is_last = number + 1 == composed.len();
        text.push_str(match is_last && last_end.is_empty() {
            true => "",
            false => own.unwrap_or(usual),
        });
    }
    (text, starts)
}

/// Proves that the new manuscript has the client's words, line for line, and gives it as the client sees it.
///
/// # Errors
/// A fault of the word `lost` where they differ.
fn checked(
    composer: &Composer<'_>,
    made: &Arc<Source>,
    read_as: ReadAs<'_>,
) -> Result<ClientView, Faults> {
    let read =
        ClientView::manuscript(made, read_as.set_as, read_as.has_readings, composer.literal)?;
    let wanted = composer.new;
    let same = read.words.len() == wanted.words.len()
        && read.units.len() == wanted.units.len()
        && read
            .units
            .iter()
            .zip(&wanted.units)
            .enumerate()
            .all(|(at, (one, other))| {
                let indents = one.half_ems.zip(other.half_ems);
                let parted = |view: &ClientView| at > 0 && view.blanks(at).0 > 0;
                one.key == other.key
                    && one.prose == other.prose
                    && indents.is_none_or(|(one, other)| one == other)
                    && parted(&read) == parted(wanted)
            });
    match same {
        true => Ok(read),
        false => {
            let what = "the client's words would not stand in the manuscript as they are";
            let fault = Fault::new("lost", what).help(
                "this is a fault of the program, not of your book; nothing was written. \
                 Please report it with the manuscript and the client's file",
            );
            Err(fault.into())
        }
    }
}

impl ComposedManuscript {
    /// The callouts that need a look.
    pub(super) fn callouts(&self, composer: &Composer<'_>) -> Vec<CalloutNotice> {
        let old = composer.old;
        let mut notices = Vec::new();
        for (number, call) in old.calls.iter().enumerate() {
            let fate = &composer.placed[number].fate;
            let lost = matches!(fate, CalloutFate::BrokenPromise) || self.dropped.contains(&number);
            if !lost && matches!(fate, CalloutFate::Kept | CalloutFate::There) {
                continue;
            }
            let callout = old.raw(call.line).trim().to_string();
            let at = self
                .composed
                .iter()
                .position(|out| out.call == Some(number));
            let what = match (at, composer.marked) {
                (None, _) => format!(
                    "{callout} could not be carried over: {}",
                    self.why(composer, number)
                ),
                (Some(at), true) => {
                    format!(
                        "{callout} was missing from the client's file: it now stands {}",
                        self.beside(at)
                    )
                }
                (Some(at), false) => {
                    format!(
                        "{callout} stood {}: it now stands {}",
                        stood(composer, number),
                        self.beside(at)
                    )
                }
            };
            notices.push(CalloutNotice {
                callout,
                was: call.line + 1,
                line: at.map(|at| at + 1),
                what,
            });
        }
        notices
    }

    /// Why a callout could not be carried over, in words.
    fn why(&self, composer: &Composer<'_>, number: usize) -> String {
        let gone = matches!(composer.placed[number].fate, CalloutFate::BrokenPromise);
        match gone {
            true => "its words are gone".to_string(),
            false => format!(
                "it has no meaning where its words are now; it stood {}",
                stood(composer, number)
            ),
        }
    }

    /// Where a callout stands, in words: "after line 12".
    fn beside(&self, at: usize) -> String {
        let is_words = |out: &ComposedLine| out.unit.is_some() && out.call.is_none();
        match self.composed[..at].iter().rposition(is_words) {
            Some(line) => format!("after line {}", line + 1),
            None => "at the head".to_string(),
        }
    }
}

/// Where a callout stood, in words: "after a line that is gone".
fn stood(composer: &Composer<'_>, number: usize) -> String {
    let (old, matched) = (composer.old, composer.matched);
    let at = old.calls[number].at;
    let after = matches!(composer.placed[number].side, super::AnchorSide::Before);
    let word = if after { at.saturating_sub(1) } else { at };
    let unit = old.unit_of(word).min(old.units.len().saturating_sub(1));
    // Where some line of the stanza is left, only the line is gone.
    let from = (0..=unit)
        .rev()
        .find(|&unit| old.blanks(unit).0 > 0)
        .unwrap_or(0);
    let to = (unit + 1..old.units.len()).find(|&unit| old.blanks(unit).0 > 0);
    let stanza = from..to.unwrap_or(old.units.len());
    let left = stanza.clone().any(|unit| matched.new_of[unit].is_some());
    let what = match (old.units.get(unit).is_some_and(|unit| unit.prose), left) {
        (true, _) => "a paragraph",
        (false, true) => "a line",
        (false, false) if stanza.len() == 1 => "a line",
        (false, false) => "a stanza",
    };
    let gone = old
        .units
        .get(unit)
        .is_some_and(|_| matched.new_of[unit].is_none());
    let gone = if gone {
        "that is gone"
    } else {
        "whose words are others now"
    };
    format!("{} {what} {gone}", if after { "after" } else { "before" })
}
