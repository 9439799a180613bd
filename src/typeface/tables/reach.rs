//! How far a font looks along a line: whether its rules for glyphs in context see past a space, and between which glyphs.

use std::collections::HashSet;

use ttf_parser::gpos::PositioningSubtable;
use ttf_parser::gsub::SubstitutionSubtable;
use ttf_parser::opentype_layout::{
    ChainedContextLookup, Class, ClassDefinition, ContextLookup, Coverage, LayoutTable,
    LookupSubtable,
};
use ttf_parser::{GlyphId, LazyArray16};

use super::substitutes;

/// How much of a line around a word its glyphs depend on.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(in crate::typeface) enum ContextReach {
    /// The spaces beside it.
    Spaces,
    /// The words beside it where some rule looks past the space between, which only those between certain glyphs do.
    Between(Past),
    /// The whole line: some rule changes a space, or there are too many to tell.
    Line,
}

/// The glyphs between which rules look past a space: characters have them, or substitutions can make them of what characters
/// have.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub(in crate::typeface) struct Past {
    before: HashSet<u16>,
    behind: HashSet<u16>,
}

impl Past {
    /// Whether a rule may look past the space between words of which one ends with the first of these glyphs, and the next
    /// begins with the second.
    pub(in crate::typeface) fn is_between(&self, before: u16, behind: u16) -> bool {
        self.before.contains(&before) && self.behind.contains(&behind)
    }
}

/// How many rules and tables of rules are looked at before the font is taken for one that looks along whole lines. Fonts
/// that people set text in have some thousands.
const PATIENCE: usize = 200_000;

/// How many rules that look past a space are taken apart.
const RULES: usize = 1_000;

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
        past: Past::default(),
        rules: 0,
        everywhere: false,
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
    if survey.everywhere || survey.rules == 0 {
        return match survey.everywhere {
            true => ContextReach::Line,
            false => ContextReach::Spaces,
        };
    }
    let glyphs = |found| substitutes::made_into(face, found);
    match (glyphs(survey.past.before), glyphs(survey.past.behind)) {
        (Some(before), Some(behind)) => ContextReach::Between(Past { before, behind }),
        _ => ContextReach::Line,
    }
}

/// What one place of a rule asks of a glyph.
#[derive(Clone, Copy)]
enum Place<'a> {
    Glyph(u16),
    Class(ClassDefinition<'a>, Class),
    Covered(Coverage<'a>),
}

impl Place<'_> {
    fn takes(&self, glyph: GlyphId) -> bool {
        match self {
            Place::Glyph(own) => *own == glyph.0,
            Place::Class(classes, class) => classes.get(glyph) == *class,
            Place::Covered(coverage) => coverage.contains(glyph),
        }
    }

    /// Adds all glyphs that it takes; false where these are nearly all there are.
    fn add_to(&self, found: &mut HashSet<u16>) -> bool {
        match self {
            Place::Glyph(own) => {
                found.insert(*own);
            }
            // Glyphs without a class are of this one.
            Place::Class(_, 0) => return false,
            Place::Class(ClassDefinition::Format1 { start, classes }, class) => {
                let glyphs = classes.into_iter().zip(start.0..);
                found.extend(
                    glyphs
                        .filter(|(own, _)| own == class)
                        .map(|(_, glyph)| glyph),
                );
            }
            Place::Class(ClassDefinition::Format2 { records }, class) => {
                let of_class = records.into_iter().filter(|range| range.value == *class);
                found.extend(of_class.flat_map(|range| range.start.0..=range.end.0));
            }
            Place::Class(ClassDefinition::Empty, _) => {}
            Place::Covered(coverage) => found.extend(substitutes::covered(coverage)),
        }
        true
    }
}

struct ReachSurvey {
    space: GlyphId,
    past: Past,
    /// How many rules look past a space.
    rules: usize,
    /// Whether rules may look past any.
    everywhere: bool,
    seen: usize,
}

impl ReachSurvey {
    fn table<'a, T: LookupSubtable<'a>>(
        &mut self,
        table: &LayoutTable<'a>,
        look: impl Fn(&mut ReachSurvey, T),
    ) {
        for lookup in table.lookups {
            let rules = self.rules;
            for subtable in lookup.subtables.into_iter::<T>() {
                self.count();
                if self.everywhere {
                    return;
                }
                look(self, subtable);
            }
            // Such rules look past letters as well.
            let flags = lookup.flags;
            let skips = flags.ignore_base_glyphs() || flags.ignore_ligatures();
            self.everywhere |= skips && self.rules > rules;
        }
    }

    fn count(&mut self) {
        self.seen += 1;
        self.everywhere |= self.seen > PATIENCE || self.rules > RULES;
    }

    /// Takes in one rule: what stands before the glyphs that it changes, counted from them outwards, those themselves, and
    /// what stands behind. A space at an end of it is one beside a word.
    fn rule<'a>(
        &mut self,
        before: impl Iterator<Item = Place<'a>>,
        changed: impl Iterator<Item = Place<'a>>,
        behind: impl Iterator<Item = Place<'a>>,
    ) {
        self.count();
        let mut places: Vec<Place<'a>> = before.collect();
        places.reverse();
        let from = places.len();
        places.extend(changed);
        let to = places.len();
        places.extend(behind);
        let is_space = |place: &Place<'_>| place.takes(self.space);
        self.everywhere |= places[from..to].iter().any(is_space);
        let past = places.windows(3).filter(|places| is_space(&places[1]));
        let past: Vec<&[Place<'_>]> = past.collect();
        self.rules += past.len();
        for places in past {
            let few = places[0].add_to(&mut self.past.before);
            self.everywhere |= !few || !places[2].add_to(&mut self.past.behind);
        }
    }

    fn context<'a>(&mut self, rules: &ContextLookup<'a>) {
        let none = std::iter::empty::<Place<'a>>;
        let first = Place::Covered(rules.coverage());
        let first = || std::iter::once(first);
        match *rules {
            ContextLookup::Format1 { sets, .. } => {
                for rule in sets.into_iter().flatten().take(PATIENCE) {
                    self.rule(none(), first().chain(glyphs(rule.input)), none());
                }
            }
            ContextLookup::Format2 { classes, sets, .. } => {
                for rule in sets.into_iter().flatten().take(PATIENCE) {
                    self.rule(none(), first().chain(classed(classes, rule.input)), none());
                }
            }
            ContextLookup::Format3 { coverages, .. } => {
                let input = coverages.into_iter().map(Place::Covered);
                self.rule(none(), first().chain(input), none());
            }
        }
    }

    fn chained(&mut self, rules: &ChainedContextLookup<'_>) {
        let first = Place::Covered(rules.coverage());
        let first = || std::iter::once(first);
        match *rules {
            ChainedContextLookup::Format1 { sets, .. } => {
                for rule in sets.into_iter().flatten().take(PATIENCE) {
                    let changed = first().chain(glyphs(rule.input));
                    self.rule(glyphs(rule.backtrack), changed, glyphs(rule.lookahead));
                }
            }
            ChainedContextLookup::Format2 {
                backtrack_classes,
                input_classes,
                lookahead_classes,
                sets,
                ..
            } => {
                for rule in sets.into_iter().flatten().take(PATIENCE) {
                    self.rule(
                        classed(backtrack_classes, rule.backtrack),
                        first().chain(classed(input_classes, rule.input)),
                        classed(lookahead_classes, rule.lookahead),
                    );
                }
            }
            ChainedContextLookup::Format3 {
                backtrack_coverages,
                input_coverages,
                lookahead_coverages,
                ..
            } => {
                let input = input_coverages.into_iter().map(Place::Covered);
                let before = backtrack_coverages.into_iter().map(Place::Covered);
                let behind = lookahead_coverages.into_iter().map(Place::Covered);
                self.rule(before, first().chain(input), behind);
            }
        }
    }
}

fn glyphs<'a>(own: LazyArray16<'a, u16>) -> impl Iterator<Item = Place<'a>> {
    own.into_iter().map(Place::Glyph)
}

fn classed<'a>(
    classes: ClassDefinition<'a>,
    own: LazyArray16<'a, u16>,
) -> impl Iterator<Item = Place<'a>> {
    own.into_iter()
        .map(move |class| Place::Class(classes, class))
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
        let ContextReach::Between(past) = reach(alegreya) else {
            panic!("{:?}", reach(alegreya));
        };
        let face = ttf_parser::Face::parse(alegreya, 0).unwrap();
        let is_between = |before, behind| {
            let [before, behind] = [before, behind].map(|c| face.glyph_index(c).unwrap().0);
            past.is_between(before, behind)
        };
        assert!(is_between('o', 'X') && is_between('O', 'v'));
        assert!(!is_between('o', 'b') && !is_between('e', 'X') && !is_between('X', 'o'));
        assert_eq!(reach(playpen), ContextReach::Line);
        assert_eq!(reach(thai), ContextReach::Spaces);
    }
}
