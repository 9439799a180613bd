//! Glyphs lost, doubled, swapped or another's, and what is wrongly marked as added: F3 and F4.

use super::{Way, first, is_plain, of_part, panel_with};
use versefold::layout::{LaidGlyph, LaidLine, Layout, Promise};

/// The first glyph of a line of which something is so.
fn glyph(line: &mut LaidLine, is: impl Fn(&LaidGlyph) -> bool) -> Option<&mut LaidGlyph> {
    let mut glyphs = line.runs.iter_mut().flat_map(|run| &mut run.glyphs);
    glyphs.find(|glyph| is(glyph))
}

/// Whether a glyph stands for words of the line.
fn shows(glyph: &LaidGlyph) -> bool {
    !glyph.text.is_empty()
}

/// A line with an added sign, and the run and the glyph that show it.
fn added(layout: &mut Layout, sign: char) -> Option<(&mut LaidLine, usize, usize)> {
    let is = move |glyph: &LaidGlyph| glyph.added == Some(sign);
    let has = move |line: &LaidLine| line.runs.iter().any(|run| run.glyphs.iter().any(is));
    let line = first(layout, has)?;
    let run = line.runs.iter().position(|run| run.glyphs.iter().any(is))?;
    let at = line.runs[run].glyphs.iter().position(is)?;
    Some((line, run, at))
}

pub const WAYS: &[Way] = &[
    ("the sign for a missing glyph", Promise::F3, |layout| {
        glyph(first(layout, of_part)?, shows)?.id = 0;
        Some(())
    }),
    ("a glyph dropped", Promise::F3, |layout| {
        let line = first(layout, is_plain)?;
        line.runs[0].glyphs.remove(0);
        Some(())
    }),
    ("a glyph doubled", Promise::F3, |layout| {
        let line = first(layout, of_part)?;
        let run = &mut line.runs[0].glyphs;
        let at = run.iter().position(shows)?;
        run.insert(at, run[at].clone());
        Some(())
    }),
    ("two glyphs swapped", Promise::F3, |layout| {
        let line = first(layout, |line| {
            is_plain(line) && line.runs[0].glyphs.len() > 4
        })?;
        line.runs[0].glyphs.swap(1, 3);
        Some(())
    }),
    ("the glyph of another letter", Promise::F3, |layout| {
        let line = first(layout, |line| {
            is_plain(line) && line.text.contains('e') && line.text.contains('o')
        })?;
        let number = |line: &LaidLine, letter: char| {
            let at = line.text.find(letter);
            let mut glyphs = line.runs.iter().flat_map(|run| &run.glyphs);
            glyphs.position(|glyph| Some(glyph.text.start) == at && glyph.text.len() == 1)
        };
        let (one, other) = (number(line, 'e')?, number(line, 'o')?);
        let mut glyphs: Vec<&mut LaidGlyph> = line
            .runs
            .iter_mut()
            .flat_map(|run| &mut run.glyphs)
            .collect();
        (glyphs[one].id, glyphs[other].id) = (glyphs[other].id, glyphs[one].id);
        Some(())
    }),
    ("the glyphs of another line", Promise::F3, |layout| {
        let at = panel_with(layout, 2)?;
        let lines = &mut layout.panels[at].lines;
        lines[0].runs = lines[1].runs.clone();
        Some(())
    }),
    ("the glyph of another face", Promise::F3, |layout| {
        // The face of words that are emphasised, for words that are not.
        let all = layout.panels.iter().flat_map(|panel| &panel.lines);
        let faces: Vec<_> = all
            .flat_map(|line| &line.runs)
            .map(|run| run.face.clone())
            .collect();
        let line = first(layout, is_plain)?;
        let other = faces.into_iter().find(|face| *face != line.runs[0].face)?;
        line.runs[0].face = other;
        Some(())
    }),
    ("no glyphs", Promise::F3, |layout| {
        first(layout, of_part)?.runs.clear();
        Some(())
    }),
    ("two runs swapped", Promise::F3, |layout| {
        first(layout, |line| of_part(line) && line.runs.len() > 1)?
            .runs
            .swap(0, 1);
        Some(())
    }),
    (
        "a glyph for words that are not there",
        Promise::F3,
        |layout| {
            let line = first(layout, of_part)?;
            let end = line.text.len();
            glyph(line, shows)?.text = end..end + 1;
            Some(())
        },
    ),
    ("a glyph for a part of a character", Promise::F3, |layout| {
        let wide = |line: &LaidLine| line.text.chars().next().is_some_and(|c| c.len_utf8() > 1);
        let line = first(layout, |line| of_part(line) && wide(line))?;
        glyph(line, |glyph| glyph.text.start == 0 && shows(glyph))?.text = 0..1;
        Some(())
    }),
    ("words marked as added", Promise::F4, |layout| {
        let line = first(layout, of_part)?;
        line.added = Some(line.text.clone());
        Some(())
    }),
    ("a hyphen marked that is not there", Promise::F4, |layout| {
        first(layout, |line| of_part(line) && line.added.is_none())?.added = Some("-".to_string());
        Some(())
    }),
    ("a hyphen that is not marked", Promise::F4, |layout| {
        first(layout, |line| of_part(line) && line.added.is_some())?.added = None;
        Some(())
    }),
    ("a hyphen dropped", Promise::F4, |layout| {
        let (line, run, at) = added(layout, '-')?;
        line.runs[run].glyphs.remove(at);
        Some(())
    }),
    ("a hyphen doubled", Promise::F4, |layout| {
        let (line, run, at) = added(layout, '-')?;
        let hyphen = line.runs[run].glyphs[at].clone();
        line.runs[run].glyphs.push(hyphen);
        Some(())
    }),
    (
        "a space dropped that parts two lines",
        Promise::F4,
        |layout| {
            let (line, run, at) = added(layout, ' ')?;
            line.runs[run].glyphs.remove(at);
            Some(())
        },
    ),
    ("a space added to a line of verse", Promise::F4, |layout| {
        let line = first(layout, |line| is_plain(line) && line.kind.is_verse())?;
        let run = line.runs.last_mut()?;
        let mut space = run
            .glyphs
            .iter()
            .find(|glyph| &line.text[glyph.text.clone()] == " ")?
            .clone();
        (space.added, space.text) = (Some(' '), line.text.len()..line.text.len());
        run.glyphs.push(space);
        Some(())
    }),
    ("a title that is not marked", Promise::F4, |layout| {
        first(layout, |line| !of_part(line))?.added = None;
        Some(())
    }),
    ("another title", Promise::F4, |layout| {
        first(layout, |line| !of_part(line))?;
        layout.title = "The Summer Bus".to_string();
        Some(())
    }),
    ("a title set twice", Promise::F4, |layout| {
        let mut panels = layout.panels.iter_mut();
        let panel = panels.find(|panel| panel.lines.iter().any(|line| !of_part(line)))?;
        let lines = panel.lines.clone();
        panel.lines.extend(lines);
        Some(())
    }),
    ("a title on a panel of words", Promise::F4, |layout| {
        let title = first(layout, |line| !of_part(line))?.clone();
        let at = panel_with(layout, 1)?;
        layout.panels[at].lines.push(title);
        Some(())
    }),
];
