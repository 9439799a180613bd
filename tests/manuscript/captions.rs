//! Captions are blocks of their own that part neither a stanza nor a paragraph.

use versefold::names::{SetAs, Source};
use versefold::text::{LineKind, Manuscript, TileKind};

use super::read;

use LineKind::{Attribution, Caption, Epigraph, Heading, Prose, Verse};

fn prose(text: &str) -> Manuscript {
    let source = Source::new("winter-bus.txt", text);
    Manuscript::read_as(&source, SetAs::Prose, |_| false).expect("a sound manuscript")
}

fn verse(text: &str) -> Manuscript {
    read(text).expect("a sound manuscript")
}

/// Each line of the first part: its words, what it is, and its block.
fn told(manuscript: &Manuscript) -> Vec<(String, LineKind, usize)> {
    let lines = manuscript.parts()[0].lines.iter();
    let told = lines.map(|line| {
        let words = line.text(manuscript.source());
        (words, line.kind.clone(), line.block)
    });
    told.collect()
}

fn of(lines: &[(&str, LineKind, usize)]) -> Vec<(String, LineKind, usize)> {
    let lines = lines.iter().cloned();
    lines
        .map(|(words, kind, block)| (words.to_string(), kind, block))
        .collect()
}

#[test]
fn a_caption_stands_within_a_stanza_and_does_not_end_it() {
    let text = "The *bus climbs\n[caption: the pass]\n  north  *portal*\nto the* pass\n\nby noon";
    let manuscript = verse(text);
    let expected = of(&[
        ("The bus climbs", Verse, 0),
        ("north portal", Caption, 1),
        ("to the pass", Verse, 0),
        ("by noon", Verse, 2),
    ]);
    assert_eq!(told(&manuscript), expected);
    // Emphasis runs on from line to line of the stanza, and the caption has its own.
    let part = &manuscript.parts()[0];
    let stressed = |line: usize| -> Vec<bool> {
        let runs = part.lines[line].runs.iter();
        runs.map(|run| run.style.emphasis).collect()
    };
    assert_eq!(stressed(0), [false, true]);
    assert_eq!(stressed(1), [false, true]);
    assert_eq!(stressed(2), [true, false]);
    assert!(part.lines[1..].iter().all(|line| line.half_ems == 0));
    let call = &part.captions[0];
    assert_eq!((call.name.as_str(), call.line), ("the pass", 1));
    assert_eq!(call.place.line(), 2);
    // All its bytes are words, spaces and mark-up as anywhere.
    let callouts = manuscript.tiles().iter();
    let callouts = callouts.filter(|tile| tile.kind == TileKind::Callout);
    assert_eq!(callouts.count(), 1);
}

#[test]
fn blank_lines_and_other_callouts_mean_beside_a_caption_what_they_mean_elsewhere() {
    let ends = "The bus climbs\n\n[caption: the pass]\nnorth portal\nto the pass";
    let blocks: Vec<usize> = told(&verse(ends)).iter().map(|line| line.2).collect();
    assert_eq!(blocks, [0, 1, 2]);
    let ends = "The bus climbs\n[caption: the pass]\nnorth portal\n\nto the pass";
    let blocks: Vec<usize> = told(&verse(ends)).iter().map(|line| line.2).collect();
    assert_eq!(blocks, [0, 1, 2]);
    let epigraph = "[epigraph]\nSnow is\n[caption: the pass]\nnorth portal\na letter\n[attribution]\nher logbook";
    let kinds: Vec<LineKind> = told(&verse(epigraph))
        .into_iter()
        .map(|line| line.1)
        .collect();
    assert_eq!(kinds, [Epigraph, Caption, Epigraph, Attribution]);
    let room = "The bus\n[space: 10 mm]\n[caption: the pass]\nnorth portal\nclimbs";
    let blocks: Vec<usize> = told(&verse(room)).iter().map(|line| line.2).collect();
    assert_eq!(blocks, [0, 1, 2, 3]);
    // A good place to divide is one on either side of the caption.
    let divide = "The bus\n[may divide]\n[caption: the pass]\nnorth portal\nclimbs\nup";
    let manuscript = verse(divide);
    let lines = manuscript.parts()[0].lines.iter();
    let divides: Vec<bool> = lines.map(|line| line.may_divide).collect();
    assert_eq!(divides, [false, true, true, false]);
}

#[test]
fn a_caption_of_prose_goes_on_to_the_next_blank_line_or_callout() {
    let text = "The bus\nclimbs.\n\n[picture: the pass]\n[caption: the pass]\nThe north\n  portal in\n\
                January.\n\nIt stops.";
    let expected = of(&[
        ("The bus climbs.", Prose, 0),
        ("The north portal in January.", Caption, 1),
        ("It stops.", Prose, 2),
    ]);
    assert_eq!(told(&prose(text)), expected);
}

#[test]
fn a_paragraph_goes_on_below_its_caption() {
    let text =
        "The *bus\n[caption: the pass]\nThe north\nportal.\n[may divide]\nclimbs* and\nstops.";
    let manuscript = prose(text);
    let expected = of(&[
        ("The bus", Prose, 0),
        ("The north portal.", Caption, 1),
        ("climbs and stops.", Prose, 0),
    ]);
    assert_eq!(told(&manuscript), expected);
    let lines = &manuscript.parts()[0].lines;
    let continues: Vec<bool> = lines.iter().map(|line| line.continues).collect();
    assert_eq!(continues, [false, false, true]);
    assert!(lines[2].may_divide && lines[2].runs[0].style.emphasis);
    assert!(lines[1].runs.iter().all(|run| !run.style.emphasis));
}

#[test]
fn a_caption_may_stand_first_and_last_and_two_may_follow_each_other() {
    let text = "[caption: the pass]\nnorth portal\n[caption: the bus]\nits driver\n## The Pass\n\
                The bus\n[caption: the horn]\nthree notes";
    let expected = of(&[
        ("north portal", Caption, 0),
        ("its driver", Caption, 1),
        ("The Pass", Heading, 2),
        ("The bus", Verse, 3),
        ("three notes", Caption, 4),
    ]);
    let manuscript = verse(text);
    assert_eq!(told(&manuscript), expected);
    let calls = manuscript.parts()[0].captions.iter();
    let calls: Vec<(&str, usize)> = calls.map(|call| (call.name.as_str(), call.line)).collect();
    assert_eq!(calls, [("the pass", 0), ("the bus", 1), ("the horn", 4)]);
}
