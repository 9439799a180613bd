//! The cost of a division by its plain meaning, and two plain ways to find the best: trying all divisions, and a
//! table of all lines. Nothing here is shared with the library but the points and the constants.

use versefold::setting::line_breaks::{How, Justified, Point, Ragged};

/// A paragraph with the measures of its lines.
#[derive(Clone, Debug)]
pub struct Paragraph {
    pub points: Vec<Point>,
    pub first: Vec<i64>,
    pub rest: i64,
    pub how: How,
    /// The measures of the slots it stands on, if its area is shaped; then `rest` is the widest of them.
    pub slots: Vec<i64>,
    /// How far its first lines stand in there.
    pub insets: Vec<i64>,
    /// The slot that its beginning stands on.
    pub begins: usize,
}

/// Lines too long, other walls breached, ordinary costs.
pub type Score = (u32, u32, i128);

/// Which walls a division breaches, for telling whether the random paragraphs reach them.
#[derive(Clone, Copy, Debug, Default)]
pub struct Breached {
    pub overfull: u32,
    pub hyphens_in_a_row: u32,
    pub hyphen_before_last: u32,
    pub one_word_last: u32,
}

/// Badness and penalties count for a million at most; shortfalls for 2²⁰ hundredths of an em.
const MILLION: i128 = 1_000_000;
const MOST_SHORT: i128 = 1 << 20;

/// What one line is.
#[derive(Clone, Copy, Debug)]
pub struct Line {
    pub overfull: bool,
    pub cost: i128,
    /// Ragged: hundredths of an em that are lacking. Justified: the class.
    pub look: i128,
}

impl Paragraph {
    pub fn end(&self) -> usize {
        self.points.len() - 1
    }

    /// The measure of the line with this number (from 0) in a division that begins at point `start`.
    pub fn measure(&self, start: usize, number: usize) -> i64 {
        if let Some(last) = self.slots.last() {
            let (slot, inset) = match start {
                0 => (self.begins + number, self.insets.get(number)),
                _ => (number, None),
            };
            return self.slots.get(slot).unwrap_or(last) - inset.unwrap_or(&0);
        }
        match self.first.get(number) {
            Some(&measure) if start == 0 => measure,
            _ => self.rest,
        }
    }

    fn natural(&self, from: usize, to: usize) -> i128 {
        i128::from((self.points[to].end - self.points[from].start).units())
    }

    /// Stretch and shrink of a line.
    fn slack(&self, from: usize, to: usize) -> (i128, i128) {
        let (end, start) = (
            self.points[to].slack_to_end,
            self.points[from].slack_to_start,
        );
        let stretch = (end.stretch - start.stretch).units();
        let shrink = (end.shrink - start.shrink).units();
        (i128::from(stretch), i128::from(shrink))
    }

    /// The narrowest that a line can be.
    fn narrowest(&self, from: usize, to: usize) -> i128 {
        match self.how {
            How::Ragged(_) => self.natural(from, to),
            How::Justified(_) => self.natural(from, to) - self.slack(from, to).1,
        }
    }

    /// The points that a line may end at: those that let it fit; where there is none, the one that lets it be
    /// narrowest, of equals the farthest.
    pub fn ends(&self, from: usize, measure: i64) -> Vec<usize> {
        self.ends_among(from, measure, self.end())
    }

    /// The same in a text whose lines hold no more than 200 points: a long text is not looked through to its end.
    pub fn ends_near(&self, from: usize, measure: i64) -> Vec<usize> {
        self.ends_among(from, measure, self.end().min(from + 200))
    }

    fn ends_among(&self, from: usize, measure: i64, end: usize) -> Vec<usize> {
        let later = from + 1..=end;
        let fitting: Vec<usize> = later
            .clone()
            .filter(|&to| self.narrowest(from, to) <= i128::from(measure))
            .collect();
        if !fitting.is_empty() {
            return fitting;
        }
        let forced = later.min_by_key(|&to| (self.narrowest(from, to), usize::MAX - to));
        forced.into_iter().collect()
    }

    pub fn line(&self, from: usize, to: usize, measure: i64) -> Line {
        match &self.how {
            How::Ragged(ragged) => self.ragged_line(ragged, from, to, measure),
            How::Justified(justified) => self.justified_line(justified, from, to, measure),
        }
    }

    fn ragged_line(&self, ragged: &Ragged, from: usize, to: usize, measure: i64) -> Line {
        let em = i128::from(ragged.em.units());
        let natural = self.natural(from, to);
        let room = i128::from(measure) - natural;
        let last = to == self.end();
        let penalty = if last {
            0
        } else {
            i128::from(self.points[to].penalty)
        };
        let round = |length: i128| {
            let (whole, over) = (length * 100 / em, length * 100 % em);
            (if over * 2 >= em { whole + 1 } else { whole }).min(MOST_SHORT)
        };
        if room < 0 {
            return Line {
                overfull: true,
                cost: round(-room).pow(2) + penalty,
                look: 0,
            };
        }
        let short = round(room);
        let too_short_last = natural * 100 < i128::from(ragged.least_last) * em;
        let cost = match (last, too_short_last) {
            (false, _) => short.pow(2) + penalty,
            (true, true) => i128::from(ragged.short_last),
            (true, false) => 0,
        };
        Line {
            overfull: false,
            cost,
            look: short,
        }
    }

    fn justified_line(&self, justified: &Justified, from: usize, to: usize, measure: i64) -> Line {
        let room = i128::from(measure) - self.natural(from, to);
        let (stretch, shrink) = self.slack(from, to);
        let last = to == self.end();
        let give = if room > 0 { stretch } else { shrink };
        // r = above ÷ below; nothing where it is not defined.
        let ratio = if room == 0 || (last && room > 0) {
            Some((0, 1))
        } else {
            (give > 0).then_some((room, give))
        };
        let badness = match ratio {
            Some((above, below)) => badness(above.abs(), below),
            None if room > 0 => badness(200 * room, i128::from(measure).max(1)),
            None => MILLION,
        };
        let penalty = i128::from(self.points[to].penalty).clamp(-MILLION, MILLION);
        let cost = if last {
            (1 + badness).pow(2)
        } else if penalty >= 0 {
            (1 + badness + penalty).pow(2)
        } else {
            (1 + badness).pow(2) - penalty.pow(2)
        };
        let tolerance = i128::from(justified.tolerance);
        let loose = room > 0 && ratio.is_none_or(|(above, below)| above * 1000 > tolerance * below);
        // More than three quarters of what they may lose.
        let cramped = ratio.is_some_and(|(above, below)| above * 4 < -3 * below);
        let is_short = last && self.natural(from, to) < i128::from(justified.least_last.units());
        let price = |price: u32, is: bool| if is { i128::from(price) } else { 0 };
        let cost = cost
            + price(justified.loose, loose)
            + price(justified.cramped, cramped)
            + price(justified.short_last, is_short);
        let look = match ratio {
            None if room < 0 => 0,
            None => 3,
            Some((above, below)) if 2 * above < -below => 0,
            Some((above, below)) if 2 * above <= below => 1,
            Some((above, below)) if above <= below => 2,
            Some(_) => 3,
        };
        Line {
            overfull: room < 0 && ratio.is_none_or(|(above, below)| above < -below),
            cost,
            look,
        }
    }

    /// What two neighbouring lines cost together.
    pub fn between(&self, earlier: Line, later: Line, later_is_last: bool) -> i128 {
        match &self.how {
            How::Ragged(ragged) => {
                let em = i128::from(ragged.em.units()) * i128::from(ragged.uneven_from);
                let hundred = i128::from(self.rest) * 100;
                let limit = hundred / em + i128::from(hundred % em * 2 >= em);
                let mut apart = earlier.look - later.look;
                if !later_is_last {
                    apart = apart.abs();
                }
                (apart - limit).max(0).pow(2) * i128::from(ragged.uneven_weight)
            }
            How::Justified(justified) if (earlier.look - later.look).abs() > 1 => {
                i128::from(justified.uneven)
            }
            How::Justified(_) => 0,
        }
    }

    /// What it costs to have hyphens after two others, hyphens before the last line, and last lines of one word: breaches
    /// and a price.
    pub fn walls(&self, in_a_row: u32, before_last: u32, one_word_last: u32) -> (u32, i128) {
        match &self.how {
            // A hyphen weighs as much as two of the others.
            How::Ragged(_) => (2 * (in_a_row + before_last) + one_word_last, 0),
            How::Justified(justified) => {
                let ladders = i128::from(justified.ladder) * i128::from(in_a_row);
                let others = i128::from(justified.wall) * i128::from(before_last + one_word_last);
                (0, ladders + others)
            }
        }
    }

    /// What a division costs: `breaks` are the points that its lines end at, the paragraph's end among them.
    pub fn score(&self, start: usize, breaks: &[usize]) -> Score {
        self.account(start, breaks).0
    }

    /// What a division costs, and its walls one by one.
    pub fn account(&self, start: usize, breaks: &[usize]) -> (Score, Breached) {
        let mut breached = Breached::default();
        let mut cost = 0;
        let mut before: Option<Line> = None;
        let mut from = start;
        for (number, &to) in breaks.iter().enumerate() {
            let line = self.line(from, to, self.measure(start, number));
            cost += line.cost;
            breached.overfull += u32::from(line.overfull);
            if let Some(before) = before {
                cost += self.between(before, line, to == self.end());
            }
            before = Some(line);
            from = to;
        }
        let hyphens: Vec<bool> = breaks.iter().map(|&to| self.points[to].hyphen).collect();
        for run in hyphens.chunk_by(|one, next| one == next) {
            if run[0] {
                breached.hyphens_in_a_row += (run.len() as u32).saturating_sub(2);
            }
        }
        let inner = &breaks[..breaks.len() - 1];
        let price = match &self.how {
            How::Ragged(ragged) => ragged.hyphens_in_a_row,
            How::Justified(justified) => justified.hyphens_in_a_row,
        };
        let pairs = hyphens.windows(2).filter(|pair| pair[0] && pair[1]).count();
        let at_the_end = inner.last().is_some_and(|&to| self.points[to].hyphen);
        let flagged = pairs + usize::from(at_the_end);
        cost += i128::from(price) * flagged as i128;
        if let Some(&last) = inner.last() {
            breached.one_word_last = u32::from(self.is_one_word(last) && !self.is_one_word(start));
        }
        breached.hyphen_before_last = u32::from(at_the_end);
        let (walls, price) = self.walls(
            breached.hyphens_in_a_row,
            breached.hyphen_before_last,
            breached.one_word_last,
        );
        ((breached.overfull, walls, cost + price), breached)
    }

    pub fn is_one_word(&self, from: usize) -> bool {
        self.points[from].words_to_start == self.points[self.end()].words_to_end
    }

    /// The best of all divisions from a point, with its score: of equals the one with the latest breaks. Nothing
    /// where there are more than `most`.
    pub fn try_all(&self, start: usize, most: usize) -> Option<(Score, Vec<usize>)> {
        let mut best: Option<(Score, Vec<usize>)> = None;
        let mut open = vec![Vec::new()];
        let mut tried = 0;
        while let Some(breaks) = open.pop() {
            let from = breaks.last().copied().unwrap_or(start);
            if from < self.end() {
                for to in self.ends(from, self.measure(start, breaks.len())) {
                    open.push(breaks.iter().copied().chain([to]).collect());
                }
                continue;
            }
            tried += 1;
            if tried > most {
                return None;
            }
            let score = self.score(start, &breaks);
            let better = best.as_ref().is_none_or(|(known, latest)| {
                score < *known || (score == *known && breaks > *latest)
            });
            if better {
                best = Some((score, breaks));
            }
        }
        best
    }
}

/// ⌊100 r³ + ½⌋ and from r = 4 on ⌊4800 r − 12800 + ½⌋, a million at most, found by halving.
fn badness(above: i128, below: i128) -> i128 {
    let reached = |badness: i128| {
        if above > 4 * below {
            2 * (badness + 12_800) * below <= 9_600 * above + below
        } else {
            2 * badness * below.pow(3) <= 200 * above.pow(3) + below.pow(3)
        }
    };
    let (mut low, mut high) = (0, MILLION + 1);
    while high - low > 1 {
        let middle = (low + high) / 2;
        if reached(middle) {
            low = middle;
        } else {
            high = middle;
        }
    }
    low
}
