//! How parts open: large initials, where their ink stands, and how the words behind them are drawn.

mod phrases;
mod printed;

use versefold::assets::Assets;
use versefold::book::Workbench;
use versefold::layout::{GlyphRun, LaidLine, Layout};
use versefold::names::{Direction, Faults, Length, Source};
use versefold::typeface::Outline;

/// A plan of one side whose words have these lines of `[text]`.
fn plan(language: &str, text: &str) -> String {
    format!(
        "title = \"The Winter Bus\"\nlanguage = \"{language}\"\nmanuscript = \"winter-bus.txt\"\n\
         [paper]\npanel-width = \"105 mm\"\npanel-height = \"148 mm\"\npanels-per-side = 4\nsides = \"front\"\n\
         [text]\n{text}\n"
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

/// The line of a book that its part opens with.
fn first_line(layout: &Layout) -> &LaidLine {
    &layout.panels[0].lines[0]
}

fn initial(line: &LaidLine) -> &GlyphRun {
    let below = line.runs.iter().find(|run| run.baseline > line.baseline);
    below.unwrap_or_else(|| panic!("no initial in “{}”", line.text))
}

/// From where to where the ink of a run reaches, by points along the curves of its outlines.
fn ink(run: &GlyphRun) -> (Length, Length) {
    let upem = f64::from(run.face.metrics().units_per_em);
    let (mut pen, mut from, mut to) = (0, f64::MAX, f64::MIN);
    for glyph in &run.glyphs {
        let origin = f64::from(pen + glyph.dx);
        let mut x0 = 0.0;
        let mut reach = |x: f64| {
            from = from.min(origin + x);
            to = to.max(origin + x);
        };
        for piece in run.face.outline(glyph.id) {
            match piece {
                Outline::Move(x, _) | Outline::Line(x, _) => x0 = f64::from(x),
                Outline::Curve([x1, _, x2, _, x3, _]) => {
                    let [x1, x2, x3] = [x1, x2, x3].map(f64::from);
                    for step in 0..100 {
                        let t = f64::from(step) / 100.0;
                        let s = 1.0 - t;
                        let (a, b) = (s * s * s * x0, 3.0 * s * s * t * x1);
                        reach(a + b + 3.0 * s * t * t * x2 + t * t * t * x3);
                    }
                    x0 = x3;
                }
                Outline::Close => continue,
            }
            reach(x0);
        }
        pen += glyph.advance;
    }
    let length = |units: f64| run.size.scaled(units.round() as i64, upem as i64);
    (run.x + length(from), run.x + length(to))
}

#[track_caller]
fn is_at(found: Length, expected: Length, what: &str) {
    let off = (found - expected).as_mm();
    assert!(off.abs() < 0.01, "{what}: {off} mm off");
}

/// Ink stands at the edge of the words below, and an eighth of the size stands free between it and the words beside.
#[test]
fn the_ink_of_a_large_initial_begins_at_the_edge() {
    let size = Length::pt(11);
    for set_as in ["verse", "prose"] {
        for letter in ["A", "T", "W", "J", "O", "Q"] {
            let words = format!("{letter}en to seven on the pass\n").repeat(9);
            let text = format!("set-as = \"{set_as}\"\nhang = \"none\"\nopening = {{ drop = 3 }}");
            let layout = laid(&plan("en-GB", &text), &words);
            let line = first_line(&layout);
            let run = initial(line);
            let area = layout.panels[0].area.as_ref().expect("an area");
            let (from, to) = ink(run);
            is_at(from, area.left, letter);
            is_at(line.x, area.left, "the line");
            let beside = line.runs.iter().find(|run| run.baseline == line.baseline);
            is_at(beside.expect("words beside").x, to + size / 8, letter);
            is_at(layout.panels[0].lines[1].x, to + size / 8, "the next line");
        }
    }
}

#[test]
fn in_lines_to_the_left_its_ink_ends_at_the_right_edge() {
    for (language, face, words) in [
        ("he", "Noto Serif Hebrew", "אוטובוס החורף עולה אל ההר"),
        ("he", "Noto Serif Hebrew", "לילה ושלג על הגשר הצר"),
        ("he", "Noto Serif Hebrew", "שבעה נוסעים ומעיל אחד"),
        ("ar", "Amiri", "باص الشتاء يصعد الجبل"),
        ("ar", "Amiri", "كان الثلج على الجسر"),
        ("ar", "Amiri", "أول الصباح في المحطة"),
    ] {
        let words = format!("{words}\n").repeat(6);
        let text = format!("typeface = \"{face}\"\nhang = \"none\"\nopening = {{ drop = 3 }}");
        let layout = laid(&plan(language, &text), &words);
        let line = first_line(&layout);
        let run = initial(line);
        assert_eq!(run.reads, Direction::RightToLeft);
        let area = layout.panels[0].area.as_ref().expect("an area");
        let (from, to) = ink(run);
        is_at(to, area.left + area.width, &words);
        is_at(line.x + line.width, area.left + area.width, "the line");
        let next = &layout.panels[0].lines[1];
        is_at(
            next.x + next.width,
            from - Length::pt(11) / 8,
            "the next line",
        );
    }
}
