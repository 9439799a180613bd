//! How far a font looks along a line: whether its rules for glyphs in context see past a space.

use ttf_parser::GlyphId;
use ttf_parser::gpos::PositioningSubtable;
use ttf_parser::gsub::SubstitutionSubtable;
use ttf_parser::opentype_layout::{
    ChainedContextLookup, ContextLookup, Coverage, LayoutTable, LookupSubtable,
};

/// How much of a line around a word its glyphs depend on.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub(in crate::typeface) enum ContextReach {
    /// The spaces beside it.
    Spaces,
    /// The whole line: some rule changes a space, or looks past one at the words beside it.
    Line,
}

/// How many rules and tables of rules are looked at before the font is taken for one that looks along whole lines. Fonts
/// that people set text in have some thousands.
const PATIENCE: usize = 200_000;

/// The reach of a font: the farthest of all its contextual rules (OpenType 1.9, GSUB lookup types 5 and 6,
/// GPOS lookup types 7 and 8), whatever feature they belong to.
pub(super) fn of(face: &ttf_parser::Face<'_>) -> ContextReach {
    if face.tables().morx.is_some() || face.tables().kerx.is_some() {
        // State machines may look as far as they like.
        return ContextReach::Line;
    }
    let Some(space) = face.glyph_index(' ') else {
        return ContextReach::Spaces;
    };
    let mut survey = ReachSurvey {
        space,
        found: ContextReach::Spaces,
        seen: 0,
    };
    if let Some(table) = face.tables().gsub {
        survey.table(&table, |survey, subtable| match subtable {
            SubstitutionSubtable::Context(rules) => survey.context(&rules),
            SubstitutionSubtable::ChainContext(rules) => survey.chained(&rules),
            _ => {}
        });
    }
    if let Some(table) = face.tables().gpos {
        survey.table(&table, |survey, subtable| match subtable {
            PositioningSubtable::Context(rules) => survey.context(&rules),
            PositioningSubtable::ChainContext(rules) => survey.chained(&rules),
            _ => {}
        });
    }
    survey.found
}

struct ReachSurvey {
    space: GlyphId,
    found: ContextReach,
    seen: usize,
}

impl ReachSurvey {
    fn table<'a, T: LookupSubtable<'a>>(
        &mut self,
        table: &LayoutTable<'a>,
        look: impl Fn(&mut ReachSurvey, T),
    ) {
        for lookup in table.lookups {
            for subtable in lookup.subtables.into_iter::<T>() {
                self.seen += 1;
                if self.seen > PATIENCE {
                    self.found = ContextReach::Line;
                }
                if self.found == ContextReach::Line {
                    return;
                }
                look(self, subtable);
            }
        }
    }

    fn covers(&self, coverage: Coverage<'_>) -> bool {
        coverage.contains(self.space)
    }

    /// Takes in one rule: which places of it may be a space, those before the glyphs that it changes
    /// counted from them outwards.
    fn rule(
        &mut self,
        before: impl Iterator<Item = bool>,
        mut changed: impl Iterator<Item = bool>,
        behind: impl Iterator<Item = bool>,
    ) {
        self.seen += 1;
        let midst = |places: Vec<bool>| {
            let inner = places.len().saturating_sub(1);
            places[..inner].iter().filter(|space| **space).count()
        };
        let words = midst(before.collect()).max(midst(behind.collect()));
        let reach = if words > 0 || self.seen > PATIENCE || changed.any(|space| space) {
            ContextReach::Line
        } else {
            ContextReach::Spaces
        };
        self.found = self.found.max(reach);
    }

    fn context(&mut self, rules: &ContextLookup<'_>) {
        let none = std::iter::empty::<bool>;
        let first = self.covers(rules.coverage());
        let space = self.space;
        match rules {
            ContextLookup::Format1 { sets, .. } => {
                for rule in sets.into_iter().flatten().take(PATIENCE) {
                    let input = rule.input.into_iter().map(|glyph| glyph == space.0);
                    self.rule(none(), std::iter::once(first).chain(input), none());
                }
            }
            ContextLookup::Format2 { classes, sets, .. } => {
                let class = classes.get(space);
                for rule in sets.into_iter().flatten().take(PATIENCE) {
                    let input = rule.input.into_iter().map(|one| one == class);
                    self.rule(none(), std::iter::once(first).chain(input), none());
                }
            }
            ContextLookup::Format3 { coverages, .. } => {
                let input = coverages.into_iter().map(|one| one.contains(space));
                self.rule(none(), std::iter::once(first).chain(input), none());
            }
        }
    }

    fn chained(&mut self, rules: &ChainedContextLookup<'_>) {
        let first = self.covers(rules.coverage());
        let space = self.space;
        match rules {
            ChainedContextLookup::Format1 { sets, .. } => {
                let is = move |glyph: u16| glyph == space.0;
                for rule in sets.into_iter().flatten().take(PATIENCE) {
                    let changed = std::iter::once(first).chain(rule.input.into_iter().map(is));
                    let before = rule.backtrack.into_iter().map(is);
                    self.rule(before, changed, rule.lookahead.into_iter().map(is));
                }
            }
            ChainedContextLookup::Format2 {
                backtrack_classes,
                input_classes,
                lookahead_classes,
                sets,
                ..
            } => {
                let before = backtrack_classes.get(space);
                let within = input_classes.get(space);
                let behind = lookahead_classes.get(space);
                for rule in sets.into_iter().flatten().take(PATIENCE) {
                    let input = rule.input.into_iter().map(|one| one == within);
                    self.rule(
                        rule.backtrack.into_iter().map(|one| one == before),
                        std::iter::once(first).chain(input),
                        rule.lookahead.into_iter().map(|one| one == behind),
                    );
                }
            }
            ChainedContextLookup::Format3 {
                backtrack_coverages,
                input_coverages,
                lookahead_coverages,
                ..
            } => {
                let is = |coverage: Coverage<'_>| coverage.contains(space);
                let input = input_coverages.into_iter().map(is);
                let before = backtrack_coverages.into_iter().map(is);
                let behind = lookahead_coverages.into_iter().map(is);
                self.rule(before, std::iter::once(first).chain(input), behind);
            }
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn reach(font: &[u8]) -> ContextReach {
        of(&ttf_parser::Face::parse(font, 0).unwrap())
    }

    /// Read off the rules of the fonts with fontTools 4.68: Alegreya sets the numeral behind "siglo " and
    /// "capítulo " (`liga`), Playpen Sans gives letters and spaces in turn several shapes (`calt`).
    #[test]
    fn the_open_fonts_look_as_far_as_their_rules_say() {
        let alegreya = include_bytes!("../../../fonts-open/alegreya/Alegreya-Regular.ttf");
        let playpen = include_bytes!("../../../fonts-open/playpen-sans/PlaypenSans-Regular.ttf");
        let thai = include_bytes!("../../../fonts-open/noto-serif-thai/NotoSerifThai-Regular.ttf");
        assert_eq!(reach(alegreya), ContextReach::Line);
        assert_eq!(reach(playpen), ContextReach::Line);
        assert_eq!(reach(thai), ContextReach::Spaces);
    }
}
