//! Our own lines of a text, at every measure.

use versefold::assets::Assets;
use versefold::book::plan_file::check;
use versefold::names::{Direction, Length, SetAs, Source};
use versefold::paper::Strip;
use versefold::plan::PartPlan;
use versefold::setting::{self, ProseContext, ProseLine, SetPart};
use versefold::text::{Manuscript, escape};
use versefold::typeface::{FontLibrary, Shaper};

use super::{AtMeasures, Line, Sample};

/// A panel this wide has room for every measure.
const PANEL_MM: f64 = 200.0;

/// So many have each of them: a part must have room for its words.
const PANELS_EACH: usize = 12;

/// A book with some panels for each measure, `keys` said of its text. No panel ends within a paragraph: lines are asked
/// for paragraph by paragraph.
fn plan_of(sample: &Sample, measures: &[f64], keys: &str) -> String {
    let panels = measures.len() * PANELS_EACH;
    let mut plan = format!(
        "title = \"The Winter Bus\"\nlanguage = \"{}\"\nmanuscript = \"text.txt\"\n\n\
         [paper]\npanel-width = \"{PANEL_MM} mm\"\npanel-height = \"300 mm\"\npanels-per-side = {panels}\n\
         sides = \"front\"\n\n\
         [text]\nset-as = \"prose\"\ntypeface = \"{}\"\nsize = \"11 pt\"\nparagraph-indent = \"1 em\"\n{keys}\n",
        sample.language,
        sample.family(),
    );
    for (number, measure) in measures.iter().cycle().take(panels).enumerate() {
        let side = (PANEL_MM - measure) / 2.0;
        plan.push_str(&format!(
            "\n[[panel]]\npanel = \"front {}\"\nmargins = {{ left = \"{side} mm\", right = \"{side} mm\" }}\n",
            number + 1
        ));
    }
    plan
}

/// A sample set as a part of its own.
pub struct SetSample {
    pub part: SetPart,
    pub planned: PartPlan,
}

impl SetSample {
    /// Sets a sample at these measures, with what `keys` say of the text.
    pub fn of(sample: &Sample, measures: &[f64], keys: &str) -> SetSample {
        let plan_source = Source::new("concertina.toml", plan_of(sample, measures, keys));
        let plan = check::read(&plan_source).expect("a sound plan");
        let words = escape(&sample.paragraphs.join("\n\n"), false);
        let manuscript =
            Manuscript::read_as(&Source::new("text.txt", words), SetAs::Prose, |_| false);
        let manuscript = manuscript.expect("a sound manuscript");
        let fonts = FontLibrary::new(Assets::memory());
        let strip = Strip::new(plan.paper);
        let set = setting::set(&manuscript, &plan, &strip, &fonts).expect("it can be set");
        let part = set.parts.into_iter().next().expect("all is one part");
        let planned = plan.parts[part.plan_index].clone();
        SetSample { part, planned }
    }

    /// The number of the column that has this measure.
    pub fn column(&self, measure: f64) -> usize {
        let is_it =
            |of: &usize| (self.part.columns[*of].line(0).measure.as_mm() - measure).abs() < 0.001;
        let found = (0..self.part.columns.len()).find(is_it);
        found.expect("a panel has this measure")
    }

    /// The word space of its face.
    pub fn space(&self) -> Length {
        let shaper = Shaper::new(&self.part.typeface, &self.planned.language);
        shaper.space(self.part.rows[0].voice)
    }

    /// Its lines in a column, paragraph by paragraph.
    pub fn lines(&self, number: usize) -> Vec<Vec<ProseLine>> {
        let shaper = Shaper::new(&self.part.typeface, &self.planned.language);
        let rows = self.part.rows.iter().map(|row| {
            let context = ProseContext {
                shaper: &shaper,
                style: &self.planned.text,
                reads: self.planned.reads,
                row,
                number,
                column: &self.part.columns[number],
                slot: 0,
            };
            let last = row.paragraph.as_ref().expect("all is prose").breaks.len() - 1;
            setting::prose_lines(&context, 0, last)
        });
        rows.collect()
    }
}

/// The lines of a sample at each measure, paragraph by paragraph.
pub fn set(sample: &Sample, measures: &[f64], justified: bool, hyphenate: bool) -> AtMeasures {
    let align = match Direction::of_language(&sample.language) {
        _ if justified => "justified",
        Direction::LeftToRight => "left",
        Direction::RightToLeft => "right",
    };
    let keys = format!("align = \"{align}\"\nhyphenate = {hyphenate}\nhang = \"none\"");
    let set = SetSample::of(sample, measures, &keys);
    let at_measure = |measure: &f64| {
        let lines = set.lines(set.column(*measure)).into_iter();
        let paragraphs = lines.zip(set.part.rows.iter()).map(|(lines, row)| {
            let line = |line: &ProseLine| Line {
                text: row.shaped.text[line.text.clone()].to_string(),
                hyphen: line.hyphen,
                width: Some((line.width - line.spread).as_mm()),
            };
            lines.iter().map(line).collect()
        });
        paragraphs.collect()
    };
    measures.iter().map(at_measure).collect()
}
