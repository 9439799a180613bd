//! What a PDF file is to hold: pages of words, shapes and marks, and what the file claims to be.

use super::WordsAs;
use crate::art::Art;
use crate::layout::{LaidLine, LaidPanel};
use crate::names::{Date, Ink, Length, PageSpace};

/// A PDF file to be written.
pub(crate) struct Document<'a> {
    pub title: String,
    pub language: &'a str,
    /// The day that the file says it was made on. PDF/X-4 asks for one.
    pub date: Option<Date>,
    pub pages: Vec<Page<'a>>,
    pub words_as: WordsAs,
    pub claims: Claims<'a>,
    /// What a print dialogue is to offer; where there is nothing, the reader's program decides.
    pub printing: Option<Printing>,
}

/// Which standard a file says that it keeps. Its words are tagged in any case.
#[derive(Clone, Copy)]
pub(crate) enum Claims<'a> {
    /// PDF 1.7 and PDF/UA-1 (ISO 14289-1).
    Accessible,
    /// PDF 1.7 alone.
    Plain,
    /// PDF 1.6 and PDF/X-4 (ISO 15930-7).
    X4(&'a Intent),
}

impl Claims<'_> {
    /// The version of PDF, major and minor.
    pub fn version(self) -> (u8, u8) {
        match self {
            Claims::Accessible | Claims::Plain => (1, 7),
            Claims::X4(_) => (1, 6),
        }
    }

    /// Whether it is for a press.
    pub fn for_press(self) -> bool {
        matches!(self, Claims::X4(_))
    }
}

/// The printing that a file for the press is made for.
pub(crate) struct Intent {
    /// An ICC profile of an output device, whole.
    pub profile: Vec<u8>,
    /// How many colour channels that has. Black words and marks need four: cyan, magenta, yellow, black.
    pub channels: u8,
    /// The name by which printers know that printing condition.
    pub condition: String,
    /// That printing condition in words for people.
    pub info: Option<String>,
}

/// How the pages go onto paper: at their own size.
#[derive(Clone, Copy)]
pub(crate) struct Printing {
    /// Where the paper is printed on both sides, the edge that it turns about. A key of PDF 1.7, left out of
    /// older files.
    pub duplex: Option<Duplex>,
}

/// The edge of a sheet that a printer on both sides turns it about.
#[derive(Clone, Copy)]
pub(crate) enum Duplex {
    ShortEdge,
    LongEdge,
}

/// One page. A page longer than PDF's 14,400 units carries a `UserUnit`, and all its numbers are divided by that.
pub(crate) struct Page<'a> {
    /// Width and height of the MediaBox.
    pub size: (Length, Length),
    /// Where it is cut; nothing for a page that is not trimmed.
    pub boxes: Option<PageBoxes>,
    /// What is drawn, from the bottom up.
    pub drawings: Vec<Drawing<'a>>,
    /// Whether the page, its boxes too, is seen as in a mirror: its left on the right.
    pub mirrored: bool,
}

/// Where a page is cut, and how far its art runs beyond the cut: left, bottom, width, height in page space.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) struct PageBoxes {
    pub bleed: [Length; 4],
    pub trim: [Length; 4],
}

impl PageBoxes {
    /// The boxes of a page of this size that is cut `bleed` within all its edges.
    pub fn within(size: (Length, Length), bleed: Length) -> PageBoxes {
        let both = bleed * 2;
        PageBoxes {
            bleed: [Length::ZERO, Length::ZERO, size.0, size.1],
            trim: [bleed, bleed, size.0 - both, size.1 - both],
        }
    }
}

/// Something on a page. Words are tagged; all else is an artifact.
pub(crate) enum Drawing<'a> {
    /// The words of a panel.
    Words {
        panel: &'a LaidPanel,
        space: PageSpace,
    },
    /// Words that belong to the sheet, not to the book.
    Label {
        line: Box<LaidLine>,
        space: PageSpace,
    },
    /// A rectangle in page space: left, bottom, width, height.
    Box {
        at: [Length; 4],
        fill: Option<Paint>,
        stroke: Option<Paint>,
    },
    /// A straight line in page space, with dashes if any.
    Rule {
        from: (Length, Length),
        to: (Length, Length),
        paint: Paint,
        dashes: &'static [f32],
    },
    /// A circle in page space, as a line.
    Ring {
        centre: (Length, Length),
        radius: Length,
        paint: Paint,
    },
    /// Straight lines from point to point in page space. What is filled is closed in any case.
    Path {
        points: Vec<(Length, Length)>,
        closed: bool,
        fill: Option<Paint>,
        stroke: Option<Paint>,
        dashes: &'static [f32],
    },
    /// A picture, upright on a rectangle in page space (left, bottom, width, height), or turned by half a turn.
    Picture {
        art: &'a Art,
        at: [Length; 4],
        turned: bool,
    },
    /// Begins a group or a clipped rectangle, which holds what follows up to its own `End`.
    Begin(Within),
    /// Ends what was begun last. What a page leaves open ends with it.
    End,
}

/// What drawings may be held together by, or cut off by.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Within {
    /// A group of optional content, to be shown and hidden as a whole.
    Group(ContentGroup),
    /// Only what lies in this rectangle of page space is seen: left, bottom, width, height.
    Clip([Length; 4]),
}

/// The groups of optional content, the same on all pages of a file.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub(crate) enum ContentGroup {
    Art,
    Words,
    Marks,
}

/// What lines and areas are painted with.
#[derive(Clone, Debug, PartialEq)]
pub(crate) enum Paint {
    /// 0 black, 1 white, for sheets that are looked at: it leaves overprinting as it is.
    Grey(f32),
    /// Every plate there is, for marks outside the trim.
    Registration,
    /// An ink of the press.
    Ink(Ink),
}

/// The longest side of a page in units (ISO 32000-1, Annex C).
const LONGEST: i64 = 14_400;

impl Page<'_> {
    /// How many points one of the page's units is: a whole number, as small as can be.
    pub fn unit(&self) -> f64 {
        let longest = self.size.0.max(self.size.1).units();
        let most = Length::pt(LONGEST).units();
        (longest + most - 1).div_euclid(most).max(1) as f64
    }
}

impl Drawing<'_> {
    /// What its lines and areas are painted with.
    pub fn paints(&self) -> [Option<&Paint>; 2] {
        match self {
            Drawing::Box { fill, stroke, .. } | Drawing::Path { fill, stroke, .. } => {
                [fill.as_ref(), stroke.as_ref()]
            }
            Drawing::Rule { paint, .. } | Drawing::Ring { paint, .. } => [Some(paint), None],
            Drawing::Words { .. }
            | Drawing::Label { .. }
            | Drawing::Picture { .. }
            | Drawing::Begin(_)
            | Drawing::End => [None, None],
        }
    }
}
