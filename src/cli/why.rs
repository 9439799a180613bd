//! `versefold flow --why`: why a panel ends where it does.

use std::collections::BTreeMap;
use std::ops::Range;
use std::path::Path;

use super::args::OutputArgs;
use super::{Done, book, speak};
use crate::book::{Kept, Otherwise, Outcome, Why, advice};
use crate::division::{Demand, PartDivision};
use crate::json::{Format, records};
use crate::layout::breaks::BREAKS_FILE;
use crate::names::{HalfLines, PanelName, Role, capitalized};
use crate::plan::RuleName;

pub(super) fn run(book: &Path, panel: PanelName, output: &OutputArgs) -> Done {
    let progress = speak::Progress::begin(output, "dividing the words in every other way");
    let why = book::open(book)?.why(panel)?;
    drop(progress);
    if output.json {
        speak::json(&record(&why))?;
    } else if !output.quiet {
        speak::result(&sentences(&why))?;
    }
    Ok(())
}

/// The most rules that are told of one other way.
const MOST_RULES: usize = 4;
/// The most of them of which it is told in words what becomes of it.
const MOST_WORDS: usize = 2;
const WHAT_A_COST_IS: &str =
    "\nCosts are what your rules charge for all that is not as they ask, over the whole book.";
const IT_IS_THE_LEAST: &str = " The way that costs least is the one you have.";
/// The most demands that are told to stand against one.
const MOST_DEMANDS: usize = 3;

fn sentences(why: &Why) -> String {
    let mut text = format!("{}\n", what_it_carries(why));
    if let Some(kept) = kept(why) {
        text.push_str(&format!("{kept}\n"));
    }
    if !why.ends.is_empty() {
        text.push_str(match keeps_chosen(why) {
            true => {
                "\nIt could end elsewhere. The book is then divided anew, with as many of the other panels as can be as \
                 you chose them:\n"
            }
            false => "\nIt could end elsewhere. The book is then divided anew:\n",
        });
        for (run, outcome) in runs(why) {
            let told = outcome_told(why, &outcome);
            text.push_str(&format!("– {}: {told}\n", ends(why, run)));
        }
    }
    if !why.roles.is_empty() {
        text.push_str("\nIt could carry something else:\n");
        for other in &why.roles {
            let told = outcome_told(why, &other.outcome);
            text.push_str(&format!("– {}: {told}\n", role(other.what)));
        }
    }
    if costs_something(why) {
        text.push_str(WHAT_A_COST_IS);
        if why.proved && !cheaper(why) {
            text.push_str(IT_IS_THE_LEAST);
        }
        text.push('\n');
    }
    if why.ends.is_empty() && why.roles.is_empty() && why.kept != Kept::Passed {
        text.push_str("Its role is pinned in the plan.\n");
    }
    if !why.proved {
        text.push_str("\nThere was too much to try: a still better division may exist.\n");
    }
    text
}

/// What the other ways come to.
fn outcomes(why: &Why) -> impl Iterator<Item = &Outcome> {
    let ends = why.ends.iter().map(|other| &other.outcome);
    ends.chain(why.roles.iter().map(|other| &other.outcome))
}

/// Whether any cost is told.
fn costs_something(why: &Why) -> bool {
    outcomes(why).any(|outcome| matches!(outcome, Outcome::Costs { more, .. } if *more != 0))
}

/// Whether another way costs less: she chose this one, or would have to pin the other.
fn cheaper(why: &Why) -> bool {
    outcomes(why).any(|outcome| matches!(outcome, Outcome::Costs { more, .. } if *more < 0))
}

/// What the author chose, and what is passed, before all rules.
fn kept(why: &Why) -> Option<String> {
    match why.kept {
        Kept::Nothing => None,
        Kept::AsChosen => Some(format!("You chose it so in {BREAKS_FILE}.")),
        Kept::NotAsChosen => Some(format!(
            "You chose it otherwise in {BREAKS_FILE}, and not every panel can now be as you chose."
        )),
        Kept::Passed => Some(format!(
            "It is passed for press: it stays as it is until you release it (versefold pass --release \"{}\").",
            why.panel.panel
        )),
    }
}

/// Whether anything was chosen in the parts that are divided at once.
fn keeps_chosen(why: &Why) -> bool {
    let problems = why.prepared.problems_of(&why.group);
    let mut panels = problems.iter().flat_map(|problem| &problem.panels);
    panels.any(|panel| panel.chosen.is_some())
}

fn what_it_carries(why: &Why) -> String {
    let panel = &why.panel;
    let name = capitalized(&panel.panel.to_string());
    let picture = panel
        .picture
        .map(|at| &why.prepared.problems[why.part].pictures[at].name);
    let beside = match picture {
        Some(picture) => format!(" beside `{picture}`"),
        None => String::new(),
    };
    match panel.role {
        Role::Blank => format!("{name} is blank."),
        Role::Picture => match picture {
            Some(picture) => format!("{name} carries the picture `{picture}`."),
            None => format!("{name} carries a picture without a name."),
        },
        _ => {
            let share =
                f64::from(panel.used) * 100.0 / f64::from(panel.capacity.max(HalfLines::HALF));
            let words = why.prepared.words_of(why.part, panel.rows.clone());
            let words: Vec<&str> = words.split_whitespace().collect();
            let runs = match words.as_slice() {
                [] => "carries the plan's title".to_string(),
                few if few.len() <= 8 => format!("carries “{}”", few.join(" ")),
                many => format!(
                    "runs from “{} …” to “… {}”",
                    many[..4].join(" "),
                    many[many.len() - 4..].join(" ")
                ),
            };
            format!("{name} {runs}{beside}, {share:.0} % full.")
        }
    }
}

/// The other ends, those behind each other together where the same demands stand against all of them.
fn runs(why: &Why) -> Vec<(&[Otherwise<usize>], Outcome)> {
    let sooner = |at: usize| why.ends[at].what < why.panel.rows.end;
    let mut runs: Vec<(Range<usize>, Outcome)> = Vec::new();
    for (at, other) in why.ends.iter().enumerate() {
        if let (Some((run, Outcome::Against(known))), Outcome::Against(more)) =
            (runs.last_mut(), &other.outcome)
        {
            let both = known.iter().filter(|demand| more.contains(demand));
            let both: Vec<Demand> = both.cloned().collect();
            if !both.is_empty() && sooner(run.start) == sooner(at) {
                run.end = at + 1;
                *known = both;
                continue;
            }
        }
        runs.push((at..at + 1, other.outcome.clone()));
    }
    let runs = runs.into_iter();
    runs.map(|(run, outcome)| (&why.ends[run], outcome))
        .collect()
}

/// Where else it could end: how many lines from here, and the words before where it is one place.
fn ends(why: &Why, run: &[Otherwise<usize>]) -> String {
    let here = why.panel.rows.end;
    let lines = |place: usize| {
        let between = why.ends.iter().filter(|other| match place < here {
            true => (place..here).contains(&other.what),
            false => (here + 1..=place).contains(&other.what),
        });
        between.count()
    };
    let (first, last) = (run[0].what, run[run.len() - 1].what);
    let way = if first < here { "sooner" } else { "later" };
    if run.len() > 1 {
        let (fewest, most) = (lines(first).min(lines(last)), lines(first).max(lines(last)));
        let to = if fewest + 1 == most { "or" } else { "to" };
        return format!("{fewest} {to} {most} lines {way}");
    }
    let lines = match lines(first) {
        1 => "1 line".to_string(),
        more => format!("{more} lines"),
    };
    let words = why.prepared.words_before(why.part, first, 4);
    format!("{lines} {way}, after “… {words}”")
}

fn role(role: Role) -> &'static str {
    match role {
        Role::Text => "words alone",
        Role::Shared => "words and a picture",
        Role::Picture => "a picture alone",
        Role::Title => "the title",
        Role::Blank | Role::PasteDown => "nothing",
    }
}

fn outcome_told(why: &Why, outcome: &Outcome) -> String {
    match outcome {
        Outcome::Against(demands) if demands.is_empty() => "cannot be".to_string(),
        Outcome::Against(demands) => {
            let told: Vec<String> = demands
                .iter()
                .take(MOST_DEMANDS)
                .map(|demand| advice::asked_by(&why.prepared, &why.group, demand))
                .collect();
            format!("cannot be: {}", told.join("; "))
        }
        Outcome::Costs {
            more: 0, unlike: 0, ..
        } => match keeps_chosen(why) {
            true => "no more: it would be as good".to_string(),
            false => "no more: it would be as good, and you may pin it".to_string(),
        },
        Outcome::Costs {
            more,
            rules,
            unlike,
            parts,
        } => {
            let unlike = match unlike {
                0 => String::new(),
                1 => "; one other panel would not stay as you chose it".to_string(),
                many => format!("; {many} other panels would not stay as you chose them"),
            };
            format!("{}{unlike}", costs_told(why, *more, rules, parts))
        }
    }
}

/// What becomes of the book, in words, and then what that costs, rule by rule.
fn costs_told(why: &Why, more: i64, rules: &[(RuleName, i64)], parts: &[PartDivision]) -> String {
    let dearer = rules.iter().filter(|(_, change)| *change > 0);
    let mut words: Vec<String> = Vec::new();
    for told in dearer.filter_map(|(name, _)| why.rises(*name, parts)) {
        if words.len() < MOST_WORDS && !words.contains(&told) {
            words.push(told);
        }
    }
    let paid = match more {
        0 => "costs no more".to_string(),
        // A panel that she pins to be blank is her own wish, which is not charged.
        less if less < 0 && !keeps_chosen(why) => {
            format!("costs {} less once you pin it", less.unsigned_abs())
        }
        less if less < 0 => format!("costs {} less", less.unsigned_abs()),
        more => format!("costs {more} more"),
    };
    let told = rules.iter().take(MOST_RULES).map(|(name, change)| {
        let sign = if *change < 0 { "−" } else { "" };
        format!("`{}` {sign}{}", name.word(), change.unsigned_abs())
    });
    let mut told: Vec<String> = told.collect();
    if rules.len() > MOST_RULES {
        told.push("other rules a little".to_string());
    }
    let figures = match told.is_empty() {
        true => paid,
        false => format!("{paid} ({})", told.join(", ")),
    };
    match words.is_empty() {
        true => figures,
        false => format!("{}; {figures}", words.join("; ")),
    }
}

records! {
    /// `flow --why`: why a panel ends where it does.
    pub(super) struct WhyRecord {
        /// The number of the form that this record has.
        format: Format,
        /// The panel.
        panel: String,
        /// What it carries.
        role: &'static str,
        /// The same in a sentence for people.
        says: String,
        /// Whether it stands as was chosen in breaks.toml: `as-chosen`, `not-as-chosen`, or `passed` for press. Null
        /// where nothing was chosen.
        breaks: Option<&'static str>,
        /// The other places where it could end, in order.
        ends: Vec<EndRecord>,
        /// What else it could carry.
        roles: Vec<RoleRecord>,
        /// Whether no better division was missed for want of time.
        proved: bool,
    }

    /// Another place where a panel could end.
    pub(super) struct EndRecord {
        /// The words before that place.
        after: String,
        ..outcome: OutcomeRecord,
    }

    /// Something else that a panel could carry.
    pub(super) struct RoleRecord {
        /// What it would carry.
        role: &'static str,
        ..outcome: OutcomeRecord,
    }

    /// What would come of it, the whole book divided anew.
    pub(super) struct OutcomeRecord {
        /// How much more the book would cost; less below nought. Null where it cannot be.
        more: Option<i64>,
        /// The same by rule. Null where it cannot be.
        rules: Option<BTreeMap<&'static str, i64>>,
        /// How many other panels would not stay as they were chosen. Null where it cannot be.
        not_as_chosen: Option<usize>,
        /// What stands against it, in clauses. Null where nothing does.
        against: Option<Vec<String>>,
    }
}

fn record(why: &Why) -> WhyRecord {
    let ends = why.ends.iter().map(|other| EndRecord {
        after: why.prepared.words_before(why.part, other.what, 4),
        outcome: outcome_record(why, &other.outcome),
    });
    let roles = why.roles.iter().map(|other| RoleRecord {
        role: other.what.word(),
        outcome: outcome_record(why, &other.outcome),
    });
    WhyRecord {
        format: Format,
        panel: why.panel.panel.to_string(),
        role: why.panel.role.word(),
        says: what_it_carries(why),
        breaks: match why.kept {
            Kept::Nothing => None,
            Kept::AsChosen => Some("as-chosen"),
            Kept::NotAsChosen => Some("not-as-chosen"),
            Kept::Passed => Some("passed"),
        },
        ends: ends.collect(),
        roles: roles.collect(),
        proved: why.proved,
    }
}

fn outcome_record(why: &Why, outcome: &Outcome) -> OutcomeRecord {
    match outcome {
        Outcome::Costs {
            more,
            rules,
            unlike,
            ..
        } => OutcomeRecord {
            more: Some(*more),
            rules: Some(
                rules
                    .iter()
                    .map(|(rule, more)| (rule.word(), *more))
                    .collect(),
            ),
            not_as_chosen: Some(*unlike),
            against: None,
        },
        Outcome::Against(demands) => {
            let told = demands
                .iter()
                .map(|demand| advice::asked_by(&why.prepared, &why.group, demand));
            OutcomeRecord {
                more: None,
                rules: None,
                not_as_chosen: None,
                against: Some(told.collect()),
            }
        }
    }
}
