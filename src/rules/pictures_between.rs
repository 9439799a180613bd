//! `pictures-between`: a picture without a name comes where the words pause.
//!
//! At the end of a section, or behind the last words, it costs nothing; between two stanzas or paragraphs 20 where the
//! sentence ends and 35 where it does not; in the midst of one, and before the first words, 100.

use super::{
    About, Clause, Declared, Ending, Group, Judges, PanelView, Problem, Rule, Rules, Verdict,
};

/// What a picture costs between two stanzas or paragraphs where a sentence ends.
const BETWEEN: u64 = 20;
/// What it costs there where the sentence goes on.
const GOES_ON: u64 = 35;
/// What it costs in the midst of one, and before the first words.
const WITHIN: u64 = 100;

pub struct PicturesBetween;

impl Declared for PicturesBetween {
    const ABOUT: About = About {
        name: "pictures-between",
        group: Group::Order,
        hard: false,
        judges: Judges::Division,
        words: "Pictures without a name come at the end of a section, stanza or paragraph, not in the midst of one.",
    };
}

impl Rule for PicturesBetween {
    fn idle(&self, problem: &Problem) -> bool {
        problem.rows.is_empty() || problem.unnamed_pictures() == 0
    }

    fn read(&self, reading: &PanelView<'_>) -> Verdict {
        if !reading.has_unnamed_picture() {
            return Verdict::KEPT;
        }
        let (problem, at) = (reading.problem, reading.from);
        if problem.words_from(at).is_none() {
            return Verdict::KEPT;
        }
        let above = problem.words_before(at);
        let (Some(above), Some(below)) = (
            above.filter(|&row| row >= problem.opening),
            problem.words_from(at),
        ) else {
            return Verdict::broken(WITHIN);
        };
        let (above, below) = (&problem.rows[above], &problem.rows[below]);
        if problem.within_stanza(at) || problem.within_paragraph(at) {
            Verdict::broken(WITHIN)
        } else if above.section != below.section {
            Verdict::KEPT
        } else if above.ending == Ending::Sentence {
            Verdict::allowed(BETWEEN)
        } else {
            Verdict::allowed(GOES_ON)
        }
    }

    fn in_words(&self, _rules: &Rules) -> String {
        "pictures without a name come at the end of a section, stanza or paragraph".to_string()
    }

    fn given_up(&self, _rules: &Rules) -> Option<Clause> {
        Some(Clause {
            from: WITHIN,
            ..Clause::new(
                "keeps a picture in the midst of a stanza or paragraph, or before the first words",
                "keep pictures in the midst of a stanza or paragraph, or before the first words",
            )
        })
    }
}
