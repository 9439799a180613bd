//! Typefaces that are installed on a machine: found by name, said to differ, and told where there is none.

use std::fs::{self, File};
use std::io::Cursor;

use serde_json::Value;
use versefold::assets::{Assets, Content, FontBytes, InstalledFamily, NotInstalled, Store, Unread};
use versefold::book::Workbench;
use versefold::names::Faults;

use crate::support::{run_in, small_plan, temporary, write_book};

const POEM: &str = "The mail came first, *then* those who rode,\nand **then** the snow.\n";

/// A machine on which one family is installed: as a collection of two faces, and an italic beside it.
struct Machine {
    files: Vec<(&'static str, Vec<u8>)>,
}

impl Store for Machine {
    fn open(&self, name: &str) -> Result<Box<dyn Content + '_>, Unread> {
        let found = self.files.iter().find(|(file, _)| *file == name);
        let found = found.ok_or(Unread::Missing(None))?;
        Ok(Box::new(Cursor::new(found.1.as_slice())))
    }

    fn holds(&self, name: &str) -> bool {
        self.files.iter().any(|(file, _)| *file == name)
    }

    fn installed(&self, family: &str) -> Result<InstalledFamily, NotInstalled> {
        if family != "Pass Serif" {
            return Err(NotInstalled::Unknown(vec!["Pass Serif".to_string()]));
        }
        let collection = collection(&[font("AlegreyaSans-Regular"), font("AlegreyaSans-Bold")]);
        let of_collection = |index| FontBytes {
            bytes: collection.clone(),
            index,
        };
        Ok(InstalledFamily {
            regular: of_collection(0),
            italic: Some(FontBytes {
                bytes: font("AlegreyaSans-Italic"),
                index: 0,
            }),
            bold: Some(of_collection(1)),
        })
    }
}

fn font(name: &str) -> Vec<u8> {
    let folder = concat!(env!("CARGO_MANIFEST_DIR"), "/fonts-open/alegreya-sans");
    fs::read(format!("{folder}/{name}.ttf")).expect("the font is there")
}

/// Font files as one collection (OpenType, "TTC Header", version 1.0), the tables of each where its own directory says.
fn collection(fonts: &[Vec<u8>]) -> Vec<u8> {
    let mut out = b"ttcf\0\x01\0\0".to_vec();
    out.extend((fonts.len() as u32).to_be_bytes());
    let mut at = 12 + 4 * fonts.len();
    for font in fonts {
        out.extend((at as u32).to_be_bytes());
        at += font.len().next_multiple_of(4);
    }
    for font in fonts {
        let base = out.len();
        out.extend(font);
        let tables = u16::from_be_bytes([font[4], font[5]]) as usize;
        for table in 0..tables {
            let place = base + 12 + 16 * table + 8;
            let offset = u32::from_be_bytes(out[place..place + 4].try_into().expect("four"));
            out[place..place + 4].copy_from_slice(&(offset + base as u32).to_be_bytes());
        }
        out.resize(out.len().next_multiple_of(4), 0);
    }
    out
}

fn set_in(typeface: &str) -> Result<versefold::layout::Layout, Faults> {
    let machine = Machine {
        files: vec![
            ("concertina.toml", plan(typeface).into_bytes()),
            ("winter-bus.txt", POEM.as_bytes().to_vec()),
            ("regular.ttf", font("AlegreyaSans-Regular")),
            ("italic.ttf", font("AlegreyaSans-Italic")),
            ("bold.ttf", font("AlegreyaSans-Bold")),
        ],
    };
    Workbench::new(Assets::new(machine)).lay_out()
}

fn plan(typeface: &str) -> String {
    small_plan(4, &format!("[text]\ntypeface = {typeface}\n"))
}

/// For each run its PostScript name, its place and its glyphs.
fn glyphs(layout: &versefold::layout::Layout) -> Vec<(String, i64, Vec<u16>)> {
    let lines = layout.panels.iter().flat_map(|panel| &panel.lines);
    let runs = lines.flat_map(|line| &line.runs);
    let told = runs.map(|run| {
        let glyphs = run.glyphs.iter().map(|glyph| glyph.id);
        (run.face.name().to_string(), run.x.units(), glyphs.collect())
    });
    told.collect()
}

/// Faces out of a collection are those of its files, regular, italic and bold.
#[test]
fn an_installed_family_is_set_as_its_files_are() {
    let installed = set_in("{ installed = \"Pass Serif\" }").expect("a layout");
    let files =
        set_in("{ regular = \"regular.ttf\", italic = \"italic.ttf\", bold = \"bold.ttf\" }");
    assert_eq!(glyphs(&installed), glyphs(&files.expect("a layout")));
    let mut names: Vec<String> = glyphs(&installed).into_iter().map(|run| run.0).collect();
    names.sort();
    names.dedup();
    assert_eq!(
        names,
        [
            "AlegreyaSans-Bold",
            "AlegreyaSans-Italic",
            "AlegreyaSans-Regular"
        ]
    );
    let notes: Vec<&str> = installed.notes.iter().map(|note| &*note.what).collect();
    assert!(
        notes.iter().any(|note| note.contains("`Pass Serif`")),
        "{notes:?}"
    );
}

#[test]
fn a_family_that_is_not_there_is_told_with_the_nearest_name() {
    let faults = set_in("{ installed = \"Past Serif\" }").expect_err("it is not there");
    assert_eq!(faults.len(), 1);
    assert_eq!(faults[0].word, "not-installed");
    assert_eq!(
        faults[0].what,
        "no typeface `Past Serif` is installed on this machine"
    );
    assert_eq!(faults[0].meant.as_deref(), Some("Pass Serif"));
    assert!(faults[0].place.is_some());
}

/// The machine's own fonts are looked through: what is found is set, and its checksum kept.
#[test]
fn what_this_machine_has_is_found_by_name() {
    let book = temporary();
    let name = ["Noto Serif CJK JP", "DejaVu Serif"]
        .into_iter()
        .find(|name| {
            write_book(
                book.path(),
                &plan(&format!("{{ installed = \"{name}\" }}")),
                POEM,
            );
            run_in(book.path(), &["flow"]).status == Some(0)
        });
    let Some(name) = name else {
        assert!(
            std::env::var_os("VERSEFOLD_CI").is_none(),
            "no known family is installed"
        );
        return;
    };
    let ran = run_in(book.path(), &["layers"]);
    assert_eq!(ran.status, Some(0));
    let said = ran.stdout + &ran.stderr;
    assert!(said.contains(&format!("`{name}`")), "{said}");
    let layout = File::open(book.path().join("out/layout.json")).expect("a layout");
    let layout: Value = serde_json::from_reader(layout).expect("JSON");
    let faces = layout["faces"].as_array().expect("faces");
    assert!(!faces.is_empty());
    for face in faces {
        assert_eq!(face["sha256"].as_str().expect("a checksum").len(), 64);
    }
}
