//! The plan as the author wrote it: every key that is there, with its place.
//!
//! Each table is declared once, below. A new key is one line here and its use in [`super::check`]: the
//! reader, the unknown-key messages and the JSON Schema follow from the declaration.

mod lengths;
mod making;
mod names;
mod numbers;
mod panels;
mod typeset;
mod words;

pub use lengths::{Leading, LengthFor, PaperLength, TextLength, TypeSize};
pub use making::{Bulk, Heights};
pub use names::{BookFile, HyphenatedWord, Language};
pub use numbers::{Importances, Share, Shares};
pub use panels::{Spans, Stretch};
pub use typeset::TurnoverWritten;
pub use words::EndsWith;

use super::{
    Align, BlanksAt, Cover, Date, Direction, EachPanel, Feature, FoldKind, Grain, Hang, Ink,
    JoinKind, Opening, Pairing, PanelName, Percent, PictureWith, Role, RuleName, Score, SetAs,
    SharedPanels, SheetSize, Sides, Turned, TypefaceNamed, Undivided, Vertical, WrapperKind,
};
use crate::reading::{At, Name, Passage, Switch, Table, Whole, Words, tables};

tables! {
    homes home_of;

    /// The plan of a concertina book: its paper, its type and the author's rules.
    Written "the plan" {
        /// The book's title.
        required title: Words;
        /// The book's language, as a BCP 47 tag such as "en-GB".
        required language: Language;
        /// The text file with the client's words, inside the book's folder.
        required manuscript: BookFile;
        /// The date that the book bears, such as 2026-11-25.
        optional date: Date;
        /// The strip of paper: at least its panel-width, panel-height and panels-per-side.
        required paper: PaperWritten;
        /// How words are set.
        optional text: TextWritten;
        /// The balance between words and pictures.
        optional rules: RulesWritten;
        /// The pictures, each under its own `[[picture]]`.
        optional picture: Vec<At<PictureWritten>>;
        /// The parts of the book and their panels, each under its own `[[part]]`.
        optional part: Vec<At<PartWritten>>;
        /// What is pinned by hand on one panel, each under its own `[[panel]]`.
        optional panel: Vec<At<PanelWritten>>;
        /// How the strip is cut from sheets and joined.
        optional sheets: SheetsWritten;
        /// Motifs that cross from panel to panel, each under its own `[[crossover]]`.
        optional crossover: Vec<At<CrossoverWritten>>;
    }

    /// The strip of paper.
    PaperWritten "[paper]" {
        /// The width of every panel, from 20 mm to 1000 mm.
        required panel_width: PaperLength;
        /// The height of every panel, from 20 mm to 1000 mm.
        required panel_height: PaperLength;
        /// How many panels each side has, odd or even.
        required panels_per_side: Whole<2, 400>;
        /// Which sides are printed.
        optional sides: Sides = "both";
        /// What holds the ends: the outside faces themselves, boards they are pasted on, or a wrapper.
        optional cover: Cover = "self";
        /// The fold after front 1, as seen from the front; mountain, or valley where the cover is boards.
        optional first_fold: FoldKind;
        /// How the reader turns the strip over.
        optional turned: Turned = "head-to-head";
        /// Which way the panels follow each other.
        optional reads: Direction = "left-to-right";
        /// How far art goes beyond the trim, at most 50 mm.
        optional bleed: PaperLength = "3 mm";
        /// How far words keep from folds and trimmed edges.
        optional safety: SafetyWritten;
        /// Widths of the panels at the ends, where they are not as wide as the others.
        optional ends: EndsWritten;
        /// How thick one leaf of the paper is; measure ten and divide.
        optional thickness: PaperLength;
        /// The paper's weight in grams per square metre.
        optional grammage: Whole<20, 2000>;
        /// The paper's bulk (apparent specific volume, ISO 534) in cubic centimetres per gram.
        optional bulk: Bulk;
        /// How folds are scored: pressed with a creasing rule or bone folder, or cut lightly on the outside.
        optional score: Score = "crease";
        /// The boards, where the cover is of boards.
        optional boards: BoardsWritten;
        /// The wrapper, where the cover is one.
        optional wrapper: WrapperWritten;
    }

    /// Widths of the panels at the ends; what lies behind them is as wide.
    EndsWritten "`ends`" {
        /// Of front 1.
        optional first: PaperLength;
        /// Of the last front panel.
        optional last: PaperLength;
    }

    /// The boards that the outside faces are pasted on.
    BoardsWritten "`boards`" {
        /// Their thickness.
        optional thickness: PaperLength = "2 mm";
        /// How far they go beyond the panels at head and foot and where no fold is.
        optional square: PaperLength = "3 mm";
        /// How far the covering material is turned in around them.
        optional turn_in: PaperLength = "15 mm";
    }

    /// The wrapper around the closed book.
    WrapperWritten "`wrapper`" {
        /// A band around the book, or a cover folded around it with flaps.
        optional kind: WrapperKind = "folded";
        /// How high a band is; a third of the panels' height unless said.
        optional height: PaperLength;
        /// How far a band's ends lie over each other.
        optional overlap: PaperLength = "20 mm";
        /// How wide the flaps of a folded cover are; two thirds of a panel unless said.
        optional flap: PaperLength;
    }

    /// How the strip is cut from sheets and joined.
    SheetsWritten "[sheets]" {
        /// The sheet that the press or printer takes: a name such as "SRA3" or "letter", or its width and height.
        optional size: SheetSize;
        /// The longest sheet it takes.
        optional longest_sheet: PaperLength;
        /// Which way the paper's grain runs in that sheet: along its long or its short side.
        optional grain: Grain;
        /// How sheets are joined at a fold: a tab, a hinge of tissue, or a whole panel doubled.
        optional join: JoinKind = "tab";
        /// How wide a tab is, or the tissue of a hinge.
        optional tab: PaperLength = "12 mm";
        /// How far art goes under its neighbour at a join.
        optional under_run: PaperLength = "1.5 mm";
        /// What the press or printer cannot print along the edges of a sheet.
        optional gripper: PaperLength = "5 mm";
        /// Paper left beyond the last panel and trimmed off when the strip is folded.
        optional spare: PaperLength = "5 mm";
        /// An ICC profile of the printing condition, inside the book's folder, for PDF/X-4.
        optional intent: BookFile;
        /// What that printing condition is called; as the profile says unless said.
        optional condition: Words;
    }

    /// A sheet by its sides.
    SheetSides "`size`" {
        /// The sheet's width.
        required width: PaperLength;
        /// The sheet's height.
        required height: PaperLength;
    }

    /// A motif that goes from a panel to one that it meets.
    CrossoverWritten "[[crossover]]" {
        /// The panel where it begins.
        required from: PanelName;
        /// The panel where it goes on: the next one, or, around an end of the strip, the one behind.
        required to: PanelName;
        /// Between which heights it crosses, measured from the panels' heads; their whole height unless said.
        optional heights: Heights;
    }

    /// How far words keep from folds and trimmed edges.
    SafetyWritten "`safety`" {
        /// From a fold; 6 mm unless said.
        optional fold: PaperLength;
        /// From a trimmed edge; 5 mm unless said.
        optional edge: PaperLength;
    }

    /// How words are set.
    TextWritten "[text]" {
        /// What the manuscript starts as.
        optional set_as: SetAs = "verse";
        /// The typeface: a family of the fonts that come with the program, a font file, or one for each style.
        optional typeface: TypefaceNamed = "Alegreya";
        /// Typefaces for characters that the main one lacks, tried in order.
        optional fallback: Vec<At<TypefaceNamed>> = [];
        /// OpenType features: "onum" on, "-liga" off, "ss01=2" by number.
        optional features: Vec<At<Feature>> = [];
        /// The type size, from 3 pt to 144 pt.
        optional size: TypeSize = "11 pt";
        /// The distance of the baselines; 15/11 of the size unless said.
        optional leading: Leading;
        /// How lines stand between the margins; where their words begin unless said: "left", or "right" where
        /// they run from right to left.
        optional align: Align;
        /// Where words stand in the text area; those that follow boxes or a mask begin at its head.
        optional vertical: Vertical = "head";
        /// The distances from the panel's edges to the text area.
        optional margins: MarginsWritten;
        /// The space above a stanza, in whole or half lines.
        optional stanza_space: TextLength = "1 line";
        /// How far a paragraph's first line stands in, the first of a part aside.
        optional paragraph_indent: TextLength = "1 em";
        /// Whether words of prose may be divided at line ends, by the rules of the language.
        optional hyphenate: Switch = false;
        /// Words that may be divided only at their hyphens, such as "win-ter-berg".
        optional exceptions: Vec<At<HyphenatedWord>> = [];
        /// How far the piece of a verse line that runs over is indented, or "right".
        optional turnover: TurnoverWritten = "2 em";
        /// What hangs outside the text area; unless said, quotation marks of verse and nothing of prose.
        optional hang: Hang;
        /// How a part opens.
        optional opening: Opening = "none";
        /// The colour of the words.
        optional ink: Ink = "black";
    }

    /// Distances from the panel's edges to the text area.
    MarginsWritten "`margins`" {
        /// From the top; 14 mm unless said.
        optional head: TextLength;
        /// From the bottom; 16 mm unless said.
        optional foot: TextLength;
        /// From the left; 11 mm unless said.
        optional left: TextLength;
        /// From the right; 11 mm unless said.
        optional right: TextLength;
    }

    /// A box that words stand in, measured from the panel's top-left corner.
    BoxWritten "a box of `boxes`" {
        /// How far its left edge lies from the panel's.
        required x: TextLength;
        /// How far its top lies below the panel's.
        required y: TextLength;
        /// Its width.
        required width: TextLength;
        /// Its height.
        required height: TextLength;
    }

    /// Where a picture leaves room for words on the same panel: margins, or boxes, or a mask.
    LeavesWritten "`leaves`" {
        /// From the top.
        optional head: TextLength;
        /// From the bottom.
        optional foot: TextLength;
        /// From the left.
        optional left: TextLength;
        /// From the right.
        optional right: TextLength;
        /// Boxes that words stand in, one after the other.
        optional boxes: Vec<At<BoxWritten>>;
        /// A PNG picture of the whole panel inside the book's folder, white where words may stand.
        optional mask: BookFile;
    }

    /// The balance between words and pictures.
    RulesWritten "[rules]" {
        /// What an ordinary panel with words carries: "free", "stanza", or lines such as "4 lines".
        optional each_panel: EachPanel = "free";
        /// How full a panel of words should be.
        optional text_fullness: Percent = "60 %";
        /// How full a panel of words and a picture should be.
        optional shared_fullness: Percent = "35 %";
        /// How full the panel that begins the body should be.
        optional first_fullness: Percent = "40 %";
        /// How full the panel that ends the body should be.
        optional last_fullness: Percent = "35 %";
        /// No panel with words is fuller than this.
        optional fullest: Percent = "95 %";
        /// No panel with words is emptier than this.
        optional emptiest: Percent = "0 %";
        /// What is not divided while it can be avoided.
        optional undivided: Undivided = "stanza";
        /// The fewest lines of a divided stanza on either panel.
        optional fewest_lines: Whole<1, 20> = 2;
        /// How many panels after its words a picture comes: 0 the same panel, 1 the next, -1 the one before.
        optional picture_comes: PictureComesWritten;
        /// Whether words and pictures share panels: where that is best, on no panel, or at every picture.
        optional shared_panels: SharedPanels = "allowed";
        /// Whether panels of words should be about as full as the one before.
        optional even_fullness: Switch = false;
        /// On which spread a picture stands, counted from that of its words; `picture-comes` is then not asked.
        optional picture_with: PictureWith;
        /// The most panels of words alone in a row, in parts with pictures.
        optional text_in_a_row: Whole<1, 400> = 2;
        /// The most panels of pictures alone in a row.
        optional pictures_in_a_row: Whole<1, 400> = 2;
        /// How many panels of a part stay blank, and where.
        optional blanks: BlanksWritten;
        /// What the last panel of a part carries that is not blank; or "blank", so that the last panel is.
        optional ends_with: EndsWith;
        /// Pictures before which a panel stays blank.
        optional blank_before: Vec<At<Name>> = [];
        /// Rules that must hold.
        optional must: Vec<At<RuleName>> = [];
        /// Rules that may give way.
        optional may_give: Vec<At<RuleName>> = [];
        /// How much a rule weighs: 1 unless said, 0 switches it off.
        optional importance: Importances;
    }

    /// How many panels after its words a picture comes.
    PictureComesWritten "`picture-comes`" {
        /// Not sooner than this.
        optional soonest: Whole<-7, 7> = 0;
        /// Not later than this.
        optional latest: Whole<-7, 7> = 1;
    }

    /// Panels that stay blank.
    BlanksWritten "`blanks`" {
        /// How many.
        optional count: Whole<0, 800> = 1;
        /// Where they are counted: in the run of blank panels that begins the part, in the run that ends it, or
        /// anywhere.
        optional r#where: BlanksAt = "end";
    }

    /// A picture.
    PictureWritten "[[picture]]" {
        /// Its name, as callouts and pins use it.
        required name: Name;
        /// How many panels it stands on, one behind the other, or "side" for a whole side.
        optional spans: Spans = 1;
        /// Whether its first panel must be the first of its spread.
        optional whole_spread: Switch = false;
        /// The margins, the boxes or the mask that it leaves to words when they share a panel.
        optional leaves: LeavesWritten;
        /// How many panels after its words it comes, where it is not as for all.
        optional picture_comes: PictureComesWritten;
        /// On which spread it stands, counted from that of its words; `picture-comes` of all is then not asked.
        optional picture_with: PictureWith;
        /// Its scan, a JPEG, PNG or TIFF file inside the book's folder, as large as its panels, with the bleed
        /// around them or without.
        optional art: BookFile;
        /// How far its scan runs over the folds at its ends, onto its neighbours; never farther than its bleed.
        optional runs_over: PaperLength = "0 mm";
    }

    /// A part of the book and its panels.
    PartWritten "[[part]]" {
        /// Its name, as [part: …] uses it; words before any such line are the part "body".
        required name: Name;
        /// Its panels in order, such as "front 1 to front 7".
        required on: Vec<At<Stretch>>;
        /// Its language, where it is not the book's.
        optional language: Language;
        /// Its typeface, where it is not the book's.
        optional typeface: TypefaceNamed;
        /// Its type size, where it is not the book's.
        optional size: TypeSize;
        /// How its lines stand, where it is not as in the book.
        optional align: Align;
        /// How it opens, where it does not as in the book.
        optional opening: Opening;
        /// Which way its words run; as its language is written unless said.
        optional reads: Direction;
        /// The part that it goes side by side with, panel by panel, such as the text that it translates.
        optional pairs_with: Name;
        /// Where its panels lie to those of that part: facing them on their spreads, or behind them; "facing"
        /// unless said.
        optional pairing: Pairing;
    }

    /// What is pinned by hand on one panel.
    PanelWritten "[[panel]]" {
        /// The panel, such as "front 1".
        required panel: PanelName;
        /// What it carries.
        optional role: Role;
        /// The picture that it carries.
        optional picture: Name;
        /// Margins of its own.
        optional margins: MarginsWritten;
        /// Boxes that its words stand in, one after the other, in place of margins.
        optional boxes: Vec<At<BoxWritten>>;
        /// A PNG picture of the whole panel inside the book's folder, white where its words may stand.
        optional mask: BookFile;
        /// How full it should be.
        optional fullness: Percent;
        /// How far words keep from its folds and edges.
        optional safety: SafetyWritten;
        /// Where words stand in its text area.
        optional vertical: Vertical;
        /// The words that it begins with.
        optional begins: Passage;
    }
}

/// The table that has a key of that name, as messages call it; only tables under a header, and the plan
/// itself.
fn home_of(name: &str) -> Option<&'static str> {
    fn has<T: Table>(name: &str) -> Option<&'static str> {
        T::KEYS
            .iter()
            .any(|key| key.name() == name)
            .then_some(T::NAME)
    }
    has::<Written>(name)
        .or_else(|| has::<PaperWritten>(name))
        .or_else(|| has::<TextWritten>(name))
        .or_else(|| has::<RulesWritten>(name))
        .or_else(|| has::<PictureWritten>(name))
        .or_else(|| has::<PartWritten>(name))
        .or_else(|| has::<PanelWritten>(name))
        .or_else(|| has::<SheetsWritten>(name))
        .or_else(|| has::<CrossoverWritten>(name))
}
