//! A title panel that is passed for press: the author that the plan adds below the part's title stays as it is printed.

use std::fs;
use std::path::Path;

use crate::support::{run_in, temporary};

const PLAN: &str = "\
title = \"The Winter Bus\"
author = \"Her Mother\"
language = \"en-GB\"
manuscript = \"winter-bus.txt\"
[paper]
panel-width = \"105 mm\"
panel-height = \"148 mm\"
panels-per-side = 4
[[panel]]
panel = \"front 1\"
role = \"title\"
";

const WORDS: &str = "# The Winter Bus\n\nThe cap came in one size.\n";

fn write(folder: &Path, plan: &str, words: &str) {
    fs::write(folder.join("concertina.toml"), plan).expect("written");
    fs::write(folder.join("winter-bus.txt"), words).expect("written");
}

#[test]
fn a_printed_title_panel_keeps_its_author() {
    let folder = temporary();
    let folder = folder.path();
    let layer = || fs::read(folder.join("out/layers/front-01.pdf")).expect("a layer");
    write(folder, PLAN, WORDS);
    run_in(folder, &["layers"]).done();
    let printed = layer();
    run_in(folder, &["pass", "front 1"]).done();
    // Another place for titles moves nothing that is printed.
    let lower = PLAN.replace("[[panel]]", "[text.title]\nvertical = \"foot\"\n[[panel]]");
    write(folder, &lower, WORDS);
    run_in(folder, &["layers"]).done();
    assert_eq!(layer(), printed);
    for plan in [
        PLAN.replace("Her Mother", "Her Father"),
        PLAN.replace("author = \"Her Mother\"\n", ""),
    ] {
        write(folder, &plan, WORDS);
        let said = run_in(folder, &["flow"]).at_fault();
        assert!(said.contains("front 1 is passed for press"), "{said}");
    }
}
