//! Checks the parts of the book and the panels they have.

use std::collections::BTreeMap;

use super::paper::KnownStrip;
use super::text::{self, CheckedText};
use super::{fault_at, part_text, value};
use crate::book::plan_file::written::{PartWritten, Stretch, Written};
use crate::names::{Direction, Fault, Faults, Location, PanelName};
use crate::plan::PartPlan;
use crate::reading::At;

/// The part of words that stand before any other part.
pub(super) const BODY: &str = "body";

/// Which part has a panel, and where the plan says so.
type PanelOwners<'a> = BTreeMap<PanelName, (&'a str, &'a Location)>;

/// Checks the parts, in the plan's order; without any, the body has every panel open to words.
pub fn check(
    written: &Written,
    language: &str,
    setting: &CheckedText,
    strip: &KnownStrip,
    faults: &mut Faults,
) -> Vec<PartPlan> {
    let list = written.part.as_ref().filter(|list| !list.value.is_empty());
    let Some(list) = list else {
        let unread = written.faulty.contains(&"part");
        return body(written, language, setting, strip, faults)
            .filter(|_| !unread)
            .into_iter()
            .collect();
    };
    let mut names: BTreeMap<&str, &Location> = BTreeMap::new();
    let mut owners = PanelOwners::new();
    let mut parts = Vec::new();
    for at in &list.value {
        let part = &at.value;
        let name = part.name.as_ref().map_or("", |name| name.value.0.as_str());
        if let Some(place) = part.name.as_ref().map(|name| &name.place) {
            if let Some(first) = names.get(name) {
                let what = format!("two parts are called `{name}`");
                let fault = fault_at("twice", what, place);
                faults.push(fault.also((*first).clone(), "the first one"));
            }
            names.entry(name).or_insert(place);
        }
        let own = part.language.as_ref().map(|at| at.value.0.as_str());
        let language = own.unwrap_or(language);
        let said = value(&part.reads);
        let reads = said.unwrap_or_else(|| Direction::of_language(language));
        let on = check_on(name, part, strip, &mut owners, faults);
        let of_part = part_text::OfPart {
            written: part,
            name,
            setting,
            strip,
            narrowest: strip.narrowest_of(&on),
        };
        parts.push(PartPlan {
            name: name.to_string(),
            language: language.to_string(),
            reads,
            reads_said: said.is_some(),
            text: of_part.check(reads, faults),
            margins_place: text::place_of(&part.margins).cloned(),
            on,
            pairs: None,
            place: Some(at.place.clone()),
        });
    }
    parts
}

fn body(
    written: &Written,
    language: &str,
    setting: &CheckedText,
    strip: &KnownStrip,
    faults: &mut Faults,
) -> Option<PartPlan> {
    let panels = strip.panels?.all();
    let on: Vec<_> = panels
        .filter(|panel| !strip.pasted.contains(panel))
        .collect();
    if on.is_empty() {
        let what = "no panel is left for words: the boards take them all";
        let fault = Fault::new("no-panels", what);
        let cover = written
            .paper
            .as_ref()
            .and_then(|paper| paper.value.cover.as_ref());
        faults.push(match cover {
            Some(cover) => fault.at(cover.place.clone()),
            None => fault,
        });
    }
    let reads = Direction::of_language(language);
    let asked = setting.caesura_at.as_ref();
    faults.extend(
        asked.and_then(|at| part_text::uneven_halves(&setting.style_for(reads), reads, at)),
    );
    Some(PartPlan {
        name: BODY.to_string(),
        on,
        language: language.to_string(),
        reads,
        reads_said: false,
        text: setting.style_for(reads),
        margins_place: None,
        pairs: None,
        place: None,
    })
}

/// The panels of a part, each told that is not there, is pasted down, or is taken.
fn check_on<'a>(
    name: &'a str,
    part: &'a PartWritten,
    strip: &KnownStrip,
    owners: &mut PanelOwners<'a>,
    faults: &mut Faults,
) -> Vec<PanelName> {
    let mut on = Vec::new();
    let Some(list) = &part.on else {
        return on;
    };
    if list.value.is_empty() {
        let what = "`on` names no panel".to_string();
        let fault = fault_at("empty", what, &list.place);
        faults.push(fault.allowed("panels such as \"front 1\" or \"front 1 to front 7\""));
    }
    for at in &list.value {
        let mut clashes: Vec<(PanelName, &str, &Location)> = Vec::new();
        for panel in panels_of(at, strip, faults) {
            match owners.get(&panel) {
                Some(&(other, place)) => clashes.push((panel, other, place)),
                None => {
                    owners.insert(panel, (name, &at.place));
                    on.push(panel);
                }
            }
        }
        tell_clashes(&at.place, &clashes, faults);
    }
    on
}

/// The panels of a stretch that may carry words; the others are told.
fn panels_of(at: &At<Stretch>, strip: &KnownStrip, faults: &mut Faults) -> Vec<PanelName> {
    let Some(panels) = strip.panels else {
        return Vec::new();
    };
    let Stretch { first, last } = at.value;
    // Of a stretch that runs past the end, the first missing panel says enough.
    for end in [first, last] {
        if !panels.contains(end) {
            strip.allows(end, &at.place, faults);
            return Vec::new();
        }
    }
    let stretch = panels.all().filter(|panel| (first..=last).contains(panel));
    stretch
        .filter(|&panel| strip.allows(panel, &at.place, faults))
        .collect()
}

/// Tells once for each earlier place how many of the panels named at `place` stand there already.
fn tell_clashes(place: &Location, clashes: &[(PanelName, &str, &Location)], faults: &mut Faults) {
    let mut rest = clashes;
    while let Some(&(panel, other, first)) = rest.first() {
        let same = rest.iter().take_while(|(_, _, at)| *at == first).count();
        let (panels, are) = match same {
            1 => (format!("`{panel}`"), "is"),
            2 => (format!("`{panel}` and one more panel"), "are"),
            _ => (format!("`{panel}` and {} more panels", same - 1), "are"),
        };
        let what = format!("{panels} {are} already in the part `{other}`");
        faults.push(fault_at("twice", what, place).also(first.clone(), "first here"));
        rest = &rest[same..];
    }
}
