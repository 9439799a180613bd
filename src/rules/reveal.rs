//! `reveal`: pictures that a reader sees only once she has turned from their words.
//!
//! Such a picture stands on the spread after that of its words, neither on it nor before, nor later: spreads are counted
//! over the whole strip in the order of leafing, so that behind the last of the front comes the first of the back, once
//! the strip is turned. Of a picture over several panels its first is asked. Each that stands elsewhere costs 120, as
//! `picture-with` does, which asks the same of all pictures.

use super::spreads_after::{asked_of_any, spreads_amiss};
use super::{
    About, Asks, Clause, Declared, Form, Group, Judges, Memory, PanelView, PictureFacts, Problem,
    Remembers, Rule, Rules, Shown, Verdict,
};

/// What a picture that is seen elsewhere costs.
const COST: u64 = 120;

pub struct Reveal;

impl Declared for Reveal {
    const ABOUT: About = About {
        name: "reveal",
        group: Group::Order,
        hard: false,
        judges: Judges::Division,
        words: "Pictures that are seen only after a turn from their words, on the next spread.",
    };
}

impl Asks for Reveal {
    type Asked = ();
    const UNLESS_SAID: () = ();
    const FORM: Form<()> = Form::Pictures;
    const SHOWN: Shown<()> = Shown::Usual("pictures that are seen on the spread after their words");
}

impl Rule for Reveal {
    fn idle(&self, problem: &Problem) -> bool {
        !asked_of_any(problem, asked)
    }

    fn read(&self, reading: &PanelView<'_>) -> Verdict {
        self.read_on(0, reading).0
    }

    fn remembers(&self, _problem: &Problem) -> Remembers {
        Remembers::Words
    }

    fn read_on(&self, memory: Memory, reading: &PanelView<'_>) -> (Verdict, Memory) {
        let (amiss, memory) = spreads_amiss(memory, reading, asked);
        let verdict = match amiss {
            0 => Verdict::KEPT,
            amiss => Verdict::broken(amiss * COST),
        };
        (verdict, memory)
    }

    fn in_words(&self, _rules: &Rules) -> String {
        "each picture of `reveal` stands on the spread after its words".to_string()
    }

    fn given_up(&self, _rules: &Rules) -> Option<Clause> {
        Some(Clause::new(
            "leaves a picture on another spread than `reveal` asks",
            "leave pictures on other spreads than `reveal` asks",
        ))
    }
}

/// One spread on, where it is asked.
fn asked(picture: &PictureFacts) -> Option<i64> {
    picture.reveal.then_some(1)
}
