//! Where the words of a paragraph may be broken: UAX #14, Unicode 15.0.

use unicode_linebreak::BreakOpportunity;

/// A place where a line may end.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Opportunity {
    /// Where the line's words end.
    pub end: usize,
    /// Where the next line's words begin.
    pub next: usize,
    /// What is parted.
    pub kind: BreakKind,
}

/// What a break parts.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum BreakKind {
    /// Words with spaces between them.
    Space,
    /// A word, behind a sign of its own.
    Within,
    /// Words that no space parts.
    Between,
}

/// Where a text may be broken, in order.
pub fn opportunities(text: &str, _language: &str) -> Vec<Opportunity> {
    let allowed = |&(at, kind): &(usize, BreakOpportunity)| {
        kind == BreakOpportunity::Allowed && at < text.len()
    };
    let found = unicode_linebreak::linebreaks(text).filter(allowed);
    let found = found.map(|(next, _)| {
        let before = text[..next].trim_end_matches([' ', '\t']);
        let kind = match before.chars().next_back() {
            _ if before.len() < next => BreakKind::Space,
            Some('-' | '‐' | '/') => BreakKind::Within,
            _ => BreakKind::Between,
        };
        Opportunity {
            end: before.len(),
            next,
            kind,
        }
    });
    found.filter(|at| at.end > 0).collect()
}
