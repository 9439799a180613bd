//! Checks the author's rules.

use std::collections::BTreeMap;

use super::{fault_at, value};
use crate::book::plan_file::written::{BlanksWritten, PictureComesWritten, RulesWritten};
use crate::names::{Fault, Faults, Location};
use crate::plan::{Blanks, PartPlan, Percent, PictureRequest, RuleName, Rules, Weight, Window};
use crate::reading::At;

/// Checks the rules; without a `[rules]`, the defaults.
pub fn check(written: Option<&RulesWritten>, faults: &mut Faults) -> Rules {
    let mut rules = Rules::default();
    let Some(written) = written else {
        return rules;
    };
    let percent = |at: &Option<At<Percent>>, usual| value(at).unwrap_or(usual);
    rules.each_panel = value(&written.each_panel).unwrap_or(rules.each_panel);
    rules.text_fullness = percent(&written.text_fullness, rules.text_fullness);
    rules.shared_fullness = percent(&written.shared_fullness, rules.shared_fullness);
    rules.first_fullness = percent(&written.first_fullness, rules.first_fullness);
    rules.last_fullness = percent(&written.last_fullness, rules.last_fullness);
    rules.fullest = percent(&written.fullest, rules.fullest);
    rules.emptiest = percent(&written.emptiest, rules.emptiest);
    rules.undivided = value(&written.undivided).unwrap_or(rules.undivided);
    if let Some(fewest) = &written.fewest_lines {
        rules.fewest_lines = fewest.value.get(2);
    }
    rules.shared_panels = value(&written.shared_panels).unwrap_or(rules.shared_panels);
    if let Some(even) = &written.even_fullness {
        rules.even_fullness = even.value.0;
    }
    check_fullness(written, &rules, faults);
    if let Some(window) = &written.picture_comes {
        rules.picture_comes = check_window(window, faults);
    }
    rules.picture_with = value(&written.picture_with);
    if let Some(most) = &written.text_in_a_row {
        rules.text_in_a_row = most.value.get(2);
    }
    if let Some(most) = &written.pictures_in_a_row {
        rules.pictures_in_a_row = most.value.get(2);
    }
    rules.blanks = written.blanks.as_ref().map(|at| blanks(&at.value));
    rules.ends_with = written.ends_with.as_ref().map(|at| at.value.0);
    rules.weights = check_weights(written, faults);
    rules
}

fn check_fullness(written: &RulesWritten, rules: &Rules, faults: &mut Faults) {
    let known = !["fullest", "emptiest"]
        .iter()
        .any(|key| written.faulty.contains(key));
    let emptiest = written.emptiest.as_ref().map(|at| &at.place);
    let fullest = written.fullest.as_ref().map(|at| &at.place);
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

/// Checks how many panels after its words a picture, or every picture, comes.
pub(super) fn check_window(at: &At<PictureComesWritten>, faults: &mut Faults) -> Window {
    let usual = Rules::default().picture_comes;
    let asked = &at.value;
    let soonest = asked.soonest.as_ref().map(|at| at.value.get(0));
    let latest = asked.latest.as_ref().map(|at| at.value.get(1));
    let window = Window {
        soonest: soonest.unwrap_or(usual.soonest),
        latest: latest.unwrap_or(usual.latest),
    };
    if asked.faulty.is_empty() && window.soonest > window.latest {
        let Window { soonest, latest } = window;
        let what = format!("`soonest` is {soonest}, later than `latest`, which is {latest}");
        faults.push(fault_at("contradiction", what, &at.place));
    }
    window
}

fn blanks(written: &BlanksWritten) -> Blanks {
    Blanks {
        count: written.count.as_ref().map_or(1, |at| at.value.get(1)),
        at: value(&written.r#where).unwrap_or_default(),
    }
}

/// Tells blank panels that no part has room for, beside at least one that is not blank.
pub(super) fn check_blanks(
    written: Option<&RulesWritten>,
    parts: &[PartPlan],
    faults: &mut Faults,
) {
    let Some(at) = written.and_then(|rules| rules.blanks.as_ref()) else {
        return;
    };
    let asked = blanks(&at.value).count;
    let most = parts.iter().map(|part| part.on.len()).max().unwrap_or(0);
    if most > 0 && usize::from(asked) >= most {
        let place = at.value.count.as_ref().map_or(&at.place, |at| &at.place);
        let what = format!(
            "`blanks` asks for {asked} blank panels, and no part has more than {most} panels"
        );
        let allowed = format!("0 to {}", most - 1);
        faults.push(fault_at("out-of-range", what, place).allowed(allowed));
    }
}

/// The pictures before which a panel stays blank.
pub(super) fn check_blank_before(
    written: Option<&RulesWritten>,
    faults: &mut Faults,
) -> Vec<PictureRequest> {
    let list = written.and_then(|rules| rules.blank_before.as_ref());
    let mut asked: Vec<PictureRequest> = Vec::new();
    for at in list.into_iter().flat_map(|list| &list.value) {
        let name = &at.value.0;
        match asked.iter().find(|picture| picture.name == *name) {
            Some(first) => {
                let what = format!("`blank-before` names `{name}` twice");
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

fn check_weights(written: &RulesWritten, faults: &mut Faults) -> BTreeMap<RuleName, Weight> {
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
