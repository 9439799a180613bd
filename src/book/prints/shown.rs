//! Records of what files show of the plan and the layout, spelt out value by value.

use super::{VERSION, digits};
use crate::layout::{Encoder, Layout};
use crate::names::{Cover, Date, Direction, Grain, Length, PanelName, SheetSize, Sides, Turned};
use crate::plan::{Paper, Plan, WrapperPlan};

/// What every view of the whole book shows beside its layers: its title, the strip, what stands on each panel.
pub(super) fn book(layout: &Layout) -> String {
    let mut encoder = Encoder::new(VERSION, "book");
    encoder.text(&layout.title);
    paper(&mut encoder, layout.strip.paper());
    encoder.count(layout.panels.len());
    for laid in &layout.panels {
        panel(&mut encoder, laid.panel);
        encoder.text(laid.role.word());
        encoder.optional(laid.picture.as_deref(), Encoder::text);
    }
    digits(encoder)
}

fn paper(encoder: &mut Encoder, paper: &Paper) {
    lengths(encoder, [paper.panel_width, paper.panel_height]);
    lengths(encoder, [paper.ends.first, paper.ends.last]);
    encoder.number(i64::from(paper.panels.per_side));
    encoder.text(match paper.panels.sides {
        Sides::Both => "both",
        Sides::Front => "front",
    });
    encoder.text(match paper.cover {
        Cover::SelfCover => "self",
        Cover::Boards => "boards",
        Cover::Wrapper => "wrapper",
    });
    encoder.text(paper.first_fold.word());
    encoder.text(match paper.turned {
        Turned::HeadToHead => "head to head",
        Turned::HeadToFoot => "head to foot",
    });
    encoder.text(match paper.reads {
        Direction::LeftToRight => "left to right",
        Direction::RightToLeft => "right to left",
    });
    lengths(encoder, [paper.bleed, paper.safety.fold, paper.safety.edge]);
}

/// How the strip is cut, and what its marks show.
pub(super) fn cut(plan: &Plan) -> String {
    let mut encoder = Encoder::new(VERSION, "cut");
    let sheets = &plan.sheets;
    encoder.optional(sheets.size.as_ref(), |encoder, size: &SheetSize| {
        encoder.optional(size.name.as_deref(), Encoder::text);
        lengths(encoder, [size.long, size.short]);
    });
    encoder.optional(sheets.longest, length);
    encoder.optional(sheets.grain, |encoder, grain| {
        encoder.text(match grain {
            Grain::Long => "long",
            Grain::Short => "short",
        });
    });
    encoder.text(sheets.join.word());
    lengths(
        &mut encoder,
        [sheets.tab, sheets.under_run, sheets.gripper, sheets.spare],
    );
    encoder.number(i64::from(sheets.tab_asked));
    encoder.optional(sheets.intent.as_ref(), |encoder, intent| {
        encoder.text(&intent.profile);
        encoder.optional(intent.condition.as_deref(), Encoder::text);
    });
    encoder.count(plan.crossovers.len());
    for crossover in &plan.crossovers {
        panel(&mut encoder, crossover.from);
        panel(&mut encoder, crossover.to);
        lengths(&mut encoder, [crossover.heights.0, crossover.heights.1]);
    }
    digits(encoder)
}

/// What the folding guide tells of the paper and the cover.
pub(super) fn making(plan: &Plan) -> String {
    let mut encoder = Encoder::new(VERSION, "making");
    let number = |encoder: &mut Encoder, number: u32| encoder.number(i64::from(number));
    encoder.optional(plan.stock.thickness, length);
    encoder.optional(plan.stock.grammage, number);
    encoder.optional(plan.stock.bulk, number);
    encoder.text(plan.score.word());
    let boards = &plan.boards;
    lengths(
        &mut encoder,
        [boards.thickness, boards.square, boards.turn_in],
    );
    match plan.wrapper {
        WrapperPlan::Band { height, overlap } => {
            encoder.text("band");
            lengths(&mut encoder, [height, overlap]);
        }
        WrapperPlan::Folded { flap } => {
            encoder.text("folded");
            lengths(&mut encoder, [flap]);
        }
    }
    digits(encoder)
}

/// The scans that the plan names; `content` gives a fingerprint of a file.
pub(super) fn art(plan: &Plan, content: impl Fn(&str) -> String) -> String {
    let mut encoder = Encoder::new(VERSION, "art");
    for picture in &plan.pictures {
        let Some(art) = &picture.art else { continue };
        encoder.text(&picture.name);
        lengths(&mut encoder, [picture.runs_over]);
        encoder.text(&content(&art.file));
    }
    digits(encoder)
}

/// The printing condition's profile, and the date that a PDF/X-4 file tells.
pub(super) fn intent(date: Option<Date>, profile: &str) -> String {
    let mut encoder = Encoder::new(VERSION, "intent");
    encoder.optional(date, |encoder, date| {
        encoder.numbers([date.year, date.month.into(), date.day.into()].map(i64::from));
    });
    encoder.text(profile);
    digits(encoder)
}

fn panel(encoder: &mut Encoder, panel: PanelName) {
    encoder.text(panel.side.word());
    encoder.number(i64::from(panel.number));
}

fn length(encoder: &mut Encoder, length: Length) {
    encoder.number(length.units());
}

fn lengths<const N: usize>(encoder: &mut Encoder, lengths: [Length; N]) {
    encoder.numbers(lengths.map(Length::units));
}
