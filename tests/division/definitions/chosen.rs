//! What the author chose for panels.

use versefold::names::Role;

use super::{Book, Breach};

/// A panel that none of whose words were corrected stays as it was chosen, at a million; and each end, and each role
/// with its picture, at a hundred thousand; and a trifle for whatever is not as chosen. For a picture that had no name, any
/// may stand.
pub(super) fn chosen_breaks(book: Book<'_>) -> Breach {
    let mut found = Breach::default();
    for (facts, carried) in book.problem.panels.iter().zip(book.panels) {
        let Some(chosen) = &facts.chosen else {
            continue;
        };
        let (from, to) = (carried.rows.start, carried.rows.end);
        let within = |(first, last): (usize, usize), at: usize| first <= at && at <= last;
        let (begins, ends) = match chosen.words {
            None => (true, from == to),
            Some(words) => (
                within(words.begins, from),
                from < to && within(words.ends, to),
            ),
        };
        let carries = chosen.role == carried.role
            && match (chosen.role, chosen.picture) {
                (Role::Picture, None) => true,
                (_, picture) => picture == carried.picture,
            };
        let mut cost = 1;
        if !chosen.touched {
            cost += 1_000_000;
        }
        if !ends {
            cost += 100_000;
        }
        if !carries {
            cost += 100_000;
        }
        found.add(!(begins && ends && carries), cost);
    }
    found
}
