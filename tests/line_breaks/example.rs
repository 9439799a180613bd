//! The worked example of D. E. Knuth and M. F. Plass, "Breaking Paragraphs into Lines", *Software: Practice and
//! Experience* 11 (1981), 1119–1184 (chapter 3 of *Digital Typography*, 1999): its text, its widths (p. 75 of the
//! book), its measures of 390 and 500 units (pp. 78 and 81), and the ratios that its figures print (pp. 81 and 82).
//!
//! From memory, and agreeing with all published ratios: the formulas, and α = γ = 3000. The tables of every feasible
//! break were computed from the article's definitions by a program that has nothing to do with this one; they leave
//! out α and γ, which none of the best lines would pay.

use versefold::book::characters_per_line;
use versefold::names::Length;
use versefold::setting::line_breaks::{
    How, Justified, LineCost, LineFit, Measures, Point, best_breaks, line_cost, ratio,
};

use crate::line_breaks::builder::Builder;

/// `*` is a place where a word may be divided.
const TEXT: &str = "In olden times when wish*ing still helped one, there lived a king whose daugh*ters were all \
    beau*ti*ful; and the young*est was so beau*ti*ful that the sun it*self, which has seen so much, was aston*ished \
    when*ever it shone in her face. Close by the king's castle lay a great dark for*est, and un*der an old lime-tree \
    in the for*est was a well, and when the day was very warm, the king's child went out into the for*est and sat \
    down by the side of the cool foun*tain; and when she was bored she took a golden ball, and threw it up on high \
    and caught it; and this ball was her favor*ite play*thing.";

/// Widths of a to z, in eighteenths of an em.
const LETTERS: [i64; 26] = [
    9, 10, 8, 10, 8, 6, 9, 10, 5, 6, 10, 5, 15, 10, 9, 10, 10, 7, 7, 7, 10, 9, 13, 10, 10, 8,
];
/// A hyphen's width, added or not.
const HYPHEN: i64 = 6;
/// The cost π of a break at a hyphen.
const HYPHENATED: i32 = 50;
/// The first line begins with an indent of one em.
const INDENT: i64 = 18;

fn width(letter: char) -> i64 {
    match letter {
        'C' => 13,
        'I' => 6,
        ',' | ';' | '.' | '\'' => 5,
        _ => LETTERS[letter as usize - 'a' as usize],
    }
}

/// The points of the text, and the syllables before each, as the tables write them.
fn points() -> (Vec<Point>, Vec<String>) {
    let mut builder = Builder::new();
    let mut names = vec!["(start)".to_string()];
    let mut name = String::new();
    let mut before = ' ';
    for letter in TEXT.chars() {
        match letter {
            '*' => builder.division(HYPHEN, HYPHENATED),
            '-' => {
                builder.letters(HYPHEN);
                builder.seam(HYPHENATED, true);
            }
            ' ' => {
                let space = match before {
                    ',' => (6, 4, 2),
                    ';' => (6, 4, 1),
                    '.' => (8, 6, 1),
                    _ => (6, 3, 2),
                };
                builder.space(space, 0, 0);
            }
            _ => {
                builder.letters(width(letter));
                name.push(letter);
            }
        }
        if matches!(letter, '*' | '-' | ' ') {
            let hyphen = if letter == ' ' { "" } else { "-" };
            names.push(std::mem::take(&mut name) + hyphen);
        }
        before = letter;
    }
    names.push(name);
    (builder.end(), names)
}

/// A best line: what it ends with, natural width, stretch, shrink, the ratio as a fraction, demerits, all demerits.
type BestLine = (&'static str, i64, i64, i64, (i64, i64), i64, i64);

/// The stretch of last lines is without end: none is told.
const NO_END: i64 = 0;

const BEST_500: [BestLine; 10] = [
    ("a", 476, 31, 20, (24, 31), 2209, 2209),
    ("was", 495, 28, 17, (5, 28), 4, 2213),
    ("was", 478, 35, 22, (22, 35), 676, 2889),
    ("king's", 482, 33, 19, (6, 11), 289, 3178),
    ("the", 500, 37, 24, (0, 1), 1, 3179),
    ("king's", 497, 38, 24, (3, 38), 1, 3180),
    ("the", 489, 39, 26, (11, 39), 9, 3189),
    ("ball,", 490, 34, 21, (5, 17), 16, 3205),
    ("her", 477, 40, 25, (23, 40), 400, 3605),
    ("thing.", 146, NO_END, 2, (0, 1), 1, 3606),
];

const BEST_390: [BestLine; 12] = [
    ("one,", 372, 21, 14, (6, 7), 4096, 4096),
    ("beau-", 390, 24, 16, (0, 1), 2601, 6697),
    ("the", 383, 25, 15, (7, 25), 9, 6706),
    ("aston-", 364, 26, 16, (1, 1), 22801, 29507),
    ("the", 388, 30, 17, (1, 15), 1, 29508),
    ("an", 395, 28, 18, (-5, 18), 9, 29517),
    ("when", 375, 28, 18, (15, 28), 256, 29773),
    ("out", 393, 28, 18, (-1, 6), 1, 29774),
    ("the", 369, 30, 20, (7, 10), 1225, 30999),
    ("a", 393, 28, 17, (-3, 17), 4, 31003),
    ("caught", 380, 28, 18, (5, 14), 36, 31039),
    ("thing.", 340, NO_END, 13, (0, 1), 1, 31040),
];

/// Every feasible break: line, what it ends with, what the line before ends with, ratio, demerits, the least total.
const FEASIBLE_500: &str = " 1 a        (start)  +0.774   2209   2209
 1 king     (start)  -0.727   1521   1521
 2 was      a        +0.179      4   2213
 2 so       king     +0.821   3136   4657
 3 was      was      +0.629    676   2889
 3 aston-   so       -0.455   3600   8257
 4 king's   was      +0.545    289   3178
 4 castle   aston-   +0.278      9   8266
 4 lay      aston-   -0.870   4489  12746
 5 in       king's   +0.912   5929   9107
 5 the      king's   +0.000      1   3179
 5 for-     castle   +0.432   3481  11747
 5 est      castle   +0.000      1   8267
 5 was      lay      -0.208      4  12750
 5 a        lay      -0.769   2209  14955
 6 the      in       +0.632    676   9783
 6 king's   the      +0.079      1   3180
 6 child    est      +0.237      4   8271
 6 went     was      +0.000      1  12751
 6 out      a        -0.708   1369  16324
 7 side     the      +0.306     16   9799
 7 of       the      -0.385     49   9832
 7 the      king's   +0.282      9   3189
 7 cool     child    +0.462    121   8392
 7 foun-    went     +0.385   3249  16000
 7 tain;    went     -0.577    400  13151
 7 and      out      -0.720   1444  17768
 8 golden   side     -0.087      1   9800
 8 ball,    the      +0.294     16   3205
 8 and      cool     +0.343     25   8417
 8 threw    foun-    -0.174      4  16004
 8 it       tain;    +0.541    289  13440
 8 up       tain;    -0.231      4  13155
 8 on       and      +0.100      1  17769
 9 was      golden   +0.341     25   9825
 9 her      ball,    +0.575    400   3605
 9 favor-   and      +0.150   2601  11018
 9 ite      and      -0.320     16   8433
 9 play-    it       +0.405   3364  16804
10 thing.   her      +0.000      1   3606
";

const FEASIBLE_390: &str = " 1 one,     (start)  +0.857   4096   4096
 2 beau-    one,     +0.000   2601   6697
 2 ti-      one,     -0.750   8649  12745
 3 the      beau-    +0.280      9   6706
 3 sun      ti-      -0.824   3249  15994
 4 aston-   the      +1.000  22801  29507
 4 ished    the      -0.500    196   6902
 5 the      aston-   +0.067      1  29508
 5 king's   ished    -0.235      4   6906
 6 der      the      +0.800   2704  32212
 6 an       the      -0.278      9  29517
 6 old      king's   +0.607    529   7435
 7 when     an       +0.536    256  29773
 7 the      old      +0.500    196   7631
 8 out      when     -0.167      1  29774
 8 into     the      -0.500    196   7827
 9 the      out      +0.700   1225  30999
 9 cool     into     +0.700   1225   9052
10 took     the      +0.480    144  31143
10 a        the      -0.176      4  31003
11 caught   a        +0.357     36  31039
11 it;      a        -0.650    784  31787
12 thing.   caught   +0.000      1  31040
";

/// The price of a line looser than the tolerance: more than all lines of the example together, for the article has no
/// such lines.
const LOOSE: u32 = 1_000_000_000;

fn justified(tolerance: u32, hyphens_in_a_row: u32, uneven: u32) -> How {
    How::Justified(Justified {
        tolerance,
        loose: LOOSE,
        hyphens_in_a_row,
        uneven,
        // The article has no such prices, and no walls.
        cramped: 0,
        ladder: 0,
        wall: 0,
        ..Justified::default()
    })
}

fn units(length: i64) -> Length {
    Length::from_units(length)
}

/// The measure of the line with this number, from 0.
fn measure(whole: i64, number: usize) -> Length {
    units(if number == 0 { whole - INDENT } else { whole })
}

/// A node of the article's network: so many lines end here, at the least cost.
struct Node {
    line: usize,
    point: usize,
    previous: usize,
    demerits: i64,
    total: i64,
}

/// Feasible breaks forward from the beginning, line by line, by the cost of single lines alone. Each break is listed
/// once, where it is reached at the least cost: all lines behind the first have one measure, so that their number
/// is of no account.
fn network(points: &[Point], whole: i64, how: &How) -> Vec<Node> {
    let mut nodes: Vec<Node> = Vec::new();
    let mut begin = vec![(0, 0)];
    for number in 0.. {
        let mut here: Vec<Node> = Vec::new();
        for &(from, total) in &begin {
            for to in from + 1..points.len() {
                let line = line_cost(points, from, to, measure(whole, number), how);
                let LineCost { cost, fit, .. } = line.expect("two points");
                if fit != LineFit::Within {
                    continue;
                }
                let (demerits, total) = (cost.ordinary, total + cost.ordinary);
                if here
                    .iter()
                    .any(|node| node.point == to && node.total <= total)
                {
                    continue;
                }
                here.retain(|node| node.point != to);
                here.push(Node {
                    line: number + 1,
                    point: to,
                    previous: from,
                    demerits,
                    total,
                });
            }
        }
        here.sort_by_key(|node| node.point);
        begin = here.iter().map(|node| (node.point, node.total)).collect();
        if here.is_empty() {
            break;
        }
        nodes.extend(here);
    }
    let least = |point: usize| {
        nodes
            .iter()
            .filter(|node| node.point == point)
            .map(|node| node.total)
            .min()
    };
    let least: Vec<Option<i64>> = (0..points.len()).map(least).collect();
    nodes.retain(|node| least[node.point] == Some(node.total));
    nodes
}

/// A ratio to three decimals, as the tables write it; halves away from nothing.
fn three_decimals(points: &[Point], from: usize, to: usize, measure: Length) -> String {
    let ratio = ratio(points, from, to, measure).expect("the spaces give");
    let (part, of) = (ratio.part.units(), ratio.of.units());
    let thousandths = (2000 * part.abs() + of) / (2 * of);
    let sign = if part < 0 { '-' } else { '+' };
    format!("{sign}{}.{:03}", thousandths / 1000, thousandths % 1000)
}

fn check_network(whole: i64, table: &str, count: usize) {
    let (points, names) = points();
    let how = justified(1000, 0, 0);
    let nodes = network(&points, whole, &how);
    let mut found = String::new();
    for node in &nodes {
        found += &format!(
            "{:2} {:8} {:8} {} {:6} {:6}\n",
            node.line,
            names[node.point],
            names[node.previous],
            three_decimals(
                &points,
                node.previous,
                node.point,
                measure(whole, node.line - 1)
            ),
            node.demerits,
            node.total
        );
    }
    assert_eq!(found, table, "{whole}");
    assert_eq!(nodes.len(), count);
    // Forward to a break and backward from it: together never less than the best, and the best on its way.
    let first = [measure(whole, 0)];
    let fall = best_breaks(
        &points,
        &Measures {
            first: &first,
            rest: units(whole),
        },
        &how,
    );
    let best = fall.cost_from(0).ordinary;
    let way: Vec<usize> = fall.lines_from(0).map(|line| line.to).collect();
    let mut ways_on = 0;
    for node in &nodes {
        let behind = fall.cost_from(node.point);
        if way.get(node.line - 1) == Some(&node.point) {
            assert_eq!(node.total + behind.ordinary, best, "{}", names[node.point]);
        } else if behind.breaches == 0 && behind.ordinary < i64::from(LOOSE) {
            ways_on += 1;
            assert!(node.total + behind.ordinary > best, "{}", names[node.point]);
        }
        // A break from which no feasible line leads on has no way without a loose line or a breach.
        let leads_on = nodes.iter().any(|next| {
            let number = measure(whole, node.line);
            let line = line_cost(&points, node.point, next.point, number, &how);
            line.is_some_and(|line| line.fit == LineFit::Within)
        });
        let is_feasible = behind.breaches == 0 && behind.ordinary < i64::from(LOOSE);
        assert!(leads_on || node.point == points.len() - 1 || !is_feasible);
    }
    assert!(
        ways_on > 2,
        "only {ways_on} breaks lead on beside the best way"
    );
}

#[test]
fn every_feasible_break_at_500_units() {
    check_network(500, FEASIBLE_500, 40);
}

#[test]
fn every_feasible_break_at_390_units() {
    check_network(390, FEASIBLE_390, 23);
}

fn check_best(whole: i64, lines: &[BestLine], how: &How) {
    let (points, names) = points();
    let first = [measure(whole, 0)];
    let fall = best_breaks(
        &points,
        &Measures {
            first: &first,
            rest: units(whole),
        },
        how,
    );
    let mut sum = 0;
    let found: Vec<_> = fall.lines_from(0).collect();
    assert_eq!(found.len(), lines.len());
    for (number, (line, &best)) in found.iter().zip(lines).enumerate() {
        let (name, natural, stretch, shrink, (part, of), demerits, total) = best;
        assert_eq!((name, LineFit::Within), (names[line.to].as_str(), line.fit));
        let (begin, end) = (&points[line.from], &points[line.to]);
        // The table counts the indent as part of the first line.
        let indent = units(whole) - measure(whole, number);
        assert_eq!(end.end - begin.start + indent, units(natural), "{name}");
        let slack = end.slack_to_end - begin.slack_to_start;
        assert_eq!(slack.shrink, units(shrink), "{name}");
        if stretch != NO_END {
            assert_eq!(slack.stretch, units(stretch), "{name}");
        }
        let measure = measure(whole, number);
        let ratio = ratio(&points, line.from, line.to, measure).expect("the spaces give");
        assert_eq!(ratio.part.units() * of, ratio.of.units() * part, "{name}");
        let cost = line_cost(&points, line.from, line.to, measure, how).expect("two points");
        assert_eq!(cost.cost.ordinary, demerits, "{name}");
        sum += demerits;
        assert_eq!(sum, total, "{name}");
    }
    let cost = fall.cost_from(0);
    assert_eq!((cost.overfull, cost.breaches, cost.ordinary), (0, 0, sum));
}

#[test]
fn the_best_lines_at_both_measures() {
    for how in [justified(1000, 0, 0), justified(1000, 3000, 3000)] {
        check_best(500, &BEST_500, &how);
        check_best(390, &BEST_390, &how);
    }
}

/// The copyfitting estimate of how many characters a line holds (28.1 to the length of the lower-case alphabet, after
/// the table of R. Bringhurst, *The Elements of Typographic Style*, 2.1.2) against the full lines of the example, whose
/// text and widths are another publication's: 61.2 characters a line at 500 units, 47.9 at 390.
#[test]
fn the_copyfitting_estimate_meets_the_lines_of_the_example() {
    let (points, _) = points();
    // By point: the characters before it, the space that ends a line left out; and what stands there.
    let mut before = vec![(0, ' ')];
    let mut characters = 0;
    for letter in TEXT.chars() {
        characters += usize::from(!matches!(letter, '*' | ' '));
        if matches!(letter, '*' | '-' | ' ') {
            before.push((characters, letter));
            characters += usize::from(letter == ' ');
        }
    }
    before.push((characters, ' '));
    let alphabet = units(LETTERS.iter().sum());
    assert_eq!(alphabet, units(231));
    for (whole, lines, mean) in [(500, 9, 61.2), (390, 11, 47.9)] {
        let first = [measure(whole, 0)];
        let measures = Measures {
            first: &first,
            rest: units(whole),
        };
        let fall = best_breaks(&points, &measures, &justified(1000, 0, 0));
        let mut full: Vec<_> = fall.lines_from(0).collect();
        full.pop();
        assert_eq!(full.len(), lines);
        let count = |from: usize, to: usize| {
            let space = usize::from(from > 0 && before[from].1 == ' ');
            // The hyphen of a divided word is seen, too.
            let hyphen = usize::from(before[to].1 == '*');
            before[to].0 + hyphen - before[from].0 - space
        };
        let all: usize = full.iter().map(|line| count(line.from, line.to)).sum();
        let true_mean = all as f64 / lines as f64;
        assert!((true_mean - mean).abs() < 0.06, "{true_mean}");
        let holds = characters_per_line(units(whole), alphabet);
        assert!((holds - true_mean).abs() <= 2.0, "{holds} {true_mean}");
    }
}

/// The fourth line at 390 units has a ratio of 1: below that tolerance there is no feasible way, and it is told.
#[test]
fn a_tolerance_just_below_one_is_too_little_at_390_units() {
    let (points, _) = points();
    let first = [measure(390, 0)];
    let measures = Measures {
        first: &first,
        rest: units(390),
    };
    let fall = best_breaks(&points, &measures, &justified(999, 0, 0));
    assert!(fall.cost_from(0).ordinary >= i64::from(LOOSE));
    assert!(fall.lines_from(0).any(|line| line.fit == LineFit::Loose));
    assert_eq!(fall.cost_from(0).overfull, 0);
}
