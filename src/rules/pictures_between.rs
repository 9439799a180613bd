//! `pictures-between`: a picture without a name comes where the words pause.
//!
//! At the end of a section, or behind the last words, it costs nothing; between two stanzas or paragraphs 20 where the
//! sentence ends and 35 where it does not; in the midst of one 70 and 100; and before the first words 100.

use super::{
    About, Clause, Declared, Ending, Group, Judges, PanelView, Problem, Rule, Rules, Verdict,
};

/// What a picture costs between two stanzas or paragraphs, where a sentence ends and where it goes on.
const BETWEEN: [u64; 2] = [20, 35];
/// What it costs in the midst of one.
const WITHIN: [u64; 2] = [70, 100];
/// What it costs before the first words.
const FIRST: u64 = 100;

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
        let Some(below) = problem.words_from(at) else {
            return Verdict::KEPT;
        };
        let above = problem.words_before(at);
        let Some(above) = above.filter(|&row| row >= problem.opening) else {
            return Verdict::broken(FIRST);
        };
        let (above, below) = (&problem.rows[above], &problem.rows[below]);
        let goes_on = usize::from(above.ending != Ending::Sentence);
        if problem.within_stanza(at) || problem.within_paragraph(at) {
            Verdict::broken(WITHIN[goes_on])
        } else if above.section != below.section {
            Verdict::KEPT
        } else {
            Verdict::allowed(BETWEEN[goes_on])
        }
    }

    fn in_words(&self, _rules: &Rules) -> String {
        "pictures without a name come at the end of a section, stanza or paragraph".to_string()
    }

    fn given_up(&self, _rules: &Rules) -> Option<Clause> {
        Some(Clause {
            from: WITHIN[0],
            ..Clause::new(
                "keeps a picture in the midst of a stanza or paragraph, or before the first words",
                "keep pictures in the midst of a stanza or paragraph, or before the first words",
            )
        })
    }
}
