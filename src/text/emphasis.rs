//! `*emphasis*` and `**strong**` as CommonMark 0.31 has them (section "Emphasis and strong emphasis",
//! rules for `*`), and the backslash that makes ASCII punctuation plain. Beside letters of scripts that are written without
//! spaces the asterisks may stand at punctuation as if there were a space: there `*「はい」*と` is emphasis too.

use std::ops::Range;

use icu_properties::CodePointMapData;
use icu_properties::props::{GeneralCategory, GeneralCategoryGroup};

use super::paragraph::is_of_unspaced_script;
use super::tile::{TileKind, Tiling};
use super::{Run, Style, readings};

/// A run of asterisks that may open or close emphasis. A closer uses it up from the left and an opener from the right.
struct Delimiter {
    from: usize,
    /// The asterisks from `left` to `right`, counted from the start of the run, are not used yet.
    left: usize,
    right: usize,
    /// How many asterisks the run has in the text.
    original: usize,
    opens: bool,
    closes: bool,
}

impl Delimiter {
    fn count(&self) -> usize {
        self.right - self.left
    }
}

/// Bytes that are emphasised, or strongly so. Inner ones come later and lie over outer ones.
struct EmphasisSpan {
    bytes: Range<usize>,
    strong: bool,
}

/// Reads the inline mark-up of the `lines` of one stanza (emphasis may run on over its line ends), tiles
/// their content, and gives the runs of each line. `readings` are the signs of readings in order, where there may
/// be some.
pub(super) fn read(
    text: &str,
    lines: &[Range<usize>],
    readings: Option<&[Range<usize>]>,
    tiling: &mut Tiling,
) -> Vec<Vec<Run>> {
    let (mut delimiters, escapes) = find_signs(text, lines, readings.is_some());
    let (stresses, used) = pair(&mut delimiters);
    let mut markup: Vec<Range<usize>> = escapes;
    markup.extend(used);
    if let (Some(readings), Some(first), Some(last)) = (readings, lines.first(), lines.last()) {
        let from = readings.partition_point(|sign| sign.start < first.start);
        let own = readings[from..].iter();
        markup.extend(own.take_while(|sign| sign.start < last.end).cloned());
    }
    markup.sort_by_key(|range| range.start);
    lines
        .iter()
        .map(|line| runs_of(text, line, &markup, &stresses, tiling))
        .collect()
}

/// Every run of asterisks, and every backslash that makes the next sign plain.
fn find_signs(
    text: &str,
    lines: &[Range<usize>],
    has_readings: bool,
) -> (Vec<Delimiter>, Vec<Range<usize>>) {
    let is_plain = |at: usize| {
        let sign = text[at..].chars().next();
        sign.filter(|c| c.is_ascii_punctuation() || has_readings && readings::is_sign(*c))
    };
    let mut delimiters = Vec::new();
    let mut escapes = Vec::new();
    for line in lines {
        let bytes = &text.as_bytes()[..line.end];
        let mut at = line.start;
        while at < line.end {
            match bytes[at] {
                b'\\' if at + 1 < line.end => {
                    let plain = is_plain(at + 1).map_or(0, char::len_utf8);
                    escapes.extend((plain > 0).then_some(at..at + 1));
                    at += 1 + plain;
                }
                b'*' => {
                    let count = bytes[at..].iter().take_while(|b| **b == b'*').count();
                    delimiters.push(delimiter(text, line, at, count));
                    at += count;
                }
                _ => at += 1,
            }
        }
    }
    (delimiters, escapes)
}

/// A delimiter run with its flanking, as CommonMark defines it; a line's ends count as white space, and of signs at
/// punctuation letters that are written without spaces as well.
fn delimiter(text: &str, line: &Range<usize>, from: usize, count: usize) -> Delimiter {
    let before = text[line.start..from].chars().next_back();
    let after = text[from + count..line.end].chars().next();
    let is_white = |c: Option<char>| c.is_none_or(char::is_whitespace);
    let is_sign = |c: Option<char>| c.is_some_and(is_punctuation);
    let free = |c: Option<char>| is_white(c) || is_sign(c) || c.is_some_and(is_of_unspaced_script);
    let left_flanking = !is_white(after) && (!is_sign(after) || free(before));
    let right_flanking = !is_white(before) && (!is_sign(before) || free(after));
    Delimiter {
        from,
        left: 0,
        right: count,
        original: count,
        opens: left_flanking,
        closes: right_flanking,
    }
}

/// Unicode punctuation and symbols (general categories P and S), which CommonMark asks of the signs
/// beside a run.
fn is_punctuation(c: char) -> bool {
    let category = CodePointMapData::<GeneralCategory>::new().get(c);
    let signs = GeneralCategoryGroup::Punctuation.union(GeneralCategoryGroup::Symbol);
    signs.contains(category)
}

/// Pairs closers with openers by the procedure "process emphasis" of the CommonMark appendix. Gives the
/// emphasised spans, outer before inner, and the bytes used up as mark-up.
fn pair(delimiters: &mut [Delimiter]) -> (Vec<EmphasisSpan>, Vec<Range<usize>>) {
    let mut stresses = Vec::new();
    let mut used = Vec::new();
    let mut open: Vec<usize> = Vec::new();
    for closer in 0..delimiters.len() {
        while delimiters[closer].closes && delimiters[closer].count() > 0 {
            let found = open
                .iter()
                .rposition(|&opener| may_pair(&delimiters[opener], &delimiters[closer]));
            let Some(position) = found else { break };
            open.truncate(position + 1);
            let opener = open[position];
            let strong = delimiters[opener].count() >= 2 && delimiters[closer].count() >= 2;
            let width = if strong { 2 } else { 1 };
            let o = &mut delimiters[opener];
            o.right -= width;
            let start = o.from + o.right;
            if o.count() == 0 {
                open.pop();
            }
            let c = &mut delimiters[closer];
            let end = c.from + c.left;
            c.left += width;
            used.push(start..start + width);
            used.push(end..end + width);
            stresses.push(EmphasisSpan {
                bytes: start + width..end,
                strong,
            });
        }
        if delimiters[closer].opens && delimiters[closer].count() > 0 {
            open.push(closer);
        }
    }
    (stresses, used)
}

fn may_pair(opener: &Delimiter, closer: &Delimiter) -> bool {
    // Rules 9 and 10: where a run can both open and close, the sum of the lengths is no multiple of
    // three, unless both lengths are.
    let both_ways = opener.closes || closer.opens;
    let sum = opener.original + closer.original;
    let all_threes = opener.original.is_multiple_of(3) && closer.original.is_multiple_of(3);
    !(both_ways && sum.is_multiple_of(3) && !all_threes)
}

fn runs_of(
    text: &str,
    line: &Range<usize>,
    markup: &[Range<usize>],
    stresses: &[EmphasisSpan],
    tiling: &mut Tiling,
) -> Vec<Run> {
    let mut borders: Vec<usize> = vec![line.start, line.end];
    let mut hidden = vec![false; line.len()];
    for range in markup {
        if line.contains(&range.start) {
            borders.extend([range.start, range.end]);
            hidden[range.start - line.start..range.end - line.start].fill(true);
            tiling.add(TileKind::Markup, range.start, range.end);
        }
    }
    for stress in stresses {
        borders.extend(
            [stress.bytes.start, stress.bytes.end].map(|at| at.clamp(line.start, line.end)),
        );
    }
    borders.sort_unstable();
    borders.dedup();
    let mut runs: Vec<Run> = Vec::new();
    for pair in borders.windows(2) {
        let (from, to) = (pair[0], pair[1]);
        if hidden[from - line.start] {
            continue;
        }
        let style = style_at(from, stresses);
        match runs.last_mut() {
            Some(last) if last.to == from && last.style == style => last.to = to,
            _ => runs.push(Run { from, to, style }),
        }
    }
    trim(text, &mut runs);
    tile_runs(text, line, &hidden, tiling);
    runs
}

/// Mark-up may leave spaces at a line's ends; they are not part of it.
fn trim(text: &str, runs: &mut Vec<Run>) {
    let is_space = |c| c == ' ' || c == '\t';
    while let Some(last) = runs.last_mut() {
        last.to = last.from + text[last.from..last.to].trim_end_matches(is_space).len();
        if last.from < last.to {
            break;
        }
        runs.pop();
    }
    while let Some(first) = runs.first_mut() {
        first.from = first.to
            - text[first.from..first.to]
                .trim_start_matches(is_space)
                .len();
        if first.from < first.to {
            break;
        }
        runs.remove(0);
    }
}

fn style_at(at: usize, stresses: &[EmphasisSpan]) -> Style {
    let mut style = Style::default();
    for stress in stresses.iter().filter(|stress| stress.bytes.contains(&at)) {
        style.strong |= stress.strong;
        style.emphasis |= !stress.strong;
    }
    style
}

fn tile_runs(text: &str, line: &Range<usize>, hidden: &[bool], tiling: &mut Tiling) {
    for (at, byte) in text.as_bytes()[line.clone()].iter().enumerate() {
        if !hidden[at] {
            let kind = match byte {
                b' ' | b'\t' => TileKind::Space,
                _ => TileKind::Word,
            };
            tiling.add(kind, line.start + at, line.start + at + 1);
        }
    }
}
