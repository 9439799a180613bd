//! How many cases of a property test really ran.

use std::sync::atomic::{AtomicUsize, Ordering};

/// From so many cases on the share is looked at.
const ENOUGH: usize = 40;

/// Counts the cases of one property test, so that a test which passes nearly all of them over fails and proves nothing
/// in silence.
pub struct Share {
    ran: AtomicUsize,
    passed_over: AtomicUsize,
}

impl Share {
    pub const fn new() -> Share {
        Share {
            ran: AtomicUsize::new(0),
            passed_over: AtomicUsize::new(0),
        }
    }

    /// Counts a case that has something to look at.
    pub fn ran(&self) {
        self.ran.fetch_add(1, Ordering::Relaxed);
    }

    /// Counts a case that has nothing to look at. At least so many of a hundred cases must have.
    pub fn passed_over(&self, least: usize) {
        let over = 1 + self.passed_over.fetch_add(1, Ordering::Relaxed);
        let ran = self.ran.load(Ordering::Relaxed);
        let all = ran + over;
        assert!(
            all < ENOUGH || ran * 100 >= all * least,
            "only {ran} of {all} cases ran, and {least} of 100 must"
        );
    }
}
