//! The plan of a new book: what its author answered, and every other key as a comment with its default.

use super::{Direction, SetAs};
use crate::names::{Length, Measure, decimals};

/// What the author of a new book answered.
#[derive(Clone, Debug, PartialEq)]
pub struct Answers {
    /// The title.
    pub title: String,
    /// The language, as a BCP 47 tag.
    pub language: String,
    /// Width and height of a panel.
    pub panel: (Length, Length),
    /// Panels on a side.
    pub panels: u16,
    /// Whether both sides are printed.
    pub both_sides: bool,
    /// What the manuscript is.
    pub set_as: SetAs,
    /// About how many pictures there will be.
    pub pictures: u16,
    /// The families that its words are set in, the main one first; the usual one where there is none.
    pub families: Vec<String>,
}

/// Reads two lengths such as `105 x 148 mm`, `4 in × 6 in`; one unit at the end stands for both. Nothing
/// where they cannot be read or are no size for a panel.
pub fn panel_size(text: &str) -> Option<(Length, Length)> {
    let (width, height) = text.split_once(['x', '×', 'X'])?;
    let height = Measure::read(height).ok()?;
    let unit: String = text
        .chars()
        .rev()
        .take_while(|c| c.is_alphabetic())
        .collect();
    let unit: String = unit.chars().rev().collect();
    let with_unit = format!("{} {unit}", width.trim());
    let width = Measure::read(width)
        .or_else(|_| Measure::read(&with_unit))
        .ok()?;
    let size = (width.absolute()?, height.absolute()?);
    let fits = |length: Length| length >= Length::mm(20) && length <= Length::mm(1000);
    (fits(size.0) && fits(size.1)).then_some(size)
}

/// Reads how many panels a side has.
pub fn panel_count(text: &str) -> Option<u16> {
    text.trim()
        .parse()
        .ok()
        .filter(|count| (2..=400).contains(count))
}

/// Reads which sides are printed: whether it is both.
pub fn both_sides(text: &str) -> Option<bool> {
    match text.trim().to_lowercase().as_str() {
        "both" => Some(true),
        "front" | "one" => Some(false),
        _ => None,
    }
}

/// Reads what a manuscript is.
pub fn set_as(text: &str) -> Option<SetAs> {
    match text.trim().to_lowercase().as_str() {
        "verse" => Some(SetAs::Verse),
        "prose" => Some(SetAs::Prose),
        _ => None,
    }
}

/// Reads about how many pictures there will be.
pub fn picture_count(text: &str) -> Option<u16> {
    text.trim().parse().ok().filter(|count| *count <= 800)
}

/// A text as a TOML string.
fn quoted(text: &str) -> String {
    toml::Value::String(text.to_string()).to_string()
}

fn length(length: Length) -> String {
    format!("{} mm", decimals(length.as_mm(), 4))
}

/// The plan's text for a manuscript file.
pub fn plan(answers: &Answers, manuscript: &str) -> String {
    let head = format!(
        "# The plan of this book. A line that begins with # is a remark; take the # away to use the key.\n\
         title = {}\n\
         language = {}\n\
         manuscript = {}\n\
         # date = 2026-01-31\n\
         \n\
         [paper]\n\
         panel-width = \"{}\"\n\
         panel-height = \"{}\"\n\
         panels-per-side = {}\n\
         sides = \"{}\"\n",
        quoted(&answers.title),
        quoted(&answers.language),
        quoted(manuscript),
        length(answers.panel.0),
        length(answers.panel.1),
        answers.panels,
        if answers.both_sides { "both" } else { "front" },
    );
    format!("{head}{}{}", keys(answers), pictures(answers))
}

/// The typeface of a plan that names none.
const USUAL: &str = "Alegreya";

/// The keys with their defaults as remarks; those that the words ask for otherwise are spoken.
fn keys(answers: &Answers) -> String {
    let right_to_left = Direction::of_language(&answers.language).is_right_to_left();
    let mut families = answers.families.iter();
    let typeface = families.next().filter(|name| **name != USUAL);
    let fallback: Vec<String> = families.map(|name| quoted(name)).collect();
    let mut keys = String::new();
    for line in DEFAULTS.lines() {
        let key = line
            .strip_prefix("# ")
            .and_then(|rest| rest.split(" = ").next());
        let spoken = match (key, typeface) {
            (Some("reads"), _) if right_to_left => "reads = \"right-to-left\"".to_string(),
            (Some("align"), _) if right_to_left => {
                let turned = line.replacen("\"left\" ", "\"right\"", 1);
                turned.replacen("right,", "left,", 1)
            }
            _ if line.starts_with("set-as") && answers.set_as == SetAs::Prose => {
                "set-as = \"prose\"                # or \"verse\"".to_string()
            }
            (Some("hang"), _) if answers.set_as == SetAs::Prose => {
                "# hang = \"none\"               # quotes, all".to_string()
            }
            (Some("typeface"), Some(name)) => format!("typeface = {}", quoted(name)),
            (Some("fallback"), _) if !fallback.is_empty() => {
                format!("fallback = [{}]", fallback.join(", "))
            }
            _ => line.to_string(),
        };
        keys.push_str(&spoken);
        keys.push('\n');
    }
    keys
}

const DEFAULTS: &str = r#"# cover = "self"                # or "boards" (the outside faces are pasted down), "wrapper"
# first-fold = "mountain"       # the fold after front 1, seen from the front; or "valley", as with boards
# turned = "head-to-head"       # how the strip is turned over; or "head-to-foot"
# reads = "left-to-right"       # or "right-to-left"
# bleed = "3 mm"
# safety = { fold = "6 mm", edge = "5 mm" }   # words keep this far away
# score = "crease"              # how folds are scored; or "cut", for board
# What the printer and the binder need to know, if you know it:
#   thickness = "0.25 mm"       # of one leaf; or grammage = 200 (g/m²) and bulk = 1.2 (cm³/g)
#   ends = { first = "108 mm", last = "108 mm" }   # where the panels at the ends are wider or narrower
#   boards = { thickness = "2 mm", square = "3 mm", turn-in = "15 mm" }   # with cover = "boards"
#   wrapper = { kind = "folded", flap = "70 mm" }   # with cover = "wrapper"; or "band", height, overlap

[sheets]                        # how the strip is cut and joined
# join = "tab"                  # hinge, doubled
# tab = "12 mm"
# under-run = "1.5 mm"          # how far art goes under its neighbour at a join
# gripper = "5 mm"              # what the press or printer cannot print along a sheet's edges
# spare = "5 mm"                # paper beyond the last panel, trimmed off after folding
# Unless you say so, the strip is one sheet:
#   size = "SRA3"               # or "A3", "letter", { width = "450 mm", height = "320 mm" }
#   grain = "short"             # which way it runs in that sheet; or "long"
#   longest-sheet = "700 mm"    # or how long a sheet may be
#   intent = "press.icc"        # the printing condition, for PDF/X-4

[text]
set-as = "verse"                # or "prose"
# typeface = "Alegreya"         # or "Alegreya Sans", "Playpen Sans", or the path of a .ttf or .otf file
# fallback = []                 # faces for characters that the typeface lacks
# features = []                 # OpenType features, such as "onum" for old-style figures
# size = "11 pt"
# leading = "15 pt"
# align = "left"                # right, centre, justified, longest-line, usual-longest
# vertical = "head"             # centre, foot
# margins = { head = "14 mm", foot = "16 mm", left = "11 mm", right = "11 mm" }
# stanza-space = "1 line"
# paragraph-indent = "1 em"     # the first paragraph of a part stands flush
# hyphenate = false             # true divides words of prose at line ends
# exceptions = []               # words with their only hyphens, such as "win-ter-berg"
# turnover = "2 em"             # or "right"
# hang = "quotes"               # none, all
# opening = "none"              # small-caps, { drop = 2 }
# ink = "black"                 # reversed-out, { grey = 0 }, { cmyk = [0, 0, 0, 1] }, { rgb = [0, 0, 0] },
#                               # { spot = "Pass Red", cmyk = [0, 1, 0.9, 0] }

[rules]
# each-panel = "free"           # "stanza", "4 lines"
# text-fullness = "60 %"
# shared-fullness = "35 %"
# first-fullness = "40 %"
# last-fullness = "35 %"
# fullest = "95 %"
# emptiest = "0 %"
# undivided = "stanza"          # sentence, line
# fewest-lines = 2
# picture-comes = { soonest = 0, latest = 1 }   # panels after its words
# shared-panels = "allowed"     # words and pictures on one panel; or "never", "always"
# even-fullness = false         # true: panels of words about as full as the one before
# text-in-a-row = 2             # most panels of words alone in a row, in parts with pictures
# pictures-in-a-row = 2         # most panels of pictures alone in a row
# blank-before = []             # pictures before which a panel stays blank
# Off unless you ask for them:
#   picture-with = "same-spread"            # as its words; or "next-spread"; then picture-comes is off
#   blanks = { count = 1, where = "end" }   # panels that stay blank; or "start", "anywhere". Without it, in a
#                                           # part with pictures, none but those that you ask for otherwise
#   ends-with = "picture"                   # text, shared, blank
# must = []                     # rules that may never be broken
# may-give = []                 # rules that may give way
# importance = {}               # such as { text-fullness = 3 }

# A panel that you fix by hand; everything else is found.
# [[panel]]
# panel = "front 1"
# role = "title"                # text, shared, picture, blank
# boxes = [{ x = "11 mm", y = "14 mm", width = "60 mm", height = "30 mm" }]   # where its words stand
# mask = "art/words.png"        # or a picture of the panel, white where words may stand

# A motif that runs over a fold, or around an end of the strip, and the heights between which it does.
# [[crossover]]
# from = "front 1"
# to = "front 2"
# heights = ["40 mm", "90 mm"]

# A part with panels of its own, such as a translation; [part: NAME] begins it in the manuscript. Then give the
# words before it theirs in a [[part]] called "body".
# [[part]]
# name = "translation"
# on = ["back 1 to back 8"]
# pairs-with = "body"           # the part that it goes side by side with, panel by panel
# pairing = "facing"            # on the same spreads; or "behind", on the other side of the paper
"#;

/// What the pictures need, as remarks.
fn pictures(answers: &Answers) -> String {
    if answers.pictures == 0 {
        return String::new();
    }
    format!(
        "\n# About {} pictures. In the manuscript, write [picture: NAME] on a line of its own below the \
         words\n# a picture belongs to. LineContext you may say what it leaves to words that share its panel.\n\
         # [[picture]]\n# name = \"the tunnel\"\n# spans = 1                     # panels, \
         one behind the other; or \"side\" for a whole side\n# whole-spread = false          # true: it \
         begins a spread\n# leaves = {{ head = \"90 mm\" }}   # or boxes, or a mask, as below [[panel]]\n\
         # art = \"art/tunnel.png\"        # its scan: JPEG, PNG or TIFF\n\
         # runs-over = \"0 mm\"             # how far it lies on its neighbours at folds\n",
        answers.pictures
    )
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::book::plan_file::check;
    use crate::names::Source;
    use crate::plan::{Rules, SheetsPlan};

    fn answers() -> Answers {
        Answers {
            title: "The \"Winter\" Bus\\".to_string(),
            language: "en-GB".to_string(),
            panel: (Length::mm(105), Length::mm(148)),
            panels: 8,
            both_sides: true,
            set_as: SetAs::Prose,
            pictures: 3,
            families: Vec::new(),
        }
    }

    #[test]
    fn a_new_plan_reads_back_as_it_was_answered() {
        let text = plan(&answers(), "winter-bus.txt");
        let read = check::read(&Source::new("concertina.toml", text)).unwrap();
        assert_eq!(read.title, answers().title);
        assert_eq!(read.paper.panel_width, Length::mm(105));
        assert_eq!(read.paper.panels.per_side, 8);
        assert_eq!(read.set_as, SetAs::Prose);
    }

    #[test]
    fn a_new_plan_names_what_its_words_need() {
        let hebrew = Answers {
            language: "he".to_string(),
            families: ["Noto Serif Hebrew", "Amiri"].map(String::from).to_vec(),
            ..answers()
        };
        let text = plan(&hebrew, "winter-bus.txt");
        for line in [
            "reads = \"right-to-left\"",
            "typeface = \"Noto Serif Hebrew\"",
            "fallback = [\"Amiri\"]",
        ] {
            assert!(text.lines().any(|known| known == line), "{line} in {text}");
        }
        let read = check::read(&Source::new("concertina.toml", text)).unwrap();
        assert!(read.parts[0].reads.is_right_to_left());
    }

    /// Every key that stands as a remark exists, and its value is the default.
    #[test]
    fn the_remarks_are_keys_with_their_defaults() {
        let text = plan(&answers(), "winter-bus.txt");
        let plain = check::read(&Source::new("concertina.toml", text.clone())).unwrap();
        let is_key = |line: &str| {
            line.split(" = ")
                .next()
                .is_some_and(|key| !key.contains(' '))
        };
        let (tables, _) = text.split_once("# A panel that you fix").unwrap();
        let spoken: String = tables
            .lines()
            .filter(|line| !line.starts_with("# date") && !line.starts_with("# The plan"))
            .map(|line| {
                line.strip_prefix("# ")
                    .filter(|rest| is_key(rest))
                    .unwrap_or(line)
            })
            .fold(String::new(), |text, line| text + line + "\n");
        assert_ne!(spoken, tables);
        let spoken = check::read(&Source::new("concertina.toml", spoken)).unwrap();
        assert_eq!(spoken.paper, plain.paper);
        assert_eq!((spoken.score, spoken.stock), (plain.score, plain.stock));
        let placed = SheetsPlan {
            tab_asked: false,
            place: None,
            ..spoken.sheets
        };
        assert_eq!(placed, SheetsPlan::default());
        assert_eq!(spoken.rules, Rules::default());
        assert_eq!(spoken.text.size, plain.text.size);
        assert_eq!(spoken.text.leading, plain.text.leading);
        assert_eq!(spoken.text.margins, plain.text.margins);
        assert_eq!(spoken.text.stanza_space, plain.text.stanza_space);
        assert_eq!(spoken.text.prose_hang, plain.text.prose_hang);
        assert_eq!(spoken.text.turnover, plain.text.turnover);
        assert_eq!(spoken.text.paragraph_indent, plain.text.paragraph_indent);
        assert_eq!(spoken.text.hyphenate, plain.text.hyphenate);
        assert_eq!(spoken.text.exceptions, plain.text.exceptions);
        assert_eq!(spoken.text.ink, plain.text.ink);
    }

    #[test]
    fn answers_are_read_as_people_write_them() {
        let mm = |w, h| Some((Length::mm(w), Length::mm(h)));
        assert_eq!(panel_size("105 x 148 mm"), mm(105, 148));
        assert_eq!(panel_size("105 mm × 14.8 cm"), mm(105, 148));
        assert_eq!(panel_size("105mm x148mm"), mm(105, 148));
        for bad in [
            "105",
            "105 x 148",
            "5 x 148 mm",
            "105 x 148 em",
            "x",
            "2000 x 148 mm",
        ] {
            assert_eq!(panel_size(bad), None, "{bad}");
        }
        assert_eq!(panel_count("1"), None);
        assert_eq!(panel_count("401"), None);
        assert_eq!(both_sides("Both"), Some(true));
        assert_eq!(both_sides("back"), None);
        assert_eq!(picture_count("-1"), None);
        assert_eq!(set_as(" Prose"), Some(SetAs::Prose));
        assert_eq!(set_as("poem"), None);
    }
}
