//! Panels that are too narrow for their words, and type that is too large for its panels: every line keeps its place.

use std::sync::Arc;

use versefold::assets::Assets;
use versefold::book::Workbench;
use versefold::names::Source;

const VERSE: &str = "\
# The Extraordinarily-long Winterbusfahrplanauskunft

## Passengers

‘Ten to seven’ — and then seven of them; a Winterbusfahrplanauskunftsgesellschaft.
>> and on
>> ‘and on,’

[space: 20 mm]

Kneel … where the snow is packed,

* * *

      deep in it stands, and more words to turn over, more words.

[epigraph]
Somebody said
[attribution]
A passenger with a very long name indeed
";

const PROSE: &str = "\
# T

[set as prose]
‘Are they all right?’ said the Winterbusfahrplanauskunftsgesellschaft — “Yes,” said he — and went on — and on.

‘Another’ paragraph, with words, words, words.

[space: 15 mm]

A last one.
";

const SHORT: &str = "I\n\nA\n";

const HEBREW: &str = "\
# אוטובוס החורף

‘האוטובוס’ עולה אל ההר, Winterbusfahrplanauskunft.
>> ושוב,

והגשר צר: 1958.
";

/// Words in several voices with no space between.
const VOICES: &str = "\
[set as prose]
THROUGHOUTTHE12**strong**1lessness and *on*—and **on**“Yes,”½12 THROUGH½12**strong**1
";

/// Initials beside which there is only the space below their line, or that stand above a new panel.
const INITIAL: &str = "\
## Part

Snow

Snow on the road and the driver is singing a song of old and new
    Snow on the road and the driver is singing a song of old and new
";

const INITIAL_ALONE: &str = "\
Snow

[new panel]

Snow on the road
";

/// Paragraphs that run another way than their part.
const MIXED: &str = "\
[set as prose]
ß “Ja,” עולם

“Ja,” b

aa “Ja
";

/// The plan of a book; every other one has a title of its own.
fn plan(language: &str, width: u32, text: &str, titled: bool) -> Arc<Source> {
    let title = match titled {
        true => "[[panel]]\npanel = \"front 1\"\nrole = \"title\"\n",
        false => "",
    };
    let plan = format!(
        "title = \"The Extraordinarily-long Winterbusfahrplanauskunft\"\nlanguage = \"{language}\"\n\
         manuscript = \"winter-bus.txt\"\n[paper]\npanel-width = \"{width} mm\"\npanel-height = \"148 mm\"\n\
         panels-per-side = 60\n[text]\n{text}\n{title}"
    );
    Source::new("concertina.toml", plan)
}

/// Every text in every alignment, with and without what hangs and with large initials, on panels from 30 mm to 105 mm
/// and in type from 7 pt to 40 pt. What fits is proved when it is laid out; what does not is told as a fault of the book.
#[test]
fn every_line_keeps_its_place_where_there_is_hardly_any() {
    let texts = [
        ("en-GB", VERSE),
        ("en-GB", PROSE),
        ("en-GB", SHORT),
        ("he", HEBREW),
        ("en-GB", VOICES),
        ("en-GB", INITIAL),
        ("en-GB", INITIAL_ALONE),
        ("he", MIXED),
    ];
    let aligns = ["left", "right", "centre", "justified", "longest-line"];
    let openings = ["", "opening = { drop = 2 }", "opening = { drop = 3 }"];
    let (mut laid, mut number) = (0, 0);
    let mut broken = Vec::new();
    for (language, text) in texts {
        let poem = Source::new("winter-bus.txt", text);
        for (width, size) in [
            (30, 7),
            (30, 11),
            (30, 24),
            (60, 7),
            (60, 24),
            (60, 40),
            (105, 40),
        ] {
            for align in aligns {
                for opening in openings {
                    number += 1;
                    let hang = ["all", "quotes", "none"][number % 3];
                    let set = format!(
                        "size = \"{size} pt\"\nalign = \"{align}\"\nhang = \"{hang}\"\n{opening}\n\
                         margins = {{ head = \"8 mm\", foot = \"8 mm\", left = \"8 mm\", right = \"8 mm\" }}"
                    );
                    let plan = plan(language, width, &set, number % 2 == 0);
                    match Workbench::new(Assets::memory()).lay_out_texts(&plan, &poem) {
                        Ok(_) => laid += 1,
                        Err(faults) => broken.extend(
                            (faults.iter().filter(|fault| fault.word == "lost"))
                                .map(|fault| format!("{width} mm, {set}: {}", fault.what)),
                        ),
                    }
                }
            }
        }
    }
    assert!(broken.is_empty(), "{}", broken.join("\n\n"));
    assert!(
        laid > number / 2,
        "only {laid} of {number} books could be laid out"
    );
}
