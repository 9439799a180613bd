//! Tests of reading `concertina.toml` as a whole.

mod messages;
mod mutations;
mod reading;
#[path = "../../../../tests/support/refusals.rs"]
mod refusals;
mod schema;

use super::{Plan, check};
use crate::names::{Faults, Source};

/// A plan with every key.
const PLAN: &str = include_str!("winter-bus.toml");

/// A plan with only what must be there.
const SHORT: &str = "\
title = \"The Winter Bus\"
language = \"en-GB\"
manuscript = \"winter-bus.txt\"

[paper]
panel-width = \"105 mm\"
panel-height = \"148 mm\"
panels-per-side = 8
";

fn read(text: &str) -> Result<Plan, Faults> {
    check::read(&Source::new("concertina.toml", text))
}
