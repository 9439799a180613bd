//! Ways that are kept by name beside the chosen one.

use std::fmt;
use std::str::FromStr;

/// How long a name may be, in characters.
const LONGEST: usize = 40;

/// The name of a way that is kept beside the chosen one: letters, figures and hyphens.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub struct WayName(String);

impl WayName {
    /// The name of its file in a book's folder.
    pub fn file(&self) -> String {
        format!("breaks.{}.toml", self.0)
    }

    /// The name of the way that a file keeps; nothing for any other file.
    pub fn of_file(name: &str) -> Option<WayName> {
        let own = name.strip_prefix("breaks.")?.strip_suffix(".toml")?;
        // An old file that was moved aside ends in a number.
        let is_number = own.bytes().all(|b| b.is_ascii_digit());
        let is_aside = own.rsplit_once('.').is_some() || is_number;
        if is_aside { None } else { own.parse().ok() }
    }
}

impl fmt::Display for WayName {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(&self.0)
    }
}

impl FromStr for WayName {
    type Err = String;

    fn from_str(text: &str) -> Result<WayName, String> {
        let name = text.trim();
        let fits = |c: char| c.is_alphanumeric() || c == '-' || c == '_';
        let is_number = name.bytes().all(|b| b.is_ascii_digit());
        match (1..=LONGEST).contains(&name.chars().count()) && name.chars().all(fits) && !is_number
        {
            true => Ok(WayName(name.to_string())),
            false => Err(format!(
                "a way's name is a word of letters, figures and hyphens, such as lively or calm-one, {LONGEST} at most"
            )),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::WayName;

    #[test]
    fn names_are_words_and_files_say_whose_they_are() {
        for name in ["lively", "calm-one", "ruhig_2", "веселый"] {
            let way: WayName = name.parse().unwrap();
            assert_eq!(WayName::of_file(&way.file()), Some(way));
        }
        for name in [
            "",
            "a/b",
            "../x",
            "a.b",
            "two words",
            "3",
            "\u{7}",
            &"a".repeat(41),
        ] {
            assert!(name.parse::<WayName>().is_err(), "{name}");
        }
        for file in [
            "breaks.toml",
            "breaks.1.toml",
            "breaks.lively.1.toml",
            "breaks.lively.txt",
        ] {
            assert_eq!(WayName::of_file(file), None, "{file}");
        }
    }
}
