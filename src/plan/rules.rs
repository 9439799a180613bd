//! The author's rules for the balance between words and pictures, as the plan asks for them.

use std::collections::BTreeMap;

use crate::names::Role;

/// A share in whole hundredths, 0 to 100.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub struct Percent(pub u8);

/// The rules, every default filled in.
#[derive(Clone, Debug, PartialEq, Hash)]
pub struct Rules {
    /// What an ordinary panel with words carries.
    pub each_panel: EachPanel,
    /// How full a panel of words should be.
    pub text_fullness: Percent,
    /// How full a panel of words and a picture should be.
    pub shared_fullness: Percent,
    /// How full the panel that begins the body should be.
    pub first_fullness: Percent,
    /// How full the panel that ends the body should be.
    pub last_fullness: Percent,
    /// No panel with words is fuller.
    pub fullest: Percent,
    /// No panel with words is emptier.
    pub emptiest: Percent,
    /// What is not divided while it can be avoided.
    pub undivided: Undivided,
    /// The fewest lines of a divided stanza or paragraph on either panel.
    pub fewest_lines: u32,
    /// How many panels after its words a picture comes.
    pub picture_comes: Window,
    /// Whether words and pictures share panels.
    pub shared_panels: SharedPanels,
    /// Whether panels of words should be about as full as the one before.
    pub even_fullness: bool,
    /// On which spread a picture stands, counted from that of its words; nothing where that is not asked. Where
    /// it is, `picture_comes` is not.
    pub picture_with: Option<PictureWith>,
    /// The most panels of words alone in a row, in parts with pictures.
    pub text_in_a_row: u32,
    /// The most panels of pictures alone in a row.
    pub pictures_in_a_row: u32,
    /// How many panels stay blank; nothing where that is not asked. Then a part with pictures has no blank panels
    /// but those that are asked for otherwise, while it can be helped.
    pub blanks: Option<Blanks>,
    /// What the last panel carries that is not blank, or that the last panel is blank; nothing where that is
    /// not asked. Never a title or a paste-down.
    pub ends_with: Option<Role>,
    /// What `must`, `may-give` and `importance` say of each rule.
    pub weights: BTreeMap<RuleName, Weight>,
}

/// What an ordinary panel with words carries.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum EachPanel {
    /// Whatever comes.
    Free,
    /// One stanza.
    Stanza,
    /// So many verse lines.
    Lines(u32),
}

/// What is not divided while it can be avoided.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Undivided {
    /// Verse lines only: stanzas and sentences may be divided.
    Line,
    /// Sentences: panels end only at . ! ? or …
    Sentence,
    /// Stanzas.
    Stanza,
}

/// Whether words and pictures share panels.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum SharedPanels {
    /// Where that is best.
    Allowed,
    /// No panel has both.
    Never,
    /// Every picture has words beside it.
    Always,
}

/// On which spread a picture stands, counted from that of its words.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum PictureWith {
    /// The same one.
    SameSpread,
    /// The next one.
    NextSpread,
}

/// How many panels of a part stay blank, and where.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub struct Blanks {
    /// So many, 0 to 800.
    pub count: u16,
    /// Where they are.
    pub at: BlanksAt,
}

/// Where blank panels are asked for.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Hash)]
pub enum BlanksAt {
    /// In the run of blank panels that begins the part.
    Start,
    /// In the run of blank panels that ends the part.
    #[default]
    End,
    /// Anywhere in the part.
    Anywhere,
}

/// How many panels after its words a picture comes: 0 the same panel, 1 the next, −1 the one before.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub struct Window {
    /// Not sooner than this; −7 to 7.
    pub soonest: i8,
    /// Not later than this; `soonest` to 7.
    pub latest: i8,
}

/// The rules' names, as `must`, `may-give` and `importance` use them.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum RuleName {
    /// `fullest`
    Fullest,
    /// `emptiest`
    Emptiest,
    /// `couplets`: couplets and tercets stay whole.
    Couplets,
    /// `keep-together`: what `[keep together]` holds stays on one panel.
    KeepTogether,
    /// `new-panel`: a panel ends at `[new panel]`.
    NewPanel,
    /// `undivided`
    Undivided,
    /// `fewest-lines`
    FewestLines,
    /// `each-panel`
    EachPanel,
    /// `text-fullness`
    TextFullness,
    /// `shared-fullness`
    SharedFullness,
    /// `first-fullness`
    FirstFullness,
    /// `last-fullness`
    LastFullness,
    /// `picture-comes`
    PictureComes,
    /// `shared-panels`
    SharedPanels,
    /// `even-fullness`
    EvenFullness,
    /// `picture-with`
    PictureWith,
    /// `text-in-a-row`
    TextInARow,
    /// `pictures-in-a-row`
    PicturesInARow,
    /// `blanks`
    Blanks,
    /// `ends-with`
    EndsWith,
    /// `blank-before`
    BlankBefore,
    /// `chosen-breaks`: panels carry what the author chose.
    ChosenBreaks,
}

impl RuleName {
    /// Every rule with the name an author writes, and whether it is hard unless she says otherwise.
    pub const ALL: [(RuleName, &'static str, bool); 22] = [
        (RuleName::Fullest, "fullest", true),
        (RuleName::Emptiest, "emptiest", true),
        (RuleName::Couplets, "couplets", true),
        (RuleName::KeepTogether, "keep-together", true),
        (RuleName::NewPanel, "new-panel", true),
        (RuleName::Undivided, "undivided", true),
        (RuleName::FewestLines, "fewest-lines", true),
        (RuleName::EachPanel, "each-panel", false),
        (RuleName::TextFullness, "text-fullness", false),
        (RuleName::SharedFullness, "shared-fullness", false),
        (RuleName::FirstFullness, "first-fullness", false),
        (RuleName::LastFullness, "last-fullness", false),
        (RuleName::PictureComes, "picture-comes", true),
        (RuleName::SharedPanels, "shared-panels", false),
        (RuleName::EvenFullness, "even-fullness", false),
        (RuleName::PictureWith, "picture-with", false),
        (RuleName::TextInARow, "text-in-a-row", false),
        (RuleName::PicturesInARow, "pictures-in-a-row", false),
        (RuleName::Blanks, "blanks", false),
        (RuleName::EndsWith, "ends-with", false),
        (RuleName::BlankBefore, "blank-before", false),
        (RuleName::ChosenBreaks, "chosen-breaks", false),
    ];

    /// The name an author writes.
    pub fn word(self) -> &'static str {
        let found = RuleName::ALL.iter().find(|(name, ..)| *name == self);
        found.map_or("", |(_, word, _)| word)
    }

    /// Whether the rule is hard unless the author says otherwise.
    pub fn hard_by_default(self) -> bool {
        RuleName::ALL
            .iter()
            .any(|&(name, _, hard)| name == self && hard)
    }
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

impl Default for Rules {
    fn default() -> Rules {
        Rules {
            each_panel: EachPanel::Free,
            text_fullness: Percent(60),
            shared_fullness: Percent(35),
            first_fullness: Percent(40),
            last_fullness: Percent(35),
            fullest: Percent(95),
            emptiest: Percent(0),
            undivided: Undivided::Stanza,
            fewest_lines: 2,
            picture_comes: Window {
                soonest: 0,
                latest: 1,
            },
            shared_panels: SharedPanels::Allowed,
            even_fullness: false,
            picture_with: None,
            text_in_a_row: 2,
            pictures_in_a_row: 2,
            blanks: None,
            ends_with: None,
            weights: BTreeMap::new(),
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
