//! Writing `breaks.toml`: for people first.

use super::{Breaks, KeptLine, KeptPanel};
use crate::names::{Length, decimals};

const HEAD: &str = "\
# Where the words of this book are divided between its panels.
#
# Written by the program, and yours to edit: carry lines from one panel to the next, change a role or a picture.
# The words are found again in the manuscript, so that corrections belong there and not here. What no longer fits
# is divided anew around what still does. A panel without `chosen = true` is free: its words are listed only so
# that those of the others are found again.
";

const PASSED: &str = "\
#
# A panel with `passed` is printed: its lines stay where they stand. Release it before you change it:
# versefold pass --release PANELS
";

/// The file.
pub fn write(breaks: &Breaks) -> String {
    let mut text = HEAD.to_string();
    if breaks.passed().next().is_some() {
        text.push_str(PASSED);
    }
    if let Some(words) = breaks.words {
        text.push_str(&format!("\nwords = {words}\n"));
    }
    for kept in &breaks.panels {
        text.push_str(&panel(kept));
    }
    text
}

fn panel(kept: &KeptPanel) -> String {
    let mut text = format!(
        "\n[[panel]]\npanel = \"{}\"\nrole = \"{}\"\n",
        kept.panel,
        kept.role.word()
    );
    if let Some(picture) = &kept.picture {
        text.push_str(&format!("picture = {}\n", quoted(picture)));
    }
    if kept.chosen {
        text.push_str("chosen = true\n");
    }
    if kept.goes_on {
        text.push_str("goes-on = true\n");
    }
    if !kept.words.is_empty() {
        text.push_str(&format!("words = {}\n", block(&kept.words)));
    }
    if let Some(lines) = &kept.passed {
        for (key, length) in ["width", "height", "bleed"]
            .into_iter()
            .zip(kept.page.into_iter().flatten())
        {
            text.push_str(&format!("{key} = \"{}\"\n", exact(length)));
        }
        text.push_str("passed = [\n");
        lines.iter().for_each(|one| text.push_str(&line(one)));
        text.push_str("]\n");
    }
    text
}

fn line(line: &KeptLine) -> String {
    let goes_on = if line.goes_on { "goes-on = true, " } else { "" };
    let added = if line.added { "added = true, " } else { "" };
    format!(
        "  {{ left = \"{}\", baseline = \"{}\", {goes_on}{added}words = {}, seal = \"{}\" }},\n",
        exact(line.left),
        exact(line.baseline),
        quoted(&line.words),
        line.seal
    )
}

/// A length with as many decimals as give it back exactly.
fn exact(length: Length) -> String {
    format!("{} mm", decimals(length.as_mm(), 6))
}

/// Text of several lines, as it is where it can be.
fn block(text: &str) -> String {
    let plain = |c: char| !c.is_control() || matches!(c, '\n' | '\t');
    if !text.contains("'''") && !text.ends_with('\'') && text.chars().all(plain) {
        return format!("'''\n{text}\n'''");
    }
    format!("\"\"\"\n{}\n\"\"\"", escaped(text).replace("\\n", "\n"))
}

/// Text of one line.
fn quoted(text: &str) -> String {
    format!("\"{}\"", escaped(text))
}

fn escaped(text: &str) -> String {
    let mut out = String::with_capacity(text.len());
    for c in text.chars() {
        match c {
            '"' => out.push_str("\\\""),
            '\\' => out.push_str("\\\\"),
            '\n' => out.push_str("\\n"),
            '\t' => out.push_str("\\t"),
            c if c.is_control() => out.push_str(&format!("\\u{:04X}", u32::from(c))),
            c => out.push(c),
        }
    }
    out
}
