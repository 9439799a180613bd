//! Sides and panels of the strip, by name.

use std::fmt;

/// One side of the strip.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub enum Side {
    /// The side read first.
    Front,
    /// The side read after the strip is turned over.
    Back,
}

impl Side {
    /// `front` or `back`.
    pub const fn word(self) -> &'static str {
        match self {
            Side::Front => "front",
            Side::Back => "back",
        }
    }
}

/// A side edge of a panel, as its reader sees it.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Edge {
    /// At the left.
    Left,
    /// At the right.
    Right,
}

/// A panel by side and number: `front 1` … in reading order of its side.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub struct PanelName {
    /// Its side.
    pub side: Side,
    /// Its number on that side, from 1.
    pub number: u16,
}

impl PanelName {
    /// `front n`.
    pub const fn front(number: u16) -> PanelName {
        PanelName {
            side: Side::Front,
            number,
        }
    }

    /// `back n`.
    pub const fn back(number: u16) -> PanelName {
        PanelName {
            side: Side::Back,
            number,
        }
    }
}

impl fmt::Display for PanelName {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{} {}", self.side.word(), self.number)
    }
}

/// Reads `front 3`; the error is a sentence that says what a panel is.
impl std::str::FromStr for PanelName {
    type Err = String;

    fn from_str(text: &str) -> Result<PanelName, String> {
        read_name(text).ok_or_else(|| {
            "a panel is a side and a number from 1, such as \"front 3\" or \"back 1\"".to_string()
        })
    }
}

fn read_name(text: &str) -> Option<PanelName> {
    let mut words = text.split(' ').filter(|word| !word.is_empty());
    let (side, number) = (words.next()?, words.next()?);
    let side = match side {
        "front" => Side::Front,
        "back" => Side::Back,
        _ => return None,
    };
    let figures = number.bytes().all(|byte| byte.is_ascii_digit());
    if words.next().is_some() || !figures || number.starts_with('0') || number.len() > 4 {
        return None;
    }
    let number = number.parse().ok()?;
    Some(PanelName { side, number })
}

/// The panels that a strip has.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct PanelSet {
    /// Panels on each side.
    pub per_side: u16,
    /// Whether the back is printed.
    pub sides: Sides,
}

impl PanelSet {
    /// Every panel, front then back.
    pub fn all(self) -> impl Iterator<Item = PanelName> {
        let back = match self.sides {
            Sides::Both => self.per_side,
            Sides::Front => 0,
        };
        (1..=self.per_side)
            .map(PanelName::front)
            .chain((1..=back).map(PanelName::back))
    }

    /// Whether the strip has that panel.
    pub fn contains(self, panel: PanelName) -> bool {
        let printed = panel.side == Side::Front || self.sides == Sides::Both;
        printed && (1..=self.per_side).contains(&panel.number)
    }
}

/// Which sides are printed.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Sides {
    /// Front and back.
    Both,
    /// The front only.
    Front,
}

impl PanelName {
    /// Whether it is the panel after `before` on the same side.
    pub fn follows(self, before: PanelName) -> bool {
        (before.side, before.number.saturating_add(1)) == (self.side, self.number)
    }
}

/// Panels as messages tell them: `front 1 to front 5, front 8, back 2`.
pub fn panel_list(panels: &[PanelName]) -> String {
    let runs = panels.chunk_by(|one, next| next.follows(*one));
    let told = runs.map(|run| match run {
        [first, .., last] if run.len() > 2 => format!("{first} to {last}"),
        _ => run
            .iter()
            .map(ToString::to_string)
            .collect::<Vec<_>>()
            .join(", "),
    });
    told.collect::<Vec<_>>().join(", ")
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn panels_are_told_as_runs() {
        let panels: Vec<PanelName> = [1, 2, 3, 5, 6, 8].map(PanelName::front).to_vec();
        let panels = [panels, vec![PanelName::back(9)]].concat();
        assert_eq!(
            panel_list(&panels),
            "front 1 to front 3, front 5, front 6, front 8, back 9"
        );
    }
}
