//! Cutting a line into words so small that a panel may end behind each.

use std::ops::Range;

use unicode_segmentation::UnicodeSegmentation;

use crate::text::paragraph::is_of_unspaced_script;

/// The words of a text, in bytes: what white space parts, and within that what hyphens and dashes part; in scripts
/// that are written without spaces each cluster.
pub fn pieces(text: &str) -> Vec<Range<usize>> {
    let mut found: Vec<Range<usize>> = Vec::new();
    let mut open: Option<usize> = None;
    for (at, cluster) in text.grapheme_indices(true) {
        let end = at + cluster.len();
        let first = cluster.chars().next().unwrap_or(' ');
        if first.is_whitespace() {
            found.extend(open.take().map(|from| from..at));
        } else if is_of_unspaced_script(first) {
            found.extend(open.take().map(|from| from..at));
            found.push(at..end);
        } else if matches!(first, '-' | '\u{2010}' | '\u{2013}' | '\u{2014}' | '/') {
            found.push(open.take().unwrap_or(at)..end);
        } else if open.is_none() {
            open = Some(at);
        }
    }
    found.extend(open.map(|from| from..text.len()));
    found
}
