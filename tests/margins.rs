//! Inner and outer margins, and the optical centre: where words stand on the two panels of a spread.

use std::fs;
use std::path::Path;

use serde_json::Value;
use tempfile::TempDir;

use crate::support::{run_in, temporary};

/// A book whose stanzas have these numbers of lines, one a panel.
struct Book(TempDir);

impl Book {
    fn new(paper: &str, text: &str, stanzas: &[usize]) -> Book {
        let book = Book(temporary());
        let plan = format!(
            "title = \"The Winter Bus\"\n\
             language = \"en-GB\"\n\
             manuscript = \"winter-bus.txt\"\n\
             [paper]\n\
             panel-width = \"105 mm\"\n\
             panel-height = \"148 mm\"\n\
             panels-per-side = 8\n\
             {paper}\n\
             [text]\n\
             leading = \"15 pt\"\n\
             {text}\n\
             [rules]\n\
             each-panel = \"stanza\"\n\
             importance = {{ each-panel = 99 }}\n"
        );
        let stanza = |(number, lines): (usize, &usize)| -> String {
            let line = |at: usize| format!("Stanza {number}, line {at} of the poem.\n");
            (1..=*lines).map(line).collect::<String>() + "\n"
        };
        let words: String = stanzas.iter().enumerate().map(stanza).collect();
        fs::write(book.path().join("concertina.toml"), plan).expect("written");
        fs::write(book.path().join("winter-bus.txt"), words).expect("written");
        book
    }

    fn path(&self) -> &Path {
        self.0.path()
    }

    fn run(&self, arguments: &[&str]) -> String {
        run_in(self.path(), arguments).done()
    }

    /// What `layers` writes of itself, and what it says.
    fn layers(&self) -> (Value, String) {
        let said = self.run(&["layers"]);
        let layout = fs::read_to_string(self.path().join("out/layout.json")).expect("a layout");
        (serde_json::from_str(&layout).expect("JSON"), said)
    }

    fn change(&self, from: &str, to: &str) {
        let path = self.path().join("winter-bus.txt");
        let words = fs::read_to_string(&path).expect("read");
        assert!(words.contains(from));
        fs::write(path, words.replacen(from, to, 1)).expect("written");
    }
}

fn panel<'a>(layout: &'a Value, name: &str) -> &'a Value {
    let panels = layout["panels"].as_array().expect("panels");
    let found = panels.iter().find(|panel| panel["panel"] == name);
    found.expect("the panel")
}

/// What is left free at the left and at the right of a panel's text area.
fn sides(layout: &Value, name: &str) -> (f64, f64) {
    let panel = panel(layout, name);
    let area = &panel["text_areas"][0];
    let number = |value: &Value| value.as_f64().expect("a number");
    let (left, width) = (number(&area["x_mm"]), number(&area["width_mm"]));
    let right = number(&panel["width_mm"]) - left - width;
    (
        (left * 100.0).round() / 100.0,
        (right * 100.0).round() / 100.0,
    )
}

/// The baselines of a panel's lines.
fn baselines(layout: &Value, name: &str) -> Vec<f64> {
    let lines = panel(layout, name)["lines"].as_array().expect("lines");
    let down = |line: &Value| line["baseline_mm"].as_f64().expect("a number");
    lines.iter().map(down).collect()
}

const SIXTEEN: [usize; 16] = [4; 16];

/// The pairs are those that `strip` of the layout names, which other tests hold against folded paper.
#[test]
fn inner_margins_meet_at_the_fold_of_every_spread() {
    let margins = "margins = { inner = \"17 mm\", outer = \"9 mm\" }";
    for paper in [
        "",
        "first-fold = \"valley\"",
        "ends = { first = \"120 mm\", last = \"90 mm\" }",
        "turned = \"head-to-foot\"",
        "reads = \"right-to-left\"",
    ] {
        let (layout, _) = Book::new(paper, margins, &SIXTEEN).layers();
        let spreads = layout["strip"]["spreads"].as_array().expect("spreads");
        assert!(spreads.len() >= 7, "{paper}");
        let (mut seen, turned) = (Vec::new(), paper.contains("right-to-left"));
        for spread in spreads {
            let names: Vec<&str> = spread
                .as_array()
                .expect("a pair")
                .iter()
                .map(|name| name.as_str().expect("a name"))
                .collect();
            // Where panels follow each other to the left, the first of a pair lies at the right.
            let (left, right) = match turned {
                true => (names[1], names[0]),
                false => (names[0], names[1]),
            };
            assert_eq!(sides(&layout, left), (9.0, 17.0), "{left}: {paper}");
            assert_eq!(sides(&layout, right), (17.0, 9.0), "{right}: {paper}");
            seen.extend(names);
        }
        for name in layout["strip"]["outside"]
            .as_array()
            .expect("outside faces")
        {
            let name = name.as_str().expect("a name");
            assert!(!seen.contains(&name));
            // As the first page of a book, or its last.
            let first = name.ends_with(" 1") != turned;
            let expected = if first { (17.0, 9.0) } else { (9.0, 17.0) };
            assert_eq!(sides(&layout, name), expected, "{name}: {paper}");
        }
    }
}

#[test]
fn one_margin_of_a_panel_or_a_picture_goes_over_those_of_the_text() {
    let text = "margins = { inner = \"17 mm\", outer = \"9 mm\" }";
    let book = Book::new("", text, &SIXTEEN);
    let plan = book.path().join("concertina.toml");
    let more = "[[panel]]\npanel = \"front 2\"\nmargins = { inner = \"20 mm\" }\n\
                [[panel]]\npanel = \"front 3\"\nmargins = { right = \"12 mm\" }\n";
    let written = fs::read_to_string(&plan).expect("read");
    fs::write(&plan, written + more).expect("written");
    let (layout, _) = book.layers();
    assert_eq!(sides(&layout, "front 2"), (9.0, 20.0));
    assert_eq!(sides(&layout, "front 3"), (17.0, 12.0));
    assert_eq!(sides(&layout, "front 4"), (9.0, 17.0));
}

#[test]
fn a_side_of_the_panel_and_one_of_the_spread_are_not_both_given() {
    let book = Book::new(
        "",
        "margins = { left = \"9 mm\", inner = \"17 mm\" }",
        &SIXTEEN,
    );
    let said = run_in(book.path(), &["flow"]).at_fault();
    assert!(said.contains("margins have `left` and `inner`"), "{said}");
    assert!(said.contains("`left` here"), "{said}");
    assert!(said.contains("left and right, or inner"), "{said}");
}

/// White above to white below as two to three: what is above is two fifths of the lines that are free.
#[test]
fn the_panels_of_a_spread_begin_together_where_the_fuller_one_stands_at_the_centre() {
    let lines = [4, 4, 9, 9, 4, 6, 6, 13, 2, 12, 3, 5, 5, 3, 8, 1];
    let text = "vertical = \"optical-centre\"";
    let (layout, _) = Book::new("", text, &lines).layers();
    let area = &panel(&layout, "front 2")["text_areas"][0];
    let height = area["height_mm"].as_f64().expect("a number");
    let leading = 15.0 * 25.4 / 72.0;
    let head = baselines(&Book::new("", "", &lines).layers().0, "front 2")[0];
    let capacity = (area["y_mm"].as_f64().expect("a number") + height - head) / leading;
    let capacity = capacity.floor() as usize + 1;
    let starts = |used: usize| head + leading * ((capacity - used) * 2 / 5) as f64;
    let near = |one: f64, other: f64| (one - other).abs() < 0.001;
    let mut compared = 0;
    for spread in layout["strip"]["spreads"].as_array().expect("spreads") {
        let [one, other] = [0, 1].map(|at| {
            let name = spread[at].as_str().expect("a name");
            baselines(&layout, name)
        });
        let fuller = one.len().max(other.len());
        assert!(near(one[0], other[0]), "{spread}: {one:?} {other:?}");
        assert!(near(one[0], starts(fuller)), "{spread}: {one:?}");
        compared += usize::from(one.len() != other.len());
    }
    assert!(compared >= 4);
    let alone = baselines(&layout, "front 1");
    assert!(near(alone[0], starts(alone.len())));
}

/// A correction on one panel of a spread moves the other, whose layer is then told; but for one that is printed, which the
/// corrected one then begins with.
#[test]
fn a_correction_moves_the_other_panel_unless_it_is_printed() {
    let book = || {
        let book = Book::new(
            "",
            "vertical = \"optical-centre\"",
            &[4, 4, 4, 4, 4, 4, 4, 4],
        );
        book.run(&["flow", "--keep"]);
        book.layers();
        book
    };
    let more = (
        "Stanza 2, line 1",
        "A new line.\nAnd one.\nAnd one.\nStanza 2, line 1",
    );
    let free = book();
    let before = baselines(&free.layers().0, "front 2");
    free.change(more.0, more.1);
    let (layout, said) = free.layers();
    let (second, third) = (baselines(&layout, "front 2"), baselines(&layout, "front 3"));
    assert_eq!((second[0], third.len()), (third[0], 7));
    assert!(second[0] < before[0]);
    let replaced = said
        .lines()
        .find(|line| line.starts_with("Replace"))
        .expect(&said);
    assert!(
        replaced.contains("front-02.pdf") && replaced.contains("front-03.pdf"),
        "{said}"
    );
    let printed = book();
    printed.run(&["pass", "front 2"]);
    printed.change(more.0, more.1);
    let (layout, said) = printed.layers();
    assert_eq!(baselines(&layout, "front 2"), before);
    assert_eq!(baselines(&layout, "front 3")[0], before[0]);
    let replaced = said
        .lines()
        .find(|line| line.starts_with("Replace"))
        .expect(&said);
    assert!(!replaced.contains("front-02.pdf"), "{said}");
}
