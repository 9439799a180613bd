//! What the search knows of a part, and of one panel with what it might carry.

use crate::plan::{PanelName, Percent, Role, Rules};

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

/// What the rules may know of a row.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct RowFacts {
    /// Which stanza or other block it belongs to.
    pub block: usize,
    /// Whether it is a verse line; headings, ornaments, attributions and room are not.
    pub verse: bool,
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
#[derive(Clone, Debug, PartialEq, Eq)]
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
}

/// A picture that the part or its panels place.
#[derive(Clone, Debug, PartialEq, Eq)]
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
}

/// All that the search knows of a part.
#[derive(Clone, Debug, PartialEq)]
pub struct Problem {
    /// The rows.
    pub rows: Vec<RowFacts>,
    /// Height of each row in half lines, by setting.
    pub heights: Vec<Vec<u32>>,
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
    /// The half lines that rows `from..to` take on one panel at a setting.
    pub fn depth(&self, setting: usize, from: usize, to: usize) -> u32 {
        let heights = &self.heights[setting][from..to];
        let spaces = self.rows[from..to]
            .iter()
            .skip(1)
            .map(|row| row.space_above);
        heights.iter().sum::<u32>() + spaces.sum::<u32>()
    }

    /// Whether a panel with words may end before row `to`.
    pub fn may_end(&self, to: usize) -> bool {
        to == self.rows.len() || !self.rows[to].joined
    }

    /// Whether rows `at − 1` and `at` are lines of one stanza.
    pub fn within_stanza(&self, at: usize) -> bool {
        at > 0 && at < self.rows.len() && {
            let (above, below) = (&self.rows[at - 1], &self.rows[at]);
            above.block == below.block && above.verse && below.verse
        }
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
    /// What its words take, in half lines.
    pub used: u32,
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

    /// How many stanzas have lines here.
    pub fn stanzas(&self) -> u64 {
        let verse = self.problem.rows[self.from..self.to]
            .iter()
            .filter(|row| row.verse);
        let mut last = None;
        let begins = verse.filter(|row| last.replace(row.block) != Some(row.block));
        begins.count() as u64
    }

    /// How many verse lines stand here.
    pub fn verse_lines(&self) -> u64 {
        self.problem.rows[self.from..self.to]
            .iter()
            .filter(|row| row.verse)
            .count() as u64
    }
}
