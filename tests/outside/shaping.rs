//! How lines of real texts are shaped, against C HarfBuzz as it is installed here.

use std::collections::BTreeMap;
use std::fs;
use std::path::Path;

use versefold::typeface::Script;

use super::line::{Faced, difference, nothing, told};
use super::lines_of::{FACES, lines_of, one_way, reads_right_to_left, two_scripts};
use super::says;

/// Of each language so many lines are compared in a face.
const MOST: usize = 600;

/// Source: `hb-shape` of HarfBuzz (Debian's libharfbuzz-bin, 6.0.0 in Debian 12), whole lines: glyphs, clusters,
/// advances and offsets.
#[test]
#[ignore = "needs hb-shape"]
fn lines_of_the_texts_are_those_of_harfbuzz() {
    let version = says("hb-shape", &["--version"], &[]).expect("its version");
    let mut lines = lines_of(&Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/texts"));
    if let Some(folder) = std::env::var_os("VERSEFOLD_TEXTS") {
        lines.extend(lines_of(Path::new(&folder)));
    }
    let mut by_script: BTreeMap<(String, String), Vec<String>> = BTreeMap::new();
    for (language, text) in lines {
        let script = text.chars().find_map(Script::of).unwrap_or_default();
        if !two_scripts(&text) && one_script(&text, script) && one_way(&text) {
            let code = String::from_utf8_lossy(&script.code()).into_owned();
            by_script.entry((language, code)).or_default().push(text);
        }
    }
    let (mut different, mut compared) = (Vec::new(), BTreeMap::new());
    for (name, family, stress, _) in FACES {
        for features in ["", "smcp"] {
            let faced = Faced::new(family, stress, features);
            let mut ours = faced.languages();
            for ((language, code), lines) in &by_script {
                let lines = lines.iter().filter(|text| faced.has_all(text));
                let lines: Vec<&str> = lines.map(String::as_str).take(MOST).collect();
                let theirs = harfbuzz(&faced, language, code, features, &lines);
                for (text, theirs) in lines.iter().zip(theirs.lines()) {
                    let label = format!("{name} {language} {code} {features}");
                    let line = ours.line(language, text);
                    different.extend(difference(&label, text, &line, &told(text, theirs)));
                    *compared.entry(code.clone()).or_insert(0) += 1;
                }
                assert_eq!(theirs.lines().count(), lines.len(), "{name} {language}");
            }
        }
    }
    println!(
        "{}: {compared:?}",
        version.lines().next().unwrap_or_default()
    );
    for code in ["Arab", "Cyrl", "Deva", "Hebr", "Latn", "Thai"] {
        let here = compared.get(code).copied().unwrap_or(0);
        assert!(here >= 6, "only {here} lines of {code}");
    }
    nothing(&different, compared.values().sum());
}

fn one_script(text: &str, script: Script) -> bool {
    text.chars().filter_map(Script::of).all(|own| own == script)
}

/// What `hb-shape` says of lines of one language and script.
fn harfbuzz(faced: &Faced, language: &str, code: &str, features: &str, lines: &[&str]) -> String {
    if lines.is_empty() {
        return String::new();
    }
    let folder = tempfile::tempdir().expect("a temporary folder");
    let (font, text) = (folder.path().join("font"), folder.path().join("lines"));
    fs::write(&font, faced.face().data()).expect("the font is written");
    fs::write(&text, lines.join("\n")).expect("the lines are written");
    let direction = if reads_right_to_left(code) {
        "rtl"
    } else {
        "ltr"
    };
    let arguments = [
        "--no-glyph-names",
        "--utf8-clusters",
        &format!("--language={language}"),
        &format!("--script={code}"),
        &format!("--direction={direction}"),
        &format!("--features={features}"),
        &format!("--text-file={}", text.display()),
    ];
    says("hb-shape", &arguments, &[font]).expect("it shapes the lines")
}
