//! Panels that follow each other: where a picture that stands on several may begin.

use super::Paper;
use crate::names::PanelName;

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
