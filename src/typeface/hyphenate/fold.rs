//! A word as patterns know it: composed, in small letters, with the place of every cluster in the word.

use unicode_normalization::UnicodeNormalization;
use unicode_segmentation::UnicodeSegmentation;

/// A word, folded.
pub(super) struct FoldedWord {
    text: String,
    pub(super) clusters: Vec<WordCluster>,
}

/// A grapheme cluster of a word.
#[derive(Clone, Copy)]
pub(super) struct WordCluster {
    /// Where it begins in the word.
    pub(super) at: usize,
    /// Its bytes in the word.
    pub(super) length: usize,
    /// Where it begins in the folded text.
    pub(super) folded: usize,
    folded_length: usize,
    pub(super) kind: ClusterKind,
}

/// What a cluster is to the patterns.
#[derive(Clone, Copy, PartialEq, Eq)]
pub(super) enum ClusterKind {
    Letter,
    Apostrophe,
    Other,
}

/// Folds a word cluster by cluster, so that every border of the folded text has its place in the word,
/// whatever composing and small letters do to lengths.
pub(super) fn fold(word: &str, turkish: bool) -> FoldedWord {
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
        clusters.push(WordCluster {
            at,
            length: cluster.len(),
            folded,
            folded_length: text.len() - folded,
            kind: kind(first),
        });
    }
    FoldedWord { text, clusters }
}

fn kind(first: char) -> ClusterKind {
    match first {
        '\'' | '’' | 'ʼ' => ClusterKind::Apostrophe,
        letter if letter.is_alphabetic() => ClusterKind::Letter,
        _ => ClusterKind::Other,
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

impl FoldedWord {
    /// The runs of letters, with the apostrophes between letters.
    pub(super) fn cores(&self) -> impl Iterator<Item = &[WordCluster]> {
        let runs = self
            .clusters
            .split(|cluster| cluster.kind == ClusterKind::Other);
        runs.filter_map(|run| {
            let letter = |cluster: &WordCluster| cluster.kind == ClusterKind::Letter;
            let from = run.iter().position(letter)?;
            let to = run.iter().rposition(letter)?;
            run.get(from..=to)
        })
    }

    /// The folded text of a run of clusters. A sigma that ends it is written as one.
    pub(super) fn key(&self, run: &[WordCluster]) -> String {
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
