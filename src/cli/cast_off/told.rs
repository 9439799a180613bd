//! The cast-off for people: two sentences, the table, and how many characters a line holds.

use unicode_width::UnicodeWidthStr;

use super::table::{WIDEST, table};
use crate::book::{CastOff, Comfort, Largest, Letters};
use crate::cli::speak;
use crate::names::{Length, decimals};

/// What is published as comfortable; the sources are named where [`Letters`] are found.
const COMFORTABLE: &str = "45 to 75 are held comfortable (Bringhurst).";
/// The fewest characters to a justified line, and the most to any, that are held right.
const LEAST_JUSTIFIED: f64 = 40.0;
const MOST: f64 = 80.0;
const MOST_IDEOGRAPHS: f64 = 40.0;

pub(super) fn told(found: &CastOff) -> String {
    let mut text = String::new();
    text.push_str(&format!("{}\n\n", speak::bold(&heading(found))));
    for sentence in sentences(found) {
        text.push_str(&folded(&sentence));
    }
    text.push('\n');
    text.push_str(&table(found));
    if let Some(letters) = &found.letters {
        text.push('\n');
        text.push_str(&folded(&of_letters(letters, found.size.0)));
    }
    text
}

/// The book and its panels.
fn heading(found: &CastOff) -> String {
    let sides = match found.sides {
        1 => "the front only",
        _ => "both sides",
    };
    let (width, height) = (found.panel.0.without_unit(), found.panel.1.without_unit());
    format!("{}: panels of {width} × {height} mm, {sides}", found.title)
}

/// A sentence on lines that a terminal has room for.
pub(super) fn folded(text: &str) -> String {
    let mut folded = String::new();
    let mut wide = 0;
    for word in text.split(' ') {
        let width = word.width();
        if wide > 0 && wide + 1 + width > WIDEST {
            folded.push('\n');
            wide = 0;
        } else if wide > 0 {
            folded.push(' ');
            wide += 1;
        }
        folded.push_str(word);
        wide += width;
    }
    folded + "\n"
}

/// The two answers.
fn sentences(found: &CastOff) -> Vec<String> {
    let mut told = Vec::new();
    told.push(match (&found.whole_lines, found.verse) {
        (_, 0) => "The text is all prose: there are no lines of verse to turn over.".to_string(),
        (Some(largest), lines) => format!(
            "The largest size at which {} is {}.",
            match (found.mostly_prose, lines) {
                (true, 1) => "the one line of verse does not turn over".to_string(),
                (true, lines) => format!("none of the {lines} lines of verse turns over"),
                (false, _) => "no line turns over".to_string(),
            },
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
                given_up(largest)
            ),
            None => format!("No size down to 6 pt fits the {panels}."),
        });
    }
    told
}

/// What a size costs.
fn given_up(largest: &Largest) -> String {
    let lines = match largest.turned_over {
        0 => None,
        1 => Some("one line turns over".to_string()),
        lines => Some(format!("{lines} lines turn over")),
    };
    let stanzas = match largest.stanzas_divided {
        0 => None,
        1 => Some("one stanza is divided".to_string()),
        stanzas => Some(format!("{stanzas} stanzas are divided")),
    };
    let told: Vec<String> = [lines, stanzas].into_iter().flatten().collect();
    match told.is_empty() {
        true => String::new(),
        false => format!("; {}", told.join(", ")),
    }
}

/// A size with its leading.
fn on(size: Length, leading: Length) -> String {
    format!("{} on {}", size.in_points(), leading.in_points())
}

/// How many characters a line holds, and what of that is comfortable.
fn of_letters(letters: &Letters, size: Length) -> String {
    let holds = format!(
        "At {} a line of {} mm holds about {:.0} characters, letters and spaces counted",
        size.in_points(),
        decimals(letters.measure.as_mm(), 1),
        letters.holds
    );
    if let Some(mean) = letters.prose {
        let more = of_prose(mean, letters);
        return format!("{holds}; full lines of prose have {mean:.0} on average. {more}");
    }
    let Some((middle, longest)) = letters.verse else {
        return format!("{holds}.");
    };
    let told =
        format!("{holds}; the poem’s lines have about {middle} as a rule, the longest {longest}.");
    let stand_whole = letters.holds > MOST && longest as f64 > MOST;
    match letters.comfort {
        Comfort::Letters if stand_whole => {
            format!("{told} More than 80 are hard to follow (WCAG 2).")
        }
        _ => told,
    }
}

/// What is to be said of the mean of lines of prose.
fn of_prose(mean: f64, letters: &Letters) -> String {
    let too_many = mean > MOST;
    match letters.comfort {
        Comfort::Ideographs if mean > MOST_IDEOGRAPHS => {
            "More than 40 are hard to follow (WCAG 2).".to_string()
        }
        Comfort::Ideographs => "Up to 40 are easy to follow (WCAG 2).".to_string(),
        Comfort::Letters if too_many => {
            format!("{COMFORTABLE} More than 80 are hard to follow (WCAG 2).")
        }
        Comfort::Letters if mean < LEAST_JUSTIFIED && letters.justified => {
            format!("{COMFORTABLE} Under 40, justified lines have uneven gaps between words.")
        }
        Comfort::Letters => COMFORTABLE.to_string(),
    }
}
