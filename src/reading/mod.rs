//! TOML files of an author's, read into tables: every key and value with its place, and all that is wrong at once.
//!
//! The plan and `breaks.toml` declare their tables with `tables!`; the reader, the messages about unknown keys and the
//! JSON Schema follow from the declaration.

mod document;
mod nouns;
mod reader;
mod table;
mod values;

pub use document::{TomlDocument, read};
pub use nouns::{PANEL_PATTERN, no_panel};
pub use reader::{At, Node, Reader, Value, said};
pub(crate) use table::tables;
pub use table::{
    Entries, InSample, Key, Table, braced, described, read_entries, read_table, table_schema,
    tell_unknown, usual_table,
};
pub use values::{
    Choice, Name, Passage, Switch, Whole, Words, read_whole, read_word, stands_in_a_line,
};
