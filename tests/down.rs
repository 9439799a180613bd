//! Lines that run down: what stands upright in them and what is turned, and where signs and lines stand.
//!
//! Sources: "Unicode Vertical Text Layout" (UAX #50), by whose Vertical_Orientation signs are upright or turned;
//! "Requirements for Japanese Text Layout" (JLREQ, W3C), 2.3 lines from right to left, 3.2.5 two digits side by side,
//! 3.3.4 readings at the right of their base. Places are worked out by hand from the plan's lengths.

use versefold::assets::Assets;
use versefold::book::Workbench;
use versefold::layout::{GlyphRun, LaidLine, LaidPanel, Layout};
use versefold::names::{Length, LinesRun, Source};

const EM: Length = Length::pt(10);

fn plan(text: &str, parts: &str) -> String {
    format!(
        "title = \"冬\"\nlanguage = \"ja\"\nmanuscript = \"winter-bus.txt\"\n\
         [paper]\npanel-width = \"80 mm\"\npanel-height = \"120 mm\"\npanels-per-side = 4\nsides = \"front\"\n\
         [text]\ntypeface = \"tests/fonts/NotoSerifCJKjp-for-tests.otf\"\nsize = \"10 pt\"\nleading = \"20 pt\"\nvertical = \"head\"\n\
         margins = {{ head = \"20 mm\", foot = \"10 mm\", left = \"12 mm\", right = \"15 mm\" }}\n{text}\n{parts}"
    )
}

fn lay_out(plan: &str, manuscript: &str) -> Result<Layout, String> {
    let mut bench = Workbench::new(Assets::folder(env!("CARGO_MANIFEST_DIR")));
    let plan = Source::new("concertina.toml", plan);
    let manuscript = Source::new("winter-bus.txt", manuscript);
    let laid = bench.lay_out_texts(&plan, &manuscript);
    laid.map_err(|faults| format!("{faults:?}"))
}

fn plan_with(parts: &str) -> String {
    plan("lines-run = \"down\"", parts)
}

fn down(manuscript: &str) -> Layout {
    lay_out(&plan_with(""), manuscript).unwrap_or_else(|faults| panic!("{faults}"))
}

fn with_words(layout: &Layout) -> impl Iterator<Item = &LaidPanel> {
    layout.panels.iter().filter(|panel| !panel.lines.is_empty())
}

fn only_line(manuscript: &str) -> LaidLine {
    let layout = down(manuscript);
    let mut lines = layout.panels.into_iter().flat_map(|panel| panel.lines);
    lines.next().expect("a line")
}

/// A sign on its panel: its words, whether it is upright, and the point that its glyph is drawn from, in points from the
/// panel's top-left corner.
struct Placed {
    text: String,
    upright: bool,
    at: (f64, f64),
    size: Length,
}

/// Every sign of a line on a panel of that width.
fn placed(line: &LaidLine, width: Length) -> Vec<Placed> {
    let sign = |run: &GlyphRun| -> Vec<Placed> {
        let mut pen = 0;
        let glyphs = run.glyphs.iter().map(|glyph| {
            let along = run.x + run.face.scale(pen + glyph.dx, run.size);
            let on = run.baseline - run.face.scale(glyph.dy, run.size);
            pen += glyph.advance;
            let point = line.lines_run.point((along, on), width);
            Placed {
                text: line.text[glyph.text.clone()].to_string(),
                upright: run.upright,
                at: (point.x.as_pt(), point.y.as_pt()),
                size: run.size,
            }
        });
        glyphs.collect()
    };
    line.runs.iter().flat_map(sign).collect()
}

#[track_caller]
fn near(found: f64, expected: f64, what: &str) {
    assert!(
        (found - expected).abs() < 0.02,
        "{what}: {found}, not {expected}"
    );
}

fn points(mm: i64) -> f64 {
    Length::mm(mm).as_pt()
}

#[test]
fn lines_follow_each_other_from_right_to_left_and_signs_down_the_line() {
    let layout = down("雪の日\n山の道");
    // The first panel is the rightmost: the front is read from right to left.
    let strip = &layout.strip;
    let first = layout.panels[0].panel;
    let last = layout.panels[3].panel;
    assert!(strip.left_of(first) > strip.left_of(last));
    let panel = with_words(&layout).next().expect("words");
    assert_eq!(panel.lines.len(), 2);
    // The faces of Noto have their squares from 880 above the baseline to 120 below: a sign that fills its square is
    // drawn from its lower left corner and 0.12 em above.
    for (number, line) in panel.lines.iter().enumerate() {
        assert_eq!(line.lines_run, LinesRun::Down);
        let left = points(80) - points(15) - 10.0 - 20.0 * number as f64;
        for (sign, placed) in placed(line, panel.size.0).iter().enumerate() {
            assert!(placed.upright, "{}", placed.text);
            near(placed.at.0, left, &placed.text);
            let top = points(20) + 10.0 * sign as f64;
            near(placed.at.1, top + 8.8, &placed.text);
        }
    }
    let words: Vec<&str> = panel.lines.iter().map(|line| line.text.as_str()).collect();
    assert_eq!(words, ["雪の日", "山の道"]);
}

#[test]
fn a_panel_has_as_many_lines_as_its_width_has_room_for() {
    // 80 − 15 − 12 mm is 150.2 pt: eight lines, the first of 10 pt and the others 20 pt on.
    let poem = ["雪の日"; 20].join("\n");
    let layout = down(&poem);
    for panel in with_words(&layout) {
        assert_eq!(panel.area.map(|area| area.capacity), Some(8));
        for ((left, top), (width, height)) in panel.line_boxes() {
            assert!(left >= Length::mm(12) - EM / 4 && top >= Length::mm(20));
            assert!(left + width <= Length::mm(80 - 15) + EM / 4);
            assert!(top + height <= Length::mm(120 - 10));
        }
    }
}

/// Source: UAX #50, the data file VerticalOrientation.txt: ideographs and kana U, commas and stops Tu, brackets and the
/// prolonged sound mark Tr, Latin letters R.
#[test]
fn signs_are_upright_or_turned_by_their_vertical_orientation() {
    for (words, upright) in [
        ("雪の日", "雪の日"),
        ("あ、い。", "あ、い。"),
        ("「あ」（い）バー", "「あ」（い）バー"),
        ("あBusい", "あい"),
        ("あ1974い", "あい"),
        ("あ12い", "あ12い"),
        ("あ7い", "あ7い"),
        ("あABい", "あABい"),
        ("あ!!い", "あ!!い"),
        ("あ!?", "あ!?"),
        ("あ—12℃。", "あ12℃。"),
        ("第§7章", "第§7章"),
        ("あ Bus—7 い", "あい"),
        // Beside a space or another sign of ASCII they are words like others.
        ("あ 12い", "あい"),
        ("あ1.2い", "あい"),
        ("12", ""),
    ] {
        let line = only_line(words);
        let signs = placed(&line, Length::mm(80));
        let up: String = signs
            .iter()
            .filter(|sign| sign.upright)
            .map(|sign| sign.text.as_str())
            .collect();
        assert_eq!(up, upright, "{words}");
    }
    // Commas, brackets and the prolonged sound mark have glyphs of their own there.
    let across = lay_out(&plan("", ""), "「雪」、ー。い").expect("a book");
    let down = down("「雪」、ー。い");
    let ids = |layout: &Layout| -> Vec<(String, u16)> {
        let lines = layout.panels.iter().flat_map(|panel| &panel.lines);
        let runs = lines.flat_map(|line| line.runs.iter().map(move |run| (line, run)));
        runs.flat_map(|(line, run)| {
            let glyphs = run.glyphs.iter();
            glyphs.map(|glyph| (line.text[glyph.text.clone()].to_string(), glyph.id))
        })
        .collect()
    };
    for ((text, one), (same, other)) in ids(&across).into_iter().zip(ids(&down)) {
        assert_eq!(text, same);
        // This face has kana of their own there, too.
        assert_eq!(one == other, "雪".contains(&text), "{text}");
    }
}

/// In a book that is read from left to right, the panels of a part that runs down are to be named from the right.
#[test]
fn panels_that_go_against_their_lines_are_told() {
    let part = |on: &str| {
        format!(
            "[[part]]\nname = \"body\"\non = [\"back 1\"]\n[[part]]\nname = \"song\"\non = [{on}]\nlines-run = \"down\"\n"
        )
    };
    let song = ["雪の日"; 12].join("\n");
    for (on, told) in [
        ("\"front 2\", \"front 3\"", true),
        ("\"front 3\", \"front 2\"", false),
        ("\"front 1\", \"front 2\"", false),
    ] {
        let plan = plan("", &part(on))
            .replace("\"front\"", "\"both\"")
            .replace("sides = \"front\"", "sides = \"both\"");
        let layout = lay_out(&plan, &format!("雪\n\n[part: song]\n\n{song}")).expect("a book");
        let notes = layout
            .notes
            .iter()
            .filter(|note| note.word == "panel-order");
        assert_eq!(notes.count(), usize::from(told), "{on}");
    }
}

#[test]
fn two_digits_stand_side_by_side_in_one_square() {
    let line = only_line("あ12い");
    assert_eq!(line.width, EM * 3);
    let signs = placed(&line, Length::mm(80));
    let [_, one, two, behind] = &signs[..] else {
        panic!("{} signs", signs.len());
    };
    near(one.at.1, two.at.1, "on one baseline");
    // About the middle of the line, which is half an em from the area's right edge.
    let middle = points(80) - points(15) - 5.0;
    assert!(one.at.0 < middle && two.at.0 < middle + 0.5 && one.at.0 < two.at.0);
    assert!(one.at.0 > middle - 5.6, "{}", one.at.0);
    let top = points(20) + 10.0;
    assert!(
        one.at.1 > top + 7.0 && one.at.1 < top + 10.0,
        "{}",
        one.at.1
    );
    near(behind.at.1, points(20) + 20.0 + 8.8, "い");
}

#[test]
fn turned_words_run_down_with_their_letters_on_their_side() {
    let line = only_line("あBusい");
    let signs = placed(&line, Length::mm(80));
    let letters: Vec<&Placed> = signs.iter().filter(|sign| !sign.upright).collect();
    let text: String = letters.iter().map(|sign| sign.text.as_str()).collect();
    assert_eq!(text, "Bus");
    // Their baseline lies left of the middle, where that of a sign's square does, and each stands below the last.
    for letter in &letters {
        near(letter.at.0, points(80) - points(15) - 8.8, &letter.text);
    }
    // A quarter of an em parts them from kana (JLREQ 3.2.6).
    near(letters[0].at.1, points(20) + 12.5, "B");
    assert!(letters.windows(2).all(|pair| pair[0].at.1 < pair[1].at.1));
}

#[test]
fn readings_stand_at_the_right_of_their_base() {
    let line = only_line("の雪《ゆき》の");
    let signs = placed(&line, Length::mm(80));
    let (above, base): (Vec<&Placed>, Vec<&Placed>) = signs.iter().partition(|sign| sign.size < EM);
    assert_eq!(base.len(), 3);
    let right = points(80) - points(15);
    for (number, sign) in above.iter().enumerate() {
        assert!(sign.upright);
        // Half as large, its square at the right edge of the base's.
        near(sign.at.0, right, &sign.text);
        near(
            sign.at.1,
            points(20) + 10.0 + 5.0 * number as f64 + 4.4,
            &sign.text,
        );
    }
    assert_eq!(above.len(), 2);
}

/// In Chinese, too, where dots stand below their signs in lines that run across (CLREQ 3.3.2).
#[test]
fn dots_of_emphasis_stand_at_the_right_of_their_signs() {
    for language in ["ja", "zh"] {
        let plan =
            plan_with("").replace("language = \"ja\"", &format!("language = \"{language}\""));
        let layout = lay_out(&plan, "山*雪*の").expect("a book");
        let panel = with_words(&layout).next().expect("words");
        let line = &panel.lines[0];
        let dots = line.runs.iter().flat_map(GlyphRun::dots);
        let dots: Vec<_> = dots.map(|dot| (dot.centre.x, dot.centre.y)).collect();
        assert_eq!(dots.len(), 1, "{language}");
        let point = line.lines_run.point(dots[0], panel.size.0);
        // A quarter of an em from the square of the second sign.
        near(point.x.as_pt(), points(80) - points(15) + 2.5, language);
        near(point.y.as_pt(), points(20) + 15.0, language);
    }
}

#[test]
fn a_part_may_run_down_in_a_book_that_runs_across() {
    let parts = "[[part]]\nname = \"body\"\non = [\"front 1\", \"front 2\"]\n\
                 [[part]]\nname = \"song\"\non = [\"front 4\", \"front 3\"]\nlines-run = \"down\"\n";
    let layout = lay_out(&plan("", parts), "雪の日\n\n[part: song]\n\n山の道").expect("a book");
    let run: Vec<LinesRun> = with_words(&layout).map(LaidPanel::lines_run).collect();
    assert_eq!(run, [LinesRun::Across, LinesRun::Down]);
    let strip = &layout.strip;
    assert!(strip.left_of(layout.panels[0].panel) < strip.left_of(layout.panels[3].panel));
}

#[test]
fn what_does_not_go_with_lines_that_run_down_is_told() {
    let body = "[[part]]\nname = \"body\"\non = [\"front 1\", \"front 2\"]\n";
    let paired = format!(
        "{body}[[part]]\nname = \"song\"\non = [\"front 4\", \"front 3\"]\nlines-run = \"across\"\npairs-with = \"body\"\n"
    );
    for (text, parts, manuscript, told) in [
        ("lines-run = \"up\"", "", "雪", "across"),
        ("opening = { drop = 2 }", "", "雪の日", "large initial"),
        (
            "",
            paired.as_str(),
            "雪\n\n[part: song]\n\n雪",
            "side by side",
        ),
        (
            "fallback = [\"Noto Serif Devanagari\"]",
            "",
            "雪 बस",
            "Devanagari",
        ),
        ("fallback = [\"Noto Serif Thai\"]", "", "雪\nรถ", "Thai"),
        ("fallback = [\"Amiri\"]", "", "雪\nحافلة", "Arabic"),
    ] {
        let text = match text.starts_with("lines-run") {
            true => text.to_string(),
            false => format!("lines-run = \"down\"\n{text}"),
        };
        let faults = lay_out(&plan(&text, parts), manuscript).expect_err(told);
        assert!(faults.contains(told), "{told}: {faults}");
    }
    // Latin words are turned, and want no forms.
    let latin = plan_with("")
        .replace("tests/fonts/NotoSerifCJKjp-for-tests.otf", "Alegreya")
        .replace("title = \"冬\"", "title = \"Winter\"");
    let layout = lay_out(&latin, "the winter bus").expect("a book");
    let line = &with_words(&layout).next().expect("words").lines[0];
    assert!(line.runs.iter().all(|run| !run.upright));
    assert!(notes_of_forms(&layout).is_empty());
}

fn notes_of_forms(layout: &Layout) -> Vec<&str> {
    let notes = layout.notes.iter();
    let notes = notes.filter(|note| note.word == "no-vertical-forms");
    notes.map(|note| note.what.as_str()).collect()
}

#[test]
fn a_face_without_forms_for_lines_that_run_down_is_told_with_what_it_draws_amiss() {
    let plan = plan_with("")
        .replace("NotoSerifCJKjp-for-tests", "without-vertical-forms")
        .replace("title = \"冬\"", "title = \"雪\"");
    let layout = lay_out(&plan, "雪の日、「雪」ー。").expect("a book");
    let told = notes_of_forms(&layout);
    assert_eq!(told.len(), 1, "{told:?}");
    assert!(told[0].contains("NotoSerifCJKjp"), "{told:?}");
    assert!(told[0].ends_with("`、` and `。`"), "{told:?}");
    // Brackets and the prolonged sound mark, which it has no forms for, are turned.
    let line = &with_words(&layout).next().expect("words").lines[0];
    let signs = placed(line, Length::mm(80));
    let turned = signs.iter().filter(|sign| !sign.upright);
    let turned: String = turned.map(|sign| sign.text.as_str()).collect();
    assert_eq!(turned, "「」ー");
    assert!(notes_of_forms(&down("雪の日、「雪」ー。")).is_empty());
}

#[test]
fn boxes_are_filled_from_the_right_and_no_mask_is_followed() {
    let boxes = "[[panel]]
panel = \"front 1\"
\
                 boxes = [{ x = \"20 mm\", y = \"30 mm\", width = \"30 mm\", height = \"50 mm\" }]
";
    let layout = lay_out(
        &plan_with(boxes),
        "雪の日
山の道",
    )
    .expect("a book");
    let panel = with_words(&layout).next().expect("words");
    assert_eq!(panel.shape.len(), 1);
    let (corner, size) = (Length::mm(20), Length::mm(30));
    for ((left, top), (width, height)) in panel.line_boxes() {
        assert!(left >= corner - EM / 4 && left + width <= corner + size + EM / 4);
        assert_eq!(top, Length::mm(30));
        assert!(top + height <= Length::mm(80));
    }
    let lefts: Vec<Length> = panel.line_boxes().map(|((left, _), _)| left).collect();
    assert!(lefts[0] > lefts[1]);
    // The box begins 30 mm from the panel's right edge, which is 85 pt; the squares of the panel's lines begin at 15 mm,
    // or 42.5 pt, and every 20 pt from there: the fourth is the first within the box.
    let first = points(80) - points(15) - 10.0 + 1.2;
    near(lefts[0].as_pt(), first - 3.0 * 20.0, "the first line");
    let mask = "[[panel]]
panel = \"front 1\"
mask = \"tests/none.png\"
";
    let faults = lay_out(&plan_with(mask), "雪").expect_err("no mask");
    assert!(faults.contains("do not follow a mask"), "{faults}");
}
