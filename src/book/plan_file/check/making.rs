//! Checks how the strip is made: paper, cover, crossovers.

use super::paper::{KnownStrip, absolute, on_paper};
use super::{fault_at, value};
use crate::book::plan_file::written::{
    BoardsWritten, CrossoverWritten, PaperLength, PaperWritten, WrapperWritten,
};
use crate::names::{Cover, Crossover, Faults, Length, Location, PanelName, Score, Stock};
use crate::plan::{BoardsPlan, WrapperKind, WrapperPlan};
use crate::reading::At;

/// What is checked of the strip's paper and cover.
#[derive(Default)]
pub struct CheckedMaking {
    pub stock: Stock,
    pub score: Score,
    pub boards: BoardsPlan,
    pub wrapper: Option<WrapperPlan>,
}

/// Checks the paper and the cover.
pub fn check_paper(
    written: &At<PaperWritten>,
    strip: &KnownStrip,
    faults: &mut Faults,
) -> CheckedMaking {
    let paper = &written.value;
    let stock = Stock {
        thickness: within(
            &paper.thickness,
            "thickness",
            THINNEST,
            Length::mm(5),
            faults,
        ),
        grammage: value(&paper.grammage).map(|grams| grams.get(0)),
        bulk: value(&paper.bulk).map(|bulk| bulk.0),
    };
    if let (Some(at), None) = (&paper.bulk, &paper.grammage)
        && !paper.faulty.contains(&"grammage")
    {
        let what = "`bulk` needs the paper's `grammage` beside it".to_string();
        let fault = fault_at("missing-key", what, &at.place);
        faults.push(fault.help("thickness is grammage times bulk; or give `thickness` itself"));
    }
    let cover = strip.cover;
    let asks = |asked: Cover| cover.is_some_and(|cover| cover != asked);
    if let Some(at) = paper.boards.as_ref().filter(|_| asks(Cover::Boards)) {
        faults.push(no_say("boards", &at.place));
    }
    if let Some(at) = paper.wrapper.as_ref().filter(|_| asks(Cover::Wrapper)) {
        faults.push(no_say("wrapper", &at.place));
    }
    let boards = check_boards(paper.boards.as_ref(), faults);
    CheckedMaking {
        stock,
        score: paper.score(),
        boards,
        wrapper: check_wrapper(paper.wrapper.as_ref(), strip, faults),
    }
}

/// The thinnest leaf that is believed, 0.02 mm, and the thinnest board, 0.5 mm.
const THINNEST: Length = Length::from_units(Length::mm(2).units() / 100);
const THINNEST_BOARD: Length = Length::from_units(Length::mm(5).units() / 10);

fn no_say(name: &str, place: &Location) -> crate::names::Fault {
    let what = format!("`{name}` has no say unless cover = \"{name}\"");
    fault_at("contradiction", what, place)
}

/// A length that is told where it is out of bounds.
pub(super) fn within(
    at: &Option<At<PaperLength>>,
    key: &str,
    least: Length,
    most: Length,
    faults: &mut Faults,
) -> Option<Length> {
    let length = absolute(at)?;
    if (least..=most).contains(&length) {
        return Some(length);
    }
    let what = format!("`{key}` must be from {least} to {most}");
    faults.push(fault_at("out-of-range", what, &at.as_ref()?.place));
    None
}

fn check_boards(written: Option<&At<BoardsWritten>>, faults: &mut Faults) -> BoardsPlan {
    let usual = BoardsPlan::default();
    let Some(written) = written.map(|at| &at.value) else {
        return usual;
    };
    let mut within = |at, key, least, most| within(at, key, least, most, faults);
    let thickness = within(
        &written.thickness,
        "thickness",
        THINNEST_BOARD,
        Length::mm(10),
    );
    let square = within(&written.square, "square", Length::ZERO, Length::mm(20));
    let turn_in = within(&written.turn_in, "turn-in", Length::mm(5), Length::mm(50));
    let boards = BoardsPlan {
        thickness: thickness.unwrap_or(usual.thickness),
        square: square.unwrap_or(usual.square),
        turn_in: turn_in.unwrap_or(usual.turn_in),
    };
    // It goes around the board's edge, and leaves something to cut a mitre from.
    let least = boards.thickness * 2;
    if let Some(at) = written.turn_in.as_ref().or(written.thickness.as_ref())
        && boards.turn_in < least
    {
        let what = format!("`turn-in` must be at least twice the boards' thickness, {least}");
        faults.push(fault_at("out-of-range", what, &at.place));
    }
    boards
}

fn check_wrapper(
    written: Option<&At<WrapperWritten>>,
    strip: &KnownStrip,
    faults: &mut Faults,
) -> Option<WrapperPlan> {
    let (width, height) = (strip.width.as_ref()?.value, strip.height.as_ref()?.value);
    let least = Length::mm(5);
    let Some(written) = written.map(|at| &at.value) else {
        return Some(WrapperPlan::Folded {
            flap: width * 2 / 3,
        });
    };
    let mut lone = |at: &Option<At<PaperLength>>, key, other| {
        let Some(at) = at else { return };
        let what = format!("`{key}` belongs to a wrapper of kind \"{other}\"");
        faults.push(fault_at("contradiction", what, &at.place));
    };
    Some(match written.kind() {
        WrapperKind::Folded => {
            lone(&written.height, "height", "band");
            lone(&written.overlap, "overlap", "band");
            let flap = within(&written.flap, "flap", least, width, faults);
            WrapperPlan::Folded {
                flap: flap.unwrap_or(width * 2 / 3),
            }
        }
        WrapperKind::Band => {
            lone(&written.flap, "flap", "folded");
            let asked = within(&written.height, "height", least, height, faults);
            let overlap = within(&written.overlap, "overlap", least, width, faults);
            WrapperPlan::Band {
                height: asked.unwrap_or(height / 3),
                overlap: overlap.unwrap_or_else(|| on_paper(WrapperWritten::default().overlap())),
            }
        }
    })
}

/// Checks the crossovers, in the plan's order.
pub fn check_crossovers(
    written: Option<&At<Vec<At<CrossoverWritten>>>>,
    strip: &KnownStrip,
    faults: &mut Faults,
) -> Vec<Crossover> {
    let mut found = Vec::new();
    for at in written.into_iter().flat_map(|list| &list.value) {
        let (Some(from), Some(to)) = (&at.value.from, &at.value.to) else {
            continue;
        };
        let there = strip.allows(from.value, &from.place, faults)
            & strip.allows(to.value, &to.place, faults);
        let Some(paper) = strip.paper.filter(|_| there) else {
            continue;
        };
        if !paper.meet(from.value, to.value) {
            let what = format!("`{}` and `{}` do not meet", from.value, to.value);
            let fault = fault_at("no-crossover", what, &to.place);
            let meeting = paper
                .panels
                .all()
                .filter(|&panel| paper.meet(from.value, panel));
            let meeting: Vec<PanelName> = meeting.collect();
            let names: Vec<String> = meeting.iter().map(ToString::to_string).collect();
            faults.push(fault.allowed(format!("{} meets {}", from.value, names.join(" and "))));
            continue;
        }
        let height = paper.panel_height;
        let mut heights = (Length::ZERO, height);
        if let Some(asked) = &at.value.heights {
            heights = (asked.value.0, asked.value.1);
            if heights.1 > height {
                let what = format!("`heights` go beyond the panel, which is {height} high");
                faults.push(fault_at("out-of-range", what, &asked.place));
            }
        }
        found.push(Crossover {
            from: from.value,
            to: to.value,
            heights,
            place: at.place.clone(),
        });
    }
    found
}
