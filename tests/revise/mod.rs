//! `revise`: the client's corrected text in the manuscript, with the callouts and the mark-up that it had.

mod calls;
mod chosen;
mod random;
mod seen;
mod small;
mod texts;

use std::sync::Arc;

use versefold::names::{Faults, SetAs, Source};
use versefold::text::revise::{Choice, ReadAs, Revision, revise};

fn source(name: &str, text: &str) -> Arc<Source> {
    Source::new(name, text)
}

/// Revises a manuscript without readings.
fn revised(manuscript: &str, set_as: SetAs, client: &str) -> Result<Revision, Faults> {
    revised_by(manuscript, set_as, client, &Choice::All)
}

/// Takes in some of the client's changes to a manuscript without readings.
fn revised_by(
    manuscript: &str,
    set_as: SetAs,
    client: &str,
    choice: &Choice,
) -> Result<Revision, Faults> {
    let read_as = ReadAs {
        set_as,
        has_readings: &|_| false,
    };
    revise(
        &source("winter-bus.txt", manuscript),
        read_as,
        &source("client.txt", client),
        choice,
    )
}
