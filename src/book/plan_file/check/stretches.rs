//! Checks pinned pictures that stand on more than one panel, or that begin a spread.

use super::fault_at;
use crate::book::plan_file::written::PanelWritten;
use crate::names::{Fault, Faults, Location, PanelName, Role, panel_list};
use crate::plan::{Paper, PartPlan, PicturePlan};
use crate::reading::At;

/// What pinned pictures must go with.
pub struct Around<'a> {
    /// The pins as written.
    pub pins: &'a [At<PanelWritten>],
    /// The pictures that the plan names.
    pub pictures: &'a [PicturePlan],
    /// The parts and their panels.
    pub parts: &'a [PartPlan],
    /// The panels that are pasted down.
    pub pasted: &'a [PanelName],
}

/// Checks the pins of pictures, in the plan's order.
pub fn check(around: &Around<'_>, paper: &Paper, faults: &mut Faults) {
    for pin in around.pins {
        let (Some(panel), Some(name)) = (&pin.value.panel, &pin.value.picture) else {
            continue;
        };
        let named = |picture: &&PicturePlan| picture.name == name.value.0;
        let Some(picture) = around.pictures.iter().find(named) else {
            continue;
        };
        // A panel that is not there is told already.
        if !paper.panels.contains(panel.value) || around.pasted.contains(&panel.value) {
            continue;
        }
        let pinned = Pinned {
            around,
            paper,
            picture,
            first: panel.value,
            place: &name.place,
        };
        pinned.check_spread(faults);
        if picture.spans > 1 && pinned.fits(faults) {
            pinned.check_others(faults);
        }
    }
}

/// A picture pinned to a panel that the strip has.
struct Pinned<'a> {
    around: &'a Around<'a>,
    paper: &'a Paper,
    picture: &'a PicturePlan,
    first: PanelName,
    place: &'a Location,
}

impl Pinned<'_> {
    fn stretch(&self) -> impl Iterator<Item = PanelName> {
        let PanelName { side, number } = self.first;
        (number..number.saturating_add(self.picture.spans))
            .map(move |number| PanelName { side, number })
    }

    /// The part that has the pinned panel.
    fn home(&self) -> Option<&PartPlan> {
        let parts = &self.around.parts;
        parts.iter().find(|part| part.on.contains(&self.first))
    }

    fn last(&self) -> PanelName {
        self.stretch().last().unwrap_or(self.first)
    }

    /// Tells a picture for whole spreads that does not begin one.
    fn check_spread(&self, faults: &mut Faults) {
        if !self.picture.whole_spread || self.paper.opens_spread(self.first) {
            return;
        }
        let what = format!(
            "`{}` does not begin a spread, as the picture `{}` must",
            self.first, self.picture.name
        );
        faults.push(self.with_starts(fault_at("whole-spread", what, self.place)));
    }

    /// The fault with the panels that the picture may be pinned to: in the part of the pinned one, or where no
    /// part is.
    fn with_starts(&self, fault: Fault) -> Fault {
        let parts = self.around.parts;
        let free = |panel: &PanelName| {
            let taken = parts.iter().any(|part| part.on.contains(panel));
            !taken && !self.around.pasted.contains(panel)
        };
        let on = match self.home() {
            Some(part) => part.on.clone(),
            None => self.paper.panels.all().filter(free).collect(),
        };
        let Pinned { picture, .. } = self;
        let starts = self.paper.starts(&on, picture.spans, picture.whole_spread);
        let spread = if picture.whole_spread {
            ", from the first of a spread on"
        } else {
            ""
        };
        match (starts.as_slice(), self.home()) {
            ([], Some(part)) if picture.whole_side => {
                fault.help(format!("give the part `{}` the whole of a side", part.name))
            }
            ([], Some(part)) => fault.help(format!(
                "give the part `{}` {} panels that follow each other on one side{spread}",
                part.name, picture.spans
            )),
            ([], None) => fault.help("pin it where all its panels are in one part, or all in none"),
            (starts, _) => fault.allowed(panel_list(starts)),
        }
    }

    /// Whether the picture ends on its side and in its part; else that is told.
    fn fits(&self, faults: &mut Faults) -> bool {
        let what = self.misfit();
        if let Some(what) = &what {
            faults.push(self.with_starts(fault_at("spans", what.clone(), self.place)));
        }
        what.is_none()
    }

    /// Why the picture cannot stand where it is pinned.
    fn misfit(&self) -> Option<String> {
        let Pinned { first, picture, .. } = *self;
        let (name, spans) = (&picture.name, picture.spans);
        let room = self.paper.panels.per_side + 1 - first.number;
        if room < spans {
            return Some(match picture.whole_side {
                true => format!(
                    "the picture `{name}` takes a whole side, and `{first}` does not begin one"
                ),
                false => format!(
                    "the picture `{name}` spans {spans} panels, and from `{first}` on that side has {room}"
                ),
            });
        }
        let runs = format!(
            "the picture `{name}` runs from `{first}` to `{}`",
            self.last()
        );
        if let Some(pasted) = self.stretch().find(|on| self.around.pasted.contains(on)) {
            return Some(format!(
                "{runs}, and `{pasted}` is pasted down on its board"
            ));
        }
        let Some(part) = self.home() else {
            let parts = self.around.parts;
            let taken = |panel: &PanelName| parts.iter().any(|part| part.on.contains(panel));
            let taken = self.stretch().find(taken)?;
            return Some(format!(
                "{runs}, and `{taken}` belongs to a part, which `{first}` does not"
            ));
        };
        let mut goes_on = part.on.iter().skip_while(|panel| **panel != first);
        let missing = self.stretch().find(|panel| goes_on.next() != Some(panel))?;
        Some(format!(
            "{runs}, and the part `{}` does not go on with `{missing}`",
            part.name
        ))
    }

    /// Tells what is pinned to the panels of the picture and does not go with it.
    fn check_others(&self, faults: &mut Faults) {
        let name = &self.picture.name;
        let has_room = self.picture.leaves.place.is_some();
        for pin in self.around.pins {
            let Some(panel) = &pin.value.panel else {
                continue;
            };
            if !self.stretch().any(|own| own == panel.value) {
                continue;
            }
            let on = panel.value;
            let role = pin.value.role.as_ref();
            let other = pin.value.picture.as_ref().filter(|_| on != self.first);
            let mut tell = |what: String, place: &Location, help: Option<&str>| {
                let fault = fault_at("contradiction", what, place);
                let fault = fault.also(self.place.clone(), "that picture is pinned here");
                faults.push(match help {
                    Some(help) => fault.help(help),
                    None => fault,
                });
            };
            let stands = format!(
                "the picture `{name}` stands on `{on}`, for it runs from `{}` to `{}`",
                self.first,
                self.last()
            );
            if let Some(other) = other {
                tell(stands, &other.place, None);
                continue;
            }
            let leaves = "let the picture leave room: leaves = { head = \"90 mm\" }";
            let no_room = format!("the picture `{name}` leaves no room to words on `{on}`");
            match (role.map(|role| role.value), &pin.value.begins) {
                (Some(Role::Title | Role::Text | Role::Blank), _) if on != self.first => {
                    let place = role.map_or(&panel.place, |role| &role.place);
                    tell(stands, place, None);
                }
                (Some(Role::Shared), _) if !has_room => {
                    let place = role.map_or(&panel.place, |role| &role.place);
                    tell(no_room, place, Some(leaves));
                }
                (_, Some(begins)) if !has_room => tell(no_room, &begins.place, Some(leaves)),
                _ => {}
            }
        }
    }
}
