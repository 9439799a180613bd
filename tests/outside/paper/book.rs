//! Small books whose panels have words of their own, and what each panel must show.

use std::path::PathBuf;

use super::super::support::{run_in, write_book};
use super::grey::{Grey, pages};
use super::said::trims;

/// What a panel carries.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Carries {
    Words,
    /// A tint, with words above its name.
    Shared,
    /// A tint with its name.
    Picture,
    Blank,
}

pub struct Book {
    pub folder: PathBuf,
    pub panels: usize,
    pub both_sides: bool,
    pub sideways: bool,
    pub right_to_left: bool,
    /// In millimetres.
    pub size: (f64, f64),
}

const WORDS: [&str; 40] = [
    "snow", "pole", "lamp", "horn", "sack", "chain", "valley", "bend", "grit", "pedal", "coat",
    "ticket", "frost", "brake", "tunnel", "minister", "copper", "lantern", "shovel", "window",
    "October", "gravel", "kneel", "strap", "wheel", "driver", "collar", "mitten", "saddle",
    "hairpin", "Friday", "parcel", "whistle", "yellow", "engine", "puddle", "ledger", "wages",
    "children", "tripod",
];

impl Book {
    pub fn new(folder: PathBuf, panels: usize) -> Book {
        Book {
            folder,
            panels,
            both_sides: true,
            sideways: true,
            right_to_left: false,
            size: (70.0, 90.0),
        }
    }

    pub fn sides(&self) -> &'static [&'static str] {
        if self.both_sides {
            &["front", "back"]
        } else {
            &["front"]
        }
    }

    /// Every panel by its side and number, in the order of reading.
    pub fn all(&self) -> Vec<(&'static str, usize)> {
        let numbers = |side: &&'static str| {
            let side = *side;
            (1..=self.panels).map(move |number| (side, number))
        };
        self.sides().iter().flat_map(numbers).collect()
    }

    /// Blanks and tints come here and there, otherwise on each side.
    pub fn carries(&self, side: &str, number: usize) -> Carries {
        let shift = if side == "back" { 3 } else { 0 };
        match (number + shift) % 8 {
            3 => Carries::Blank,
            5 => Carries::Shared,
            7 => Carries::Picture,
            _ => Carries::Words,
        }
    }

    /// The name of a panel's picture.
    pub fn picture(side: &str, number: usize) -> String {
        let side = if side == "back" { "Q" } else { "P" };
        format!("{side}{number}x")
    }

    /// Writes the book, and sets its layers.
    pub fn write(&self) {
        let (wide, high) = self.size;
        let sides = if self.both_sides { "both" } else { "front" };
        let turned = if self.sideways {
            "head-to-head"
        } else {
            "head-to-foot"
        };
        let reads = if self.right_to_left {
            "right-to-left"
        } else {
            "left-to-right"
        };
        let mut plan = format!(
            "title = \"The Winter Bus\"\nlanguage = \"en-GB\"\nmanuscript = \"winter-bus.txt\"\n\n[paper]\n\
             panel-width = \"{wide} mm\"\npanel-height = \"{high} mm\"\npanels-per-side = {}\nsides = \"{sides}\"\n\
             turned = \"{turned}\"\nreads = \"{reads}\"\n\n[rules]\neach-panel = \"free\"\n",
            self.panels
        );
        let mut stanzas = Vec::new();
        for (at, (side, number)) in self.all().into_iter().enumerate() {
            let carries = self.carries(side, number);
            let name = Book::picture(side, number);
            let role = match carries {
                Carries::Words => "text",
                Carries::Shared => "shared",
                Carries::Picture => "picture",
                Carries::Blank => "blank",
            };
            plan += &format!("\n[[panel]]\npanel = \"{side} {number}\"\nrole = \"{role}\"\n");
            if matches!(carries, Carries::Shared | Carries::Picture) {
                plan += &format!("picture = \"{name}\"\n\n[[picture]]\nname = \"{name}\"\n");
                plan += "leaves = { foot = \"20 mm\" }\n";
            }
            if matches!(carries, Carries::Words | Carries::Shared) {
                stanzas.push(stanza(at));
            }
        }
        write_book(&self.folder, &plan, stanzas.join("\n[new panel]\n\n"));
        run_in(&self.folder, &["layers", "--quiet"]).done();
    }

    /// A panel's text layer within its trim, at so many pixels an inch; nothing where it has none.
    pub fn layer(&self, side: &str, number: usize, dpi: f64) -> Option<Grey> {
        let file = self
            .folder
            .join(format!("out/layers/{side}-{number:02}.pdf"));
        file.exists().then(|| {
            let trim = trims(&file)[0].0;
            let px = |points: f64| (points * dpi / 72.0).round() as usize;
            let page = &pages(&file, dpi)[0];
            page.cut(
                (px(trim.left), px(trim.right)),
                (px(trim.head), px(trim.foot)),
            )
        })
    }

    /// A dummy of it.
    pub fn dummy(&self, paper: &str, backs: &str) -> PathBuf {
        let call = ["dummy", "--quiet", "--paper", paper, "--backs", backs];
        run_in(&self.folder, &call).done();
        self.folder.join("out/dummy.pdf")
    }
}

/// Lines that no other panel has.
fn stanza(at: usize) -> String {
    let mut state = (at as u32 + 1).wrapping_mul(2_654_435_761);
    let mut next = || {
        state = state.wrapping_mul(1_664_525).wrapping_add(1_013_904_223);
        WORDS[(state >> 16) as usize % WORDS.len()]
    };
    let lines = (0..4 + at % 3).map(|_| format!("{} {} {}\n", next(), next(), next()));
    lines.collect()
}
