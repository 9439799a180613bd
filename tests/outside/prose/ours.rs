//! Our own lines of a text, at every measure.

use versefold::assets::Assets;
use versefold::book::plan_file::check;
use versefold::names::{Direction, SetAs, Source};
use versefold::paper::Strip;
use versefold::plan::PartPlan;
use versefold::setting::{self, ProseContext, SetPart};
use versefold::text::{Manuscript, escape};
use versefold::typeface::{FontLibrary, Shaper};

use super::{AtMeasures, Line, Sample};

/// A panel this wide has room for every measure.
const PANEL_MM: f64 = 200.0;

/// A book with one panel for each measure. No panel ends within a paragraph: lines are asked for paragraph by
/// paragraph.
fn plan_of(sample: &Sample, measures: &[f64], align: &str, hyphenate: bool) -> String {
    let panels = measures.len().max(2);
    let mut plan = format!(
        "title = \"The Winter Bus\"\nlanguage = \"{}\"\nmanuscript = \"text.txt\"\n\n\
         [paper]\npanel-width = \"{PANEL_MM} mm\"\npanel-height = \"300 mm\"\npanels-per-side = {panels}\n\
         sides = \"front\"\n\n\
         [text]\nset-as = \"prose\"\ntypeface = \"{}\"\nsize = \"11 pt\"\nalign = \"{align}\"\n\
         hyphenate = {hyphenate}\nhang = \"none\"\nparagraph-indent = \"1 em\"\n",
        sample.language,
        sample.family(),
    );
    for (number, measure) in measures.iter().enumerate() {
        let side = (PANEL_MM - measure) / 2.0;
        plan.push_str(&format!(
            "\n[[panel]]\npanel = \"front {}\"\nmargins = {{ left = \"{side} mm\", right = \"{side} mm\" }}\n",
            number + 1
        ));
    }
    plan
}

/// The lines of a sample at each measure, paragraph by paragraph.
pub fn set(sample: &Sample, measures: &[f64], justified: bool, hyphenate: bool) -> AtMeasures {
    let align = match Direction::of_language(&sample.language) {
        _ if justified => "justified",
        Direction::LeftToRight => "left",
        Direction::RightToLeft => "right",
    };
    let plan_source = Source::new(
        "concertina.toml",
        plan_of(sample, measures, align, hyphenate),
    );
    let plan = check::read(&plan_source).expect("a sound plan");
    let words = escape(&sample.paragraphs.join("\n\n"), false);
    let manuscript = Manuscript::read_as(&Source::new("text.txt", words), SetAs::Prose, |_| false);
    let manuscript = manuscript.expect("a sound manuscript");
    let fonts = FontLibrary::new(Assets::memory());
    let set =
        setting::set(&manuscript, &plan, &Strip::new(plan.paper), &fonts).expect("it can be set");
    let part = &set.parts[0];
    let planned = &plan.parts[part.plan_index];
    let at_measure = |measure: &f64| {
        let is_it =
            |of: &&usize| (part.columns[**of].line(0).measure.as_mm() - measure).abs() < 0.001;
        let all: Vec<usize> = (0..part.columns.len()).collect();
        let number = *all.iter().find(is_it).expect("a panel has this measure");
        lines_at(part, planned, number)
    };
    measures.iter().map(at_measure).collect()
}

fn lines_at(part: &SetPart, planned: &PartPlan, number: usize) -> Vec<Vec<Line>> {
    let shaper = Shaper::new(&part.typeface, &planned.language);
    let rows = part.rows.iter().map(|row| {
        let context = ProseContext {
            shaper: &shaper,
            style: &planned.text,
            reads: planned.reads,
            row,
            number,
            column: &part.columns[number],
            slot: 0,
        };
        let last = row.paragraph.as_ref().expect("all is prose").breaks.len() - 1;
        let lines = setting::prose_lines(&context, 0, last);
        let lines = lines.iter().map(|line| Line {
            text: row.shaped.text[line.text.clone()].to_string(),
            hyphen: line.hyphen,
            width: Some((line.width - line.spread).as_mm()),
        });
        lines.collect()
    });
    rows.collect()
}
