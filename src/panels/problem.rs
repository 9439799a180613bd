//! What the search knows of a part, and of one panel with what it might carry.

mod steps;

pub use steps::{FallenLine, Falls};
pub(super) use steps::{OnSlots, StandsOn, Stop};

use crate::plan::{PanelName, Percent, PictureWith, Role, Rules, Window};

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
    /// Space above it in half lines, which vanishes at the head of a panel.
    pub space_above: u32,
    /// Whether it must stand on the panel of the row above it.
    pub joined: bool,
    /// Which `[keep together]` holds it.
    pub kept: Option<usize>,
    /// Whether `[may divide]` stands above it.
    pub may_divide: bool,
    /// Whether `[new panel]` stands above it.
    pub new_panel: bool,
    /// How its last word leaves the sentence.
    pub ending: Ending,
    /// The picture that it is a caption of, by the problem's pictures: it stands on a panel of that picture.
    pub caption: Option<usize>,
}

/// A text area as the search sees it.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub struct AreaFacts {
    /// Which of the problem's settings lines have here.
    pub setting: usize,
    /// How many half lines fit.
    pub capacity: u32,
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
    /// Its text area; nothing where no words can stand.
    pub area: Option<AreaFacts>,
    /// Its text area beside each picture, by the problem's pictures.
    pub shared: Vec<Option<AreaFacts>>,
    /// The fullness asked of it by a pin.
    pub fullness: Option<Percent>,
    /// The row it must begin with.
    pub begins: Option<usize>,
    /// The place it must end at, whether its own words end there or those of a panel before.
    pub ends: Option<usize>,
    /// Which spread it belongs to, counted over the whole strip in the order of leafing; a face in no pair is
    /// a spread of its own.
    pub spread: usize,
    /// Whether it is the first panel of its spread.
    pub opens_spread: bool,
    /// Whether it lies right behind the part's panel before it, on the same side, so that one picture may
    /// stand on both.
    pub follows: bool,
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
    /// Whether its first panel must be the first of its spread.
    pub whole_spread: bool,
    /// How many panels after its words it comes; nothing where that is not asked.
    pub comes: Option<Window>,
    /// On which spread it stands, counted from that of its words; nothing where that is not asked.
    pub with: Option<PictureWith>,
    /// Whether the panel before its first is blank.
    pub blank_before: bool,
}

/// All that the search knows of a part.
#[derive(Clone, Debug, PartialEq, Hash)]
pub struct Problem {
    /// The rows. A place is where a panel may begin: place `i` lies before row `i`.
    pub rows: Vec<RowFacts>,
    /// Height of each row in half lines, by setting; rows of paragraphs have none, their lines do. In a shaped area
    /// heights differ by slot ([`OnSlots`]), and these are those of rows beyond its last.
    pub heights: Vec<Vec<u32>>,
    /// How the paragraphs fall into lines, by setting.
    pub falls: Vec<Falls>,
    /// The part's panels in order.
    pub panels: Vec<PanelFacts>,
    /// The pictures; those in the queue in the order of their callouts.
    pub pictures: Vec<PictureFacts>,
    /// How many rows are the headings that open the part.
    pub opening: usize,
    /// Whether this is the body, which has a first and a last panel of its own fullness.
    pub body: bool,
    /// The author's rules.
    pub rules: Rules,
}

impl Problem {
    /// Whether a panel with words may end before row `to`.
    pub fn may_end(&self, to: usize) -> bool {
        to == self.rows.len() || !self.rows[to].joined
    }

    /// Whether the rows above and below place `at` are lines of one stanza; captions between are looked through.
    pub fn within_stanza(&self, at: usize) -> bool {
        let (above, below) = self.rows.split_at(at.min(self.rows.len()));
        let text = |row: &&RowFacts| row.caption.is_none();
        let around = above.iter().rfind(text).zip(below.iter().find(text));
        around
            .is_some_and(|(above, below)| above.block == below.block && above.verse && below.verse)
    }

    /// Whether a division before row `at` divides a paragraph, where no `[new panel]` asks for it.
    pub fn divides_paragraph(&self, at: usize) -> bool {
        at < self.rows.len() && self.rows[at].inner && !self.rows[at].new_panel
    }

    /// Whether a division before row `at` divides a stanza, where no `[new panel]` asks for it: the author's
    /// own word breaks no rule.
    pub fn divides_stanza(&self, at: usize) -> bool {
        self.within_stanza(at) && !self.rows[at].new_panel
    }

    /// The pictures in the queue, as indices of [`Problem::pictures`], in order.
    pub fn queue(&self) -> Vec<usize> {
        (0..self.pictures.len())
            .filter(|&index| self.pictures[index].queued)
            .collect()
    }
}

/// One panel with what it might carry: what a rule reads.
#[derive(Clone, Copy, Debug)]
pub struct Reading<'a> {
    /// The part.
    pub problem: &'a Problem,
    /// Which of the part's panels.
    pub panel: usize,
    /// What it carries.
    pub role: Role,
    /// First row on it.
    pub from: usize,
    /// One past the last row on it; `from` where no row is.
    pub to: usize,
    /// Its picture.
    pub picture: Option<usize>,
    /// Whether that picture begins here: the panel is the first that it stands on.
    pub begins_picture: bool,
    /// How many pictures of the queue begin on panels before this one.
    pub placed: usize,
    /// The setting of its lines; nothing where no words stand.
    pub setting: Option<usize>,
    /// What its words take, in half lines.
    pub used: u32,
    /// How many lines of its last paragraph stand here, if its last words are of one.
    pub foot: u32,
    /// How many half lines fit.
    pub capacity: u32,
}

impl Reading<'_> {
    /// Whether ordinary words stand here: a title panel's do not count.
    pub fn has_words(&self) -> bool {
        matches!(self.role, Role::Text | Role::Shared)
    }

    /// Whether the part's first words, headings aside, stand here.
    pub fn begins_part(&self) -> bool {
        self.has_words() && self.from <= self.problem.opening
    }

    /// Whether the part's last words stand here.
    pub fn ends_part(&self) -> bool {
        self.has_words() && self.to == self.problem.rows.len()
    }

    /// How many whole percentage points the fullness lies off `asked`.
    pub fn off(&self, asked: Percent) -> u64 {
        if self.capacity == 0 {
            return 0;
        }
        let capacity = u64::from(self.capacity);
        let used = u64::from(self.used) * 100;
        used.abs_diff(u64::from(asked.0) * capacity) / capacity
    }

    /// How many stanzas and paragraphs have lines here.
    pub fn stanzas(&self) -> u64 {
        let mut last = None;
        let begins = self
            .pieces()
            .map(|piece| &self.problem.rows[piece.from])
            .filter(|row| row.verse || row.prose)
            .filter(|row| last.replace(row.block) != Some(row.block));
        begins.count() as u64
    }

    /// How many verse lines and lines of paragraphs stand here.
    pub fn lines(&self) -> u64 {
        self.pieces().map(|piece| piece.lines).sum()
    }

    /// The pieces of paragraphs and the single rows that stand here, in order.
    pub fn pieces(&self) -> impl Iterator<Item = PieceHere> + '_ {
        let mut at = self.from;
        let mut steps = self
            .setting
            .map(|setting| self.problem.steps(setting, self.from));
        std::iter::from_fn(move || {
            let row = self.problem.rows[..self.to].get(at)?;
            let from = at;
            let verse = u64::from(row.verse);
            let Some(steps) = &mut steps else {
                at += 1;
                return Some(PieceHere { from, lines: verse });
            };
            loop {
                let stop = steps.next()?;
                at = stop.to;
                if steps.line.is_none() || at >= self.to {
                    let lines = match stop.foot {
                        0 => verse,
                        lines => u64::from(lines),
                    };
                    return Some(PieceHere { from, lines });
                }
            }
        })
    }

    /// How many lines of the first stanza or paragraph stand here, counted up to `most`; captions are looked
    /// through.
    pub fn lines_at_head(&self, most: u64) -> u64 {
        let rows = &self.problem.rows[self.from..self.to];
        let captions = rows.iter().take_while(|row| row.caption.is_some()).count();
        match rows.get(captions) {
            Some(first) if first.prose => {
                let lines = self.lines_of_paragraph(self.from + captions);
                lines.take(most as usize).count() as u64
            }
            Some(first) => {
                let text = rows[captions..].iter().filter(|row| row.caption.is_none());
                let of_stanza = |row: &&RowFacts| row.block == first.block && row.verse;
                text.take_while(of_stanza).take(most as usize).count() as u64
            }
            None => 0,
        }
    }

    /// The lines that stand here of the paragraph from place `from` on.
    fn lines_of_paragraph(&self, from: usize) -> impl Iterator<Item = &FallenLine> {
        let falls = self.setting.map(|setting| &self.problem.falls[setting]);
        let mut next = falls.and_then(|falls| falls.first(from));
        std::iter::from_fn(move || {
            let line = &falls?.lines[next?];
            let goes_on = line.to.is_none_or(|to| (to as usize) < self.to);
            next = line.next.filter(|_| goes_on).map(|next| next as usize);
            Some(line)
        })
    }

    /// How many lines of the last stanza or paragraph stand here, captions looked through; those of a stanza
    /// counted up to `most`.
    pub fn lines_at_foot(&self, most: u64) -> u64 {
        let rows = &self.problem.rows[self.from..self.to];
        let mut text = rows.iter().rev().filter(|row| row.caption.is_none());
        match text.clone().next() {
            Some(last) if last.prose && rows.last().is_some_and(|row| row.caption.is_none()) => {
                u64::from(self.foot)
            }
            Some(last) if last.prose => self.lines_above_captions(),
            Some(last) => {
                let of_stanza = |row: &&RowFacts| row.block == last.block && row.verse;
                let of_last = text.by_ref().take_while(of_stanza);
                of_last.take(most as usize).count() as u64
            }
            None => 0,
        }
    }

    /// How many lines stand here of the last paragraph, where captions stand below it.
    fn lines_above_captions(&self) -> u64 {
        let rows = &self.problem.rows;
        let pieces = self.pieces().filter(|piece| rows[piece.from].prose);
        pieces.last().map_or(0, |piece| piece.lines)
    }
}

/// The part of a paragraph that stands on a panel, or a single row.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct PieceHere {
    /// Its first row.
    pub from: usize,
    /// How many verse lines or lines of the paragraph it has.
    pub lines: u64,
}
