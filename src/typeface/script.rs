//! Scripts and what is peculiar to them (UAX #24).

use icu_properties::props::Script as Name;
use icu_properties::script::{ScriptExtensionsSet, ScriptWithExtensions};
use icu_properties::{PropertyNamesLong, PropertyNamesShort};

/// A script of letters.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub struct Script(Name);

impl Default for Script {
    fn default() -> Script {
        Script::LATIN
    }
}

impl Script {
    /// The Latin script.
    pub const LATIN: Script = Script(Name::Latin);

    /// The script of a character; nothing for what every script shares.
    pub fn of(c: char) -> Option<Script> {
        Script::own(ScriptWithExtensions::new().get_script_val(c))
    }

    /// The scripts that use a character: its own, or several that share it; none where every script may.
    pub fn all_of(c: char) -> Vec<Script> {
        SharedBy::of(c).scripts().collect()
    }

    /// A script, unless it is what every script shares.
    fn own(script: Name) -> Option<Script> {
        match script {
            Name::Common | Name::Inherited | Name::Unknown => None,
            script => Some(Script(script)),
        }
    }

    /// Its four-letter ISO 15924 code, such as `Latn`.
    pub fn code(&self) -> [u8; 4] {
        let code = PropertyNamesShort::new().get(self.0);
        let code = code.and_then(|code| code.as_bytes().try_into().ok());
        code.unwrap_or(*b"Zzzz")
    }

    /// Its English name, such as `Arabic`.
    pub fn name(&self) -> String {
        let name = PropertyNamesLong::new().get(self.0);
        name.unwrap_or("unknown").replace('_', " ")
    }

    /// Whether its letters join (Joining_Type): a word is then of one face where one has
    /// it all, and is shaped in sight of what it joins.
    pub fn joins(&self) -> bool {
        matches!(
            self.0,
            Name::Arabic
                | Name::Syriac
                | Name::Nko
                | Name::Mongolian
                | Name::PhagsPa
                | Name::Mandaic
                | Name::Manichaean
                | Name::PsalterPahlavi
                | Name::HanifiRohingya
                | Name::Sogdian
                | Name::Chorasmian
                | Name::Adlam
                | Name::OldUyghur
        )
    }

    /// A letter as tall as its capitals would be, of scripts that have none (common practice: initials are
    /// aligned by the tops of such letters).
    pub fn tall(&self) -> Option<char> {
        match self.0 {
            Name::Hebrew => Some('ה'),
            Name::Arabic => Some('ا'),
            Name::Devanagari => Some('क'),
            Name::Thai => Some('ก'),
            _ => None,
        }
    }

    /// Whether space between its letters would tear them: letters that join, and those that hang from one
    /// line (the scripts of northern India).
    pub fn is_connected(&self) -> bool {
        self.joins()
            || matches!(
                self.0,
                Name::Devanagari
                    | Name::Bengali
                    | Name::Gurmukhi
                    | Name::Newa
                    | Name::Siddham
                    | Name::Tirhuta
                    | Name::Modi
                    | Name::Nandinagari
                    | Name::Dogra
            )
    }
}

/// The scripts that share a character (Script_Extensions).
#[derive(Clone, Copy)]
pub(super) struct SharedBy(ScriptExtensionsSet<'static>);

impl SharedBy {
    /// The scripts that share a character, or the one that has it.
    pub(super) fn of(c: char) -> SharedBy {
        SharedBy(ScriptWithExtensions::new().get_script_extensions_val(c))
    }

    /// Those scripts; none where any script may use the character.
    pub(super) fn scripts(self) -> impl Iterator<Item = Script> {
        self.0.iter().filter_map(Script::own)
    }

    /// Whether any script may use the character.
    pub(super) fn is_everyone(self) -> bool {
        self.scripts().next().is_none()
    }

    /// Whether a script is one of them.
    pub(super) fn has(self, script: Script) -> bool {
        self.0.contains(&script.0)
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
