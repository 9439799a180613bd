//! The plan of a new book: what its author answered, and every other key as a comment with its default.

use super::written::{
    CrossoverWritten, PanelWritten, PaperWritten, PartWritten, PictureWritten, RulesWritten,
    SheetsWritten, TextWritten, TitleWritten, WeightsWritten,
};
use super::{Direction, SetAs};
use crate::names::{Length, Measure, decimals};
use crate::reading::{InSample, Key, Table};

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
    /// How many pictures there will be.
    pub pictures: u16,
    /// The families that its words are set in, the main one first; the usual one where there is none.
    pub families: Vec<String>,
    /// The leading that its words need, where the usual one lets their marks touch.
    pub leading: Option<Length>,
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

/// Reads how many pictures there will be.
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

/// The plan's text for a manuscript file: what was answered, and every other key as a remark, made of what the keys
/// declare of themselves.
pub fn plan(answers: &Answers, manuscript: &str) -> String {
    let mut text = format!(
        "# The plan of this book. A line that begins with # is a remark; take the # away to use the key.\n\
         title = {}\n\
         language = {}\n\
         manuscript = {}\n\
         # author = \"NAME\"              # on the title panel, where the manuscript has no [author]\n\
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
    let mut add = |head: &str, keys: Vec<Key>, of_off: &str| {
        text.push_str(head);
        text.push_str(&remarks(answers, keys, of_off));
    };
    let mut paper = PaperWritten::keys();
    paper.retain(|key| key.field != "sides");
    add(
        "",
        paper,
        "What the printer and the binder need to know, if you know it:",
    );
    let sheets = "\n[sheets]                        # how the strip is cut and joined\n";
    add(
        sheets,
        SheetsWritten::keys(),
        "Unless you say so, the strip is one sheet:",
    );
    add("\n[text]\n", TextWritten::keys(), "");
    add(TITLE, TitleWritten::keys(), "");
    add(
        "\n[rules]\n",
        RulesWritten::keys_of_rules(),
        "Off unless you ask for them:",
    );
    add("", WeightsWritten::keys(), "");
    add(PANEL, PanelWritten::keys(), "");
    add(CROSSOVER, CrossoverWritten::keys(), "");
    add(PART, PartWritten::keys(), "");
    if answers.pictures > 0 {
        add(PICTURE, PictureWritten::keys(), "");
    }
    text
}

const TITLE: &str = "
# Titles, the lines that begin with #; [text.heading] for ## and [text.subheading] for ### say the same of those, but
# for `vertical`.
# [text.title]
";

const PANEL: &str = "
# A panel that you fix by hand; everything else is found.
# [[panel]]
";

const CROSSOVER: &str = "
# A motif that runs over a fold, or around an end of the strip, and the heights between which it does.
# [[crossover]]
";

const PART: &str = "
# A part with panels of its own, such as a translation; [part: NAME] begins it in the manuscript. Then give the
# words before it theirs in a [[part]] called \"body\". Here too may stand, where they are not as in [text]: typeface,
# features, size, leading, align, vertical, margins, hyphenate, turnover, hang, opening, caesura, capitals.
# [[part]]
";

const PICTURE: &str = "
# In the manuscript, write [picture: NAME] on a line of its own below the words a picture belongs to: it takes one
# of the panels that `pictures` keeps. It stands alone unless you say here what it leaves to words.
# [[picture]]
";

/// Keys as remarks, those that are off unless said last, below a line of their own; keys that the words ask for
/// otherwise are spoken.
fn remarks(answers: &Answers, keys: Vec<Key>, of_off: &str) -> String {
    let shown = |key: Key| Some((key.name(), (key.sample)()?));
    let shown = keys.into_iter().filter_map(shown);
    let (off, usual): (Vec<_>, Vec<_>) = shown.partition(|(_, shown)| shown.off);
    let mut text: String = usual
        .into_iter()
        .map(|(name, shown)| usual_line(answers, &name, shown))
        .collect();
    if !off.is_empty() {
        text.push_str(&format!("# {of_off}\n"));
    }
    text.extend(
        off.iter()
            .map(|(name, shown)| line("#   ", name, &shown.value, shown.note)),
    );
    text
}

/// A key that holds unless said, as this book needs it.
fn usual_line(answers: &Answers, name: &str, shown: InSample) -> String {
    let right_to_left = Direction::of_language(&answers.language).is_right_to_left();
    let prose = answers.set_as == SetAs::Prose;
    let InSample { value, note, .. } = shown;
    let mut families = answers.families.iter().map(|name| quoted(name));
    let typeface = families.next();
    let fallback: Vec<String> = families.collect();
    match name {
        "reads" if right_to_left => line("", name, "\"right-to-left\"", ""),
        "align" if right_to_left => {
            let note = note.replacen("right,", "left,", 1);
            line("# ", name, "\"right\"", &note)
        }
        "set-as" if prose => line("", name, "\"prose\"", "or \"verse\""),
        "set-as" => line("", name, &value, note),
        "hang" if prose => line("# ", name, "\"all\"", "none, quotes"),
        "typeface" => match typeface.filter(|own| *own != value) {
            Some(own) => line("", name, &own, ""),
            None => line("# ", name, &value, note),
        },
        // What books of every kind look best with; full panels begin at the head by themselves.
        "vertical" if value == "\"head\"" => line(
            "",
            name,
            "\"optical-centre\"",
            "or \"head\", \"centre\", \"foot\"",
        ),
        "leading" => match answers.leading {
            Some(own) => {
                let value = format!("\"{}\"", own.in_points());
                line(
                    "",
                    name,
                    &value,
                    "so that no marks of neighbouring lines touch",
                )
            }
            None => line("# ", name, &value, note),
        },
        "pictures" if answers.pictures > 0 => line("", name, &answers.pictures.to_string(), note),
        "fallback" if !fallback.is_empty() => {
            line("", name, &format!("[{}]", fallback.join(", ")), "")
        }
        _ => line("# ", name, &value, note),
    }
}

/// Where notes begin, where there is room before them.
const NOTES: usize = 32;

/// A key with its value, and beside it a note, line by line.
fn line(mark: &str, name: &str, value: &str, note: &str) -> String {
    let mut text = format!("{mark}{name} = {value}");
    let wide = text.chars().count();
    let column = if wide < NOTES { NOTES } else { wide + 3 };
    for (number, words) in note.lines().enumerate() {
        if number > 0 {
            text.push_str("\n#");
        }
        let last = text.rsplit('\n').next().unwrap_or_default();
        let gap = column - last.chars().count();
        text.push_str(&format!("{:gap$}# {words}", ""));
    }
    text + "\n"
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
            leading: None,
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
        let rules = Rules {
            pictures: 3,
            ..Rules::default()
        };
        assert_eq!(spoken.rules, rules);
        assert_eq!(spoken.text.size, plain.text.size);
        assert_eq!(spoken.text.leading, plain.text.leading);
        assert_eq!(spoken.text.margins, plain.text.margins);
        assert_eq!(spoken.text.stanza_space, plain.text.stanza_space);
        assert_eq!(spoken.text.prose_hang, plain.text.prose_hang);
        assert_eq!(spoken.text.turnover, plain.text.turnover);
        assert_eq!(spoken.text.paragraph_indent, plain.text.paragraph_indent);
        assert_eq!(spoken.text.divides_words(), plain.text.divides_words());
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
