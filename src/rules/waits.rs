//! Pictures that wait for their words, and words that wait for their pictures.
//!
//! Which they are follows from which pictures stand on earlier panels and from where the panel's words begin; a rule
//! need remember only since when each has waited. Where pictures keep the order of their words, either some words wait
//! or some pictures, never both, and whoever has waited longest is met first.

use super::{PanelView, PictureFacts, Placed};

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

/// All of them, in the order of the queue. Only those are looked at that could wait, for a long book has many others.
pub(super) fn waits<'a>(reading: &PanelView<'a>) -> impl Iterator<Item = Wait<'a>> + use<'a> {
    let begins = reading.picture.filter(|_| reading.begins_picture);
    let (from, to) = (reading.from, reading.to);
    let before = reading.placed;
    let queue = reading.queue;
    let pictures = &reading.problem.pictures;
    let now = match (begins.filter(|picture| pictures[*picture].queued), before) {
        (None, _) => before,
        (Some(_), Placed::First(count)) => Placed::First(count + 1),
        (Some(picture), _) => before.with(queue.iter().position(|at| *at == picture).unwrap_or(0)),
    };
    let called = move |number: usize, end: usize| {
        let words = pictures[queue[number]].word_row;
        words.is_some_and(|row| row < end)
    };
    let near = match (before, now) {
        (Placed::First(before), Placed::First(now)) => {
            // Those before have met on earlier panels; those behind are called later, and stand later.
            let mut first = before.min(queue.len());
            while first > 0 && !called(first - 1, from) {
                first -= 1;
            }
            let mut end = now.min(queue.len());
            while end < queue.len() && called(end, to) {
                end += 1;
            }
            first..end.max(first)
        }
        _ => 0..queue.len(),
    };
    let mut waited = 0;
    near.filter_map(move |number| {
        let picture = &pictures[queue[number]];
        let called = |end: usize| called(number, end);
        let earlier = (called(from), before.has(number));
        let by_now = (called(to), now.has(number));
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
