//! Callouts speak of the lines around them; they never make or end a stanza.

use versefold::text::{LineKind, TextLine};

use super::{lines, read, source};

/// Each line with its stanza, numbered from 0, and the blank lines above it.
fn stanzas(text: &str) -> Vec<(String, usize, usize)> {
    let manuscript = read(text).expect("a sound manuscript");
    let each = lines(&manuscript).map(|line| {
        let words = line.text(source(&manuscript));
        (words, line.block, line.blank_above)
    });
    each.collect()
}

fn of(lines: &[(&str, usize, usize)]) -> Vec<(String, usize, usize)> {
    let each = lines
        .iter()
        .map(|&(words, block, blank)| (words.to_string(), block, blank));
    each.collect()
}

/// The callouts that stand for nothing on the page; those that come in pairs are closed further down.
const SILENT: [(&str, &str); 5] = [
    ("[picture: the pass]", ""),
    ("[new panel]", ""),
    ("[may divide]", ""),
    ("[set as verse]", ""),
    ("[keep together]", "\n[end together]"),
];

#[test]
fn a_callout_between_two_lines_leaves_them_one_stanza() {
    let expected = of(&[("The bus climbs", 0, 0), ("to the pass", 0, 0)]);
    for (callout, end) in SILENT {
        let text = format!("The bus climbs\n{callout}\nto the pass{end}");
        assert_eq!(stanzas(&text), expected, "{callout}");
    }
    let several = "The bus climbs\n[picture: the pass]\n[may divide]\n[new panel]\nto the pass";
    assert_eq!(stanzas(several), expected);
}

#[test]
fn blank_lines_beside_a_callout_part_stanzas_as_if_it_were_not_there() {
    let parted = |blank| of(&[("The bus climbs", 0, 0), ("to the pass", 1, blank)]);
    for (callout, end) in SILENT {
        // Above it, below it, or both: blank lines that it parts do not add up.
        for (above, below, blank) in [(1, 0, 1), (0, 1, 1), (1, 1, 1), (2, 1, 2), (1, 3, 3)] {
            let (above, below) = ("\n".repeat(above), "\n".repeat(below));
            let text = format!("The bus climbs\n{above}{callout}\n{below}to the pass{end}");
            assert_eq!(stanzas(&text), parted(blank), "{text:?}");
        }
    }
    let apart = "The bus climbs\n\n[may divide]\n\n[picture: the pass]\n\nto the pass";
    assert_eq!(stanzas(apart), parted(1));
}

#[test]
fn callouts_above_the_first_line_make_no_stanza() {
    let text = "[picture: the pass]\n\n[new panel]\nThe bus climbs\nto the pass";
    let expected = [("The bus climbs", 0, 1), ("to the pass", 0, 0)];
    assert_eq!(stanzas(text), of(&expected));
    let manuscript = read(text).unwrap();
    // Nothing stands before either: no words for the picture, no panel to end.
    assert_eq!(manuscript.parts()[0].pictures[0].after, 0);
    assert!(!lines(&manuscript).any(|line| line.new_panel));
}

#[test]
fn emphasis_runs_on_past_a_callout_within_a_stanza() {
    let text = "*The bus climbs\n[picture: the pass]\nto the pass*";
    let manuscript = read(text).unwrap();
    assert!(lines(&manuscript).all(|line| line.runs[0].style.emphasis));
    let ends = text.replace("[picture: the pass]\n", "[picture: the pass]\n\n");
    let manuscript = read(&ends).unwrap();
    assert!(!lines(&manuscript).any(|line| line.runs[0].style.emphasis));
}

fn kinds(text: &str) -> Vec<LineKind> {
    let manuscript = read(text).expect("a sound manuscript");
    lines(&manuscript).map(|line| line.kind.clone()).collect()
}

/// Room stands on the page, in the stanza's midst; what the stanza is goes on below it.
#[test]
fn room_within_a_stanza_adds_no_space_and_does_not_change_what_the_stanza_is() {
    let expected = of(&[
        ("The bus climbs", 0, 0),
        ("", 1, 0),
        ("to the pass", 2, 0),
        ("by noon", 2, 0),
    ]);
    let text = "The bus climbs\n[space: 30 mm]\nto the pass\nby noon";
    assert_eq!(stanzas(text), expected);
    let kinds = kinds(&format!("[epigraph]\n{text}\n\nThe pass is shut"));
    let [LineKind::Epigraph, LineKind::Room(_), rest @ ..] = &kinds[..] else {
        panic!("{kinds:?}");
    };
    assert_eq!(
        rest,
        [LineKind::Epigraph, LineKind::Epigraph, LineKind::Verse]
    );
    let apart = "The bus climbs\n\n[space: 30 mm]\n\n\nto the pass";
    let expected = [("The bus climbs", 0, 0), ("", 1, 1), ("to the pass", 2, 2)];
    assert_eq!(stanzas(apart), of(&expected));
}

#[test]
fn an_attribution_is_one_line_and_an_epigraph_one_stanza() {
    use LineKind::{Attribution, Epigraph, Verse};
    let text = "[epigraph]\n\nSnow is a letter\n>> without words\n[attribution]\nRoad warden, 1974\n\nThe bus climbs";
    assert_eq!(kinds(text), [Epigraph, Epigraph, Attribution, Verse]);
    let expected = of(&[
        ("Snow is a letter", 0, 1),
        ("without words", 0, 0),
        ("Road warden, 1974", 1, 0),
        ("The bus climbs", 2, 1),
    ]);
    assert_eq!(stanzas(text), expected);
    // However close it stands, the line that says who speaks belongs to no stanza.
    let close = "The bus climbs\n[attribution]\nher logbook\nto the pass";
    assert_eq!(kinds(close), [Verse, Attribution, Verse]);
    let blocks: Vec<usize> = stanzas(close).iter().map(|line| line.1).collect();
    assert_eq!(blocks, [0, 1, 2]);
}

/// Which lines a sign stands on.
fn marked(text: &str, sign: impl Fn(&TextLine) -> bool) -> Vec<String> {
    let manuscript = read(text).expect("a sound manuscript");
    let marked = lines(&manuscript).filter(|line| sign(line));
    marked.map(|line| line.text(source(&manuscript))).collect()
}

#[test]
fn signs_fall_on_the_line_below_and_pictures_belong_to_the_line_above() {
    let text = "The bus\n[may divide]\nclimbs\n\n[new panel]\n\n[keep together]\nto\nthe\n[end together]\npass";
    assert_eq!(marked(text, |line| line.may_divide), ["climbs"]);
    assert_eq!(marked(text, |line| line.new_panel), ["to"]);
    assert_eq!(marked(text, |line| line.kept.is_some()), ["to", "the"]);
    let text = "The bus\n[picture: the bus]\nclimbs\n\n[picture: the pass]\n\nto the pass\n[part: colophon]\n\
                [picture: the press]\nPrinted";
    let manuscript = read(text).unwrap();
    let calls = manuscript.parts().iter().flat_map(|part| &part.pictures);
    let calls: Vec<_> = calls.map(|call| (call.name.as_str(), call.after)).collect();
    assert_eq!(calls, [("the bus", 1), ("the pass", 2), ("the press", 0)]);
}

#[test]
fn two_groups_kept_together_are_told_apart() {
    let text = "[keep together]\nThe bus\nclimbs\n[end together]\n[keep together]\nto the\npass\n[end together]";
    let manuscript = read(text).unwrap();
    let kept: Vec<_> = lines(&manuscript).map(|line| line.kept.unwrap()).collect();
    assert!(
        kept[0] == kept[1] && kept[1] != kept[2] && kept[2] == kept[3],
        "{kept:?}"
    );
}

#[test]
fn signs_at_the_end_of_a_part_do_not_reach_the_next() {
    let text = "The bus climbs\n[may divide]\n[new panel]\n[part: colophon]\nPrinted\nin winter";
    assert!(marked(text, |line| line.may_divide || line.new_panel).is_empty());
}

/// The line ends of UAX #14; CR LF is one.
#[test]
fn every_line_end_ends_one_line() {
    let text = "The bus climbs\n\n[may divide]\n\n\nto the pass\nby noon\n";
    let expected = [
        ("The bus climbs", 0, 0),
        ("to the pass", 1, 2),
        ("by noon", 1, 0),
    ];
    let ends = [
        "\n", "\r\n", "\r", "\u{b}", "\u{c}", "\u{85}", "\u{2028}", "\u{2029}",
    ];
    for end in ends {
        assert_eq!(stanzas(&text.replace('\n', end)), of(&expected), "{end:?}");
    }
}
