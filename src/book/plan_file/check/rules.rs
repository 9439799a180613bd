//! Checks the author's rules.

use std::collections::BTreeMap;

use super::fault_at;
use super::parts::BODY;
use crate::book::plan_file::written::{OfRule, PictureWritten, RulesWritten, WeightsWritten};
use crate::names::{Fault, Faults, Location, PanelName};
use crate::plan::{Paper, PartPlan, PictureRequest, PictureWith, RuleName, Rules, Weight};
use crate::reading::At;
use crate::rules::{Asks, Visitor};

/// Checks the rules; without a `[rules]`, the defaults.
pub fn check(written: Option<&RulesWritten>, faults: &mut Faults) -> Rules {
    let Some(written) = written else {
        return Rules::default();
    };
    let mut rules = written.asked.clone();
    rules.visit(&mut Contradictions { written, faults });
    check_fullness(written, &rules, faults);
    rules.weights = check_weights(&written.weights, faults);
    rules
}

/// Tells what is asked of a rule and contradicts itself.
struct Contradictions<'a> {
    written: &'a RulesWritten,
    faults: &'a mut Faults,
}

impl Visitor for Contradictions<'_> {
    fn visit<R: Asks>(&mut self, name: RuleName, asked: &mut R::Asked) {
        let place = self.written.places.get(name.word());
        if let Some(place) = place.filter(|_| !self.written.unsound.contains(&name)) {
            let what = R::contradiction(asked);
            self.faults
                .extend(what.map(|what| fault_at("contradiction", what, place)));
        }
    }
}

/// What a picture asks of a rule for itself, told where it contradicts itself.
pub(super) fn check_own<R: Asks>(at: &At<OfRule<R>>, faults: &mut Faults) -> R::Asked {
    let of_rule = &at.value;
    let what = R::contradiction(&of_rule.asked).filter(|_| of_rule.sound);
    faults.extend(what.map(|what| fault_at("contradiction", what, &at.place)));
    of_rule.asked.clone()
}

fn check_fullness(written: &RulesWritten, rules: &Rules, faults: &mut Faults) {
    let bounds = [RuleName::Emptiest, RuleName::Fullest];
    let known = bounds.iter().all(|name| !written.unsound.contains(name));
    let [emptiest, fullest] = bounds.map(|name| written.places.get(name.word()));
    let Some(place) = emptiest.or(fullest) else {
        return;
    };
    if known && rules.emptiest > rules.fullest {
        let what = format!(
            "`emptiest` is {} %, more than `fullest`, which is {} %",
            rules.emptiest.0, rules.fullest.0
        );
        let fault = fault_at("contradiction", what, place);
        faults.push(match fullest.filter(|other| *other != place) {
            Some(other) => fault.also(other.clone(), "`fullest` here"),
            None => fault,
        });
    }
}

/// Tells blank panels that no part has room for, beside at least one that is not blank.
pub(super) fn check_blanks(
    written: Option<&RulesWritten>,
    parts: &[PartPlan],
    faults: &mut Faults,
) {
    let Some((written, blanks)) = written.and_then(|rules| Some((rules, rules.asked.blanks?)))
    else {
        return;
    };
    let places = ["blanks.count", "blanks"].map(|key| written.places.get(key));
    let Some(place) = places.into_iter().flatten().next() else {
        return;
    };
    let asked = blanks.count;
    let most = parts.iter().map(|part| part.on.len()).max().unwrap_or(0);
    if most > 0 && usize::from(asked) >= most {
        let what = format!(
            "`blanks` asks for {asked} blank panels, and no part has more than {most} panels"
        );
        let allowed = format!("0 to {}", most - 1);
        faults.push(fault_at("out-of-range", what, place).allowed(allowed));
    }
}

/// Tells more pictures than the body has panels.
pub(super) fn check_pictures(
    written: Option<&RulesWritten>,
    parts: &[PartPlan],
    faults: &mut Faults,
) {
    let Some(written) = written else { return };
    let Some(place) = written.places.get(RuleName::Pictures.word()) else {
        return;
    };
    let Some(body) = parts.iter().find(|part| part.name == BODY) else {
        return;
    };
    let (asked, most) = (written.asked.pictures, body.on.len());
    if asked as usize > most {
        let what = format!("`pictures` asks for {asked} pictures, and the body has {most} panels");
        let fault = fault_at("out-of-range", what, place).read(asked.to_string());
        faults.push(fault.allowed(format!("0 to {most}, and words want panels too")));
    }
}

/// Tells `even-spreads` where no part has two panels that face each other.
pub(super) fn check_even_spreads(
    written: Option<&RulesWritten>,
    parts: &[PartPlan],
    paper: &Paper,
    faults: &mut Faults,
) {
    let rule = RuleName::EvenSpreads.word();
    let asked = written.filter(|written| written.asked.even_spreads);
    let Some(place) = asked.and_then(|written| written.places.get(rule)) else {
        return;
    };
    let leafing = paper.leafing();
    let face = |pair: &[PanelName]| {
        let spread = |panel: &PanelName| leafing.iter().position(|seen| seen.contains(panel));
        spread(&pair[0]) == spread(&pair[1])
    };
    if !parts.iter().any(|part| part.on.windows(2).any(face)) {
        let what = format!(
            "`{rule}` asks for panels that face each other, and no part has two such panels"
        );
        faults.push(fault_at("contradiction", what, place).help("leave it out"));
    }
}

/// The pictures that a rule names.
pub(super) fn check_named(
    written: Option<&RulesWritten>,
    rule: RuleName,
    faults: &mut Faults,
) -> Vec<PictureRequest> {
    let list = written.and_then(|rules| rules.pictures.get(&rule));
    let mut asked: Vec<PictureRequest> = Vec::new();
    for at in list.into_iter().flat_map(|list| &list.value) {
        let name = &at.value.0;
        match asked.iter().find(|picture| picture.name == *name) {
            Some(first) => {
                let what = format!("`{}` names `{name}` twice", rule.word());
                let fault = fault_at("twice", what, &at.place);
                faults.push(fault.also(first.place.clone(), "first here"));
            }
            None => asked.push(PictureRequest {
                name: name.clone(),
                place: at.place.clone(),
            }),
        }
    }
    asked
}

/// Tells pictures that shall be seen on the spread after their words, and on that of their words.
pub(super) fn check_reveal(
    written: Option<&RulesWritten>,
    pictures: Option<&At<Vec<At<PictureWritten>>>>,
    reveal: &[PictureRequest],
    faults: &mut Faults,
) {
    let of_all = written.and_then(|written| {
        let place = written.places.get(RuleName::PictureWith.word())?;
        Some((written.asked.picture_with, place))
    });
    for asked in reveal {
        let mut pictures = pictures.into_iter().flat_map(|list| &list.value);
        let named = |picture: &&At<PictureWritten>| {
            let name = picture.value.name.as_ref();
            name.is_some_and(|name| name.value.0 == asked.name)
        };
        let own = pictures.find(named);
        let own = own.and_then(|picture| picture.value.picture_with.as_ref());
        let own = own.map(|with| (with.value.asked, &with.place));
        if let Some((Some(PictureWith::SameSpread), place)) = own.or(of_all) {
            let what = format!(
                "`reveal` shows the picture `{}` on the spread after its words, and `picture-with` on theirs",
                asked.name
            );
            let fault = fault_at("contradiction", what, &asked.place);
            faults.push(fault.also(place.clone(), "`picture-with` here"));
        }
    }
}

fn check_weights(written: &WeightsWritten, faults: &mut Faults) -> BTreeMap<RuleName, Weight> {
    let mut weights: BTreeMap<RuleName, Weight> = BTreeMap::new();
    let mut must: BTreeMap<RuleName, &Location> = BTreeMap::new();
    for at in written.must.iter().flat_map(|list| &list.value) {
        weights.entry(at.value).or_default().hard = Some(true);
        must.entry(at.value).or_insert(&at.place);
    }
    for at in written.may_give.iter().flat_map(|list| &list.value) {
        if let Some(first) = must.get(&at.value) {
            let what = format!("`{}` stands in both `must` and `may-give`", at.value.word());
            let fault = Fault::new("contradiction", what).at(at.place.clone());
            let fault = fault.read(at.value.word());
            faults.push(fault.also((*first).clone(), "in `must` here"));
        }
        weights.entry(at.value).or_default().hard = Some(false);
    }
    for (rule, at) in written.importance.iter().flat_map(|at| &at.value.0) {
        weights.entry(*rule).or_default().importance = at.value.get(1);
    }
    weights
}
