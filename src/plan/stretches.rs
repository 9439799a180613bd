//! Panels that follow each other: where a picture that stands on several may begin, and how they are told.

use super::{PanelName, Paper};

impl PanelName {
    /// Whether it lies right behind `before` on the same side.
    pub fn follows(self, before: PanelName) -> bool {
        (before.side, before.number.saturating_add(1)) == (self.side, self.number)
    }
}

impl Paper {
    /// Whether a panel is the first of its spread; a face in no pair is a spread of its own.
    pub fn opens_spread(&self, panel: PanelName) -> bool {
        let leafing = self.leafing();
        leafing.iter().any(|spread| spread.first() == Some(&panel))
    }

    /// The panels among `on` where a picture may begin that stands on `spans` of them, one behind the other; on
    /// the first of a spread, where it is one for whole spreads.
    pub fn starts(&self, on: &[PanelName], spans: u16, whole_spread: bool) -> Vec<PanelName> {
        let runs = |stretch: &&[PanelName]| stretch.windows(2).all(|two| two[1].follows(two[0]));
        let stretches = on.windows(usize::from(spans.max(1))).filter(runs);
        let opens = |panel: &PanelName| !whole_spread || self.opens_spread(*panel);
        stretches.map(|stretch| stretch[0]).filter(opens).collect()
    }
}

/// Panels as messages tell them: `front 1 to front 5, front 8, back 2`.
pub fn told(panels: &[PanelName]) -> String {
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
            told(&panels),
            "front 1 to front 3, front 5, front 6, front 8, back 9"
        );
    }
}
