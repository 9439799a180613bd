//! Checks how headings are set.

use super::text::{check_size, half_lines, typeface};
use super::{fault_at, value};
use crate::book::plan_file::written::{
    HeadingWritten, Letterspacing, SubheadingWritten, TextLength, TextWritten, TitleWritten,
    TypeSize,
};
use crate::names::{Faults, HalfLines, Length};
use crate::plan::{
    HeadingAlign, HeadingFace, HeadingPlaces, HeadingStyle, OfLevels, TypefaceNamed,
};
use crate::reading::At;

/// What the tables of all levels have.
struct Keys<'a> {
    typeface: &'a Option<At<TypefaceNamed>>,
    size: &'a Option<At<TypeSize>>,
    style: &'a Option<At<HeadingFace>>,
    letterspacing: &'a Option<At<Letterspacing>>,
    align: &'a Option<At<HeadingAlign>>,
    space_above: &'a Option<At<TextLength>>,
    space_below: &'a Option<At<TextLength>>,
}

macro_rules! keys {
    ($($table:ty),+) => { $(
        impl<'a> From<&'a $table> for Keys<'a> {
            fn from(written: &'a $table) -> Keys<'a> {
                Keys {
                    typeface: &written.typeface,
                    size: &written.size,
                    style: &written.style,
                    letterspacing: &written.letterspacing,
                    align: &written.align,
                    space_above: &written.space_above,
                    space_below: &written.space_below,
                }
            }
        }
    )+ };
}
keys!(TitleWritten, HeadingWritten, SubheadingWritten);

/// Checks how headings are set beside words of that size and leading, which `type_known` tells to be sound.
pub fn check(
    text: &TextWritten,
    (size, leading, type_known): (Length, Length, bool),
    faults: &mut Faults,
) -> OfLevels<HeadingStyle> {
    let words = Words {
        size,
        leading,
        type_known,
    };
    let mut title = words.level(text.title.as_ref(), faults);
    let vertical = text
        .title
        .as_ref()
        .and_then(|at| at.value.vertical.as_ref());
    title.places.vertical = vertical.map(|at| at.place.clone());
    OfLevels {
        title,
        heading: words.level(text.heading.as_ref(), faults),
        subheading: words.level(text.subheading.as_ref(), faults),
    }
}

/// The words that headings stand beside.
struct Words {
    size: Length,
    leading: Length,
    type_known: bool,
}

impl Words {
    fn level<'a, T: 'a>(&self, at: Option<&'a At<T>>, faults: &mut Faults) -> HeadingStyle
    where
        Keys<'a>: From<&'a T>,
    {
        let Some(at) = at else {
            return HeadingStyle::default();
        };
        let keys = Keys::from(&at.value);
        let size = check_size(keys.size.as_ref(), faults);
        let spacing = keys.letterspacing.as_ref();
        check_letterspacing(spacing, size.unwrap_or(self.size), faults);
        HeadingStyle {
            typeface: keys.typeface.as_ref().map(|at| typeface(Some(at))),
            size,
            style: value(keys.style),
            letterspacing: spacing.map(|at| at.value.measure),
            align: value(keys.align),
            space_above: self.space("space-above", keys.space_above, faults),
            space_below: self.space("space-below", keys.space_below, faults),
            places: HeadingPlaces {
                table: Some(at.place.clone()),
                size: keys.size.as_ref().map(|at| at.place.clone()),
                letterspacing: spacing.map(|at| at.place.clone()),
                style: keys.style.as_ref().map(|at| at.place.clone()),
                vertical: None,
            },
        }
    }

    fn space(
        &self,
        key: &str,
        at: &Option<At<TextLength>>,
        faults: &mut Faults,
    ) -> Option<HalfLines> {
        let at = at.as_ref().filter(|_| self.type_known)?;
        half_lines(key, at, (self.size, self.leading), faults)
    }
}

/// Tells letters that would stand more than an em apart.
fn check_letterspacing(at: Option<&At<Letterspacing>>, size: Length, faults: &mut Faults) {
    let Some(at) = at else { return };
    if at.value.resolve(size, size) > size {
        let what = "`letterspacing` must be at most 1 em".to_string();
        faults.push(fault_at("out-of-range", what, &at.place));
    }
}
