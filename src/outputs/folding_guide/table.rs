//! Tables: columns as wide as what stands in them, the head again wherever a table goes on.

use super::page::Pages;
use crate::names::Length;
use crate::outputs::words::Look;
use crate::typeface::Emphasis;

const ROW: Length = Length::from_units(Length::mm(54).units() / 10);
const BETWEEN: Length = Length::mm(6);

/// Tables of so many rows are not parted.
const WHOLE: usize = 12;

/// A column of a table.
pub(super) struct Column {
    /// The lines of its head.
    pub head: Vec<String>,
    /// Whether what stands in it ends at its right edge, as figures do.
    pub figures: bool,
}

impl Column {
    pub fn words(head: &str) -> Column {
        let head = head.lines().map(str::to_string).collect();
        Column {
            head,
            figures: false,
        }
    }

    pub fn figures(head: &str) -> Column {
        Column {
            figures: true,
            ..Column::words(head)
        }
    }
}

/// How high a table is of so many lines of head and rows, at most.
pub(super) fn table_high(head: i64, rows: usize) -> Length {
    heads(Look::BODY).leading() * head + Length::mm(5) + ROW * rows as i64
}

/// How heads look above cells that look so.
fn heads(cells: Look) -> Look {
    Look {
        tenths: cells.tenths * 6 / 7,
        stress: Emphasis::Bold,
        ..cells
    }
}

struct Sized {
    look: Look,
    widths: Vec<Length>,
}

impl Pages<'_> {
    /// Draws a table.
    pub fn table(&mut self, columns: &[Column], rows: &[Vec<String>]) {
        let sized = self.sized(columns, rows);
        let head = columns.iter().map(|column| column.head.len()).max();
        let head = heads(sized.look).leading() * head.unwrap_or(0) as i64 + Length::mm(2);
        let together = if rows.len() <= WHOLE { rows.len() } else { 3 };
        self.need(head + ROW * together as i64);
        self.table_head(columns, &sized, head);
        for row in rows {
            if self.need(ROW) {
                self.table_head(columns, &sized, head);
            }
            self.down(ROW);
            let baseline = self.y() + Length::mm(8) / 5;
            self.cells(columns, &sized, row, baseline, sized.look);
            let (left, y) = (self.left(), self.y());
            let wide = whole(&sized);
            self.rule((left, y), (left + wide, y), 0.75, &[]);
        }
        self.down(Length::mm(3));
    }

    fn sized(&self, columns: &[Column], rows: &[Vec<String>]) -> Sized {
        let at = |look: Look| {
            let bold = heads(look);
            let widths = columns.iter().enumerate().map(|(at, column)| {
                let heads = column.head.iter();
                let heads = heads.map(|line| self.setter.wide(line, bold));
                let cells = rows.iter().filter_map(|row| row.get(at));
                let cells = cells.map(|cell| self.setter.wide(cell, look));
                heads.chain(cells).fold(Length::ZERO, Length::max)
            });
            let widths: Vec<Length> = widths.collect();
            Sized { look, widths }
        };
        let mut sized = at(Look::BODY);
        while whole(&sized) > self.width() && sized.look.tenths > 50 {
            sized = at(sized.look.at(sized.look.tenths - 5));
        }
        sized
    }

    fn table_head(&mut self, columns: &[Column], sized: &Sized, height: Length) {
        self.down(height);
        let bold = heads(sized.look);
        let most = columns.iter().map(|column| column.head.len()).max();
        for line in 0..most.unwrap_or(0) {
            // Short heads stand at the foot.
            let cells = columns.iter().map(|column| {
                let above = most.unwrap_or(0) - column.head.len();
                let at = line.checked_sub(above);
                let cell = at.and_then(|at| column.head.get(at));
                cell.cloned().unwrap_or_default()
            });
            let cells: Vec<String> = cells.collect();
            let below = (most.unwrap_or(0) - 1 - line) as i64;
            let baseline = self.y() + Length::mm(2) + bold.leading() * below;
            self.cells(columns, sized, &cells, baseline, bold);
        }
        let (left, y) = (self.left(), self.y());
        self.rule((left, y), (left + whole(sized), y), 0.0, &[]);
    }

    fn cells(
        &mut self,
        columns: &[Column],
        sized: &Sized,
        cells: &[String],
        y: Length,
        look: Look,
    ) {
        let mut x = self.left();
        for ((column, cell), wide) in columns.iter().zip(cells).zip(&sized.widths) {
            match column.figures {
                true => self.ending(cell, (x + *wide, y), look),
                false => {
                    self.words(cell, (x, y), look);
                }
            }
            x += *wide + BETWEEN;
        }
    }
}

fn whole(sized: &Sized) -> Length {
    let between = BETWEEN * (sized.widths.len() as i64 - 1);
    sized.widths.iter().copied().sum::<Length>() + between
}
