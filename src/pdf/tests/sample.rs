//! A small book to write: one line of words on each page, and every kind of drawing around it.

use std::sync::OnceLock;

use super::WordsAs;
use crate::assets::Assets;
use crate::layout::{LabelStyle, LaidLine, LaidPanel, Stands, label};
use crate::names::{Date, HalfLines, Ink, Length, PageSpace, PanelName, PanelPoint, Role, Side};
use crate::pdf::*;
use crate::typeface::{Emphasis, FontLibrary, Typeface};

/// The words of the only panel, line by line.
pub const WORDS: [&str; 3] = [
    "Grit in flour bags",
    "under every second seat",
    "Yellow to the sills",
];

/// The page at its ordinary size: a panel of 90 × 90 mm with 3 mm of bleed, and 10 mm around that for marks.
const PAGE: (Length, Length) = (Length::mm(116), Length::mm(116));

fn line(words: &str, down: i64, ink: Ink) -> LaidLine {
    static TYPEFACE: OnceLock<Typeface> = OnceLock::new();
    let typeface = TYPEFACE.get_or_init(|| {
        let family = FontLibrary::new(Assets::memory()).open_family("Alegreya");
        Typeface::new(family.expect("a family"), Vec::new())
    });
    let style = LabelStyle {
        size: Length::pt(11),
        stress: Emphasis::Plain,
        grey: 0,
        stands: Stands::From,
    };
    let at = PanelPoint {
        x: Length::mm(10),
        y: Length::mm(down),
    };
    let mut line = label(typeface, words, at, style);
    line.ink = ink;
    line
}

/// A panel whose lines are black, red light, and black again.
pub fn panel() -> LaidPanel {
    let inks = [Ink::Black, Ink::Rgb([800, 100, 100]), Ink::Black];
    let lines = WORDS.iter().zip(inks).zip([20, 40, 60]);
    let lines = lines.enumerate().map(|(row, ((words, ink), down))| {
        let mut line = line(words, down, ink);
        line.part = Some("body".to_string());
        line.added = None;
        line.row = row;
        line
    });
    LaidPanel {
        panel: PanelName {
            side: Side::Front,
            number: 1,
        },
        size: (Length::mm(90), Length::mm(90)),
        role: Role::Text,
        picture: None,
        picture_panels: Vec::new(),
        area: None,
        shape: Vec::new(),
        slots: Vec::new(),
        lead: HalfLines::ZERO,
        fullness: None,
        costs: Vec::new(),
        pinned: false,
        passed: false,
        continues: false,
        lines: lines.collect(),
        rooms: Vec::new(),
    }
}

/// A page of that panel as a sheet has it: a tint below, the words, marks above.
pub fn page(panel: &LaidPanel) -> Page<'_> {
    let mm = Length::mm;
    let space = PageSpace::placed(mm(13), mm(103), (1, 1));
    let trim = [mm(13), mm(13), mm(90), mm(90)];
    let (begin, end) = (
        |group| Drawing::Begin(Within::Group(group)),
        || Drawing::End,
    );
    let mut drawings = vec![
        begin(ContentGroup::Art),
        Drawing::Begin(Within::Clip(trim)),
        Drawing::Box {
            at: [mm(5), mm(50), mm(120), mm(20)],
            fill: Some(Paint::Ink(spot())),
            stroke: Some(Paint::Ink(Ink::Black)),
        },
        end(),
        end(),
        begin(ContentGroup::Words),
        Drawing::Begin(Within::Clip(trim)),
        Drawing::Words { panel, space },
        end(),
        end(),
        begin(ContentGroup::Marks),
    ];
    // The page's end ends the marks too.
    drawings.extend(marks());
    Page {
        size: PAGE,
        boxes: Some(PageBoxes {
            bleed: [mm(10), mm(10), mm(96), mm(96)],
            trim,
        }),
        drawings,
        mirrored: false,
    }
}

fn spot() -> Ink {
    Ink::Spot {
        name: "Bus Yellow".to_string(),
        cmyk: [0, 200, 900, 50],
    }
}

/// A label, a rule, a ring and a path outside the trim.
fn marks() -> [Drawing<'static>; 4] {
    let mm = Length::mm;
    [
        // In the ink that was set within the clip, which is forgotten at its end.
        Drawing::Label {
            line: Box::new(line("front", 14, Ink::Black)),
            space: PageSpace::placed(mm(40), mm(20), (1, 1)),
        },
        Drawing::Rule {
            from: (mm(13), mm(0)),
            to: (mm(13), mm(8)),
            paint: Paint::Registration,
            dashes: &[],
        },
        Drawing::Ring {
            centre: (mm(58), mm(5)),
            radius: mm(3),
            paint: Paint::Registration,
        },
        Drawing::Path {
            points: vec![(mm(100), mm(2)), (mm(110), mm(2)), (mm(105), mm(8))],
            closed: true,
            fill: Some(Paint::Registration),
            stroke: Some(Paint::Ink(spot())),
            dashes: &[2.0, 1.0],
        },
    ]
}

/// A document of these pages.
pub fn document<'a>(pages: Vec<Page<'a>>, claims: Claims<'a>) -> Document<'a> {
    Document {
        title: "The Winter Bus – sheets".to_string(),
        language: "en-GB",
        date: Some(Date {
            year: 2026,
            month: 2,
            day: 1,
        }),
        pages,
        words_as: WordsAs::Text,
        claims,
        printing: Some(Printing {
            duplex: Some(Duplex::ShortEdge),
        }),
    }
}

/// A file of one such page.
pub fn file(claims: Claims<'_>) -> Vec<u8> {
    let panel = panel();
    write(&document(vec![page(&panel)], claims)).expect("it can be written")
}
