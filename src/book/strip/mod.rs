//! The strip as paper: sheets, scans, plates, the dummy.

mod plates;
mod scans;

pub use scans::{GroundsMeet, ScanNote, grounds_meet};

use std::sync::Arc;

use super::{BreaksPolicy, Workbench, broken_promise, cannot};
use crate::art::{Profile, ProfileSpace};
use crate::layout::Layout;
use crate::names::{Deed, Fault, Faults, JoinKind, Length, PanelName, Role, SheetSize, Side};
use crate::outputs::{
    Backs, BenchFacts, Dummy, ForDummy, ForSheets, Guide, OutputFile, OutputIntent, Scans, dummy,
    folding_guide, print_sheets,
};
use crate::paper::{ClosedBook, CutCover, Join, Sheets, StripContents};
use crate::plan::{Plan, SheetsPlan};
use crate::readback::proof;
use crate::typeface::Typeface;

/// A book whose strip is cut into sheets.
#[non_exhaustive]
pub struct CutBook {
    /// The book.
    pub layout: Layout,
    /// Its plan.
    pub plan: Arc<Plan>,
    /// The sheets.
    pub sheets: Sheets,
    /// The closed book.
    pub closed: ClosedBook,
    /// Whether there would be fewer sheets without paper to spare at the strip's end.
    pub spare_costs_a_sheet: bool,
}

impl Workbench {
    /// Lays the book out and cuts its strip.
    ///
    /// # Errors
    /// As [`Workbench::lay_out`]; a sheet that is too small, and words that would lie in a join.
    pub fn cut(&mut self) -> Result<CutBook, Faults> {
        let texts = self.read_files()?;
        let plan = self.plan(&texts.plan)?;
        let layout = self.lay_out_book(&texts, BreaksPolicy::All)?;
        let sheets = sheets(&layout, &plan)?;
        let closed = ClosedBook::new(&plan, &layout.strip, &sheets);
        let without = SheetsPlan {
            spare: Length::ZERO,
            ..plan.sheets.clone()
        };
        let without = Sheets::new(&layout.strip, &without, &StripContents::nothing());
        let fewer = without.is_ok_and(|without| without.sheets.len() < sheets.sheets.len());
        let nothing = Sheets::new(&layout.strip, &plan.sheets, &StripContents::nothing());
        let as_few = nothing.is_ok_and(|nothing| nothing.sheets.len() == sheets.sheets.len());
        Ok(CutBook {
            spare_costs_a_sheet: fewer && as_few && plan.sheets.spare > Length::ZERO,
            layout,
            plan,
            sheets,
            closed,
        })
    }

    /// The dummy on office paper.
    ///
    /// # Errors
    /// As [`Workbench::lay_out`] and [`Workbench::scans`]; paper that has no room for a panel, however small.
    pub fn dummy_file(
        &mut self,
        paper: &SheetSize,
        backs: Backs,
    ) -> Result<(OutputFile, Dummy, Layout), Faults> {
        let texts = self.read_files()?;
        let plan = self.plan(&texts.plan)?;
        let layout = self.lay_out_book(&texts, BreaksPolicy::All)?;
        let (scans, _) = self.scans(&plan, &layout)?;
        let typeface = self.label_typeface()?;
        let asked = ForDummy {
            layout: &layout,
            scans: &scans,
            typeface: &typeface,
            paper,
            backs,
        };
        let made = dummy(&asked).map_err(|error| cannot(&error))?;
        let Some(made) = made else {
            let what = "a panel of this book has no room on that paper, however small it is shown";
            let fault = Fault::new("sheet", what);
            return Err(fault
                .help("take a larger sheet")
                .deed(Deed::TakeSheet("A3"))
                .into());
        };
        proved(&made.bytes, &made.words, "dummy.pdf")?;
        let file = OutputFile {
            name: "dummy.pdf".to_string(),
            bytes: made.bytes.clone(),
        };
        Ok((file, made, layout))
    }

    /// The printing condition of PDF/X-4 files.
    ///
    /// # Errors
    /// A plan that names none, or no date; a profile that cannot be read, or is not of a press with four inks.
    pub fn intent(&self, plan: &Plan) -> Result<OutputIntent, Faults> {
        let mut faults = Faults::new();
        if plan.date.is_none() {
            let what = "PDF/X-4 files bear a date, and the plan names none";
            faults.push(
                Fault::new("missing-key", what)
                    .help("write one at the top of the plan, such as date = 2026-11-25"),
            );
        }
        let Some(asked) = &plan.sheets.intent else {
            let what = "PDF/X-4 files are made for a printing condition, and the plan names none";
            let fault = Fault::new("missing-key", what);
            faults.push(fault.help(
                "ask the print shop for its ICC profile, put it into the book's folder, and name it in [sheets]: \
                 intent = \"press.icc\"",
            ));
            return Err(faults);
        };
        let name = &asked.profile;
        match Profile::read(&self.assets, name) {
            Err(fault) => faults.push(fault.at(asked.place.clone())),
            Ok(profile) if profile.space() != Some(ProfileSpace::Cmyk) => {
                let what = format!("`{name}` is not a profile of four inks");
                let fault = Fault::new("wrong-profile", what).at(asked.place.clone());
                faults.push(fault.allowed(
                    "a profile of a press that prints in cyan, magenta, yellow and black",
                ));
            }
            Ok(profile) if faults.is_empty() => {
                let condition = asked.condition.clone().or_else(|| profile.description());
                return Ok(OutputIntent {
                    channels: ProfileSpace::Cmyk.channels(),
                    condition: condition.unwrap_or_else(|| "Custom".to_string()),
                    profile: profile.bytes().to_vec(),
                });
            }
            Ok(_) => {}
        }
        Err(faults)
    }

    /// The print sheets, each read back and proved to hold its words; without scans, of words and marks alone.
    ///
    /// # Errors
    /// A font that cannot be subset, or a file that does not read back as it should.
    pub fn sheet_files(
        &self,
        book: &CutBook,
        scans: Option<&Scans>,
        intent: Option<OutputIntent>,
    ) -> Result<Vec<OutputFile>, Faults> {
        let typeface = self.label_typeface()?;
        let asked = for_sheets(book, scans, &typeface, intent);
        let made = print_sheets(&asked).map_err(|error| cannot(&error))?;
        let files = made.into_iter().map(|sheet| {
            proved(&sheet.bytes, &sheet.words, &sheet.name)?;
            Ok(OutputFile {
                name: format!("strip/{}", sheet.name),
                bytes: sheet.bytes,
            })
        });
        files.collect()
    }

    /// The folding guide, with what its maker should look at.
    ///
    /// # Errors
    /// A font that cannot be subset.
    pub fn guide_file(&self, book: &CutBook, remarks: &[String]) -> Result<OutputFile, Faults> {
        let typeface = self.label_typeface()?;
        let guide = Guide {
            layout: &book.layout,
            facts: bench_facts(&book.plan),
            cover: &CutCover::new(&book.plan, &book.closed),
            sheets: &book.sheets,
            closed: &book.closed,
            typeface: &typeface,
            remarks,
        };
        Ok(OutputFile {
            name: "strip/folding-guide.pdf".to_string(),
            bytes: folding_guide(&guide).map_err(|error| cannot(&error))?,
        })
    }
}

/// What the folding guide tells of a plan.
pub(crate) fn bench_facts(plan: &Plan) -> BenchFacts<'_> {
    let scans = plan.pictures.iter().filter_map(|picture| {
        let art = picture.art.as_ref()?;
        Some((picture.name.as_str(), art.file.as_str()))
    });
    BenchFacts {
        stock: plan.stock,
        score: plan.score,
        sheet: plan.sheets.size.as_ref(),
        join: plan.sheets.join,
        spare: plan.sheets.spare,
        crossovers: &plan.crossovers,
        scans: scans.collect(),
    }
}

/// What words alone are printed with.
static NO_SCANS: Scans = Scans::new();

fn for_sheets<'a>(
    book: &'a CutBook,
    scans: Option<&'a Scans>,
    typeface: &'a Typeface,
    intent: Option<OutputIntent>,
) -> ForSheets<'a> {
    ForSheets {
        layout: &book.layout,
        sheets: &book.sheets,
        scans: scans.unwrap_or(&NO_SCANS),
        words_only: scans.is_none(),
        crossovers: &book.plan.crossovers,
        typeface,
        intent,
    }
}

fn proved(bytes: &[u8], words: &[String], name: &str) -> Result<(), Faults> {
    proof::read_back(bytes, words, name).map_err(|broken| broken_promise(&broken).into())
}

/// Where words stand along a side: from and to, seen from the front.
fn words_along(layout: &Layout) -> Vec<(Side, Length, Length)> {
    let strip = &layout.strip;
    let mut found = Vec::new();
    for panel in &layout.panels {
        let side = panel.panel.side;
        let left = strip.left_of(panel.panel);
        for ((from, _), (width, _)) in panel.line_boxes() {
            let ends = [left + from, left + from + width];
            let [a, b] = ends.map(|at| strip.across(side, at));
            found.push((side, a.min(b), a.max(b)));
        }
    }
    found
}

/// Tabs, and tissues of hinges, that are tried where the usual ones would lie over words.
const NARROWER: [Length; 2] = [Length::mm(10), Length::mm(8)];

fn sheets(layout: &Layout, plan: &Plan) -> Result<Sheets, Faults> {
    let strip = &layout.strip;
    let words = words_along(layout);
    let lie = |side: Side, from: Length, to: Length| {
        words
            .iter()
            .any(|word| word.0 == side && word.1 < to && from < word.2)
    };
    let blank = |panel: PanelName| {
        let laid = layout.panels.iter().find(|laid| laid.panel == panel);
        laid.is_none_or(|laid| matches!(laid.role, Role::Blank | Role::PasteDown))
    };
    let carried = StripContents {
        words: &lie,
        blank: &blank,
    };
    let mut sheets = Sheets::new(strip, &plan.sheets, &carried)?;
    // Where the author does not say how wide tabs are, they may be narrower rather than lie over words.
    let narrower = NARROWER.iter().filter(|_| !plan.sheets.tab_asked);
    for &tab in narrower {
        if sheets.words_in_joins.is_empty() || plan.sheets.join == JoinKind::Doubled {
            break;
        }
        let narrow = SheetsPlan {
            tab,
            ..plan.sheets.clone()
        };
        if let Ok(other) = Sheets::new(strip, &narrow, &carried)
            && other.words_in_joins.is_empty()
        {
            sheets = other;
        }
    }
    let over = sheets.words_in_joins.iter();
    let faults: Faults = over.map(|join| over_words(layout, plan, join)).collect();
    match faults.is_empty() {
        true => Ok(sheets),
        false => Err(faults),
    }
}

fn over_words(layout: &Layout, plan: &Plan, join: &Join) -> Fault {
    let strip = &layout.strip;
    let (from, to) = join.zone();
    let there = layout.panels.iter().find(|panel| {
        panel.panel.side == Side::Back && !panel.lines.is_empty() && {
            let left = strip.left_of(panel.panel);
            let ends = [left, left + strip.width_of(panel.panel)];
            let [a, b] = ends.map(|at| strip.across(Side::Back, at));
            a.min(b) < to && from < a.max(b)
        }
    });
    let on = there.map_or("the back".to_string(), |panel| panel.panel.to_string());
    let covers = match join.kind {
        JoinKind::Hinge => format!("whose tissue of {} covers", join.width),
        _ => format!("whose tab of {} covers", join.width),
    };
    let what = format!(
        "words on {on} lie under the join after {}, {covers} what is beside the fold",
        join.after
    );
    let fault = Fault::new("join", what).help(match join.kind {
        JoinKind::Hinge => {
            "wherever the strip is joined, words lie in a join: give that panel a wider margin at the fold, make the tissue \
             (`tab`) narrower, take a longer sheet, or write join = \"doubled\" in [sheets]"
        }
        _ => {
            "wherever the strip is joined, words lie in a join: give that panel a wider margin at the fold, make the `tab` \
             narrower, take a longer sheet, or write join = \"hinge\" or join = \"doubled\" in [sheets]"
        }
    });
    match &plan.sheets.place {
        Some(place) => fault.at(place.clone()),
        None => fault,
    }
}
