//! Which characters each glyph of a cluster stands for, as far as that can be told.
//!
//! A reader of the written file that knows nothing of clusters finds a letter in the glyph of the letter and a
//! mark in the glyph of the mark.

use std::ops::Range;

use crate::names::Direction;
use crate::typeface::{Face, Glyph, GlyphSegment, is_ignorable};

/// The bytes of the word that each glyph of a segment stands for, in the order of the glyphs. Where it
/// cannot be told which glyph of a cluster stands for what, the first one has all of its bytes and the
/// others none.
pub(super) fn texts(segment: &GlyphSegment, word: &str, reads: Direction) -> Vec<Range<usize>> {
    let glyphs = &segment.glyphs;
    // Cluster borders in the order of the text, to know where each cluster ends.
    let mut starts: Vec<usize> = glyphs.iter().map(|glyph| glyph.cluster as usize).collect();
    starts.sort_unstable();
    starts.dedup();
    let mut texts = Vec::with_capacity(glyphs.len());
    for cluster in glyphs.chunk_by(|a, b| a.cluster == b.cluster) {
        let start = cluster[0].cluster as usize;
        let next = starts.get(starts.partition_point(|at| *at <= start));
        let end = next.copied().unwrap_or(segment.to);
        match shared_out(cluster, &word[start..end], &segment.face, reads) {
            Some(shares) => {
                texts.extend(shares.into_iter().map(|s| s.start + start..s.end + start));
            }
            _ => {
                texts.push(start..end);
                texts.extend((1..cluster.len()).map(|_| 0..0));
            }
        }
    }
    texts
}

/// The characters of a cluster, each with the default-ignorable ones behind it.
fn characters(text: &str) -> Vec<Range<usize>> {
    let mut found: Vec<Range<usize>> = Vec::new();
    for (at, c) in text.char_indices() {
        let end = at + c.len_utf8();
        match found.last_mut() {
            Some(last) if is_ignorable(c) => last.end = end,
            _ => found.push(at..end),
        }
    }
    found
}

/// Shares the text of a cluster out among its glyphs: to each character the glyph that the face has for it by
/// itself, and what is then left to the one glyph that is left. Nothing where that does not come out even, or
/// where glyphs that move the pen stand in another order than their characters.
fn shared_out(
    glyphs: &[Glyph],
    text: &str,
    face: &Face,
    reads: Direction,
) -> Option<Vec<Range<usize>>> {
    if glyphs.len() < 2 {
        return None;
    }
    let characters = characters(text);
    let mut shares: Vec<Option<Range<usize>>> = vec![None; glyphs.len()];
    let mut left: Vec<Range<usize>> = Vec::new();
    for character in characters {
        let own = text[character.clone()].chars().next();
        let own = own.and_then(|c| face.glyph(c));
        let free = |at: &usize| shares[*at].is_none() && Some(glyphs[*at].id) == own;
        match (0..glyphs.len()).find(free) {
            Some(at) => shares[at] = Some(character),
            None => match left.last_mut() {
                Some(last) if last.end == character.start => last.end = character.end,
                _ => left.push(character),
            },
        }
    }
    let free: Vec<usize> = (0..glyphs.len())
        .filter(|at| shares[*at].is_none())
        .collect();
    match (free.as_slice(), left.as_slice()) {
        ([], []) => {}
        ([glyph], [rest]) => shares[*glyph] = Some(rest.clone()),
        _ => return None,
    }
    let shares: Option<Vec<Range<usize>>> = shares.into_iter().collect();
    let shares = shares?;
    let moving = glyphs.iter().zip(&shares);
    let moving = moving.filter(|(glyph, _)| glyph.advance != 0);
    let starts: Vec<usize> = moving.map(|(_, share)| share.start).collect();
    let in_order = match reads {
        Direction::LeftToRight => starts.is_sorted(),
        Direction::RightToLeft => starts.iter().rev().is_sorted(),
    };
    in_order.then_some(shares)
}
