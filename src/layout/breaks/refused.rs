//! Breaks that cannot be asked of a book, in words.

use super::text::PartText;
use super::{BREAKS_FILE, Breaks, KeptPanel};
use crate::names::{Deed, Fault, Faults, PanelName, Role};
use crate::paper::Strip;
use crate::text::alignment::pieces;

/// No more lines than this are told that two panels claim.
const MOST_TOLD: usize = 8;

/// Panels that the strip does not have.
pub(super) fn panels_gone(breaks: &Breaks, strip: &Strip) -> Faults {
    let known: Vec<String> = strip.panels().map(|panel| panel.to_string()).collect();
    let gone = breaks.panels.iter().filter(|kept| {
        let name = kept.panel.to_string();
        // What was left blank is not missed.
        let chosen = kept.chosen && kept.role != Role::Blank;
        (chosen || kept.passed.is_some()) && !known.contains(&name)
    });
    let fault = |kept: &KeptPanel| {
        let name = kept.panel.to_string();
        let what = match kept.passed {
            Some(_) => format!("{name} is passed for press, and the strip has no such panel now"),
            None => format!("the strip has no panel {name}"),
        };
        let last = known.last().map(String::as_str).unwrap_or_default();
        let fault = Fault::new("wrong-panel", what).allowed(format!("{} to {last}", known[0]));
        let fault = match kept.passed {
            Some(_) => fault
                .help("give the strip its panels back in the plan, or release the panel")
                .deed(Deed::Release(Vec::new())),
            None => fault
                .help("give the strip its panels back in the plan, take the [[panel]] out, or choose afresh")
                .deed(Deed::ChooseAfresh),
        };
        match &kept.place {
            Some(place) => fault.at(place.clone()),
            None => fault,
        }
    };
    gone.map(fault).collect()
}

pub(super) fn other_book(breaks: &Breaks, (kept, found): (usize, usize)) -> Fault {
    let what = format!(
        "{BREAKS_FILE} is of another text: of its {kept} words {found} are found in the manuscript in their order"
    );
    let fault = Fault::new("other-book", what);
    match breaks.passed().next() {
        Some(_) => fault
            .help(
                "is it another book's? If the text is really new, release the panels that are passed and choose afresh",
            )
            .deed(Deed::ReleaseAndChooseAfresh),
        None => fault
            .help("is it another book's? If the text is really new, choose afresh")
            .deed(Deed::ChooseAfresh),
    }
}

/// Lines that more panels have than the manuscript, though the file holds more words than it was written with.
pub(super) fn claimed_twice<'a>(
    breaks: &'a Breaks,
    texts: impl Iterator<Item = &'a PartText<'a>>,
    (kept, found): (usize, usize),
) -> Faults {
    let too_many = breaks.words.is_some_and(|words| kept > words) && found < kept;
    if !too_many {
        return Faults::new();
    }
    let text: Vec<String> = texts.map(|text| joined(text.lines.concat())).collect();
    let claims = |kept: &'a KeptPanel| {
        let lines = kept.words.lines().map(str::trim);
        lines
            .filter(|line| !line.is_empty())
            .map(move |line| (kept, line))
    };
    let lines: Vec<(&KeptPanel, &str)> = breaks.panels.iter().flat_map(claims).collect();
    let mut faults = Faults::new();
    for (at, (kept, line)) in lines.iter().enumerate() {
        let same = lines[..at].iter().filter(|(_, other)| other == line);
        let words = joined(pieces(line).into_iter().map(|at| &line[at]).collect());
        let there: usize = text.iter().map(|text| text.matches(&words).count()).sum();
        // Each that there is too many is told once, with the panel that has it first.
        let Some((first, _)) = same.clone().next().filter(|_| same.count() >= there.max(1)) else {
            continue;
        };
        let what = format!("{} and {} both claim “{line}”", first.panel, kept.panel);
        let fault = Fault::new("claimed-twice", what).help(
            "leave the words on the panel where they shall stand, and take them off the other",
        );
        faults.push(match (&kept.place, &first.place) {
            (Some(place), Some(also)) => fault.at(place.clone()).also(also.clone(), "and here"),
            _ => fault,
        });
        if faults.len() == MOST_TOLD {
            break;
        }
    }
    faults
}

/// Words with a space before and behind each.
fn joined(words: Vec<&str>) -> String {
    format!(" {} ", words.join(" "))
}

/// A fault that is mended by taking back what was asked, or by releasing the panel.
pub(super) fn released(what: String, panel: PanelName) -> Fault {
    let help = "take the change back, or release the panel";
    Fault::new("passed", what).or_release(help, panel)
}
