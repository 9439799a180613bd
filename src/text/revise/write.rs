//! Writing a line of the client's words with the mark-up that they keep.

use super::super::Style;
use super::super::escape::{plain_signs, signs_of_readings};
use super::super::scan::PhysicalKind;
use super::view::{BaseReading, Region, line_alone};
use crate::names::SetAs;

/// What stands before a line's words.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum LineSign {
    None,
    Title,
    Heading,
    Subheading,
    Step,
}

impl LineSign {
    pub(super) fn of(kind: PhysicalKind, stepped: bool) -> LineSign {
        match kind {
            PhysicalKind::Title => LineSign::Title,
            PhysicalKind::Heading => LineSign::Heading,
            PhysicalKind::Subheading => LineSign::Subheading,
            _ if stepped => LineSign::Step,
            _ => LineSign::None,
        }
    }

    fn is_heading(self) -> bool {
        matches!(
            self,
            LineSign::Title | LineSign::Heading | LineSign::Subheading
        )
    }

    pub(super) fn written(self) -> &'static str {
        match self {
            LineSign::None => "",
            LineSign::Title => "# ",
            LineSign::Heading => "## ",
            LineSign::Subheading => "### ",
            LineSign::Step => ">> ",
        }
    }
}

/// A line that is to be written.
pub(super) struct LineToWrite<'a> {
    /// The client's words and inner spaces.
    pub words: &'a str,
    /// How each byte of them is stressed.
    pub styles: Vec<Style>,
    pub readings: Vec<BaseReading>,
    pub sign: LineSign,
    /// The white space at its head.
    pub indent: &'a str,
    pub region: Region,
    /// Whether the client writes readings himself.
    pub literal: bool,
}

/// A line that was written, and which of its mark-up could be.
pub(super) struct WrittenLine {
    pub text: String,
    pub sign: LineSign,
    pub styled: bool,
    pub with_readings: bool,
}

impl LineToWrite<'_> {
    /// The line, with as much of its mark-up as reads back as it should.
    pub(super) fn write(&self) -> WrittenLine {
        for sign in [self.sign, LineSign::None] {
            for (styled, with_readings) in
                [(true, true), (true, false), (false, true), (false, false)]
            {
                let text = self.attempt(sign, styled, with_readings);
                if self.reads_back(&text, sign, styled, with_readings) {
                    return WrittenLine {
                        text,
                        sign,
                        styled,
                        with_readings,
                    };
                }
            }
        }
        // Plain words, as a new manuscript would have them, always read back.
        let text = super::super::escape(self.words, self.region.reads);
        WrittenLine {
            text: format!("{}{text}", self.indent),
            sign: LineSign::None,
            styled: false,
            with_readings: false,
        }
    }

    /// The line with this sign, and with emphasis and readings if they are asked for.
    fn attempt(&self, sign: LineSign, styled: bool, with_readings: bool) -> String {
        let mut text = format!("{}{}", self.indent, sign.written());
        let alone = line_alone(self.words, false);
        let is_ornament = alone
            .as_ref()
            .is_some_and(|(line, ..)| line.kind == PhysicalKind::Ornament);
        if sign == LineSign::None && is_ornament {
            text.push_str(self.words);
            return text;
        }
        let needs_plain = sign == LineSign::None
            && alone.is_some_and(|(line, ..)| line.kind != PhysicalKind::Plain || line.stepped);
        let kept: Option<Vec<usize>> = match (self.region.reads, self.literal) {
            (false, _) => None,
            (true, true) => Some(signs_of_readings(self.words)),
            (true, false) => Some(Vec::new()),
        };
        // Signs at a heading's end would be taken for its own.
        let open = self.words.trim_end_matches('#').len();
        let heading = sign.is_heading() && open < self.words.len();
        let mut marks = MarkupWriter {
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

    /// Whether a line that was written reads as it should.
    fn reads_back(&self, text: &str, sign: LineSign, styled: bool, with_readings: bool) -> bool {
        let Some((line, view, styles)) = line_alone(text, self.region.reads) else {
            return false;
        };
        if line.kind == PhysicalKind::Ornament {
            return sign == LineSign::None && view == self.words;
        }
        let kind = match sign {
            LineSign::Title => PhysicalKind::Title,
            LineSign::Heading => PhysicalKind::Heading,
            LineSign::Subheading => PhysicalKind::Subheading,
            LineSign::None | LineSign::Step => PhysicalKind::Plain,
        };
        if line.kind != kind || line.stepped != (sign == LineSign::Step) {
            return false;
        }
        if sign == LineSign::Step && self.region.set_as == SetAs::Prose {
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

    /// How many characters the readings of the line have.
    fn read_signs(&self) -> usize {
        self.readings
            .iter()
            .map(|read| read.reading.chars().count())
            .sum()
    }
}

/// Writes the signs of emphasis and readings between the words.
struct MarkupWriter<'a, 'b> {
    wanted: &'a LineToWrite<'b>,
    styled: bool,
    with_readings: bool,
    /// The emphasis that is open, outermost first: true for strong.
    open: Vec<bool>,
}

impl MarkupWriter<'_, '_> {
    /// Writes what stands between two characters, before the one at byte `at`.
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
        // Emphasis within one that ends has to end first, and begins again behind it.
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
