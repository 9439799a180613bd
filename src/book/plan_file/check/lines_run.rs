//! Checks which way lines run, and what does not go with lines that run down.

use super::fault_at;
use crate::book::plan_file::written::Written;
use crate::names::{Direction, Faults, LinesRun, Location};
use crate::plan::PartPlan;

/// Which way the lines of a book run unless a part says otherwise.
pub fn of_book(written: &Written) -> LinesRun {
    let text = written.text.as_ref();
    text.map_or(LinesRun::Across, |text| text.value.lines_run())
}

/// Tells of parts whose lines run down what cannot be there: words that run from right to left, and large initials.
pub fn check(written: &Written, parts: &[PartPlan], faults: &mut Faults) {
    let text = written.text.as_ref().map(|text| &text.value);
    let list = written.part.as_ref().map(|list| list.value.as_slice());
    let list = list.unwrap_or_default();
    for (index, part) in parts.iter().enumerate() {
        let own = list.get(index).map(|at| &at.value);
        let of_part = own.and_then(|part| part.lines_run.as_ref());
        let of_book = text.and_then(|text| text.lines_run.as_ref());
        let (LinesRun::Down, Some(at)) = (part.text.lines_run, of_part.or(of_book)) else {
            continue;
        };
        let mut tell = |what: String, help: &str, also: Option<(&Location, &str)>| {
            let fault = fault_at("lines-run", what, &at.place).help(help);
            faults.push(match also {
                Some((place, words)) => fault.also(place.clone(), words),
                None => fault,
            });
        };
        if part.reads == Direction::RightToLeft {
            let said = own.and_then(|part| part.reads.as_ref());
            let what = format!(
                "the lines of `{}` run down, and its words from right to left",
                part.name
            );
            let help = "words that are written from right to left are not set in lines that run down: leave \
                        `lines-run` at \"across\"";
            tell(
                what,
                help,
                said.map(|at| (&at.place, "from right to left here")),
            );
        }
        if part.text.opening.drop().is_some() {
            let opening = own.and_then(|part| part.opening.as_ref());
            let opening = opening.or(text.and_then(|text| text.opening.as_ref()));
            let what = format!(
                "`{}` opens with a large initial, which lines that run down do not have",
                part.name
            );
            let help = "take `opening` away, or give this part opening = \"none\"";
            tell(what, help, opening.map(|at| (&at.place, "the opening")));
        }
    }
}
