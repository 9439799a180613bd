//! Sound layouts and files, spoilt in one way at a time: each is found, and by the promise that claims it.

mod files;
mod lines;
mod places;
mod words;

use std::path::Path;
use std::sync::Arc;

use crate::support::{examples, small_plan};
use versefold::assets::Assets;
use versefold::book::Workbench;
use versefold::layout::{LaidLine, Layout, Promise, verify};
use versefold::names::{Length, Source};
use versefold::text::{LineKind, Manuscript};

/// What is spoilt, the promise that it breaks, and how; nothing where a layout has nothing of the kind.
type Way = (&'static str, Promise, fn(&mut Layout) -> Option<()>);

/// A book, laid out.
struct Book {
    name: String,
    manuscript: Arc<Manuscript>,
    layout: Layout,
}

/// Small books of every kind: prose, shapes, captions, paired parts, lines to the left, lines that run down, readings, large initials,
/// turnovers, marks that hang, a title of the plan's own.
const SMALL: [&str; 16] = [
    "captions",
    "chinese-down",
    "drop-initial",
    "hang-all",
    "hebrew-in-boxes",
    "japanese-down",
    "japanese-readings",
    "pairs-facing",
    "pairs-behind-captioned",
    "prose-drop-short",
    "prose-hyphenated",
    "prose-in-a-mask",
    "prose-right-to-left",
    "title-in-boxes",
    "turnovers-right",
    "words-in-boxes",
];

/// A poem with room that is left empty, and a title of the plan's own.
const WITH_ROOM: &str = "\
Chains go on before you need them. There,
that’s the whole trade.

[space: 20 mm]

Kneel where the snow is packed.
";

fn books() -> Vec<Book> {
    let small = Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/books");
    let folders = examples()
        .into_iter()
        .chain(SMALL.map(|name| small.join(name)));
    let mut books: Vec<Book> = folders
        .map(|folder| {
            let mut workbench = Workbench::new(Assets::folder(&folder));
            let prepared = workbench.prepare().expect("a sound book");
            Book {
                name: folder.display().to_string(),
                manuscript: prepared.manuscript,
                layout: workbench.lay_out().expect("a sound book"),
            }
        })
        .collect();
    books.push(with_room());
    books.push(two_grids());
    books
}

fn with_room() -> Book {
    let title = "[[panel]]\npanel = \"front 1\"\nrole = \"title\"\n";
    let plan = Source::new("concertina.toml", small_plan(4, title));
    let poem = Source::new("winter-bus.txt", WITH_ROOM);
    let layout = Workbench::new(Assets::memory()).lay_out_texts(&plan, &poem);
    Book {
        name: "a poem with room".to_string(),
        manuscript: Arc::new(Manuscript::read(&poem).expect("a manuscript")),
        layout: layout.expect("a sound book"),
    }
}

/// Two parts, the second with a leading of its own.
fn two_grids() -> Book {
    let parts = "[[part]]\nname = \"body\"\non = [\"front 1 to front 2\"]\n\
                 [[part]]\nname = \"way down\"\non = [\"front 3 to front 4\"]\nleading = \"18.5 pt\"\n";
    let poem = format!("{WITH_ROOM}[part: way down]\n{WITH_ROOM}");
    let plan = Source::new("concertina.toml", small_plan(4, parts));
    let poem = Source::new("winter-bus.txt", poem);
    let layout = Workbench::new(Assets::memory()).lay_out_texts(&plan, &poem);
    Book {
        name: "a part with a grid of its own".to_string(),
        manuscript: Arc::new(Manuscript::read(&poem).expect("a manuscript")),
        layout: layout.expect("a sound book"),
    }
}

#[test]
fn every_way_of_spoiling_a_layout_is_found_by_its_promise() {
    let books = books();
    let mut amiss = Vec::new();
    for book in &books {
        let sound = verify(&book.manuscript, &book.layout);
        assert_eq!(sound, Ok(()), "{}", book.name);
    }
    let ways: Vec<Way> = [words::WAYS, lines::WAYS, places::WAYS].concat();
    assert!(ways.len() >= 30, "only {} ways", ways.len());
    for (what, promise, spoil) in ways {
        let mut spoilt_books = 0;
        for book in &books {
            let mut layout = book.layout.clone();
            if spoil(&mut layout).is_none() {
                continue;
            }
            spoilt_books += 1;
            let told = |layout: &Layout| format!("{:?}{:?}", layout.panels, layout.title);
            if told(&layout) == told(&book.layout) {
                amiss.push(format!("{what}: nothing has changed in {}", book.name));
            }
            match verify(&book.manuscript, &layout) {
                Err(broken) if broken.promise == promise => {}
                found => amiss.push(format!(
                    "{what}, which {promise:?} should find, in {}: {found:?}",
                    book.name
                )),
            }
        }
        if spoilt_books == 0 {
            amiss.push(format!("{what}: no book has anything of the kind"));
        }
    }
    assert!(amiss.is_empty(), "{}", amiss.join("\n"));
}

/// Whether a line holds words of the manuscript.
fn of_part(line: &LaidLine) -> bool {
    line.part.is_some()
}

/// The first line of which something is so.
fn first(layout: &mut Layout, is: impl Fn(&LaidLine) -> bool) -> Option<&mut LaidLine> {
    let lines = layout.panels.iter_mut().flat_map(|panel| &mut panel.lines);
    lines.into_iter().find(|line| is(line))
}

/// The number of the first panel that has this many lines of the manuscript, all in one part and no shape.
fn panel_with(layout: &Layout, lines: usize) -> Option<usize> {
    layout.panels.iter().position(|panel| {
        let own = panel.lines.iter().filter(|line| of_part(line)).count();
        own >= lines && own == panel.lines.len() && panel.slots.is_empty()
    })
}

/// Two panels of one part that have lines and no shape, the second behind the first in the part's order.
fn two_panels(layout: &Layout) -> Option<(usize, usize)> {
    layout.parts.iter().find_map(|part| {
        let at = |name| layout.panels.iter().position(|panel| panel.panel == name);
        let panels = part.on.iter().filter_map(|&name| at(name));
        let mut with_lines = panels.filter(|&at| {
            let panel = &layout.panels[at];
            panel.slots.is_empty() && panel.lines.iter().any(of_part)
        });
        Some((with_lines.next()?, with_lines.next()?))
    })
}

/// Moves a line with its glyphs.
fn shift(line: &mut LaidLine, right: Length, down: Length) {
    line.x += right;
    line.baseline += down;
    for run in &mut line.runs {
        run.x += right;
        run.baseline += down;
    }
}

/// Moves a line with its glyphs to where it then begins.
fn put(line: &mut LaidLine, x: Length, baseline: Length) {
    shift(line, x - line.x, baseline - line.baseline);
}

/// Half a point.
fn half_a_point() -> Length {
    Length::pt(1) / 2
}

/// Whether every glyph of a line is one of words that run to the right, each for one character.
fn is_plain(line: &LaidLine) -> bool {
    let verse = matches!(line.kind, LineKind::Verse | LineKind::Prose);
    let mut runs = line.runs.iter();
    let on_baseline =
        runs.all(|run| run.baseline == line.baseline && !run.reads.is_right_to_left());
    of_part(line) && verse && on_baseline && line.text.is_ascii()
}
