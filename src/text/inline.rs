//! What stands within lines: readings, emphasis, and ornaments.

use std::ops::Range;
use std::sync::Arc;

use super::tile::{TileKind, Tiling};
use super::{LineKind, Run, Style, TextLine, emphasis, readings};
use crate::names::{Fault, Faults, Location, Source};

/// Reads the inline mark-up of a part's lines and tiles what they hold.
pub(super) fn read(
    source: &Arc<Source>,
    lines: &mut [TextLine],
    has_readings: bool,
    tiling: &mut Tiling,
    faults: &mut Faults,
) {
    let found = has_readings.then(|| find_readings(source, lines, faults));
    read_emphasis(&source.text, lines, found.as_deref(), tiling);
}

/// Finds the readings of a part's lines, and gives the signs that are then mark-up, in order.
fn find_readings(
    source: &Arc<Source>,
    lines: &mut [TextLine],
    faults: &mut Faults,
) -> Vec<Range<usize>> {
    let mut markup = Vec::new();
    for line in lines {
        if matches!(line.kind, LineKind::Room(_) | LineKind::Ornament) {
            continue;
        }
        let pieces: Vec<Range<usize>> = line.pieces().collect();
        for piece in pieces {
            let found = readings::find(&source.text, &piece);
            let wrong = found.wrong.into_iter();
            faults.extend(wrong.map(|(bytes, wrong)| no_reading(source, bytes, wrong)));
            line.rubies.extend(found.rubies);
            markup.extend(found.markup);
        }
    }
    markup
}

fn no_reading(source: &Arc<Source>, bytes: Range<usize>, wrong: readings::WrongBracket) -> Fault {
    let what = match wrong {
        readings::WrongBracket::Open => "a reading begins here and has no end on its line",
        readings::WrongBracket::NoWord => "a reading is one word, without spaces or mark-up",
        readings::WrongBracket::NoBase => {
            "a reading stands here without the words that are read so"
        }
    };
    Fault::new("reading", what)
        .at(Location::new(source, bytes))
        .allowed("a reading right behind its base: 漢字《かんじ》, or with a mark where the base begins: ｜峠の灯《とうげのひ》")
        .help("if the brackets are the client's own, write \\《 and \\》")
}

/// Reads the inline mark-up block by block, for emphasis runs on over the lines of a stanza or paragraph.
/// `readings` are the signs of readings, where there may be some.
fn read_emphasis(
    text: &str,
    lines: &mut [TextLine],
    readings: Option<&[Range<usize>]>,
    tiling: &mut Tiling,
) {
    for block in blocks(lines) {
        let first = &mut lines[block[0]];
        match first.kind {
            LineKind::Room(_) => continue,
            LineKind::Ornament => {
                // Its asterisks are set as they stand.
                let (from, to) = (first.bytes.start, first.bytes.end);
                first.runs = vec![Run {
                    from,
                    to,
                    style: Style::default(),
                }];
                for (at, sign) in text[from..to].bytes().enumerate() {
                    let kind = if sign == b'*' {
                        TileKind::Word
                    } else {
                        TileKind::Space
                    };
                    tiling.add(kind, from + at, from + at + 1);
                }
            }
            _ => {
                let pieces = block.iter().flat_map(|&line| lines[line].pieces());
                let ranges: Vec<Range<usize>> = pieces.collect();
                let mut runs = emphasis::read(text, &ranges, readings, tiling).into_iter();
                for line in block {
                    let line = &mut lines[line];
                    let own = runs.by_ref().take(line.joints.len() + 1);
                    line.runs = own.flatten().collect();
                }
            }
        }
    }
}

/// The lines of each block, by number; a caption between does not part them.
fn blocks(lines: &[TextLine]) -> Vec<Vec<usize>> {
    let mut blocks: Vec<Vec<usize>> = Vec::new();
    let count = lines.iter().map(|line| line.block + 1).max().unwrap_or(0);
    blocks.resize(count, Vec::new());
    for (index, line) in lines.iter().enumerate() {
        blocks[line.block].push(index);
    }
    blocks.retain(|block| !block.is_empty());
    blocks
}
