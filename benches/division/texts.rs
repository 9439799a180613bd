//! Real texts divided three ways: by us, by filling each panel, and by equal numbers of lines; judged by the same
//! costs, every rule weighed, and by plain counts.

use std::sync::Arc;

use std::path::{Path, PathBuf};

use versefold::assets::Assets;
use versefold::book::Workbench;
use versefold::division::{Limits, PartDivision, PictureFacts, Problem, divide};
use versefold::names::{HalfLines, Role, Source};
use versefold::plan::{RuleName, Weight};

/// Longer texts are cut behind so many words, at the end of a paragraph or stanza.
const MOST_WORDS: usize = 6_000;
/// How many lines of the text there are to a picture.
const LINES_TO_A_PICTURE: usize = 60;

/// Prints the table.
pub fn compare() {
    println!("\nreal texts, a picture to every {LINES_TO_A_PICTURE} lines, panels of 105 × 148 mm");
    println!(
        "(cost: every rule weighed, none hard; away: pictures not on the panel of their words or the next)"
    );
    println!(
        "{:<44} {:>6} {:>14} {:>9} {:>8} {:>6} {:>9} {:>8} {:>6}",
        "text", "panels", "divided by", "cost", "divided", "lone", "emptiest", "fullest", "away"
    );
    for path in texts() {
        let name = path
            .file_stem()
            .unwrap_or_default()
            .to_string_lossy()
            .into_owned();
        match problem(&path) {
            Ok(problem) => rows(&name, &problem),
            Err(why) => println!("{name:<44} {why}"),
        }
    }
}

/// The whole texts that `VERSEFOLD_TEXTS` names, else the excerpts of the tests.
fn texts() -> Vec<PathBuf> {
    let folder = std::env::var_os("VERSEFOLD_TEXTS").map(PathBuf::from);
    let folder =
        folder.unwrap_or_else(|| Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/texts"));
    let entries = std::fs::read_dir(folder)
        .expect("a folder of texts")
        .flatten();
    let mut texts: Vec<PathBuf> = entries
        .map(|entry| entry.path())
        .filter(|path| path.extension().is_some_and(|end| end == "txt"))
        .collect();
    texts.sort();
    texts
}

fn problem(path: &Path) -> Result<Problem, String> {
    let whole = std::fs::read_to_string(path).map_err(|error| error.to_string())?;
    let text = cut(&whole);
    let language = path.file_name().unwrap_or_default().to_string_lossy()[..2].to_string();
    let set_as = versefold::text::looks_like(&text);
    let words = versefold::text::escape(&text, set_as == versefold::names::SetAs::Prose);
    let kind = match set_as {
        versefold::names::SetAs::Prose => "prose",
        versefold::names::SetAs::Verse => "verse",
    };
    let prepared = |per_side: usize| {
        let plan = format!(
            "title = \"A text\"\nlanguage = \"{language}\"\nmanuscript = \"text.txt\"\n[paper]\n\
             panel-width = \"105 mm\"\npanel-height = \"148 mm\"\npanels-per-side = {per_side}\n\
             [text]\nset-as = \"{kind}\"\nfallback = [\"Amiri\", \"Noto Serif Hebrew\", \"Noto Serif Devanagari\", \"Noto Serif Thai\"]\n"
        );
        let plan = Source::new("concertina.toml", plan);
        let text = Source::new("text.txt", words.as_str());
        Workbench::new(Assets::memory())
            .prepare_texts(&plan, &text)
            .map_err(|faults| faults[0].what.clone())
    };
    let problem = prepared(2)?.problems.swap_remove(0);
    let area = problem.panels[0].area.expect("an area");
    let depth = problem.depth(area.column, 0, problem.rows.len());
    let (depth, capacity) = (depth.whole_lines(), area.capacity.whole_lines());
    let pictures = depth / LINES_TO_A_PICTURE;
    let panels = depth * 10 / 6 / capacity + pictures + 2;
    if panels > 800 {
        return Err("too long".to_string());
    }
    let problem = prepared(panels.div_ceil(2).max(2))?.problems.swap_remove(0);
    let mut problem = Arc::unwrap_or_clone(problem);
    let rows = problem.rows.len();
    problem.pictures = (0..pictures)
        .map(|at| PictureFacts {
            name: format!("picture {}", at + 1),
            word_row: Some((2 * at + 1) * rows / (2 * pictures)),
            panel: None,
            queued: true,
            spans: 1,
            whole_spread: false,
            leaves_room: true,
            comes: problem.rules.picture_comes,
            with: None,
            blank_before: false,
            reveal: false,
            heavy: false,
        })
        .collect();
    for panel in &mut problem.panels {
        panel.shared = vec![panel.area; pictures];
    }
    Ok(problem)
}

fn cut(text: &str) -> String {
    let mut words = 0;
    let mut kept = String::new();
    for line in text.lines() {
        if words > MOST_WORDS && line.trim().is_empty() {
            break;
        }
        words += line.split_whitespace().count();
        kept.push_str(line);
        kept.push('\n');
    }
    kept
}

fn rows(name: &str, problem: &Problem) {
    let limits = Limits::default();
    let ours =
        divide(problem, &[], limits).or_else(|| divide(problem, &[RuleName::Undivided], limits));
    let area = problem.panels[0].area.expect("an area");
    let capacity = area.capacity;
    let full = u64::from(problem.rules.fullest.0);
    let filled = by_hand(problem, |used| {
        u64::from(used) * 100 <= full * u64::from(capacity)
    });
    let words = problem.panels.len() - problem.pictures.len();
    let depth = problem.depth(area.column, 0, problem.rows.len());
    // In whole lines; one more, for lines that no panel can end with.
    let share = HalfLines::lines(depth.whole_lines().div_ceil(words) + 1);
    let equal = by_hand(problem, |used| used <= share.min(capacity));
    for (by, division) in [("us", ours), ("filling", filled), ("equal lines", equal)] {
        match division {
            None => println!("{name:<44} {:>6} {by:>14} no way", problem.panels.len()),
            Some(division) => row(name, by, problem, &division),
        }
    }
}

/// A panel at a time: a picture behind the panel of its words, else the most words that `fits` lets stand there.
fn by_hand(problem: &Problem, fits: impl Fn(HalfLines) -> bool) -> Option<PartDivision> {
    let mut told = problem.clone();
    let (mut from, mut placed) = (0, 0);
    for panel in 0..problem.panels.len() {
        let waits = problem
            .pictures
            .get(placed)
            .and_then(|picture| picture.word_row);
        let facts = &mut told.panels[panel];
        if waits.is_some_and(|row| row < from) {
            facts.role = Some(Role::Picture);
            placed += 1;
        } else if from == problem.rows.len() {
            facts.role = Some(Role::Blank);
        } else {
            let ends = problem.ends(facts.area?.column, from);
            let ends: Vec<(usize, HalfLines)> = ends.take(400).collect();
            let fit = ends.iter().take_while(|(_, used)| fits(*used));
            let end = fit.last().or(ends.first())?.0;
            facts.role = Some(Role::Text);
            facts.ends = Some(end);
            from = end;
        }
    }
    judged(&told)
}

/// The division with every rule weighed and none hard.
fn judged(problem: &Problem) -> Option<PartDivision> {
    let mut soft = problem.clone();
    for (name, ..) in RuleName::ALL {
        let weight = Weight {
            hard: Some(false),
            importance: 1,
        };
        soft.rules.weights.insert(name, weight);
    }
    divide(&soft, &[], Limits::default())
}

fn row(name: &str, by: &str, problem: &Problem, division: &PartDivision) {
    // Ours too is judged where it stands, with every rule weighed.
    let mut told = problem.clone();
    for (facts, panel) in told.panels.iter_mut().zip(&division.panels) {
        facts.role = Some(panel.role);
        facts.ends = Some(panel.rows.end);
    }
    let cost = judged(&told).map_or("-".to_string(), |judged| judged.cost.to_string());
    let mut divided = 0;
    let mut lone = 0;
    for panel in division
        .panels
        .iter()
        .filter(|panel| !panel.rows.is_empty())
    {
        let (from, to) = (panel.rows.start, panel.rows.end);
        let divides = |at: usize| problem.divides_stanza(at) || problem.divides_paragraph(at);
        divided += usize::from(divides(to));
        let of_block = |row: usize| {
            let block = problem.rows[row].block;
            (from..to)
                .filter(|&row| problem.rows[row].block == block)
                .count()
        };
        let prose = |row: usize| problem.rows[row].prose;
        lone += usize::from(divides(from) && !prose(from) && of_block(from) == 1);
        lone += usize::from(divides(to) && !prose(to - 1) && of_block(to - 1) == 1);
    }
    let shares = division
        .panels
        .iter()
        .filter(|panel| !panel.rows.is_empty());
    let shares = shares.map(|panel| 100 * u64::from(panel.used) / u64::from(panel.capacity).max(1));
    let away = problem.pictures.iter().enumerate().filter(|(at, picture)| {
        let row = picture.word_row.unwrap_or(0);
        let words = division
            .panels
            .iter()
            .position(|panel| panel.rows.contains(&row));
        let stands = division
            .panels
            .iter()
            .position(|panel| panel.picture == Some(*at));
        let distance = words
            .zip(stands)
            .map(|(words, stands)| stands as i64 - words as i64);
        !distance.is_some_and(|distance| (0..=1).contains(&distance))
    });
    println!(
        "{name:<44} {:>6} {by:>14} {cost:>9} {divided:>8} {lone:>6} {:>7} % {:>6} % {:>6}",
        problem.panels.len(),
        shares.clone().min().unwrap_or(0),
        shares.max().unwrap_or(0),
        away.count(),
    );
}
