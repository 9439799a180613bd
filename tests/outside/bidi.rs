//! The order of lines in two directions, against the conformance file of the Unicode Bidirectional Algorithm.

use std::fs;
use std::path::Path;

use versefold::names::Direction;
use versefold::typeface::{Base, Level, Levels, visual_order};

/// Debian's `unicode-data` 15.0.0: `BidiCharacterTest-15.0.0.txt`, 91,707 cases.
const CASES: &str = "/usr/share/unicode/BidiCharacterTest.txt";

/// One line of the file, as its head describes it.
struct Case<'a> {
    text: String,
    base: Base,
    paragraph: u8,
    /// By character; nothing for what rule X9 removes.
    levels: Vec<Option<u8>>,
    /// The places of the characters that are left, from left to right.
    order: Vec<usize>,
    line: &'a str,
}

fn read(line: &str) -> Option<Case<'_>> {
    let fields: Vec<&str> = line.split(';').collect();
    let [points, direction, paragraph, levels, order] = fields[..] else {
        return None;
    };
    let character = |hex| char::from_u32(u32::from_str_radix(hex, 16).expect("a code point"));
    let text: Option<String> = points.split(' ').map(character).collect();
    Some(Case {
        text: text.expect("characters"),
        base: match direction {
            "0" => Base::Given(Direction::LeftToRight),
            "1" => Base::Given(Direction::RightToLeft),
            _ => Base::default(),
        },
        paragraph: paragraph.parse().expect("a level"),
        levels: levels.split(' ').map(|level| level.parse().ok()).collect(),
        order: order
            .split(' ')
            .filter_map(|index| index.parse().ok())
            .collect(),
        line,
    })
}

/// What of a case comes out otherwise.
fn difference(case: &Case<'_>) -> Option<String> {
    let found = Levels::of(&case.text, case.base);
    let by_character: Vec<Level> = case
        .text
        .char_indices()
        .map(|(at, _)| found.at(at))
        .collect();
    let base = u8::from(found.base().is_right_to_left());
    let levels = by_character.iter().zip(&case.levels);
    let levels: Vec<Option<u8>> = levels
        .map(|(level, expected)| expected.map(|_| level.number()))
        .collect();
    let order = visual_order(&by_character).into_iter();
    let order: Vec<usize> = order.filter(|&at| case.levels[at].is_some()).collect();
    let right = base == case.paragraph && levels == case.levels && order == case.order;
    (!right).then(|| format!("{}\n    {base} {levels:?} {order:?}", case.line))
}

/// Source: `BidiCharacterTest.txt` of the Unicode Character Database 15.0.0: paragraph level, resolved levels and
/// visual order up to rule L2. unicode-bidi has the properties of Unicode 16.0; none of these cases shows it.
#[test]
#[ignore = "needs Debian's unicode-data"]
fn lines_are_ordered_as_the_standard_orders_them() {
    let file = fs::read_to_string(Path::new(CASES)).expect("unicode-data is installed");
    assert!(
        file.starts_with("# BidiCharacterTest-15.0.0.txt"),
        "{CASES} is another version"
    );
    let lines = file
        .lines()
        .filter(|line| !line.is_empty() && !line.starts_with('#'));
    let cases: Vec<Case<'_>> = lines.filter_map(read).collect();
    assert_eq!(cases.len(), 91_707);
    let wrong: Vec<String> = cases.iter().filter_map(difference).collect();
    assert!(
        wrong.is_empty(),
        "{} of {} cases:\n{}",
        wrong.len(),
        cases.len(),
        wrong[..wrong.len().min(20)].join("\n")
    );
}
