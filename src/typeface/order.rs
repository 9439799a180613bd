//! Which way words run: the one file that knows unicode-bidi (UAX #9).

use unicode_bidi::{
    BidiClass, BidiDataSource, Direction as BidiDirection, HardcodedBidiData, ParagraphBidiInfo,
};

use crate::names::Direction;

/// An embedding level of UAX #9: even from left to right, odd from right to left.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub struct Level(u8);

impl Level {
    /// The level by its number.
    pub const fn new(number: u8) -> Level {
        Level(number)
    }

    /// Its number.
    pub const fn number(self) -> u8 {
        self.0
    }

    /// Which way it runs.
    pub const fn reads(self) -> Direction {
        match self.0 % 2 {
            0 => Direction::LeftToRight,
            _ => Direction::RightToLeft,
        }
    }

    /// Whether it runs from right to left.
    pub const fn is_right_to_left(self) -> bool {
        self.0 % 2 == 1
    }
}

/// Where a line's base direction comes from.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Base {
    /// The author gave it.
    Given(Direction),
    /// That of the line's first strong character (UAX #9, P2 and P3), or else this one.
    FirstStrong {
        /// For a line without any strong character.
        otherwise: Direction,
    },
}

impl Default for Base {
    fn default() -> Base {
        Base::FirstStrong {
            otherwise: Direction::LeftToRight,
        }
    }
}

/// The levels of a line's characters.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Levels {
    base: Direction,
    /// By byte; empty where all are nought.
    by_byte: Vec<Level>,
}

impl Levels {
    /// The levels of a line as it is displayed: UAX #9 up to rule L1, the line being the whole paragraph.
    /// What rule X9 takes out of account has the level of what stands before it.
    pub fn of(text: &str, base: Base) -> Levels {
        let plain = text.chars().all(is_left_to_right_or_weak);
        let base = match base {
            Base::Given(reads) => reads,
            Base::FirstStrong { otherwise } if plain && otherwise == Direction::LeftToRight => {
                otherwise
            }
            Base::FirstStrong { otherwise } => first_strong(text).unwrap_or(otherwise),
        };
        if plain && base == Direction::LeftToRight {
            let by_byte = Vec::new();
            return Levels { base, by_byte };
        }
        let level = match base {
            Direction::LeftToRight => unicode_bidi::Level::ltr(),
            Direction::RightToLeft => unicode_bidi::Level::rtl(),
        };
        let info = ParagraphBidiInfo::new(text, Some(level));
        let levels = info.reordered_levels(0..text.len());
        let mut by_byte: Vec<Level> = levels.iter().map(|level| Level(level.number())).collect();
        if by_byte.iter().all(|level| level.0 == 0) {
            by_byte.clear();
        }
        Levels { base, by_byte }
    }

    /// The line's base direction.
    pub fn base(&self) -> Direction {
        self.base
    }

    /// The level of the line as a whole.
    pub fn base_level(&self) -> Level {
        Level(u8::from(self.base == Direction::RightToLeft))
    }

    /// Whether the whole line runs from left to right at level nought.
    pub fn is_plain(&self) -> bool {
        self.by_byte.is_empty()
    }

    /// The level of the character that begins at a byte.
    pub fn at(&self, byte: usize) -> Level {
        self.by_byte.get(byte).copied().unwrap_or_default()
    }
}

/// The places of these in logical order, from left to right (UAX #9, L2).
pub fn visual_order(levels: &[Level]) -> Vec<usize> {
    let mut order: Vec<usize> = (0..levels.len()).collect();
    let odd = levels.iter().filter(|level| level.is_right_to_left());
    let (Some(highest), Some(lowest)) = (levels.iter().max(), odd.min()) else {
        return order;
    };
    // From the highest level to the lowest odd one, whatever stands at that level or higher is reversed.
    for level in (lowest.0..=highest.0).rev() {
        for stretch in order.chunk_by_mut(|&a, &b| (levels[a].0 >= level) == (levels[b].0 >= level))
        {
            if levels[stretch[0]].0 >= level {
                stretch.reverse();
            }
        }
    }
    order
}

/// The direction of the first strong character outside isolates; nothing where there is none.
fn first_strong(text: &str) -> Option<Direction> {
    match unicode_bidi::get_base_direction_full(text) {
        BidiDirection::Ltr => Some(Direction::LeftToRight),
        BidiDirection::Rtl => Some(Direction::RightToLeft),
        BidiDirection::Mixed => None,
    }
}

/// Whether a character neither runs from right to left nor steers direction: in a line of such characters that runs
/// from left to right, all levels are nought.
fn is_left_to_right_or_weak(c: char) -> bool {
    use BidiClass::{AL, AN, FSI, LRE, LRI, LRO, PDF, PDI, R, RLE, RLI, RLO};
    // No ASCII character does, and most characters are ASCII.
    c.is_ascii()
        || !matches!(
            unicode_bidi::bidi_class(c),
            AL | AN | FSI | LRE | LRI | LRO | PDF | PDI | R | RLE | RLI | RLO
        )
}

/// A bracket of a pair (Bidi_Paired_Bracket, as UAX #9, BD14 to BD16, has it).
pub(super) struct Bracket {
    /// Both brackets of a pair have the same here: the one that opens, in its canonical form.
    pub(super) pair: char,
    /// Whether it is the one that opens.
    pub(super) opens: bool,
}

/// What bracket a character is, if it is one.
pub(super) fn bracket(c: char) -> Option<Bracket> {
    // Most characters are letters, and brackets are looked for one by one.
    if c.is_alphanumeric() {
        return None;
    }
    let found = HardcodedBidiData.bidi_matched_opening_bracket(c)?;
    Some(Bracket {
        pair: found.opening,
        opens: found.is_open,
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    fn levels(text: &str, base: Base) -> Vec<u8> {
        let levels = Levels::of(text, base);
        text.char_indices().map(|(at, _)| levels.at(at).0).collect()
    }

    /// What the quick way passes over has level nought by the whole algorithm, too.
    #[test]
    fn the_quick_way_passes_over_nothing_that_turns() {
        let passed: Vec<char> = ('\0'..=char::MAX)
            .filter(|c| is_left_to_right_or_weak(*c))
            .collect();
        for some in passed.chunks(1000) {
            let text: String = some.iter().collect();
            let info = ParagraphBidiInfo::new(&text, Some(unicode_bidi::Level::ltr()));
            assert!(!info.has_rtl(), "from {:?} on", some[0]);
            assert_ne!(first_strong(&text), Some(Direction::RightToLeft));
        }
    }

    #[test]
    fn the_base_is_given_or_that_of_the_first_strong_character() {
        let given = |reads| Base::Given(reads);
        let first_strong = |otherwise| Base::FirstStrong { otherwise };
        let (ltr, rtl) = (Direction::LeftToRight, Direction::RightToLeft);
        let base = |text, base| Levels::of(text, base).base();
        assert_eq!(base("1974 –", first_strong(rtl)), rtl);
        assert_eq!(base("1974 –", first_strong(ltr)), ltr);
        assert_eq!(base("1974 – bus", first_strong(rtl)), ltr);
        assert_eq!(base("1974 – אוטובוס", first_strong(ltr)), rtl);
        assert_eq!(base("אוטובוס", given(ltr)), ltr);
        assert_eq!(levels("a1", given(rtl)), [2, 2]);
        assert_eq!(levels("1 ", given(rtl)), [2, 1]);
        assert!(Levels::of("a1", given(ltr)).is_plain());
    }

    /// Source: UAX #9, rule L2, followed by hand.
    #[test]
    fn order_is_that_of_the_rule() {
        let order = |levels: &[u8]| {
            let levels: Vec<Level> = levels.iter().map(|level| Level(*level)).collect();
            visual_order(&levels)
        };
        assert_eq!(order(&[0, 0, 0, 1, 1, 1]), [0, 1, 2, 5, 4, 3]);
        assert_eq!(order(&[2, 2, 1, 1, 1]), [4, 3, 2, 0, 1]);
        assert_eq!(order(&[0, 2, 2, 1, 1, 2, 0]), [0, 5, 4, 3, 1, 2, 6]);
        assert_eq!(order(&[1, 1, 4, 4, 3, 3, 2, 1]), [7, 5, 4, 2, 3, 6, 1, 0]);
        assert!(order(&[]).is_empty());
    }
}
