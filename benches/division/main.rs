//! The division: how long the search takes beside a plain full-table program of the same rules, and how much it
//! looks at.
//!
//! `cargo bench --bench division` prints the tables.

mod again;
mod books;
#[path = "../common/mod.rs"]
mod common;
mod full;
mod texts;

use common::{median, ms};
use versefold::division::{Limits, Problem, divide_together};

fn main() {
    println!("medians; `ratio` is the full table's time to ours");
    println!(
        "{:<34} {:>9} {:>12} {:>7} {:>9} {:>9} {:>10} {:>8} {:>7} {:>6} {:>12}",
        "lines, panels, pictures, rules",
        "ours",
        "full table",
        "ratio",
        "bounds",
        "states",
        "table's",
        "MiB",
        "proved",
        "passes",
        "cost (bound)"
    );
    let small = (400, 32, 8);
    let large = (10_000, 400, 60);
    search(
        "400, 32, 8, default",
        &books::book(small, books::Rules::Default),
        9,
        true,
    );
    search(
        "400, 32, 8, every rule",
        &books::book(small, books::Rules::Every),
        9,
        true,
    );
    search(
        "10000, 400, 60, default",
        &books::book(large, books::Rules::Default),
        3,
        true,
    );
    search(
        "10000, 400, 60, pictures may give",
        &books::book(large, books::Rules::Loose),
        1,
        false,
    );
    search(
        "10000, 400, 60, every rule",
        &books::book(large, books::Rules::Every),
        1,
        false,
    );
    long_ones();
    again::compare();
    texts::compare();
}

/// Long books: with pictures that must come near their words and with such that may give, and prose that fits, and that does not.
fn long_ones() {
    use books::Comes;
    let name = "40000 words, 500, 150";
    for (asked, comes) in [("kept", Comes::Kept), ("may give", Comes::MayGive)] {
        let small = books::prose(10_000, (150, 60), 60, Some(comes));
        search(&format!("10000 words, 150, 60, {asked}"), &small, 3, false);
        let large = books::prose(40_000, (500, 150), 60, Some(comes));
        search(&format!("{name}, {asked}"), &large, 1, false);
    }
    for words in [50_000, 100_000, 200_000] {
        let panels = words / 250;
        let fits = books::prose(words, (panels, 0), 60, None);
        search(&format!("{words} words, {panels}, 0"), &fits, 1, false);
        let too_long = books::prose(words, (panels, 0), 110, None);
        search(
            &format!("{words} words, {panels}, 0, too long"),
            &too_long,
            1,
            false,
        );
    }
}

fn search(name: &str, problem: &Problem, runs: usize, beside: bool) {
    let divide = || divide_together(&[problem], &[], Limits::default());
    let (found, work) = divide();
    let ours = median(runs, divide);
    let part = found.as_ref().map(|parts| &parts[0]);
    let (table, states, ratio) = match beside {
        true => {
            let begun = std::time::Instant::now();
            let (cost, states) = full::full_table(problem);
            let took = begun.elapsed();
            assert_eq!(cost, part.map(|part| part.cost), "both find the same");
            let ratio = took.as_secs_f64() / ours.as_secs_f64();
            (
                format!("{:.0} ms", ms(took)),
                states.to_string(),
                format!("{ratio:.0}"),
            )
        }
        false => ("-".to_string(), "-".to_string(), "-".to_string()),
    };
    println!(
        "{name:<34} {:>6.1} ms {table:>12} {ratio:>7} {:>9} {:>9} {states:>10} {:>8.1} {:>7} {:>6} {:>12}",
        ms(ours),
        work.bounds,
        work.states,
        work.bytes as f64 / (1024.0 * 1024.0),
        part.map_or("no way".to_string(), |part| part.proved.to_string()),
        work.passes,
        part.map_or("-".to_string(), |part| format!(
            "{} ({})",
            part.cost, part.bound
        )),
    );
}
