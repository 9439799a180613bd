//! F6: every line stands in its place.
//!
//! All is asked of lines as lines have it: where they run down, “across” is down and “down” is to the left here.
//!
//! What a line takes up is a box: across, its advance width; down, its line height above the baseline, which is the
//! leading, or the type size where that is larger than its part's own. Ink plays no part. Asked of each line is
//! - that it runs as the lines of its part do, its signs upright or turned as they should be ([`posture`]),
//! - that its glyphs stand side by side on its baseline, from its left edge to its right ([`line`](mod@line)),
//! - that it lies on its panel, its baseline on a half line of the grid (on a whole one where words follow a shape),
//!   within its text area, or within its slot of a shape ([`area`]),
//! - that it follows the line before it: as far down as that and the space between say ([`down`]), or on a later slot,
//! - that its box overlaps no other's, and no room that is left empty ([`apart`]);
//!
//! and of each panel, that its words go as far down as the search has counted ([`depth`]).
//!
//! # What is excepted
//!
//! - Readings stand above their base, by a stated rise, and belong to no line's box; a large initial stands with its
//!   ink at the line's edge, on a whole grid line below its own line, and takes that depth, but the lines beside it stand
//!   in its box. What does not stand beside it may begin where it ends.
//! - Marks hang: quotation marks, stops, commas and hyphens that a line begins or ends with stick out of the area by
//!   no more than their own advance, and no more than the area leaves between itself and what must stay free.
//! - What can be no narrower sticks out at the far side: a line that is one character, and one that a dash or an
//!   ellipsis goes on, for none may begin a line; a word of the plan's title.
//! - A panel that is passed for press keeps the places that are printed, whatever the plan says by now of grid, areas
//!   and leading. Of its lines it is asked that they lie on the panel and that each stands below the one before; in a
//!   shape, only that they lie on the panel.

mod apart;
mod area;
mod depth;
mod down;
mod line;
mod posture;

use super::{BrokenPromise, Promise};
use crate::layout::{LaidLine, LaidPanel, Layout};
use crate::names::{Length, LinesRun};
use crate::setting::Grid;

pub(super) fn check(layout: &Layout, panels: &[&LaidPanel]) -> Result<(), BrokenPromise> {
    for &panel in panels {
        let part = layout
            .parts
            .iter()
            .find(|part| part.on.contains(&panel.panel));
        let own = panel.lines_run();
        let on = On {
            panel,
            lines_run: part.map_or(own, |part| part.lines_run),
            grid: part.map_or(layout.grid, |part| part.grid),
            size: part.map(|part| part.size),
        };
        on.check().map_err(|broken| broken.on(panel.panel))?;
    }
    Ok(())
}

/// A panel, and the grid that its lines stand on. Where a line lies is asked of [`On::along`] and [`On::down`], which are
/// across and down, or down and to the left.
struct On<'a> {
    panel: &'a LaidPanel,
    lines_run: LinesRun,
    grid: Grid,
    /// The type size of the part's plain words; nothing where the words are the program's own.
    size: Option<Length>,
}

impl On<'_> {
    fn check(&self) -> Result<(), BrokenPromise> {
        for line in &self.panel.lines {
            self.runs_as_its_part(line)?;
            self.glyphs_stand_side_by_side(line)?;
            self.lies_on_panel(line)?;
        }
        if self.panel.lines.is_empty() {
            return Ok(());
        }
        if self.panel.passed {
            let in_shape = !self.panel.slots.is_empty();
            return if in_shape { Ok(()) } else { self.follow_down() };
        }
        let Some(area) = &self.panel.area else {
            return Err(broken("words stand where there is no room for any"));
        };
        let reaches = match self.panel.slots.is_empty() {
            true => {
                self.area_is_on_grid(area)?;
                self.follow_down()?;
                self.in_area(area)?
            }
            false => self.in_slots()?,
        };
        self.stand_apart()?;
        self.is_as_deep(reaches)
    }

    /// From where to where a line reaches along its own direction.
    fn along(&self, line: &LaidLine) -> (Length, Length) {
        (line.x, line.x + line.width)
    }

    /// How far a line stands in the direction in which lines follow each other.
    fn down(&self, line: &LaidLine) -> Length {
        line.baseline
    }

    /// How high a line's box is above its baseline.
    fn height(&self, line: &LaidLine) -> Length {
        match self.size {
            Some(own) if line.size <= own => self.grid.leading,
            _ => self.grid.leading.max(line.size),
        }
    }

    /// Each line stands below the one before it.
    fn follow_down(&self) -> Result<(), BrokenPromise> {
        let lines = &self.panel.lines;
        let pair = lines
            .windows(2)
            .find(|pair| self.down(&pair[0]) >= self.down(&pair[1]));
        match pair {
            None => Ok(()),
            Some(pair) => Err(broken(format!(
                "“{}” does not stand below “{}”, which it follows",
                pair[1].text, pair[0].text
            ))),
        }
    }
}

fn broken(what: impl Into<String>) -> BrokenPromise {
    BrokenPromise::new(Promise::F6, what)
}
