//! Pictures that are asked to stand so many spreads after their words: what two rules count alike.
//!
//! Of each that waits, words for their picture or a picture for its words, the spread is remembered on which the other
//! must come. One that can no longer be met there is paid for at once and forgotten, and so is one that waits behind
//! twelve others: that many wait only where a part runs to and fro over the strip.

use super::waits::{Wait, pinned, waits};
use super::{Memory, PanelView, PictureFacts, Placed, Problem};

/// Bits for the spread on which one that waits is to be met, counted from 1; nought for one that is paid for.
const BITS: u32 = 10;
/// How many are remembered.
const MOST: usize = (Memory::BITS / BITS) as usize;

/// How many spreads after its words a picture is asked to stand, if that is asked of it.
pub(super) type Asked = fn(&PictureFacts) -> Option<i64>;

/// Whether it is asked of any picture of the part, which can be met by its words.
pub(super) fn asked_of_any(problem: &Problem, asked: Asked) -> bool {
    problem.pictures.iter().any(|picture| {
        let placed = picture.queued || picture.panel.is_some();
        placed && of_words(picture, asked).is_some()
    })
}

/// How many pictures are sure to stand on another spread than is asked, as far as it shows on this panel; and what is
/// remembered of those that wait.
pub(super) fn spreads_amiss(
    memory: Memory,
    reading: &PanelView<'_>,
    asked: Asked,
) -> (u64, Memory) {
    let mut amiss = pinned_amiss(reading, asked);
    let mut next = 0;
    let mut waiting = 0;
    for wait in waits(reading) {
        let awaited = match wait.since {
            Some(number) => remembered(memory, number),
            None => awaited(&wait, reading, asked),
        };
        let here = reading.problem.panels[reading.panel].spread as i64;
        if wait.meets {
            amiss += u64::from(awaited.is_some_and(|spread| spread != here));
            continue;
        }
        match awaited {
            Some(spread) if may_meet(spread, &wait, waiting, reading) => {
                next |= (spread as Memory + 1) << (BITS * waiting as u32);
            }
            Some(_) => amiss += 1,
            None => {}
        }
        waiting += 1;
    }
    (amiss, next)
}

/// What is asked of a picture that has words in the part.
fn of_words(picture: &PictureFacts, asked: Asked) -> Option<i64> {
    picture.word_row?;
    asked(picture)
}

/// How many pictures stand on another spread than is asked that are pinned to a panel of the part and whose words
/// stand here.
fn pinned_amiss(reading: &PanelView<'_>, asked: Asked) -> u64 {
    let panels = &reading.problem.panels;
    let spread = |panel: usize| panels[panel].spread as i64;
    let amiss = pinned(reading).filter(|&(picture, panel)| {
        let more = of_words(picture, asked);
        more.is_some_and(|more| spread(panel) - spread(reading.panel) != more)
    });
    amiss.count() as u64
}

/// The spread on which the one that comes later is to be met; one before the first is none that there is.
fn awaited(wait: &Wait<'_>, reading: &PanelView<'_>, asked: Asked) -> Option<i64> {
    let here = reading.problem.panels[reading.panel].spread as i64;
    let more = of_words(wait.picture, asked)?;
    Some(match wait.picture_first {
        true => here - more,
        false => here + more,
    })
}

/// Whether one that waits behind so many others can still be met on a spread. A panel has the words of many
/// pictures, but only one picture; and where pictures keep their order, those of earlier words come first.
fn may_meet(spread: i64, wait: &Wait<'_>, others: usize, reading: &PanelView<'_>) -> bool {
    let first = match reading.placed {
        Placed::First(_) if !wait.picture_first => others,
        _ => 0,
    };
    let soonest = reading.panel + 1 + first;
    let mut panels = reading.problem.panels.iter().skip(soonest);
    others < MOST && panels.any(|panel| panel.spread as i64 == spread)
}

/// The spread on which the one of that number among those that wait is to be met; nothing for one that is paid for.
fn remembered(memory: Memory, number: usize) -> Option<i64> {
    let kept = memory.checked_shr(BITS * number as u32).unwrap_or(0);
    let spread = (kept & ((1 << BITS) - 1)) as i64;
    (spread > 0).then_some(spread - 1)
}
