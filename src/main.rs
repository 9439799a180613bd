//! Placeholder until the commands stand.
fn main() {}
