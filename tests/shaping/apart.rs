//! What a shaped word says of being parted, from its neighbours or within: it is priced by that and not shaped again.

use versefold::names::Length;
use versefold::setting::{SetWord, ShapedLine};
use versefold::typeface::{Shaper, Typeface};

use super::line::Faced;

/// How many borders were compared, and which of them are not as the word says.
#[derive(Default)]
pub struct Compared {
    pub spaces: usize,
    pub within: usize,
    pub different: Vec<String>,
}

/// Parts every word of a line from its neighbours, and at every place within that it can price.
pub fn compare(faced: &Faced, language: &str, text: &str, compared: &mut Compared) {
    let (typeface, voice): (&Typeface, _) = (faced.typeface(), faced.voice());
    let shaper = Shaper::new(typeface, language);
    let line = ShapedLine::added(text, voice);
    let words = line.set(&shaper, 0..text.len());
    for word in words.iter() {
        let (run, own) = (word.context.run, &word.text);
        // Words that are shaped together say nothing of themselves.
        if run.0 + 1 < own.start || run.1 > own.end + 1 {
            continue;
        }
        let mut tell = |same: bool, what: &str| {
            if !same {
                compared
                    .different
                    .push(format!("{what} {:?} of {text}", &text[own.clone()]));
            }
        };
        if !word.shaped.bound.0 && own.start > 0 {
            compared.spaces += 1;
            let alone = first(&line, &shaper, own.start..text.len());
            tell(
                glyphs(&alone) == glyphs(word) && alone.text == *own,
                "the beginning of",
            );
        }
        if !word.shaped.bound.1 && own.end < text.len() {
            compared.spaces += 1;
            let alone = last(&line, &shaper, 0..own.end);
            tell(
                glyphs(&alone) == glyphs(word) && alone.text == *own,
                "the end of",
            );
        }
        for at in own.start + 1..own.end {
            let Some((before, behind)) = word.shaped.widths_at(at - own.start, voice) else {
                continue;
            };
            compared.within += 1;
            let (left, right) = (
                last(&line, &shaper, 0..at).shaped.width,
                first(&line, &shaper, at..text.len()).shaped.width,
            );
            tell((left, right) == (before, behind), &format!("byte {at} of"));
        }
    }
}

fn first(line: &ShapedLine, shaper: &Shaper<'_>, stretch: std::ops::Range<usize>) -> SetWord {
    line.set(shaper, stretch)[0].clone()
}

fn last(line: &ShapedLine, shaper: &Shaper<'_>, stretch: std::ops::Range<usize>) -> SetWord {
    let words = line.set(shaper, stretch);
    words[words.len() - 1].clone()
}

/// Its glyphs with all that places them, and its width.
fn glyphs(word: &SetWord) -> (Vec<[i32; 5]>, Length) {
    let segments = word.shaped.segments.iter();
    let glyphs = segments.flat_map(|segment| &segment.glyphs);
    let placed = glyphs.map(|glyph| {
        let (id, cluster) = (i32::from(glyph.id), glyph.cluster as i32);
        [id, cluster, glyph.advance, glyph.dx, glyph.dy]
    });
    (placed.collect(), word.shaped.width)
}
