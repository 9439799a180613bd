//! The plan: what the author asks of the paper, the type and the balance of words and pictures, as plain checked data.
//!
//! In a [`Plan`] every default is filled in, every length resolved, every panel known to exist, and no two settings
//! contradict each other. It reads nothing: [`plan_file`](crate::book::plan_file) makes one from `concertina.toml`.

mod headings;
mod making;
mod paper;
mod placeless;
mod shape;
pub mod sizes;
mod stretches;
mod text;

pub use headings::{
    HeadingAlign, HeadingFace, HeadingLevel, HeadingPlaces, HeadingStyle, OfLevels,
};
pub use making::{BoardsPlan, IntentPlan, SheetsPlan, WrapperKind, WrapperPlan};
pub use paper::{Ends, Paper, Safety};
pub use shape::{AreaRequest, BoxRequest};
pub use text::{
    Align, Caesura, CapitalsStyle, Hang, Margins, MarginsRequest, Opening, OpeningWords, TextStyle,
    Turnover, TypefaceChoice, TypefaceNamed,
};

pub use crate::rules::{
    BlankBetween, Blanks, BlanksAt, EachPanel, HeadingsBegin, Pace, PanelEnd, PanelsEnd, Percent,
    PictureOrder, PictureWith, RuleName, Rules, SharedPanels, ShowThrough, StaysWithin, Undivided,
    Weight, Window,
};

use crate::names::{
    Crossover, Date, Direction, Length, Location, PanelName, Role, Score, SetAs, Stock, Vertical,
};

/// The edition of what holds unless the plan says otherwise. It rises when a book that does not speak of something is
/// divided otherwise than before for that; what held before then joins `book::plan_file::older`.
pub const DEFAULTS: u64 = 3;

/// A checked plan.
#[derive(Clone, Debug, PartialEq)]
#[non_exhaustive]
pub struct Plan {
    /// The book's title.
    pub title: String,
    /// Who wrote it, for a title panel of a manuscript that does not say so, and where the plan does.
    pub author: Option<LabelAsked>,
    /// The book's language, as a BCP 47 tag.
    pub language: String,
    /// The manuscript's file name, relative to the book's folder, and where the plan says so.
    pub manuscript: String,
    /// Where the plan names the manuscript; nothing where it is left to the default.
    pub manuscript_place: Option<Location>,
    /// The date that the author gives the book, year-month-day.
    pub date: Option<Date>,
    /// The strip of paper.
    pub paper: Paper,
    /// What is known of the paper itself.
    pub stock: Stock,
    /// How folds are scored.
    pub score: Score,
    /// The boards, where the cover is of boards.
    pub boards: BoardsPlan,
    /// The wrapper, where the cover is one.
    pub wrapper: WrapperPlan,
    /// How the strip is cut from sheets.
    pub sheets: SheetsPlan,
    /// Motifs that cross from panel to panel.
    pub crossovers: Vec<Crossover>,
    /// What plain lines of the manuscript are, until a callout says otherwise.
    pub set_as: SetAs,
    /// How words are set, unless a part or a panel says otherwise.
    pub text: TextStyle,
    /// The balance between words and pictures.
    pub rules: Rules,
    /// The pictures the plan names, in its order.
    pub pictures: Vec<PicturePlan>,
    /// The parts and their panels. Never empty: without any, the body has every panel.
    pub parts: Vec<PartPlan>,
    /// What the author pins by hand, at most one for each panel.
    pub panels: Vec<PanelPlan>,
    /// The pictures before whose first panel a blank one is asked, none twice.
    pub blank_before: Vec<PictureRequest>,
    /// The pictures that are asked to be seen only on the spread after their words, none twice.
    pub reveal: Vec<PictureRequest>,
    /// What the plan has shown on pages besides the manuscript's words: first the title, then the names of pictures and of
    /// a spot ink.
    pub labels: Vec<LabelAsked>,
}

/// Words of the plan that pages show.
#[derive(Clone, Debug, PartialEq)]
pub struct LabelAsked {
    /// The words.
    pub words: String,
    /// Where the plan says them.
    pub place: Location,
}

impl Plan {
    /// What is pinned on a panel.
    pub fn pin(&self, panel: PanelName) -> Option<&PanelPlan> {
        self.panels.iter().find(|pin| pin.panel == panel)
    }

    /// What the plan says of a picture.
    pub fn picture(&self, name: &str) -> Option<&PicturePlan> {
        self.pictures.iter().find(|picture| picture.name == name)
    }

    /// How many panels after its words a picture comes; nothing where that is not asked.
    pub fn picture_comes(&self, name: &str) -> Option<Window> {
        let own = self.picture(name).and_then(|picture| picture.comes);
        own.or(self.rules.picture_comes)
    }

    /// On which spread a picture stands, counted from that of its words; nothing where that is not asked.
    pub fn picture_with(&self, name: &str) -> Option<PictureWith> {
        let own = self.picture(name).and_then(|picture| picture.with);
        own.or(self.rules.picture_with)
    }

    /// How many panels a picture stands on: one where the plan says nothing of it.
    pub fn spans(&self, picture: &str) -> u16 {
        self.picture(picture).map_or(1, |picture| picture.spans)
    }

    /// The panels that a pinned picture stands on, in order: the pinned one, and those that follow it.
    pub fn stretch(&self, pin: &PanelPlan) -> impl Iterator<Item = PanelName> + use<> {
        let spans = pin.picture.as_ref().map_or(0, |name| self.spans(name));
        let PanelName { side, number } = pin.panel;
        (number..number.saturating_add(spans)).map(move |number| PanelName { side, number })
    }

    /// Whether the lines of a part stand on a grid of their own: where their leading is not the plan's, or they run the other way.
    pub fn has_own_grid(&self, part: &PartPlan) -> bool {
        part.text.leading != self.text.leading || part.text.lines_run != self.text.lines_run
    }

    /// The part that has a panel.
    pub fn part_on(&self, panel: PanelName) -> Option<&PartPlan> {
        self.parts.iter().find(|part| part.on.contains(&panel))
    }

    /// The part of that name.
    pub fn part(&self, name: &str) -> Option<&PartPlan> {
        self.parts.iter().find(|part| part.name == name)
    }
}

/// A picture as the plan describes it.
#[derive(Clone, Debug, PartialEq)]
#[non_exhaustive]
pub struct PicturePlan {
    /// Its name, as callouts and pins use it.
    pub name: String,
    /// How many panels it stands on, one behind the other on one side; above zero.
    pub spans: u16,
    /// Whether that is the whole of a side.
    pub whole_side: bool,
    /// Whether its first panel must be the first of its spread.
    pub whole_spread: bool,
    /// Whether its ink shows through the paper.
    pub heavy: bool,
    /// The margins it leaves to words when they share a panel; what is not said is as on the panel. One that
    /// stands on several panels and leaves nothing has no words on them.
    pub leaves: MarginsRequest,
    /// The shape it leaves to words in place of margins.
    pub shape: Option<AreaRequest>,
    /// How many panels after its words it comes, where it is not as the rules ask.
    pub comes: Option<Window>,
    /// On which spread it stands, counted from that of its words, where it is not as the rules ask.
    pub with: Option<PictureWith>,
    /// Its scan, if the plan names one.
    pub art: Option<ArtRequest>,
    /// How far that runs over the folds at its ends.
    pub runs_over: Length,
    /// Where the plan names it.
    pub place: Location,
}

/// A picture's scan.
#[derive(Clone, Debug, PartialEq)]
pub struct ArtRequest {
    /// The file, below the book's folder.
    pub file: String,
    /// Where the plan names it.
    pub place: Location,
}

/// A picture that a rule names.
#[derive(Clone, Debug, PartialEq)]
pub struct PictureRequest {
    /// Its name.
    pub name: String,
    /// Where the plan names it.
    pub place: Location,
}

/// A part of the book and the panels it has.
#[derive(Clone, Debug, PartialEq)]
#[non_exhaustive]
pub struct PartPlan {
    /// Its name; words before any `[part: …]` are the part `body`.
    pub name: String,
    /// Its panels, in the order its words run. Never empty, no panel twice, none that another part has.
    pub on: Vec<PanelName>,
    /// Its language, as a BCP 47 tag.
    pub language: String,
    /// Which way its words run: as the plan says, or as its language is written.
    pub reads: Direction,
    /// Whether the plan says so. Every line then runs that way; else one may begin with words that run the
    /// other way, and does.
    pub reads_said: bool,
    /// How its words are set: the plan's text with what the part changes.
    pub text: TextStyle,
    /// Where it asks for margins of its own; nothing where it does not.
    pub margins_place: Option<Location>,
    /// The part that it goes side by side with, if any. That part has as many panels, each facing or behind the
    /// one of the same number here, and pairs with no other.
    pub pairs: Option<Pairs>,
    /// Where the plan describes it; nothing for the body that stands without being named.
    pub place: Option<Location>,
}

/// How a part goes side by side with another.
#[derive(Clone, Debug, PartialEq)]
pub struct Pairs {
    /// The other part.
    pub with: String,
    /// Where its panels lie to the other's.
    pub pairing: Pairing,
    /// Where the plan says so.
    pub place: Location,
}

/// Where the panels of a part lie to those of the part that it is paired with.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Pairing {
    /// On the same spreads.
    Facing,
    /// On the other side of the paper.
    Behind,
}

/// What the author pins on one panel.
#[derive(Clone, Debug, PartialEq)]
#[non_exhaustive]
pub struct PanelPlan {
    /// The panel; it exists, and is no paste-down.
    pub panel: PanelName,
    /// The role it must have.
    pub role: Option<Role>,
    /// The picture it must carry; one that no other panel pins.
    pub picture: Option<String>,
    /// Margins of its own; what is not said is the plan's.
    pub margins: MarginsRequest,
    /// The shape that its words follow in place of margins.
    pub shape: Option<AreaRequest>,
    /// The fullness asked of it, in place of the rules'.
    pub fullness: Option<Percent>,
    /// How far words keep from its folds and edges, in place of the paper's.
    pub safety: Option<Safety>,
    /// Where words stand in its text area, in place of the text's.
    pub vertical: Option<Vertical>,
    /// The first words it must begin with.
    pub begins: Option<Begins>,
    /// Where the plan pins it.
    pub place: Location,
}

/// The words a panel must begin with.
#[derive(Clone, Debug, PartialEq)]
pub struct Begins {
    /// The words, white space folded.
    pub words: String,
    /// Where the plan says so.
    pub place: Location,
}
