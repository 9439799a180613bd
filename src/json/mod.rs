//! What is written for other programs: every key is declared once (`records!`), and what is written and its JSON
//! Schema both follow from that.
//!
//! A thing has one name wherever it stands, and a record has all of its keys: what there is none of is null.
//! Every record that a file or a result is made of begins with its [`Format`].

mod figure;
mod record;
mod schema;

pub use figure::Figure;
pub use record::JsonRecord;
pub(crate) use record::{described, records};
pub(crate) use schema::of_record as record_schema;
pub use schema::{Defs, Value, schema};

use serde::{Serialize, Serializer};
use serde_json::{Value as Json, json};

/// The number of the form that files and results have. It rises when a key is taken away or comes to hold something
/// else; a new key alone does not raise it.
pub const FORMAT: u64 = 1;

/// [`FORMAT`], as a record holds it.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Format;

impl Serialize for Format {
    fn serialize<S: Serializer>(&self, to: S) -> Result<S::Ok, S::Error> {
        to.serialize_u64(FORMAT)
    }
}

impl Value for Format {
    fn schema(_: &mut Defs) -> Json {
        json!({ "const": FORMAT })
    }
}

/// A record as indented text with a line end.
///
/// # Panics
/// Never: records hold nothing that cannot be written.
pub fn text(record: &impl Serialize) -> String {
    let text = serde_json::to_string_pretty(record);
    text.expect("records hold nothing that cannot be written") + "\n"
}
