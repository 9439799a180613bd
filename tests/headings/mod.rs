//! Titles and headings on panels: what a title panel carries, how headings stand, and that drawing changes no word.

mod faults;

use versefold::assets::Assets;
use versefold::book::Workbench;
use versefold::layout::{LaidLine, LaidPanel, Layout, verify};
use versefold::names::{Faults, Length, Role, Source};
use versefold::text::LineKind;
use versefold::typeface::{Emphasis, FontLibrary};

/// A plan with a title panel, and these lines behind its `[text]`.
fn plan(text: &str) -> String {
    format!(
        "title = \"The Winter Bus\"\n\
         author = \"Her Mother\"\n\
         language = \"en-GB\"\n\
         manuscript = \"winter-bus.txt\"\n\
         [paper]\n\
         panel-width = \"105 mm\"\n\
         panel-height = \"148 mm\"\n\
         panels-per-side = 6\n\
         sides = \"front\"\n\
         [text]\n\
         {text}\n\
         [[panel]]\n\
         panel = \"front 1\"\n\
         role = \"title\"\n"
    )
}

fn lay_out(plan: &str, words: &str) -> Result<Layout, Faults> {
    let plan = Source::new("concertina.toml", plan);
    let words = Source::new("winter-bus.txt", words);
    Workbench::new(Assets::memory()).lay_out_texts(&plan, &words)
}

fn laid(plan: &str, words: &str) -> Layout {
    lay_out(plan, words).unwrap_or_else(|faults| panic!("{faults:#?}"))
}

fn texts(panel: &LaidPanel) -> Vec<&str> {
    panel.lines.iter().map(|line| line.text.as_str()).collect()
}

/// The line that begins with these words.
fn line<'a>(layout: &'a Layout, words: &str) -> &'a LaidLine {
    let mut lines = layout.panels.iter().flat_map(|panel| &panel.lines);
    let found = lines.find(|line| line.text.starts_with(words));
    found.unwrap_or_else(|| panic!("no line begins with {words}"))
}

/// From the left edge of a line's first glyph to the right edge of its last, by the ink.
fn ink(line: &LaidLine) -> (Length, Length) {
    let (first, last) = (&line.runs[0], &line.runs[line.runs.len() - 1]);
    let left = first.face.ink(first.glyphs[0].id).expect("ink").0;
    let last_glyph = &last.glyphs[last.glyphs.len() - 1];
    let before: i32 = last.glyphs[..last.glyphs.len() - 1]
        .iter()
        .map(|glyph| glyph.advance)
        .sum();
    let right = before + last.face.ink(last_glyph.id).expect("ink").1;
    (
        first.x + first.face.scale(left, first.size),
        last.x + last.face.scale(right, last.size),
    )
}

const POEM: &str = "\
# The Winter Bus

[subtitle]
Nine years over the pass

## I

The cap came in one size, and the coat
too large, and yellow to the sills.

## II

Grit in flour bags
under every second seat.

### In which the wind gets up

It got up.
It was the wind.
";

#[test]
fn a_title_panel_carries_the_title_and_what_stands_with_it() {
    let layout = laid(&plan(""), POEM);
    let [title, first, ..] = &layout.panels[..] else {
        panic!("six panels");
    };
    assert_eq!(title.role, Role::Title);
    let carried = ["The Winter Bus", "Nine years over the pass", "Her Mother"];
    assert_eq!(texts(title), carried);
    assert_eq!(texts(first)[0], "I");
    // What the manuscript says of its author goes before what the plan says.
    let words = POEM.replace("## I\n", "[author]\nA Driver\n\n## I\n");
    let layout = laid(&plan(""), &words);
    assert_eq!(texts(&layout.panels[0])[2], "A Driver");
    assert_eq!(layout.panels[0].lines.len(), 3);
    // A part without a title of its own has the plan's.
    let words = "The cap came in one size.\n";
    let layout = laid(&plan(""), words);
    assert_eq!(texts(&layout.panels[0]), ["The Winter Bus", "Her Mother"]);
}

#[test]
fn a_new_panel_right_behind_a_title_is_there_already() {
    let words = POEM.replace("## I\n", "[new panel]\n## I\n");
    let (with, without) = (laid(&plan(""), &words), laid(&plan(""), POEM));
    let all = |layout: &Layout| -> Vec<Vec<String>> {
        let panels = layout.panels.iter();
        panels.map(|panel| panel.words()).collect()
    };
    assert_eq!(all(&with), all(&without));
    // Without a title panel the title has a panel to itself.
    let untitled = plan("").replace("role = \"title\"", "role = \"text\"");
    let layout = laid(&untitled, &words);
    let first = ["The Winter Bus", "Nine years over the pass"];
    assert_eq!(texts(&layout.panels[0]), first);
}

#[test]
fn no_panel_ends_with_a_heading() {
    let stanza = "\n\nThe wheels turn\nin the snow\nas the bus climbs.\n\n";
    let mut checked = 0;
    for height in 80..130 {
        let headings = [
            "## I",
            "### The wind",
            "## Passengers\n[subtitle]\nAll of them",
        ];
        let words: String = (0..9)
            .map(|n| format!("{}{stanza}", headings[n % 3]))
            .collect();
        let tall = format!("panel-height = \"{height} mm\"");
        let plan = plan("").replace("panel-height = \"148 mm\"", &tall);
        let plan = plan.replace("panels-per-side = 6", "panels-per-side = 24");
        let layout = laid(&plan, &words);
        for panel in layout
            .panels
            .iter()
            .filter(|panel| panel.role != Role::Title)
        {
            if let Some(last) = panel.lines.last() {
                assert!(!last.kind.is_titling(), "{height} mm: {:?}", texts(panel));
                checked += 1;
            }
        }
    }
    assert!(checked > 200);
}

/// A numeral stands above the middle of the longest line, to a hair, wherever the measure ends.
#[test]
fn a_numeral_stands_above_the_middle_of_the_longest_line() {
    let layout = laid(&plan(""), POEM);
    let longest = line(&layout, "The cap came");
    let middle = longest.x + longest.width / 2;
    for numeral in ["I", "II"] {
        let numeral = line(&layout, numeral);
        let (left, right) = ink(numeral);
        let off = (left + right) / 2 - middle;
        assert!(off.max(-off) < Length::pt(1) / 2, "{off:?}");
    }
    assert_eq!(line(&layout, "In which").x, longest.x);
    let at_edge = plan("[text.heading]\nalign = \"left\"");
    let layout = laid(&at_edge, POEM);
    assert_eq!(line(&layout, "I").x, longest.x);
}

/// The face's own glyphs for capitals, by its character map: SS for ß, as German writes (Unicode's SpecialCasing.txt).
#[test]
fn capitals_are_drawn_and_the_words_stay_as_written() {
    let words = POEM.replace("# The Winter Bus", "# Über die Straße");
    let style =
        "[text.title]\nstyle = \"capitals\"\nalign = \"centre\"\nletterspacing = \"0.2 em\"";
    let layout = laid(&plan(style), &words);
    let title = line(&layout, "Über die Straße");
    let glyphs = title.runs.iter().flat_map(|run| &run.glyphs);
    let shown: Vec<u16> = glyphs.map(|glyph| glyph.id).collect();
    let family = FontLibrary::new(Assets::memory()).open_family("Alegreya");
    let family = family.expect("it comes with the program");
    let face = family.face(Emphasis::Plain);
    let capitals = "ÜBER DIE STRASSE".chars();
    let capitals: Vec<u16> = capitals.map(|c| face.glyph(c).expect("a glyph")).collect();
    assert_eq!(shown, capitals);
    // What is added behind the last letter does not push the line aside.
    let area = layout.panels[0].area.expect("an area");
    let (left, right) = ink(title);
    let off = (left + right) / 2 - (area.left + area.width / 2);
    assert!(off.max(-off) < Length::pt(1), "{off:?}");
}

#[test]
fn letters_that_are_not_the_capitals_of_the_words_break_the_promise() {
    let style = "[text.title]\nstyle = \"capitals\"";
    let words = Source::new("winter-bus.txt", POEM);
    let mut layout = laid(&plan(style), POEM);
    let manuscript = versefold::text::Manuscript::read(&words).expect("a manuscript");
    assert!(verify(&manuscript, &layout).is_ok());
    let run = &mut layout.panels[0].lines[0].runs[0];
    let small = run.face.glyph('h').expect("a glyph");
    assert_eq!(run.glyphs[1].id, run.face.glyph('H').expect("a glyph"));
    run.glyphs[1].id = small;
    assert!(verify(&manuscript, &layout).is_err());
}

#[test]
fn spaces_around_headings_are_what_the_plan_says() {
    let lines = |layout: &Layout| {
        let panel = layout
            .panels
            .iter()
            .find(|panel| texts(panel).contains(&"II"));
        let panel = panel.expect("a panel").lines.iter();
        let baselines: Vec<Length> = panel.map(|line| line.baseline).collect();
        let leading = Length::pt(15);
        let apart = baselines.windows(2).map(|pair| (pair[1] - pair[0]) * 2);
        apart
            .map(|apart| apart.units() / leading.units())
            .collect::<Vec<_>>()
    };
    let tall = plan("").replace("148 mm", "300 mm");
    let usual = lines(&laid(&tall, POEM));
    // In half lines: I, verse, II, verse, the lower heading, verse.
    assert_eq!(usual, [4, 2, 6, 4, 2, 6, 4, 2]);
    let said = "leading = \"15 pt\"\n[text.heading]\nspace-above = \"0.5 lines\"\nspace-below = \"0 lines\"";
    let said = lines(&laid(&plan(said).replace("148 mm", "300 mm"), POEM));
    assert_eq!(said, [2, 2, 3, 2, 2, 6, 4, 2]);
}

#[test]
fn headings_have_their_own_family_and_style() {
    let style = "[text.heading]\ntypeface = \"Alegreya Sans\"\nsize = \"9 pt\"\nstyle = \"bold\"\n\
                 [text.subheading]\nstyle = \"small-caps\"";
    let layout = laid(&plan(style), POEM);
    let heading = &line(&layout, "II").runs[0];
    assert_eq!(heading.face.name(), "AlegreyaSans-Bold");
    assert_eq!(heading.size, Length::pt(9));
    let lower = line(&layout, "In which");
    let face = &lower.runs[0].face;
    assert_eq!(face.name(), "Alegreya-Regular");
    // “n” is a small capital, which is no glyph of the character map.
    assert_ne!(
        lower.runs[0].glyphs[1].id,
        face.glyph('n').expect("a glyph")
    );
    assert_eq!(lower.kind, LineKind::Subheading);
}

#[test]
fn small_capitals_that_a_face_does_not_have_are_told_and_not_faked() {
    let style = "[text.heading]\ntypeface = \"Amiri\"\nstyle = \"small-caps\"";
    let layout = laid(&plan(style), &POEM.replace("## II", "## Passengers"));
    let told: Vec<&str> = layout.notes.iter().map(|note| note.word).collect();
    assert!(told.contains(&"no-small-caps"), "{:?}", layout.notes);
    let run = &line(&layout, "Passengers").runs[0];
    assert_eq!(run.glyphs[1].id, run.face.glyph('a').expect("a glyph"));
}
