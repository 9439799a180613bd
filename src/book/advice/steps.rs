//! What an author can do so that a book can be divided, and how she is told.

use crate::book::PreparedBook;
use crate::book::plan_file::change::Change;
use crate::division::Demand;
use crate::names::{Length, PanelName, Role, and_list, decimals};
use crate::plan::RuleName;

/// One thing that she can do.
#[derive(Clone, Debug, PartialEq)]
pub(super) enum Step {
    /// She changes the plan.
    Plan(Change),
    /// She releases a panel that is passed for press.
    Release(PanelName),
    /// She takes out the callouts of a picture's captions, so that their lines are lines like any others.
    Caption(String),
}

impl Step {
    /// What she does so that a demand is not asked; nothing where that is not hers to do.
    pub fn of(prepared: &PreparedBook, group: &[usize], demand: &Demand) -> Option<Step> {
        let problem = |part: usize| &prepared.problems[group[part]];
        let picture = |part: usize, at: usize| problem(part).pictures[at].name.clone();
        let panel = |part: usize, at: usize| problem(part).panels[at].name;
        Some(Step::Plan(match *demand {
            Demand::Rule(name) => Change::GivesWay(name),
            Demand::Pairing => Change::Pairs(paired(prepared, group)?),
            Demand::Caption { part, picture: at } => return Some(Step::Caption(picture(part, at))),
            Demand::Alone { part, picture: at } => Change::LeavesAll(picture(part, at)),
            Demand::WholeSpread { part, picture: at } => Change::WholeSpread(picture(part, at)),
            Demand::Spans { part, picture: at } => Change::Spans(picture(part, at)),
            Demand::Role { part, panel: at } => Change::Role(panel(part, at)),
            Demand::Picture { part, picture: at } => {
                let on = problem(part).pictures[at].panel?;
                Change::Picture(panel(part, on))
            }
            Demand::Begins { part, panel: at } => Change::Begins(panel(part, at)),
            Demand::Passed { part, panel: at } => return Some(Step::Release(panel(part, at))),
            Demand::Ends { .. } => return None,
        }))
    }

    /// What she does, as an instruction.
    pub fn told(&self, prepared: &PreparedBook) -> String {
        match self {
            Step::Plan(change) => told(change, prepared),
            Step::Release(panel) => format!("release {panel}, which is passed for press"),
            Step::Caption(name) => format!("take out [caption: {name}]"),
        }
    }

    /// What she does in several steps: what is alike together, the rules last.
    pub fn all_told(steps: &[Step], prepared: &PreparedBook) -> String {
        let rule = |step: &Step| match step {
            Step::Plan(Change::GivesWay(rule)) => Some(*rule),
            _ => None,
        };
        let alone = |step: &Step| match step {
            Step::Plan(Change::LeavesAll(name)) => Some(format!("`{name}`")),
            _ => None,
        };
        let others = steps.iter();
        let others = others.filter(|step| rule(step).is_none() && alone(step).is_none());
        let mut told: Vec<String> = others.map(|step| step.told(prepared)).collect();
        let alone: Vec<String> = steps.iter().filter_map(alone).collect();
        if !alone.is_empty() {
            told.push(format!("write `leaves = \"all\"` for {}", and_list(&alone)));
        }
        let rules: Vec<RuleName> = steps.iter().filter_map(rule).collect();
        for way in [Weakened::FromMust, Weakened::OutOfMust, Weakened::MayGive] {
            let own = rules
                .iter()
                .filter(|rule| weakened(**rule, prepared) == way);
            let own: Vec<RuleName> = own.copied().collect();
            if !own.is_empty() {
                told.push(way.told(&own));
            }
        }
        told.join(" and ")
    }
}

/// The one of two parts that says that they are paired.
fn paired(prepared: &PreparedBook, group: &[usize]) -> Option<String> {
    let planned = |at: &usize| &prepared.plan.parts[prepared.set.parts[*at].plan_index];
    let mut parts = group.iter().map(planned);
    parts
        .find(|part| part.pairs.is_some())
        .map(|part| part.name.clone())
}

fn told(change: &Change, prepared: &PreparedBook) -> String {
    let plan = &prepared.plan;
    let pin = |panel: PanelName| plan.pin(panel);
    match change {
        Change::Size { size, leading } => {
            format!(
                "set the type at {} on {}",
                size.in_points(),
                leading.in_points()
            )
        }
        Change::Margins {
            left,
            right,
            by_folds,
        } => {
            let (one, other) = match by_folds {
                true => ("inner", "outer"),
                false => ("left", "right"),
            };
            let (left, right) = (millimetres(*left), millimetres(*right));
            match left == right {
                true => format!("make the {one} and {other} margins {left}"),
                false => format!("make the {one} margin {left} and the {other} one {right}"),
            }
        }
        Change::Panels { per_side, .. } => match prepared.strip.sides().len() {
            2 => format!("make it {per_side} panels a side"),
            _ => format!("make it {per_side} panels"),
        },
        Change::GivesWay(rule) => weakened(*rule, prepared).told(&[*rule]),
        Change::Role(panel) => {
            let role = pin(*panel).and_then(|pin| pin.role).map_or("", Role::word);
            format!("drop `role = \"{role}\"` on {panel}")
        }
        Change::Picture(panel) => {
            let name = pin(*panel).and_then(|pin| pin.picture.as_deref());
            format!(
                "drop `picture = \"{}\"` on {panel}",
                name.unwrap_or_default()
            )
        }
        Change::Begins(panel) => format!("drop `begins` on {panel}"),
        Change::LeavesAll(name) => format!("write `leaves = \"all\"` for `{name}`"),
        Change::Older(older) => format!("write {}", older.told()),
        Change::Spans(name) => format!("drop `spans` of `{name}`"),
        Change::WholeSpread(name) => format!("drop `whole-spread` of `{name}`"),
        Change::Pairs(name) => format!("drop `pairs-with` of `{name}`"),
    }
}

/// Where she writes so that a rule may give way.
#[derive(Clone, Copy, PartialEq, Eq)]
enum Weakened {
    /// It leaves `must`, and is then hard no more.
    OutOfMust,
    /// It leaves `must`, and stands in `may-give` instead.
    FromMust,
    /// It stands in `may-give`.
    MayGive,
}

fn weakened(rule: RuleName, prepared: &PreparedBook) -> Weakened {
    let musts = prepared.plan.rules.weight(rule).hard == Some(true);
    // Whole stanzas give way by themselves where nothing else helps, unless they must hold.
    let by_default = rule.hard_by_default() && rule != RuleName::Undivided;
    match (musts, by_default) {
        (true, true) => Weakened::FromMust,
        (true, false) => Weakened::OutOfMust,
        (false, _) => Weakened::MayGive,
    }
}

impl Weakened {
    fn told(self, rules: &[RuleName]) -> String {
        let words: Vec<String> = rules
            .iter()
            .map(|rule| format!("`{}`", rule.word()))
            .collect();
        let words = match words.as_slice() {
            [first @ .., last] if !first.is_empty() => format!("{} and {last}", first.join(", ")),
            _ => words.concat(),
        };
        match self {
            Weakened::OutOfMust => format!("take {words} out of `must`"),
            Weakened::FromMust => format!("move {words} from `must` to `may-give`"),
            Weakened::MayGive => format!("put {words} in `may-give`"),
        }
    }
}

fn millimetres(length: Length) -> String {
    format!("{} mm", decimals(length.as_mm(), 2))
}
