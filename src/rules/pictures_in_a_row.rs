//! `pictures-in-a-row`: the most panels of pictures alone in a row.
//!
//! Picture panels that follow each other along the part's panels are a run; a panel with words ends it. A blank
//! panel, and one on which the picture of the panel before goes on, count as nothing and end no run. Each panel of a run
//! beyond the most costs 100. The rule remembers how long the run is so far, up to the most.

use super::{
    About, Asks, Clause, Declared, Form, Group, Judges, Memory, PanelView, Problem, Remembers,
    Rule, Rules, Shown, Verdict,
};
use crate::names::Role;

/// What each panel more costs.
const COST: u64 = 100;

pub struct PicturesInARow;

impl Declared for PicturesInARow {
    const ABOUT: About = About {
        name: "pictures-in-a-row",
        group: Group::Order,
        hard: false,
        judges: Judges::Division,
        words: "The most panels of pictures alone in a row.",
    };
}

impl Asks for PicturesInARow {
    type Asked = u32;
    const UNLESS_SAID: u32 = 2;
    const FORM: Form<u32> = Form::whole(1, 400);
    const SHOWN: Shown<u32> = Shown::Usual("most panels of pictures alone in a row");
}

impl Rule for PicturesInARow {
    fn idle(&self, problem: &Problem) -> bool {
        let panels = problem.panels.len();
        let most = match problem.unnamed_pictures() {
            0 => problem.pictures.len().min(panels),
            _ => panels,
        };
        most <= problem.rules.pictures_in_a_row as usize
    }

    fn read(&self, reading: &PanelView<'_>) -> Verdict {
        self.read_on(0, reading).0
    }

    fn remembers(&self, _problem: &Problem) -> Remembers {
        Remembers::Roles
    }

    fn read_on(&self, run: Memory, reading: &PanelView<'_>) -> (Verdict, Memory) {
        let most = Memory::from(reading.problem.rules.pictures_in_a_row);
        let goes_on = reading.picture.is_some() && !reading.begins_picture;
        match reading.role {
            Role::Blank => (Verdict::KEPT, run),
            _ if goes_on => (Verdict::KEPT, run),
            Role::Picture if run >= most => (Verdict::broken(COST), most),
            Role::Picture => (Verdict::KEPT, run + 1),
            _ => (Verdict::KEPT, 0),
        }
    }

    fn in_words(&self, rules: &Rules) -> String {
        format!(
            "no more than {} panels of pictures in a row",
            rules.pictures_in_a_row
        )
    }

    fn given_up(&self, _rules: &Rules) -> Option<Clause> {
        Some(Clause::new(
            "makes more panels of pictures in a row than `pictures-in-a-row` asks",
            "make more panels of pictures in a row than `pictures-in-a-row` asks",
        ))
    }
}
