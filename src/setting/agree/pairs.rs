//! Whether paired parts have the same stanzas.

use std::ops::Range;

use crate::names::{Fault, Faults};
use crate::plan::PartPlan;
use crate::text::{Manuscript, Part};

/// A stanza or paragraph.
struct Stanza {
    /// Its first line's bytes.
    first: Range<usize>,
    /// How many lines of verse it has; nothing for a paragraph.
    lines: Option<usize>,
}

/// Tells a part that has more or fewer stanzas and paragraphs than the one that it is paired with, and where
/// they part company.
pub(super) fn check(part: &Part, planned: &PartPlan, manuscript: &Manuscript, faults: &mut Faults) {
    let pairs = planned.pairs.as_ref();
    let other = pairs.and_then(|pairs| {
        let mut parts = manuscript.parts().iter();
        parts.find(|part| part.name == pairs.with)
    });
    let Some(other) = other else {
        return;
    };
    let (own, others) = (stanzas(part), stanzas(other));
    if own.len() == others.len() {
        return;
    }
    let what = format!(
        "the part `{}` has {}, and `{}`, with which it is paired, has {}",
        part.name,
        counted(&own),
        other.name,
        counted(&others)
    );
    let differ = |(own, other): (&Stanza, &Stanza)| own.lines != other.lines;
    let apart = std::iter::zip(&own, &others).position(differ);
    let place = |stanza: &Stanza| manuscript.place(stanza.first.clone());
    let fault = Fault::new("pairs", what);
    let help = "look for a blank line too many or too few";
    let fault = match apart {
        Some(at) => {
            let number = at + 1;
            let fault = fault.at(place(&own[at]));
            let told = format!("number {number} of `{}` {}", other.name, has(&others[at]));
            let fault = fault.also(place(&others[at]), told);
            fault.help(format!("number {number} here {}: {help}", has(&own[at])))
        }
        None => {
            let (longer, shorter) = match own.len() > others.len() {
                true => (&own, &others),
                false => (&others, &own),
            };
            let number = shorter.len() + 1;
            let fault = fault.at(place(&longer[shorter.len()]));
            let fault = match shorter.last() {
                Some(last) => fault.also(place(last), "the last one of the other part"),
                None => fault,
            };
            fault.help(format!(
                "number {number}, which begins here, has no partner: {help}"
            ))
        }
    };
    faults.push(fault);
}

fn has(stanza: &Stanza) -> String {
    match stanza.lines {
        None => "is a paragraph".to_string(),
        Some(1) => "has one line".to_string(),
        Some(lines) => format!("has {lines} lines"),
    }
}

fn counted(stanzas: &[Stanza]) -> String {
    let prose = stanzas
        .iter()
        .filter(|stanza| stanza.lines.is_none())
        .count();
    let (one, many) = match prose {
        0 => ("stanza", "stanzas"),
        prose if prose == stanzas.len() => ("paragraph", "paragraphs"),
        _ => ("stanza or paragraph", "stanzas and paragraphs"),
    };
    match stanzas.len() {
        0 => "no stanza".to_string(),
        1 => format!("one {one}"),
        count => format!("{count} {many}"),
    }
}

/// The stanzas and paragraphs of a part; headings, ornaments, who speaks, captions and room are none.
fn stanzas(part: &Part) -> Vec<Stanza> {
    let mut stanzas: Vec<(usize, Stanza)> = Vec::new();
    for line in &part.lines {
        if !line.kind.is_verse() && !line.kind.is_prose() {
            continue;
        }
        match stanzas.last_mut() {
            Some((block, stanza)) if *block == line.block => {
                if let Some(lines) = &mut stanza.lines {
                    *lines += 1;
                }
            }
            _ => {
                let stanza = Stanza {
                    first: line.first.clone(),
                    lines: line.kind.is_verse().then_some(1),
                };
                stanzas.push((line.block, stanza));
            }
        }
    }
    stanzas.into_iter().map(|(_, stanza)| stanza).collect()
}
