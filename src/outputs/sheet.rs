//! Rows of small panels on a page, as the contact sheet and the trials show them.
//!
//! The two panels of a spread touch, with the valley fold between them dashed; where the fold points at
//! the reader there is a gap with a dash-dotted line. Pictures are flat tints with their names.

use std::collections::{BTreeSet, HashSet};

use crate::layout::{LabelStyle, LaidPanel, Layout, Stands, label_by, label_shaper};
use crate::names::{Direction, Ink, Length, PageSpace, PanelName, PanelPoint, Role, Side};
use crate::pdf::{Drawing, Paint};
use crate::typeface::{Emphasis, Shaper, Typeface};

pub(super) const MARGIN: Length = Length::mm(12);
/// What the panels' names below them take.
pub(super) const LABEL: Length = Length::mm(6);
/// Between what is not seen at once.
pub(super) const GAP: Length = Length::mm(4);
/// How a valley fold is dashed.
pub(super) const VALLEY: &[f32] = &[2.0, 1.6];
/// How a mountain fold is dashed.
pub(super) const MOUNTAIN: &[f32] = &[4.0, 1.4, 0.5, 1.4];
/// How light pictures are.
pub(super) const TINT: f32 = 0.88;
const DARK: f32 = 0.25;
/// How large a picture's name is, in points, and how small it may be where its panel is narrow.
const NAMED: i64 = 8;
const LEAST: i64 = 5;
/// How high the mark below a panel is.
const MARK: Length = Length::pt(3);

/// The panels of a side, by groups that are seen at once.
pub(super) struct SideGroups<'a> {
    side: Side,
    groups: Vec<Vec<&'a LaidPanel>>,
}

/// One row of panels on the sheet: groups of panels that are seen at once.
#[derive(Clone, Copy)]
pub(super) struct PanelRow<'g, 'a> {
    pub side: Side,
    pub begins_side: bool,
    pub groups: &'g [Vec<&'a LaidPanel>],
    /// How many panels they are.
    pub panels: usize,
}

/// The panels of each side in rows of at most `most`; what is seen at once is never parted, nor a picture.
pub(super) fn rows<'g, 'a>(sides: &'g [SideGroups<'a>], most: usize) -> Vec<PanelRow<'g, 'a>> {
    let mut rows: Vec<PanelRow<'g, 'a>> = Vec::new();
    for SideGroups { side, groups } in sides {
        let mut row = PanelRow {
            side: *side,
            begins_side: true,
            groups: &[],
            panels: 0,
        };
        let mut begin = 0;
        let mut end = 0;
        for whole in groups.chunk_by(|_, next| next[0].goes_on()) {
            let panels: usize = whole.iter().map(Vec::len).sum();
            if end > begin && row.panels + panels > most {
                rows.push(row);
                (row.begins_side, row.panels, begin) = (false, 0, end);
            }
            end += whole.len();
            row.panels += panels;
            row.groups = &groups[begin..end];
        }
        if end > begin {
            rows.push(row);
        }
    }
    rows
}

/// The panels of each side of the strip.
pub(super) fn groups(layout: &Layout) -> Vec<SideGroups<'_>> {
    let sides = layout.strip.sides().iter();
    let sides = sides.map(|&side| SideGroups {
        side,
        groups: groups_of(layout, side),
    });
    sides.collect()
}

fn groups_of(layout: &Layout, side: Side) -> Vec<Vec<&LaidPanel>> {
    let spreads = layout.strip.spreads(side).into_iter();
    let seconds: HashSet<PanelName> = spreads.map(|(_, second)| second).collect();
    let mut groups: Vec<Vec<&LaidPanel>> = Vec::new();
    for panel in layout
        .panels
        .iter()
        .filter(|panel| panel.panel.side == side)
    {
        match groups.last_mut() {
            Some(group) if seconds.contains(&panel.panel) => group.push(panel),
            _ => groups.push(vec![panel]),
        }
    }
    groups
}

/// A page that is being drawn.
pub(super) struct OverviewPage<'a> {
    pub layout: &'a Layout,
    /// What shapes its labels.
    shaper: Shaper<'a>,
    pub page: (Length, Length),
    /// In thousandths.
    pub scale: i64,
    /// Panels that are marked, below their frames.
    pub marked: Vec<PanelName>,
    pub drawings: Vec<Drawing<'a>>,
    /// How large all the pictures' names are, in points: one size for them all.
    named: i64,
    /// Whether roles have room below all panels.
    with_roles: bool,
}

impl<'a> OverviewPage<'a> {
    /// A page of that size on which nothing is drawn yet, with panels at so many thousandths of their size.
    pub fn new(
        layout: &'a Layout,
        typeface: &'a Typeface,
        page: (Length, Length),
        scale: i64,
    ) -> OverviewPage<'a> {
        let mut sheet = OverviewPage {
            layout,
            shaper: label_shaper(typeface),
            page,
            scale,
            marked: Vec::new(),
            drawings: Vec::new(),
            named: LEAST,
            with_roles: false,
        };
        let panels = || layout.panels.iter();
        let names: BTreeSet<&str> = panels().filter_map(LaidPanel::picture_label).collect();
        let mut sizes = (LEAST..=NAMED).rev();
        let fit = |&points: &i64| names.iter().all(|name| sheet.has_room_for(name, points));
        sheet.named = sizes.find(fit).unwrap_or(LEAST);
        let fits = |panel| sheet.wide(&with_role(panel), 7, Emphasis::Bold) <= sheet.room();
        sheet.with_roles = panels().all(fits);
        sheet
    }

    pub fn scaled(&self, length: Length) -> Length {
        length.scaled(self.scale, 1000)
    }

    /// Draws a row of panels below a height of the page.
    pub fn draw_row(&mut self, row: &PanelRow<'_, 'a>, top: Length) {
        let height = self.scaled(self.layout.strip.paper().panel_height);
        let rtl = self.layout.strip.paper().reads == Direction::RightToLeft;
        let mut along = Length::ZERO;
        let place = |along: Length, wide: Length| match rtl {
            true => self.page.0 - MARGIN - along - wide,
            false => MARGIN + along,
        };
        let mut placed = Vec::new();
        let mut folds = Vec::new();
        for (index, group) in row.groups.iter().enumerate() {
            if index > 0 {
                folds.push((place(along, GAP) + GAP / 2, MOUNTAIN));
                along += GAP;
            }
            for (at, &panel) in group.iter().enumerate() {
                let width = self.scaled(panel.size.0);
                if at > 0 {
                    folds.push((place(along, Length::ZERO), VALLEY));
                }
                placed.push((panel, place(along, width)));
                along += width;
            }
        }
        for run in placed.chunk_by(|_, (next, _)| next.goes_on()) {
            self.draw_run(run, top);
        }
        let over = Length::mm(1);
        for (x, dashes) in folds {
            self.drawings.push(Drawing::Rule {
                from: (x, top + over),
                to: (x, top - height - over),
                paint: Paint::Grey(0.35),
                dashes,
            });
        }
    }

    /// Draws a panel, or all the panels of one picture in one frame, each with its left edge.
    fn draw_run(&mut self, run: &[(&'a LaidPanel, Length)], top: Length) {
        let Some(&(first, first_left)) = run.first() else {
            return;
        };
        let height = self.scaled(first.size.1);
        let width = |panel: &LaidPanel| self.scaled(panel.size.0);
        let lines = run.iter().flat_map(|(panel, _)| &panel.lines);
        let reversed = lines.clone().any(|line| line.ink == Ink::ReversedOut);
        let fill = match first.role {
            _ if reversed => DARK,
            Role::Picture | Role::Shared => TINT,
            Role::PasteDown => 0.95,
            _ => 1.0,
        };
        let left = run
            .iter()
            .fold(first_left, |found, (_, left)| found.min(*left));
        let right = run
            .iter()
            .fold(left, |found, (panel, left)| found.max(*left + width(panel)));
        let wide = right - left;
        self.drawings.push(Drawing::Box {
            at: [left, top - height, wide, height],
            fill: Some(Paint::Grey(fill)),
            stroke: Some(Paint::Grey(0.55)),
        });
        for &(panel, left) in run {
            let space = PageSpace::placed(left, top, (self.scale, 1000));
            self.drawings.push(Drawing::Words { panel, space });
        }
        if let Some(picture) = first.picture_label() {
            // Through the middle of an even number of panels runs a fold.
            let (panel, left) = run[(run.len() - 1) / 2];
            self.name_picture(run, picture, left + self.scaled(panel.size.0) / 2, top);
        }
        for &(panel, left) in run {
            self.name_panel(panel, left, top - height);
        }
    }

    /// What stands below a panel, by its left edge and its foot.
    fn name_panel(&mut self, panel: &LaidPanel, left: Length, foot: Length) {
        let words = self.below(panel);
        let width = self.scaled(panel.size.0);
        let at = (left + width / 2, foot - Length::mm(4));
        let marked = self.marked.contains(&panel.panel);
        let (stress, grey) = match marked {
            true => (Emphasis::Bold, 0),
            false => (Emphasis::Plain, 350),
        };
        if marked {
            self.drawings.push(Drawing::Box {
                at: [left, foot - MARK, width, MARK],
                fill: Some(Paint::Grey(0.0)),
                stroke: None,
            });
        }
        self.label(&words, at, 7, stress, grey, Stands::About);
    }

    /// A picture's name about `middle`, where the words leave most of its panels.
    fn name_picture(
        &mut self,
        run: &[(&LaidPanel, Length)],
        name: &str,
        middle: Length,
        top: Length,
    ) {
        let height = self.layout.strip.paper().panel_height;
        let lines = run.iter().flat_map(|(panel, _)| panel.line_boxes());
        let mut lines: Vec<(Length, Length)> = lines
            .map(|((_, top), (_, height))| (top, top + height))
            .collect();
        lines.sort();
        // Lines in boxes may stand beside each other, and leave the most room between them.
        let mut free = Vec::with_capacity(lines.len() + 1);
        let mut from = Length::ZERO;
        for (top, foot) in lines {
            free.push((top - from, from));
            from = from.max(foot);
        }
        free.push((height - from, from));
        let widest = free.into_iter().max_by_key(|(room, _)| *room);
        let down = widest.map_or(height / 2, |(room, from)| from + room / 2);
        let at = (middle, top - self.scaled(down) - Length::mm(1));
        let name = self.fitted(name);
        self.label(&name, at, self.named, Emphasis::Italic, 300, Stands::About);
    }

    /// Draws the name of a side above its first row, whose panels begin at a height of the page.
    pub fn name_side(&mut self, side: Side, top: Length) {
        let at = (MARGIN, top + Length::mm(2));
        self.label(side.word(), at, 9, Emphasis::Bold, 300, Stands::From);
    }

    /// Draws what the lines and tints mean, at a height of the page, and gives how far it reaches.
    pub fn legend(&mut self, y: Length) -> Length {
        let mut x = MARGIN;
        for (dashes, words) in [
            (VALLEY, "valley fold: the two panels are seen at once"),
            (MOUNTAIN, "mountain fold"),
        ] {
            let line = y + Length::mm(1);
            self.drawings.push(Drawing::Rule {
                from: (x, line),
                to: (x + Length::mm(9), line),
                paint: Paint::Grey(0.35),
                dashes,
            });
            x += Length::mm(11);
            x += self.label(words, (x, y), 7, Emphasis::Plain, 400, Stands::From) + Length::mm(7);
        }
        let tint = [x, y - Length::mm(1), Length::mm(6), Length::mm(4)];
        self.drawings.push(Drawing::Box {
            at: tint,
            fill: Some(Paint::Grey(TINT)),
            stroke: None,
        });
        x += Length::mm(8);
        x + self.label("a picture", (x, y), 7, Emphasis::Plain, 400, Stands::From)
    }

    /// Draws what the mark below a panel means, beside the rest of the legend.
    pub fn legend_of_marks(&mut self, x: Length, y: Length) {
        let x = x + Length::mm(7);
        self.drawings.push(Drawing::Box {
            at: [x, y, Length::mm(9), MARK],
            fill: Some(Paint::Grey(0.0)),
            stroke: None,
        });
        let at = (x + Length::mm(11), y);
        let words = "on its spread stands something else than in 1";
        self.label(words, at, 7, Emphasis::Plain, 400, Stands::From);
    }

    /// How wide a label of a panel may be.
    fn room(&self) -> Length {
        self.scaled(self.layout.strip.paper().narrowest()) - Length::mm(1)
    }

    fn has_room_for(&self, name: &str, points: i64) -> bool {
        self.wide(name, points, Emphasis::Italic) <= self.room()
    }

    /// As much of a picture's name as a panel has room for.
    fn fitted(&self, name: &str) -> String {
        if self.has_room_for(name, self.named) {
            return name.to_string();
        }
        let letters: Vec<char> = name.chars().collect();
        let mut some = (1..letters.len()).rev().map(|some| {
            let begin: String = letters[..some].iter().collect();
            format!("{}…", begin.trim_end())
        });
        let found = some.find(|begin| self.has_room_for(begin, self.named));
        found.unwrap_or_default()
    }

    /// What stands below a panel: its number, and its role where there is room for that below all of them.
    fn below(&self, panel: &LaidPanel) -> String {
        match self.with_roles {
            true => with_role(panel),
            false => panel.panel.number.to_string(),
        }
    }

    /// How wide a label is.
    fn wide(&self, words: &str, points: i64, stress: Emphasis) -> Length {
        let style = LabelStyle {
            size: Length::pt(points),
            stress,
            grey: 0,
            stands: Stands::From,
        };
        let point = PanelPoint {
            x: Length::ZERO,
            y: Length::ZERO,
        };
        label_by(&self.shaper, words, point, style).width
    }

    /// Draws a label with its baseline at a point of the page, and gives its width.
    pub fn label(
        &mut self,
        words: &str,
        at: (Length, Length),
        points: i64,
        stress: Emphasis,
        grey: u16,
        stands: Stands,
    ) -> Length {
        let style = LabelStyle {
            size: Length::pt(points),
            stress,
            grey,
            stands,
        };
        // Labels are set in a space of their own whose origin is the page's bottom-left corner.
        let point = PanelPoint { x: at.0, y: -at.1 };
        let line = label_by(&self.shaper, words, point, style);
        let width = line.width;
        let space = PageSpace::placed(Length::ZERO, Length::ZERO, (1, 1));
        let line = Box::new(line);
        self.drawings.push(Drawing::Label { line, space });
        width
    }
}

/// A panel's number and role.
fn with_role(panel: &LaidPanel) -> String {
    format!("{}  {}", panel.panel.number, panel.role.word())
}
