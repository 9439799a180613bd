//! What labels are set in, and what of the plan's own words no face can show.

use unicode_segmentation::UnicodeSegmentation;

use super::Workbench;
use crate::layout::Layout;
use crate::names::{Fault, Faults};
use crate::plan::{LabelAsked, Plan};
use crate::setting::label_faults;
use crate::text::{LineKind, Manuscript};
use crate::typeface::{Family, FontLibrary, Typeface, families};

/// What labels are set in first, each for what those before it lack.
const FIRST: [&str; 4] = ["Alegreya Sans", "Alegreya", "Amiri", "Noto Serif Hebrew"];

impl Workbench {
    /// What labels are set in: the families that come with the program, then those that the plan names.
    ///
    /// # Errors
    /// A font file of the plan that cannot be read any more.
    pub(super) fn label_typeface(&self) -> Result<Typeface, Faults> {
        let plan = self.plan.as_ref().map(|made| made.product.as_ref());
        label_typeface(&self.fonts, plan)
    }

    /// What of the plan's and the callouts' names no face can show, each at the place that says it.
    pub(super) fn labels_faults(&self, plan: &Plan, manuscript: &Manuscript) -> Faults {
        let usual = self.fonts.open_family(FIRST[0]);
        let shown = |words: &str| {
            let has = |family: &Family| words.graphemes(true).all(|one| family.regular.covers(one));
            usual.as_ref().is_some_and(has)
        };
        let calls = manuscript.parts().iter().flat_map(|part| &part.pictures);
        let calls = calls.filter(|call| !shown(&call.name) && plan.picture(&call.name).is_none());
        let mut called: Vec<LabelAsked> = Vec::new();
        for call in calls {
            if called.iter().all(|known| known.words != call.name) {
                called.push(LabelAsked {
                    words: call.name.clone(),
                    place: call.place.clone(),
                });
            }
        }
        let own = plan.labels.iter().filter(|label| !shown(&label.words));
        let mut labels = own.chain(&called).peekable();
        if labels.peek().is_none() {
            return Faults::new();
        }
        // Where a font file cannot be read, the words that are set in it say so.
        let Ok(typeface) = label_typeface(&self.fonts, Some(plan)) else {
            return Faults::new();
        };
        labels
            .flat_map(|label| label_faults(label, &plan.text, &typeface, &self.fonts))
            .collect()
    }

    /// Characters that the faces of the words lack and that stand in the plan's title or author, where a panel shows them.
    ///
    /// # Errors
    /// A fault at their place for each script of them.
    pub(super) fn title_faults(
        &self,
        plan: &Plan,
        layout: &Layout,
        typeface: &Typeface,
    ) -> Result<(), Faults> {
        let lines = || layout.panels.iter().flat_map(|panel| &panel.lines);
        let shown = |kind| lines().any(|line| line.part.is_none() && line.kind == kind);
        let title = plan.labels.first().filter(|_| shown(LineKind::Title));
        let author = plan.author.as_ref().filter(|_| shown(LineKind::Author));
        let labels = title.into_iter().chain(author);
        let faults: Faults = labels
            .flat_map(|label| label_faults(label, &plan.text, typeface, &self.fonts))
            .collect();
        match faults.is_empty() {
            true => Ok(()),
            false => Err(faults),
        }
    }
}

fn label_typeface(fonts: &FontLibrary, plan: Option<&Plan>) -> Result<Typeface, Faults> {
    let others = families().filter(|name| !FIRST.contains(name));
    let names = FIRST.into_iter().chain(others);
    let mut found = names.filter_map(|name| fonts.open_family(name));
    let Some(main) = found.next() else {
        let what = "the fonts that come with the program are damaged";
        return Err(Fault::new("font", what).into());
    };
    let mut fallback: Vec<Family> = found.collect();
    let styles = plan.into_iter().flat_map(|plan| {
        let parts = plan.parts.iter().map(|part| &part.text);
        std::iter::once(&plan.text).chain(parts)
    });
    for style in styles {
        let own = fonts.typeface(style)?;
        fallback.extend(std::iter::once(own.main).chain(own.fallback));
    }
    Ok(Typeface::new(main, fallback))
}
