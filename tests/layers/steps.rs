//! Lines that begin with `>>` begin where the line above ended.

use versefold::assets::Assets;
use versefold::book::Workbench;
use versefold::layout::LaidLine;
use versefold::names::Source;
use versefold::text::LineKind;

use crate::support::small_plan;

const POEM: &str = "\
The bus climbs.
>> It stops.

[epigraph]
Snow
>> is mute,
[new panel]
>> and thaw
>> talks.

The horn
>> again.
";

/// The last line above an epigraph's steps is the epigraph's own, and so it is for the first verse behind an epigraph.
#[test]
fn a_stepped_line_begins_where_the_line_above_ended_in_epigraphs_too() {
    let plan = Source::new("concertina.toml", small_plan(4, ""));
    let poem = Source::new("winter-bus.txt", POEM);
    let layout = Workbench::new(Assets::memory()).lay_out_texts(&plan, &poem);
    let layout = layout.expect("it fits");
    let lines = layout.panels.iter().flat_map(|panel| &panel.lines);
    let lines: Vec<&LaidLine> = lines.collect();
    let steps = |words: &str| {
        ["It stops", "is mute", "and thaw", "talks", "again"]
            .iter()
            .any(|begin| words.starts_with(begin))
    };
    let mut found = Vec::new();
    for pair in lines.windows(2).filter(|pair| steps(&pair[1].text)) {
        let (above, line) = (pair[0], pair[1]);
        assert_eq!(line.x, above.x + above.width, "“{}”", line.text);
        found.push(line.kind.clone());
    }
    use LineKind::{Epigraph, Verse};
    assert_eq!(found, [Verse, Epigraph, Epigraph, Epigraph, Verse]);
}
