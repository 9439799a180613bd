//! A word as patterns know it: composed, in small letters, with the place of every cluster in the word.

use unicode_normalization::UnicodeNormalization;
use unicode_segmentation::UnicodeSegmentation;

/// A word, folded.
pub(super) struct Folded {
    text: String,
    pub(super) clusters: Vec<Cluster>,
}

/// A grapheme cluster of a word.
#[derive(Clone, Copy)]
pub(super) struct Cluster {
    /// Where it begins in the word.
    pub(super) at: usize,
    /// Its bytes in the word.
    pub(super) length: usize,
    /// Where it begins in the folded text.
    pub(super) folded: usize,
    folded_length: usize,
    pub(super) kind: Kind,
}

/// What a cluster is.
#[derive(Clone, Copy, PartialEq, Eq)]
pub(super) enum Kind {
    Letter,
    Apostrophe,
    Other,
}

/// Folds a word cluster by cluster, so that every border of the folded text has its place in the word,
/// whatever composing and small letters do to lengths.
pub(super) fn fold(word: &str, turkish: bool) -> Folded {
    let mut text = String::with_capacity(word.len());
    let mut clusters = Vec::with_capacity(word.len());
    for (at, cluster) in word.grapheme_indices(true) {
        let folded = text.len();
        let mut signs = cluster.chars();
        let first = signs.next().unwrap_or_default();
        if signs.next().is_none() && first.is_ascii() {
            push_small(&mut text, first, turkish);
        } else {
            cluster
                .nfc()
                .for_each(|c| push_small(&mut text, c, turkish));
        }
        clusters.push(Cluster {
            at,
            length: cluster.len(),
            folded,
            folded_length: text.len() - folded,
            kind: kind(first),
        });
    }
    Folded { text, clusters }
}

fn kind(first: char) -> Kind {
    match first {
        '\'' | '’' | 'ʼ' => Kind::Apostrophe,
        letter if letter.is_alphabetic() => Kind::Letter,
        _ => Kind::Other,
    }
}

/// Adds the small letter of a character. The patterns know one apostrophe, and no dot above a small i.
fn push_small(text: &mut String, c: char, turkish: bool) {
    match c {
        '’' | 'ʼ' => text.push('\''),
        'İ' => text.push('i'),
        'I' if turkish => text.push('ı'),
        _ => text.extend(c.to_lowercase()),
    }
}

impl Folded {
    /// The runs of letters, with the apostrophes between letters.
    pub(super) fn cores(&self) -> impl Iterator<Item = &[Cluster]> {
        let runs = self.clusters.split(|cluster| cluster.kind == Kind::Other);
        runs.filter_map(|run| {
            let letter = |cluster: &Cluster| cluster.kind == Kind::Letter;
            let from = run.iter().position(letter)?;
            let to = run.iter().rposition(letter)?;
            run.get(from..=to)
        })
    }

    /// The folded text of a run of clusters. A sigma that ends it is written as one.
    pub(super) fn key(&self, run: &[Cluster]) -> String {
        let (Some(first), Some(last)) = (run.first(), run.last()) else {
            return String::new();
        };
        let mut key = self.text[first.folded..last.folded + last.folded_length].to_string();
        if key.ends_with('σ') {
            key.pop();
            key.push('ς');
        }
        key
    }
}
