//! Books whose guides are looked at.

use std::sync::Arc;

use super::super::{ClosedBook, CutCover, Guide, Layout, Sheets, Typeface};
use crate::assets::Assets;
use crate::book::{Workbench, bench_facts};
use crate::names::Source;
use crate::paper::{Strip, StripContents};
use crate::plan::Plan;
use crate::typeface::FontLibrary;

pub(super) struct Book {
    pub(super) plan: Arc<Plan>,
    pub(super) layout: Layout,
    pub(super) sheets: Sheets,
    pub(super) closed: ClosedBook,
    pub(super) cover: CutCover,
    pub(super) typeface: Typeface,
}

/// A book with these panels and these keys of `[paper]`; `more` are other tables of its plan.
pub(super) fn book(size: (&str, &str), panels: u16, paper: &str, more: &str) -> Book {
    let plan = format!(
        "title = \"The Winter Bus\"\nlanguage = \"en-GB\"\nmanuscript = \"winter-bus.txt\"\n\n\
         [paper]\npanel-width = \"{}\"\npanel-height = \"{}\"\npanels-per-side = {panels}\n\
         safety = {{ fold = \"1 mm\", edge = \"1 mm\" }}\n{paper}\n\
         [text]\nsize = \"6 pt\"\nleading = \"7 pt\"\n\
         margins = {{ head = \"3 mm\", foot = \"3 mm\", left = \"2 mm\", right = \"2 mm\" }}\n\n\
         [rules]\nundivided = \"line\"\nmay-give = [\"picture-comes\"]\n\n{more}",
        size.0, size.1
    );
    let stanza = "We put the chains on,\nthe snow stood in the beam.\n\n";
    let manuscript = format!(
        "# Winter\n\n{}[picture: the tunnel]\n",
        stanza.repeat(usize::from(panels.min(40)) / 3 + 1)
    );
    let mut bench = Workbench::new(Assets::memory());
    let plan_source = Source::new("concertina.toml", plan);
    let text = Source::new("winter-bus.txt", manuscript);
    let plan = bench
        .plan(&plan_source)
        .unwrap_or_else(|faults| panic!("{faults:#?}"));
    let layout = bench
        .lay_out_texts(&plan_source, &text)
        .unwrap_or_else(|faults| panic!("{faults:#?}"));
    let strip = Strip::new(plan.paper);
    let sheets = Sheets::new(&strip, &plan.sheets, &StripContents::nothing()).unwrap();
    let closed = ClosedBook::new(&plan, &strip, &sheets);
    let fonts = FontLibrary::new(Assets::memory());
    let names = ["Alegreya Sans", "Amiri", "Noto Serif Hebrew"];
    let mut families = names.iter().filter_map(|name| fonts.open_family(name));
    let main = families.next().unwrap();
    let typeface = Typeface::new(main, families.collect());
    Book {
        cover: CutCover::new(&plan, &closed),
        plan,
        layout,
        sheets,
        closed,
        typeface,
    }
}

impl Book {
    pub(super) fn guide<'a>(&'a self, remarks: &'a [String]) -> Guide<'a> {
        Guide {
            layout: &self.layout,
            facts: bench_facts(&self.plan),
            cover: &self.cover,
            sheets: &self.sheets,
            closed: &self.closed,
            typeface: &self.typeface,
            remarks,
        }
    }
}

pub(super) const A6: (&str, &str) = ("105 mm", "148 mm");
pub(super) const SRA3: &str = "[sheets]\nsize = \"SRA3\"\n";
pub(super) const AROUND: &str =
    "[[crossover]]\nfrom = \"front 17\"\nto = \"back 17\"\nheights = [\"20 mm\", \"70 mm\"]\n";
pub(super) const OVER: &str = "[[crossover]]\nfrom = \"front 4\"\nto = \"front 5\"\nheights = [\"40 mm\", \"90 mm\"]\n\
                    [[crossover]]\nfrom = \"front 8\"\nto = \"back 1\"\n";

pub(super) fn remarks() -> Vec<String> {
    let path = "art/".to_string() + &"a-very-long-name-of-a-file".repeat(8) + ".png";
    vec![
        "Words lie under join 2: move them, or make the tab narrower.".to_string(),
        path,
    ]
}

pub(super) fn books() -> Vec<(&'static str, Book)> {
    let wrapper = "cover = \"wrapper\"\ngrammage = 160\nbulk = 1.2";
    let boards = "cover = \"boards\"\nthickness = \"0.24 mm\"\ngrammage = 200\nends = { first = \"107 mm\" }";
    let foot = "turned = \"head-to-foot\"\ncover = \"wrapper\"\nwrapper = { kind = \"band\" }";
    let band = "cover = \"wrapper\"\nthickness = \"0.2 mm\"\nwrapper = { kind = \"band\", overlap = \"5 mm\" }";
    let rtl = "reads = \"right-to-left\"\ncover = \"boards\"\nthickness = \"0.3 mm\"";
    let uneven = "ends = { first = \"130 mm\", last = \"61.5 mm\" }";
    let thick = "grammage = 250\nbulk = 1.1";
    vec![
        ("2", book(A6, 2, "sides = \"front\"\nscore = \"cut\"", "")),
        (
            "4",
            book(A6, 4, "sides = \"front\"\ngrammage = 120\nbulk = 1.0", ""),
        ),
        ("7", book(A6, 7, boards, SRA3)),
        ("8", book(A6, 8, wrapper, &format!("{OVER}{SRA3}"))),
        ("8-one", book(A6, 8, "score = \"cut\"", "")),
        (
            "17",
            book(
                A6,
                17,
                foot,
                &format!("{AROUND}[sheets]\nsize = \"A3\"\njoin = \"hinge\"\n"),
            ),
        ),
        (
            "16",
            book(A6, 16, rtl, &format!("{SRA3}join = \"doubled\"\n")),
        ),
        (
            "16-tab",
            book(
                ("4.125 in", "5.8 in"),
                16,
                "reads = \"right-to-left\"",
                SRA3,
            ),
        ),
        ("60", book(A6, 60, thick, SRA3)),
        ("60-one", book(A6, 60, thick, "")),
        ("9-ends", book(A6, 9, uneven, SRA3)),
        ("8-band", book(A6, 8, band, "")),
        ("400", book(A6, 400, "", "")),
        (
            "high",
            book(("30 mm", "1000 mm"), 24, "cover = \"boards\"", ""),
        ),
        (
            "wide",
            book(("1000 mm", "40 mm"), 9, "cover = \"wrapper\"", ""),
        ),
    ]
}
