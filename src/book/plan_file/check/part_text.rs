//! Checks how the words of a part are set: as the plan's text is, but for what the part says.

use super::paper::KnownStrip;
use super::text::{
    self, CheckedText, check_features, check_leading, check_size, leading_bounds, place_of,
};
use super::{fault_at, margins, value};
use crate::book::plan_file::written::PartWritten;
use crate::names::{Direction, Fault, Faults, Length, Location};
use crate::plan::{Align, Caesura, TextStyle};

/// A part, and what its text is checked with.
pub struct OfPart<'a> {
    pub written: &'a PartWritten,
    pub name: &'a str,
    pub setting: &'a CheckedText,
    pub strip: &'a KnownStrip,
    /// The width of its narrowest panel.
    pub narrowest: Option<Length>,
}

impl OfPart<'_> {
    /// How words of the part are set that run this way.
    pub fn check(&self, reads: Direction, faults: &mut Faults) -> TextStyle {
        let part = self.written;
        let mut style = self.setting.style_for(reads);
        if let Some(typeface) = &part.typeface {
            style.typeface = text::typeface(Some(typeface));
        }
        if part.features.is_some() {
            style.features = check_features(part.features.as_ref(), faults);
        }
        style.lines_run = value(&part.lines_run).unwrap_or(style.lines_run);
        style.align = value(&part.align).unwrap_or(style.align);
        style.vertical = value(&part.vertical).unwrap_or(style.vertical);
        style.hyphenate = value(&part.hyphenate).map_or(style.hyphenate, |at| Some(at.0));
        style.hang = value(&part.hang).unwrap_or(style.hang);
        style.prose_hang = value(&part.hang).unwrap_or(style.prose_hang);
        style.opening = value(&part.opening).unwrap_or(style.opening);
        style.capitals = value(&part.capitals).unwrap_or(style.capitals);
        style.caesura = value(&part.caesura).unwrap_or(style.caesura);
        let asked = place_of(&part.caesura).or(self.setting.caesura_at.as_ref());
        faults.extend(asked.and_then(|place| uneven_halves(&style, reads, place)));
        let type_known = self.check_type(&mut style, faults);
        let margins_fit = self.check_margins(&mut style, type_known, faults);
        if type_known && margins_fit {
            self.check_room_across(&style, faults);
        }
        style
    }

    /// Its size and leading, and what is measured by them. Whether both are what the plan says.
    fn check_type(&self, style: &mut TextStyle, faults: &mut Faults) -> bool {
        let part = self.written;
        let faulty = |key| part.faulty.contains(&key);
        let faults_before = faults.len();
        let size = check_size(part.size.as_ref(), faults);
        let size_known = match &part.size {
            Some(_) => size.is_some(),
            None => self.setting.type_known && !faulty("size"),
        };
        style.size = size.unwrap_or(style.size);
        if part.leading.is_some() {
            style.leading = check_leading(part.leading.as_ref(), style.size, size_known, faults);
            let indent = self.setting.paragraph_indent;
            style.paragraph_indent = indent.resolve(style.size, style.leading);
        } else if self.setting.type_known && !faulty("leading") {
            self.check_usual_leading(size, style.leading, faults);
        }
        let turnover = value(&part.turnover).unwrap_or(self.setting.turnover);
        style.turnover = text::resolved_turnover(turnover, style.size, style.leading);
        let leading_known = part.leading.is_some() || self.setting.type_known;
        size_known && leading_known && !faulty("leading") && faults.len() == faults_before
    }

    /// Tells a size that does not go with the leading of the plan's text, which the part has for want of its own.
    fn check_usual_leading(&self, size: Option<Length>, leading: Length, faults: &mut Faults) {
        let (Some(size), Some(place)) = (size, place_of(&self.written.size)) else {
            return;
        };
        let (least, most) = leading_bounds(size);
        if (least..=most).contains(&leading) {
            return;
        }
        let much = if leading < least { "large" } else { "small" };
        let what = format!(
            "`size` is too {much} for the leading of {}, which is that of [text]",
            leading.in_points()
        );
        faults.push(fault_at("out-of-range", what, place).help(format!(
            "give the part a `leading` of its own, from {} to {}",
            least.in_points(),
            most.in_points()
        )));
    }

    /// Its margins over the plan's. Whether they are known and leave room on its panels.
    fn check_margins(&self, style: &mut TextStyle, type_known: bool, faults: &mut Faults) -> bool {
        let part = self.written;
        let Some(at) = &part.margins else {
            return self.setting.margins_fit && !part.faulty.contains(&"margins");
        };
        let whose = self.whose();
        let usual = style.margins;
        let sound = margins::check_sides(Some(at), &whose, faults)
            && margins::check_same_sides(at, usual, &whose, faults);
        let asked = margins::margins_asked(Some(at), (style.size, style.leading));
        style.margins = asked.over_those_of(usual);
        if !type_known || !sound || !at.value.faulty.is_empty() {
            return false;
        }
        let whose = margins::Whose {
            words: &whose,
            place: &at.place,
        };
        margins::check_room(style.margins, whose, self.narrowest, self.strip, faults)
    }

    /// What begins messages about it.
    fn whose(&self) -> String {
        match self.name {
            "" => String::new(),
            name => format!("in the part `{name}`, "),
        }
    }

    /// Tells a turnover or an indent that has no room on the part's panels, where the part speaks of it or has margins.
    fn check_room_across(&self, style: &TextStyle, faults: &mut Faults) {
        let part = self.written;
        let margins = place_of(&part.margins);
        let turnover = place_of(&part.turnover).or(margins);
        let room = text::room_for_lines(style, self.narrowest, self.strip);
        text::check_turnover(turnover, style, room, faults);
        text::check_indent(margins, style, room, faults);
    }
}

/// Tells second halves that cannot stand below each other, for the lines do not begin at one edge.
pub fn uneven_halves(style: &TextStyle, reads: Direction, place: &Location) -> Option<Fault> {
    let begins_alike = match style.align {
        Align::Centre => false,
        Align::Right => reads.is_right_to_left(),
        Align::Left => !reads.is_right_to_left(),
        Align::Justified | Align::LongestLine | Align::UsualLongest => true,
    };
    if style.caesura == Caesura::AsWritten || begins_alike {
        return None;
    }
    let what = "`caesura = \"aligned\"` needs lines that begin below each other, which those of this `align` do not";
    let fault = fault_at("no-common-place", what.to_string(), place);
    Some(fault.allowed(
        "align = \"left\", \"longest-line\" or \"usual-longest\"; in parts that read from right to left \"right\"",
    ))
}
