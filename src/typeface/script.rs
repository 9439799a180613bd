//! Scripts and what is peculiar to them (UAX #24).

use unicode_script::{ScriptExtension, UnicodeScript};

/// A script by its four-letter ISO 15924 code, such as `Latn`.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub struct Script([u8; 4]);

impl Default for Script {
    fn default() -> Script {
        Script::LATIN
    }
}

impl Script {
    /// The Latin script.
    pub const LATIN: Script = Script(*b"Latn");

    /// The script of a character; nothing for what every script shares.
    pub fn of(c: char) -> Option<Script> {
        match c.script() {
            unicode_script::Script::Common
            | unicode_script::Script::Inherited
            | unicode_script::Script::Unknown => None,
            script => Script::named(script),
        }
    }

    /// The scripts that use a character: its own, or several that share it; none where every script may.
    pub fn all_of(c: char) -> Vec<Script> {
        let extensions = c.script_extension();
        match extensions.is_common() || extensions.is_inherited() {
            true => Vec::new(),
            false => extensions.iter().filter_map(Script::named).collect(),
        }
    }

    pub(super) fn named(script: unicode_script::Script) -> Option<Script> {
        script.short_name().as_bytes().try_into().ok().map(Script)
    }

    /// Its four-letter code.
    pub fn code(&self) -> &[u8; 4] {
        &self.0
    }

    /// Its English name, such as `Arabic`.
    pub fn name(&self) -> String {
        self.known().full_name().replace('_', " ")
    }

    /// Whether these extensions of a character name the script.
    pub(super) fn is_in(&self, extensions: ScriptExtension) -> bool {
        extensions.contains_script(self.known())
    }

    fn known(&self) -> unicode_script::Script {
        let code = str::from_utf8(&self.0).unwrap_or_default();
        unicode_script::Script::from_short_name(code).unwrap_or(unicode_script::Script::Unknown)
    }

    /// Whether its letters join (Joining_Type): a word is then of one face where one has
    /// it all, and is shaped in sight of what it joins.
    pub fn joins(&self) -> bool {
        matches!(
            &self.0,
            b"Arab"
                | b"Syrc"
                | b"Nkoo"
                | b"Mong"
                | b"Phag"
                | b"Mand"
                | b"Mani"
                | b"Phlp"
                | b"Rohg"
                | b"Sogd"
                | b"Chrs"
                | b"Adlm"
                | b"Ougr"
        )
    }

    /// A letter as tall as its capitals would be, of scripts that have none (common practice: initials are
    /// aligned by the tops of such letters).
    pub fn tall(&self) -> Option<char> {
        match &self.0 {
            b"Hebr" => Some('ה'),
            b"Arab" => Some('ا'),
            b"Deva" => Some('क'),
            b"Thai" => Some('ก'),
            _ => None,
        }
    }

    /// Whether space between its letters would tear them: letters that join, and those that hang from one
    /// line (the scripts of northern India).
    pub fn is_connected(&self) -> bool {
        self.joins()
            || matches!(
                &self.0,
                b"Deva"
                    | b"Beng"
                    | b"Guru"
                    | b"Newa"
                    | b"Sidd"
                    | b"Tirh"
                    | b"Modi"
                    | b"Nand"
                    | b"Dogr"
            )
    }
}

#[cfg(test)]
mod tests {
    use std::collections::HashSet;

    use icu_properties::CodePointMapData;
    use icu_properties::props::JoiningType;

    use super::*;

    /// Source: the Unicode Character Database, `ArabicShaping.txt`, as icu_properties has it.
    #[test]
    fn scripts_that_join_are_those_with_letters_that_join() {
        let joining = CodePointMapData::<JoiningType>::new();
        let sides = [
            JoiningType::DualJoining,
            JoiningType::LeftJoining,
            JoiningType::RightJoining,
        ];
        let all = || '\0'..=char::MAX;
        let joined = all().filter(|c| sides.contains(&joining.get(*c)));
        let joined: HashSet<Script> = joined.filter_map(Script::of).collect();
        let wrong: HashSet<Script> = all()
            .filter_map(Script::of)
            .filter(|script| script.joins() != joined.contains(script))
            .collect();
        assert_eq!(wrong, HashSet::new());
    }
}
