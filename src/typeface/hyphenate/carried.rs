//! The patterns that the program carries: those that it uses and no others, each language's deflated by itself.
//!
//! They are the crate's own, in its own compiled form. The crate would carry all languages or one: patterns whose
//! licences nothing here passes on would go out with every built program.

use std::io::Read as _;

use flate2::read::ZlibDecoder;
use hyphenation::{Load as _, Standard};

use super::tags;

/// First, for each language in the order of [`tags::languages`], where its patterns begin and where they end, as bytes
/// behind this table (32 bits each, the lowest byte first); then the patterns.
const CARRIED: &[u8] = include_bytes!("patterns.bin");

/// What the table has of a language, in bytes.
const ENTRY: usize = 8;

/// The patterns of a code of [`tags::languages`]; nothing where there are none.
pub(super) fn patterns(code: &str) -> Option<Standard> {
    let at = tags::languages().position(|known| known == code)?;
    let (table, patterns) = CARRIED.split_at_checked(tags::languages().count() * ENTRY)?;
    let place = |from: usize| {
        let four = table.get(from..from + 4)?.try_into().ok()?;
        Some(u32::from_le_bytes(four) as usize)
    };
    let deflated = patterns.get(place(at * ENTRY)?..place(at * ENTRY + 4)?)?;
    let mut compiled = Vec::new();
    ZlibDecoder::new(deflated).read_to_end(&mut compiled).ok()?;
    Standard::any_from_reader(&mut compiled.as_slice()).ok()
}

#[cfg(test)]
mod tests {
    use std::io::Write as _;
    use std::path::Path;

    use flate2::Compression;
    use flate2::write::ZlibEncoder;
    use hyphenation::Language;

    use super::*;

    /// The crate's own patterns of a language.
    fn of_the_crate(code: &str) -> Standard {
        let language = Language::try_from_code(code).expect("a language of the crate");
        Standard::from_embedded(language).expect("patterns of the crate")
    }

    /// All that patterns are, in whatever order their exceptions lie.
    fn content(patterns: &Standard) -> serde_json::Value {
        serde_json::to_value(patterns).expect("plain data")
    }

    /// The file as it should be made from the crate's patterns; the same patterns stand in it once.
    fn made() -> Vec<u8> {
        let (mut table, mut patterns) = (Vec::new(), Vec::new());
        let mut known: Vec<(Vec<u8>, [u32; 2])> = Vec::new();
        for code in tags::languages() {
            let compiled = bincode::serialize(&of_the_crate(code)).unwrap();
            let place = match known.iter().find(|(other, _)| *other == compiled) {
                Some((_, place)) => *place,
                None => {
                    let begin = patterns.len() as u32;
                    let mut encoder = ZlibEncoder::new(&mut patterns, Compression::best());
                    encoder.write_all(&compiled).unwrap();
                    encoder.finish().unwrap();
                    let place = [begin, patterns.len() as u32];
                    known.push((compiled, place));
                    place
                }
            };
            table.extend(place.iter().flat_map(|at| at.to_le_bytes()));
        }
        [table, patterns].concat()
    }

    #[test]
    fn the_patterns_that_are_carried_are_those_of_the_crate() {
        if std::env::var_os("UPDATE").is_some() {
            let root = Path::new(env!("CARGO_MANIFEST_DIR"));
            let file = root.join("src/typeface/hyphenate/patterns.bin");
            std::fs::write(file, made()).unwrap();
            return;
        }
        for code in tags::languages() {
            let carried = patterns(code).unwrap_or_else(|| panic!("no patterns of {code}"));
            assert!(
                content(&carried) == content(&of_the_crate(code)),
                "the patterns of {code} are not the crate's; UPDATE=1 makes the file anew"
            );
        }
    }
}
