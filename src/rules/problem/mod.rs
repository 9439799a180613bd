//! What the rules may know of a part, and the search with them.

mod blanks;
mod long;
mod pictures;
mod stanzas;
mod steps;

pub(crate) use stanzas::stanzas_done;

use super::{
    Behind, MOST_IN_ANY_ORDER, Percent, PictureOrder, PictureWith, RuleName, Rules, Weight, Window,
};
use crate::names::{HalfLines, PanelName, Role};
use crate::stack::Stack;

/// How the last word of a row leaves the sentence.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Ending {
    /// It ends: . ! ? …
    Sentence,
    /// It pauses: , : ; or a dash.
    Pause,
    /// It runs on.
    RunsOn,
}

/// What the rules may know of a row, or of the words of a paragraph between two places where a panel may
/// begin.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub struct RowFacts {
    /// Which stanza or other block it belongs to.
    pub block: usize,
    /// Whether it is a verse line; headings, ornaments, attributions and room are not.
    pub verse: bool,
    /// Whether it is of a paragraph.
    pub prose: bool,
    /// Whether it goes on a paragraph whose earlier words are the row before.
    pub inner: bool,
    /// Whether it must stand on the panel of the row above it.
    pub joined: bool,
    /// Which section it belongs to, counted up: the words of a part from one heading to the next.
    pub section: usize,
    /// Which `[keep together]` holds it.
    pub kept: Option<usize>,
    /// Whether `[may divide]` stands above it.
    pub may_divide: bool,
    /// Whether `[new panel]` stands above it.
    pub new_panel: bool,
    /// How its last word leaves the sentence.
    pub ending: Ending,
    /// Whether it is of a stanza that no panel has room for, with what must stand with it
    /// ([`Problem::mark_long_stanzas`]).
    pub too_long: bool,
    /// The picture that it is a caption of, by the problem's pictures: it stands on a panel of that picture.
    pub caption: Option<usize>,
}

/// A text area as the search sees it.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub struct AreaFacts {
    /// Which of the stack's columns it is.
    pub column: usize,
    /// How far down its lines reach at most.
    pub capacity: HalfLines,
}

/// What the author chose for a panel.
#[derive(Clone, Debug, PartialEq, Eq, Hash)]
pub struct Chosen {
    /// Its role.
    pub role: Role,
    /// Its picture, by the problem's pictures.
    pub picture: Option<usize>,
    /// The words on it; nothing where none stand there.
    pub words: Option<ChosenWords>,
    /// Whether words of it have been corrected since.
    pub touched: bool,
}

/// Where the words begin and end that the author chose for a panel: places from one to another, both counted. There
/// is more than one where words have been added between those of two panels.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub struct ChosenWords {
    /// Where they may begin.
    pub begins: (usize, usize),
    /// Where they may end.
    pub ends: (usize, usize),
}

impl ChosenWords {
    /// Whether a panel that begins at a place begins as chosen.
    pub fn may_begin(&self, place: usize) -> bool {
        (self.begins.0..=self.begins.1).contains(&place)
    }

    /// Whether a panel that ends at a place ends as chosen.
    pub fn may_end(&self, place: usize) -> bool {
        (self.ends.0..=self.ends.1).contains(&place)
    }
}

/// What stands on a panel that is passed for press.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub struct Passed {
    /// The places its words begin and end at; nothing where it has none.
    pub words: Option<(usize, usize)>,
    /// Whether it stands there whatever hard rules ask of it: where they cannot be kept, what is printed goes first.
    pub exempt: bool,
    /// The role that the plan pins it to.
    pub role: Option<Role>,
    /// The row that the plan pins it to begin with.
    pub begins: Option<usize>,
    /// Whether the plan pins its picture nowhere.
    pub unpinned: bool,
}

/// What a panel may carry.
#[derive(Clone, Debug, PartialEq, Eq, Hash)]
pub struct PanelFacts {
    /// The panel.
    pub name: PanelName,
    /// The role it is pinned to.
    pub role: Option<Role>,
    /// The picture it is pinned to.
    pub picture: Option<usize>,
    /// Its text area, whatever role it is pinned to; nothing where no words can stand.
    pub area: Option<AreaFacts>,
    /// Its text area beside each picture, by the problem's pictures; where no other words may stand, for captions.
    pub shared: Vec<Option<AreaFacts>>,
    /// Whether a pin says that words stand beside its picture, whether that leaves room or not.
    pub lets_words: bool,
    /// The fullness asked of it by a pin.
    pub fullness: Option<Percent>,
    /// The row it must begin with.
    pub begins: Option<usize>,
    /// The place it must end at, whether its own words end there or those of a panel before.
    pub ends: Option<usize>,
    /// What the author chose for it.
    pub chosen: Option<Chosen>,
    /// What stands on it, if it is passed for press. Then `role` and `picture` are those it is passed with.
    pub passed: Option<Passed>,
    /// Which spread it belongs to, counted over the whole strip in the order of leafing; a face in no pair is
    /// a spread of its own.
    pub spread: usize,
    /// Whether it is the first panel of its spread.
    pub opens_spread: bool,
    /// Whether it lies right behind the part's panel before it, on the same side, so that one picture may
    /// stand on both.
    pub follows: bool,
    /// The part's panel that lies behind it, on the other side of the paper, if one does.
    pub behind: Option<usize>,
    /// What stands behind it where no panel of the part lies there.
    pub back: Behind,
}

/// A picture that the part or its panels place.
#[derive(Clone, Debug, PartialEq, Eq, Hash)]
pub struct PictureFacts {
    /// Its name.
    pub name: String,
    /// The row of the last word before its callout (none before: the first row); nothing where no callout
    /// of this part names it.
    pub word_row: Option<usize>,
    /// The panel of the part it is pinned to.
    pub panel: Option<usize>,
    /// Whether it waits in the queue: named by a callout and pinned nowhere.
    pub queued: bool,
    /// How many panels it stands on, one behind the other.
    pub spans: usize,
    /// Whether it leaves room for words; else it stands alone but for its captions.
    pub leaves_room: bool,
    /// Whether its first panel must be the first of its spread.
    pub whole_spread: bool,
    /// How many panels after its words it comes; nothing where that is not asked.
    pub comes: Option<Window>,
    /// On which spread it stands, counted from that of its words; nothing where that is not asked.
    pub with: Option<PictureWith>,
    /// Whether the panel before its first is blank.
    pub blank_before: bool,
    /// Whether it is seen only on the spread after its words.
    pub reveal: bool,
    /// Whether its ink shows through the paper.
    pub heavy: bool,
}

/// All that the search knows of a part.
#[derive(Clone, Debug, PartialEq, Hash)]
pub struct Problem {
    /// The rows. A place is where a panel may begin: place `i` lies before row `i`.
    pub rows: Vec<RowFacts>,
    /// How they stand under each other.
    pub stack: Stack,
    /// The part's panels in order.
    pub panels: Vec<PanelFacts>,
    /// The pictures; those in the queue in the order of their callouts.
    pub pictures: Vec<PictureFacts>,
    /// How many rows are the headings that open the part.
    pub opening: usize,
    /// Places at which the author chose to divide, in order.
    pub chosen_ends: Vec<usize>,
    /// Places at which panels that are passed for press begin and end, in order.
    pub printed_ends: Vec<usize>,
    /// Whether this is the body, which has a first and a last panel of its own fullness.
    pub body: bool,
    /// How many panels the words should take ([`Problem::count_word_panels`]).
    pub word_panels: usize,
    /// The author's rules.
    pub rules: Rules,
    /// Whether the plan does not speak of `blanks`: what is asked of it then goes by pins and pictures.
    pub blanks_unsaid: bool,
}

impl Problem {
    /// Whether a panel with words may end before row `to`.
    pub fn may_end(&self, to: usize) -> bool {
        to == self.rows.len() || !self.rows[to].joined
    }

    /// The rows next above and below place `at` that are no captions, where there are both.
    pub fn around(&self, at: usize) -> Option<(usize, usize)> {
        self.words_before(at).zip(self.words_from(at))
    }

    /// The last row before place `at` that is no caption.
    pub fn words_before(&self, at: usize) -> Option<usize> {
        let above = &self.rows[..at.min(self.rows.len())];
        above.iter().rposition(|row| row.caption.is_none())
    }

    /// The first row from place `at` on that is no caption.
    pub fn words_from(&self, at: usize) -> Option<usize> {
        (at..self.rows.len()).find(|&row| self.rows[row].caption.is_none())
    }

    /// Whether the rows above and below place `at` are lines of one stanza; captions between are looked through.
    pub fn within_stanza(&self, at: usize) -> bool {
        self.within(at, |row| row.verse)
    }

    /// Whether the rows above and below place `at` are of one paragraph; captions between are looked through.
    pub(crate) fn within_paragraph(&self, at: usize) -> bool {
        self.within(at, |row| row.prose)
    }

    fn within(&self, at: usize, kind: impl Fn(&RowFacts) -> bool) -> bool {
        self.around(at).is_some_and(|(above, below)| {
            let (above, below) = (&self.rows[above], &self.rows[below]);
            above.block == below.block && kind(above) && kind(below)
        })
    }

    /// Whether a division at place `at` divides a paragraph, where the author does not ask for it herself; captions
    /// are looked through.
    pub fn divides_paragraph(&self, at: usize) -> bool {
        self.within_paragraph(at) && !self.author_divides(at)
    }

    /// Whether a division at place `at` divides a stanza, where the author does not ask for it: her own word breaks
    /// no rule. Captions are looked through.
    pub fn divides_stanza(&self, at: usize) -> bool {
        self.within_stanza(at) && !self.author_divides(at)
    }

    /// The same part, asked nothing but what must be kept: the hard rules, those of `soft` aside.
    pub fn with_hard_rules_alone(&self, soft: &[RuleName]) -> Problem {
        let off = Weight {
            hard: Some(false),
            importance: 0,
        };
        let mut bare = self.clone();
        for (name, ..) in RuleName::ALL {
            if soft.contains(&name) || !self.rules.is_hard(name) {
                bare.rules.weights.insert(name, off);
            }
        }
        bare
    }

    /// This part, what is printed taken for the author's own word: no hard rule is asked of a printed panel, none
    /// at all of where it ends, nor of where a printed picture stands.
    pub fn as_printed(&self) -> Problem {
        let mut problem = self.clone();
        let passed = problem
            .panels
            .iter_mut()
            .filter_map(|panel| panel.passed.as_mut());
        passed.for_each(|passed| passed.exempt = true);
        let panels = &problem.panels;
        let passed = |panel: usize| panels[panel].passed.is_some();
        let printed = |picture: &&mut PictureFacts| picture.panel.is_some_and(passed);
        for picture in problem.pictures.iter_mut().filter(printed) {
            (picture.comes, picture.with) = (None, None);
            (picture.whole_spread, picture.blank_before) = (false, false);
            picture.reveal = false;
        }
        problem.chosen_ends.extend(&self.printed_ends);
        problem.chosen_ends.sort_unstable();
        problem.chosen_ends.dedup();
        // Nor in which order printed pictures stand.
        let order = problem.rules.weights.entry(RuleName::PictureOrder);
        order.or_default().hard = Some(false);
        problem.mark_long_stanzas();
        problem
    }

    /// Whether the author herself divides between the words above and below place `at`, captions or none between: by
    /// a `[new panel]`, or because she chose to.
    pub fn author_divides(&self, at: usize) -> bool {
        let chosen = || {
            let (above, below) = self.around(at)?;
            let first = self.chosen_ends.partition_point(|&end| end <= above);
            self.chosen_ends.get(first).map(|&end| end <= below)
        };
        let chose = !self.chosen_ends.is_empty() && chosen() == Some(true);
        chose || self.new_panel_at(at)
    }

    /// Whether a `[new panel]` stands between the words above and below place `at`, captions or none between.
    pub fn new_panel_at(&self, at: usize) -> bool {
        self.between(at).iter().any(|row| row.new_panel)
    }

    /// How many sections begin between one place and another: with the rows from the first up to the second.
    pub fn sections_between(&self, from: usize, to: usize) -> u64 {
        let section = |at: usize| {
            let row = self.rows.get(at.saturating_sub(1));
            row.map_or(0, |row| row.section)
        };
        section(to).saturating_sub(section(from)) as u64
    }

    /// Whether a `[may divide]` stands there.
    pub fn may_divide_at(&self, at: usize) -> bool {
        self.between(at).iter().any(|row| row.may_divide)
    }

    /// The captions between the words above and below place `at`, and the row below.
    fn between(&self, at: usize) -> &[RowFacts] {
        match self.around(at) {
            Some((above, below)) => &self.rows[above + 1..=below],
            None => &[],
        }
    }

    /// Whether the pictures of the queue come in any order. More than [`MOST_IN_ANY_ORDER`] keep the order of their words.
    pub fn any_order(&self) -> bool {
        self.rules.picture_order == PictureOrder::Free && self.queue().len() <= MOST_IN_ANY_ORDER
    }

    /// The pictures in the queue, as indices of [`Problem::pictures`], in order.
    pub fn queue(&self) -> Vec<usize> {
        (0..self.pictures.len())
            .filter(|&index| self.pictures[index].queued)
            .collect()
    }
}
