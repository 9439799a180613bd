//! In how few lines a paragraph could be set, told from how far along its unbroken line its breaks lie.

use crate::names::Length;
use crate::setting::Paragraph;

/// The breaks of a paragraph, each with where a line that begins there begins and where one that ends there ends: all
/// spaces as narrow as can be, all hanging out that may.
pub(super) struct Falls {
    breaks: Vec<(Length, Length)>,
    /// What is longest between two of them that are neighbours.
    pub longest: Length,
}

impl Falls {
    /// Those of a paragraph; `justified`: its spaces may become narrower.
    pub fn of(paragraph: &Paragraph, justified: bool) -> Falls {
        let all = Length::mm(1000);
        let points = paragraph.points_at(all, all);
        let breaks = points.iter().map(|point| match justified {
            true => (
                point.start - point.slack_to_start.shrink,
                point.end - point.slack_to_end.shrink,
            ),
            false => (point.start, point.end),
        });
        let breaks: Vec<(Length, Length)> = breaks.collect();
        let pieces = breaks.windows(2).map(|pair| pair[1].1 - pair[0].0);
        Falls {
            longest: pieces.max().unwrap_or_default(),
            breaks,
        }
    }

    /// The fewest lines of a measure: each as full as can be. An added hyphen, and what hangs, are no wider than `em`.
    pub fn fewest_lines(&self, measure: Length, em: Length) -> usize {
        let last = self.breaks.len().saturating_sub(1);
        let (mut lines, mut from) = (0, 0);
        while from < last {
            let begins = self.breaks[from].0;
            let mut next = from + 1;
            for (at, (start, end)) in self.breaks.iter().enumerate().skip(from + 1) {
                if *end - begins <= measure {
                    next = at;
                }
                if *start - begins > measure + em {
                    break;
                }
            }
            (lines, from) = (lines + 1, next);
        }
        lines
    }
}
