//! Words out of order, lost, doubled, or run together: F1 and F2.

use super::{Way, first, of_part, panel_with, two_panels};
use versefold::layout::{LaidLine, Promise};
use versefold::text::LineKind;

pub const WAYS: &[Way] = &[
    ("two panels swapped", Promise::F1, |layout| {
        let (one, other) = two_panels(layout)?;
        let lines = std::mem::take(&mut layout.panels[one].lines);
        layout.panels[one].lines = std::mem::replace(&mut layout.panels[other].lines, lines);
        Some(())
    }),
    ("the names of two panels swapped", Promise::F1, |layout| {
        let (one, other) = two_panels(layout)?;
        let name = layout.panels[one].panel;
        layout.panels[one].panel = std::mem::replace(&mut layout.panels[other].panel, name);
        Some(())
    }),
    ("a panel's lines reversed", Promise::F1, |layout| {
        let at = panel_with(layout, 2)?;
        layout.panels[at].lines.reverse();
        Some(())
    }),
    ("every panel's lines reversed", Promise::F1, |layout| {
        panel_with(layout, 2)?;
        layout
            .panels
            .iter_mut()
            .for_each(|panel| panel.lines.reverse());
        Some(())
    }),
    ("two lines swapped", Promise::F1, |layout| {
        let at = panel_with(layout, 2)?;
        layout.panels[at].lines.swap(0, 1);
        Some(())
    }),
    ("two lines swapped on slots", Promise::F1, |layout| {
        let mut shaped = layout
            .panels
            .iter_mut()
            .filter(|panel| !panel.slots.is_empty());
        let panel =
            shaped.find(|panel| panel.lines.iter().filter(|line| of_part(line)).count() > 2)?;
        let last = panel.lines.len() - 1;
        panel.lines.swap(last, last - 1);
        Some(())
    }),
    ("a line dropped", Promise::F1, |layout| {
        let at = panel_with(layout, 3)?;
        layout.panels[at].lines.remove(1);
        Some(())
    }),
    ("the last line of all dropped", Promise::F1, |layout| {
        let last = layout.parts.last()?.on.clone();
        let panels = layout.panels.iter_mut().rev();
        let mut panels = panels.filter(|panel| last.contains(&panel.panel));
        let panel = panels.find(|panel| panel.lines.iter().any(of_part))?;
        panel.lines.pop()?;
        Some(())
    }),
    ("a line doubled", Promise::F1, |layout| {
        let at = panel_with(layout, 2)?;
        let line = layout.panels[at].lines[0].clone();
        layout.panels[at].lines.insert(1, line);
        Some(())
    }),
    ("a line on the panel before", Promise::F1, |layout| {
        let (one, other) = two_panels(layout)?;
        let line = layout.panels[other].lines.pop()?;
        if layout.panels[other].lines.is_empty() {
            return None;
        }
        layout.panels[one].lines.push(line);
        Some(())
    }),
    ("a panel gone", Promise::F1, |layout| {
        let (one, _) = two_panels(layout)?;
        layout.panels.remove(one);
        Some(())
    }),
    ("a panel there twice", Promise::F1, |layout| {
        let panel = layout.panels.first()?.clone();
        layout.panels.push(panel);
        Some(())
    }),
    ("a line on a panel of another part", Promise::F1, |layout| {
        let [one, other, ..] = &layout.parts[..] else {
            return None;
        };
        let (one, other) = (one.clone(), other.clone());
        let mut panels = layout.panels.iter_mut();
        let from = panels.find(|panel| one.on.contains(&panel.panel) && !panel.lines.is_empty())?;
        let line = from.lines.pop()?;
        let mut panels = layout.panels.iter_mut();
        panels
            .find(|panel| other.on.contains(&panel.panel))?
            .lines
            .push(line);
        Some(())
    }),
    ("a line of another part", Promise::F1, |layout| {
        let name = layout.parts.get(1)?.name.clone();
        let of_other = |line: &LaidLine| line.part.as_ref().is_some_and(|part| *part != name);
        first(layout, of_other)?.part = Some(name.clone());
        Some(())
    }),
    ("a line of another row", Promise::F1, |layout| {
        first(layout, |line| of_part(line) && line.row > 0)?.row -= 1;
        Some(())
    }),
    ("a line of another kind", Promise::F1, |layout| {
        first(layout, |line| line.kind == LineKind::Verse)?.kind = LineKind::Epigraph;
        Some(())
    }),
    ("a line of another stanza", Promise::F1, |layout| {
        first(layout, of_part)?.block += 1;
        Some(())
    }),
    ("a caption without its picture", Promise::F1, |layout| {
        let is_caption = |line: &LaidLine| line.kind == LineKind::Caption;
        let mut panels = layout.panels.iter_mut();
        panels
            .find(|panel| panel.lines.iter().any(is_caption))?
            .picture = None;
        Some(())
    }),
    ("a caption beside another picture", Promise::F1, |layout| {
        let is_caption = |line: &LaidLine| line.kind == LineKind::Caption;
        let mut panels = layout.panels.iter_mut();
        let panel = panels.find(|panel| panel.lines.iter().any(is_caption))?;
        panel.picture = Some("the snow poles".to_string());
        Some(())
    }),
    ("the sources of two words swapped", Promise::F1, |layout| {
        first(layout, |line| line.sources.len() > 1)?
            .sources
            .swap(0, 1);
        Some(())
    }),
    ("a source dropped", Promise::F1, |layout| {
        first(layout, |line| line.sources.len() > 1)?.sources.pop();
        Some(())
    }),
    ("a source doubled", Promise::F1, |layout| {
        let line = first(layout, |line| !line.sources.is_empty())?;
        line.sources.push(*line.sources.last()?);
        Some(())
    }),
    ("a source a byte too long", Promise::F1, |layout| {
        first(layout, |line| !line.sources.is_empty())?
            .sources
            .last_mut()?
            .1 += 1;
        Some(())
    }),
    ("a source a byte short", Promise::F1, |layout| {
        first(layout, |line| !line.sources.is_empty())?
            .sources
            .last_mut()?
            .1 -= 1;
        Some(())
    }),
    (
        "a source parted inside a character",
        Promise::F1,
        |layout| {
            let wide = |line: &LaidLine| line.text.chars().next().is_some_and(|c| c.len_utf8() > 1);
            let line = first(layout, |line| wide(line) && of_part(line))?;
            let (from, to) = line.sources[0];
            line.sources
                .splice(0..1, [(from, from + 1), (from + 1, to)]);
            Some(())
        },
    ),
    ("lines parted inside a character", Promise::F1, |layout| {
        // Where one line goes on where the one before ends, between two bytes of its first character.
        let mut panels = layout.panels.iter_mut();
        panels.find_map(|panel| {
            let at = panel.lines.windows(2).position(|pair| {
                let ends = pair[0].sources.last().map(|source| source.1);
                let wide = pair[1]
                    .text
                    .chars()
                    .next()
                    .is_some_and(|c| c.len_utf8() > 1);
                wide && ends.is_some() && ends == pair[1].sources.first().map(|source| source.0)
            })?;
            panel.lines[at].sources.last_mut()?.1 += 1;
            panel.lines[at + 1].sources.first_mut()?.0 += 1;
            Some(())
        })
    }),
    (
        "sources of a line that is wholly added",
        Promise::F1,
        |layout| {
            first(layout, |line| !of_part(line))?.part = Some("body".to_string());
            Some(())
        },
    ),
    ("a space doubled", Promise::F2, |layout| {
        let line = first(layout, |line| of_part(line) && line.text.contains(' '))?;
        line.text = line.text.replacen(' ', "  ", 1);
        Some(())
    }),
    ("two words run together", Promise::F2, |layout| {
        let line = first(layout, |line| of_part(line) && line.text.contains(' '))?;
        line.text = line.text.replacen(' ', "", 1);
        Some(())
    }),
    ("a letter changed", Promise::F2, |layout| {
        let line = first(layout, |line| of_part(line) && line.text.contains('e'))?;
        line.text = line.text.replacen('e', "o", 1);
        Some(())
    }),
    ("a line glued to the next", Promise::F2, |layout| {
        first(layout, |line| of_part(line) && !line.glued)?.glued = true;
        Some(())
    }),
    ("a divided word parted", Promise::F2, |layout| {
        first(layout, |line| line.glued)?.glued = false;
        Some(())
    }),
];
