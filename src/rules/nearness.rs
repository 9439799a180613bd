//! `nearness`: pictures stand where a reader still sees their words, or soon after.
//!
//! A picture costs nothing on the spread of its words, on either panel of it; 20 for each spread that the reader leafs
//! on from its words, 40 for each from it to its words where it comes before them. Where the strip is turned over
//! between the two, that is 60 more, and so is each heading between. Spreads are counted as the part's panels come,
//! turnings included; a picture over several panels stands on all their spreads. A heading on the picture's own panel
//! is between if the words stand on a panel before; one that has no words above it in the part never is, and none is on
//! one spread.
//!
//! Both are charged panel by panel: whoever waits, words for their picture or a picture for its words, pays for each
//! step as it is made. So the rule need remember only who waits since the spread that it is on, for to them a heading
//! there is nothing yet; and not even that in a part without headings.

use super::waits::{Wait, waits};
use super::{
    About, Asks, Clause, Declared, Form, Group, Judges, Memory, PanelView, PictureFacts, Placed,
    Problem, Remembers, Rule, Rules, Shown, Verdict,
};

/// What each spread costs that a picture comes after its words, and before them.
const AFTER: u64 = 20;
const BEFORE: u64 = 40;
/// What the turn of the strip between them costs, and each heading.
const BETWEEN: u64 = 60;
/// That the words of the picture which is pinned to the next panel stand on this one.
const PINNED: Memory = 1 << 32;

pub struct Nearness;

impl Declared for Nearness {
    const ABOUT: About = About {
        name: "nearness",
        group: Group::Order,
        hard: false,
        judges: Judges::Division,
        words: "Pictures stand on the spread of their words or soon after, with no heading and no turn of the strip between.",
    };
}

impl Asks for Nearness {
    type Asked = bool;
    const UNLESS_SAID: bool = true;
    const FORM: Form<bool> = Form::SWITCH;
    const SHOWN: Shown<bool> = Shown::Usual("pictures on the spread of their words, or soon after");
}

impl Rule for Nearness {
    fn idle(&self, problem: &Problem) -> bool {
        let placed = |picture: &PictureFacts| {
            picture.word_row.is_some() && (picture.queued || picture.panel.is_some())
        };
        !problem.rules.nearness || !problem.pictures.iter().any(placed)
    }

    fn read(&self, reading: &PanelView<'_>) -> Verdict {
        self.read_on(0, reading).0
    }

    fn remembers(&self, _problem: &Problem) -> Remembers {
        Remembers::Words
    }

    fn read_on(&self, memory: Memory, reading: &PanelView<'_>) -> (Verdict, Memory) {
        let here = Here::new(reading);
        let (waiting, young) = of_queue(&here, memory & (PINNED - 1));
        let (pinned, next) = of_pinned(&here, memory & PINNED != 0);
        let memory = match here.ends_spread || !here.headings {
            true => 0,
            false => young | if next { PINNED } else { 0 },
        };
        let cost = waiting + pinned;
        let verdict = Verdict {
            broken: cost > 0,
            cost,
        };
        (verdict, memory)
    }

    fn reaching(&self, problem: &Problem, panel: usize, words: usize, pictures: usize) -> u64 {
        let step = Step::to(problem, panel);
        // One of the pictures that wait may stand on this panel still.
        let long = problem.pictures.iter().any(|picture| picture.spans > 1);
        let pictures = pictures.saturating_sub(usize::from(long));
        words as u64 * step.cost(false) + pictures as u64 * step.cost(true)
    }

    fn in_words(&self, _rules: &Rules) -> String {
        "pictures stand on the spread of their words or soon after".to_string()
    }

    fn given_up(&self, _rules: &Rules) -> Option<Clause> {
        Some(Clause::new(
            "has a picture far from its words",
            "have pictures far from their words",
        ))
    }
}

/// The step to a panel from the part's panel before.
#[derive(Clone, Copy)]
struct Step {
    spreads: u64,
    turns: bool,
}

impl Step {
    fn to(problem: &Problem, panel: usize) -> Step {
        let panels = &problem.panels;
        match (panel.checked_sub(1), panels.get(panel)) {
            (Some(before), Some(here)) => Step {
                spreads: panels[before].spread.abs_diff(here.spread) as u64,
                turns: panels[before].name.side != here.name.side,
            },
            _ => Step {
                spreads: 0,
                turns: false,
            },
        }
    }

    /// What it costs one who waits.
    fn cost(self, picture_first: bool) -> u64 {
        let each = if picture_first { BEFORE } else { AFTER };
        self.spreads * each + if self.turns { BETWEEN } else { 0 }
    }
}

/// A panel with what the rule looks at again and again.
struct Here<'a> {
    reading: &'a PanelView<'a>,
    /// The step to this panel.
    step: Step,
    /// Whether the spread goes on from the panel before, and whether it ends here.
    goes_on: bool,
    ends_spread: bool,
    /// Whether the part has more sections than one.
    headings: bool,
    /// How many sections begin on this panel.
    begun: u64,
}

impl<'a> Here<'a> {
    fn new(reading: &'a PanelView<'a>) -> Here<'a> {
        let problem = reading.problem;
        let step = Step::to(problem, reading.panel);
        let last = reading.panel + 1 == problem.panels.len();
        Here {
            reading,
            step,
            goes_on: reading.panel > 0 && step.spreads == 0,
            ends_spread: last || Step::to(problem, reading.panel + 1).spreads > 0,
            headings: problem.sections_between(0, problem.rows.len()) > 0,
            begun: problem.sections_between(reading.from, reading.to),
        }
    }

    /// How many sections begin on this panel behind the words of a picture.
    fn behind(&self, picture: &PictureFacts) -> u64 {
        let words = picture.word_row.map_or(0, |row| row + 1);
        self.reading
            .problem
            .sections_between(words, self.reading.to)
    }

    /// How many begin on this panel up to the words of a picture.
    fn before(&self, picture: &PictureFacts) -> u64 {
        let words = picture.word_row.map_or(0, |row| row + 1);
        self.reading
            .problem
            .sections_between(self.reading.from, words)
    }
}

/// What those cost that wait in the queue, and which of them wait since the same spread only, before this panel and
/// behind it. Where pictures keep their order these are the last that wait, so that their number tells them; else each
/// has a bit.
fn of_queue(here: &Here<'_>, young: Memory) -> (u64, Memory) {
    let mut cost = 0;
    let mut sections = 0;
    let mut still_young = 0;
    let mut waiting: u32 = 0;
    let in_order = matches!(here.reading.placed, Placed::First(_));
    let old = match in_order && young > 0 {
        true => waits(here.reading)
            .filter(|wait| wait.since.is_some())
            .count(),
        false => 0,
    };
    let is_young = |number: usize| match in_order {
        true => young > 0 && old - number <= young as usize,
        false => young >> number & 1 == 1,
    };
    for wait in waits(here.reading) {
        let stands = wait.picture_first && stands_still(here.reading, &wait);
        let young = match wait.since {
            None => true,
            Some(number) => stands || here.goes_on && is_young(number),
        };
        if wait.since.is_some() && !stands {
            cost += here.step.cost(wait.picture_first);
        }
        sections += match (wait.meets, young, wait.picture_first) {
            (true, true, _) => 0,
            (true, false, true) => here.before(wait.picture),
            (_, false, _) => here.begun,
            (false, true, false) if here.ends_spread => here.behind(wait.picture),
            (false, true, true) if here.ends_spread && wait.since.is_some() && !stands => {
                here.begun
            }
            _ => 0,
        };
        if !wait.meets {
            still_young += Memory::from(young) << if in_order { 0 } else { waiting };
            waiting += 1;
        }
    }
    (cost + BETWEEN * sections, still_young)
}

/// Whether a picture that waits is one that goes on on this panel.
fn stands_still(reading: &PanelView<'_>, wait: &Wait<'_>) -> bool {
    let on = reading.picture.filter(|_| !reading.begins_picture);
    on.is_some_and(|picture| {
        std::ptr::eq(&raw const reading.problem.pictures[picture], wait.picture)
    })
}

/// What those cost that are pinned, as far as it shows on this panel; and whether the words of the one that is pinned to
/// the next panel stand here. `young`: whether those of the one pinned to this panel stand on the panel before.
fn of_pinned(here: &Here<'_>, young: bool) -> (u64, bool) {
    let reading = here.reading;
    let panel = reading.panel;
    let (mut cost, mut next) = (0, false);
    let pictures = &reading.problem.pictures;
    if pictures.len() == reading.queue.len() {
        return (0, false);
    }
    let pinned = pictures.iter().filter(|picture| !picture.queued);
    for picture in pinned {
        let (Some(words), Some(first)) = (picture.word_row, picture.panel) else {
            continue;
        };
        let last = first + picture.spans - 1;
        let (told, come) = (words < reading.from, words < reading.to);
        let sections = if panel < first {
            // Whether the words are on the spread that this panel shares with the picture.
            let same = !here.ends_spread && panel + 1 == first;
            next |= come && !told && panel + 1 == first;
            match (told, come) {
                (true, _) => here.begun,
                (false, true) if !same => here.behind(picture),
                _ => 0,
            }
        } else if panel == first && told {
            if young && here.goes_on { 0 } else { here.begun }
        } else if panel > last && !told {
            let same = here.goes_on && panel == last + 1;
            match come {
                true if same => 0,
                true => here.before(picture),
                false => here.begun,
            }
        } else {
            0
        };
        let waits = panel <= first && told || panel > last && !told;
        cost += BETWEEN * sections
            + if waits {
                here.step.cost(panel > last)
            } else {
                0
            };
    }
    (cost, next)
}
