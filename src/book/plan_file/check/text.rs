//! Checks how words are set.

use super::paper::KnownStrip;
use super::{fault_at, headings, margins, value};
use crate::book::plan_file::written::{
    Leading, MarginsWritten, TextLength, TextWritten, TitleWritten, TurnoverWritten, TypeSize,
};
use crate::names::{Direction, Faults, Feature, HalfLines, Length, LinesRun, Location, decimals};
use crate::plan::{
    Align, Hang, Margins, OfLevels, TextStyle, Turnover, TypefaceChoice, TypefaceNamed,
};
use crate::reading::At;

const SMALLEST: Length = Length::pt(3);
const LARGEST: Length = Length::pt(144);
/// Half lines of space above a stanza, at most.
const MOST_HALVES: i64 = 40;

/// How words are set, and how much of that is known for sure.
pub struct CheckedText {
    /// How words are set; what the plan does not soundly say is as by default.
    pub style: TextStyle,
    /// As written, for parts that have a size or a leading of their own.
    pub turnover: TurnoverWritten,
    /// Where it says how the halves of lines stand.
    pub caesura_at: Option<Location>,
    /// The indent of paragraphs as written, for the same parts.
    pub paragraph_indent: TextLength,
    /// Whether the plan says how lines stand; unless it does, they stand where their words begin.
    pub align_said: bool,
    /// Whether the size and the leading are what the plan says.
    pub type_known: bool,
    /// Whether the margins leave room on a panel, so that margins over them can be told.
    pub margins_fit: bool,
}

impl CheckedText {
    /// The size and the leading.
    pub fn of_type(&self) -> (Length, Length) {
        (self.style.size, self.style.leading)
    }

    /// How words are set that run this way.
    pub fn style_for(&self, reads: Direction) -> TextStyle {
        let mut style = self.style.clone();
        if !self.align_said && reads.is_right_to_left() {
            style.align = Align::Right;
        }
        style
    }
}

/// Checks how words are set; without a `[text]`, the defaults.
pub fn check(
    written: Option<&At<TextWritten>>,
    strip: &KnownStrip,
    faults: &mut Faults,
) -> CheckedText {
    let usual = TextWritten::default();
    let text = written.map_or(&usual, |at| &at.value);
    let faulty = |key| text.faulty.contains(&key);
    let faults_before = faults.len();
    let size = check_size(text.size.as_ref(), faults);
    let size_known = size.is_some() || (text.size.is_none() && !faulty("size"));
    let size = size.unwrap_or_else(usual_size);
    let leading = check_leading(text.leading.as_ref(), size, size_known, faults);
    let type_known = size_known && !faulty("leading") && faults.len() == faults_before;
    let mut setting = CheckedText {
        style: TextStyle {
            stanza_space: check_stanza_space(text, size, leading, type_known, faults),
            headings: headings::check(text, (size, leading, type_known), faults),
            ..style(text, size, leading)
        },
        turnover: text.turnover(),
        caesura_at: text.caesura.as_ref().map(|at| at.place.clone()),
        paragraph_indent: text.paragraph_indent(),
        align_said: text.align.is_some(),
        type_known,
        margins_fit: false,
    };
    setting.style.features = check_features(text.features.as_ref(), faults);
    let asked = text.margins.as_ref();
    margins::check_text(asked, faulty("margins"), &mut setting, strip, faults);
    if setting.type_known && setting.margins_fit {
        let room = room_for_lines(&setting.style, strip.narrowest(), strip);
        check_turnover(place_of(&text.turnover), &setting.style, room, faults);
        let indent = place_of(&text.paragraph_indent);
        check_indent(indent, &setting.style, room, faults);
    }
    setting
}

/// The size of a plan that gives none.
fn usual_size() -> Length {
    TextWritten::default()
        .size()
        .resolve(Length::ZERO, Length::ZERO)
}

/// How words are set at a size, as far as nothing need be checked.
fn style(text: &TextWritten, size: Length, leading: Length) -> TextStyle {
    let margins = MarginsWritten::default();
    let resolve = |length: TextLength| length.resolve(size, leading);
    TextStyle {
        typeface: typeface(text.typeface.as_ref()),
        fallback: text
            .fallback()
            .iter()
            .map(|at| typeface(Some(at)))
            .collect(),
        features: Vec::new(),
        lines_run: text.lines_run(),
        size,
        leading,
        align: value(&text.align).unwrap_or(Align::Left),
        vertical: text.vertical(),
        margins: Margins {
            head: resolve(margins.head()),
            foot: resolve(margins.foot()),
            left: resolve(margins.left()),
            right: resolve(margins.right()),
            by_folds: false,
        },
        stanza_space: HalfLines::ZERO,
        paragraph_indent: resolve(text.paragraph_indent()),
        hyphenate: value(&text.hyphenate).map(|switch| switch.0),
        exceptions: text.exceptions().into_iter().map(|at| at.value.0).collect(),
        turnover: resolved_turnover(text.turnover(), size, leading),
        caesura: text.caesura(),
        hang: value(&text.hang).unwrap_or(Hang::Quotes),
        prose_hang: value(&text.hang).unwrap_or(Hang::All),
        opening: text.opening(),
        capitals: text.capitals(),
        headings: OfLevels::default(),
        title_vertical: match &text.title {
            Some(title) => title.value.vertical(),
            None => TitleWritten::default().vertical(),
        },
        ink: text.ink(),
    }
}

/// A type size, told where it is out of bounds and then nothing.
pub fn check_size(at: Option<&At<TypeSize>>, faults: &mut Faults) -> Option<Length> {
    let at = at?;
    let size = at.value.resolve(Length::ZERO, Length::ZERO);
    if (SMALLEST..=LARGEST).contains(&size) {
        return Some(size);
    }
    let what = format!(
        "`size` must be from {} to {}",
        SMALLEST.in_points(),
        LARGEST.in_points()
    );
    faults.push(fault_at("out-of-range", what, &at.place));
    None
}

/// The smallest and the largest leading for a size.
pub fn leading_bounds(size: Length) -> (Length, Length) {
    (size.scaled(7, 10), size * 5)
}

/// The leading for a size, told where it is out of bounds; 15/11 of the size unless said.
pub fn check_leading(
    at: Option<&At<Leading>>,
    size: Length,
    size_known: bool,
    faults: &mut Faults,
) -> Length {
    let tenth = Length::pt(1) / 10;
    let steps = size.scaled(15, 11).scaled(1, tenth.units()).units();
    let usual = tenth * steps;
    let Some(at) = at else {
        return usual;
    };
    let leading = at.value.resolve(size, usual);
    let (least, most) = leading_bounds(size);
    if size_known && !(least..=most).contains(&leading) {
        let (least, most) = (least.in_points(), most.in_points());
        let what = format!(
            "`leading` must be from {least} to {most} for a size of {}",
            size.in_points()
        );
        faults.push(fault_at("out-of-range", what, &at.place));
    }
    leading
}

/// The space above a stanza in half lines of the grid, told where it is no whole number of them.
fn check_stanza_space(
    text: &TextWritten,
    size: Length,
    leading: Length,
    type_known: bool,
    faults: &mut Faults,
) -> HalfLines {
    let said = text.stanza_space.as_ref().filter(|_| type_known);
    let said = said.and_then(|at| half_lines("stanza-space", at, (size, leading), faults));
    said.unwrap_or_else(|| {
        let (_, halves) = in_halves(TextWritten::default().stanza_space(), (size, leading));
        HalfLines::new(u32::try_from(halves).unwrap_or(0))
    })
}

/// A space doubled, and how many half lines that is. Leading is at least a few points where it is known, so that it can divide.
fn in_halves(space: TextLength, (size, leading): (Length, Length)) -> (Length, i64) {
    let doubled = space.resolve(size, leading) * 2;
    (doubled, doubled.scaled(1, leading.units().max(1)).units())
}

/// A space in half lines of the grid; told, and nothing, where it is too much or no whole number of them.
pub fn half_lines(
    key: &str,
    at: &At<TextLength>,
    (size, leading): (Length, Length),
    faults: &mut Faults,
) -> Option<HalfLines> {
    let (doubled, halves) = in_halves(at.value, (size, leading));
    if halves > MOST_HALVES {
        let what = format!("`{key}` must be at most 20 lines");
        faults.push(fault_at("out-of-range", what, &at.place));
        return None;
    }
    // Half a line of an odd leading is rounded once as written, and doubled here.
    let off = doubled - leading * halves;
    if off.max(-off) > Length::from_units(2) {
        let nearest = format!("{} line", decimals(halves as f64 / 2.0, 1));
        let (nearest, is) = match halves > 2 {
            true => (format!("{nearest}s"), "are"),
            false => (nearest, "is"),
        };
        let mm = (leading * halves).scaled(1, 2);
        let what = format!("`{key}` must be a whole number of half lines");
        let fault = fault_at("half-lines", what, &at.place).help(format!(
            "{nearest} {is} {mm} at a leading of {}",
            leading.in_points()
        ));
        faults.push(fault.meant(Some(nearest)));
    }
    u32::try_from(halves).ok().map(HalfLines::new)
}

/// The typeface named at a place, or the one used by default.
pub fn typeface(at: Option<&At<TypefaceNamed>>) -> TypefaceChoice {
    match at {
        Some(at) => TypefaceChoice {
            named: at.value.clone(),
            place: Some(at.place.clone()),
        },
        None => TypefaceChoice {
            named: TextWritten::default().typeface(),
            place: None,
        },
    }
}

/// OpenType features, each told that is there twice.
pub fn check_features(written: Option<&At<Vec<At<Feature>>>>, faults: &mut Faults) -> Vec<Feature> {
    let mut features: Vec<Feature> = Vec::new();
    let mut places: Vec<&Location> = Vec::new();
    for at in written.into_iter().flat_map(|list| &list.value) {
        let first = features.iter().position(|known| known.tag == at.value.tag);
        if let Some(first) = first.and_then(|first| places.get(first)) {
            let tag: String = at.value.tag.iter().map(|&byte| char::from(byte)).collect();
            let what = format!("the feature `{tag}` is there twice");
            let fault = fault_at("twice", what, &at.place);
            faults.push(fault.also((*first).clone(), "first here"));
            continue;
        }
        features.push(at.value);
        places.push(&at.place);
    }
    features
}

/// The turnover for a size.
pub fn resolved_turnover(written: TurnoverWritten, size: Length, leading: Length) -> Turnover {
    match written {
        TurnoverWritten::Right => Turnover::Right,
        TurnoverWritten::Indent(length) => Turnover::Indent(length.resolve(size, leading)),
    }
}

/// How long lines can be on the narrowest panel, and what that is of the text area; nothing where it is not known.
pub fn room_for_lines(
    style: &TextStyle,
    narrowest: Option<Length>,
    strip: &KnownStrip,
) -> Option<(Length, &'static str)> {
    let margins = style.margins;
    match style.lines_run {
        LinesRun::Across => Some((narrowest? - margins.left - margins.right, "wide")),
        LinesRun::Down => {
            let height = strip.height.as_ref()?.value;
            Some((height - margins.head - margins.foot, "high"))
        }
    }
}

/// Tells a turnover that leaves no room on the narrowest panel, at a place.
pub fn check_turnover(
    place: Option<&Location>,
    style: &TextStyle,
    room: Option<(Length, &str)>,
    faults: &mut Faults,
) {
    let (Some(place), Some((measure, side))) = (place, room) else {
        return;
    };
    if let Turnover::Indent(indent) = style.turnover
        && indent >= measure
    {
        let what = format!("`turnover` leaves no room: the text area is {measure} {side}");
        faults.push(fault_at("out-of-range", what, place));
    }
}

/// Tells a first line of paragraphs that stands in too far on the narrowest panel, at a place.
pub fn check_indent(
    place: Option<&Location>,
    style: &TextStyle,
    room: Option<(Length, &str)>,
    faults: &mut Faults,
) {
    let (Some(place), Some((measure, side))) = (place, room) else {
        return;
    };
    if style.paragraph_indent * 2 > measure {
        let what = format!(
            "`paragraph-indent` takes more than half of the text area, which is {measure} {side}"
        );
        faults.push(fault_at("out-of-range", what, place));
    }
}

/// Where a key is written, if it is.
pub fn place_of<T>(at: &Option<At<T>>) -> Option<&Location> {
    at.as_ref().map(|at| &at.place)
}
