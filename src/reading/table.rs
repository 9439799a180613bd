//! Tables of the plan: each is declared once, and its struct, its reader and its schema follow from that.

use serde_json::{Map, Value as Json, json};
use toml::de::DeTable;

use super::reader::{At, Node, Reader, Value};
use crate::names::{Fault, nearest};

/// What the plan allows under one key.
pub struct Key {
    /// The key in Rust's spelling; see [`Key::name`].
    pub field: &'static str,
    /// What it is for.
    pub about: &'static str,
    /// Whether it must be there.
    pub required: bool,
    /// What holds where it is left out, as an author would write it, where that does not depend on other keys.
    pub default: fn() -> Option<String>,
    /// What a new plan shows of it.
    pub sample: fn() -> Option<InSample>,
    /// Its values.
    pub schema: fn() -> Json,
}

/// What a new plan shows of a key.
pub struct InSample {
    /// A value as an author would write it: what holds unless said, or of what is off unless said an example.
    pub value: String,
    /// What is said beside it: mostly what else may be written.
    pub note: &'static str,
    /// Whether it is off unless said.
    pub off: bool,
}

impl Key {
    /// The key as an author writes it.
    pub fn name(&self) -> String {
        spelt(self.field)
    }
}

/// A field as an author writes its key: with hyphens, and free to be a word that Rust keeps for itself.
fn spelt(field: &str) -> String {
    field.trim_start_matches("r#").replace('_', "-")
}

/// A table of the plan.
pub trait Table: Sized {
    /// How messages call it: `the plan`, `[text]`, `` `margins` ``.
    const NAME: &'static str;
    /// What it is for.
    const ABOUT: &'static str;
    /// Every key it may have.
    fn keys() -> Vec<Key>;

    /// The table of the same file that has a key of that name, as messages call it; nothing where none is known.
    fn home_of(name: &str) -> Option<&'static str>;

    /// Reads the keys that are there.
    fn from_entries(entries: Entries<'_>, reader: &mut Reader) -> Self;
}

/// The entries of a table, ready to be read by key.
#[derive(Clone, Copy)]
pub struct Entries<'a> {
    table: &'a DeTable<'a>,
}

impl<'a> Entries<'a> {
    /// The entries of a table.
    pub fn new(table: &'a DeTable<'a>) -> Entries<'a> {
        Entries { table }
    }

    /// The value of a key, where it is there.
    pub fn node(self, name: &str) -> Option<Node<'a>> {
        let mut entries = self.table.iter();
        let (key, value) = entries.find(|(key, _)| *key.get_ref() == name)?;
        Some(Node::new(key.get_ref(), value))
    }

    /// Reads the value of a key, where it is there and sound; where it is there and faulty, the key joins
    /// `faulty`.
    pub fn read<T: Value>(
        self,
        field: &'static str,
        reader: &mut Reader,
        faulty: &mut Vec<&'static str>,
    ) -> Option<At<T>> {
        let read = reader.read(self.node(&spelt(field))?);
        if read.is_none() {
            faulty.push(field);
        }
        read
    }
}

/// Reads a table of kind `T`, gathering its unknown and its missing keys.
pub fn read_table<T: Table>(node: Node<'_>, reader: &mut Reader) -> Option<T> {
    let headed = node.value().as_array().is_some_and(|list| {
        !list.is_empty() && list.iter().all(|entry| entry.get_ref().is_table())
    });
    if headed && T::NAME.starts_with('[') {
        let key = node.key;
        let what = format!("[[{key}]] needs single brackets: write [{key}]");
        return reader.refuse(node, Fault::new("wrong-type", what));
    }
    let table = braced(node, &names(&T::keys()), reader)?;
    Some(read_entries(table, node.span(), reader))
}

/// The table in curly brackets that a value is, with these keys.
pub fn braced<'a>(node: Node<'a>, keys: &[String], reader: &mut Reader) -> Option<&'a DeTable<'a>> {
    let table = node.value().as_table();
    let kind = || format!("a table in curly brackets, with {}", keys.join(", "));
    table.or_else(|| reader.wrong_type(node, &kind()))
}

fn names(keys: &[Key]) -> Vec<String> {
    keys.iter().map(Key::name).collect()
}

/// Reads the entries of a table that stands at `span`.
pub fn read_entries<T: Table>(
    table: &DeTable<'_>,
    span: std::ops::Range<usize>,
    reader: &mut Reader,
) -> T {
    let keys = T::keys();
    let meant = tell_unknown(table, T::NAME, &names(&keys), T::home_of, reader);
    for key in keys.iter().filter(|key| key.required) {
        let name = key.name();
        // A key that is there and only misspelt is told once.
        let misspelt = meant.contains(&name);
        if !misspelt && !table.keys().any(|there| *there.get_ref() == name.as_str()) {
            let what = format!("{} lacks `{name}`", T::NAME);
            let place = reader.place(span.clone());
            reader.report(Fault::new("missing-key", what).at(place).help(key.about));
        }
    }
    T::from_entries(Entries::new(table), reader)
}

/// Tells the keys that a table does not have; which were probably meant.
pub fn tell_unknown(
    table: &DeTable<'_>,
    called: &str,
    keys: &[String],
    home_of: fn(&str) -> Option<&'static str>,
    reader: &mut Reader,
) -> Vec<String> {
    let mut meant = Vec::new();
    for (key, _) in table {
        let name = key.get_ref().as_ref();
        if !keys.iter().any(|known| known == name) {
            let place = reader.place(key.span());
            let fault = unknown(name, called, keys, home_of);
            meant.extend(fault.meant.clone());
            reader.report(fault.at(place).read(name));
        }
    }
    meant
}

/// What is wrong with a key that the table does not have.
fn unknown(
    name: &str,
    called: &str,
    known: &[String],
    home_of: fn(&str) -> Option<&'static str>,
) -> Fault {
    let what = format!("`{name}` is no key of {called}");
    let fault = Fault::new("unknown-key", what);
    let meant = nearest(name, known.iter().map(String::as_str));
    match home_of(name) {
        // What is allowed here is no help to one who only has the wrong table.
        Some(home) if meant.is_none() => fault.help(format!("`{name}` belongs to {home}")),
        _ => fault
            .allowed(known.join(", "))
            .meant(meant.map(str::to_string)),
    }
}

/// The schema of a table.
pub fn table_schema<T: Table>() -> Json {
    let mut properties = Map::new();
    let mut required = Vec::new();
    for key in T::keys() {
        let default = (key.default)();
        properties.insert(key.name(), described((key.schema)(), key.about, default));
        if key.required {
            required.push(json!(key.name()));
        }
    }
    let mut schema = Map::new();
    schema.insert("type".into(), json!("object"));
    schema.insert("description".into(), json!(T::ABOUT));
    schema.insert("properties".into(), Json::Object(properties));
    if !required.is_empty() {
        schema.insert("required".into(), Json::Array(required));
    }
    schema.insert("additionalProperties".into(), json!(false));
    Json::Object(schema)
}

/// A schema with what the value is for, and its default. Of a table the keys have their defaults each.
pub fn described(mut schema: Json, about: &str, default: Option<String>) -> Json {
    if let Some(object) = schema.as_object_mut() {
        object.insert("description".into(), json!(about));
        // Texts, numbers, switches and empty lists are written alike in TOML and in JSON.
        if let Some(default) = default.and_then(|text| serde_json::from_str(&text).ok()) {
            object.insert("default".into(), default);
        }
    }
    schema
}

/// A table as its keys are unless said; nothing where that depends on others.
pub fn usual_table<T: Table>() -> Option<String> {
    let entry = |key: Key| Some(format!("{} = {}", key.name(), (key.default)()?));
    let entries: Option<Vec<String>> = T::keys().into_iter().map(entry).collect();
    entries.map(|entries| format!("{{ {} }}", entries.join(", ")))
}

/// Declares tables. A key is one line under its description: `optional size: TypeSize = pt(11.0);`. What stands there
/// is all that is said of its default: [`Table::keys`] has it for the schema and for new plans, and a function of the
/// key's name gives what is written, or else the default, to whoever checks the plan. It is left out where it depends
/// on other keys; then `shown` may say what a new plan shows. `note` is what is said there beside it, mostly what else
/// may be written. A key that is `off` instead of `optional` changes something only where it is written.
///
/// Tables of one file begin with `homes path::of::a_function;`, which finds the table that has a key of some name.
macro_rules! tables {
    (homes $home_of:path; $(
        $(#[doc = $about:literal])+
        $name:ident $called:literal {
            $(
                $(#[doc = $doc:literal])+
                $need:ident $field:ident: $kind:ty $(= $default:expr)?
                    $(, shown $shown:literal)? $(, note $note:literal)?;
            )*
        }
    )+) => { $(
        $(#[doc = $about])+
        #[derive(Clone, Debug, Default, PartialEq)]
        pub struct $name {
            $( $(#[doc = $doc])+ pub $field: Option<$crate::reading::At<$kind>>, )*
            /// The fields that are there and could not be read; their faults are told, and nothing that
            /// depends on them can be.
            pub faulty: Vec<&'static str>,
        }

        impl $crate::reading::Table for $name {
            const NAME: &'static str = $called;
            const ABOUT: &'static str = $crate::reading::tables!(@text $($about)+);
            fn keys() -> Vec<$crate::reading::Key> {
                vec![ $(
                    $crate::reading::Key {
                        field: stringify!($field),
                        about: $crate::reading::tables!(@text $($doc)+),
                        required: $crate::reading::tables!(@required $need),
                        default: $crate::reading::tables!(@default $need $kind $(= $default)?),
                        sample: || {
                            let value = $crate::reading::tables!(@shown $kind $(= $default)? $(, $shown)?)?;
                            Some($crate::reading::InSample {
                                value,
                                note: concat!("" $(, $note)?),
                                off: $crate::reading::tables!(@off $need),
                            })
                        },
                        schema: <$kind as $crate::reading::Value>::schema,
                    },
                )* ]
            }

            fn home_of(name: &str) -> Option<&'static str> {
                $home_of(name)
            }

            fn from_entries(
                entries: $crate::reading::Entries<'_>,
                reader: &mut $crate::reading::Reader,
            ) -> Self {
                let mut faulty = Vec::new();
                $( let $field = entries.read(stringify!($field), reader, &mut faulty); )*
                $name { $($field,)* faulty }
            }
        }

        impl $name { $( $crate::reading::tables!(@given $field $kind $(= $default)?); )* }

        impl $crate::reading::Value for $name {
            // Only tables under a header are called by it.
            const HEADED: bool = $called.as_bytes()[0] == b'[';

            fn read(
                node: $crate::reading::Node<'_>,
                reader: &mut $crate::reading::Reader,
            ) -> Option<Self> {
                $crate::reading::read_table(node, reader)
            }

            fn schema() -> serde_json::Value {
                $crate::reading::table_schema::<Self>()
            }

            fn written(&self) -> Option<String> {
                $crate::reading::usual_table::<Self>()
            }
        }
    )+ };
    (@text $($line:literal)+) => { concat!($($line),+).trim_ascii_start() };
    (@required required) => { true };
    (@required $need:ident) => { false };
    (@off off) => { true };
    (@off $need:ident) => { false };
    (@default optional $kind:ty = $default:expr) => { || {
        let default: $kind = $default;
        $crate::reading::Value::written(&default)
    } };
    (@default $need:ident $kind:ty $(= $default:expr)?) => { || None };
    (@shown $kind:ty $(= $default:expr)?, $shown:literal) => { Some($shown.to_string()) };
    (@shown $kind:ty $(= $default:expr)?) => {
        ($crate::reading::tables!(@default optional $kind $(= $default)?))()
    };
    (@given $field:ident $kind:ty) => {};
    (@given $field:ident $kind:ty = $default:expr) => {
        /// What is written under the key of that name; where nothing is, what holds unless said.
        pub fn $field(&self) -> $kind {
            match &self.$field {
                Some(at) => at.value.clone(),
                None => $default,
            }
        }
    };
}
pub(crate) use tables;
