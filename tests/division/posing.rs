//! What the search is told of a manuscript: how each row leaves the sentence, and where pictures belong.

use versefold::fault::Source;
use versefold::lines::set;
use versefold::manuscript::{Manuscript, SetAs};
use versefold::panels::{Ending, PictureFacts, Problem, RowFacts, pose};
use versefold::plan::{PictureWith, Window, check};
use versefold::strip::Strip;
use versefold::typeface::Shelf;

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
    let source = Source::new("winter-bus.txt", text);
    let manuscript = Manuscript::read_as(&source, set_as, |_| false).expect("a manuscript");
    let plan = check::read(&Source::new("concertina.toml", PLAN)).expect("a plan");
    let strip = Strip::new(plan.paper);
    let lines = set(&manuscript, &plan, &strip, &Shelf::new(".")).expect("lines");
    pose(&manuscript, &plan, &strip, &lines, &lines.parts[0]).expect("a problem")
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
        whole_spread: false,
        comes: Some(Window {
            soonest: 0,
            latest: 1,
        }),
        with: None,
        blank_before: false,
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
