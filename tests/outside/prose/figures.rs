//! What can be counted of the lines of paragraphs, whoever set them.

use std::ops::AddAssign;

/// Word spaces may lose a third of their width, and a hair more where the ruler is another.
pub const NARROWEST: f64 = 0.66;

/// A line, measured.
#[derive(Clone, Copy, Debug)]
pub struct Measured {
    /// What it lacks of its measure at its natural width, in ems; below nothing where it is too long.
    pub short: f64,
    /// Its word spaces.
    pub spaces: usize,
    /// Whether it ends in an added hyphen.
    pub hyphen: bool,
}

/// The figures of some paragraphs.
#[derive(Clone, Copy, Debug, Default)]
pub struct Figures {
    pub lines: usize,
    /// The sum of the squares of what all lines but the last lack, in em².
    pub squares: f64,
    /// How short the shortest line but the last is, in ems.
    pub shortest: f64,
    /// The sum of the squares of what neighbouring lines differ by, in em², the last line left out.
    pub uneven: f64,
    /// Lines that end in an added hyphen.
    pub hyphens: usize,
    /// How many of them follow on two others.
    pub ladders: usize,
    /// Last lines of one word, of paragraphs that have more than one line.
    pub one_word_last: usize,
    /// The loosest word space of a filled line, by the face's own.
    pub loosest: f64,
    /// The tightest.
    pub tightest: f64,
    /// The sum of the squares of what the spaces of a filled line differ from the face's own, in parts of it.
    pub changed: f64,
    /// Lines with no space that could fill them.
    pub unfilled: usize,
    /// Lines longer than their measure, even with spaces two thirds as wide.
    pub overfull: usize,
}

impl Figures {
    /// Counts a paragraph; `space` is the face's word space in ems.
    pub fn of(paragraph: &[Measured], space: f64) -> Figures {
        let mut figures = Figures {
            lines: paragraph.len(),
            tightest: 1.0,
            ..Figures::default()
        };
        let (Some(last), full) = (paragraph.last(), paragraph.len().saturating_sub(1)) else {
            return figures;
        };
        let lines = &paragraph[..full];
        let mut run = 0;
        for line in lines {
            let short = line.short.max(0.0);
            figures.squares += short * short;
            figures.shortest = figures.shortest.max(short);
            run = if line.hyphen { run + 1 } else { 0 };
            figures.hyphens += usize::from(line.hyphen);
            figures.ladders += usize::from(run > 2);
            if line.spaces == 0 {
                figures.unfilled += 1;
                figures.overfull += usize::from(line.short < -0.01);
                continue;
            }
            let wide = 1.0 + line.short / line.spaces as f64 / space;
            figures.loosest = figures.loosest.max(wide);
            figures.tightest = figures.tightest.min(wide);
            figures.changed += (wide - 1.0).powi(2);
            figures.overfull += usize::from(wide < NARROWEST);
        }
        let pairs = lines.windows(2);
        let differences = pairs.map(|pair| pair[0].short - pair[1].short);
        figures.uneven = differences.map(|difference| difference.powi(2)).sum();
        figures.one_word_last = usize::from(full > 0 && last.spaces == 0);
        figures
    }

    /// The heading of a table of figures.
    pub const HEAD: &str = "  lines  short em²  shortest  uneven em²  hyphens  >2 in a row  one word last  \
        loosest  tightest   changed  unfilled  too long";

    /// A row of it.
    pub fn row(&self) -> String {
        format!(
            "{:>7} {:>10.1} {:>9.2} {:>11.1} {:>8} {:>12} {:>14} {:>8.2} {:>9.2} {:>9.1} {:>9} {:>9}",
            self.lines,
            self.squares,
            self.shortest,
            self.uneven,
            self.hyphens,
            self.ladders,
            self.one_word_last,
            self.loosest,
            self.tightest,
            self.changed,
            self.unfilled,
            self.overfull,
        )
    }
}

impl AddAssign for Figures {
    fn add_assign(&mut self, other: Figures) {
        self.lines += other.lines;
        self.squares += other.squares;
        self.shortest = self.shortest.max(other.shortest);
        self.uneven += other.uneven;
        self.hyphens += other.hyphens;
        self.ladders += other.ladders;
        self.one_word_last += other.one_word_last;
        self.loosest = self.loosest.max(other.loosest);
        self.tightest = if self.tightest == 0.0 {
            other.tightest
        } else {
            self.tightest.min(other.tightest)
        };
        self.changed += other.changed;
        self.unfilled += other.unfilled;
        self.overfull += other.overfull;
    }
}
