//! Cutting a line into runs of one direction and one script (UAX #24).

use std::ops::Range;

use unicode_segmentation::UnicodeSegmentation;

use super::order::{Bracket, Level, Levels, bracket};
use super::script::{Script, SharedBy};

/// A stretch of a line that runs one way in one script.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct ScriptRun {
    /// The byte it begins at; it reaches to the next one.
    pub from: usize,
    /// Its embedding level.
    pub level: Level,
    /// Its script.
    pub script: Script,
}

/// Cuts a line where its level or its script changes, never within a grapheme cluster. The first run
/// begins at byte 0; there is always one.
pub fn script_runs(text: &str, levels: &Levels) -> Vec<ScriptRun> {
    let mut found: Vec<ScriptRun> = Vec::new();
    match (levels.is_plain(), one_script(text)) {
        (true, Some(script)) => found.push(ScriptRun {
            from: 0,
            level: Level::default(),
            script,
        }),
        _ => {
            let clusters = LineClusters::of(text);
            for (cluster, script) in clusters.all.iter().zip(clusters.scripts()) {
                let from = cluster.text.start;
                let level = levels.at(from);
                let goes_on = |last: &ScriptRun| (last.level, last.script) == (level, script);
                if !found.last().is_some_and(goes_on) {
                    found.push(ScriptRun {
                        from,
                        level,
                        script,
                    });
                }
            }
        }
    }
    if found.is_empty() {
        found.push(ScriptRun {
            from: 0,
            level: levels.at(0),
            script: Script::LATIN,
        });
    }
    found
}

/// The one script of a text whose characters are all of it or of every script; Latin where they are all of
/// every script. Nothing where that takes a closer look.
fn one_script(text: &str) -> Option<Script> {
    let mut one = None;
    for c in text.chars() {
        if c.is_ascii() && !c.is_ascii_alphabetic() {
            continue;
        }
        match Script::of(c) {
            Some(script) if one.is_none_or(|known| known == script) => one = Some(script),
            Some(_) => return None,
            None if SharedBy::of(c).is_everyone() => {}
            None => return None,
        }
    }
    Some(one.unwrap_or(Script::LATIN))
}

/// A grapheme cluster of a line.
struct LineCluster {
    text: Range<usize>,
    /// Its own script.
    own: Option<Script>,
    /// The scripts that may use it, where it has none of its own and not all may.
    some: Option<SharedBy>,
    /// The cluster that closes the bracket which it opens, and the other way round.
    partner: Option<usize>,
    /// The word it belongs to; spaces and tabs part words.
    word: usize,
}

impl LineCluster {
    fn allows(&self, script: Script) -> bool {
        self.some.is_none_or(|some| some.has(script))
    }
}

/// The most brackets that are open at a time (UAX #9, BD16).
const DEEPEST: usize = 63;

struct LineClusters {
    all: Vec<LineCluster>,
}

impl LineClusters {
    fn of(text: &str) -> LineClusters {
        let mut all: Vec<LineCluster> = Vec::new();
        let mut open: Vec<(char, usize)> = Vec::new();
        let mut word = 0;
        for (index, (from, cluster)) in text.grapheme_indices(true).enumerate() {
            let own = cluster.chars().find_map(Script::of);
            let some = cluster.chars().map(SharedBy::of);
            let some = some.into_iter().find(|some| !some.is_everyone());
            let mut partner = None;
            match cluster.chars().next().and_then(bracket) {
                Some(Bracket { pair, opens: true }) if open.len() < DEEPEST => {
                    open.push((pair, index))
                }
                Some(Bracket { pair, opens: false }) => {
                    if let Some(at) = open.iter().rposition(|(opened, _)| *opened == pair) {
                        let opening = open[at].1;
                        open.truncate(at);
                        all[opening].partner = Some(index);
                        partner = Some(opening);
                    }
                }
                Some(Bracket { .. }) | None => {}
            }
            all.push(LineCluster {
                text: from..from + cluster.len(),
                own,
                some: some.filter(|_| own.is_none()),
                partner,
                word,
            });
            word += usize::from(cluster == " " || cluster == "\t");
        }
        LineClusters { all }
    }

    /// The script of each cluster: its own; otherwise that of its word, as far as it may have it, from the letters
    /// before it on; otherwise that of the line. Both brackets of a pair have the script that stands around them.
    fn scripts(&self) -> Vec<Script> {
        let near = NearestLetters::of(&self.all);
        let mut found: Vec<Script> = Vec::with_capacity(self.all.len());
        for (index, cluster) in self.all.iter().enumerate() {
            let script = match (cluster.own, cluster.partner) {
                (Some(own), _) => own,
                (None, Some(partner)) if partner < index => found[partner],
                (None, Some(partner)) => {
                    let around = near.before[index].or(near.behind[partner].map(|next| next.1));
                    around.or(near.first).unwrap_or(Script::LATIN)
                }
                (None, None) => self.inherited(index, found.last().copied(), &near),
            };
            found.push(script);
        }
        found
    }

    fn inherited(&self, index: usize, last: Option<Script>, near: &NearestLetters) -> Script {
        let cluster = &self.all[index];
        let in_word = |other: usize| self.all[other].word == cluster.word;
        let before = last.filter(|_| index > 0 && in_word(index - 1));
        let behind = near.behind[index];
        let candidates = [
            before,
            behind.filter(|next| in_word(next.0)).map(|next| next.1),
            near.first,
            near.before[index],
            behind.map(|next| next.1),
        ];
        let mut candidates = candidates.into_iter().flatten();
        candidates
            .find(|script| cluster.allows(*script))
            .or_else(|| cluster.some?.scripts().next())
            .unwrap_or(Script::LATIN)
    }
}

/// The scripts of the letters nearest to each cluster.
struct NearestLetters {
    /// The script of the line's first letter.
    first: Option<Script>,
    /// For each cluster the script of the nearest letter before it.
    before: Vec<Option<Script>>,
    /// For each cluster the nearest letter behind it: the cluster it is in, and its script.
    behind: Vec<Option<(usize, Script)>>,
}

impl NearestLetters {
    fn of(all: &[LineCluster]) -> NearestLetters {
        let mut before = Vec::with_capacity(all.len());
        let mut last = None;
        for cluster in all {
            before.push(last);
            last = cluster.own.or(last);
        }
        let mut behind = vec![None; all.len()];
        let mut next = None;
        for (index, cluster) in all.iter().enumerate().rev() {
            behind[index] = next;
            next = cluster.own.map(|own| (index, own)).or(next);
        }
        NearestLetters {
            first: next.map(|next| next.1),
            before,
            behind,
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::typeface::order::Base;

    /// Each run as its script, its level and its text.
    fn cut(text: &str) -> Vec<String> {
        let found = script_runs(text, &Levels::of(text, Base::default()));
        let ends = found
            .iter()
            .skip(1)
            .map(|next| next.from)
            .chain([text.len()]);
        let shown = found.iter().zip(ends).map(|(stretch, to)| {
            let code = stretch.script.code();
            let code = str::from_utf8(&code).unwrap();
            format!(
                "{code}{} {}",
                stretch.level.number(),
                &text[stretch.from..to]
            )
        });
        shown.collect()
    }

    #[test]
    fn a_line_is_cut_where_script_or_direction_changes() {
        assert_eq!(cut("The bus, 1974."), ["Latn0 The bus, 1974."]);
        assert_eq!(cut("1974 –"), ["Latn0 1974 –"]);
        assert_eq!(cut(""), ["Latn0 "]);
        assert_eq!(cut("a “да” b"), ["Latn0 a ", "Cyrl0 “да” ", "Latn0 b"]);
        assert_eq!(
            cut("קו 7 של bus"),
            ["Hebr1 קו ", "Hebr2 7", "Hebr1  של ", "Latn2 bus"]
        );
    }

    #[test]
    fn signs_of_several_scripts_follow_the_script_they_may_have() {
        // The Arabic comma, the danda and Arabic-Indic digits are Common, with Script_Extensions.
        assert_eq!(cut("نعم، لا"), ["Arab1 نعم، لا"]);
        assert_eq!(cut("bus ،"), ["Latn0 bus ", "Arab0 ،"]);
        assert_eq!(cut("राम।।"), ["Deva0 राम।।"]);
        assert_eq!(cut("عام ١٩٧٤"), ["Arab1 عام ", "Arab2 ١٩٧٤"]);
        assert_eq!(cut("\u{64b}"), ["Arab0 \u{64b}"]);
    }

    #[test]
    fn both_brackets_follow_what_stands_around_them() {
        assert_eq!(cut("a (да) b"), ["Latn0 a (", "Cyrl0 да", "Latn0 ) b"]);
        assert_eq!(cut("(да"), ["Cyrl0 (да"]);
        assert_eq!(cut("(а) нет"), ["Cyrl0 (а) нет"]);
        // Any bracket of `BidiBrackets.txt` does so: wide ones, and those that are canonically the same.
        assert_eq!(cut("a （да） b"), ["Latn0 a （", "Cyrl0 да", "Latn0 ） b"]);
        assert_eq!(cut("a \u{2329}да\u{3009} b").len(), 3);
        assert_eq!(
            cut("שלום (bus) כן"),
            ["Hebr1 שלום (", "Latn2 bus", "Hebr1 ) כן"]
        );
    }
}
