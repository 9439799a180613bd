//! Versefold sets a poem or prose memoir onto the panels of a concertina book (a strip of paper folded zigzag,
//! often printed on both sides) and writes panel-by-panel PDF text layers to lie over the scanned art.
//!
//! A book is a folder with a plan, `concertina.toml`, and a manuscript. Work flows one way, from station to
//! station; each has one public product and knows nothing of the stations after it:
//!
//! ```text
//! text ───────┐
//! plan ───────┼─► setting ─► division ─► layout ─► outputs (layers, sheets, dummy, json)
//! typeface ───┤                 ▲           ▲         │
//! paper, art ─┴─────────────────┴───────────┘         └─► read back
//! ```
//!
//! # The rooms
//!
//! Each may use those above it in this list, and none below it (test `rooms`):
//!
//! - [`names`]: the nouns that everything speaks of: one whole-number [`Length`](names::Length), depths in
//!   [`HalfLines`](names::HalfLines), panel space and PDF space, panels, roles, inks; what can be wrong, and where:
//!   [`Fault`](names::Fault).
//! - [`json`]: what is written for other programs: every key is declared once.
//! - [`assets`]: the files of a book, of a folder or of memory, asked for by name: [`Assets`](assets::Assets).
//! - [`reading`]: TOML files of an author's, read into tables with the place of every key and value.
//! - [`stack`]: how lines stand under each other, the only place that adds space: [`Stack`](stack::Stack).
//! - [`rules`]: the author's rules, one file each: what may be asked, what a panel then costs, and the words for it.
//! - [`plan`]: what the author asks of the paper, the type and the balance of words and pictures, as plain checked data:
//!   [`Plan`](plan::Plan).
//! - [`text`]: the client's words and the typesetter's callouts, tiled so that no byte is lost:
//!   [`Manuscript`](text::Manuscript); which words of it are those of an earlier text.
//! - [`art`]: what an author's picture file is: [`Art`](art::Art), a scan ready for a PDF; [`Mask`](art::Mask),
//!   where it is white.
//! - [`paper`]: folds, spreads, outside faces, what lies behind what: [`Strip`](paper::Strip); how it is cut and joined:
//!   [`Sheets`](paper::Sheets).
//! - [`typeface`]: font files, shaping, directions, outlines, where words may be divided:
//!   [`Typeface`](typeface::Typeface).
//! - [`setting`]: every verse line and every paragraph set to every measure that the plan uses, once, before the
//!   search; a paragraph from every place where a panel may begin: [`SetLines`](setting::SetLines).
//! - [`division`]: the exact search for the division of least cost under the rules:
//!   [`Division`](division::Division).
//! - [`layout`]: every glyph in its place: [`Layout`](layout::Layout). Nothing after it asks what the author
//!   wrote. [`layout::breaks`]: what the author chose to stand on each panel, and what is passed for press.
//! - `pdf`: the writer that outputs share. [`readback`]: the words of a PDF, by a parser that the writer does not use,
//!   and the proof that they are the right ones.
//! - [`outputs`]: bytes made from a layout.
//! - [`book`]: `concertina.toml` read into a plan; the [`Workbench`](book::Workbench), which runs the stations and
//!   remembers their products; what has changed between two layouts.
//! - [`cli`]: the command line, and writing files whole or not at all.
//!
//! The feature `cli`, on unless it is left out, has [`cli`]. Without it nothing here knows a disk:
//! another program gives a [`Workbench`](book::Workbench) the files of a book as [`Assets`](assets::Assets), and
//! draws the [`Layout`](layout::Layout) that it gets (`examples/from_memory.rs`).
//!
//! # The promises
//!
//! Each is checked on every run, before a file is put in its place:
//!
//! - **F1** Part by part, on its panels in their order, the lines' sources are exactly the word bytes of the manuscript,
//!   each once, in the order of the text, in whole grapheme clusters; a caption stands with its picture. **F2** Words
//!   apart stay apart; verse keeps its inner spaces. **F3** Every character is shown once, in order, by a glyph that
//!   its face has for it, none of them the sign for a missing one. **F4** What the program adds is marked as added.
//!   **F6** Every line lies on its panel, on the grid, within its text area or slot, below the line before it; no two
//!   lines overlap, and words go as far down as the search has counted. What hangs, what stands off the baseline and
//!   what panels passed for press keep is excepted, each by a stated amount.
//!   ([`layout::verify`]; tests `layers`, which also spoils sound layouts in every way there is a name for, and `books`)
//! - **F5** Each PDF, read in structure order, gives its words code point for code point. ([`readback::proof::read_back`];
//!   tests `layers`, with spoilt files too, and, with other readers, `outside`)
//! - No division that keeps the hard rules costs less than the one that is given, unless the answer says that
//!   this is not proved. (test `division`: equal to brute force)
//! - The sheets cover the strip exactly once, with as few joins over words and then as few sheets as can be; front and
//!   back lie in register. (test `strip`: equal to brute force; `outside`: drawn by another reader, and dummies cut out,
//!   joined and folded by what is printed on them)
//! - The same book gives the same bytes. (tests `layers` and `strip`)
//! - Layers of panels that are passed for press keep their bytes while their own words are untouched; chosen breaks
//!   survive every correction that does not touch them. (test `corrections`)
//! - Files are written whole or not at all, and nothing of the author's is overwritten. (tests of [`cli::files`],
//!   test `bad_input`)
//!
//! # The limits
//!
//! - Lines run across the panel, from the left or from the right; none runs down it.
//! - Words are divided with hyphens in prose alone, and only in languages whose patterns may be passed on (see
//!   `LICENSE-PATTERNS.md`).
//! - Pictures are drawn on print sheets and dummies, where the plan names their scans; elsewhere they are placed and
//!   named. One that stands on several panels stands on one side.
//! - Each sheet of the press carries one stretch of the strip; several are not laid beside each other on one.
//! - On a line of a mask words stand in one stretch, the widest; what is white beyond a hole stays empty.
//! - A side has at most 400 panels, a panel at most one picture.
//! - Where pictures come in any order, at most 32 of a part are pinned nowhere; a part with heavy pictures has at most 64
//!   panels behind which others of its own lie.
//!
//! # An example
//!
//! ```
//! use versefold::{assets::Assets, book::Workbench, names::Source};
//!
//! let plan = Source::new("concertina.toml", r#"
//!     title = "The Winter Bus"
//!     language = "en-GB"
//!     manuscript = "winter-bus.txt"
//!     [paper]
//!     panel-width = "105 mm"
//!     panel-height = "148 mm"
//!     panels-per-side = 4
//! "#);
//! let poem = Source::new("winter-bus.txt", "Chains go on before you need them. There,\nthat’s the whole trade.\n");
//! let layout = Workbench::new(Assets::memory()).lay_out_texts(&plan, &poem).unwrap();
//! assert_eq!(layout.panels[0].lines[1].text, "that’s the whole trade.");
//! ```

pub mod art;
pub mod assets;
pub mod book;
#[cfg(feature = "cli")]
pub mod cli;
pub mod division;
pub mod json;
pub mod layout;
pub mod names;
pub mod outputs;
pub mod paper;
mod pdf;
pub mod plan;
pub mod readback;
pub mod reading;
pub mod rules;
pub mod setting;
pub mod stack;
pub mod text;
pub mod typeface;
