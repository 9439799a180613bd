//! `blanks`: how many panels of a part stay blank, and where.
//!
//! At the start, the run of blank panels that begins the part is counted; at the end, the run that ends it; anywhere,
//! all blank panels. Each that is too few or too many costs 80, and so does each blank panel outside the run. A part
//! that has no more panels than should stay blank is not asked.
//!
//! Unless you say, a part with pictures that all have names should have as many blank panels, anywhere, as
//! `blank-before`, `blank-between`, `ends-with` and `last-spread` ask for together, of the last two the greater; other
//! parts are not asked.
//!
//! The rule remembers how many blank panels it has counted so far, up to the number asked; at the start, one more
//! stands for a run that has ended. What is too many is charged at once: at the end it costs the same whether the run
//! goes on to the last panel or not.

use super::{
    About, Asks, Clause, Declared, Entry, Form, Group, Judges, Memory, PanelView, Piece, Problem,
    Remembers, Rule, Rules, Shown, Verdict,
};
use crate::names::Role;

/// What each panel more or less costs.
const COST: u64 = 80;

/// How many panels of a part stay blank, and where.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub struct Blanks {
    /// So many, 0 to 800.
    pub count: u16,
    /// Where they are.
    pub at: BlanksAt,
}

impl Blanks {
    /// What is asked where neither is said.
    const ONE: Blanks = Blanks {
        count: 1,
        at: BlanksAt::End,
    };
}

/// Where blank panels are asked for.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum BlanksAt {
    /// In the run of blank panels that begins the part.
    Start,
    /// In the run of blank panels that ends the part.
    End,
    /// Anywhere in the part.
    Anywhere,
}

pub struct BlanksRule;

impl Declared for BlanksRule {
    const ABOUT: About = About {
        name: "blanks",
        group: Group::Order,
        hard: false,
        judges: Judges::Division,
        words: "How many panels of a part stay blank, and where.",
    };
}

impl Asks for BlanksRule {
    type Asked = Option<Blanks>;
    const UNLESS_SAID: Option<Blanks> = None;
    const FORM: Form<Option<Blanks>> = Form::Table(
        || Some(Blanks::ONE),
        &[
            Entry {
                key: "count",
                words: "How many.",
                form: Form::Whole(
                    0,
                    800,
                    Piece {
                        get: |asked| asked.unwrap_or(Blanks::ONE).count.into(),
                        set: |asked, count| asked.get_or_insert(Blanks::ONE).count = count as u16,
                    },
                ),
            },
            Entry {
                key: "where",
                words: "Where they are counted: in the run of blank panels that begins the part, in the run that \
                        ends it, or anywhere.",
                form: Form::Words(&[
                    ("start", |asked| at(asked, BlanksAt::Start)),
                    ("end", |asked| at(asked, BlanksAt::End)),
                    ("anywhere", |asked| at(asked, BlanksAt::Anywhere)),
                ]),
            },
        ],
    );
    const SHOWN: Shown<Option<Blanks>> = Shown::Example(
        Some(Blanks::ONE),
        "panels that stay blank; or \"start\", \"anywhere\". Without it, in a\n\
         part with pictures, none but those that you ask for otherwise",
    );
}

fn at(asked: &mut Option<Blanks>, at: BlanksAt) {
    asked.get_or_insert(Blanks::ONE).at = at;
}

impl Rule for BlanksRule {
    fn idle(&self, problem: &Problem) -> bool {
        let asked = problem.rules.blanks;
        asked.is_none_or(|asked| problem.panels.len() <= usize::from(asked.count))
    }

    fn read(&self, reading: &PanelView<'_>) -> Verdict {
        self.read_on(0, reading).0
    }

    fn remembers(&self, _problem: &Problem) -> Remembers {
        Remembers::Roles
    }

    fn read_on(&self, memory: Memory, reading: &PanelView<'_>) -> (Verdict, Memory) {
        let problem = reading.problem;
        let Some(asked) = problem.rules.blanks.filter(|_| !self.idle(problem)) else {
            return (Verdict::KEPT, memory);
        };
        let blank = reading.role == Role::Blank;
        let (mut wrong, memory) = go_on(asked, memory as u64, blank);
        let count = u64::from(asked.count);
        if reading.panel + 1 == problem.panels.len() {
            // A run at the start that has ended has been paid for.
            wrong += count.saturating_sub(memory);
        }
        let verdict = match wrong {
            0 => Verdict::KEPT,
            wrong => Verdict::broken(COST * wrong),
        };
        (verdict, Memory::from(memory))
    }

    fn in_words(&self, rules: &Rules) -> String {
        let asked = match rules.blanks {
            Some(_) => "as many panels are blank as `blanks` asks, and where",
            None => "no panel is blank that need not be",
        };
        asked.to_string()
    }

    fn given_up(&self, _rules: &Rules) -> Option<Clause> {
        Some(Clause::new(
            "is not as `blanks` asks",
            "are not as `blanks` asks",
        ))
    }
}

/// How many blank panels too few or too many one panel more makes certain, and what is remembered then.
fn go_on(asked: Blanks, counted: u64, blank: bool) -> (u64, u64) {
    let count = u64::from(asked.count);
    match (asked.at, blank) {
        (BlanksAt::Start, false) if counted <= count => (count - counted, count + 1),
        (BlanksAt::End, false) => (counted, 0),
        (_, true) if counted < count => (0, counted + 1),
        (_, true) => (1, counted),
        (_, false) => (0, counted),
    }
}
