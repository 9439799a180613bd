//! Which pictures of a part's queue begin on earlier panels.

/// A part whose pictures come in any order has no more of them in its queue than this.
pub const MOST_IN_ANY_ORDER: usize = 32;

/// Which pictures of a part's queue begin on panels before one.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Placed {
    /// The first so many: pictures keep their order.
    First(usize),
    /// Any of them, a bit for each, the queue's first the lowest.
    Any(u32),
}

impl Placed {
    /// None of them.
    pub const NONE: Placed = Placed::First(0);

    /// Whether the one of that number in the queue is among them.
    pub fn has(self, number: usize) -> bool {
        match self {
            Placed::First(count) => number < count,
            Placed::Any(bits) => bits.checked_shr(number as u32).unwrap_or(0) & 1 == 1,
        }
    }

    /// How many they are.
    pub fn count(self) -> usize {
        match self {
            Placed::First(count) => count,
            Placed::Any(bits) => bits.count_ones() as usize,
        }
    }

    /// They and the one of that number, which is the next where pictures keep their order.
    #[must_use]
    pub fn with(self, number: usize) -> Placed {
        match self {
            Placed::First(count) => Placed::First(count + 1),
            Placed::Any(bits) => Placed::Any(bits | 1 << number),
        }
    }
}
