//! The lines of a manuscript without their mark-up.

use std::ops::Range;

use super::super::scan::{PhysicalKind, PhysicalLine};
use super::super::{Manuscript, Ruby, Style, TileKind};
use super::view::{BaseReading, Region, ViewLine};

/// What each byte of a manuscript is.
pub(super) struct VisibleText {
    shown: Vec<bool>,
    styles: Vec<Style>,
    rubies: Vec<Ruby>,
}

impl VisibleText {
    pub(super) fn of(read: &Manuscript, literal: bool) -> VisibleText {
        let text = &read.source().text;
        let mut visible = VisibleText {
            shown: vec![false; text.len()],
            styles: vec![Style::default(); text.len()],
            rubies: Vec::new(),
        };
        for tile in read.tiles() {
            let shown = matches!(tile.kind, TileKind::Word | TileKind::Space);
            visible.shown[tile.range()].fill(shown);
        }
        for line in read.parts().iter().flat_map(|part| &part.lines) {
            for run in &line.runs {
                visible.styles[run.from..run.to].fill(run.style);
            }
            for ruby in &line.rubies {
                let sign = '《'.len_utf8();
                let bar = ruby.base.start.saturating_sub(sign)..ruby.base.start;
                let around = ruby.reading.start - sign..ruby.reading.end + sign;
                match literal {
                    true => {
                        visible.shown[around].fill(true);
                        if text.get(bar.clone()) == Some("｜") && !visible.shown[bar.start] {
                            visible.shown[bar].fill(true);
                        }
                    }
                    false => {
                        visible.shown[around].fill(false);
                        visible.rubies.push(ruby.clone());
                    }
                }
            }
        }
        visible
    }

    /// A physical line without its mark-up: `raw` is its bytes, `end` those of its line end.
    pub(super) fn line(
        &mut self,
        text: &str,
        physical: PhysicalLine,
        raw: Range<usize>,
        end: Range<usize>,
        region: Region,
    ) -> ViewLine {
        let content = physical.content.clone();
        let (mut view, mut styles, mut places) = (String::new(), Vec::new(), Vec::new());
        let is_text = !matches!(physical.kind, PhysicalKind::Blank | PhysicalKind::Callout);
        for (at, c) in text[content.clone()].char_indices() {
            let at = content.start + at;
            if is_text && self.shown[at] {
                view.push(c);
                styles.extend(vec![self.styles[at]; c.len_utf8()]);
                places.extend(vec![at; c.len_utf8()]);
            }
        }
        let is_space = |c| c == ' ' || c == '\t';
        let tail = view.trim_end_matches(is_space).len();
        let head = view.len() - view.trim_start_matches(is_space).len();
        let (head, tail) = (head.min(tail), tail);
        let view = view[head..tail].to_string();
        let (styles, places) = (styles[head..tail].to_vec(), &places[head..tail]);
        let within = self
            .rubies
            .iter()
            .filter(|ruby| content.contains(&ruby.base.start));
        let readings = within.filter_map(|ruby| {
            let from = places.iter().position(|at| *at >= ruby.base.start)?;
            let to = places.iter().rposition(|at| *at < ruby.base.end)? + 1;
            let before = &text[content.start..ruby.base.start];
            Some(BaseReading {
                base: from..to,
                reading: text[ruby.reading.clone()].to_string(),
                barred: before.ends_with('｜'),
            })
        });
        ViewLine {
            readings: readings.collect(),
            raw,
            end,
            kind: physical.kind,
            stepped: physical.stepped,
            half_ems: physical.half_ems,
            view,
            styles,
            words: 0..0,
            region,
            content,
        }
    }
}
