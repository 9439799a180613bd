//! Checks what the author pins by hand.

use std::collections::BTreeMap;

use super::margins::{check_sides, margins_asked};
use super::paper::{KnownStrip, safety_over};
use super::text::CheckedText;
use super::{CheckedParts, check_over, fault_at, shape, value};
use crate::book::plan_file::written::PanelWritten;
use crate::names::{Faults, Length, Location, PanelName, Vertical};
use crate::plan::{Begins, Margins, PanelPlan, PartPlan};
use crate::reading::{At, Passage};

/// What has been pinned so far, and where.
#[derive(Default)]
struct Pinned<'a> {
    panels: BTreeMap<PanelName, &'a Location>,
    pictures: BTreeMap<&'a str, &'a Location>,
}

/// What is known of the plan before its pins are checked.
pub struct Known<'a> {
    pub setting: &'a CheckedText,
    pub strip: &'a KnownStrip,
    pub parts: &'a CheckedParts,
}

impl Known<'_> {
    fn part_on(&self, panel: Option<PanelName>) -> Option<&PartPlan> {
        let mut parts = self.parts.list.iter();
        parts.find(|part| panel.is_some_and(|panel| part.on.contains(&panel)))
    }

    /// The size and the leading that lengths on a panel are measured by: those of a part with a leading of its own, or the
    /// plan's. Nothing where they are at fault.
    fn of_type(&self, panel: Option<PanelName>) -> Option<(Length, Length)> {
        let usual = self.setting.of_type();
        let own = self
            .part_on(panel)
            .filter(|part| part.text.leading != usual.1);
        match own {
            Some(part) => self
                .parts
                .sound
                .then_some((part.text.size, part.text.leading)),
            None => self.setting.type_known.then_some(usual),
        }
    }

    /// The margins of a panel that says nothing of its own; nothing where they are at fault.
    fn margins(&self, panel: Option<PanelName>) -> Option<Margins> {
        let own = self
            .part_on(panel)
            .filter(|part| part.margins_place.is_some());
        match own {
            Some(part) => self.parts.sound.then_some(part.text.margins),
            None => self
                .setting
                .margins_fit
                .then_some(self.setting.style.margins),
        }
    }
}

/// Checks the pins, in the plan's order.
pub fn check(
    written: Option<&At<Vec<At<PanelWritten>>>>,
    known: &Known<'_>,
    faults: &mut Faults,
) -> Vec<PanelPlan> {
    let strip = known.strip;
    let mut pinned = Pinned::default();
    let mut pins = Vec::new();
    for at in written.into_iter().flat_map(|list| &list.value) {
        let pin = &at.value;
        let on = value(&pin.panel);
        let of_type = known.of_type(on);
        let measured = of_type.unwrap_or(known.setting.of_type());
        let margins = margins_asked(pin.margins.as_ref(), measured);
        let whose = match &pin.panel {
            Some(panel) => format!("on `{}`, ", panel.value),
            None => String::new(),
        };
        check_sides(pin.margins.as_ref(), &whose, faults);
        check_over(&margins, &whose, known.margins(on), strip, faults);
        let shape = shape::check(
            &shape::Written {
                boxes: pin.boxes.as_ref(),
                mask: pin.mask.as_ref(),
                of_type,
            },
            margins.place.as_ref(),
            &whose,
            strip,
            faults,
        );
        check_vertical(pin, faults);
        check_role(pin, faults);
        check_picture(pin, &mut pinned, faults);
        let Some(panel) = check_panel(pin, strip, &mut pinned, faults) else {
            continue;
        };
        pins.push(PanelPlan {
            panel,
            role: value(&pin.role),
            picture: pin.picture.as_ref().map(|at| at.value.0.clone()),
            margins,
            shape,
            fullness: value(&pin.fullness),
            safety: strip
                .safety
                .filter(|_| pin.safety.is_some())
                .map(|usual| safety_over(pin.safety.as_ref(), usual)),
            vertical: value(&pin.vertical),
            begins: pin.begins.as_ref().map(begins),
            place: at.place.clone(),
        });
    }
    pins
}

fn begins(at: &At<Passage>) -> Begins {
    let words: Vec<_> = at.value.0.split_whitespace().collect();
    Begins {
        words: words.join(" "),
        place: at.place.clone(),
    }
}

/// The panel that is pinned, if it may be.
fn check_panel<'a>(
    pin: &'a PanelWritten,
    strip: &KnownStrip,
    pinned: &mut Pinned<'a>,
    faults: &mut Faults,
) -> Option<PanelName> {
    let at = pin.panel.as_ref()?;
    if !strip.allows(at.value, &at.place, faults) {
        return None;
    }
    if let Some(first) = pinned.panels.get(&at.value) {
        let what = format!(
            "`{}` is pinned twice: put both under one [[panel]]",
            at.value
        );
        let fault = fault_at("twice", what, &at.place);
        faults.push(fault.also((*first).clone(), "first here"));
        return None;
    }
    pinned.panels.insert(at.value, &at.place);
    Some(at.value)
}

/// Tells words that are to stand lower although they follow a shape, which they fill from its first line on.
fn check_vertical(pin: &PanelWritten, faults: &mut Faults) {
    let boxes = pin.boxes.as_ref().map(|at| &at.place);
    let shape = boxes.or(pin.mask.as_ref().map(|at| &at.place));
    let lower = pin.vertical.as_ref();
    let lower = lower.filter(|at| at.value != Vertical::Head);
    if let (Some(shape), Some(lower)) = (shape, lower) {
        let what = "words that follow boxes or a mask begin at their head".to_string();
        let fault = fault_at("contradiction", what, &lower.place);
        faults.push(fault.also(shape.clone(), "what they follow"));
    }
}

/// Tells a role that contradicts the picture or the words of the same pin.
fn check_role(pin: &PanelWritten, faults: &mut Faults) {
    let Some(role) = &pin.role else {
        return;
    };
    let word = role.value.word();
    let picture = pin.picture.as_ref().filter(|_| !role.value.has_picture());
    if let Some(picture) = picture {
        let what = format!("a panel with the role `{word}` carries no picture");
        let fault = fault_at("contradiction", what, &picture.place);
        faults.push(fault.also(role.place.clone(), "the role"));
    }
    if let Some(begins) = pin.begins.as_ref().filter(|_| !role.value.has_words()) {
        let what = format!("a panel with the role `{word}` has no words to begin with");
        let fault = fault_at("contradiction", what, &begins.place);
        faults.push(fault.also(role.place.clone(), "the role"));
    }
}

/// Tells a picture that another panel pins already.
fn check_picture<'a>(pin: &'a PanelWritten, pinned: &mut Pinned<'a>, faults: &mut Faults) {
    let Some(at) = &pin.picture else {
        return;
    };
    match pinned.pictures.get(at.value.0.as_str()) {
        Some(first) => {
            let what = format!("the picture `{}` is pinned on two panels", at.value.0);
            let fault = fault_at("twice", what, &at.place);
            faults.push(fault.also((*first).clone(), "first here"));
        }
        None => {
            pinned.pictures.insert(&at.value.0, &at.place);
        }
    }
}
