//! Pieces of the sentences that are said to people.

/// Things in a row: `a`, `a and b`, `a, b and c`; nothing of none.
pub fn and_list(items: &[impl AsRef<str>]) -> String {
    let items: Vec<&str> = items.iter().map(AsRef::as_ref).collect();
    match items.as_slice() {
        [] => String::new(),
        [one] => one.to_string(),
        [most @ .., last] => format!("{} and {last}", most.join(", ")),
    }
}

/// A text whose first letter is a capital, as at the beginning of a sentence.
pub fn capitalized(text: &str) -> String {
    let mut letters = text.chars();
    letters.next().map_or(String::new(), |first| {
        first.to_uppercase().chain(letters).collect()
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn lists_and_capitals() {
        let lists: [&[&str]; 4] = [&[], &["a"], &["a", "b"], &["a", "b", "c"]];
        let said = ["", "a", "a and b", "a, b and c"];
        assert_eq!(lists.map(and_list), said);
        assert_eq!(
            ["", "front 4", "ß", "Éa"].map(capitalized),
            ["", "Front 4", "SS", "Éa"]
        );
    }
}
