//! From the plan as written to the checked [`Plan`]: defaults filled in, lengths resolved, and nothing in
//! it that contradicts something else in it.

mod headings;
mod lines_run;
mod making;
mod margins;
mod pairs;
mod panels;
mod paper;
mod part_text;
mod parts;
mod pictures;
mod rules;
mod shape;
mod sheets;
mod stretches;
mod text;

use std::sync::Arc;

use super::written::{TextWritten, Written};
use super::{Direction, Ink, MarginsRequest, Plan};
use crate::names::{Edge, Fault, Faults, Location, Source};
use crate::plan::{LabelAsked, Margins, PartPlan, PicturePlan, PictureRequest, RuleName};
use crate::reading::{self, At, said};

/// Reads and checks a plan.
///
/// # Errors
/// Every fault found, in the order of their places.
pub fn read(source: &Arc<Source>) -> Result<Plan, Faults> {
    from_document(reading::read::<Written>(source))
}

/// Checks a plan that has been read, perhaps changed since.
pub(super) fn from_document(document: reading::TomlDocument<Written>) -> Result<Plan, Faults> {
    let mut faults = document.faults;
    let mut plan = None;
    if document.complete {
        plan = check(&document.written, &mut faults);
    }
    match plan {
        Some(plan) if faults.is_empty() => Ok(plan),
        _ => {
            if faults.is_empty() {
                faults.push(Fault::new("syntax", "the plan cannot be read"));
            }
            faults.sort_by_key(|fault| fault.place.as_ref().map(|place| place.span.start));
            Err(faults)
        }
    }
}

/// Checks what the keys say together. Nothing where keys without a default could not be read; what can be
/// checked without them is.
fn check(written: &Written, faults: &mut Faults) -> Option<Plan> {
    let strip = match &written.paper {
        Some(paper) => paper::check(paper, lines_run::of_book(written), faults),
        None => paper::KnownStrip::default(),
    };
    let making = match &written.paper {
        Some(paper) => making::check_paper(paper, &strip, faults),
        None => making::CheckedMaking::default(),
    };
    let sheets = sheets::check(written.sheets.as_ref(), &strip, faults);
    let crossovers = making::check_crossovers(written.crossover.as_ref(), &strip, faults);
    let setting = text::check(written.text.as_ref(), &strip, faults);
    let asked = written.rules.as_ref().map(|rules| &rules.value);
    let rules = rules::check(asked, faults);
    let parts = check_parts(written, &setting, &strip, faults);
    let pictures = pictures::check(written.picture.as_ref(), &setting, &strip, faults);
    let known = panels::Known {
        setting: &setting,
        strip: &strip,
        parts: &parts,
    };
    let panels = panels::check(written.panel.as_ref(), &known, faults);
    pictures::check_whole(&pictures, &panels, faults);
    let known = Known {
        strip: &strip,
        pictures: &pictures,
    };
    let (parts, [blank_before, reveal]) = check_on_parts(written, parts, &known, faults);
    let language = written.language.as_ref()?.value.0.as_str();
    let manuscript = written.manuscript.as_ref()?;
    Some(Plan {
        title: written.title.as_ref()?.value.0.clone(),
        author: written.author.as_ref().map(|at| LabelAsked {
            words: at.value.0.clone(),
            place: at.place.clone(),
        }),
        language: language.to_string(),
        manuscript: manuscript.value.0.clone(),
        manuscript_place: Some(manuscript.place.clone()),
        date: value(&written.date),
        paper: strip.paper?,
        stock: making.stock,
        score: making.score,
        boards: making.boards,
        wrapper: making.wrapper?,
        sheets,
        crossovers,
        set_as: match &written.text {
            Some(text) => text.value.set_as(),
            None => TextWritten::default().set_as(),
        },
        text: setting.style_for(Direction::of_language(language)),
        rules,
        pictures,
        parts,
        panels,
        blank_before,
        reveal,
        labels: labels(written),
    })
}

/// The parts, and whether nothing is wrong with them.
struct CheckedParts {
    list: Vec<PartPlan>,
    sound: bool,
}

/// Checks the parts by themselves.
fn check_parts(
    written: &Written,
    setting: &text::CheckedText,
    strip: &paper::KnownStrip,
    faults: &mut Faults,
) -> CheckedParts {
    let language = written.language.as_ref().map(|at| at.value.0.as_str());
    let told = faults.len();
    let list = parts::check(
        written,
        language.unwrap_or_default(),
        setting,
        strip,
        faults,
    );
    CheckedParts {
        list,
        sound: faults.len() == told,
    }
}

/// What is known of the plan before what hangs on the panels of parts is checked.
struct Known<'a> {
    strip: &'a paper::KnownStrip,
    pictures: &'a [PicturePlan],
}

/// Checks what hangs on the panels of parts: blank ones, pairs, and where pictures over several begin. With them come the
/// pictures that rules name: those that stand behind a blank panel, and those that are seen on the next spread.
fn check_on_parts(
    written: &Written,
    parts: CheckedParts,
    known: &Known<'_>,
    faults: &mut Faults,
) -> (Vec<PartPlan>, [Vec<PictureRequest>; 2]) {
    let &Known { strip, pictures } = known;
    let CheckedParts {
        list: mut parts,
        sound,
    } = parts;
    let told = faults.len();
    let sound = |faults: &Faults| sound && faults.len() == told;
    let list = written.part.as_ref().map(|list| list.value.as_slice());
    let list = list.unwrap_or_default();
    let unread = list.iter().any(|part| part.value.faulty.contains(&"on"));
    let asked = written.rules.as_ref().map(|rules| &rules.value);
    if !unread && sound(faults) {
        rules::check_blanks(asked, &parts, faults);
        rules::check_pictures(asked, &parts, faults);
    }
    // Where panels of parts are at fault, what hangs on them would only say so again.
    let folded = strip.paper.as_ref().filter(|_| sound(faults));
    lines_run::check(written, &parts, faults);
    pairs::check(list, &mut parts, folded, faults);
    if let Some(paper) = folded {
        let pins = written.panel.as_ref().map(|list| list.value.as_slice());
        let around = stretches::Around {
            pins: pins.unwrap_or_default(),
            pictures,
            parts: &parts,
            pasted: &strip.pasted,
        };
        stretches::check(&around, paper, faults);
        rules::check_even_spreads(asked, &parts, paper, faults);
    }
    let named = [RuleName::BlankBefore, RuleName::Reveal];
    let named = named.map(|rule| rules::check_named(asked, rule, faults));
    rules::check_reveal(asked, written.picture.as_ref(), &named[1], faults);
    (parts, named)
}

/// What pages show of the plan's own words.
fn labels(written: &Written) -> Vec<LabelAsked> {
    let label = |words: &str, place: &Location| LabelAsked {
        words: words.to_string(),
        place: place.clone(),
    };
    let title = written.title.iter().map(|at| label(&at.value.0, &at.place));
    let pictures = written.picture.iter().flat_map(|list| &list.value);
    let names = pictures.filter_map(|at| at.value.name.as_ref());
    let ink = written
        .text
        .as_ref()
        .and_then(|text| text.value.ink.as_ref());
    let spot = ink.and_then(|at| match &at.value {
        Ink::Spot { name, .. } => Some(label(name, &at.place)),
        _ => None,
    });
    let names = names.map(|at| label(&at.value.0, &at.place));
    title.chain(names).chain(spot).collect()
}

/// The bare value, where there is one.
fn value<T: Clone>(at: &Option<At<T>>) -> Option<T> {
    at.as_ref().map(|at| at.value.clone())
}

/// A fault about what stands at `place`.
fn fault_at(word: &'static str, what: String, place: &Location) -> Fault {
    Fault::new(word, what).at(place.clone()).read(said(place))
}

/// Tells margins that leave no room, for a panel or picture whose margins go over others; nothing where those are at
/// fault, of which theirs would only say the same again.
fn check_over(
    asked: &MarginsRequest,
    whose: &str,
    others: Option<Margins>,
    strip: &paper::KnownStrip,
    faults: &mut Faults,
) {
    if let (Some(place), Some(others)) = (&asked.place, others) {
        // Where one side is asked for, the other may be the inner or the outer one.
        let sides = [Edge::Left, Edge::Right];
        let on = sides.map(|inner| asked.over(others, inner));
        let [one, other] = on.map(|margins| margins.left + margins.right);
        let widest = Margins {
            by_folds: asked.by_folds(),
            ..on[usize::from(other > one)]
        };
        let whose = margins::Whose {
            words: whose,
            place,
        };
        margins::check_room(widest, whose, strip.narrowest(), strip, faults);
    }
}
