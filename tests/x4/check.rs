//! The rules, files that break them, and a profile to make sound ones with.

pub mod broken;
pub mod profile;
pub mod rules;
