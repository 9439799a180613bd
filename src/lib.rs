//! Versefold sets a poem or prose memoir onto the panels of a concertina book.

mod advice;
pub mod commands;
pub mod fault;
pub mod files;
pub mod layout;
pub mod lines;
pub mod manuscript;
pub mod outputs;
pub mod panels;
pub mod plan;
pub mod proofs;
pub mod readback;
pub mod strip;
pub mod typeface;
pub mod units;
pub mod workbench;
