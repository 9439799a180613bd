//! Chinese and Japanese lines: the room that signs take, and where readings stand.
//!
//! Sources: "Requirements for Japanese Text Layout" (JLREQ, W3C Working Group Note), 3.1.4 consecutive punctuation,
//! 3.1.5 and 3.1.9 brackets and stops at a line's start and end, 3.2.6 mixed with Latin letters, 3.3.3 size of
//! readings, 3.3.8 what readings hang over; "Rules for Simple Placement of Japanese Ruby" (W3C Working Draft), spacing of
//! 1 : 2 : 1.

use versefold::assets::Assets;
use versefold::book::Workbench;
use versefold::layout::{GlyphRun, LaidLine, Layout};
use versefold::names::{Length, Source};

const EM: Length = Length::pt(10);

fn plan(text: &str) -> String {
    format!(
        "title = \"冬\"\nlanguage = \"ja\"\nmanuscript = \"winter-bus.txt\"\n\
         [paper]\npanel-width = \"120 mm\"\npanel-height = \"200 mm\"\npanels-per-side = 2\nsides = \"front\"\n\
         [text]\ntypeface = \"tests/fonts/NotoSerifCJKjp-for-tests.otf\"\nsize = \"10 pt\"\nleading = \"17 pt\"\n{text}\n"
    )
}

fn lay_out(plan: &str, manuscript: &str) -> Layout {
    let mut bench = Workbench::new(Assets::folder(env!("CARGO_MANIFEST_DIR")));
    let plan = Source::new("concertina.toml", plan);
    let manuscript = Source::new("winter-bus.txt", manuscript);
    let laid = bench.lay_out_texts(&plan, &manuscript);
    laid.unwrap_or_else(|faults| panic!("{faults:?}"))
}

/// The lines of a manuscript of verse.
fn verse(manuscript: &str) -> Vec<LaidLine> {
    let layout = lay_out(&plan("fallback = [\"Alegreya\"]"), manuscript);
    let panels = layout.panels.into_iter();
    panels.flat_map(|panel| panel.lines).collect()
}

fn ems(length: Length) -> f64 {
    length.as_pt() / EM.as_pt()
}

#[track_caller]
fn is_wide(length: Length, expected: f64) {
    let found = ems(length);
    assert!(
        (found - expected).abs() < 0.001,
        "{found} em, not {expected}"
    );
}

#[test]
fn brackets_commas_and_stops_leave_out_the_white_that_would_open_a_hole() {
    // Each sign fills half of its square; at a line's start and end the other half is left out.
    for (line, expected) in [
        ("あい", 2.0),
        ("「あ」", 2.0),
        ("あ、い。", 3.5),
        // A closing one before an opening one: one half of an em between.
        ("あ」「い", 3.5),
        ("あ、「い", 3.5),
        // Several that close, or several that open: none between them.
        ("あ。」い", 3.5),
        ("あ」、い", 3.5),
        ("あ（「い", 3.5),
        ("（「あ」）", 3.0),
        // What follows a stop or bracket within the line is whole.
        ("あ。い", 3.0),
        ("あ（い", 3.0),
        // A middle dot is no bracket.
        ("あ・い", 3.0),
    ] {
        let lines = verse(line);
        assert_eq!(lines[0].text, line);
        is_wide(lines[0].width, expected);
    }
}

#[test]
fn a_quarter_of_an_em_parts_other_scripts_from_solid_ones() {
    let width = |line: &str| verse(line)[0].width;
    let digits = width("12");
    is_wide(width("あ12い") - digits, 2.5);
    is_wide(width("あ12") - digits, 1.25);
    is_wide(width("12い") - digits, 1.25);
    // Beside signs that are no letters there is none.
    is_wide(width("あ、12") - digits, 2.0);
}

/// The run of the reading and the first one of the base.
fn reading_and_base(line: &LaidLine) -> (&GlyphRun, &GlyphRun) {
    let above = line.runs.iter().find(|run| run.size < EM);
    let base = line.runs.iter().find(|run| run.size == EM);
    (above.expect("a reading"), base.expect("a base"))
}

/// Where the signs of a run begin, their own squares aside, in ems from the line's left edge.
fn starts(line: &LaidLine, run: &GlyphRun) -> Vec<f64> {
    let mut pen = 0;
    let start = |glyph: &versefold::layout::LaidGlyph| {
        let at = run.face.scale(pen + glyph.dx, run.size);
        pen += glyph.advance;
        ems(run.x + at - line.x)
    };
    run.glyphs.iter().map(start).collect()
}

fn same(found: &[f64], expected: &[f64]) -> bool {
    let near = |(a, b): (&f64, &f64)| (a - b).abs() < 0.01;
    found.len() == expected.len() && found.iter().zip(expected).all(near)
}

#[test]
fn a_reading_stands_above_its_base_spaced_one_two_one() {
    // (words, width, where the base's signs begin, where the reading's do)
    for (words, width, base, reading) in [
        ("雪《ゆき》", 1.0, vec![0.0], vec![0.0, 0.5]),
        // A shorter reading: half an em for each of the base's three, a quarter of the rest at either end.
        ("運転手《うて》", 3.0, vec![0.0, 1.0, 2.0], vec![0.5, 2.0]),
        ("運転手《て》", 3.0, vec![0.0, 1.0, 2.0], vec![1.25]),
        // A longer reading spaces the base out.
        ("峠《とうげ》", 1.5, vec![0.25], vec![0.0, 0.5, 1.0]),
        (
            "手紙《こころざしし》",
            3.0,
            vec![0.25, 1.75],
            vec![0.0, 0.5, 1.0, 1.5, 2.0, 2.5],
        ),
    ] {
        let lines = verse(words);
        let line = &lines[0];
        is_wide(line.width, width);
        let (above, below) = reading_and_base(line);
        assert!(
            same(&starts(line, below), &base),
            "{words}: {:?}",
            starts(line, below)
        );
        assert!(
            same(&starts(line, above), &reading),
            "{words}: {:?}",
            starts(line, above)
        );
        // Half the size, on the top of the base's square.
        assert_eq!(above.size * 2, below.size);
        is_wide(below.baseline - above.baseline, 0.94);
    }
}

/// Where the signs of all runs of a size begin, in ems from the line's left edge.
fn all_starts(line: &LaidLine, size: Length) -> Vec<f64> {
    let runs = line.runs.iter().filter(|run| run.size == size);
    runs.flat_map(|run| starts(line, run)).collect()
}

/// A line with readings: its words, how wide it is in ems, where the signs on the line begin and where those of readings do.
type Overhang = (&'static str, f64, &'static [f64], &'static [f64]);

const OVERHANGS: &[Overhang] = &[
    // A quarter of an em over the kana at either side, and no hole beside the base.
    (
        "の峠《とうげ》の",
        3.0,
        &[0.0, 1.0, 2.0],
        &[0.75, 1.25, 1.75],
    ),
    // Five signs reach three quarters beyond the base: half an em of that hangs, one em of the reading.
    (
        "の志《こころざし》の",
        3.5,
        &[0.0, 1.25, 2.5],
        &[0.5, 1.0, 1.5, 2.0, 2.5],
    ),
    (
        "・志《こころざし》ー",
        3.5,
        &[0.0, 1.25, 2.5],
        &[0.5, 1.0, 1.5, 2.0, 2.5],
    ),
    // Not over a line's ends.
    ("峠《とうげ》の", 2.25, &[0.25, 1.25], &[0.0, 0.5, 1.0]),
    ("の峠《とうげ》", 2.25, &[0.0, 1.0], &[0.75, 1.25, 1.75]),
    // Not over ideographs.
    (
        "山｜峠《とうげ》山",
        3.5,
        &[0.0, 1.25, 2.5],
        &[1.0, 1.5, 2.0],
    ),
    // Not over another base.
    (
        "｜峠《とうげ》｜峠《とうげ》",
        3.0,
        &[0.25, 1.75],
        &[0.0, 0.5, 1.0, 1.5, 2.0, 2.5],
    ),
    // Two readings share the sign between them.
    (
        "｜志《こころざし》の｜志《こころざし》",
        5.5,
        &[0.75, 2.25, 3.75],
        &[0.0, 0.5, 1.0, 1.5, 2.0, 3.0, 3.5, 4.0, 4.5, 5.0],
    ),
    // Over the white of signs that pause and open, not over their ink.
    (
        "あ、志《こころざし》「い",
        5.5,
        &[0.0, 1.0, 2.25, 3.5, 4.5],
        &[1.5, 2.0, 2.5, 3.0, 3.5],
    ),
    (
        "あ「志《こころざし》」い",
        6.5,
        &[0.0, 1.0, 2.75, 4.5, 5.5],
        &[2.0, 2.5, 3.0, 3.5, 4.0],
    ),
];

#[test]
fn a_long_reading_hangs_over_kana_and_white_by_up_to_one_of_its_ems() {
    for &(words, width, signs, readings) in OVERHANGS {
        let lines = verse(words);
        let line = &lines[0];
        let found = all_starts(line, EM);
        assert!(same(&found, signs), "{words}: {found:?}");
        let found = all_starts(line, EM / 2);
        assert!(same(&found, readings), "{words}: {found:?}");
        is_wide(line.width, width);
    }
}

#[test]
fn the_reading_s_base_is_the_ideographs_or_what_a_bar_marks() {
    for (manuscript, base, reading) in [
        ("その山道《やま》を", "山道", "やま"),
        ("トンネル《やま》を", "トンネル", "やま"),
        ("その｜峠の灯《とうげのひ》は", "峠の灯", "とうげのひ"),
        ("人々《ひと》が", "人々", "ひと"),
    ] {
        let line = &verse(manuscript)[0];
        let (above, _) = reading_and_base(line);
        let bytes = above.glyphs.first().zip(above.glyphs.last());
        let (first, last) = bytes.expect("glyphs");
        assert_eq!(&line.text[first.text.start..last.text.end], reading);
        assert!(
            line.text[..first.text.start].ends_with(base),
            "{}",
            line.text
        );
        // It stands over the base and over nothing else: the base's first sign begins no later.
        let own: Vec<f64> = starts(line, above);
        let all = line.runs.iter().filter(|run| run.size == EM);
        let text_of = |run: &GlyphRun| {
            run.glyphs
                .iter()
                .map(|g| g.text.clone())
                .collect::<Vec<_>>()
        };
        let from = first.text.start - base.len();
        let base_starts: Vec<f64> = all
            .flat_map(|run| starts(line, run).into_iter().zip(text_of(run)))
            .filter(|(_, text)| text.start >= from && text.end <= first.text.start)
            .map(|(at, _)| at)
            .collect();
        assert!(!base_starts.is_empty());
        let end = base_starts.iter().fold(0.0f64, |a, b| a.max(*b)) + 1.0;
        assert!(own[0] >= base_starts[0] - 0.26, "{own:?} {base_starts:?}");
        assert!(own[own.len() - 1] + 0.5 <= end + 0.26, "{own:?} {end}");
    }
}

/// No line of prose begins with what may not begin one, none ends with an opening bracket, and no base is parted
/// from its reading, at every measure (JLREQ 3.1.7 and 3.1.8: characters not starting or ending a line).
#[test]
fn lines_keep_the_rules_of_line_starts_and_ends_at_every_measure() {
    let manuscript = include_str!("books/japanese-readings/winter-bus.txt");
    let words = |line: &LaidLine| line.text.clone();
    let mut lines_seen = 0;
    for (measure, align) in (30..=96).map(|mm| (mm, ["left", "justified"][mm % 2])) {
        let plan = plan(&format!(
            "set-as = \"prose\"\nfallback = [\"Alegreya\"]\nalign = \"{align}\"\n\
             margins = {{ head = \"14 mm\", foot = \"16 mm\", left = \"11 mm\", right = \"{} mm\" }}",
            120 - 11 - measure
        ))
        .replace("200 mm", "400 mm");
        let layout = lay_out(&plan, manuscript);
        let lines: Vec<LaidLine> = layout
            .panels
            .into_iter()
            .flat_map(|panel| panel.lines)
            .collect();
        lines_seen += lines.len();
        for line in lines.iter().filter(|line| line.kind.is_prose()) {
            let text = words(line);
            let starts =
                text.starts_with(['。', '、', '」', '）', '》', 'っ', 'ょ', 'ゅ', 'ー', '々']);
            assert!(!starts, "{measure} mm: {text}");
            assert!(!text.ends_with(['「', '（', '《']), "{measure} mm: {text}");
            let short = Length::mm(11) + line.measure - line.x - line.width;
            assert!(short >= -Length::from_units(2000), "{measure} mm: {text}");
            let full = short < Length::from_units(2000);
            let last = text.ends_with(['。', '」']) && !line.glued;
            assert!(align == "left" || full || last, "{measure} mm: {text}");
        }
        // The words of a base and its reading stand on one line.
        for together in ["運転手うんてんしゅ", "峠の灯とうげのひ", "志こころざし"]
        {
            let whole = lines
                .iter()
                .filter(|line| words(line).contains(together))
                .count();
            assert_eq!(whole, 1, "{measure} mm: {together}");
        }
    }
    assert!(lines_seen > 600, "{lines_seen} lines");
}
