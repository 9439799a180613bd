//! What the search is told of a manuscript: how each row leaves the sentence, and where pictures belong.

use versefold::assets::Assets;
use versefold::book::build_problem;
use versefold::book::plan_file::check;
use versefold::division::{Ending, PanelView, PictureFacts, Placed, Problem, RowFacts};
use versefold::names::{Role, SetAs, Source};
use versefold::paper::Strip;
use versefold::plan::{PictureWith, Window};
use versefold::setting::set;
use versefold::text::Manuscript;
use versefold::typeface::FontLibrary;

use Ending::{Pause, RunsOn, Sentence};

const PLAN: &str = "\
title = \"The Winter Bus\"
language = \"en-GB\"
manuscript = \"winter-bus.txt\"
[paper]
panel-width = \"105 mm\"
panel-height = \"148 mm\"
panels-per-side = 4
[rules]
blank-before = [\"the tunnel\"]
[[picture]]
name = \"the press\"
picture-comes = { latest = 3 }
[[picture]]
name = \"the tunnel\"
picture-with = \"next-spread\"
[[panel]]
panel = \"front 2\"
picture = \"the press\"
[[panel]]
panel = \"front 3\"
picture = \"the tunnel\"
";

fn problem(text: &str) -> Problem {
    problem_as(text, SetAs::Verse)
}

fn problem_as(text: &str, set_as: SetAs) -> Problem {
    problem_of(PLAN, text, set_as)
}

fn problem_of(plan: &str, text: &str, set_as: SetAs) -> Problem {
    let source = Source::new("winter-bus.txt", text);
    let manuscript = Manuscript::read_as(&source, set_as, |_| false).expect("a manuscript");
    let plan = check::read(&Source::new("concertina.toml", plan)).expect("a plan");
    let strip = Strip::new(plan.paper);
    let lines = set(
        &manuscript,
        &plan,
        &strip,
        &FontLibrary::new(Assets::memory()),
    )
    .expect("lines");
    build_problem(&manuscript, &plan, &strip, &lines, &lines.parts[0]).expect("a problem")
}

const POEM: &str = "\
# The Winter Bus
The horn has three meanings,
[picture: the horn]
“and none of them is thanks.”
* * *
She (who drove) —
[picture: the tunnel]
[picture: the pass]

drove on
[space: 10 mm]
and on.
[space: 10 mm]
[attribution]
her logbook
";

#[test]
fn a_row_leaves_the_sentence_as_the_last_verse_line_does() {
    let endings: Vec<Ending> = problem(POEM).rows.iter().map(|row| row.ending).collect();
    // Headings, ornaments, room and who speaks: the sentence stands as the verse above left it.
    let expected = [
        Sentence, Pause, Sentence, Sentence, Pause, RunsOn, RunsOn, Sentence, Sentence, Sentence,
    ];
    assert_eq!(endings, expected);
}

#[test]
fn pictures_wait_at_their_words_unless_they_are_pinned() {
    let problem = problem(POEM);
    let usual = |name: &str, word_row, panel: Option<usize>, queued| PictureFacts {
        name: name.to_string(),
        word_row,
        panel,
        queued,
        spans: 1,
        leaves_room: false,
        whole_spread: false,
        comes: None,
        with: None,
        blank_before: false,
        reveal: false,
        heavy: false,
    };
    let expected = [
        usual("the horn", Some(1), None, true),
        PictureFacts {
            comes: None,
            with: Some(PictureWith::NextSpread),
            blank_before: true,
            ..usual("the tunnel", Some(4), Some(2), false)
        },
        usual("the pass", Some(4), None, true),
        PictureFacts {
            comes: Some(Window {
                soonest: 0,
                latest: 3,
            }),
            ..usual("the press", None, Some(1), false)
        },
    ];
    assert_eq!(problem.pictures, expected);
    let pinned: Vec<_> = problem.panels.iter().map(|panel| panel.picture).collect();
    assert_eq!(pinned[..4], [None, Some(3), Some(1), None]);
    assert_eq!(problem.opening, 1);
    let joined: Vec<_> = problem.rows.iter().map(|row| row.joined).collect();
    assert_eq!(
        joined,
        [
            false, true, false, true, false, false, true, false, true, true
        ]
    );
}

const PROSE: &str = "\
# The Winter Bus
The horn has
[picture: the horn]
three meanings, and
[may divide]
none is “thanks.”
[keep together]
She drove
[end together]
on —

[new panel]
[picture: the tunnel]
up. Then
down.
[attribution]
her logbook
";

/// Every word of a paragraph is a place, a dash apart, which stays with its word; the heading and who speaks are
/// one place each.
#[test]
fn the_words_of_a_paragraph_are_places() {
    let problem = problem_as(PROSE, SetAs::Prose);
    let rows = &problem.rows[..];
    let numbers = |holds: fn(&RowFacts) -> bool| -> Vec<usize> {
        (0..rows.len()).filter(|&at| holds(&rows[at])).collect()
    };
    // 0 heading; 1 The horn has three meanings, and none is thanks. She drove 12 on —; 13 up. Then 15 down.; 16.
    assert_eq!(rows.len(), 17);
    assert_eq!(numbers(|row| row.prose), Vec::from_iter(1..=15));
    let inner: Vec<usize> = (2..=12).chain(14..=15).collect();
    assert_eq!(numbers(|row| row.inner), inner);
    assert_eq!(numbers(|row| row.may_divide), [7]);
    assert_eq!(numbers(|row| row.new_panel), [13]);
    assert_eq!(numbers(|row| row.kept.is_some()), [10, 11]);
    assert_eq!(numbers(|row| row.joined), [1, 16]);
    assert_eq!(numbers(|row| row.ending == Pause), [5, 12]);
    assert_eq!(numbers(|row| row.ending == Sentence), [0, 9, 13, 15, 16]);
    assert_eq!(problem.opening, 1);
    let words: Vec<Option<usize>> = problem
        .pictures
        .iter()
        .map(|picture| picture.word_row)
        .collect();
    // The words just before a picture; it stands with the first part of the paragraph.
    assert_eq!(words, [Some(3), Some(12), None]);
}

/// The strip of four panels, with pictures that stand on several.
const LONG: &str = "\
title = \"The Winter Bus\"
language = \"en-GB\"
manuscript = \"winter-bus.txt\"
[paper]
panel-width = \"105 mm\"
panel-height = \"148 mm\"
panels-per-side = 4
[[picture]]
name = \"the pass\"
spans = 2
whole-spread = true
[[picture]]
name = \"the tunnel\"
spans = \"side\"
leaves = { head = \"90 mm\" }
[[picture]]
name = \"the horn\"
[[panel]]
panel = \"front 2\"
picture = \"the pass\"
[[panel]]
panel = \"front 4\"
role = \"picture\"
picture = \"the horn\"
";

#[test]
fn a_long_picture_is_posed_on_all_its_panels() {
    let text = "The bus\n[picture: the tunnel]\nclimbs\n[picture: the horn]\nup.";
    let problem = problem_of(LONG, text, SetAs::Verse);
    let facts = problem.pictures.iter();
    let facts: Vec<_> = facts
        .map(|facts| {
            (
                facts.name.as_str(),
                facts.spans,
                facts.whole_spread,
                facts.panel,
            )
        })
        .collect();
    let expected = [
        ("the tunnel", 4, false, None),
        ("the horn", 1, false, Some(3)),
        ("the pass", 2, true, Some(1)),
    ];
    assert_eq!(facts, expected);
    let pinned: Vec<_> = problem.panels.iter().map(|panel| panel.picture).collect();
    let none = [None; 4];
    assert_eq!(
        pinned,
        [&[None, Some(2), Some(2), Some(1)], &none[..]].concat()
    );
    let panel = &problem.panels[1];
    let own = panel.area.expect("a text area");
    // What leaves room has its own area, what leaves none has none, and one panel's picture leaves the whole.
    assert!(panel.shared[0].is_some_and(|shared| shared.capacity < own.capacity));
    assert_eq!(panel.shared[1..], [Some(own), None]);
    // Pinned to a picture alone, a panel still has room for its caption; for other words if its pin is lifted.
    let alone = &problem.panels[3];
    assert_eq!(alone.role, Some(Role::Picture));
    assert!(alone.area.is_some() && alone.shared[1].is_some());
}

/// A reading of rows of a problem on its first panel.
fn reading(problem: &Problem, from: usize, to: usize) -> PanelView<'_> {
    let area = problem.panels[0].area.expect("a text area");
    PanelView {
        problem,
        panel: 0,
        role: Role::Text,
        from,
        to,
        picture: None,
        begins_picture: false,
        queue: &[],
        placed: Placed::NONE,
        column: Some(area.column),
        used: problem.depth(area.column, from, to),
        foot: 0,
        capacity: area.capacity,
    }
}

const CAPTIONED: &str = "\
## The Pass
The bus
[picture: the horn]
[caption: the horn]
three notes
[picture: the tunnel]
[caption: the tunnel]
north portal
climbs
up

by noon.
[caption: the tunnel]
south portal
[attribution]
her logbook
";

#[test]
fn a_caption_is_told_by_its_picture_and_bound_to_no_neighbour() {
    // 0 heading, 1 verse, 2 and 3 captions, 4 and 5 verse; 6 verse, 7 caption, 8 who speaks
    let problem = problem_of(LONG, CAPTIONED, SetAs::Verse);
    let of = |facts: fn(&RowFacts) -> Option<usize>| -> Vec<Option<usize>> {
        problem.rows.iter().map(facts).collect()
    };
    let mut captions = [None; 9];
    (captions[2], captions[3], captions[7]) = (Some(0), Some(1), Some(1));
    assert_eq!(of(|row| row.caption), captions);
    let joined: Vec<usize> = (0..9).filter(|&at| problem.rows[at].joined).collect();
    assert_eq!(joined, [1]);
    let spaces: Vec<u32> = problem
        .stack
        .spaces
        .iter()
        .map(|space| space.count())
        .collect();
    assert_eq!(spaces, [0, 2, 2, 2, 2, 0, 2, 2, 2]);
    let within: Vec<usize> = (0..=9).filter(|&at| problem.within_stanza(at)).collect();
    assert_eq!(within, [2, 3, 4, 5]);
    assert!(problem.rows[2..4].iter().all(|row| row.ending == RunsOn));
    // The words before a picture are never a caption.
    let words: Vec<_> = problem.pictures.iter().map(|p| p.word_row).collect();
    assert_eq!(words, [Some(1), Some(1), None]);
}

#[test]
fn lines_are_counted_past_captions() {
    let problem = problem_of(LONG, CAPTIONED, SetAs::Verse);
    let head = |from, to| reading(&problem, from, to).lines_at_head(9);
    let foot = |from, to| reading(&problem, from, to).lines_at_foot(9);
    assert_eq!(
        [head(1, 6), head(2, 6), head(3, 5), head(2, 3)],
        [3, 2, 1, 0]
    );
    assert_eq!(
        [foot(1, 6), foot(0, 4), foot(0, 5), foot(6, 8)],
        [3, 1, 2, 1]
    );
    assert_eq!(reading(&problem, 1, 7).stanzas(), 2);
    assert_eq!(reading(&problem, 1, 7).lines(), 4);

    let prose = "She drove\nup.\n[picture: the horn]\n[caption: the horn]\nThree notes.\n\nDown.\n[picture: the tunnel]";
    let problem = problem_of(LONG, prose, SetAs::Prose);
    // She, drove, up.; the caption; Down.
    assert_eq!(problem.rows.len(), 5);
    assert_eq!(reading(&problem, 3, 5).lines_at_head(9), 1);
    assert_eq!(reading(&problem, 0, 4).lines_at_foot(9), 1);
    assert_eq!(reading(&problem, 0, 5).stanzas(), 2);

    // The callout ends the caption, and the paragraph goes on below it.
    let prose = "She drove up.\n[picture: the horn]\n[caption: the horn]\nThree notes.\n[picture: the tunnel]\nAnd on.";
    let problem = problem_of(LONG, prose, SetAs::Prose);
    // She, drove, up.; the caption; And, on.
    assert_eq!(problem.rows.len(), 6);
    assert_eq!(reading(&problem, 1, 6).lines_at_head(9), 2);
    assert_eq!(reading(&problem, 0, 5).lines_at_foot(9), 2);
    assert_eq!(reading(&problem, 0, 6).stanzas(), 1);

    // A row that is no caption, as one is that gives way, parts the paragraph.
    let mut parted = problem;
    parted.rows[3].caption = None;
    assert_eq!(reading(&parted, 1, 6).lines_at_head(9), 1);
    assert_eq!(reading(&parted, 0, 5).lines_at_foot(9), 1);
}
