//! Taking in the client's corrected text: his words, with the callouts and the mark-up of the manuscript.
//!
//! Both texts are seen as the client sees them (`view`), their words are aligned (`matching`), callouts go beside the
//! words that they belonged to (`places`), and the new manuscript is put together (`compose`): the very bytes where
//! nothing changed, the client's words with the mark-up that they keep where something did (`rewrite`, `stress`,
//! `write`). What
//! comes out is read again and must have the client's words, line for line (`mend`).

mod compose;
mod leave_out;
mod lost;
mod matching;
mod mend;
mod parted;
mod places;
mod rewrite;
mod stress;
mod tell;
mod units;
mod view;
mod visible;
mod write;

pub use tell::{Change, ChangeKind, Wording};

use std::collections::BTreeSet;
use std::sync::Arc;

use super::callout::Callout;
use super::{controls, readings};
use crate::names::{Fault, Faults, SetAs, Source};
use compose::Composer;
use matching::Matching;
use places::{AnchorSide, CalloutFate, CalloutPlacer, PlacedCallout, is_structural};
use stress::StressedStretches;
use tell::Texts;
use view::{ClientView, Region};

/// A manuscript with the client's corrections.
#[derive(Clone, Debug)]
pub struct Revision {
    /// The new manuscript; the old one, byte for byte, where nothing has changed.
    pub text: String,
    /// What the client changed, as far as it is taken in.
    pub changes: Vec<Change>,
    /// What he changed and is left out, with the numbers that it has among all his changes.
    pub left_out: Vec<Change>,
    /// How many callouts stand beside the words that they stood beside.
    pub carried: usize,
    /// The callouts that need a look.
    pub callouts: Vec<CalloutNotice>,
    /// Mark-up that could not be carried over, with its words.
    pub lost: Vec<String>,
    /// How many words of the manuscript are found again in the client's text, and how many it has.
    pub found: (usize, usize),
    /// Whether the client's file has callouts of the manuscript, and was read with its mark-up for that.
    pub marked: bool,
}

/// A callout whose words are gone, or that the client's copy of the manuscript had lost.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct CalloutNotice {
    /// The callout as it is written.
    pub callout: String,
    /// The line of the old manuscript that it stood on, from 1.
    pub was: usize,
    /// The line of the new manuscript that it stands on, from 1; nothing if it could not be carried over.
    pub line: Option<usize>,
    /// What happened, in a sentence.
    pub what: String,
}

/// How a manuscript is read; see [`super::Manuscript::read_as`].
#[derive(Clone, Copy)]
pub struct ReadAs<'a> {
    /// What plain lines are before any callout says otherwise.
    pub set_as: SetAs,
    /// Whether a part has readings, by its name.
    pub has_readings: &'a dyn Fn(&str) -> bool,
}

/// Which of the client's changes are taken in, by their numbers.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Choice {
    /// All of them.
    All,
    /// These alone.
    Only(BTreeSet<usize>),
    /// All but these.
    Except(BTreeSet<usize>),
}

impl Choice {
    /// The changes that are left out, of so many.
    ///
    /// # Errors
    /// A fault of the word `no-change` where a number is none of theirs.
    fn left_out(&self, count: usize) -> Result<BTreeSet<usize>, Fault> {
        let (Choice::Only(named) | Choice::Except(named)) = self else {
            return Ok(BTreeSet::new());
        };
        let unknown = named.iter().filter(|number| !(1..=count).contains(*number));
        let unknown: Vec<String> = unknown.map(usize::to_string).collect();
        if !unknown.is_empty() {
            let what = format!(
                "there is no change {}: the client made {count}",
                unknown.join(", ")
            );
            return Err(Fault::new("no-change", what));
        }
        Ok(match self {
            Choice::Only(_) => (1..=count)
                .filter(|number| !named.contains(number))
                .collect(),
            _ => named.clone(),
        })
    }
}

/// Takes the client's text, plain or with callouts of the manuscript, into a manuscript.
///
/// # Errors
/// Everything that is wrong with the manuscript; control characters or no word in the client's text; a text that
/// cannot be read as a manuscript once its callouts stand in it; a choice of a change that is not there.
pub fn revise(
    manuscript: &Arc<Source>,
    read_as: ReadAs<'_>,
    client: &Arc<Source>,
    choice: &Choice,
) -> Result<Revision, Faults> {
    let (revision, text) = taken_in(manuscript, read_as, client, choice)?;
    let Some(text) = text else {
        return Ok(revision);
    };
    let chosen = Source::new(client.name.as_str(), text);
    let (chosen, _) = taken_in(manuscript, read_as, &chosen, &Choice::All)?;
    Ok(Revision {
        left_out: revision.left_out,
        ..chosen
    })
}

/// The client's text taken in as a whole; and what that text is without the changes that are left out, if any are.
fn taken_in(
    manuscript: &Arc<Source>,
    read_as: ReadAs<'_>,
    client: &Arc<Source>,
    choice: &Choice,
) -> Result<(Revision, Option<String>), Faults> {
    check_client(client)?;
    let reads = |line: &str| !readings::find(line, &(0..line.len())).rubies.is_empty();
    let literal = client.text.lines().any(reads);
    let old = ClientView::manuscript(manuscript, read_as.set_as, read_as.has_readings, literal)?;
    let client = &parted::joined(&old, client);
    let marked = has_callouts_of(&old, client);
    let (new, structural) = match marked {
        true => {
            let new =
                ClientView::manuscript(client, read_as.set_as, read_as.has_readings, literal)?;
            (new, None)
        }
        false => seen_plain(&old, read_as, client),
    };
    let matched = Matching::of((&old, &old.units), (&new, &new.units));
    let placed = place_callouts((&old, &new, &matched), structural, marked);
    let stretches = StressedStretches::of(&old);
    let mut last = Faults::new();
    for anew in [false, true] {
        let composer = Composer {
            old: &old,
            new: &new,
            matched: &matched,
            placed: &placed,
            marked,
            literal,
            anew,
            stretches: &stretches,
        };
        match mend::mend(&composer, read_as) {
            Ok(made) => return Ok(finish(&composer, made, choice)?),
            Err(faults) => last = faults,
        }
        if marked {
            break;
        }
    }
    Err(last)
}

/// Refuses a client's text without a word, or with control characters.
fn check_client(client: &Arc<Source>) -> Result<(), Faults> {
    if client.text.trim_start_matches('\u{feff}').trim().is_empty() {
        let what = format!("there is not a word in {}", client.name);
        return Err(Fault::new("empty", what).into());
    }
    match controls::controls(client) {
        Some(fault) => Err(fault.into()),
        None => Ok(()),
    }
}

/// Where each callout of the manuscript stands in the new one. `structural` is where parts and kinds of text begin, if
/// that had to be found before the client's text could be read.
fn place_callouts(
    (old, new, matched): (&ClientView, &ClientView, &Matching),
    structural: Option<Vec<PlacedCallout>>,
    marked: bool,
) -> Vec<PlacedCallout> {
    let table = CalloutPlacer {
        old,
        old_units: &old.units,
        new_units: &new.units,
        matched,
    };
    let mut placed = table.place_all();
    let fixed = old.calls.iter().zip(structural.into_iter().flatten());
    for (own, (call, fixed)) in placed.iter_mut().zip(fixed) {
        if is_structural(&call.says) {
            *own = fixed;
        }
    }
    if marked {
        leave_those_there(old, new, &mut placed);
    }
    snap(new, old, marked, &mut placed);
    placed
}

/// What a revision tells of the new manuscript; and the client's text without what is left out, if anything is.
fn finish(
    composer: &Composer<'_>,
    made: mend::ComposedManuscript,
    choice: &Choice,
) -> Result<(Revision, Option<String>), Fault> {
    let texts = Texts {
        old: composer.old,
        new: composer.new,
        matched: composer.matched,
    };
    let unchanged = |unit| composer.unchanged(unit);
    let corrections = tell::corrections(texts, unchanged, &made.read, composer.marked);
    let numbers = corrections.iter().flat_map(tell::Correction::numbers);
    let left_out = choice.left_out(numbers.max().unwrap_or(0))?;
    let text = (!left_out.is_empty())
        .then(|| leave_out::without(texts, &corrections, &left_out, composer.marked));
    let is_out = |change: &Change| change.only(&left_out);
    let all = corrections.into_iter().map(|own| own.change);
    let changes: Vec<Change> = all.collect();
    let callouts = made.callouts(composer);
    let revision = Revision {
        carried: texts.old.calls.len().saturating_sub(callouts.len()),
        found: (texts.matched.found(), texts.old.words.len()),
        marked: composer.marked,
        text: made.text,
        lost: made.lost,
        left_out: changes.iter().filter_map(is_out).collect(),
        changes,
        callouts,
    };
    Ok((revision, text))
}

/// Whether lines of the client's text are callouts of the manuscript, which no client would write.
fn has_callouts_of(old: &ClientView, client: &Source) -> bool {
    let callout = |line: &str| {
        let own = old
            .calls
            .iter()
            .any(|call| old.raw(call.line).trim() == line);
        // The client's own words in brackets stand in the manuscript as words.
        own && !old.lines.iter().any(|words| words.view == line)
    };
    client.text.lines().any(|line| {
        let line = line.trim();
        line.starts_with('[') && callout(line)
    })
}

/// The client's plain text, read as verse and prose where the manuscript is; and where parts and kinds of text begin
/// in it, if that had to be found first.
fn seen_plain(
    old: &ClientView,
    read_as: ReadAs<'_>,
    client: &Arc<Source>,
) -> (ClientView, Option<Vec<PlacedCallout>>) {
    let start = Region {
        set_as: read_as.set_as,
        reads: (read_as.has_readings)(super::BODY),
    };
    let new = ClientView::plain(client, |_| start);
    if old.lines.iter().all(|line| line.region == start) {
        return (new, None);
    }
    let (old_units, new_units) = (old.blocks(), new.blocks());
    let matched = Matching::of((old, &old_units), (&new, &new_units));
    let table = CalloutPlacer {
        old,
        old_units: &old_units,
        new_units: &new_units,
        matched: &matched,
    };
    let mut placed = table.place_all();
    let mut begin: Vec<(usize, &Callout)> = Vec::new();
    let mut least = 0;
    for (placed, call) in placed.iter_mut().zip(&old.calls) {
        if is_structural(&call.says) {
            placed.at = line_start(&new, placed.at).max(least);
            least = placed.at;
            placed.side = AnchorSide::After;
            begin.push((placed.at, &call.says));
        }
    }
    let region = |words: usize| {
        let mut region = start;
        for (at, says) in &begin {
            match says {
                _ if *at > words => break,
                Callout::SetAs(kind) => region.set_as = *kind,
                Callout::Part(name) => region.reads = (read_as.has_readings)(name),
                _ => {}
            }
        }
        region
    };
    (ClientView::plain(client, region), Some(placed))
}

/// The start of the line that a word is in.
fn line_start(view: &ClientView, at: usize) -> usize {
    let line = view.words.get(at).map(|word| &view.lines[word.line]);
    line.map_or(at, |line| line.words.start)
}

/// No callout stands within a line of verse, nor within a line that is left as the client wrote it.
fn snap(new: &ClientView, old: &ClientView, marked: bool, placed: &mut [PlacedCallout]) {
    for (placed, call) in placed.iter_mut().zip(&old.calls) {
        let unit = new.units.get(new.unit_of(placed.at));
        let inside = unit.filter(|unit| placed.at > unit.words.start && placed.at < unit.words.end);
        let Some(unit) = inside else { continue };
        if marked || is_structural(&call.says) {
            placed.at = line_start(new, placed.at);
        } else if !unit.prose {
            placed.at = match placed.side {
                AnchorSide::Before => unit.words.end,
                AnchorSide::After => unit.words.start,
            };
        }
    }
}

/// Callouts of the manuscript that the client's own file has stay where they stand in it.
fn leave_those_there(old: &ClientView, new: &ClientView, placed: &mut [PlacedCallout]) {
    let mut there: Vec<&str> = new
        .calls
        .iter()
        .map(|call| new.raw(call.line).trim())
        .collect();
    for (placed, call) in placed.iter_mut().zip(&old.calls) {
        let written = old.raw(call.line).trim();
        match there.iter().position(|other| *other == written) {
            Some(at) => {
                there.remove(at);
                placed.fate = CalloutFate::There;
            }
            None => placed.fate = CalloutFate::Strayed,
        }
    }
}
