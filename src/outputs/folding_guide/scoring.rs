//! How to score this paper, when to, and which way its grain must run.

use super::Guide;
use super::page::Pages;
use crate::names::{Grain, Length, Score, Stock, decimals};
use crate::paper::GrainAdvice;

/// From 0.005 in on paper is scored before it is folded (printers’ notes).
const THICK: Length = Length::from_units(4_572);
/// A creasing rule of two points, 0.7 mm (common practice).
const RULE: Length = Length::from_units(Length::mm(7).units() / 10);

/// Tells of the grain and the scores.
pub(super) fn tell(pages: &mut Pages<'_>, guide: &Guide<'_>) {
    let facts = &guide.facts;
    pages.heading("Paper");
    pages.led("Grain.", &grain(guide));
    pages.led("When to score.", &when(&facts.stock));
    match facts.score {
        Score::Crease => pages.led("How: crease.", &crease(facts.stock.leaf())),
        Score::Cut => pages.led(
            "How: cut.",
            "For board: a light cut on the outside of the fold, about half-way through, along a steel rule; then fold away \
             from the cut. On printed paper the cut shows the white core: try a cut and a crease on an offcut before you \
             decide.",
        ),
    }
}

fn grain(guide: &Guide<'_>) -> String {
    let size = guide.facts.sheet;
    let sheet = size.map(|size| match &size.name {
        Some(name) => name.clone(),
        None => format!("sheets of {} × {}", size.long.without_unit(), size.short),
    });
    let sheet = sheet.unwrap_or_else(|| "sheets".to_string());
    let advice = match guide.sheets.grain {
        GrainAdvice::Laid => {
            "The plan’s sheets are laid so: make sure that the paper is what it says".to_string()
        }
        GrainAdvice::AskFor(Grain::Short) => format!("Ask for short-grain {sheet}"),
        GrainAdvice::AskFor(Grain::Long) => format!("Ask for long-grain {sheet}"),
        GrainAdvice::CutAcross => {
            "Cut the sheet so that its grain lies across the strip’s length".to_string()
        }
        GrainAdvice::Roll => "So long a sheet comes from a roll, and paper from a roll has its grain along its length, \
                              across your folds: it cracks and springs open sooner. Give longest-sheet to join the strip \
                              from cut sheets, or try it on an offcut first"
            .to_string(),
    };
    format!(
        "It must run from head to tail, along the folds. {advice}. To find it, bend the paper both ways: it gives more \
         easily along its grain (common practice)."
    )
}

fn when(stock: &Stock) -> String {
    let leaf = stock.leaf();
    let thick = leaf.filter(|leaf| *leaf > THICK);
    let is = match (stock.grammage, leaf) {
        (Some(grams), Some(leaf)) => format!("{grams} g/m² and {} mm", hundredths(leaf)),
        (Some(grams), None) => format!("{grams} g/m²"),
        (None, Some(leaf)) => format!("{} mm thick", hundredths(leaf)),
        (None, None) => {
            return "From 150 g/m² score first (a paper maker’s notes), from 200 g/m² crease (a printing glossary), \
                    and so with whatever is thicker than 0.127 mm (printers’ notes). The plan does not say what this paper \
                    weighs or how thick it is."
                .to_string();
        }
    };
    let because = match (stock.grammage, thick) {
        (Some(200..), _) => {
            "crease it before folding: glossaries of printing ask for that from 200 g/m² on"
        }
        (Some(150..), _) => {
            "score it before folding: a paper maker’s notes ask for that from 150 g/m² on"
        }
        (_, Some(_)) => "score it before folding: printers’ notes ask for that above 0.127 mm",
        (Some(_), None) if leaf.is_none() => {
            "light enough to fold as it is, unless it is thicker than 0.127 mm (printers’ notes)"
        }
        _ => "light enough to fold as it is; a score still gives each fold its line",
    };
    format!("This paper is {is}: {because}.")
}

fn crease(leaf: Option<Length>) -> String {
    let how = "Press a line from the outside of the fold, so that a bead rises on the inside; fold towards the bead.";
    let machine = "On a machine the channel is twice the paper’s thickness and the rule’s wide, and the paper’s thickness \
                   deep (a paper maker’s notes)";
    let numbers = match leaf {
        Some(leaf) => format!(
            ": here {} mm and the rule’s wide, {} mm with a rule of {} mm, and {} mm deep.",
            hundredths(leaf * 2),
            hundredths(leaf * 2 + RULE),
            hundredths(RULE),
            hundredths(leaf)
        ),
        None => ".".to_string(),
    };
    let hand = "By hand, press with a bone folder along a steel rule, on something that gives.";
    format!("{how} {machine}{numbers} {hand}")
}

fn hundredths(length: Length) -> String {
    decimals(length.as_mm(), 2)
}
