//! Versefold sets a poem or prose memoir onto the panels of a concertina book.

pub mod fault;
pub mod files;
pub mod lines;
pub mod manuscript;
pub mod panels;
pub mod plan;
pub mod readback;
pub mod strip;
pub mod typeface;
pub mod units;
