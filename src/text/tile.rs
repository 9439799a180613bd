//! The tiling: what each byte of the manuscript is.

use std::ops::Range;

/// What bytes of the manuscript are.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum TileKind {
    /// The client's words: all that is set.
    Word,
    /// Spaces and tabs between, before and after words.
    Space,
    /// Signs that are not set: `#`, `*`, `>>`, a backslash that makes the next sign plain, a byte-order
    /// mark.
    Markup,
    /// A callout line, brackets included.
    Callout,
    /// A line end.
    LineEnd,
}

/// A stretch of bytes of one kind.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Tile {
    /// What the bytes are.
    pub kind: TileKind,
    /// First byte.
    pub from: usize,
    /// One past the last byte.
    pub to: usize,
}

impl Tile {
    /// The bytes.
    pub fn range(&self) -> Range<usize> {
        self.from..self.to
    }
}

/// Collects tiles in any order and joins neighbours of one kind.
#[derive(Default)]
pub(super) struct Tiling {
    tiles: Vec<Tile>,
}

impl Tiling {
    /// Adds the bytes `[from, to)`, unless there are none.
    pub(super) fn add(&mut self, kind: TileKind, from: usize, to: usize) {
        match self.tiles.last_mut() {
            _ if from >= to => {}
            Some(last) if last.kind == kind && last.to == from => last.to = to,
            _ => self.tiles.push(Tile { kind, from, to }),
        }
    }

    /// All tiles in the order of the file.
    pub(super) fn finish(mut self) -> Vec<Tile> {
        self.tiles.sort_by_key(|tile| tile.from);
        self.tiles.dedup_by(|tile, last| {
            let goes_on = last.kind == tile.kind && last.to == tile.from;
            if goes_on {
                last.to = tile.to;
            }
            goes_on
        });
        self.tiles.shrink_to_fit();
        self.tiles
    }
}
