//! The strip as a paper object: its geometry, held against simulations that know nothing of the program's own rules.

mod books;
mod catalogue;
mod folded;
mod made;
mod sheets;
mod turned;

use proptest::prelude::*;
use versefold::names::{Cover, Direction, FoldKind, Length, PanelSet, Sides, Turned};
use versefold::plan::{Ends, Paper, Safety};

/// How many random strips a property is tried on.
pub fn cases() -> ProptestConfig {
    let asked = std::env::var("VERSEFOLD_CASES").ok();
    ProptestConfig::with_cases(asked.and_then(|asked| asked.parse().ok()).unwrap_or(2000))
}

/// A plain strip of so many panels.
pub fn strip_of(per_side: u16, first_fold: FoldKind) -> Paper {
    Paper {
        panel_width: Length::mm(105),
        panel_height: Length::mm(148),
        ends: Ends {
            first: Length::mm(105),
            last: Length::mm(105),
        },
        panels: PanelSet {
            per_side,
            sides: Sides::Both,
        },
        cover: Cover::SelfCover,
        first_fold,
        turned: Turned::HeadToHead,
        reads: Direction::LeftToRight,
        bleed: Length::mm(3),
        safety: Safety {
            fold: Length::mm(6),
            edge: Length::mm(5),
        },
    }
}

prop_compose! {
    /// Any strip of at least so many panels: widths are whole units, not whole millimetres.
    pub fn any_strip(least: u16)(
        per_side in least..=400,
        width in 720_000i64..8_000_000,
        height in 720_000i64..9_000_000,
        ends in (720_000i64..8_000_000, 720_000i64..8_000_000, any::<bool>()),
        valley in any::<bool>(),
        foot in any::<bool>(),
        rtl in any::<bool>(),
        bleed in 0i64..200_000,
    ) -> Paper {
        let (first, last, plain) = ends;
        let (first, last) = if plain { (width, width) } else { (first, last) };
        Paper {
            panel_width: Length::from_units(width),
            panel_height: Length::from_units(height),
            ends: Ends {
                first: Length::from_units(first),
                last: Length::from_units(if per_side == 1 { first } else { last }),
            },
            first_fold: if valley { FoldKind::Valley } else { FoldKind::Mountain },
            turned: if foot { Turned::HeadToFoot } else { Turned::HeadToHead },
            reads: if rtl { Direction::RightToLeft } else { Direction::LeftToRight },
            bleed: Length::from_units(bleed),
            ..strip_of(per_side, FoldKind::Mountain)
        }
    }
}
