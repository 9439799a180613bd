//! How headings are set, as the plan writes it.

use super::lengths::{Letterspacing, TextLength, TypeSize, line};
use crate::names::Vertical;
use crate::plan::{HeadingAlign, HeadingFace, TypefaceNamed};
use crate::reading::tables;

tables! {
    homes super::home_of;

    /// How titles (`#`) are set.
    TitleWritten "[text.title]" {
        /// Their typeface, where it is not that of the words.
        optional typeface: TypefaceNamed;
        /// Their type size; eight fifths of the words' unless said.
        optional size: TypeSize, shown "\"17.6 pt\"";
        /// How their letters are drawn; upright unless said.
        optional style: HeadingFace, shown "\"roman\"", note "italic, bold, small-caps, capitals";
        /// Space added behind every letter; a sixteenth of the size unless said where they are capitals or small capitals.
        optional letterspacing: Letterspacing, shown "\"0 pt\"",
            note "1/16 em unless said for capitals and small-caps";
        /// How their lines stand; as the words unless said.
        optional align: HeadingAlign, shown "\"left\"",
            note "right, centre, longest-line (in the middle of the longest line)";
        /// Space above them where they do not begin a panel, in whole or half lines.
        optional space_above: TextLength = line(2.0);
        /// Space below them, and below what stands with them, in whole or half lines.
        optional space_below: TextLength = line(1.0);
        /// Where the words of a title panel stand.
        optional vertical: Vertical = Vertical::OpticalCentre,
            note "of a title panel; or \"head\", \"centre\", \"foot\"";
    }

    /// How headings (`##`) are set.
    HeadingWritten "[text.heading]" {
        /// Their typeface, where it is not that of the words.
        optional typeface: TypefaceNamed;
        /// Their type size; the words' unless said.
        optional size: TypeSize, shown "\"11 pt\"";
        /// How their letters are drawn; in small capitals, or bold where the face has none, unless said.
        optional style: HeadingFace, shown "\"small-caps\"", note "roman, italic, bold, capitals";
        /// Space added behind every letter; a sixteenth of the size unless said where they are capitals or small capitals.
        optional letterspacing: Letterspacing, shown "\"0.0625 em\"",
            note "1/16 em unless said for capitals and small-caps";
        /// How their lines stand; as the words, a numeral alone in the middle of the longest line, unless said.
        optional align: HeadingAlign, shown "\"left\"",
            note "right, centre, longest-line (in the middle of the longest line)";
        /// Space above them where they do not begin a panel, in whole or half lines.
        optional space_above: TextLength = line(2.0);
        /// Space below them in whole or half lines.
        optional space_below: TextLength = line(1.0);
    }

    /// How lower headings (`###`) are set.
    SubheadingWritten "[text.subheading]" {
        /// Their typeface, where it is not that of the words.
        optional typeface: TypefaceNamed;
        /// Their type size; the words' unless said.
        optional size: TypeSize, shown "\"11 pt\"";
        /// How their letters are drawn; italic unless said.
        optional style: HeadingFace, shown "\"italic\"", note "roman, bold, small-caps, capitals";
        /// Space added behind every letter; a sixteenth of the size unless said where they are capitals or small capitals.
        optional letterspacing: Letterspacing, shown "\"0 pt\"",
            note "1/16 em unless said for capitals and small-caps";
        /// How their lines stand; as the words, a numeral alone in the middle of the longest line, unless said.
        optional align: HeadingAlign, shown "\"left\"",
            note "right, centre, longest-line (in the middle of the longest line)";
        /// Space above them where they do not begin a panel, in whole or half lines.
        optional space_above: TextLength = line(2.0);
        /// Space below them in whole or half lines.
        optional space_below: TextLength = line(1.0);
    }
}
