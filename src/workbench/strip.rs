//! The strip as paper: sheets, scans, plates.

use std::sync::Arc;

use super::{Heeds, Workbench, cannot, lost_fault};
use crate::art::{Art, Edge, Profile, ProfileSpace, fit};
use crate::fault::{Fault, Faults};
use crate::files::OutputFile;
use crate::layout::Layout;
use crate::outputs::{
    Backs, Dummy, ForDummy, ForSheets, Guide, OutputIntent, Scan, Scans, dummy, folding_guide,
    plate_inks, plates, print_sheets,
};
use crate::plan::{Ink, PanelName, Plan, Role, SheetSize, Side};
use crate::proofs;
use crate::strip::{Carried, Closed, Join, Sheets};
use crate::units::Length;

/// A book whose strip is cut into sheets.
pub struct CutBook {
    /// The book.
    pub layout: Layout,
    /// Its plan.
    pub plan: Arc<Plan>,
    /// The sheets.
    pub sheets: Sheets,
    /// The closed book.
    pub closed: Closed,
}

/// Two grounds that stop at one fold, side by side.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct GroundsMeet {
    /// The panels.
    pub panels: (PanelName, PanelName),
    /// Their pictures.
    pub pictures: (String, String),
}

/// A picture file and what was put right of it.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct ScanNote {
    /// Its picture.
    pub picture: String,
    /// What was.
    pub note: String,
}

impl Workbench {
    /// Lays the book out and cuts its strip.
    ///
    /// # Errors
    /// As [`Workbench::lay_out`]; a sheet that is too small, and words that would lie in a join.
    pub fn cut(&mut self) -> Result<CutBook, Faults> {
        let texts = self.read_files()?;
        let plan = self.plan(&texts.plan)?;
        let layout = self.lay_out_book(&texts, Heeds::All)?;
        let sheets = sheets(&layout, &plan)?;
        let closed = Closed::new(&plan, &layout.strip, &sheets);
        Ok(CutBook {
            layout,
            plan,
            sheets,
            closed,
        })
    }

    /// Reads the scans that the plan names for pictures of the layout.
    ///
    /// # Errors
    /// Every file that is missing, damaged, too large, no picture, or of another shape than its panels.
    pub fn scans(&self, plan: &Plan, layout: &Layout) -> Result<(Scans, Vec<ScanNote>), Faults> {
        let (mut scans, mut notes, mut faults) = (Scans::new(), Vec::new(), Vec::new());
        let strip = &layout.strip;
        for planned in &plan.pictures {
            let Some(asked) = &planned.art else {
                continue;
            };
            let name = asked.file.display().to_string();
            let mut tell = |fault: Fault| faults.push(fault.at(asked.place.clone()));
            let art = match Art::read(&self.folder.join(&asked.file), &name) {
                Ok(art) => art,
                Err(fault) => {
                    tell(fault);
                    continue;
                }
            };
            let on =
                |panel: &&crate::layout::LaidPanel| panel.picture.as_ref() == Some(&planned.name);
            let Some(panel) = layout.panels.iter().find(on) else {
                continue;
            };
            let widths = panel.picture_panels.iter();
            let width: Length = widths.map(|&panel| strip.width_of(panel)).sum();
            let paper = strip.paper();
            match fit(&art, &name, (width, paper.panel_height), paper.bleed) {
                Ok(fit) => {
                    notes.extend(art.notes().iter().map(|note| ScanNote {
                        picture: planned.name.clone(),
                        note: note.to_string(),
                    }));
                    let scan = Scan {
                        art,
                        fit,
                        runs_over: planned.runs_over,
                    };
                    scans.insert(planned.name.clone(), scan);
                }
                Err(fault) => tell(fault),
            }
        }
        match faults.is_empty() {
            true => Ok((scans, notes)),
            false => Err(faults),
        }
    }

    /// The dummy on office paper.
    ///
    /// # Errors
    /// As [`Workbench::lay_out`] and [`Workbench::scans`]; paper that has no room for a panel, however small.
    pub fn dummy_file(
        &mut self,
        paper: &SheetSize,
        backs: Backs,
    ) -> Result<(OutputFile, Dummy), Faults> {
        let texts = self.read_files()?;
        let plan = self.plan(&texts.plan)?;
        let layout = self.lay_out_book(&texts, Heeds::All)?;
        let (scans, _) = self.scans(&plan, &layout)?;
        let typeface = self.label_typeface()?;
        let asked = ForDummy {
            layout: &layout,
            scans: &scans,
            typeface: &typeface,
            paper,
            backs,
        };
        let made = dummy(&asked).map_err(|error| vec![cannot(&error)])?;
        let Some(made) = made else {
            let what = "a panel of this book has no room on that paper, however small it is shown";
            let fault = Fault::new("sheet", what);
            return Err(vec![fault.help("take a larger sheet, such as --paper A3")]);
        };
        let file = OutputFile {
            name: "dummy.pdf".to_string(),
            bytes: made.bytes.clone(),
        };
        Ok((file, made))
    }

    /// The printing condition of PDF/X-4 files.
    ///
    /// # Errors
    /// A plan that names none, or no date; a profile that cannot be read, or is not of a press with four inks.
    pub fn intent(&self, plan: &Plan) -> Result<OutputIntent, Faults> {
        let mut faults = Vec::new();
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
        let name = asked.profile.display().to_string();
        match Profile::read(&self.folder.join(&asked.profile), &name) {
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

    /// The print sheets, each read back and proved to hold its words.
    ///
    /// # Errors
    /// A font that cannot be subset, or a file that does not read back as it should.
    pub fn sheet_files(
        &self,
        book: &CutBook,
        scans: &Scans,
        intent: Option<OutputIntent>,
    ) -> Result<Vec<OutputFile>, Faults> {
        let typeface = self.label_typeface()?;
        let asked = for_sheets(book, scans, &typeface, intent);
        let made = print_sheets(&asked).map_err(|error| vec![cannot(&error)])?;
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
            plan: &book.plan,
            sheets: &book.sheets,
            closed: &book.closed,
            typeface: &typeface,
            remarks,
        };
        Ok(OutputFile {
            name: "strip/folding-guide.pdf".to_string(),
            bytes: folding_guide(&guide).map_err(|error| vec![cannot(&error)])?,
        })
    }

    /// The plates of one ink, each read back.
    ///
    /// # Errors
    /// As [`Workbench::sheet_files`].
    pub fn plate_files(
        &self,
        book: &CutBook,
        ink: &(String, Ink),
        mirrored: bool,
    ) -> Result<Vec<OutputFile>, Faults> {
        let typeface = self.label_typeface()?;
        let none = Scans::new();
        let asked = for_sheets(book, &none, &typeface, None);
        let made = plates(&asked, ink, mirrored).map_err(|error| vec![cannot(&error)])?;
        let files = made.into_iter().map(|plate| {
            proved(&plate.bytes, &plate.words, &plate.name)?;
            Ok(OutputFile {
                name: format!("strip/{}", plate.name),
                bytes: plate.bytes,
            })
        });
        files.collect()
    }
}

fn for_sheets<'a>(
    book: &'a CutBook,
    scans: &'a Scans,
    typeface: &'a crate::typeface::Typeface,
    intent: Option<OutputIntent>,
) -> ForSheets<'a> {
    ForSheets {
        layout: &book.layout,
        sheets: &book.sheets,
        scans,
        crossovers: &book.plan.crossovers,
        typeface,
        intent,
    }
}

fn proved(bytes: &[u8], words: &[String], name: &str) -> Result<(), Faults> {
    proofs::read_back(bytes, words, name).map_err(|lost| vec![lost_fault(&lost)])
}

/// The ink of a plate, by its name; without one, the only ink there is.
///
/// # Errors
/// An ink that the words do not have, or none where they have several.
pub fn plate_ink(layout: &Layout, asked: Option<&str>) -> Result<(String, Ink), Faults> {
    let inks = plate_inks(layout);
    let names: Vec<String> = inks.iter().map(|(name, _)| format!("\"{name}\"")).collect();
    let fault = match asked {
        Some(asked) => {
            let same =
                |known: &&(String, Ink)| known.0.to_lowercase() == asked.trim().to_lowercase();
            if let Some(ink) = inks.iter().find(same) {
                return Ok(ink.clone());
            }
            let names = inks.iter().map(|(name, _)| name.as_str());
            let meant = crate::fault::nearest(asked, names);
            Fault::new("no-ink", format!("no words are printed in `{asked}`")).meant(meant)
        }
        None if inks.len() == 1 => return Ok(inks[0].clone()),
        None => {
            let what = match inks.is_empty() {
                true => {
                    "no words are printed in any ink: those that are reversed out are the paper's own"
                }
                false => "the words are printed in several inks, and a plate carries one",
            };
            Fault::new("no-ink", what)
        }
    };
    Err(vec![match names.is_empty() {
        true => fault,
        false => fault.allowed(format!("--plate={}", names.join(", --plate="))),
    }])
}

/// Where words stand along a side: from and to, seen from the front.
fn words_along(layout: &Layout) -> Vec<(Side, Length, Length)> {
    let strip = &layout.strip;
    let mut found = Vec::new();
    for panel in &layout.panels {
        let side = panel.panel.side;
        let left = strip.left_of(panel.panel);
        for line in &panel.lines {
            let ends = [left + line.x, left + line.x + line.width];
            let [a, b] = ends.map(|at| strip.across(side, at));
            found.push((side, a.min(b), a.max(b)));
        }
    }
    found
}

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
    let carried = Carried {
        words: &lie,
        blank: &blank,
    };
    let sheets = Sheets::new(strip, &plan.sheets, &carried).map_err(|fault| vec![fault])?;
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
    let what = format!(
        "words on {on} lie under the join after {}, which covers {} beside the fold",
        join.after, join.width
    );
    let fault = Fault::new("join", what).help(
        "wherever the strip is joined into as few sheets as can be, words lie in a join: give that panel a wider margin at \
         the fold, make the `tab` narrower, take a longer sheet, or write join = \"hinge\" or join = \"doubled\" in [sheets]",
    );
    match &plan.sheets.place {
        Some(place) => fault.at(place.clone()),
        None => fault,
    }
}

/// Folds where a ground stops beside another ground: there is no bleed at a fold. Where the plan says that a motif crosses
/// there, or that one of them runs over, nothing is to be told.
pub fn grounds_meet(book: &CutBook, scans: &Scans) -> Vec<GroundsMeet> {
    let layout = &book.layout;
    let strip = &layout.strip;
    let height = strip.paper().panel_height;
    let mut found = Vec::new();
    for pair in layout.panels.windows(2) {
        let (one, other) = (&pair[0], &pair[1]);
        let (Some(first), Some(second)) = (&one.picture, &other.picture) else {
            continue;
        };
        let crosses = book.plan.crossovers.iter().any(|crossover| {
            let ends = [crossover.from, crossover.to];
            ends.contains(&one.panel) && ends.contains(&other.panel)
        });
        if one.panel.side != other.panel.side || first == second || crosses {
            continue;
        }
        let (Some(a), Some(b)) = (scans.get(first), scans.get(second)) else {
            continue;
        };
        if a.runs_over > Length::ZERO || b.runs_over > Length::ZERO {
            continue;
        }
        let later_at_right = strip.left_of(one.panel) < strip.left_of(other.panel);
        let edges = match later_at_right {
            true => (Edge::Right, Edge::Left),
            false => (Edge::Left, Edge::Right),
        };
        let width = |panel: &crate::layout::LaidPanel| {
            let widths = panel.picture_panels.iter();
            widths.map(|&panel| strip.width_of(panel)).sum::<Length>()
        };
        let ground =
            |scan: &Scan, edge, panel| scan.art.edge(edge, width(panel), height).is_ground();
        if ground(a, edges.0, one) && ground(b, edges.1, other) {
            found.push(GroundsMeet {
                panels: (one.panel, other.panel),
                pictures: (first.clone(), second.clone()),
            });
        }
    }
    found
}
