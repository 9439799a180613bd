//! The list of the fonts that come with the program is true, and every font has its licence beside it.

use std::collections::BTreeMap;
use std::fs;
use std::path::{Path, PathBuf};

use sha2::{Digest, Sha256};

fn folder() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("fonts-open")
}

/// Every font file below `fonts-open`, by its path from there.
fn font_files() -> BTreeMap<String, Vec<u8>> {
    let mut found = BTreeMap::new();
    for family in families() {
        for file in fs::read_dir(folder().join(&family)).unwrap() {
            let name = file.unwrap().file_name().into_string().unwrap();
            if name != "OFL.txt" {
                let path = format!("{family}/{name}");
                let data = fs::read(folder().join(&path)).unwrap();
                found.insert(path, data);
            }
        }
    }
    found
}

fn families() -> Vec<String> {
    let entries = fs::read_dir(folder()).unwrap().map(Result::unwrap);
    let folders = entries.filter(|entry| entry.file_type().unwrap().is_dir());
    folders
        .map(|entry| entry.file_name().into_string().unwrap())
        .collect()
}

/// The rows of the table in FONTS.md whose second cell names a font file.
fn listed() -> BTreeMap<String, Vec<String>> {
    let text = fs::read_to_string(folder().join("FONTS.md")).unwrap();
    let mut rows = BTreeMap::new();
    for line in text.lines().filter(|line| line.starts_with('|')) {
        let cells: Vec<String> = line
            .trim_matches('|')
            .split('|')
            .map(|cell| cell.trim().trim_matches('`').to_string())
            .collect();
        if cells[1].ends_with(".ttf") || cells[1].ends_with(".otf") {
            let again = rows.insert(cells[1].clone(), cells);
            assert_eq!(again, None, "listed twice");
        }
    }
    rows
}

#[test]
fn every_font_is_listed_with_its_hash_and_size() {
    let listed = listed();
    let files = font_files();
    assert!(files.len() >= 11, "only {} fonts", files.len());
    assert_eq!(
        listed.keys().collect::<Vec<_>>(),
        files.keys().collect::<Vec<_>>()
    );
    for (path, data) in &files {
        let row = &listed[path];
        // FIPS 180-4: the hash is written as 64 hexadecimal digits.
        let hash: String = Sha256::digest(data)
            .iter()
            .map(|byte| format!("{byte:02x}"))
            .collect();
        assert_eq!(row[4], data.len().to_string(), "{path}");
        assert_eq!(row[5], hash, "{path}");
    }
}

#[test]
fn version_and_copyright_are_the_fonts_own() {
    let listed = listed();
    for (path, data) in font_files() {
        let face = ttf_parser::Face::parse(&data, 0).unwrap();
        // OpenType 1.9, `name` table: 0 is the copyright, 1 the family, 5 the version.
        let name = |id| {
            let mut names = face.names().into_iter().filter(|name| name.name_id == id);
            names.find_map(|name| name.to_string()).unwrap()
        };
        let row = &listed[&path];
        assert_eq!(row[0], name(1), "{path}");
        let version = name(5);
        let number = version.strip_prefix("Version ").unwrap();
        assert_eq!(row[2], number.split(';').next().unwrap(), "{path}");
        assert_eq!(row[6], "OFL-1.1", "{path}");
        assert_eq!(row[7], name(0), "{path}");
    }
}

#[test]
fn the_cost_is_the_sum_of_the_sizes() {
    let text = fs::read_to_string(folder().join("FONTS.md")).unwrap();
    let sum: usize = font_files().values().map(Vec::len).sum();
    let told = format!("{sum} bytes");
    assert!(text.contains(&told), "FONTS.md does not say {told}");
}

#[test]
fn every_family_has_its_licence() {
    for family in families() {
        let path = folder().join(&family).join("OFL.txt");
        let text = fs::read_to_string(&path).unwrap_or_default();
        assert!(text.starts_with("Copyright "), "{family}");
        // SIL Open Font License 1.1: its title, its five numbered conditions, its end.
        for words in [
            "SIL OPEN FONT LICENSE Version 1.1 - 26 February 2007",
            "PERMISSION & CONDITIONS",
            "1) Neither the Font Software nor any of its individual components,",
            "5) The Font Software, modified or unmodified,",
            "OTHER DEALINGS IN THE FONT SOFTWARE.",
        ] {
            assert!(text.contains(words), "{family}: {words}");
        }
    }
}
