//! What a manuscript says to its client, found here by the tiles that reading gives: words line by line.

use versefold::names::SetAs;
use versefold::text::{Manuscript, TileKind};

use super::source;

/// Stanzas or paragraphs, each a list of lines; and the callouts with the lines that they stand between.
#[derive(Debug, Default)]
pub struct Seen {
    pub blocks: Vec<Vec<String>>,
    /// A callout, and how many words stand before it.
    pub callouts: Vec<(String, usize)>,
    /// All words, as white space parts them.
    pub words: Vec<String>,
}

impl Seen {
    /// Whether a callout stands right between these words.
    pub fn stands(&self, callout: &str, before: &str, behind: &str) -> bool {
        let split = |words: &str| {
            words
                .split_whitespace()
                .map(String::from)
                .collect::<Vec<_>>()
        };
        let (before, behind) = (split(before), split(behind));
        self.callouts.iter().any(|(own, at)| {
            let (above, below) = self.words.split_at(*at);
            own == callout && above.ends_with(&before) && below.starts_with(&behind)
        })
    }
}

pub fn seen(text: &str, set_as: SetAs) -> Result<Seen, String> {
    let read = Manuscript::read_as(&source("m.txt", text), set_as, |_| false);
    let read = read.map_err(|faults| format!("{}: {text:?}", faults[0].what))?;
    let mut kinds = vec![TileKind::Markup; text.len()];
    for tile in read.tiles() {
        kinds[tile.range()].fill(tile.kind);
    }
    let mut found = Seen::default();
    let (mut from, mut blank) = (0, true);
    let ends = text.match_indices('\n').map(|(at, _)| at);
    for end in ends.chain([text.len()]) {
        let line = &text[from..end];
        let own = |kind: TileKind| (from..end).any(|at| kinds[at] == kind);
        if own(TileKind::Callout) {
            let callout = line.trim().trim_start_matches('\u{feff}').to_string();
            found.callouts.push((callout, found.words.len()));
        } else if own(TileKind::Word) {
            let shown = |(at, _): &(usize, char)| {
                matches!(kinds[from + at], TileKind::Word | TileKind::Space)
            };
            let words: String = line.char_indices().filter(shown).map(|(_, c)| c).collect();
            let words = words.trim_matches([' ', '\t']).to_string();
            found
                .words
                .extend(words.split_whitespace().map(String::from));
            match found.blocks.last_mut() {
                Some(block) if !blank => block.push(words),
                _ => found.blocks.push(vec![words]),
            }
            blank = false;
        } else {
            blank = true;
        }
        from = end + 1;
    }
    Ok(found)
}

/// The words of each block, however its lines are broken.
pub fn folded(blocks: &[Vec<String>]) -> Vec<String> {
    let words = |block: &Vec<String>| {
        let words: Vec<&str> = block
            .iter()
            .flat_map(|line| line.split_whitespace())
            .collect();
        words.join(" ")
    };
    blocks.iter().map(words).collect()
}

/// What is seen of a client's plain text.
pub fn plain(text: &str) -> Vec<Vec<String>> {
    let mut blocks: Vec<Vec<String>> = Vec::new();
    let mut blank = true;
    for line in text.trim_start_matches('\u{feff}').lines() {
        let line = line.trim_matches([' ', '\t']);
        match (line.is_empty(), blocks.last_mut()) {
            (true, _) => {}
            (false, Some(block)) if !blank => block.push(line.to_string()),
            _ => blocks.push(vec![line.to_string()]),
        }
        blank = line.is_empty();
    }
    blocks
}
