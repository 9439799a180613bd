//! Reading manuscripts: the tiling, escaping, emphasis, callouts, and every message word for word.

mod callouts;
mod captions;
mod emphasis;
mod escape;
mod guess;
mod messages;
mod readings;
mod texts;
mod tiling;

use std::sync::Arc;

use versefold::names::{Faults, Source};
use versefold::text::{LineKind, Manuscript, TextLine};

fn read(text: &str) -> Result<Manuscript, Faults> {
    Manuscript::read(&Source::new("winter-bus.txt", text))
}

/// All lines of all parts, in order.
fn lines(manuscript: &Manuscript) -> impl Iterator<Item = &TextLine> {
    manuscript.parts().iter().flat_map(|part| &part.lines)
}

fn source(manuscript: &Manuscript) -> &Arc<Source> {
    manuscript.source()
}

fn is_verse(line: &TextLine) -> bool {
    line.kind == LineKind::Verse
}
