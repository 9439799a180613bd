//! What each file below `out/` is made from: a change of the plan concerns the files that show it, and no others.

use std::collections::BTreeSet;

use versefold::assets::Assets;
use versefold::book::Workbench;

/// A file of each kind.
const FILES: [&str; 11] = [
    "layers/front-01.pdf",
    "contact-sheet.pdf",
    "layout.json",
    "trials.pdf",
    "dummy.pdf",
    "strip/sheet-1.pdf",
    "strip/sheet-1-x4.pdf",
    "strip/words-sheet-1.pdf",
    "strip/words-sheet-1-x4.pdf",
    "strip/plate-black-1-front.pdf",
    "strip/folding-guide.pdf",
];

const PLAN: &str = "\
title = \"The Winter Bus\"
language = \"en-GB\"
manuscript = \"winter-bus.txt\"
date = 2026-11-25
[paper]
panel-width = \"90 mm\"
panel-height = \"90 mm\"
panels-per-side = 6
sides = \"front\"
grammage = 160
cover = \"boards\"
boards = { thickness = \"2 mm\" }
[sheets]
size = \"SRA3\"
longest-sheet = \"700 mm\"
intent = \"press.icc\"
[text]
size = \"11 pt\"
[rules]
fullest = \"95 %\"
[[picture]]
name = \"the tunnel\"
art = \"tunnel.png\"
";

const POEM: &str = "The bus climbs.\n[picture: the tunnel]\n\nThe horn has three meanings.\n";

/// What every file of the book is made from.
fn made_from(plan: &str, poem: &str, art: &str, profile: &str) -> Vec<String> {
    let assets = Assets::memory()
        .with("concertina.toml", plan)
        .with("winter-bus.txt", poem)
        .with("tunnel.png", art)
        .with("press.icc", profile);
    let mut bench = Workbench::new(assets);
    let layout = bench.lay_out().expect("it fits");
    let prints = bench.prints(&layout).expect("it is read");
    let of = |name: &&str| prints.of(name).expect("a file of ours");
    FILES.iter().map(of).collect()
}

/// The files that are made from something else in these two cases.
fn others(one: &[String], other: &[String]) -> BTreeSet<&'static str> {
    let pairs = FILES.iter().zip(one.iter().zip(other));
    let changed = pairs.filter(|(_, (one, other))| one != other);
    changed.map(|(name, _)| *name).collect()
}

/// A file's name with a star at its end stands for all that begin so.
fn named(names: &[&str]) -> BTreeSet<&'static str> {
    let is = |file: &&str| {
        names.iter().any(|name| match name.strip_suffix('*') {
            Some(begin) => file.starts_with(begin),
            None => file == name,
        })
    };
    FILES.into_iter().filter(is).collect()
}

#[test]
fn a_key_concerns_the_files_that_show_it_and_no_others() {
    let before = made_from(PLAN, POEM, "scan", "profile");
    let strip = ["strip/*"];
    let cases: [(&str, &str, &[&str]); 18] = [
        (
            "longest-sheet = \"700 mm\"",
            "longest-sheet = \"600 mm\"",
            &strip,
        ),
        ("size = \"SRA3\"", "size = \"A3\"", &strip),
        ("[sheets]\n", "[sheets]\ngrain = \"long\"\n", &strip),
        ("[sheets]\n", "[sheets]\njoin = \"hinge\"\n", &strip),
        ("[sheets]\n", "[sheets]\ntab = \"14 mm\"\n", &strip),
        ("[sheets]\n", "[sheets]\nunder-run = \"2 mm\"\n", &strip),
        ("[sheets]\n", "[sheets]\ngripper = \"6 mm\"\n", &strip),
        ("[sheets]\n", "[sheets]\nspare = \"6 mm\"\n", &strip),
        (
            "[text]",
            "[[crossover]]\nfrom = \"front 2\"\nto = \"front 3\"\n[text]",
            &strip,
        ),
        (
            "grammage = 160",
            "grammage = 170",
            &["strip/folding-guide.pdf"],
        ),
        (
            "grammage = 160",
            "grammage = 160\nbulk = 1.2",
            &["strip/folding-guide.pdf"],
        ),
        (
            "grammage = 160",
            "thickness = \"0.3 mm\"",
            &["strip/folding-guide.pdf"],
        ),
        (
            "grammage = 160",
            "grammage = 160\nscore = \"cut\"",
            &["strip/folding-guide.pdf"],
        ),
        (
            "thickness = \"2 mm\"",
            "thickness = \"3 mm\"",
            &["strip/folding-guide.pdf"],
        ),
        ("fullest = \"95 %\"", "fullest = \"94 %\"", &["trials.pdf"]),
        (
            "art = \"tunnel.png\"",
            "art = \"tunnel.png\"\nruns-over = \"2 mm\"",
            &["dummy.pdf", "strip/sheet*", "strip/folding-guide.pdf"],
        ),
        (
            "date = 2026-11-25",
            "date = 2026-11-26",
            &[
                "trials.pdf",
                "strip/sheet-1-x4.pdf",
                "strip/words-sheet-1-x4.pdf",
            ],
        ),
        (
            "title = \"The Winter Bus\"",
            "title = \"The Winter Coach\"",
            &[
                "contact-sheet.pdf",
                "layout.json",
                "trials.pdf",
                "dummy.pdf",
                "strip/*",
            ],
        ),
    ];
    for (from, to, names) in cases {
        assert!(PLAN.contains(from), "{from}");
        let after = made_from(&PLAN.replacen(from, to, 1), POEM, "scan", "profile");
        assert_eq!(others(&before, &after), named(names), "{from} → {to}");
    }
}

#[test]
fn a_remark_or_the_order_of_tables_concerns_none() {
    let before = made_from(PLAN, POEM, "scan", "profile");
    let (head, tail) = PLAN.split_at(PLAN.find("[paper]").expect("a table"));
    let (paper, sheets) = tail.split_at(tail.find("[sheets]").expect("a table"));
    let (sheets, rest) = sheets.split_at(sheets.find("[text]").expect("a table"));
    for plan in [
        PLAN.replace("[text]", "# The words.\n\n[text]"),
        PLAN.replace("\"95 %\"", "'95 %'"),
        format!("{head}{sheets}{paper}{rest}"),
    ] {
        let after = made_from(&plan, POEM, "scan", "profile");
        assert_eq!(before, after, "{plan}");
    }
}

#[test]
fn words_scans_and_profiles_concern_the_files_that_show_them() {
    let before = made_from(PLAN, POEM, "scan", "profile");
    let scan = made_from(PLAN, POEM, "another scan", "profile");
    let with_art = ["dummy.pdf", "strip/sheet*", "strip/folding-guide.pdf"];
    assert_eq!(others(&before, &scan), named(&with_art));
    let profile = made_from(PLAN, POEM, "scan", "another profile");
    let x4 = ["strip/sheet-1-x4.pdf", "strip/words-sheet-1-x4.pdf"];
    assert_eq!(others(&before, &profile), named(&x4));
    let poem = POEM.replace("three", "four");
    let words = made_from(PLAN, &poem, "scan", "profile");
    assert_eq!(others(&before, &words), FILES.into_iter().collect());
}
