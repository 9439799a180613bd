//! Pictures that wait for their words, and words that wait for their pictures.
//!
//! Callouts and the pictures of the queue come in one order. So at any panel either some words wait for their
//! pictures or some pictures for their words, never both, and whoever has waited longest is met first. Which they
//! are follows from how many pictures stand on earlier panels and from where the panel's words begin; a rule need
//! remember only since when each has waited.

use super::{PanelView, PictureFacts};

/// A picture of the queue that a panel or an earlier one has, or has the words of, the two not yet together
/// before.
#[derive(Clone, Copy)]
pub(super) struct Wait<'a> {
    /// The picture.
    pub picture: &'a PictureFacts,
    /// Its number among those that waited before this panel; nothing for what comes here first.
    pub since: Option<usize>,
    /// Whether the picture is, or was, waiting for its words; otherwise they for it.
    pub picture_first: bool,
    /// Whether picture and words have met here; otherwise they wait on.
    pub meets: bool,
}

/// All of them, those that have waited longest first. Only those are looked at that could wait, for a long book has many
/// others.
pub(super) fn waits<'a>(reading: &PanelView<'a>) -> impl Iterator<Item = Wait<'a>> + use<'a> {
    let begins = reading.picture.filter(|_| reading.begins_picture);
    let stands = begins.is_some_and(|picture| reading.problem.pictures[picture].queued);
    let (from, to) = (reading.from, reading.to);
    let before = reading.placed;
    let now = before + usize::from(stands);
    let queue = reading.queue;
    let pictures = &reading.problem.pictures;
    let called = move |number: usize, end: usize| {
        let words = pictures[queue[number]].word_row;
        words.is_some_and(|row| row < end)
    };
    // Those before have met on earlier panels; those behind are called later, and stand later.
    let mut first = before.min(queue.len());
    while first > 0 && !called(first - 1, from) {
        first -= 1;
    }
    let mut waited = 0;
    let near = (first..queue.len()).take_while(move |&number| number < now || called(number, to));
    near.filter_map(move |number| {
        let picture = &pictures[queue[number]];
        let called = |end: usize| called(number, end);
        let earlier = (called(from), number < before);
        let by_now = (called(to), number < now);
        let waits = earlier.0 != earlier.1;
        let since = waits.then_some(waited);
        waited += usize::from(waits);
        let meets = by_now == (true, true);
        if earlier == (true, true) || by_now == (false, false) {
            return None;
        }
        Some(Wait {
            picture,
            since,
            picture_first: if waits { earlier.1 } else { by_now.1 },
            meets,
        })
    })
}

/// The pictures that are pinned to a panel of the part, each with that panel, and whose words stand here.
pub(super) fn pinned<'a>(
    reading: &PanelView<'a>,
) -> impl Iterator<Item = (&'a PictureFacts, usize)> + use<'a> {
    let rows = reading.from..reading.to;
    let pictures = reading.problem.pictures.iter();
    let called = pictures.filter(move |picture| {
        let row = picture.word_row;
        !picture.queued && row.is_some_and(|row| rows.contains(&row))
    });
    called.filter_map(|picture| Some((picture, picture.panel?)))
}
