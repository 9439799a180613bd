//! Words that follow shapes: every line of verse on every slot of random boxes stands as a plain re-statement of the
//! rules says, and in random masks every word of verse and prose stands in the white.

use std::fmt::Write;

use versefold::assets::Assets;
use versefold::book::Workbench;
use versefold::book::plan_file::check;
use versefold::names::{HalfLines, Length, Source};
use versefold::paper::Strip;
use versefold::plan::Plan;
use versefold::setting::{Break, Column, Row, SetLines, Slots, Stand, begins_phrase, breaks, set};
use versefold::text::{LineKind, Manuscript};
use versefold::typeface::{FontLibrary, Shaper};

const POEM: &str = include_str!("../examples/winter-bus/winter-bus.txt");
const MEMOIR: &str = include_str!("../examples/winter-bus-prose/nine-winters.txt");

/// Whole numbers that look random and are always the same.
struct Dice(u64);

impl Dice {
    fn between(&mut self, least: i64, most: i64) -> i64 {
        self.0 = self
            .0
            .wrapping_mul(6364136223846793005)
            .wrapping_add(1442695040888963407);
        least + ((self.0 >> 33) % (most - least + 1) as u64) as i64
    }
}

fn plan_of(more: &str) -> Plan {
    let text = format!(
        "title = \"The Winter Bus\"\nlanguage = \"en-GB\"\nmanuscript = \"words.txt\"\n[paper]\n\
         panel-width = \"105 mm\"\npanel-height = \"148 mm\"\npanels-per-side = 40\nsides = \"front\"\n{more}"
    );
    check::read(&Source::new("concertina.toml", text)).expect("a sound plan")
}

/// The words of an example without its callouts and parts: all of it is the body.
fn words(example: &str) -> String {
    let lines = example.lines().filter(|line| !line.starts_with('['));
    lines.fold(String::new(), |text, line| text + line + "\n")
}

/// A line of verse, re-stated plainly.
struct Plain<'a> {
    row: &'a Row,
    shaper: &'a Shaper<'a>,
    breaks: Vec<Break>,
    slots: &'a Slots,
    deepest: Length,
}

impl Plain<'_> {
    fn width(&self, from: usize, to: usize) -> Length {
        self.row.shaped.width(self.shaper, from..to)
    }

    /// The fewest pieces from a byte on, the next being piece `number` of the line that begins on slot `first`.
    fn fewest(
        &self,
        from: usize,
        first: usize,
        number: usize,
        insets: (Length, Length),
    ) -> Option<usize> {
        if first + number >= self.slots.boxes().end_of(first) {
            return None;
        }
        let inset = if number == 0 { insets.0 } else { insets.1 };
        let measure = self.slots.get(first + number).measure - inset;
        let end = self.row.shaped.trimmed_end(self.row.shaped.text.len());
        if self.width(from, end) <= measure {
            return Some(1);
        }
        let here = self.breaks.iter().filter(|at| at.end > from);
        let fitting = here.filter(|at| self.width(from, at.end) <= measure);
        let ways = fitting.filter_map(|at| self.fewest(at.next, first, number + 1, insets));
        ways.min().map(|pieces| pieces + 1)
    }

    /// How the line stands on a slot: how many pieces, and how far the first and the others stand in.
    fn on(&self, slot: usize) -> Option<(usize, Length, Length)> {
        let em = Length::pt(11);
        let measure = self.slots.get(slot).measure;
        let clear = self.deepest + em;
        let full = match clear * 3 <= measure {
            true => clear.max(em * 2),
            false => em * 2,
        };
        let end = self.row.shaped.trimmed_end(self.row.shaped.text.len());
        let width = self.width(0, end);
        let divided = |indent: Length| {
            let turned = [full, em * 2, em, Length::ZERO].into_iter();
            let mut ways = turned.filter_map(|turned| {
                let pieces = self.fewest(0, slot, 0, (indent, turned))?;
                Some((pieces, indent, turned))
            });
            ways.next()
        };
        let back = (width <= measure).then_some((1, measure - width, Length::ZERO));
        divided(self.row.indent)
            .or(back)
            .or_else(|| divided(self.row.indent.min(em * 2)))
    }

    /// Compares how the line was set for a slot; whether it stands on a later one, and whether it turns over.
    fn check(&self, slot: usize, stand: &Stand) -> (bool, bool) {
        let text = &self.row.shaped.text;
        let found = (slot..self.slots.len()).find_map(|at| Some((at, self.on(at)?)));
        let first = slot + stand.skip.whole_lines();
        let Some((at, (pieces, indent, turned))) = found else {
            assert_eq!(first, self.slots.len(), "{text}: there is no slot for it");
            return (true, false);
        };
        assert_eq!(
            (first, stand.pieces.len()),
            (at, pieces),
            "{text} from slot {slot}"
        );
        assert_eq!(stand.height, HalfLines::lines(pieces));
        for (number, piece) in stand.pieces.iter().enumerate() {
            let on = self.slots.get(at + number);
            let inset = if number == 0 { indent } else { turned };
            assert_eq!(piece.x, on.left + inset, "{text}");
            assert_eq!(piece.width, self.width(piece.text.start, piece.text.end));
            assert!(
                piece.x + piece.width <= on.right(),
                "{text} on slot {}",
                at + number
            );
            assert_eq!(piece.baseline, HalfLines::lines(number));
        }
        (first > slot, pieces > 1)
    }
}

/// Boxes one below the other.
fn boxes(dice: &mut Dice) -> String {
    let mut top = dice.between(8, 30);
    let mut text = String::from("[[panel]]\npanel = \"front 1\"\nboxes = [\n");
    while top < 125 {
        let height = dice.between(9, 40).min(140 - top);
        let width = dice.between(18, 90);
        let left = dice.between(7, 98 - width);
        let _ = writeln!(
            text,
            "{{ x = \"{left} mm\", y = \"{top} mm\", width = \"{width} mm\", height = \"{height} mm\" }},"
        );
        top += height + dice.between(0, 8);
    }
    text + "]\n"
}

/// How deep lines stand in that a row's turned-over pieces clear: the deepest of all but a twentieth, and of a long stanza's
/// own lines.
fn depth_of(rows: &[Row], row: &Row) -> Length {
    let but = |mut indents: Vec<Length>, aside: usize| {
        indents.sort();
        indents.truncate(indents.len() - aside);
        indents.last().copied().unwrap_or_default()
    };
    let verse = rows.iter();
    let verse = verse.filter(|row| row.kind == LineKind::Verse && !row.stepped);
    let own = verse.clone().filter(|other| other.block == row.block);
    let all: Vec<Length> = verse.map(|row| row.indent).collect();
    let own: Vec<Length> = own.map(|other| other.indent).collect();
    let (of_all, of_own) = (all.len().div_ceil(20), own.len() / 20);
    but(all, of_all).max(but(own, of_own))
}

#[test]
fn verse_stands_on_slots_as_the_rules_say() {
    let mut dice = Dice(7);
    let (mut checked, mut later, mut turned) = (0, 0, 0);
    for _ in 0..4 {
        let plan = plan_of(&format!("[text]\nhang = \"none\"\n{}", boxes(&mut dice)));
        let manuscript = Manuscript::read(&Source::new("words.txt", words(POEM))).expect("sound");
        let strip = Strip::new(plan.paper);
        let lines = set(
            &manuscript,
            &plan,
            &strip,
            &FontLibrary::new(Assets::memory()),
        )
        .expect("set lines");
        let part = &lines.parts[0];
        let shaped = |column: &Column| match column {
            Column::Shaped(slots) => Some(slots.clone()),
            Column::Plain(_) => None,
        };
        let columns = part.columns.iter().enumerate();
        let mut shaped = columns.filter_map(|(at, column)| Some((at, shaped(column)?)));
        let (column, slots) = shaped.next().expect("front 1 is shaped");
        let shaper = Shaper::new(&part.typeface, "en-GB");
        for row in part.rows.iter() {
            if row.kind != LineKind::Verse || row.stepped {
                continue;
            }
            let plain = Plain {
                row,
                shaper: &shaper,
                breaks: breaks(&row.shaped.text, 0, "en-GB", |before, behind| {
                    begins_phrase("en-GB", before, behind)
                }),
                slots: &slots,
                deepest: depth_of(&part.rows, row),
            };
            for slot in 0..slots.len() {
                let (skips, turns) = plain.check(slot, row.at[column].stand(slot));
                checked += 1;
                later += u32::from(skips);
                turned += u32::from(turns);
            }
        }
    }
    println!("{checked} lines on slots, {later} on a later one, {turned} turned over");
    assert!(
        checked > 3_000 && later > 200 && turned > 500,
        "{checked}, {later}, {turned}"
    );
}

/// A mask of white ellipses on black, 2 pixels to the millimetre, as rows of pixels.
fn ellipses(dice: &mut Dice) -> Vec<Vec<bool>> {
    let ellipses: Vec<[i64; 4]> = (0..3)
        .map(|_| {
            [
                dice.between(40, 170),
                dice.between(40, 250),
                dice.between(50, 110),
                dice.between(30, 130),
            ]
        })
        .collect();
    let white = |x: i64, y: i64| {
        ellipses.iter().any(|&[cx, cy, rx, ry]| {
            (x - cx).pow(2) * ry * ry + (y - cy).pow(2) * rx * rx <= rx * rx * ry * ry
        })
    };
    (0..296)
        .map(|y| (0..210).map(|x| white(x, y)).collect())
        .collect()
}

fn png(rows: &[Vec<bool>]) -> Vec<u8> {
    let mut bytes = Vec::new();
    let mut encoder = png::Encoder::new(&mut bytes, 210, 296);
    encoder.set_color(png::ColorType::Grayscale);
    let pixels: Vec<u8> = rows
        .iter()
        .flatten()
        .map(|&white| u8::from(white) * 255)
        .collect();
    let mut writer = encoder.write_header().expect("a header");
    writer.write_image_data(&pixels).expect("pixels");
    drop(writer);
    bytes
}

/// A plan whose front 1 to 3 have a mask.
fn masked(more: &str) -> String {
    let mut plan = format!(
        "title = \"The Winter Bus\"\nlanguage = \"en-GB\"\nmanuscript = \"words.txt\"\n[paper]\n\
         panel-width = \"105 mm\"\npanel-height = \"148 mm\"\npanels-per-side = 24\nsides = \"front\"\n\
         [rules]\nundivided = \"line\"\ntext-fullness = \"100 %\"\nfirst-fullness = \"100 %\"\nfullest = \"100 %\"\n\
         [text]\n{more}"
    );
    for panel in 1..=3 {
        let _ = write!(
            plan,
            "[[panel]]\npanel = \"front {panel}\"\nmask = \"mask.png\"\n"
        );
    }
    plan
}

/// Lays a book out whose front 1 to 3 have the mask; looks at every line there, and gives how many there were.
fn check_white(dice: &mut Dice, more: &str, text: &str) -> usize {
    let rows = ellipses(dice);
    let folder = tempfile::tempdir().expect("a folder");
    std::fs::write(folder.path().join("mask.png"), png(&rows)).expect("a mask");
    let plan_source = Source::new("concertina.toml", masked(more));
    let words_source = Source::new("words.txt", text);
    let layout =
        Workbench::new(Assets::folder(folder.path())).lay_out_texts(&plan_source, &words_source);
    let layout = layout.expect("a layout");
    let plan = check::read(&plan_source).expect("a sound plan");
    let manuscript = Manuscript::read_as(&words_source, plan.set_as, |_| false).expect("sound");
    let strip = Strip::new(plan.paper);
    let lines: SetLines = set(
        &manuscript,
        &plan,
        &strip,
        &FontLibrary::new(Assets::folder(folder.path())),
    )
    .expect("set lines");
    let mut seen = 0;
    for panel in &layout.panels[..3] {
        let id = lines.areas.of(panel.panel, None).expect("an area");
        let slots = &lines.areas.shape(id).expect("a shape").slots;
        let slot_of = |baseline: Length| {
            slots
                .all()
                .iter()
                .position(|slot| slot.baseline == baseline)
        };
        for line in &panel.lines {
            // From the top of a d to the foot of a p, as Alegreya has them, to a hundredth of the size.
            let (top, foot) = (
                line.baseline - line.size * 68 / 100,
                line.baseline + line.size * 20 / 100,
            );
            // A line may touch the edge of a pixel.
            let first = |length: Length| (length.as_mm() * 2.0 + 0.01).floor() as usize;
            let behind = |length: Length| (length.as_mm() * 2.0 - 0.01).ceil() as usize;
            for row in &rows[first(top)..behind(foot)] {
                let pixels = &row[first(line.x)..behind(line.x + line.width)];
                let black = pixels.iter().any(|white| !white);
                assert!(!black, "{} of {} stands on black", line.text, panel.panel);
            }
            seen += 1;
        }
        // What the search took for used is how far down the slots the words reach.
        let last = panel
            .lines
            .last()
            .map(|line| slot_of(line.baseline).expect("a slot") + 1);
        let used = panel.fullness.map_or(0, |(used, _)| used.whole_lines());
        assert_eq!(last.unwrap_or(0), used, "{}", panel.panel);
    }
    seen
}

#[test]
fn words_stand_in_the_white() {
    let mut dice = Dice(11);
    let (poem, memoir) = (words(POEM), words(MEMOIR));
    let mut seen = 0;
    for align in ["left", "right", "centre"] {
        for _ in 0..3 {
            seen += check_white(&mut dice, &format!("align = \"{align}\"\n"), &poem);
        }
    }
    for more in [
        "align = \"justified\"\n",
        "align = \"left\"\n",
        "opening = { drop = 3 }\n",
        "align = \"right\"\n",
    ] {
        for _ in 0..2 {
            let more = format!("set-as = \"prose\"\nhyphenate = true\n{more}");
            seen += check_white(&mut dice, &more, &memoir);
        }
    }
    println!("{seen} lines in the white");
    assert!(seen > 250, "only {seen} lines");
}

#[test]
fn a_mask_that_is_not_there_is_told_where_the_plan_names_it() {
    let plan = Source::new(
        "concertina.toml",
        "title = \"The Winter Bus\"\nlanguage = \"en-GB\"\nmanuscript = \"words.txt\"\n[paper]\n\
         panel-width = \"105 mm\"\npanel-height = \"148 mm\"\npanels-per-side = 2\n[[picture]]\n\
         name = \"the tunnel\"\nleaves = { mask = \"art/tunnel.png\" }\n",
    );
    let folder = tempfile::tempdir().expect("a folder");
    let told = |folder: &std::path::Path| {
        let words = Source::new("words.txt", "The road went on.\n[picture: the tunnel]\n");
        let faults = Workbench::new(Assets::folder(folder))
            .lay_out_texts(&plan, &words)
            .expect_err("a fault");
        let [fault] = &faults[..] else {
            panic!("{faults:?}")
        };
        let place = fault.place.as_ref().expect("a place");
        (fault.word, place.line(), place.column())
    };
    assert_eq!(told(folder.path()), ("missing", 10, 19));
    std::fs::create_dir_all(folder.path().join("art/tunnel.png")).expect("a folder");
    assert_eq!(told(folder.path()), ("is-folder", 10, 19));
}
