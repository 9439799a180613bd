//! The plan as the author wrote it: every key that is there, with its place.
//!
//! Each table is declared once, below; `[rules]` by the rules themselves. A new key is one declaration here and its use
//! in [`super::check`]: the reader, the unknown-key messages, the default, the JSON Schema and what a new plan shows of
//! it follow from the declaration.

mod headings;
mod lengths;
mod making;
mod names;
mod numbers;
mod panels;
mod parts;
mod rules;
mod typeset;
mod words;

pub use headings::{HeadingWritten, SubheadingWritten, TitleWritten};
pub use lengths::{Leading, LengthFor, Letterspacing, PaperLength, TextLength, TypeSize};
pub use making::{Bulk, Heights};
pub use names::{BookFile, HyphenatedWord, Language};
pub use numbers::{Importances, Share, Shares};
pub use panels::{Spans, Stretch};
pub use parts::PartWritten;
pub use rules::{OfRule, RulesWritten, WeightsWritten};
pub use typeset::{Leaves, TurnoverWritten};

use super::{
    Align, BoardsPlan, Caesura, CapitalsStyle, Cover, Date, Direction, Feature, FoldKind, Grain,
    Hang, Ink, JoinKind, LinesRun, Opening, PanelName, Percent, Role, Score, SetAs, SheetSize,
    SheetsPlan, Sides, Turned, TypefaceNamed, Vertical, WrapperKind,
};
use crate::reading::{At, Name, Passage, Switch, Table, Whole, Words, tables};
use crate::rules::{PictureComes, PictureWithRule};
use lengths::{em, line, mm, on_paper, pt};

tables! {
    homes home_of;

    /// The plan of a concertina book: its paper, its type and the author's rules.
    Written "the plan" {
        /// The book's title.
        required title: Words;
        /// Who wrote the words, for a title panel of a manuscript that does not name one.
        optional author: Words;
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
        optional sides: Sides = Sides::Both;
        /// What holds the ends: the outside faces themselves, boards they are pasted on, or a wrapper.
        optional cover: Cover = Cover::SelfCover,
            note "or \"boards\" (the outside faces are pasted down), \"wrapper\"";
        /// The fold after front 1, as seen from the front; mountain, or valley where the cover is boards.
        optional first_fold: FoldKind, shown "\"mountain\"",
            note "the fold after front 1, seen from the front; or \"valley\", as with boards";
        /// How the reader turns the strip over.
        optional turned: Turned = Turned::HeadToHead,
            note "how the strip is turned over; or \"head-to-foot\"";
        /// Which way the panels follow each other: from left to right unless said, or from right to left where lines run
        /// down.
        optional reads: Direction = Direction::LeftToRight, note "or \"right-to-left\"";
        /// How far art goes beyond the trim, at most 50 mm.
        optional bleed: PaperLength = mm(3.0);
        /// How far words keep from folds and trimmed edges.
        optional safety: SafetyWritten = SafetyWritten::default(), note "words keep this far away";
        /// Widths of the panels at the ends, where they are not as wide as the others.
        off ends: EndsWritten, shown "{ first = \"108 mm\", last = \"108 mm\" }",
            note "where the panels at the ends are wider or narrower";
        /// How thick one leaf of the paper is; measure ten and divide.
        off thickness: PaperLength, shown "\"0.25 mm\"",
            note "of one leaf; or grammage = 200 (g/m²) and bulk = 1.2 (cm³/g)";
        /// The paper's weight in grams per square metre.
        optional grammage: Whole<20, 2000>;
        /// The paper's bulk (apparent specific volume, ISO 534) in cubic centimetres per gram.
        optional bulk: Bulk;
        /// How folds are scored: pressed with a creasing rule or bone folder, or cut lightly on the outside.
        optional score: Score = Score::Crease, note "how folds are scored; or \"cut\", for board";
        /// The boards, where the cover is of boards.
        off boards: BoardsWritten = BoardsWritten::default(), note "with cover = \"boards\"";
        /// The wrapper, where the cover is one.
        off wrapper: WrapperWritten, shown "{ kind = \"folded\", flap = \"70 mm\" }",
            note "with cover = \"wrapper\"; or \"band\", height, overlap";
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
        optional thickness: PaperLength = on_paper(BoardsPlan::default().thickness);
        /// How far they go beyond the panels at head and foot and where no fold is.
        optional square: PaperLength = on_paper(BoardsPlan::default().square);
        /// How far the covering material is turned in around them.
        optional turn_in: PaperLength = on_paper(BoardsPlan::default().turn_in);
    }

    /// The wrapper around the closed book.
    WrapperWritten "`wrapper`" {
        /// A band around the book, or a cover folded around it with flaps.
        optional kind: WrapperKind = WrapperKind::Folded;
        /// How high a band is; a third of the panels' height unless said.
        optional height: PaperLength;
        /// How far a band's ends lie over each other.
        optional overlap: PaperLength = mm(20.0);
        /// How wide the flaps of a folded cover are; two thirds of a panel unless said.
        optional flap: PaperLength;
    }

    /// How the strip is cut from sheets and joined.
    SheetsWritten "[sheets]" {
        /// The sheet that the press or printer takes: a name such as "SRA3" or "letter", or its width and height.
        off size: SheetSize, shown "\"SRA3\"",
            note "or \"A3\", \"letter\", { width = \"450 mm\", height = \"320 mm\" }";
        /// The longest sheet it takes.
        off longest_sheet: PaperLength, shown "\"700 mm\"", note "or how long a sheet may be";
        /// Which way the paper's grain runs in that sheet: along its long or its short side.
        off grain: Grain, shown "\"short\"", note "which way it runs in that sheet; or \"long\"";
        /// How sheets are joined at a fold: a tab, a hinge of tissue, or a whole panel doubled.
        optional join: JoinKind = SheetsPlan::default().join, note "hinge, doubled";
        /// How wide a tab is, or the tissue of a hinge.
        optional tab: PaperLength = on_paper(SheetsPlan::default().tab);
        /// How far art goes under its neighbour at a join.
        optional under_run: PaperLength = on_paper(SheetsPlan::default().under_run),
            note "how far art goes under its neighbour at a join";
        /// What the press or printer cannot print along the edges of a sheet.
        optional gripper: PaperLength = on_paper(SheetsPlan::default().gripper),
            note "what the press or printer cannot print along a sheet's edges";
        /// Paper left beyond the last panel and trimmed off when the strip is folded.
        optional spare: PaperLength = on_paper(SheetsPlan::default().spare),
            note "paper beyond the last panel, trimmed off after folding";
        /// An ICC profile of the printing condition, inside the book's folder, for PDF/X-4.
        off intent: BookFile, shown "\"press.icc\"", note "the printing condition, for PDF/X-4";
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
        required from: PanelName, shown "\"front 1\"";
        /// The panel where it goes on: the next one, or, around an end of the strip, the one behind.
        required to: PanelName, shown "\"front 2\"";
        /// Between which heights it crosses, measured from the panels' heads; their whole height unless said.
        optional heights: Heights, shown "[\"40 mm\", \"90 mm\"]";
    }

    /// How far words keep from folds and trimmed edges.
    SafetyWritten "`safety`" {
        /// From a fold; on a panel as for all unless said.
        optional fold: PaperLength = mm(6.0);
        /// From a trimmed edge; on a panel as for all unless said.
        optional edge: PaperLength = mm(5.0);
    }

    /// How words are set.
    TextWritten "[text]" {
        /// What the manuscript starts as.
        optional set_as: SetAs = SetAs::Verse, note "or \"prose\"";
        /// Which way lines run: across, or down and from right to left, as in Chinese and Japanese; the panels then follow
        /// each other from right to left unless said.
        optional lines_run: LinesRun = LinesRun::Across,
            note "or \"down\", as in Chinese and Japanese";
        /// The typeface: a family of the fonts that come with the program, a font file, or one for each style.
        optional typeface: TypefaceNamed = TypefaceNamed::usual(),
            note "or \"Alegreya Sans\", \"Playpen Sans\", or the path of a .ttf or .otf file";
        /// Typefaces for characters that the main one lacks, tried in order.
        optional fallback: Vec<At<TypefaceNamed>> = Vec::new(),
            note "faces for characters that the typeface lacks";
        /// OpenType features: "onum" on, "-liga" off, "ss01=2" by number.
        optional features: Vec<At<Feature>> = Vec::new(),
            note "OpenType features, such as \"onum\" for old-style figures";
        /// The type size, from 3 pt to 144 pt.
        optional size: TypeSize = pt(11.0);
        /// The distance of the baselines; 15/11 of the size unless said.
        optional leading: Leading, shown "\"15 pt\"";
        /// How lines stand between the margins; where their words begin unless said: "left", or "right" where
        /// they run from right to left.
        optional align: Align, shown "\"left\"",
            note "right, centre, justified, longest-line, usual-longest";
        /// Where words stand in the text area; those that follow boxes or a mask begin at its head.
        optional vertical: Vertical = Vertical::Head, note "centre, optical-centre, foot";
        /// The distances from the panel's edges to the text area.
        optional margins: MarginsWritten = MarginsWritten::default(),
            note "or inner (at the fold of a spread) and outer";
        /// The space above a stanza, in whole or half lines.
        optional stanza_space: TextLength = line(1.0);
        /// How far a paragraph's first line stands in, the first of a part aside.
        optional paragraph_indent: TextLength = em(1.0),
            note "the first paragraph of a part stands flush";
        /// Whether words of prose may be divided at line ends, by the rules of the language; unless said, where lines
        /// are justified.
        optional hyphenate: Switch, shown "false", note "true divides words of prose; so it is where lines are justified";
        /// Words that may be divided only at their hyphens, such as "win-ter-berg".
        optional exceptions: Vec<At<HyphenatedWord>> = Vec::new(),
            note "words with their only hyphens, such as \"win-ter-berg\"";
        /// How far the piece of a verse line that runs over is indented, or "right".
        optional turnover: TurnoverWritten = TurnoverWritten::Indent(em(2.0)), note "or \"right\"";
        /// Where the second half of a verse line stands, behind two spaces or more or a tab: where these put it, or in all
        /// lines of a part that have room for it at one place.
        optional caesura: Caesura = Caesura::AsWritten, note "or \"aligned\": second halves of lines below each other";
        /// What hangs outside the text area: of verse quotation marks unless said, of prose all marks and hyphens, and a
        /// little of letters such as A, T and V.
        optional hang: Hang, shown "\"quotes\"", note "none, all";
        /// How a part opens: as any other line, in small capitals, or as a table says.
        optional opening: Opening = Opening::None,
            note "small-caps, { drop = 3, then = \"small-caps\" }";
        /// How words of three capitals and more are set, those of headings aside.
        optional capitals: CapitalsStyle = CapitalsStyle::AsWritten, note "letterspaced, small";
        /// How titles (`#`) are set.
        optional title: TitleWritten;
        /// How headings (`##`) are set.
        optional heading: HeadingWritten;
        /// How lower headings (`###`) are set.
        optional subheading: SubheadingWritten;
        /// The colour of the words.
        optional ink: Ink = Ink::Black,
            note "reversed-out, { grey = 0 }, { cmyk = [0, 0, 0, 1] }, { rgb = [0, 0, 0] },\n\
                  { spot = \"Pass Red\", cmyk = [0, 1, 0.9, 0] }";
    }

    /// Distances from the panel's edges to the text area.
    MarginsWritten "`margins`" {
        /// From the top; on a panel as for all unless said.
        optional head: TextLength = mm(14.0);
        /// From the bottom; on a panel as for all unless said.
        optional foot: TextLength = mm(16.0);
        /// From the left; on a panel as for all unless said.
        optional left: TextLength = mm(11.0);
        /// From the right; on a panel as for all unless said.
        optional right: TextLength = mm(11.0);
        /// From the fold in the middle of a spread, in place of left and right.
        optional inner: TextLength;
        /// From the other side of a panel, in place of left and right.
        optional outer: TextLength;
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
        /// From the fold in the middle of a spread, in place of left and right.
        optional inner: TextLength;
        /// From the other side of a panel, in place of left and right.
        optional outer: TextLength;
        /// Boxes that words stand in, one after the other.
        optional boxes: Vec<At<BoxWritten>>;
        /// A PNG picture of the whole panel inside the book's folder, white where words may stand.
        optional mask: BookFile;
    }

    /// A picture.
    PictureWritten "[[picture]]" {
        /// Its name, as callouts and pins use it.
        required name: Name, shown "\"the tunnel\"";
        /// How many panels it stands on, one behind the other, or "side" for a whole side.
        optional spans: Spans = Spans::Panels(1),
            note "panels, one behind the other; or \"side\" for a whole side";
        /// Whether its first panel must be the first of its spread.
        optional whole_spread: Switch = Switch(false), note "true: it begins a spread";
        /// Whether it is heavy: its ink shows through the paper, and `show-through` keeps words from its back.
        optional heavy: Switch = Switch(false), note "true: its ink shows through the paper";
        /// What it leaves to words that share its panel: "all" of it, or margins, boxes or a mask. Without it, it stands
        /// alone.
        optional leaves: Leaves, shown "{ head = \"90 mm\" }",
            note "for words; or \"all\", or boxes, or a mask, as below [[panel]]";
        /// How many panels after its words it comes, where it is not as for all.
        optional picture_comes: OfRule<PictureComes>;
        /// On which spread it stands, counted from that of its words, where it is not as for all.
        optional picture_with: OfRule<PictureWithRule>;
        /// Its scan, a JPEG, PNG or TIFF file inside the book's folder, as large as its panels, with the bleed
        /// around them or without.
        optional art: BookFile, shown "\"art/tunnel.png\"", note "its scan: JPEG, PNG or TIFF";
        /// How far its scan runs over the folds at its ends, onto its neighbours; never farther than its bleed.
        optional runs_over: PaperLength = mm(0.0), note "how far it lies on its neighbours at folds";
    }

    /// What is pinned by hand on one panel.
    PanelWritten "[[panel]]" {
        /// The panel, such as "front 1".
        required panel: PanelName, shown "\"front 1\"";
        /// What it carries.
        optional role: Role, shown "\"title\"", note "text, shared, picture, blank";
        /// The picture that it carries.
        optional picture: Name;
        /// Margins of its own.
        optional margins: MarginsWritten;
        /// Boxes that its words stand in, one after the other, in place of margins.
        optional boxes: Vec<At<BoxWritten>>,
            shown "[{ x = \"11 mm\", y = \"14 mm\", width = \"60 mm\", height = \"30 mm\" }]",
            note "where its words stand";
        /// A PNG picture of the whole panel inside the book's folder, white where its words may stand.
        optional mask: BookFile, shown "\"art/words.png\"",
            note "or a picture of the panel, white where words may stand";
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
        let keys = T::keys();
        keys.iter().any(|key| key.name() == name).then_some(T::NAME)
    }
    has::<Written>(name)
        .or_else(|| has::<PaperWritten>(name))
        .or_else(|| has::<TextWritten>(name))
        .or_else(|| has::<TitleWritten>(name))
        .or_else(|| has::<RulesWritten>(name))
        .or_else(|| has::<PictureWritten>(name))
        .or_else(|| has::<PartWritten>(name))
        .or_else(|| has::<PanelWritten>(name))
        .or_else(|| has::<SheetsWritten>(name))
        .or_else(|| has::<CrossoverWritten>(name))
}
