//! Panels as a call names them: "front 3 to front 6", "front 2, back 1", "front".

use crate::names::{Fault, Faults, PanelName, Side};

/// Panels that a call names, in its order.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(super) struct Stretches(Vec<Named>);

#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Named {
    Side(Side),
    From(PanelName, PanelName),
}

/// Reads the panels of a call.
pub(super) fn stretches(text: &str) -> Result<Stretches, String> {
    let named = text.split(',').map(|one| {
        let one = one.trim();
        match one {
            "front" => return Ok(Named::Side(Side::Front)),
            "back" => return Ok(Named::Side(Side::Back)),
            _ => {}
        }
        let (first, last) = one.split_once(" to ").unwrap_or((one, one));
        let (first, last): (PanelName, PanelName) = (first.parse()?, last.parse()?);
        match first.side == last.side && first <= last {
            true => Ok(Named::From(first, last)),
            false => Err(format!(
                "`{one}` runs backwards or over both sides; name each side by itself"
            )),
        }
    });
    Ok(Stretches(named.collect::<Result<_, String>>()?))
}

impl Stretches {
    /// Those panels of the strip, in reading order.
    ///
    /// # Errors
    /// Panels that it does not have.
    pub(super) fn among(&self, strip: &[PanelName]) -> Result<Vec<PanelName>, Faults> {
        self.of(strip, |panel| {
            let what = format!("the strip has no panel {panel}");
            let last = strip.last().map_or(String::new(), ToString::to_string);
            Fault::new("wrong-panel", what).allowed(format!("front 1 to {last}"))
        })
    }

    /// The panels that are named, all of which must be passed.
    ///
    /// # Errors
    /// Panels that are not passed.
    pub(super) fn among_passed(&self, passed: &[PanelName]) -> Result<Vec<PanelName>, Faults> {
        let known = match passed.is_empty() {
            true => "no panel of this book is".to_string(),
            false => super::pass::stretches(passed),
        };
        self.of(passed, |panel| {
            let what = format!("{panel} is not passed for press");
            Fault::new("not-passed", what).allowed(known.clone())
        })
    }

    fn of(
        &self,
        known: &[PanelName],
        missing: impl Fn(PanelName) -> Fault,
    ) -> Result<Vec<PanelName>, Faults> {
        let (mut found, mut faults) = (Vec::new(), Faults::new());
        for named in &self.0 {
            match *named {
                Named::Side(side) => {
                    let of_side = known.iter().filter(|panel| panel.side == side);
                    let before = found.len();
                    found.extend(of_side);
                    if found.len() == before {
                        faults.push(missing(PanelName { side, number: 1 }));
                    }
                }
                Named::From(first, last) => {
                    for number in first.number..=last.number {
                        let panel = PanelName { number, ..first };
                        match known.contains(&panel) {
                            true => found.push(panel),
                            false => faults.push(missing(panel)),
                        }
                    }
                }
            }
        }
        if !faults.is_empty() {
            faults.truncate(8);
            return Err(faults);
        }
        found.sort_unstable();
        found.dedup();
        Ok(found)
    }
}
