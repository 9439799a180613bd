//! `text-in-a-row`: the most panels of words alone in a row.
//!
//! Text panels that follow each other along the part's panels are a run; a title, a shared panel or a picture ends
//! it. A blank panel counts as nothing and ends no run: else blank panels would come to stand in the midst of what
//! is told, or of a sentence, only to end one. Each panel of a run beyond the most costs 100. A part without
//! pictures is not asked, for nothing could end its runs. The rule remembers how long the run is so far, up to the
//! most.

use super::{
    About, Asks, Clause, Declared, Form, Group, Judges, Memory, PanelFacts, PanelView, Problem,
    Remembers, Rule, Rules, Shown, Verdict,
};
use crate::names::Role;

/// What each panel more costs.
const COST: u64 = 100;

pub struct TextInARow;

impl Declared for TextInARow {
    const ABOUT: About = About {
        name: "text-in-a-row",
        group: Group::Order,
        hard: false,
        judges: Judges::Division,
        words: "The most panels of words alone in a row, in parts with pictures.",
    };
}

impl Asks for TextInARow {
    type Asked = u32;
    const UNLESS_SAID: u32 = 2;
    const FORM: Form<u32> = Form::whole(1, 400);
    const SHOWN: Shown<u32> =
        Shown::Usual("most panels of words alone in a row, in parts with pictures");
}

impl Rule for TextInARow {
    fn idle(&self, problem: &Problem) -> bool {
        let may = |panel: &PanelFacts| {
            panel.picture.is_none() && panel.role.is_none_or(|role| role == Role::Text)
        };
        if !problem.has_pictures() {
            return true;
        }
        let printed = problem
            .panels
            .iter()
            .filter(|panel| panel.role != Some(Role::Blank));
        let printed: Vec<&PanelFacts> = printed.collect();
        let runs = printed.split(|panel| !may(panel));
        let longest = runs.map(<[_]>::len).max().unwrap_or(0);
        longest.min(problem.rows.len()) <= problem.rules.text_in_a_row as usize
    }

    fn read(&self, reading: &PanelView<'_>) -> Verdict {
        self.read_on(0, reading).0
    }

    fn remembers(&self, _problem: &Problem) -> Remembers {
        Remembers::Roles
    }

    fn read_on(&self, run: Memory, reading: &PanelView<'_>) -> (Verdict, Memory) {
        let most = Memory::from(reading.problem.rules.text_in_a_row);
        match reading.role {
            Role::Text if run >= most => (Verdict::broken(COST), most),
            Role::Text => (Verdict::KEPT, run + 1),
            Role::Blank => (Verdict::KEPT, run),
            _ => (Verdict::KEPT, 0),
        }
    }

    fn in_words(&self, rules: &Rules) -> String {
        format!(
            "no more than {} panels of words in a row",
            rules.text_in_a_row
        )
    }

    fn given_up(&self, _rules: &Rules) -> Option<Clause> {
        Some(Clause::new(
            "makes more panels of words in a row than `text-in-a-row` asks",
            "make more panels of words in a row than `text-in-a-row` asks",
        ))
    }
}
