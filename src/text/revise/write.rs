//! Writing a line of the client's words with the mark-up that they keep.

use super::super::Style;
use super::super::escape::{plain_signs, signs_of_readings};
use super::super::scan::PhysicalKind;
use super::view::{Read, Region, line_alone};
use crate::names::SetAs;

/// What stands before a line's words.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Sign {
    None,
    Title,
    Heading,
    Step,
}

impl Sign {
    pub(super) fn of(kind: PhysicalKind, stepped: bool) -> Sign {
        match kind {
            PhysicalKind::Title => Sign::Title,
            PhysicalKind::Heading => Sign::Heading,
            _ if stepped => Sign::Step,
            _ => Sign::None,
        }
    }

    pub(super) fn written(self) -> &'static str {
        match self {
            Sign::None => "",
            Sign::Title => "# ",
            Sign::Heading => "## ",
            Sign::Step => ">> ",
        }
    }
}

/// A line to be written.
pub(super) struct Wanted<'a> {
    /// The client's words and inner spaces.
    pub words: &'a str,
    /// How each byte of them is stressed.
    pub styles: Vec<Style>,
    pub readings: Vec<Read>,
    pub sign: Sign,
    /// White space before it all.
    pub indent: &'a str,
    pub region: Region,
    /// Whether the client writes readings himself.
    pub literal: bool,
}

/// A line as it was written, and what of its mark-up could not be.
pub(super) struct Written {
    pub text: String,
    pub sign: Sign,
    pub styled: bool,
    pub with_readings: bool,
}

impl Wanted<'_> {
    /// The line, with as much of its mark-up as reads back as it should.
    pub(super) fn write(&self) -> Written {
        for sign in [self.sign, Sign::None] {
            for (styled, with_readings) in
                [(true, true), (true, false), (false, true), (false, false)]
            {
                let text = self.attempt(sign, styled, with_readings);
                if self.reads_back(&text, sign, styled, with_readings) {
                    return Written {
                        text,
                        sign,
                        styled,
                        with_readings,
                    };
                }
            }
        }
        // What `new` would have written.
        let text = super::super::escape(self.words, self.region.reads);
        Written {
            text: format!("{}{text}", self.indent),
            sign: Sign::None,
            styled: false,
            with_readings: false,
        }
    }

    fn attempt(&self, sign: Sign, styled: bool, with_readings: bool) -> String {
        let mut text = format!("{}{}", self.indent, sign.written());
        let alone = line_alone(self.words, false);
        let is_ornament = alone
            .as_ref()
            .is_some_and(|(line, ..)| line.kind == PhysicalKind::Ornament);
        if sign == Sign::None && is_ornament {
            text.push_str(self.words);
            return text;
        }
        let needs_plain = sign == Sign::None
            && alone.is_some_and(|(line, ..)| line.kind != PhysicalKind::Plain || line.stepped);
        let kept: Option<Vec<usize>> = match (self.region.reads, self.literal) {
            (false, _) => None,
            (true, true) => Some(signs_of_readings(self.words)),
            (true, false) => Some(Vec::new()),
        };
        // Signs at a heading's end would be taken for its own.
        let open = self.words.trim_end_matches('#').len();
        let heading = matches!(sign, Sign::Title | Sign::Heading) && open < self.words.len();
        let mut marks = Marks {
            wanted: self,
            styled,
            with_readings,
            open: Vec::new(),
        };
        plain_signs(self.words, kept.as_deref(), &mut text, |at, text| {
            marks.before(at, text);
            if at == 0 && needs_plain || heading && at == open {
                text.push('\\');
            }
        });
        text
    }

    fn reads_back(&self, text: &str, sign: Sign, styled: bool, with_readings: bool) -> bool {
        let Some((line, view, styles)) = line_alone(text, self.region.reads) else {
            return false;
        };
        if line.kind == PhysicalKind::Ornament {
            return sign == Sign::None && view == self.words;
        }
        let kind = match sign {
            Sign::Title => PhysicalKind::Title,
            Sign::Heading => PhysicalKind::Heading,
            Sign::None | Sign::Step => PhysicalKind::Plain,
        };
        if line.kind != kind || line.stepped != (sign == Sign::Step) {
            return false;
        }
        if sign == Sign::Step && self.region.set_as == SetAs::Prose {
            return false;
        }
        let plain_readings = self.region.reads && (self.literal || with_readings);
        match plain_readings && (self.literal || !self.readings.is_empty()) {
            // Bases and readings follow each other in such a view.
            true => view.chars().filter(|c| !self.words.contains(*c)).count() <= self.read_signs(),
            false => {
                let wanted = if styled {
                    self.styles.clone()
                } else {
                    vec![Style::default(); view.len()]
                };
                view == self.words && styles == wanted
            }
        }
    }

    fn read_signs(&self) -> usize {
        self.readings
            .iter()
            .map(|read| read.reading.chars().count())
            .sum()
    }
}

/// Writes the signs of emphasis and readings between the words.
struct Marks<'a, 'b> {
    wanted: &'a Wanted<'b>,
    styled: bool,
    with_readings: bool,
    /// What is open, outermost first; true for strong.
    open: Vec<bool>,
}

impl Marks<'_, '_> {
    fn before(&mut self, at: usize, text: &mut String) {
        let style = match self.styled {
            true => self.wanted.styles.get(at).copied().unwrap_or_default(),
            false => Style::default(),
        };
        let readings = self.wanted.readings.iter().filter(|_| self.with_readings);
        for read in readings.clone().filter(|read| read.base.end == at) {
            text.push_str(&format!("《{}》", read.reading));
        }
        let stays = |strong: bool| if strong { style.strong } else { style.emphasis };
        // What is inside of something that ends, ends first, and begins again.
        while self.open.iter().any(|strong| !stays(*strong)) {
            let strong = self.open.pop() == Some(true);
            text.push_str(if strong { "**" } else { "*" });
        }
        for (strong, wanted) in [(true, style.strong), (false, style.emphasis)] {
            if wanted && !self.open.contains(&strong) {
                text.push_str(if strong { "**" } else { "*" });
                self.open.push(strong);
            }
        }
        for read in readings.filter(|read| read.base.start == at && read.barred) {
            let _ = read;
            text.push('｜');
        }
    }
}
