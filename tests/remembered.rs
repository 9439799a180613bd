//! What is set again after a change: only rows that are others now, and those whose place hangs on them; and each as it
//! would be set from nothing.

use versefold::assets::Assets;
use versefold::book::plan_file::check;
use versefold::names::{HalfLines, Source};
use versefold::paper::Strip;
use versefold::setting::{Piece, Remembered, SetLines, set, set_again};
use versefold::text::Manuscript;
use versefold::typeface::FontLibrary;

const POEM: &str = "\
Chains go on before you need them. There,
that’s the whole trade.
  You lay them out
  on the road like a ladder,

Two hundred bends and nothing else all day.
>> Three meanings, and the horn
had all of them; a line that is a good deal longer than the measure, so that it turns over twice,
I drove. I stopped.
";

/// A poem, set, with how many rows that took.
struct Book {
    plan: String,
    remembered: Remembered,
}

impl Book {
    fn new(text: &str) -> Book {
        let plan = crate::support::small_plan(12, &format!("[text]\n{text}"));
        Book {
            plan,
            remembered: Remembered::default(),
        }
    }

    /// Sets a poem again, and holds it against what is set from nothing.
    fn set(&mut self, poem: &str) -> usize {
        let plan = check::read(&Source::new("concertina.toml", self.plan.as_str()));
        let plan = plan.expect("the plan is sound");
        let poem = Source::new("winter-bus.txt", poem);
        let poem = Manuscript::read_as(&poem, plan.set_as, |_| false).expect("the poem is sound");
        let (strip, fonts) = (Strip::new(plan.paper), FontLibrary::new(Assets::memory()));
        let again = set_again(&poem, &plan, &strip, &fonts, &mut self.remembered);
        let again = again.expect("it is set");
        let anew = set(&poem, &plan, &strip, &fonts).expect("it is set");
        assert_eq!(pieces(&again), pieces(&anew));
        self.remembered.set_anew()
    }
}

/// The pieces of every row at every setting, with their heights.
fn pieces(set: &SetLines) -> Vec<(HalfLines, Vec<Piece>)> {
    let rows = set.parts.iter().flat_map(|part| part.rows.iter());
    let stands = rows.flat_map(|row| &row.at).map(|at| at.stand(0));
    let pieces = stands.map(|stand| (stand.height, stand.pieces.to_vec()));
    pieces.collect()
}

#[test]
fn a_changed_line_sets_one_row_again() {
    for align in ["left", "right", "centre", "justified"] {
        let mut book = Book::new(&format!("align = \"{align}\"\n"));
        assert_eq!(book.set(POEM), 8, "{align}");
        assert_eq!(book.set(POEM), 0, "{align}");
        assert_eq!(
            book.set(&POEM.replace("I stopped.", "I slept.")),
            1,
            "{align}"
        );
        // A line more is one row, and here the last line is another again; a line less is none.
        let more = POEM.replace("I drove.", "Snow lay on the step.\nI drove.");
        assert_eq!(book.set(&more), 2, "{align}");
        let less = POEM.replace("that’s the whole trade.\n", "");
        assert_eq!(book.set(&less), 0, "{align}");
    }
}

/// Lines of which none turns over.
const SHORT: &str = "\
Snow lay on the step,
and the step was gone.
I drove. I stopped.
";

/// The longest line decides where all others begin, if they are aligned by it, and no other line does.
#[test]
fn only_the_longest_line_moves_others() {
    let mut book = Book::new("align = \"longest-line\"\n");
    assert_eq!(book.set(SHORT), 3);
    assert_eq!(book.set(&SHORT.replace("I stopped.", "I slept.")), 1);
    assert_eq!(book.set(&SHORT.replace("was gone.", "was all gone.")), 3);
}

/// Ornaments and attributions stand by how wide lines usually run: they are set again when that changes, and no others.
#[test]
fn how_wide_lines_usually_run_concerns_those_who_ask() {
    let poem = format!("{SHORT}\n* * *\n\nThe bus is late.\n[attribution]\nThe driver\n");
    let mut book = Book::new("");
    assert_eq!(book.set(&poem), 6);
    assert_eq!(book.set(&poem.replace("is late", "was late")), 1);
    let wider = poem.replace("was gone.", "was all gone.");
    assert_eq!(book.set(&wider), 4, "and the line that was late before");
}

/// The deepest indent is asked by lines that turn over.
#[test]
fn a_deeper_indent_concerns_lines_that_turn_over() {
    let long = "Two hundred bends, and nothing else all day long but rain upon the roof.\n";
    let poem = format!("{SHORT}  You lay them out\n{long}");
    let mut book = Book::new("");
    assert_eq!(book.set(&poem), 5);
    let deeper = poem.replace("  You lay", "          You lay");
    assert_eq!(book.set(&deeper), 2);
}

/// Another plan, of which nothing is known yet.
#[test]
fn another_typeface_sets_all_rows_again() {
    let mut book = Book::new("");
    book.set(POEM);
    // Where the plan says it is of no matter.
    book.plan = format!("# A remark.\n{}", book.plan);
    assert_eq!(book.set(POEM), 0);
    book.plan = crate::support::small_plan(12, "[text]\ntypeface = \"Alegreya Sans\"\n");
    assert_eq!(book.set(POEM), 8);
}
