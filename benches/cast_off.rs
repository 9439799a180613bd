//! How long the whole cast-off table of a poem of 400 lines takes, as a ratio to laying the book out from nothing once
//! for each cell that fits; and how much of that the two largest sizes are. Then the whole table of books, verse and prose,
//! with pictures and without, as a ratio to laying that book out from nothing once.
//!
//! Where `VERSEFOLD_TEXTS` names a folder of whole texts, the first 400 lines of the Ancient Mariner are used; else
//! verse is made of the words of the example and of `tests/texts`.

mod common;

use std::sync::Arc;

use common::{Draw, made_up_prose, median, ms, project_words, prose, whole_text};
use versefold::assets::Assets;
use versefold::book::{CastOff, CastOffRequest, Cell, Workbench};
use versefold::names::{Length, Source, decimals};
use versefold::text::escape;

const LINES: usize = 400;
const RUNS: usize = 5;

fn main() {
    let text = whole_text("en_coleridge_ancient_mariner.txt").map(|text| escape(&text, false));
    let poem = Source::new("poem.txt", first_lines(&text.unwrap_or_else(made_up)));
    let table = |asked: &CastOffRequest| -> CastOff {
        let mut bench = Workbench::new(Assets::memory());
        let cast = bench.cast_off_texts(&plan("", 20), &poem, asked);
        cast.expect("a cast-off")
    };
    let asked = CastOffRequest::default();
    let cast = table(&asked);
    let whole = median(RUNS, || table(&asked));
    let one = CastOffRequest {
        sizes: vec![cast.size.0],
        panels: vec![20],
        any_number: false,
    };
    let of_one = median(RUNS, || table(&one));
    let plans: Vec<Arc<Source>> = plans(&cast);
    let cells = cast.rows.len() * cast.tried.len();
    let flows = median(RUNS, || {
        for plan in &plans {
            let laid = Workbench::new(Assets::memory()).lay_out_texts(plan, &poem);
            laid.expect("a cell that fits");
        }
    });
    println!(
        "medians; a poem of {LINES} lines, {cells} cells, of which {} fit",
        plans.len()
    );
    println!("{:>9.0} ms  the whole cast-off", ms(whole));
    println!(
        "{:>9.0} ms  the same with one cell: mostly the two largest sizes",
        ms(of_one)
    );
    println!(
        "{:>9.0} ms  the book laid out from nothing for each cell that fits",
        ms(flows)
    );
    println!(
        "{:>9.2}     ratio of the whole cast-off to that",
        ms(whole) / ms(flows)
    );
    to_one_flow("verse", &plan("", 20), &poem);
    for (name, pictures, leaves) in [
        ("prose", false, ""),
        ("prose, pictures", true, ""),
        (
            "prose, pictures that leave room",
            true,
            "leaves = \"80 mm\"\n",
        ),
    ] {
        let (plan, words) = prose_book(pictures, leaves);
        to_one_flow(name, &plan, &words);
    }
}

/// Tells what the whole table of a book takes, as a ratio to laying it out once.
fn to_one_flow(name: &str, plan: &Arc<Source>, words: &Arc<Source>) {
    let table = || {
        let mut bench = Workbench::new(Assets::memory());
        let cast = bench.cast_off_texts(plan, words, &CastOffRequest::default());
        cast.expect("a cast-off").rows.len()
    };
    let flow = || {
        let laid = Workbench::new(Assets::memory()).lay_out_texts(plan, words);
        laid.expect("the words fit").cost
    };
    let (table, flow) = (median(RUNS, table), median(RUNS, flow));
    println!(
        "{:>9.2}     times one layout: the whole table of {name} ({:.0} ms to {:.0} ms)",
        ms(table) / ms(flow),
        ms(table),
        ms(flow)
    );
}

/// Ten thousand words of justified prose, with a picture after each fortieth paragraph if there are to be pictures.
fn prose_book(pictures: bool, leaves: &str) -> (Arc<Source>, Arc<Source>) {
    let made = made_up_prose(&project_words("winter-bus-prose/nine-winters.txt"));
    let mut text = String::new();
    let mut plan = "title = \"Nine Winters\"\nlanguage = \"en-GB\"\nmanuscript = \"prose.txt\"\n[paper]\n\
                    panel-width = \"105 mm\"\npanel-height = \"297 mm\"\npanels-per-side = 18\n[text]\n\
                    set-as = \"prose\"\nalign = \"justified\"\nhyphenate = true\nsize = \"11 pt\"\n\
                    leading = \"15 pt\"\n"
        .to_string();
    for (number, paragraph) in prose(&made, 10_000).split_terminator("\n\n").enumerate() {
        text += paragraph;
        text += "\n\n";
        if pictures && number % 40 == 39 {
            text += &format!("[picture: picture {number}]\n\n");
            if !leaves.is_empty() {
                plan += &format!("[[picture]]\nname = \"picture {number}\"\n{leaves}");
            }
        }
    }
    (
        Source::new("concertina.toml", plan),
        Source::new("prose.txt", text),
    )
}

fn plan(text: &str, panels: u16) -> Arc<Source> {
    let plan = format!(
        "title = \"The Winter Bus\"\nlanguage = \"en-GB\"\nmanuscript = \"poem.txt\"\n[paper]\n\
         panel-width = \"105 mm\"\npanel-height = \"148 mm\"\npanels-per-side = {panels}\n{text}"
    );
    Source::new("concertina.toml", plan)
}

/// The plan of each cell that fits.
fn plans(cast: &CastOff) -> Vec<Arc<Source>> {
    let points = |length: Length| decimals(length.as_pt(), 2);
    let mut plans = Vec::new();
    for row in &cast.rows {
        let (size, leading) = (points(row.size), points(row.leading));
        for (&panels, cell) in cast.tried.iter().zip(&row.cells) {
            if matches!(cell, Cell::Fits(_)) {
                let text = format!("[text]\nsize = \"{size} pt\"\nleading = \"{leading} pt\"\n");
                plans.push(plan(&text, panels));
            }
        }
    }
    plans
}

/// The first lines that have words, with the blank ones between.
fn first_lines(text: &str) -> String {
    let mut count = 0;
    let lines = text.lines().take_while(|line| {
        count += usize::from(!line.trim().is_empty());
        count <= LINES
    });
    lines.fold(String::new(), |text, line| text + line + "\n")
}

/// Lines of seven words, stanzas of four lines.
fn made_up() -> String {
    let words = project_words("winter-bus/winter-bus.txt");
    let mut draw = Draw::new(&words);
    let mut text = String::new();
    for line in 0..LINES {
        for word in 0..7 {
            if word > 0 {
                text.push(' ');
            }
            draw.word(&mut text);
        }
        text.push_str(if line % 4 == 3 { "\n\n" } else { "\n" });
    }
    text
}
