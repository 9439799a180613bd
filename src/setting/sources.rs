//! Which bytes of the manuscript the words of a line are.

use std::ops::Range;

use super::shaped::ShapedLine;

impl ShapedLine {
    /// Where the first of the text's words lies that stands at or behind a byte of the manuscript.
    pub fn text_of_source(&self, byte: usize) -> usize {
        let at = self
            .sources
            .partition_point(|&(_, source, length)| source + length <= byte);
        let Some(&(text, source, _)) = self.sources.get(at) else {
            return self.text.len();
        };
        let at = text + byte.saturating_sub(source);
        // Of a paragraph an entry may have words on both sides of a space, which is none of them.
        let behind = &self.text[at..];
        match self.is_paragraph {
            true => self.text.len() - behind.trim_start_matches(' ').len(),
            false => at,
        }
    }

    /// The bytes of the manuscript that are the words of a stretch of the text, spaces left out.
    pub fn sources(&self, stretch: Range<usize>) -> Vec<(usize, usize)> {
        let mut found: Vec<(usize, usize)> = Vec::new();
        for word in words_of(&self.text[stretch.clone()]) {
            let (from, to) = (word.start + stretch.start, word.end + stretch.start);
            let at = self
                .sources
                .partition_point(|&(text, _, length)| text + length <= from);
            for &(text, source, length) in &self.sources[at..] {
                let first = from.max(text);
                let last = to.min(text + length);
                if text >= to {
                    break;
                }
                if first < last {
                    let range = (source + first - text, source + last - text);
                    match found.last_mut() {
                        Some(previous) if previous.1 == range.0 => previous.1 = range.1,
                        _ => found.push(range),
                    }
                }
            }
        }
        found
    }
}

/// The bytes of each word of a text: all that is neither space nor tab.
pub(super) fn words_of(text: &str) -> impl Iterator<Item = Range<usize>> + '_ {
    let bytes = text.as_bytes();
    let is_space = |b: u8| b == b' ' || b == b'\t';
    let mut at = 0;
    std::iter::from_fn(move || {
        while at < bytes.len() && is_space(bytes[at]) {
            at += 1;
        }
        let from = at;
        while at < bytes.len() && !is_space(bytes[at]) {
            at += 1;
        }
        (from < at).then_some(from..at)
    })
}
