//! What a client might correct.

use proptest::prelude::*;
use proptest::sample::Index;

use super::book::{Book, Line, LineId, MARKS, WORDS};

#[derive(Clone, Debug)]
pub enum Edit {
    ChangeWord {
        line: Index,
        word: Index,
        to: &'static str,
    },
    ChangeLine {
        line: Index,
        words: Vec<&'static str>,
    },
    AddLine {
        after: Index,
        words: Vec<&'static str>,
    },
    CutLine {
        line: Index,
    },
    CutStanza {
        stanza: Index,
    },
    AddStanza {
        before: Index,
        lines: Vec<Vec<&'static str>>,
    },
    MoveStanza {
        stanza: Index,
        to: Index,
    },
    SwapLines {
        line: Index,
    },
    MoveCallout {
        picture: Index,
        to: Index,
    },
}

fn words() -> impl Strategy<Value = Vec<&'static str>> {
    let words = prop::collection::vec(prop::sample::select(&WORDS[..]), 1..9);
    (words, prop::sample::select(&MARKS[..])).prop_map(|(mut words, mark)| {
        words.push(mark);
        words
    })
}

pub fn edit() -> impl Strategy<Value = Edit> {
    let at = || any::<Index>();
    let word = prop::sample::select(&["ice", "bend", "unforgettable", "so", "grit"][..]);
    prop_oneof![
        4 => (at(), at(), word).prop_map(|(line, word, to)| Edit::ChangeWord { line, word, to }),
        1 => (at(), words()).prop_map(|(line, words)| Edit::ChangeLine { line, words }),
        2 => (at(), words()).prop_map(|(after, words)| Edit::AddLine { after, words }),
        2 => at().prop_map(|line| Edit::CutLine { line }),
        1 => at().prop_map(|stanza| Edit::CutStanza { stanza }),
        1 => (at(), prop::collection::vec(words(), 1..5))
            .prop_map(|(before, lines)| Edit::AddStanza { before, lines }),
        1 => (at(), at()).prop_map(|(stanza, to)| Edit::MoveStanza { stanza, to }),
        1 => at().prop_map(|line| Edit::SwapLines { line }),
        1 => (at(), at()).prop_map(|(picture, to)| Edit::MoveCallout { picture, to }),
    ]
}

impl Edit {
    /// Makes the edit. Gives the lines whose own words it touches, and those that stand beside what is added, cut or
    /// moved.
    #[expect(clippy::too_many_lines, reason = "one arm for each kind of edit")]
    pub fn make(&self, book: &mut Book) -> Vec<LineId> {
        match self {
            Edit::ChangeWord { line, word, to } => {
                let line = line_of(book, line);
                let at = word.index(line.words.len());
                if line.words[at] == *to {
                    return Vec::new();
                }
                line.words[at] = to;
                vec![line.id]
            }
            Edit::ChangeLine { line, words } => {
                let line = line_of(book, line);
                line.words.clone_from(words);
                vec![line.id]
            }
            Edit::AddLine { after, words } => {
                let (stanza, at) = place_of(book, after);
                let id = book.name();
                let lines = &mut book.stanzas[stanza];
                lines.insert(
                    at + 1,
                    Line {
                        id,
                        words: words.clone(),
                    },
                );
                let mut touched = vec![lines[at].id];
                touched.extend(lines.get(at + 2).map(|line| line.id));
                // Beside the last line of a stanza stands the next stanza's first.
                if at + 2 == lines.len() {
                    touched.extend(book.stanzas.get(stanza + 1).map(|next| next[0].id));
                }
                touched
            }
            Edit::CutLine { line } => {
                let (stanza, at) = place_of(book, line);
                if book.stanzas[stanza].len() == 1 {
                    return Vec::new();
                }
                vec![book.stanzas[stanza].remove(at).id]
            }
            Edit::CutStanza { stanza } => {
                if book.stanzas.len() < 3 {
                    return Vec::new();
                }
                let at = stanza.index(book.stanzas.len());
                let gone = book.stanzas.remove(at);
                for picture in &mut book.pictures {
                    *picture -= usize::from(*picture >= at && *picture > 0);
                }
                gone.iter().map(|line| line.id).collect()
            }
            Edit::AddStanza { before, lines } => {
                let at = before.index(book.stanzas.len() + 1);
                let lines = lines
                    .iter()
                    .map(|words| Line {
                        id: book.name(),
                        words: words.clone(),
                    })
                    .collect();
                add_stanza(book, at, lines)
            }
            Edit::MoveStanza { stanza, to } => {
                if book.stanzas.len() < 3 {
                    return Vec::new();
                }
                let lines = book.stanzas.remove(stanza.index(book.stanzas.len()));
                let to = to.index(book.stanzas.len() + 1);
                let mut touched: Vec<LineId> = lines.iter().map(|line| line.id).collect();
                let last = book.stanzas.len() - 1;
                book.pictures
                    .iter_mut()
                    .for_each(|picture| *picture = (*picture).min(last));
                touched.extend(add_stanza(book, to, lines));
                // The same words may be taken to have gone the other way: what stood between moved past them.
                book.stanzas
                    .iter()
                    .flatten()
                    .map(|line| line.id)
                    .chain(touched)
                    .collect()
            }
            Edit::SwapLines { line } => {
                let (stanza, at) = place_of(book, line);
                let lines = &mut book.stanzas[stanza];
                if at + 1 == lines.len() {
                    return Vec::new();
                }
                lines.swap(at, at + 1);
                vec![lines[at].id, lines[at + 1].id]
            }
            Edit::MoveCallout { picture, to } => {
                if !book.pictures.is_empty() {
                    let at = picture.index(book.pictures.len());
                    book.pictures[at] = to.index(book.stanzas.len());
                }
                Vec::new()
            }
        }
    }
}

fn place_of(book: &Book, line: &Index) -> (usize, usize) {
    let places = book.stanzas.iter().enumerate();
    let places: Vec<(usize, usize)> = places
        .flat_map(|(stanza, lines)| (0..lines.len()).map(move |at| (stanza, at)))
        .collect();
    places[line.index(places.len())]
}

fn line_of<'a>(book: &'a mut Book, line: &Index) -> &'a mut Line {
    let (stanza, at) = place_of(book, line);
    &mut book.stanzas[stanza][at]
}

/// Adds a stanza; gives the lines beside it.
fn add_stanza(book: &mut Book, at: usize, lines: Vec<Line>) -> Vec<LineId> {
    book.stanzas.insert(at, lines);
    for picture in &mut book.pictures {
        *picture += usize::from(*picture >= at);
    }
    let above = at.checked_sub(1).and_then(|at| book.stanzas[at].last());
    let below = book.stanzas.get(at + 1).and_then(|stanza| stanza.first());
    above.into_iter().chain(below).map(|line| line.id).collect()
}
