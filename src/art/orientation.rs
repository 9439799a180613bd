//! Which way up a picture is: the eight orientations of TIFF 6.0 (tag 274), which Exif, and so JPEG and PNG, share.

use super::Edge;

/// How the stored pixels must be turned or mirrored to stand upright. Pixels are never touched for it.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) struct Orientation(u8);

impl Orientation {
    /// The picture stands as it is stored.
    pub(super) const UPRIGHT: Orientation = Orientation(1);

    /// The orientation of that number; the first where there is no such number.
    pub(super) fn numbered(number: u16) -> Orientation {
        match number {
            1..=8 => Orientation(number as u8),
            _ => Orientation::UPRIGHT,
        }
    }

    /// Whether rows become columns.
    pub(crate) fn swaps(self) -> bool {
        self.0 > 4
    }

    /// The six numbers of a PDF matrix that takes the unit square of the stored picture (its first row at the top, `y` up)
    /// to that of the upright one.
    pub(crate) fn matrix(self) -> [i8; 6] {
        match self.0 {
            2 => [-1, 0, 0, 1, 1, 0],
            3 => [-1, 0, 0, -1, 1, 1],
            4 => [1, 0, 0, -1, 0, 1],
            5 => [0, -1, -1, 0, 1, 1],
            6 => [0, -1, 1, 0, 0, 1],
            7 => [0, 1, 1, 0, 0, 0],
            8 => [0, 1, -1, 0, 1, 0],
            _ => [1, 0, 0, 1, 0, 0],
        }
    }

    /// The edge of the stored pixels that is this edge of the upright picture.
    pub(super) fn stored(self, upright: Edge) -> Edge {
        let [a, b, c, d, e, f] = self.matrix();
        // These are the middles of the edges, in half sides.
        let middle = |edge: Edge| match edge {
            Edge::Left => (0, 1),
            Edge::Right => (2, 1),
            Edge::Top => (1, 2),
            Edge::Bottom => (1, 0),
        };
        let lands = |edge: Edge| {
            let (u, v) = middle(edge);
            (a * u + c * v + 2 * e, b * u + d * v + 2 * f)
        };
        let found = Edge::ALL.into_iter();
        let mut found = found.filter(|edge| lands(*edge) == middle(upright));
        found.next().unwrap_or(upright)
    }
}

/// The orientation that an Exif block tells (Exif 2.3 §4.6.4: a TIFF header and its first directory); the first
/// one where it tells none, or nothing that can be read.
pub(super) fn from_exif(block: &[u8]) -> Orientation {
    orientation(block).map_or(Orientation::UPRIGHT, Orientation::numbered)
}

fn orientation(block: &[u8]) -> Option<u16> {
    let little = match block.get(..4)? {
        b"II*\0" => true,
        b"MM\0*" => false,
        _ => return None,
    };
    let short = |at: usize| {
        let bytes = block.get(at..)?.first_chunk::<2>()?;
        Some(if little {
            u16::from_le_bytes(*bytes)
        } else {
            u16::from_be_bytes(*bytes)
        })
    };
    let long = |at: usize| {
        let bytes = block.get(at..)?.first_chunk::<4>()?;
        Some(if little {
            u32::from_le_bytes(*bytes)
        } else {
            u32::from_be_bytes(*bytes)
        })
    };
    let directory = long(4)? as usize;
    let entries = usize::from(short(directory)?);
    (0..entries).find_map(|entry| {
        let at = directory.checked_add(2 + 12 * entry)?;
        // The tag is 274, and its value one number of 16 bits.
        (short(at)? == 274 && short(at + 2)? == 3).then(|| short(at + 8))?
    })
}
