//! The parts of the book, as the plan writes them.

use super::names::Language;
use super::{Leading, MarginsWritten, Stretch, TurnoverWritten, TypeSize};
use crate::book::plan_file::{
    Align, Caesura, CapitalsStyle, Direction, Feature, Hang, LinesRun, Opening, Pairing,
    TypefaceNamed, Vertical,
};
use crate::reading::{At, Name, Switch, tables};

tables! {
    homes super::home_of;

    /// A part of the book and its panels. How its words are set is as in `[text]` but for what stands here.
    PartWritten "[[part]]" {
        /// Its name, as [part: …] uses it; words before any such line are the part "body".
        required name: Name, shown "\"translation\"";
        /// Its panels in order, such as "front 1 to front 7".
        required on: Vec<At<Stretch>>, shown "[\"back 1 to back 8\"]";
        /// Its language, where it is not the book's.
        optional language: Language;
        /// Its typeface, where it is not the book's.
        optional typeface: TypefaceNamed;
        /// Its OpenType features, in place of the book's.
        optional features: Vec<At<Feature>>;
        /// Its type size, where it is not the book's.
        optional size: TypeSize;
        /// The distance of its baselines, where it is not the book's: its lines then stand on a grid of their own.
        optional leading: Leading;
        /// How its lines stand, where it is not as in the book.
        optional align: Align;
        /// Where its words stand in the text area, where it is not as in the book.
        optional vertical: Vertical;
        /// Its margins; those that are not said are the book's.
        optional margins: MarginsWritten;
        /// Whether words of its prose may be divided at line ends, where it is not as in the book.
        optional hyphenate: Switch;
        /// How far the piece of a verse line that runs over is indented, or "right", where it is not as in the book.
        optional turnover: TurnoverWritten;
        /// What hangs outside the text area, where it is not as in the book.
        optional hang: Hang;
        /// How it opens, where it does not as in the book.
        optional opening: Opening;
        /// Where the second halves of its lines stand, where it is not as in the book.
        optional caesura: Caesura;
        /// How words of three capitals and more are set, where it is not as in the book.
        optional capitals: CapitalsStyle;
        /// Which way its lines run, where it is not as in the book.
        optional lines_run: LinesRun;
        /// Which way its words run; as its language is written unless said.
        optional reads: Direction;
        /// The part that it goes side by side with, panel by panel, such as the text that it translates.
        optional pairs_with: Name, shown "\"body\"",
            note "the part that it goes side by side with, panel by panel";
        /// Where its panels lie to those of that part: facing them on their spreads, or behind them.
        optional pairing: Pairing = Pairing::Facing,
            note "on the same spreads; or \"behind\", on the other side of the paper";
    }
}
