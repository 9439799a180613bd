//! Damaged plans: whatever the text, reading ends, faults point into it, and the schema is never
//! stricter than the reader.

use super::refusals::refusals;
use super::schema::as_json;
use super::{PLAN, read};
use crate::book::plan_file::schema::schema;

/// A small generator of numbers below a bound (xorshift), the same on every run.
struct Numbers(u64);

impl Numbers {
    fn below(&mut self, bound: usize) -> usize {
        self.0 ^= self.0 << 13;
        self.0 ^= self.0 >> 7;
        self.0 ^= self.0 << 17;
        (self.0 % bound.max(1) as u64) as usize
    }
}

/// Deletes, doubles or replaces a few random bytes.
fn damaged(text: &str, numbers: &mut Numbers) -> String {
    let mut bytes = text.as_bytes().to_vec();
    for _ in 0..=numbers.below(3) {
        let at = numbers.below(bytes.len());
        let most = 1 + numbers.below(40);
        let length = numbers.below(most).min(bytes.len() - at);
        let piece = bytes[at..at + length].to_vec();
        match numbers.below(3) {
            0 => drop(bytes.drain(at..at + length)),
            1 => drop(bytes.splice(at..at, piece)),
            _ => bytes[at] = b"\"[]{}=,.#-\n 09a\\\xc3\xff"[numbers.below(18)],
        }
    }
    String::from_utf8_lossy(&bytes).into_owned()
}

#[test]
fn damaged_plans_are_told_and_never_panic() {
    let mut numbers = Numbers(0x0057_1e55_b05e);
    let schema = schema();
    let mut sound = 0;
    for _ in 0..3000 {
        let text = damaged(PLAN, &mut numbers);
        match read(&text) {
            Ok(_) => {
                sound += 1;
                assert_eq!(refusals(&schema, &as_json(&text)), [""; 0], "{text}");
            }
            Err(faults) => {
                assert!(!faults.is_empty());
                for fault in faults {
                    let place = fault.place.into_iter();
                    for place in place.chain(fault.also.into_iter().map(|(place, _)| place)) {
                        assert!(text.get(place.span.clone()).is_some(), "{text}");
                        assert!(place.line() >= 1 && place.column() >= 1);
                    }
                }
            }
        }
    }
    assert!(sound > 30, "only {sound} damaged plans were sound");
}
