//! Turnovers of real verse: at every measure from 40 to 120 mm none starts with a dash or an ellipsis or ends in
//! a hyphen, and where one breaks another rule, trying every break shows that none was better.
//!
//! The texts are those of `tests/texts`; where `VERSEFOLD_TEXTS` names a folder, its shorter verse texts are
//! set too, at every tenth measure.

use std::collections::HashMap;
use std::ops::Range;

use crate::support::texts::{Text, verse};
use versefold::assets::Assets;
use versefold::book::plan_file::check;
use versefold::names::{Direction, Length, Source};
use versefold::paper::Strip;
use versefold::plan::PartPlan;
use versefold::setting::{
    Break, Giving, Piece, Row, SetPart, begins_phrase, breaks, may_begin, set,
};
use versefold::text::{LineKind, Manuscript, escape};
use versefold::typeface::{FontLibrary, Shaper};

/// Texts longer than this are left to other tests.
const LONGEST: usize = 60_000;

#[test]
fn no_break_would_have_been_better() {
    let mut turned = 0;
    for text in verse() {
        let own = text.path.starts_with(env!("CARGO_MANIFEST_DIR"));
        let words = std::fs::read_to_string(&text.path).expect("the text is UTF-8");
        if words.len() > LONGEST {
            continue;
        }
        let step = if own { 1 } else { 10 };
        for measure in (40..=120).step_by(step) {
            turned += check_measure(&text, &escape(&words, false), measure);
        }
    }
    println!("{turned} turned-over lines looked at");
    assert!(turned > 2_000, "only {turned} lines turned over");
}

/// Sets a text to a measure in millimetres and looks at every line that turns over; gives how many did.
fn check_measure(text: &Text, words: &str, measure: u32) -> usize {
    let families = FontLibrary::new(Assets::memory()).families_for(words);
    let (typeface, fallback) = families
        .split_first()
        .expect("a family that has its letters");
    let plan = format!(
        "title = \"The Winter Bus\"\nlanguage = \"{}\"\nmanuscript = \"poem.txt\"\n[paper]\n\
         panel-width = \"{} mm\"\npanel-height = \"148 mm\"\npanels-per-side = 2\n[text]\nhang = \"none\"\n\
         typeface = \"{typeface}\"\nfallback = {fallback:?}\n",
        text.language,
        measure + 22
    );
    let plan = check::read(&Source::new("concertina.toml", plan)).expect("a right plan");
    let manuscript = Manuscript::read(&Source::new("poem.txt", words)).expect("a right manuscript");
    let set = set(
        &manuscript,
        &plan,
        &Strip::new(plan.paper),
        &FontLibrary::new(Assets::memory()),
    )
    .expect("set lines");
    let part = &set.parts[0];
    let shaper = Shaper::new(&part.typeface, &plan.parts[0].language);
    let mut turned = 0;
    for row in part.rows.iter() {
        if row.at[0].stand(0).pieces.len() > 1 {
            turned += 1;
            let deepest = depth_to_clear(&part.rows, row);
            check_row(part, row, &shaper, &plan.parts[0], deepest);
        }
    }
    turned
}

/// What a row's turned-over pieces clear: how deep lines of its stanza stand in when the deepest twentieth of them is left
/// aside, and at least how deep those of the part do when a twentieth of them is, and one of them in any case.
fn depth_to_clear(rows: &[Row], row: &Row) -> Length {
    let deepest = |mut all: Vec<Length>, aside: usize| {
        all.sort();
        all.truncate(all.len() - aside);
        all.last().copied().unwrap_or_default()
    };
    let indents = |rows: &mut dyn Iterator<Item = &Row>| -> Vec<Length> {
        rows.filter(|row| row.kind == LineKind::Verse)
            .map(|row| row.indent)
            .collect()
    };
    let all = indents(&mut rows.iter());
    let own = indents(&mut rows.iter().filter(|other| other.block == row.block));
    let (of_all, of_own) = (all.len().div_ceil(20), own.len() / 20);
    deepest(all, of_all).max(deepest(own, of_own))
}

/// How far turned-over pieces may stand in, in the order in which that is tried.
fn indents(deepest: Length, measure: Length) -> [Length; 4] {
    let em = Length::pt(11);
    let clear = deepest + em;
    let full = match clear * 3 <= measure {
        true => clear.max(em * 2),
        false => em * 2,
    };
    [full, em * 2, em, Length::ZERO]
}

fn check_row(part: &SetPart, row: &Row, shaper: &Shaper<'_>, plan: &PartPlan, deepest: Length) {
    let text = &row.shaped.text;
    let pieces = &row.at[0].stand(0).pieces;
    let broken = pieces.iter().any(|piece| piece.broken);
    let beginnings = pieces[1..].iter().map(|next| &text[next.text.clone()]);
    assert!(beginnings.into_iter().all(may_begin), "{text}");
    let mut endings = pieces[..pieces.len() - 1]
        .iter()
        .map(|piece| &text[piece.text.clone()]);
    let at_hyphen = |here: &str| here.ends_with(['-', '\u{2010}']) && !here.ends_with("--");
    assert!(broken || !endings.any(at_hyphen), "{text}");
    let setting = part.columns[0].line(0);
    // How far a piece stands in from the edge that lines begin at.
    let stands_in = |piece: &Piece| match plan.reads {
        Direction::LeftToRight => piece.x - setting.left,
        Direction::RightToLeft => setting.left + setting.measure - piece.x - piece.width,
    };
    let indent = stands_in(&pieces[0]);
    let first = setting.measure - indent;
    let found = breaks(text, 0, &plan.language, |before, behind| {
        begins_phrase(&plan.language, before, behind)
    });
    let mut every = Every {
        row,
        shaper,
        breaks: &found,
        known: HashMap::new(),
    };
    let turned = stands_in(&pieces[1]);
    let indents = indents(deepest, setting.measure);
    if indent != row.indent {
        // A line is drawn back only where it could not be divided at its own indent.
        for turned in indents {
            let there = (setting.measure - row.indent, setting.measure - turned);
            assert!(
                every.best(there.0, there.1, found.len() + 1).is_none(),
                "{text}"
            );
        }
    }
    // The indent is the deepest of those that let the line be divided at all, parting as few words as can be that are
    // written without spaces.
    let mut parted = |indent: Length| {
        let best = every.best(first, setting.measure - indent, pieces.len());
        best.map(|(giving, _)| giving.unspaced)
    };
    let fewest = indents.into_iter().filter_map(&mut parted).min();
    let right = indents.into_iter().find(|indent| parted(*indent) == fewest);
    if !indents.contains(&turned) {
        assert!(broken, "{text}: an indent of {turned}");
        return;
    }
    assert!(
        right == Some(turned) || fewest.is_none(),
        "{text}: {right:?}, not {turned}"
    );
    let best = every.best(first, setting.measure - turned, pieces.len());
    let Some((giving, ends)) = best else {
        assert!(broken, "{text}: nothing fits");
        return;
    };
    let chosen: Vec<usize> = pieces.iter().map(|piece| piece.text.end).collect();
    assert_eq!(ends, chosen, "{text}: {giving:?}");
}

/// Every way to divide a row.
struct Every<'a> {
    row: &'a Row,
    shaper: &'a Shaper<'a>,
    breaks: &'a [Break],
    known: HashMap<(usize, usize), Length>,
}

impl Every<'_> {
    fn width(&mut self, stretch: Range<usize>) -> Length {
        let (row, shaper) = (self.row, self.shaper);
        let known = self.known.entry((stretch.start, stretch.end));
        *known.or_insert_with(|| row.shaped.width(shaper, stretch))
    }

    /// The best division into at most `most` pieces: what it gives up, and where its pieces end. Of equal ones
    /// the one whose first piece is fuller, then the second, and so on.
    fn best(&mut self, first: Length, rest: Length, most: usize) -> Option<(Giving, Vec<usize>)> {
        let mut best: Option<(Giving, Vec<usize>)> = None;
        let mut ways: Vec<Vec<usize>> = vec![Vec::new()];
        while let Some(way) = ways.pop() {
            if let Some((giving, ends)) = self.judge(&way, first, rest) {
                let better = best.as_ref().is_none_or(|(known, known_ends)| {
                    giving < *known || (giving == *known && ends > *known_ends)
                });
                if better {
                    best = Some((giving, ends));
                }
            }
            if way.len() + 1 < most {
                let next = way.last().map_or(0, |last| last + 1);
                for index in next..self.breaks.len() {
                    ways.push(way.iter().copied().chain([index]).collect());
                }
            }
        }
        best
    }

    /// What a division gives up; nothing where a piece does not fit.
    fn judge(
        &mut self,
        way: &[usize],
        first: Length,
        rest: Length,
    ) -> Option<(Giving, Vec<usize>)> {
        let text = &self.row.shaped.text;
        let end = text.trim_end_matches([' ', '\t']).len();
        let mut giving = Giving {
            pieces: way.len() + 1,
            ..Giving::default()
        };
        let mut ends = Vec::new();
        let mut start = 0;
        for piece in 0..=way.len() {
            let here = way.get(piece).map(|&index| self.breaks[index]);
            let to = here.map_or(end, |at| at.end);
            let width = self.width(start..to);
            if width > if piece == 0 { first } else { rest } {
                return None;
            }
            if piece == 0 {
                // Two thirds of the measure, or half of it before a good start; worse is less than a third.
                let too_short = here.is_some_and(|at| match at.good {
                    true => width * 2 < first,
                    false => width * 3 < first * 2,
                });
                let far_too_short = here.is_some() && width * 3 < first;
                giving.short_first = usize::from(too_short) + usize::from(far_too_short);
            } else {
                let before = self.breaks[way[piece - 1]];
                let single = text[start..to]
                    .split([' ', '\t'])
                    .filter(|w| !w.is_empty())
                    .count()
                    < 2;
                // Words that no space parts are where the line might be broken.
                let inner = self.breaks.iter().any(|at| start < at.end && at.end < to);
                giving.single_words += usize::from(single && !inner);
                giving.bad_starts += usize::from(!before.good);
                giving.unspaced += usize::from(before.unspaced);
            }
            ends.push(to);
            start = here.map_or(end, |at| at.next);
        }
        Some((giving, ends))
    }
}
