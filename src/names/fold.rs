//! Folds, and what holds and turns the strip.

/// What covers the closed book.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Cover {
    /// The outside faces are the cover.
    SelfCover,
    /// The outside faces are pasted down on boards.
    Boards,
    /// A band or folded wrapper goes round the book.
    Wrapper,
}

/// A fold as seen from the front.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum FoldKind {
    /// It opens towards the reader of the front.
    Valley,
    /// It points at the reader of the front.
    Mountain,
}

impl FoldKind {
    /// The other kind: that of the same fold seen from the other side, and of the next fold of a concertina.
    pub const fn other(self) -> FoldKind {
        match self {
            FoldKind::Valley => FoldKind::Mountain,
            FoldKind::Mountain => FoldKind::Valley,
        }
    }

    /// `valley` or `mountain`.
    pub const fn word(self) -> &'static str {
        match self {
            FoldKind::Valley => "valley",
            FoldKind::Mountain => "mountain",
        }
    }
}

/// How the reader turns the strip over.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Turned {
    /// Sideways: heads stay together.
    HeadToHead,
    /// Over the top: the head comes to the foot.
    HeadToFoot,
}
