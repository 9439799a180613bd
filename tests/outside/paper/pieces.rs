//! What somebody sees who cuts out the pieces of a dummy: outlines, headings, folds, tabs.

use super::grey::Grey;
use super::words::Word;

pub const DPI: f64 = 120.0;
pub const MM: f64 = DPI / 25.4;
const PT: f64 = DPI / 72.0;

/// From one pixel up to another, which does not belong to it.
pub type Span = (usize, usize);

#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Kind {
    Valley,
    Mountain,
}

#[derive(Clone, Copy, Debug)]
pub struct Fold {
    pub x: usize,
    pub kind: Kind,
}

/// A piece on a page, by what is printed round it and on it.
#[derive(Clone, Debug)]
pub struct Piece {
    /// What its heading says: its number, and whether it is a back to be pasted on.
    pub number: usize,
    pub is_back: bool,
    pub columns: Span,
    pub rows: Span,
    pub folds: Vec<Fold>,
    /// The numbers of the hatched tabs at its left and its right.
    pub tabs: [Option<usize>; 2],
}

impl Piece {
    /// The stretches between its edges and folds, tabs among them.
    pub fn stretches(&self) -> Vec<Span> {
        let folds = self.folds.iter().map(|fold| fold.x);
        let ends = std::iter::once(self.columns.0).chain(folds);
        let ends: Vec<usize> = ends.chain([self.columns.1]).collect();
        ends.windows(2).map(|pair| (pair[0], pair[1])).collect()
    }

    /// Those that are panels.
    pub fn panels(&self) -> Vec<Span> {
        let mut all = self.stretches();
        if self.tabs[1].is_some() {
            all.pop();
        }
        if self.tabs[0].is_some() {
            all.remove(0);
        }
        all
    }

    /// Its panels together.
    pub fn own(&self) -> Span {
        let panels = self.panels();
        (panels[0].0, panels[panels.len() - 1].1)
    }
}

/// The words whose middles lie there.
pub fn words_in(words: &[Word], columns: Span, rows: Span) -> Vec<&Word> {
    let inside = |at: f64, span: Span| span.0 as f64 <= at && at < span.1 as f64;
    let here = words.iter().filter(|word| {
        let (x, y) = word.middle();
        inside(x * PT, columns) && inside(y * PT, rows)
    });
    here.collect()
}

/// The one number that stands alone there.
pub fn number_in(words: &[Word], columns: Span, rows: Span) -> Option<usize> {
    let here = words_in(words, columns, rows).into_iter();
    let numbers: Vec<usize> = here.filter_map(|word| word.text.parse().ok()).collect();
    assert!(
        numbers.len() < 2,
        "{numbers:?} stand where one number should"
    );
    numbers.first().copied()
}

/// Runs of pixels that are hit: where each begins and ends.
pub fn runs(hits: impl Iterator<Item = bool>) -> Vec<Span> {
    let mut found: Vec<Span> = Vec::new();
    for (at, _) in hits.enumerate().filter(|hit| hit.1) {
        match found.last_mut() {
            Some(last) if last.1 == at => last.1 = at + 1,
            _ => found.push((at, at + 1)),
        }
    }
    found
}

/// Solid dark rectangles, by their lines' middles.
fn outlines(page: &Grey) -> Vec<(Span, Span)> {
    const DARK: u8 = 110;
    // Level lines: the columns, the first row and the last.
    let mut lines: Vec<(Span, usize, usize)> = Vec::new();
    let like =
        |one: Span, other: Span| one.0.abs_diff(other.0) <= 2 && one.1.abs_diff(other.1) <= 2;
    for y in 0..page.high {
        let runs = runs((0..page.wide).map(|x| page.at(x, y) < DARK));
        for run in runs
            .into_iter()
            .filter(|run| (run.1 - run.0) as f64 > 15.0 * MM)
        {
            let known = lines
                .iter_mut()
                .find(|line| line.2 + 1 == y && like(line.0, run));
            match known {
                Some(line) => line.2 = y,
                None => lines.push((run, y, y)),
            }
        }
    }
    let mut found = Vec::new();
    for (at, &(columns, first, last)) in lines.iter().enumerate() {
        let below = lines[at + 1..].iter().find(|line| like(line.0, columns));
        let Some(&(_, foot, foot_last)) = below else {
            continue;
        };
        let thick = last + 1 - first;
        let upright = |edge: Span| {
            let dark = |y: usize| (edge.0..edge.1).any(|x| page.at(x, y) < DARK);
            (first..foot).all(dark)
        };
        if upright((columns.0, columns.0 + thick + 1))
            && upright((columns.1 - thick - 1, columns.1))
        {
            let half = thick / 2;
            found.push((
                (columns.0 + half, columns.1 - half),
                ((first + last) / 2, (foot + foot_last) / 2),
            ));
        }
    }
    found
}

/// The lines right across that are darker than what is beside them: where, and which rows of them are drawn.
fn uprights(page: &Grey, columns: Span, rows: Span) -> Vec<(usize, Vec<bool>)> {
    let rows = (rows.0 + 3)..(rows.1 - 3);
    let drawn = |x: usize| -> Vec<bool> {
        let is_drawn =
            |y: usize| page.at(x, y) <= page.at(x - 3, y).min(page.at(x + 3, y)).saturating_sub(25);
        rows.clone().map(is_drawn).collect()
    };
    let count = |drawn: &[bool]| drawn.iter().filter(|&&row| row).count();
    let least = 0.4 * rows.len() as f64;
    let within = columns.0 + 6..columns.1 - 6;
    let all: Vec<(usize, Vec<bool>)> = within.map(|x| (x, drawn(x))).collect();
    let groups = runs(all.iter().map(|line| count(&line.1) as f64 >= least));
    let best = groups.into_iter().map(|group| {
        let lines = all[group.0..group.1].iter();
        lines
            .max_by_key(|line| count(&line.1))
            .expect("a line")
            .clone()
    });
    best.collect()
}

/// Dashed lines right across are folds: two points and a gap in a valley, four and a dot in a mountain.
pub fn folds(page: &Grey, columns: Span, rows: Span) -> Vec<Fold> {
    let lines = uprights(page, columns, rows).into_iter();
    let dashed = lines.filter(|line| !is_solid(&line.1));
    let folds = dashed.map(|(x, drawn)| {
        let dashes = runs(drawn.into_iter()).into_iter().map(|run| run.1 - run.0);
        let mut dashes: Vec<usize> = dashes.filter(|&dash| dash > 2).collect();
        dashes.sort_unstable();
        let kind = match dashes[dashes.len() / 2] as f64 > 3.0 * PT {
            true => Kind::Mountain,
            false => Kind::Valley,
        };
        Fold { x, kind }
    });
    folds.collect()
}

fn is_solid(drawn: &[bool]) -> bool {
    let count = drawn.iter().filter(|&&row| row).count();
    count as f64 > 0.9 * drawn.len() as f64
}

/// Unbroken lines right across: what frames a zone.
pub fn frames(page: &Grey, columns: Span, rows: Span) -> Vec<usize> {
    let lines = uprights(page, columns, rows).into_iter();
    let solid = lines.filter(|line| is_solid(&line.1));
    solid.map(|line| line.0).collect()
}

/// Whether slanting lines run over all of a stretch of bare paper.
fn is_hatched(page: &Grey, columns: Span, rows: Span) -> bool {
    let inner = (columns.0 + 4, columns.1 - 4);
    let part = page.cut(inner, rows);
    let lines = |y: usize| runs((0..part.wide).map(|x| part.at(x, y) < 235)).len();
    let hatched = (6..part.high - 6).filter(|&y| lines(y) >= 2).count();
    part.median() > 250 && hatched as f64 > 0.9 * part.high as f64
}

/// All pieces of a page, each with its heading.
pub fn pieces(page: &Grey, words: &[Word]) -> Vec<Piece> {
    let found = outlines(page).into_iter().map(|(columns, rows)| {
        let (number, is_back) = heading(words, columns, rows);
        let mut piece = Piece {
            number,
            is_back,
            columns,
            rows,
            folds: folds(page, columns, rows),
            tabs: [None, None],
        };
        let stretches = piece.stretches();
        let ends = [stretches[0], stretches[stretches.len() - 1]];
        piece.tabs = ends.map(|end| {
            is_hatched(page, end, rows)
                .then(|| number_in(words, end, rows).expect("a tab has a number"))
        });
        piece
    });
    found.collect()
}

/// What stands above an outline: `piece 2`, or `back of piece 2`.
fn heading(words: &[Word], columns: Span, rows: Span) -> (usize, bool) {
    let above = (rows.0.saturating_sub((7.0 * MM) as usize), rows.0);
    let texts: Vec<&str> = words_in(words, columns, above)
        .into_iter()
        .map(|word| word.text.as_str())
        .collect();
    match texts[..] {
        ["piece", number] => (number.parse().expect("a number"), false),
        ["back", "of", "piece", number] => (number.parse().expect("a number"), true),
        _ => panic!("{texts:?} stand above a piece"),
    }
}
