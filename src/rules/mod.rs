//! The author's rules for the balance between words and pictures, one file each.
//!
//! A rule reads a part panel by panel: (what it remembers, this panel) → (verdict, what it remembers). Most remember
//! nothing. What it may know of a part is a [`Problem`], of a panel a [`PanelView`]. Whether a rule is hard, and how
//! much it weighs, is the author's business: it says whether it is kept, and what it costs where it is soft.
//!
//! Beside its cost a rule's file holds all else that is particular to it: its name, what may be asked of it and what is
//! asked unless said, and its words for people ([`About`], [`Asks`]). To add a rule, write its file and give it a line
//! in the list below.

mod blank_before;
mod blank_between;
mod blanks;
mod chosen_breaks;
mod couplets;
mod declared;
mod each_panel;
mod emptiest;
mod ends_with;
mod even_fullness;
mod even_spreads;
mod fewest_lines;
mod fullest;
mod fullness;
mod headings_begin;
mod keep_together;
mod last_spread;
mod list;
mod nearness;
mod new_panel;
mod pace;
mod panel_view;
mod panels_end;
mod picture_comes;
mod picture_order;
mod picture_with;
mod pictures;
mod pictures_beside;
mod pictures_between;
mod pictures_in_a_row;
mod placed;
mod problem;
mod reveal;
mod rule;
mod sections_apart;
mod shared_panels;
mod show_through;
mod spare_panels;
mod spreads_after;
mod stays_within;
mod text_in_a_row;
mod undivided;
mod waits;

use std::collections::BTreeMap;

pub use blank_between::BlankBetween;
pub use blanks::{Blanks, BlanksAt};
pub use declared::{
    About, Asks, Counted, Declared, Entry, Form, Group, Judges, Percent, Piece, Shown, Word,
};
pub use each_panel::EachPanel;
pub use headings_begin::HeadingsBegin;
pub use pace::Pace;
pub use panel_view::{PanelView, PieceHere};
pub use panels_end::{PanelEnd, PanelsEnd};
pub use picture_comes::{PictureComes, Window};
pub use picture_order::PictureOrder;
pub use picture_with::{PictureWith, PictureWithRule};
pub use placed::{MOST_IN_ANY_ORDER, Placed};
pub(crate) use problem::stanzas_done;
pub use problem::{
    AreaFacts, Chosen, ChosenWords, Ending, PanelFacts, Passed, PictureFacts, Problem, RowFacts,
};
pub use rule::{Clause, Cost, Memory, Remembers, Rule, Verdict, Weighed, weighed};
pub use shared_panels::SharedPanels;
pub use show_through::{Behind, MOST_FACING, ShowThrough};
pub use stays_within::StaysWithin;
pub use undivided::Undivided;

list::rules! {
    Fullest = fullest::Fullest asks fullest;
    Emptiest = emptiest::Emptiest asks emptiest;
    Couplets = couplets::Couplets;
    KeepTogether = keep_together::KeepTogether;
    NewPanel = new_panel::NewPanel;
    Undivided = undivided::UndividedRule asks undivided;
    PanelsEnd = panels_end::PanelsEndRule asks panels_end;
    FewestLines = fewest_lines::FewestLines asks fewest_lines;
    HeadingsBegin = headings_begin::HeadingsBeginRule asks headings_begin;
    EachPanel = each_panel::EachPanelRule asks each_panel;
    TextFullness = fullness::TextFullness asks text_fullness;
    SharedFullness = fullness::SharedFullness asks shared_fullness;
    FirstFullness = fullness::FirstFullness asks first_fullness;
    LastFullness = fullness::LastFullness asks last_fullness;
    PictureComes = picture_comes::PictureComes asks picture_comes;
    SharedPanels = shared_panels::SharedPanelsRule asks shared_panels;
    EvenFullness = even_fullness::EvenFullness asks even_fullness;
    EvenSpreads = even_spreads::EvenSpreads asks even_spreads;
    PictureOrder = picture_order::PictureOrderRule asks picture_order;
    Nearness = nearness::Nearness asks nearness;
    PictureWith = picture_with::PictureWithRule asks picture_with;
    StaysWithin = stays_within::StaysWithinRule asks stays_within;
    ShowThrough = show_through::ShowThroughRule asks show_through;
    TextInARow = text_in_a_row::TextInARow asks text_in_a_row;
    PicturesInARow = pictures_in_a_row::PicturesInARow asks pictures_in_a_row;
    Pictures = pictures::Pictures asks pictures;
    Pace = pace::PaceRule asks pace;
    PicturesBetween = pictures_between::PicturesBetween;
    PicturesBeside = pictures_beside::PicturesBeside;
    Blanks = blanks::BlanksRule asks blanks;
    SparePanels = spare_panels::SparePanels;
    SectionsApart = sections_apart::SectionsApart;
    EndsWith = ends_with::EndsWith asks ends_with;
    LastSpread = last_spread::LastSpread asks last_spread;
    BlankBefore = blank_before::BlankBefore asks;
    Reveal = reveal::Reveal asks;
    BlankBetween = blank_between::BlankBetweenRule asks blank_between;
    ChosenBreaks = chosen_breaks::ChosenBreaks;
}

impl RuleName {
    /// The name an author writes.
    pub fn word(self) -> &'static str {
        self.about().name
    }

    /// Whether the rule is hard unless the author says otherwise.
    pub fn hard_by_default(self) -> bool {
        self.about().hard
    }

    /// What is asked where the plan does not say, as an author would write it; nothing where nothing is asked, or
    /// where the rule has no key.
    pub fn unless_said(self) -> Option<String> {
        struct Usual(RuleName, Option<String>);
        impl Visitor for Usual {
            fn visit<R: Asks>(&mut self, name: RuleName, asked: &mut R::Asked) {
                if name == self.0 && matches!(R::SHOWN, Shown::Usual(_)) {
                    self.1 = R::FORM.written(asked);
                }
            }
        }
        let mut usual = Usual(self, None);
        Rules::default().visit(&mut usual);
        usual.1
    }
}

/// Sees every rule that has a key.
pub trait Visitor {
    /// A rule, and what is asked of it.
    fn visit<R: Asks>(&mut self, name: RuleName, asked: &mut R::Asked);
}

/// What the author says of one rule.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub struct Weight {
    /// Whether `must` makes it hard, or `may-give` makes it soft; nothing where neither speaks.
    pub hard: Option<bool>,
    /// Multiplier on its cost, 0 (off) to 100.
    pub importance: u32,
}

impl Default for Weight {
    fn default() -> Weight {
        Weight {
            hard: None,
            importance: 1,
        }
    }
}

impl Rules {
    /// What the author says of a rule.
    pub fn weight(&self, name: RuleName) -> Weight {
        self.weights.get(&name).copied().unwrap_or_default()
    }

    /// Whether a rule is hard, by its default or by the author's word.
    pub fn is_hard(&self, name: RuleName) -> bool {
        self.weight(name).hard.unwrap_or(name.hard_by_default())
    }
}
