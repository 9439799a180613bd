//! The cast-off for people: two sentences, the table, and how many characters a line holds.

use super::table::table;
use crate::commands::speak;
use crate::units::{Length, decimals};
use crate::workbench::{CastOff, Comfort, Largest, Letters};

/// The fewest and the most characters to a line that the published sources hold right: see [`Letters`].
const COMFORTABLE: (f64, f64) = (45.0, 75.0);
const LEAST_JUSTIFIED: f64 = 40.0;
const MOST: f64 = 80.0;
const MOST_IDEOGRAPHS: f64 = 40.0;

pub(super) fn told(found: &CastOff) -> String {
    let mut text = String::new();
    text.push_str(&format!("{}\n\n", speak::bold(&found.title)));
    for sentence in sentences(found) {
        text.push_str(&format!("{sentence}\n"));
    }
    text.push('\n');
    text.push_str(&table(found));
    if let Some(letters) = &found.letters {
        text.push('\n');
        for line in of_letters(letters, found.size.0) {
            text.push_str(&format!("{line}\n"));
        }
    }
    text
}

/// The two answers.
fn sentences(found: &CastOff) -> Vec<String> {
    let mut told = Vec::new();
    told.push(match (&found.whole_lines, found.verse) {
        (_, false) => "The text is all prose: no line of verse can turn over.".to_string(),
        (Some(largest), _) => format!(
            "The largest size at which no line turns over is {}.",
            on(largest.size, largest.leading)
        ),
        (None, _) => "Some line turns over at every size down to 6 pt.".to_string(),
    });
    if let Some(per_side) = found.panels {
        let panels = match found.sides {
            1 => format!("{per_side} panels"),
            sides => format!(
                "{} panels ({per_side} a side)",
                usize::from(per_side) * sides
            ),
        };
        told.push(match &found.fits {
            Some(largest) => format!(
                "The largest size that fits the {panels} is {}{}.",
                on(largest.size, largest.leading),
                turned(largest, found.verse)
            ),
            None => format!("No size down to 6 pt fits the {panels}."),
        });
    }
    told
}

fn turned(largest: &Largest, verse: bool) -> String {
    match (largest.turned_over, verse) {
        (_, false) => String::new(),
        (0, _) => "; no line turns over".to_string(),
        (1, _) => "; one line turns over".to_string(),
        (lines, _) => format!("; {lines} lines turn over"),
    }
}

/// A size with its leading.
fn on(size: Length, leading: Length) -> String {
    format!("{} on {}", points(size), points(leading))
}

pub(super) fn points(length: Length) -> String {
    format!("{} pt", decimals(length.as_pt(), 2))
}

/// How many characters a line holds, and what of that is comfortable.
fn of_letters(letters: &Letters, size: Length) -> Vec<String> {
    let about = |number: f64| format!("{number:.0}");
    let mut told = Vec::new();
    let holds = format!(
        "At {} a line of {} mm holds about {} characters, letters and spaces counted",
        points(size),
        decimals(letters.measure.as_mm(), 1),
        about(letters.holds)
    );
    told.push(match (letters.prose, letters.verse) {
        (Some(mean), _) => format!("{holds}; full lines of prose have {}.", about(mean)),
        (None, Some((middle, longest))) => {
            format!("{holds};\nthe poem’s lines have {middle} as a rule, the longest {longest}.")
        }
        (None, None) => format!("{holds}."),
    });
    if let Some(mean) = letters.prose {
        told.push(of_prose(mean, letters));
    } else if let Some((_, longest)) = letters.verse
        && longest as f64 > MOST
        && letters.holds > MOST
        && letters.comfort == Comfort::Letters
    {
        told.push("Lines of more than 80 are hard to follow (WCAG 2).".to_string());
    }
    told
}

fn of_prose(mean: f64, letters: &Letters) -> String {
    if letters.comfort == Comfort::Ideographs {
        return match mean > MOST_IDEOGRAPHS {
            true => "That is a good deal: no more than 40 are asked for (WCAG 2).".to_string(),
            false => "No more than 40 are asked for (WCAG 2).".to_string(),
        };
    }
    let comfortable = "45 to 75 are held comfortable (Bringhurst)";
    if mean > MOST {
        format!("That is too many: {comfortable}, and more than 80 are hard to follow (WCAG 2).")
    } else if mean < LEAST_JUSTIFIED && letters.justified {
        format!(
            "That is too few for justified lines: under 40 the spaces between words become uneven;\n{comfortable}."
        )
    } else if mean < COMFORTABLE.0 {
        format!("That is rather few: {comfortable}.")
    } else if mean > COMFORTABLE.1 {
        format!("That is rather many: {comfortable}.")
    } else {
        format!(
            "That is comfortable: {}.",
            comfortable.replace("held comfortable", "held so")
        )
    }
}
