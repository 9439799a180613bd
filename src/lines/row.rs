//! Setting the rows of a part: voices, indents, spaces, and the pieces at every measure.

use std::collections::HashMap;
use std::ops::Range;

use unicode_segmentation::UnicodeSegmentation;

use super::areas::{AreaId, Areas};
use super::shaped::{Drop, ShapedLine, stressed};
use super::turnover::{Break, begins_phrase, breaks, divide};
use super::{Note, Piece, Row, RowAt, RowNote, Setting, heading, usual};
use crate::fault::{Fault, Faults};
use crate::manuscript::{LineKind, Manuscript, Part, Run, TextLine};
use crate::plan::{Align, Hang, Opening, PartPlan, TextStyle, Turnover};
use crate::typeface::{Context, Shaper, Shelf, Stress, Typeface, Voice};
use crate::units::Length;

/// Half lines of the grid in a line.
const LINE: u32 = 2;

/// A part, set; see [`super::SetPart`].
pub(super) struct PartSet {
    pub typeface: Typeface,
    pub rows: Vec<Row>,
    pub settings: Vec<Setting>,
    pub setting_of_area: Vec<Option<usize>>,
}

/// Sets every line of a part at every setting that its panels use.
pub(super) fn set_part(
    manuscript: &Manuscript,
    part: &Part,
    plan: &PartPlan,
    typeface: Typeface,
    areas: &Areas,
    shelf: &Shelf,
) -> Result<PartSet, Faults> {
    let shaper = Shaper::new(&typeface, &plan.language);
    let setter = Setter {
        manuscript,
        part,
        style: &plan.text,
        language: &plan.language,
        shaper: &shaper,
        areas,
    };
    let mut faults = setter.opening_faults(plan);
    let mut rows = setter.rows();
    faults.extend(super::row::missing(
        manuscript,
        &rows,
        &part.lines,
        &shaper,
        shelf,
    ));
    if !faults.is_empty() {
        return Err(faults);
    }
    let (settings, setting_of_area) = setter.settings(plan, &rows);
    for setting in &settings {
        let set = setter.set_rows(&rows, setting);
        for (row, at) in rows.iter_mut().zip(set) {
            row.at.push(at);
        }
    }
    setter.join_drop(&mut rows);
    drop(shaper);
    Ok(PartSet {
        typeface,
        rows,
        settings,
        setting_of_area,
    })
}

struct Setter<'a> {
    manuscript: &'a Manuscript,
    part: &'a Part,
    style: &'a TextStyle,
    language: &'a str,
    shaper: &'a Shaper<'a>,
    areas: &'a Areas,
}

impl Setter<'_> {
    /// Small capitals are never faked.
    fn opening_faults(&self, plan: &PartPlan) -> Faults {
        let lacks = !self.shaper.face(Stress::Plain).has_feature(b"smcp");
        if self.style.opening != Opening::SmallCaps || !lacks {
            return Vec::new();
        }
        let fault = Fault::new(
            "opening",
            "`opening = \"small-caps\"` asks for small capitals, which this typeface does not have",
        )
        .allowed("\"none\", { drop = 2 }, or a typeface with the OpenType feature smcp");
        let place = self
            .style
            .typeface
            .place
            .clone()
            .or_else(|| plan.place.clone());
        vec![match place {
            Some(place) => fault.at(place),
            None => fault,
        }]
    }

    fn rows(&self) -> Vec<Row> {
        let first_verse = self.part.lines.iter().position(|line| line.kind.is_verse());
        let mut rows: Vec<Row> = Vec::with_capacity(self.part.lines.len());
        for (index, line) in self.part.lines.iter().enumerate() {
            let opens = first_verse == Some(index);
            let above = index.checked_sub(1).map(|above| &self.part.lines[above]);
            rows.push(self.row(index, line, above, opens));
        }
        rows
    }

    fn row(&self, index: usize, line: &TextLine, above: Option<&TextLine>, opens: bool) -> Row {
        let voice = self.voice(&line.kind, opens);
        let source = &self.manuscript.source().text;
        let mut shaped = ShapedLine::from_runs(source, &line.runs, |run: &Run| Voice {
            stress: stressed(voice.stress, run),
            ..voice
        });
        if let (true, Opening::Drop(lines)) = (opens, self.style.opening) {
            shaped.drop = self.drop_initial(&shaped.text, voice, lines);
        }
        // Among lines that are not set left, an indent of its own would only push an epigraph aside.
        let set_in = line.kind == LineKind::Epigraph
            && !matches!(self.style.align, Align::Right | Align::Centre);
        let half_ems = line.half_ems as i64 + if set_in { 4 } else { 0 };
        Row {
            line: index,
            kind: line.kind.clone(),
            block: line.block,
            indent: self.style.size * half_ems / 2,
            stepped: line.stepped,
            space_above: above.map_or(0, |above| self.space_above(line, above)),
            joined: above.is_some_and(|above| is_joined(line, above)),
            kept: line.kept,
            may_divide: line.may_divide,
            new_panel: line.new_panel,
            shaped,
            voice,
            at: Vec::new(),
        }
    }

    /// How the plain words of a kind of line are set.
    fn voice(&self, kind: &LineKind, opens: bool) -> Voice {
        let plain = Voice {
            stress: Stress::Plain,
            small_caps: false,
            size: self.style.size,
            tracking: Length::ZERO,
        };
        match kind {
            LineKind::Title => title_voice(self.style),
            LineKind::Heading if self.shaper.face(Stress::Plain).has_feature(b"smcp") => Voice {
                small_caps: true,
                tracking: self.style.size / 16,
                ..plain
            },
            LineKind::Heading => Voice {
                stress: Stress::Bold,
                ..plain
            },
            LineKind::Epigraph => Voice {
                stress: Stress::Italic,
                ..plain
            },
            LineKind::Verse if opens && self.style.opening == Opening::SmallCaps => Voice {
                small_caps: true,
                tracking: self.style.size / 32,
                ..plain
            },
            _ => plain,
        }
    }

    /// The initial whose cap height reaches from the first line's cap height to the baseline of the last
    /// line it stands over.
    fn drop_initial(&self, text: &str, voice: Voice, lines: u32) -> Option<Drop> {
        let quotes = text.len() - text.trim_start_matches(is_opening_quote).len();
        let first = text[quotes..].graphemes(true).next()?;
        let end = quotes + first.len();
        let face = self.shaper.face(voice.stress);
        let cap = i64::from(face.metrics().cap_height);
        let upem = i64::from(face.metrics().units_per_em);
        let height = self.areas.leading() * i64::from(lines - 1) + voice.size.scaled(cap, upem);
        let voice = Voice {
            size: height.scaled(upem, cap),
            small_caps: false,
            ..voice
        };
        let shaped = self.shaper.word(
            &text[..end],
            voice,
            Context::default(),
            crate::typeface::Script::LATIN,
        );
        let gap = self.style.size / 8;
        Some(Drop {
            text: 0..end,
            voice,
            lines,
            width: shaped.width + gap,
        })
    }

    /// Space above a line, in half lines: as many stanza spaces as blank lines; at least a line below a
    /// heading, and two above one.
    fn space_above(&self, line: &TextLine, above: &TextLine) -> u32 {
        let blank = u32::try_from(line.blank_above).unwrap_or(u32::MAX);
        let asked = blank.saturating_mul(self.style.stanza_space).min(200);
        let least = match (&line.kind, &above.kind) {
            (LineKind::Heading, LineKind::Title) => LINE,
            (LineKind::Title | LineKind::Heading, _) => 2 * LINE,
            (_, LineKind::Title | LineKind::Heading) => LINE,
            _ => 0,
        };
        asked.max(least)
    }

    /// The settings that the part's areas need, and which area uses which.
    fn settings(&self, plan: &PartPlan, rows: &[Row]) -> (Vec<Setting>, Vec<Option<usize>>) {
        let mut settings: Vec<Setting> = Vec::new();
        let mut of_area = vec![None; self.areas.len()];
        let longest = self.longest(rows);
        // The part's left edge is found once, in the first text area of its panels, and never jumps.
        let edge = plan
            .on
            .iter()
            .find_map(|&panel| self.areas.of(panel, None))
            .map(|id| self.areas.get(id))
            .map(|area| match longest {
                Some(width) => area.left + ((area.width - width) / 2).max(Length::ZERO),
                None => area.left,
            });
        for (index, used) in of_area.iter_mut().enumerate() {
            let area = self.areas.get(AreaId(index));
            let right = area.left + area.width;
            let left = match (longest, edge) {
                (Some(_), Some(edge)) if edge < right => edge.max(area.left),
                _ => area.left,
            };
            let setting = Setting {
                left,
                measure: right - left,
                hang_left: area.hang.0 + (left - area.left),
                hang_right: area.hang.1,
            };
            if setting.measure <= Length::ZERO {
                continue;
            }
            let known = settings.iter().position(|known| *known == setting);
            *used = Some(known.unwrap_or_else(|| {
                settings.push(setting);
                settings.len() - 1
            }));
        }
        (settings, of_area)
    }

    /// The width that the part is centred by, where its alignment asks for one.
    fn longest(&self, rows: &[Row]) -> Option<Length> {
        let widths = || -> Vec<Length> {
            let verse = rows
                .iter()
                .filter(|row| row.kind.is_verse() && !row.stepped);
            verse
                .map(|row| row.indent + self.natural_width(row))
                .collect()
        };
        match self.style.align {
            Align::LongestLine => Some(usual::longest(&widths())),
            Align::UsualLongest => Some(usual::usual_longest(&widths())),
            _ => None,
        }
    }

    /// The width of a whole row on one line, what hangs left aside.
    fn natural_width(&self, row: &Row) -> Length {
        let text = &row.shaped.text;
        let all = row.shaped.start()..row.shaped.trimmed_end(text.len());
        let drop = row
            .shaped
            .drop
            .as_ref()
            .map_or(Length::ZERO, |drop| drop.width);
        drop + row.shaped.width(self.shaper, all.clone())
            - self.hanging(row, &all, Length::mm(1000)).0
    }

    fn set_rows(&self, rows: &[Row], setting: &Setting) -> Vec<RowAt> {
        let mut set: Vec<RowAt> = Vec::with_capacity(rows.len());
        let deepest = self.deepest_indent(rows);
        let usual = self.usual_width(rows, setting);
        let mut run_end = setting.left;
        // Grid lines that the large initial still stands over, and how far it pushes them in.
        let mut dropped = (0u32, Length::ZERO);
        for row in rows {
            match &row.shaped.drop {
                Some(drop) => dropped = (drop.lines * LINE, drop.width),
                None => dropped.0 = dropped.0.saturating_sub(row.space_above),
            }
            let here = Here {
                setting,
                deepest,
                usual,
                run_end,
                drop: if dropped.0 > 0 {
                    dropped.1
                } else {
                    Length::ZERO
                },
                drop_lines: dropped.0 / LINE,
            };
            let at = self.set_row(row, &here);
            if let (true, Some(last)) = (row.kind.is_verse(), at.pieces.last()) {
                run_end = last.x + last.width;
            }
            dropped.0 = dropped.0.saturating_sub(at.height);
            set.push(at);
        }
        set
    }

    fn deepest_indent(&self, rows: &[Row]) -> Length {
        let verse = rows
            .iter()
            .filter(|row| row.kind.is_verse() && !row.stepped);
        verse.map(|row| row.indent).fold(Length::ZERO, Length::max)
    }

    /// How wide the part's lines usually run within this measure: what ornaments and attributions stand by.
    fn usual_width(&self, rows: &[Row], setting: &Setting) -> Length {
        if !matches!(
            self.style.align,
            Align::Left | Align::LongestLine | Align::UsualLongest
        ) {
            return setting.measure;
        }
        if !rows
            .iter()
            .any(|row| matches!(row.kind, LineKind::Ornament | LineKind::Attribution))
        {
            return setting.measure;
        }
        let verse = rows
            .iter()
            .filter(|row| row.kind.is_verse() && !row.stepped);
        let widths: Vec<Length> = verse
            .map(|row| (row.indent + self.natural_width(row)).min(setting.measure))
            .collect();
        match usual::usual_longest(&widths) {
            Length::ZERO => setting.measure,
            usual => usual,
        }
    }

    fn set_row(&self, row: &Row, here: &Here<'_>) -> RowAt {
        match &row.kind {
            LineKind::Room(asked) => {
                let leading = self.areas.leading();
                let room = asked.resolve(self.style.size, leading).units();
                let lines = (room + leading.units() - 1) / leading.units();
                RowAt {
                    height: u32::try_from(lines)
                        .unwrap_or(u32::MAX / 4)
                        .min(u32::MAX / 4)
                        * LINE,
                    pieces: Vec::new(),
                }
            }
            LineKind::Title | LineKind::Heading => self.set_heading(row, here.setting),
            LineKind::Ornament => self.set_centred(row, here),
            LineKind::Attribution => self.set_attribution(row, here),
            LineKind::Verse | LineKind::Epigraph => self.set_verse(row, here),
        }
    }

    fn set_heading(&self, row: &Row, setting: &Setting) -> RowAt {
        let voice = row.voice;
        set_heading(
            &row.shaped,
            voice,
            self.style,
            self.areas.leading(),
            self.shaper,
            setting,
        )
        .unwrap_or_else(|| self.broken(row, &Here::plain(setting), Length::ZERO))
    }

    fn set_centred(&self, row: &Row, here: &Here<'_>) -> RowAt {
        let all = 0..row.shaped.trimmed_end(row.shaped.text.len());
        let width = row.shaped.width(self.shaper, all.clone());
        if width > here.setting.measure {
            return self.broken(row, here, Length::ZERO);
        }
        let within = match self.style.align {
            Align::Right => here.setting.measure * 2 - width,
            _ => here.usual.max(width),
        };
        let x = here.setting.left + (within - width) / 2;
        one_line(all, x, width)
    }

    /// Who speaks: flush right to where the lines usually end.
    fn set_attribution(&self, row: &Row, here: &Here<'_>) -> RowAt {
        let pieces = self.pieces(row, here.setting.measure, here.setting.measure);
        let Some(pieces) = pieces else {
            return self.broken(row, here, Length::ZERO);
        };
        let widths: Vec<Length> = pieces
            .iter()
            .map(|piece| row.shaped.width(self.shaper, piece.clone()))
            .collect();
        let widest = widths.iter().copied().fold(Length::ZERO, Length::max);
        // Where that would bring it almost under the indent above, it stands out to the measure instead.
        let em = self.style.size;
        let near = here.usual - widest < em * 3;
        let right = if near {
            here.setting.measure
        } else {
            here.usual
        };
        let placed = pieces.into_iter().zip(widths).map(|(text, width)| {
            let free = match self.style.align {
                Align::Centre => (here.setting.measure - width) / 2,
                _ => right - width,
            };
            (text, here.setting.left + free, width)
        });
        stack(placed.collect(), false)
    }

    fn set_verse(&self, row: &Row, here: &Here<'_>) -> RowAt {
        let measure = here.setting.measure;
        let text = &row.shaped.text;
        let all = row.shaped.start()..row.shaped.trimmed_end(text.len());
        let hang = self.hanging(row, &all, here.setting.hang_left);
        let width = row.shaped.width(self.shaper, all.clone());
        let net = width - hang.0 - hang.1.min(here.setting.hang_right);
        let indent = self.indent(row, here, net);
        if here.drop + indent + net <= measure {
            let x = self.x_of(row, here, indent + here.drop, net) - hang.0;
            return one_line(all, x, width);
        }
        self.turn_over(row, here, indent)
    }

    /// A line's indent; a stepped one begins where the line above ended, drawn back as far as it takes to
    /// fit, but not beyond the left edge.
    fn indent(&self, row: &Row, here: &Here<'_>, net: Length) -> Length {
        if !row.stepped {
            return match self.style.align {
                Align::Right => Length::ZERO,
                _ => row.indent,
            };
        }
        let reached = here.run_end - here.setting.left - here.drop;
        let room = here.setting.measure - here.drop - net;
        reached.min(room).max(Length::ZERO)
    }

    /// Where a line of this width begins; a stepped one, even among centred lines, where the line above ended.
    fn x_of(&self, row: &Row, here: &Here<'_>, indent: Length, net: Length) -> Length {
        let measure = here.setting.measure;
        here.setting.left
            + match self.style.align {
                Align::Right => measure - net,
                Align::Centre if row.stepped => indent,
                Align::Centre => (measure - net - indent) / 2 + indent,
                _ => indent,
            }
    }

    fn turn_over(&self, row: &Row, here: &Here<'_>, indent: Length) -> RowAt {
        let em = self.style.size;
        let asked = match self.style.turnover {
            Turnover::Indent(asked) => asked,
            Turnover::Right => Length::ZERO,
        };
        let full = asked.max(em * 2).max(here.deepest + em);
        let centred = self.style.align == Align::Centre;
        let indents = if centred {
            [Length::ZERO; 4]
        } else {
            [full, em * 2, em, Length::ZERO]
        };
        let measure = here.setting.measure;
        for turned in indents {
            let rest = measure
                - turned
                - if here.drop_lines > 1 {
                    here.drop
                } else {
                    Length::ZERO
                };
            let Some(pieces) = self.pieces_from(row, here, measure - indent - here.drop, rest)
            else {
                continue;
            };
            return self.place_pieces(row, here, indent, turned, pieces);
        }
        self.broken(row, here, indent.min(em * 2))
    }

    fn place_pieces(
        &self,
        row: &Row,
        here: &Here<'_>,
        indent: Length,
        turned: Length,
        pieces: Vec<Range<usize>>,
    ) -> RowAt {
        let measure = here.setting.measure;
        let last = pieces.len() - 1;
        let placed = pieces.into_iter().enumerate().map(|(index, text)| {
            let width = row.shaped.width(self.shaper, text.clone());
            if index == 0 {
                let hang = self.hanging(row, &text, here.setting.hang_left).0;
                let x = self.x_of(row, here, indent + here.drop, width - hang) - hang;
                return (text, x, width);
            }
            let drop = if index < here.drop_lines as usize {
                here.drop
            } else {
                Length::ZERO
            };
            let x = match (self.style.align, self.style.turnover) {
                (Align::Centre, _) => (measure - width) / 2,
                (Align::Right, _) => measure - width - turned,
                (_, Turnover::Right) if index == last => measure - width,
                _ => turned + drop,
            };
            (text, here.setting.left + x, width)
        });
        stack(placed.collect(), true)
    }

    /// The pieces of a whole row that has no large initial.
    fn pieces(&self, row: &Row, first: Length, rest: Length) -> Option<Vec<Range<usize>>> {
        let found = self.breaks(row);
        let width = |stretch| row.shaped.width(self.shaper, stretch);
        divide(
            &row.shaped.text,
            row.shaped.start(),
            &found,
            first,
            rest,
            width,
        )
        .map(|divided| divided.pieces)
    }

    fn pieces_from(
        &self,
        row: &Row,
        here: &Here<'_>,
        first: Length,
        rest: Length,
    ) -> Option<Vec<Range<usize>>> {
        let found = self.breaks(row);
        let start = row.shaped.start();
        let width = |stretch: Range<usize>| {
            let limit = if stretch.start == start { first } else { rest };
            let estimate = row.shaped.estimate(self.shaper, stretch.clone());
            if clear_of(estimate, limit, row.voice.size) {
                return estimate;
            }
            let wide = row.shaped.width(self.shaper, stretch.clone());
            let hang = self.hanging(row, &stretch, here.setting.hang_left);
            let left = if stretch.start == start {
                hang.0
            } else {
                Length::ZERO
            };
            wide - left - hang.1.min(here.setting.hang_right)
        };
        divide(&row.shaped.text, start, &found, first, rest, width).map(|divided| divided.pieces)
    }

    fn breaks(&self, row: &Row) -> Vec<Break> {
        let phrase = |words: &str| begins_phrase(self.language, words);
        breaks(&row.shaped.text, row.shaped.start(), phrase)
    }

    /// What of a stretch may hang out: opening quotation marks at the left, and with `hang = "all"` closing
    /// ones, full stops, commas and hyphens at the right. Nothing hangs of centred lines.
    fn hanging(&self, row: &Row, stretch: &Range<usize>, room_left: Length) -> (Length, Length) {
        if self.style.hang == Hang::None || self.style.align == Align::Centre || stretch.is_empty()
        {
            return (Length::ZERO, Length::ZERO);
        }
        let text = &row.shaped.text[stretch.clone()];
        let mut left = Length::ZERO;
        let marks = text.len() - text.trim_start_matches(is_opening_quote).len();
        if marks > 0 && marks < text.len() && stretch.start == 0 && self.style.align != Align::Right
        {
            left = row
                .shaped
                .width(self.shaper, stretch.start..stretch.start + marks);
        }
        let mut right = Length::ZERO;
        let marks = text.len() - text.trim_end_matches(hangs_right).len();
        if self.style.hang == Hang::All && marks > 0 && marks < text.len() {
            right = row
                .shaped
                .width(self.shaper, stretch.end - marks..stretch.end);
        }
        (left.min(room_left), right)
    }

    /// The last resort where a word alone is wider than the measure: lines filled cluster by cluster,
    /// broken between words where that is possible.
    fn broken(&self, row: &Row, here: &Here<'_>, indent: Length) -> RowAt {
        let text = &row.shaped.text;
        let end = row.shaped.trimmed_end(text.len());
        let measure = here.setting.measure - here.drop;
        let mut placed = Vec::new();
        let mut broke = Vec::new();
        let mut from = row.shaped.start();
        while from < end {
            let indent = if placed.is_empty() {
                indent
            } else {
                Length::ZERO
            };
            let (to, cut) = self.fill(row, from..end, measure - indent);
            let width = row.shaped.width(self.shaper, from..to);
            placed.push((from..to, here.setting.left + here.drop + indent, width));
            broke.push(cut);
            from = to + text[to..].len() - text[to..].trim_start_matches([' ', '\t']).len();
        }
        let mut set = stack(placed, true);
        for (piece, cut) in set.pieces.iter_mut().zip(broke) {
            piece.broken = cut;
        }
        set
    }

    /// How far a line can be filled, and whether that breaks a word.
    fn fill(&self, row: &Row, stretch: Range<usize>, measure: Length) -> (usize, bool) {
        let text = &row.shaped.text;
        let mut last_word = None;
        let mut last_cluster = None;
        for (at, cluster) in text[stretch.clone()].grapheme_indices(true) {
            let to = stretch.start + at + cluster.len();
            if row.shaped.width(self.shaper, stretch.start..to) > measure && last_cluster.is_some()
            {
                break;
            }
            last_cluster = Some(to);
            let at_end = to == stretch.end || text[to..].starts_with([' ', '\t']);
            if at_end && !cluster.starts_with([' ', '\t']) {
                last_word = Some(to);
            }
        }
        match (last_word, last_cluster) {
            (Some(word), _) => (word, false),
            (None, Some(cluster)) => (cluster, true),
            (None, None) => (stretch.end, true),
        }
    }

    /// The lines that a large initial stands over stay on its panel.
    fn join_drop(&self, rows: &mut [Row]) {
        let Some(first) = rows.iter().position(|row| row.shaped.drop.is_some()) else {
            return;
        };
        let lines = rows[first]
            .shaped
            .drop
            .as_ref()
            .map_or(0, |drop| drop.lines)
            * LINE;
        let least = |row: &Row| row.at.iter().map(|at| at.height).min().unwrap_or(0);
        let mut covered = least(&rows[first]);
        for row in rows.iter_mut().skip(first + 1) {
            covered += row.space_above;
            if covered >= lines {
                break;
            }
            row.joined = true;
            covered += least(row);
        }
        self.lengthen_short_drop(rows, first, lines);
    }

    /// Where a part ends before its large initial does, its last row takes up the lines that are missing.
    fn lengthen_short_drop(&self, rows: &mut [Row], first: usize, lines: u32) {
        let settings = rows[first].at.len();
        for setting in 0..settings {
            let mut covered = 0;
            for (index, row) in rows.iter().enumerate().skip(first) {
                covered += row.at[setting].height + if index > first { row.space_above } else { 0 };
            }
            if covered < lines {
                let last = rows.len() - 1;
                rows[last].at[setting].height += lines - covered;
            }
        }
    }
}

/// Whether a width that was only estimated tells as much as the exact one: whether it lies clear of the limit
/// it must keep and of two thirds of it, by an em, a twentieth of the width and what may hang out.
fn clear_of(estimate: Length, limit: Length, em: Length) -> bool {
    let doubt = em * 2 + estimate / 20;
    let clear = |of: Length| (estimate - of).max(of - estimate) > doubt;
    clear(limit) && clear(limit * 2 / 3)
}

/// Where a row is set.
struct Here<'a> {
    setting: &'a Setting,
    /// The deepest ordinary indent of the part.
    deepest: Length,
    /// How wide lines usually run.
    usual: Length,
    /// Where the verse line above ended, from the panel's left edge.
    run_end: Length,
    /// How far the large initial pushes the row in, and over how many more lines.
    drop: Length,
    drop_lines: u32,
}

impl Here<'_> {
    fn plain(setting: &Setting) -> Here<'_> {
        Here {
            setting,
            deepest: Length::ZERO,
            usual: setting.measure,
            run_end: setting.left,
            drop: Length::ZERO,
            drop_lines: 0,
        }
    }
}

/// Titles are set at eight fifths of the size.
fn title_voice(style: &TextStyle) -> Voice {
    Voice {
        stress: Stress::Plain,
        small_caps: false,
        size: style.size * 8 / 5,
        tracking: Length::ZERO,
    }
}

/// Sets the plan's title as a heading row.
pub(super) fn added_title(
    title: &str,
    style: &TextStyle,
    shaper: &Shaper<'_>,
    setting: &Setting,
) -> (ShapedLine, RowAt) {
    let voice = title_voice(style);
    let line = ShapedLine::added(title, voice);
    let at =
        set_heading(&line, voice, style, style.leading, shaper, setting).unwrap_or_else(|| {
            // A word of the title is wider than the panel: each word stands on a line of its own.
            let words = super::shaped::words_of(title);
            let placed = words.map(|word| {
                let width = line.width(shaper, word.clone());
                (word, setting.left, width)
            });
            stack(placed.collect(), false)
        });
    (line, at)
}

fn set_heading(
    line: &ShapedLine,
    voice: Voice,
    style: &TextStyle,
    leading: Length,
    shaper: &Shaper<'_>,
    setting: &Setting,
) -> Option<RowAt> {
    let pieces = heading::balance(line, shaper, setting.measure)?;
    // Lines of a heading stand as many half lines apart as 23/20 of its size need; the last one stands on
    // the grid.
    let needed = voice.size.units() * 23 * 2;
    let half = leading.units() * 20;
    let step = u32::try_from((needed + half - 1) / half)
        .unwrap_or(LINE)
        .max(LINE);
    let count = pieces.len() as u32;
    let height = (step * count).div_ceil(LINE) * LINE;
    let placed = pieces.into_iter().enumerate().map(|(index, text)| {
        let width = line.width(shaper, text.clone());
        let free = setting.measure - width;
        let x = setting.left
            + match style.align {
                Align::Right => free,
                Align::Centre => free / 2,
                _ => Length::ZERO,
            };
        Piece {
            text,
            x,
            width,
            baseline: height - LINE - step * (count - 1 - index as u32),
            turnover: false,
            broken: false,
        }
    });
    Some(RowAt {
        height,
        pieces: placed.collect(),
    })
}

fn one_line(text: Range<usize>, x: Length, width: Length) -> RowAt {
    stack(vec![(text, x, width)], false)
}

/// Pieces on lines of the grid, one below the other.
fn stack(placed: Vec<(Range<usize>, Length, Length)>, turnovers: bool) -> RowAt {
    let height = placed.len() as u32 * LINE;
    let pieces = placed
        .into_iter()
        .enumerate()
        .map(|(index, (text, x, width))| Piece {
            text,
            x,
            width,
            baseline: index as u32 * LINE,
            turnover: turnovers && index > 0,
            broken: false,
        });
    RowAt {
        height,
        pieces: pieces.collect(),
    }
}

/// Whether a line must stand on the panel of the line above: below a heading, or where it says who speaks,
/// or is room or an ornament that closes what stands above.
fn is_joined(line: &TextLine, above: &TextLine) -> bool {
    above.kind.is_heading()
        || matches!(
            line.kind,
            LineKind::Attribution | LineKind::Room(_) | LineKind::Ornament
        )
}

fn is_opening_quote(c: char) -> bool {
    matches!(
        c,
        '“' | '‘' | '„' | '‚' | '«' | '‹' | '»' | '›' | '"' | '\''
    )
}

fn hangs_right(c: char) -> bool {
    matches!(
        c,
        '.' | ',' | '-' | '‐' | '”' | '’' | '"' | '\'' | '»' | '›'
    )
}

/// A fault for every character that no face has, with every place it stands.
pub(super) fn missing(
    manuscript: &Manuscript,
    rows: &[Row],
    lines: &[TextLine],
    shaper: &Shaper<'_>,
    shelf: &Shelf,
) -> Faults {
    let mut places: Vec<(String, Vec<Range<usize>>)> = Vec::new();
    let mut known: HashMap<String, usize> = HashMap::new();
    for row in rows {
        // A large initial is looked at by itself.
        let initial = row.shaped.drop.iter().map(|drop| drop.text.clone());
        let rest = row.shaped.start()..row.shaped.trimmed_end(row.shaped.text.len());
        let stretches = initial.chain([rest]);
        for word in stretches.flat_map(|stretch| row.shaped.set(shaper, stretch).to_vec()) {
            for &(at, length) in &word.shaped.missing {
                let from = word.text.start + at;
                let cluster = row.shaped.text[from..from + length].to_string();
                let sources = row.shaped.sources(from..from + length);
                let bytes = sources
                    .first()
                    .map_or(lines[row.line].bytes.clone(), |s| s.0..s.1);
                let index = *known.entry(cluster.clone()).or_insert_with(|| {
                    places.push((cluster, Vec::new()));
                    places.len() - 1
                });
                places[index].1.push(bytes);
            }
        }
    }
    places
        .iter()
        .map(|(cluster, found)| no_face(manuscript, cluster, found, shelf))
        .collect()
}

fn no_face(manuscript: &Manuscript, cluster: &str, found: &[Range<usize>], shelf: &Shelf) -> Fault {
    let named: Vec<String> = cluster
        .chars()
        .map(|c| {
            let name = unicode_names2::name(c).map(|name| name.to_string());
            format!(
                "U+{:04X} {}",
                c as u32,
                name.unwrap_or_else(|| "without a name".to_string())
            )
        })
        .collect();
    let times = match found.len() {
        1 => String::new(),
        2 => ", twice".to_string(),
        n => format!(", {n} times"),
    };
    let mut fault = Fault::new(
        "no-face",
        format!("no face has {}{times}", named.join(" with ")),
    )
    .read(cluster);
    for (index, bytes) in found.iter().enumerate() {
        let place = manuscript.place(bytes.clone());
        fault = if index == 0 {
            fault.at(place)
        } else {
            fault.also(place, "and here")
        };
    }
    let families = shelf.families_with(cluster);
    fault.help(match families.first() {
        Some(family) => format!("add a face that has it to the plan: fallback = [\"{family}\"]"),
        None => {
            "name a font file that has it in the plan: fallback = [\"fonts/NAME.ttf\"]".to_string()
        }
    })
}

/// Words that have to be broken because they alone are wider than a measure.
pub(super) fn notes(
    manuscript: &Manuscript,
    part: &Part,
    rows: &[Row],
    settings: &[Setting],
) -> Vec<RowNote> {
    let mut notes = Vec::new();
    for (setting, measure) in settings.iter().map(|setting| setting.measure).enumerate() {
        for (index, row) in rows.iter().enumerate() {
            if row.at[setting].pieces.iter().any(|piece| piece.broken) {
                let note = Note {
                    word: "wide-word",
                    what: format!("a word is wider than the measure of {measure} and is broken"),
                    place: Some(manuscript.place(part.lines[row.line].bytes.clone())),
                };
                notes.push(RowNote {
                    row: index,
                    setting,
                    note,
                });
            }
        }
    }
    notes
}
