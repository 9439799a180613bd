//! Numbers of changes as people write them: `3, 7-9`.

use std::collections::BTreeSet;

/// More changes than this has no text that can be set.
const MOST: usize = 1_000_000;

/// The numbers that a text names.
///
/// # Errors
/// What is wrong with it, in words.
pub(in crate::cli) fn numbers(text: &str) -> Result<BTreeSet<usize>, String> {
    let mut found = BTreeSet::new();
    let parts = text.split([',', ' ', ';']).map(str::trim);
    for part in parts.filter(|part| !part.is_empty()) {
        let (from, to) = part.split_once(['-', '–']).unwrap_or((part, part));
        let number = |text: &str| text.trim().parse().ok().filter(|n| (1..=MOST).contains(n));
        let (Some(from), Some(to)) = (number(from), number(to)) else {
            return Err(format!(
                "`{part}` is no number of a change; write them as 3, 7-9"
            ));
        };
        if to < from {
            return Err(format!("`{part}` runs backwards; write {to}-{from}"));
        }
        found.extend(from..=to);
    }
    match found.is_empty() {
        true => Err("a number is needed, such as 3, 7-9".to_string()),
        false => Ok(found),
    }
}

#[cfg(test)]
mod tests {
    use super::numbers;

    #[test]
    fn numbers_are_read_as_people_write_them() {
        let read = |text: &str| numbers(text).map(|found| found.into_iter().collect::<Vec<_>>());
        assert_eq!(read("3, 7-9"), Ok(vec![3, 7, 8, 9]));
        assert_eq!(read("9;1 2–3"), Ok(vec![1, 2, 3, 9]));
        for wrong in ["", "x", "0", "9-7", "-3", "1-99999999999"] {
            assert!(read(wrong).is_err(), "{wrong}");
        }
    }
}
