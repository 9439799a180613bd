//! Tells by its lines whether a client's plain text is verse or prose.

use icu_properties::CodePointMapData;
use icu_properties::props::{GeneralCategory, GeneralCategoryGroup};

use crate::names::SetAs;

/// Prose that was wrapped by hand or by a program has few lines shorter than this, in characters.
const WRAPPED: usize = 60;
/// Verse has few lines as long as this; a paragraph that was never wrapped is mostly longer.
const UNWRAPPED: usize = 120;

/// What a text looks like: prose where three lines in four are as long as wrapped prose, or where half of all
/// characters stand in lines as long as paragraphs; verse otherwise. The limits are our own; they part the
/// poems from the prose in all the texts that we tried.
pub fn looks_like(text: &str) -> SetAs {
    let (mut lines, mut long, mut characters, mut in_paragraphs) = (0, 0, 0, 0);
    for line in text.lines().map(str::trim).filter(|line| !line.is_empty()) {
        // Points and accents that combine make no line longer.
        let categories = CodePointMapData::<GeneralCategory>::new();
        let of_width = |c: &char| !GeneralCategoryGroup::Mark.contains(categories.get(*c));
        let length = line.chars().filter(of_width).count();
        lines += 1;
        long += usize::from(length >= WRAPPED);
        characters += length;
        in_paragraphs += if length >= UNWRAPPED { length } else { 0 };
    }
    let is_prose = lines > 0 && (long * 4 >= lines * 3 || in_paragraphs * 2 >= characters);
    if is_prose { SetAs::Prose } else { SetAs::Verse }
}
