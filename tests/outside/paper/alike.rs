//! Cutting and pasting grey pixels, and how alike two pictures are.

use super::grey::Grey;

impl Grey {
    /// Bare paper.
    pub fn bare(wide: usize, high: usize) -> Grey {
        Grey::new(wide, high, vec![255; wide * high])
    }

    /// Standing on its head.
    pub fn half_turned(&self) -> Grey {
        self.turned_sideways().turned_over_head()
    }

    /// The pixels from the first column and row up to the others.
    pub fn cut(&self, columns: (usize, usize), rows: (usize, usize)) -> Grey {
        let (wide, high) = (columns.1 - columns.0, rows.1 - rows.0);
        Grey::made(wide, high, |x, y| self.at(columns.0 + x, rows.0 + y))
    }

    /// Without so much along all four edges.
    pub fn within(&self, edge: usize) -> Grey {
        self.cut((edge, self.wide - edge), (edge, self.high - edge))
    }

    /// Pastes a piece over it, its head and left edge there.
    pub fn paste(&mut self, piece: &Grey, (left, head): (usize, usize)) {
        for y in 0..piece.high.min(self.high - head) {
            for x in 0..piece.wide.min(self.wide - left) {
                self.pixels[(head + y) * self.wide + left + x] = piece.at(x, y);
            }
        }
    }

    /// The mean of every square of so many pixels.
    pub fn coarser(&self, by: usize) -> Grey {
        Grey::made(self.wide / by, self.high / by, |x, y| {
            let square = (0..by * by).map(|at| self.at(x * by + at % by, y * by + at / by));
            (square.map(usize::from).sum::<usize>() / (by * by)) as u8
        })
    }

    /// Every pixel the mean of itself and its eight neighbours: what lies half a pixel off looks alike.
    pub fn softened(&self) -> Grey {
        Grey::made(self.wide - 2, self.high - 2, |x, y| {
            let square = (0..9).map(|at| self.at(x + at % 3, y + at / 3));
            (square.map(usize::from).sum::<usize>() / 9) as u8
        })
    }

    /// The grey that half of the pixels are no lighter than.
    pub fn median(&self) -> u8 {
        let mut sorted = self.pixels.clone();
        let middle = sorted.len() / 2;
        *sorted.select_nth_unstable(middle).1
    }

    pub fn darkest(&self) -> u8 {
        *self.pixels.iter().min().expect("pixels")
    }

    /// Pearson's correlation of two pictures, the other moved by so much; nothing where one of them is flat.
    fn correlation_at(&self, other: &Grey, (right, down): (isize, isize)) -> Option<f64> {
        let (wide, high) = (self.wide.min(other.wide), self.high.min(other.high));
        let [mut n, mut a, mut b, mut aa, mut bb, mut ab] = [0u64; 6];
        let edge = right.unsigned_abs().max(down.unsigned_abs());
        for y in edge..high.saturating_sub(edge) {
            let there = y.checked_add_signed(down)?;
            for x in edge..wide.saturating_sub(edge) {
                let one = u64::from(self.at(x, y));
                let two = u64::from(other.at(x.checked_add_signed(right)?, there));
                n += 1;
                a += one;
                b += two;
                aa += one * one;
                bb += two * two;
                ab += one * two;
            }
        }
        let [n, a, b, aa, bb, ab] = [n, a, b, aa, bb, ab].map(|sum| sum as f64);
        let spread = (n * aa - a * a) * (n * bb - b * b);
        (spread > 0.0).then(|| (n * ab - a * b) / spread.sqrt())
    }

    /// The best correlation within so many pixels; nought where one of them is flat.
    pub fn correlation(&self, other: &Grey, within: isize) -> f64 {
        let moves = (-within..=within).flat_map(|x| (-within..=within).map(move |y| (x, y)));
        let found = moves.filter_map(|by| self.correlation_at(other, by));
        found.fold(0.0, f64::max)
    }
}
