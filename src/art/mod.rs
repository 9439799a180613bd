//! Art: what an author's picture file is. Headers are read first, so that nothing of an absurd size is taken in.

mod mask;

pub use mask::{MOST_PIXELS, Mask};
