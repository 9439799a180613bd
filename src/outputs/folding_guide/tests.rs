//! Guides of whole books: what stands in them, and that it stands on the page.

use super::*;
use crate::fault::Source;
use crate::outputs::pdf::Drawing;
use crate::strip::{Carried, Strip};
use crate::typeface::Shelf;
use crate::workbench::Workbench;

struct Book {
    plan: std::sync::Arc<Plan>,
    layout: Layout,
    sheets: Sheets,
    closed: Closed,
    typeface: Typeface,
}

fn book(panels: u16, paper: &str, more: &str) -> Book {
    let plan = format!(
        "title = \"The Winter Bus\"\nlanguage = \"en-GB\"\nmanuscript = \"winter-bus.txt\"\n\n\
         [paper]\npanel-width = \"105 mm\"\npanel-height = \"148 mm\"\npanels-per-side = {panels}\n{paper}\n\
         [rules]\nundivided = \"line\"\nmay-give = [\"picture-comes\"]\n\n{more}"
    );
    let stanza = "We put the chains on at the hut,\nthe snow stood in the beam.\nNobody spoke until the bend,\n\
                  and then of other things.\n\n";
    let manuscript = format!(
        "# The Winter Bus\n\n{}[picture: the tunnel]\n",
        stanza.repeat(usize::from(panels.min(40)) / 3 + 1)
    );
    let mut bench = Workbench::new(".");
    let plan_source = Source::new("concertina.toml", plan);
    let text = Source::new("winter-bus.txt", manuscript);
    let plan = bench
        .plan(&plan_source)
        .unwrap_or_else(|faults| panic!("{faults:#?}"));
    let layout = bench
        .lay_out_texts(&plan_source, &text)
        .unwrap_or_else(|faults| panic!("{faults:#?}"));
    let strip = Strip::new(plan.paper);
    let sheets = Sheets::new(&strip, &plan.sheets, &Carried::nothing()).unwrap();
    let closed = Closed::new(&plan, &strip, &sheets);
    let shelf = Shelf::new(".");
    let mut families = ["Alegreya Sans", "Amiri", "Noto Serif Hebrew"]
        .iter()
        .filter_map(|name| shelf.open_family(name));
    let typeface = Typeface {
        main: families.next().unwrap(),
        fallback: families.collect(),
        features: Vec::new(),
    };
    Book {
        plan,
        layout,
        sheets,
        closed,
        typeface,
    }
}

impl Book {
    fn guide<'a>(&'a self, remarks: &'a [String]) -> Guide<'a> {
        Guide {
            layout: &self.layout,
            plan: &self.plan,
            sheets: &self.sheets,
            closed: &self.closed,
            typeface: &self.typeface,
            remarks,
        }
    }
}

const SRA3: &str = "[sheets]\nsize = \"SRA3\"\n";
const A3: &str = "[sheets]\nsize = \"A3\"\n";

fn shelf() -> Vec<(&'static str, Book)> {
    vec![
        (
            "4",
            book(4, "sides = \"front\"\ngrammage = 120\nbulk = 1.0", ""),
        ),
        (
            "7-boards",
            book(
                7,
                "cover = \"boards\"\nthickness = \"0.24 mm\"\ngrammage = 200\nends = { first = \"107 mm\" }",
                SRA3,
            ),
        ),
        (
            "8-wrapper",
            book(
                8,
                "cover = \"wrapper\"\ngrammage = 160\nbulk = 1.2",
                &format!(
                    "[[crossover]]\nfrom = \"front 4\"\nto = \"front 5\"\nheights = [\"40 mm\", \"90 mm\"]\n[[crossover]]\nfrom = \"front 8\"\nto = \"back 1\"\nheights = [\"20 mm\", \"70 mm\"]\n{SRA3}"
                ),
            ),
        ),
        ("8-one", book(8, "score = \"cut\"", "")),
        (
            "17-foot",
            book(
                17,
                "turned = \"head-to-foot\"\ncover = \"wrapper\"\nwrapper = { kind = \"band\" }",
                &format!(
                    "[[crossover]]\nfrom = \"front 17\"\nto = \"back 17\"\nheights = [\"20 mm\", \"70 mm\"]\n{A3}join = \"hinge\"\n"
                ),
            ),
        ),
        (
            "16-rtl",
            book(
                16,
                "reads = \"right-to-left\"\ncover = \"boards\"\nthickness = \"0.3 mm\"",
                &format!("{SRA3}join = \"doubled\"\n"),
            ),
        ),
        ("16-one", book(16, "", "")),
        ("60", book(60, "grammage = 250\nbulk = 1.1", SRA3)),
        ("60-roll", book(60, "grammage = 250\nbulk = 1.1", "")),
        ("400", book(400, "", "")),
    ]
}

#[test]
#[ignore = "for looking at"]
fn look() {
    let to = std::env::var("GUIDES").unwrap();
    for (name, book) in shelf() {
        let remarks = [
            "Words lie under join 2: move them, or make the tab narrower.".to_string(),
            "The art of front 3 is at 212 ppi only.".to_string(),
        ];
        let remarks = if name == "4" {
            &remarks[..0]
        } else {
            &remarks[..]
        };
        let began = std::time::Instant::now();
        let bytes = folding_guide(&book.guide(remarks)).unwrap();
        println!("{name}: {} bytes, {:?}", bytes.len(), began.elapsed());
        std::fs::write(format!("{to}/{name}.pdf"), bytes).unwrap();
    }
    let _ = |drawing: &Drawing<'_>| matches!(drawing, Drawing::Box { .. });
}
