//! What is told where printed lines could not stay: by how much they would move, and what would mend that.

use super::keeping::Keeping;
use super::{Now, Printed, has_seals};
use crate::layout::LaidLine;
use crate::layout::breaks::KeptPanel;
use crate::layout::fingerprint::Age;
use crate::names::{Deed, Fault, Faults, Length, Location, and_list};

impl Keeping<'_> {
    /// A printed row that is no more, with others below it.
    pub(super) fn gone(&mut self, gone: &Printed<'_>, printed: &[Printed<'_>], before: usize) {
        let panel = self.kept.panel;
        let below: usize = printed[before..].iter().map(|row| row.lines.len()).sum();
        let by = self.on.leading() * gone.lines.len() as i64;
        let what = format!(
            "{panel} is passed for press, and its line “{}” is gone: the {} below would move up by {by}",
            gone.text,
            lines(below)
        );
        let help = "put a line in its place; or release the panel";
        let fault = fault_at(self.kept, what).or_release(help, panel);
        self.faults.push(fault);
    }

    /// A corrected row that takes more lines, or fewer, than are printed.
    pub(super) fn moves(
        &self,
        was: &Printed<'_>,
        is: &Now<'_>,
        (more, below): (i64, usize),
        set: &[LaidLine],
    ) -> Fault {
        let panel = self.kept.panel;
        let by = self.on.leading() * more.abs();
        let takes = format!(
            "{panel} is passed for press, and the corrected words take {} where {} printed",
            lines(set.len()),
            match was.lines.len() {
                1 => "1 is".to_string(),
                count => format!("{count} are"),
            }
        );
        let what = match (below, more > 0) {
            (0, true) => format!("{takes}: there is no room for the last"),
            (0, false) => takes,
            (below, down) => {
                let way = if down { "down" } else { "up" };
                format!(
                    "{takes}: the {} below would move {way} by {by}",
                    lines(below)
                )
            }
        };
        let mend = match self.on.too_wide(is).filter(|_| more > 0) {
            Some((over, letters)) => {
                format!(
                    "they are {over} too wide: shorten them by about {letters}, or release the panel"
                )
            }
            None if more > 0 => "shorten them, or release the panel".to_string(),
            None => "write as much as before, or release the panel".to_string(),
        };
        self.at_words(set, what).or_release(mend, panel)
    }

    /// A corrected paragraph that goes on behind the panel and has no line that ends where the panel's words do.
    pub(super) fn does_not_end_there(&self, set: &[LaidLine]) -> Fault {
        let panel = self.kept.panel;
        let what = format!(
            "{panel} is passed for press, and its corrected words fall into lines of which none ends where the panel \
             does"
        );
        let help = "write as much as before, or release the panel";
        self.at_words(set, what).or_release(help, panel)
    }

    /// A fault about words of the manuscript.
    pub(super) fn at_words(&self, set: &[LaidLine], what: String) -> Fault {
        let first = set.iter().find_map(|line| line.sources.first());
        let last = set.iter().rev().find_map(|line| line.sources.last());
        let fault = Fault::new("passed", what);
        match first.zip(last) {
            Some((first, last)) => {
                let source = self.on.ready.manuscript.source();
                fault.at(Location::new(source, first.0..last.1))
            }
            None => fault,
        }
    }
}

/// Lines would have other glyphs than those that are printed.
pub(super) fn otherwise(kept: &KeptPanel) -> Fault {
    let panel = kept.panel;
    if has_seals(kept, Age::Newer) {
        let what = format!(
            "{panel} is passed for press, by a newer version of the program, whose seals this one cannot read"
        );
        let help = "use that version; or, to pass it again with this one, release the panel";
        return fault_at(kept, what).or_release(help, panel);
    }
    if has_seals(kept, Age::Older) {
        let what = format!(
            "{panel} is passed for press, by an older version of the program, which leaves only its words and their \
             places to know its lines by: and its words would now stand elsewhere than they are printed"
        );
        let help = "take back what was changed since, pass again what is printed, which seals it anew, and correct then; \
                    or release the panel";
        return fault_at(kept, what).or_release(help, panel);
    }
    let what = format!(
        "{} is passed for press, and its words would be set otherwise than they are printed: the plan, or what now \
         stands before them, asks another title, typeface, size, colour or way of setting",
        kept.panel
    );
    let help = "take that change of the plan back, or release the panel";
    fault_at(kept, what).or_release(help, kept.panel)
}

pub(super) fn fault_at(kept: &KeptPanel, what: String) -> Fault {
    let fault = Fault::new("passed", what);
    match &kept.place {
        Some(place) => fault.at(place.clone()),
        None => fault,
    }
}

pub(super) fn lines(count: usize) -> String {
    match count {
        1 => "1 line".to_string(),
        count => format!("{count} lines"),
    }
}

/// The page of a panel would be another than it is printed on.
pub(in crate::layout) fn other_page(kept: &KeptPanel, page: [Length; 3]) -> Option<Fault> {
    let printed = kept.page.filter(|printed| *printed != page)?;
    let told =
        |[width, height, bleed]: [Length; 3]| format!("{width} × {height} with {bleed} of bleed");
    let what = format!(
        "{} is passed for press at {}, and the plan now makes it {}",
        kept.panel,
        told(printed),
        told(page)
    );
    let help = "put the plan's paper back, or release the panel";
    Some(fault_at(kept, what).or_release(help, kept.panel))
}

/// Faults, with those that say the same of several panels told once. One change of the plan concerns all of them.
pub(in crate::layout) fn together(faults: Faults) -> Faults {
    let mut found: Vec<(String, Vec<String>, Fault)> = Vec::new();
    for fault in faults {
        let (name, rest) = match fault.what.split_once(PASSED) {
            Some((name, rest)) => (name.to_string(), rest.to_string()),
            None => (String::new(), fault.what.clone()),
        };
        let same = found
            .iter_mut()
            .find(|(known, ..)| !name.is_empty() && *known == rest);
        match same {
            Some((_, names, _)) => names.push(name),
            None => found.push((rest, vec![name], fault)),
        }
    }
    let told = found.into_iter().map(|(rest, names, fault)| {
        if names.len() < 2 {
            return fault;
        }
        let who = match names.len() {
            many if many > 8 => format!("{many} panels"),
            _ => and_list(&names),
        };
        let rest = rest
            .replace("its words", "their words")
            .replace("its lines", "their lines")
            .replace("makes it", "makes them");
        let help = fault
            .help
            .as_deref()
            .map(|help| match help.strip_suffix("the panel") {
                Some(before) => format!("{before}the panels"),
                None => help.to_string(),
            });
        Fault {
            what: format!("{who} are passed for press{rest}"),
            help,
            deed: Some(Deed::Release(names)),
            ..fault
        }
    });
    told.collect()
}

/// How each sentence of this kind begins, behind the panel's name.
const PASSED: &str = " is passed for press";
