//! Lines off their places, and lines that overlap: F6.

use super::{Way, first, half_a_point, of_part, panel_with, put, shift, two_panels};
use versefold::layout::{LaidLine, LaidPanel, Layout, Promise};
use versefold::names::{HalfLines, Length, LinesRun};
use versefold::setting::Grid;

/// A panel with so many lines of the manuscript and no shape.
fn panel(layout: &mut Layout, lines: usize) -> Option<&mut LaidPanel> {
    let at = panel_with(layout, lines)?;
    Some(&mut layout.panels[at])
}

/// A panel whose words follow a shape, and how many lines of words it has.
fn shaped(layout: &mut Layout) -> Option<&mut LaidPanel> {
    let mut panels = layout.panels.iter_mut();
    panels.find(|panel| !panel.slots.is_empty() && panel.lines.len() > 1)
}

/// The first run that stands otherwise than on its line's baseline.
fn off_baseline(layout: &mut Layout, above: bool) -> Option<&mut LaidLine> {
    first(layout, |line| {
        let is = |baseline: Length| match above {
            true => baseline < line.baseline,
            false => baseline > line.baseline,
        };
        line.runs.iter().any(|run| is(run.baseline))
    })
}

pub const WAYS: &[Way] = &[
    ("a line a grid line farther down", Promise::F6, |layout| {
        let leading = layout.grid.leading;
        let panel = panel(layout, 3)?;
        shift(&mut panel.lines[1], Length::ZERO, leading);
        Some(())
    }),
    (
        "the last line a grid line farther down",
        Promise::F6,
        |layout| {
            let leading = layout.grid.leading;
            let line = panel(layout, 2)?.lines.last_mut()?;
            shift(line, Length::ZERO, leading);
            Some(())
        },
    ),
    (
        "all lines a grid line farther down",
        Promise::F6,
        |layout| {
            let leading = layout.grid.leading;
            let panel = panel(layout, 2)?;
            panel
                .lines
                .iter_mut()
                .for_each(|line| shift(line, Length::ZERO, leading));
            panel
                .rooms
                .iter_mut()
                .for_each(|room| room.baseline += leading);
            Some(())
        },
    ),
    (
        "a line of a part with its own grid as far down as the book's grid has it",
        Promise::F6,
        |layout| {
            let book = layout.grid.leading;
            let own = |grid: &Grid| grid.leading != book;
            let part = layout.parts.iter().find(|part| own(&part.grid))?;
            let on = part.on.clone();
            let mut panels = layout.panels.iter_mut();
            let here = |panel: &&mut LaidPanel| on.contains(&panel.panel) && panel.lines.len() > 1;
            let panel = panels.find(here)?;
            let first = panel.lines[0].baseline;
            let line = &mut panel.lines[1];
            put(line, line.x, first + book);
            Some(())
        },
    ),
    ("a line half a point farther down", Promise::F6, |layout| {
        shift(first(layout, |_| true)?, Length::ZERO, half_a_point());
        Some(())
    }),
    ("a line half a point higher", Promise::F6, |layout| {
        shift(first(layout, of_part)?, Length::ZERO, -half_a_point());
        Some(())
    }),
    (
        "a line between two lines of the grid",
        Promise::F6,
        |layout| {
            let leading = layout.grid.leading;
            shift(
                panel(layout, 3)?.lines.get_mut(1)?,
                Length::ZERO,
                leading / 4,
            );
            Some(())
        },
    ),
    (
        "all lines half a point farther down",
        Promise::F6,
        |layout| {
            let panel = panel(layout, 2)?;
            panel
                .lines
                .iter_mut()
                .for_each(|line| shift(line, Length::ZERO, half_a_point()));
            Some(())
        },
    ),
    ("a line at the left of its area", Promise::F6, |layout| {
        let panel = panel(layout, 1)?;
        let left = panel.area?.left;
        let line = &mut panel.lines[0];
        put(line, left - Length::mm(5), line.baseline);
        Some(())
    }),
    ("a line at the right of its area", Promise::F6, |layout| {
        let panel = panel(layout, 1)?;
        let right = panel.area?.left + panel.area?.width;
        let line = &mut panel.lines[0];
        put(line, right - line.width + Length::mm(5), line.baseline);
        Some(())
    }),
    (
        "a line half a point beside its slot",
        Promise::F6,
        |layout| {
            let panel = shaped(layout)?;
            let line = panel.lines.last_mut()?;
            let baseline = line.baseline;
            let slot = panel.slots.iter().find(|slot| slot.baseline == baseline)?;
            put(line, slot.left - half_a_point(), baseline);
            Some(())
        },
    ),
    (
        "a letter of prose outside its area",
        Promise::F6,
        |layout| {
            let begins = |line: &LaidLine| {
                line.kind.is_prose() && line.text.starts_with(char::is_alphabetic)
            };
            let panels = layout.panels.iter_mut();
            let mut plain = panels.filter(|panel| panel.slots.is_empty());
            let panel = plain.find(|panel| panel.lines.first().is_some_and(begins))?;
            let left = panel.area?.left;
            let line = &mut panel.lines[0];
            // More than an eighth of any letter, and less than a whole one.
            put(line, left - line.size / 3, line.baseline);
            Some(())
        },
    ),
    ("a line off its panel, at the left", Promise::F6, |layout| {
        let line = first(layout, |_| true)?;
        put(line, -line.width - Length::mm(1), line.baseline);
        Some(())
    }),
    ("a line off its panel, at the foot", Promise::F6, |layout| {
        let panel = panel(layout, 1)?;
        let (foot, line) = (panel.size.1, panel.lines.last_mut()?);
        put(line, line.x, foot + Length::mm(1));
        Some(())
    }),
    ("two lines in each other's places", Promise::F6, |layout| {
        let panel = panel(layout, 2)?;
        let places = [0, 1].map(|at| (panel.lines[at].x, panel.lines[at].baseline));
        put(&mut panel.lines[0], places[1].0, places[1].1);
        put(&mut panel.lines[1], places[0].0, places[0].1);
        Some(())
    }),
    ("two lines in each other's slots", Promise::F6, |layout| {
        let panel = shaped(layout)?;
        let places = [0, 1].map(|at| (panel.lines[at].x, panel.lines[at].baseline));
        put(&mut panel.lines[0], places[1].0, places[1].1);
        put(&mut panel.lines[1], places[0].0, places[0].1);
        Some(())
    }),
    ("a line over the one before", Promise::F6, |layout| {
        let panel = panel(layout, 2)?;
        let above = panel.lines[0].baseline;
        let line = &mut panel.lines[1];
        put(line, line.x, above);
        Some(())
    }),
    ("lines half as far apart", Promise::F6, |layout| {
        let half = layout.grid.leading.scaled(1, 2);
        let panel = panel(layout, 3)?;
        let top = panel.lines[0].baseline;
        for (at, line) in panel.lines.iter_mut().enumerate() {
            put(line, line.x, top + half * at as i64);
        }
        Some(())
    }),
    ("a line in room that is left empty", Promise::F6, |layout| {
        let leading = layout.grid.leading;
        let mut panels = layout.panels.iter_mut();
        let panel = panels.find(|panel| !panel.rooms.is_empty())?;
        let room = panel.rooms[0].baseline;
        let line = panel.lines.iter_mut().rfind(|line| line.baseline < room)?;
        put(line, line.x, room + leading);
        Some(())
    }),
    ("room that is not there", Promise::F6, |layout| {
        let mut panels = layout.panels.iter_mut();
        let mut rooms = panels.find(|panel| panel.rooms.len() == 1)?.rooms.drain(..);
        rooms.next().map(|_| ())?;
        Some(())
    }),
    ("the last line on the next panel", Promise::F6, |layout| {
        let (one, other) = two_panels(layout)?;
        let mut line = layout.panels[one].lines.pop()?;
        let next = layout.panels[other].lines.first()?;
        let baseline = next.baseline - layout.grid.leading;
        put(&mut line, next.x, baseline);
        layout.panels[other].lines.insert(0, line);
        Some(())
    }),
    ("a line's edge without its glyphs", Promise::F6, |layout| {
        first(layout, |_| true)?.x += half_a_point();
        Some(())
    }),
    ("a line's width without its glyphs", Promise::F6, |layout| {
        first(layout, of_part)?.width += half_a_point();
        Some(())
    }),
    ("a run half a point to the right", Promise::F6, |layout| {
        first(layout, of_part)?.runs[0].x += half_a_point();
        Some(())
    }),
    ("a run half a point higher", Promise::F6, |layout| {
        first(layout, of_part)?.runs[0].baseline += -half_a_point();
        Some(())
    }),
    ("an advance that is another", Promise::F6, |layout| {
        // Of a large initial only the ink has its place: its advance moves nothing.
        let line = first(layout, of_part)?;
        let base = line.baseline;
        let run = line.runs.iter_mut().find(|run| run.baseline == base)?;
        let more = run.face.metrics().units_per_em / 10;
        run.glyphs
            .iter_mut()
            .find(|glyph| glyph.added.is_none())?
            .advance += more;
        Some(())
    }),
    ("a run of another size", Promise::F6, |layout| {
        first(layout, of_part)?.runs[0].size += half_a_point();
        Some(())
    }),
    ("a line of another size", Promise::F6, |layout| {
        first(layout, of_part)?.size += half_a_point();
        Some(())
    }),
    ("a reading half a point higher", Promise::F6, |layout| {
        let line = off_baseline(layout, true)?;
        let base = line.baseline;
        line.runs
            .iter_mut()
            .find(|run| run.baseline < base)?
            .baseline += -half_a_point();
        Some(())
    }),
    (
        "a large initial half a point lower",
        Promise::F6,
        |layout| {
            let line = off_baseline(layout, false)?;
            let base = line.baseline;
            line.runs
                .iter_mut()
                .find(|run| run.baseline > base)?
                .baseline += half_a_point();
            Some(())
        },
    ),
    ("a large initial over its line", Promise::F6, |layout| {
        let line = off_baseline(layout, false)?;
        let base = line.baseline;
        line.runs.iter_mut().find(|run| run.baseline > base)?.x += Length::mm(2);
        Some(())
    }),
    (
        "words that go farther than was counted",
        Promise::F6,
        |layout| {
            let mut panels = layout.panels.iter_mut();
            let panel = panels.find(|panel| !panel.lines.is_empty())?;
            let used = &mut panel.fullness.as_mut()?.0;
            *used = *used - HalfLines::HALF;
            Some(())
        },
    ),
    (
        "a line that runs across among lines that run down",
        Promise::F6,
        |layout| {
            let line = first(layout, |line| line.lines_run.is_down())?;
            line.lines_run = LinesRun::Across;
            Some(())
        },
    ),
    ("upright signs that are turned", Promise::F6, |layout| {
        let line = first(layout, |line| line.runs.iter().any(|run| run.upright))?;
        let run = line.runs.iter_mut().find(|run| run.upright)?;
        run.upright = false;
        Some(())
    }),
    ("turned words that are upright", Promise::F6, |layout| {
        let turned = |line: &LaidLine| line.lines_run.is_down() && line.text.contains("Winter");
        let line = first(layout, turned)?;
        let run = line.runs.iter_mut().find(|run| !run.upright)?;
        run.upright = true;
        Some(())
    }),
    ("words that were not counted", Promise::F6, |layout| {
        let mut panels = layout.panels.iter_mut();
        panels.find(|panel| !panel.lines.is_empty())?.fullness = None;
        Some(())
    }),
    ("words without a text area", Promise::F6, |layout| {
        panel(layout, 1)?.area = None;
        Some(())
    }),
    ("a text area off the grid", Promise::F6, |layout| {
        let panel = panel(layout, 1)?;
        panel.area.as_mut()?.first_baseline += half_a_point();
        panel
            .lines
            .iter_mut()
            .for_each(|line| shift(line, Length::ZERO, half_a_point()));
        Some(())
    }),
    (
        "a text area that holds a line less",
        Promise::F6,
        |layout| {
            let panel = panel(layout, 2)?;
            let (used, _) = panel.fullness?;
            panel.area.as_mut()?.capacity = (panel.lead + used).whole_lines() as u32 - 1;
            Some(())
        },
    ),
    ("a slot off the grid", Promise::F6, |layout| {
        let panel = shaped(layout)?;
        panel
            .slots
            .iter_mut()
            .for_each(|slot| slot.baseline += half_a_point());
        panel
            .lines
            .iter_mut()
            .for_each(|line| shift(line, Length::ZERO, half_a_point()));
        Some(())
    }),
    ("a slot outside its shape", Promise::F6, |layout| {
        let panel = shaped(layout)?;
        panel.slots[0].left += -Length::mm(1);
        Some(())
    }),
];
