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
    /// What holds where it is left out, where that is simple to say.
    pub default: Option<fn() -> Json>,
    /// Its values.
    pub schema: fn() -> Json,
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
    const KEYS: &'static [Key];

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

impl Entries<'_> {
    /// Reads the value of a key, where it is there and sound; where it is there and faulty, the key joins
    /// `faulty`.
    pub fn read<T: Value>(
        self,
        field: &'static str,
        reader: &mut Reader,
        faulty: &mut Vec<&'static str>,
    ) -> Option<At<T>> {
        let name = spelt(field);
        let (key, value) = self
            .table
            .iter()
            .find(|(key, _)| *key.get_ref() == name.as_str())?;
        let read = reader.read(Node::new(key.get_ref(), value));
        if read.is_none() {
            faulty.push(field);
        }
        read
    }
}

/// Reads a table of kind `T`, gathering its unknown and its missing keys.
pub fn read_table<T: Table>(node: Node<'_>, reader: &mut Reader) -> Option<T> {
    if let Some(table) = node.value().as_table() {
        return Some(read_entries(table, node.span(), reader));
    }
    let headed = node.value().as_array().is_some_and(|list| {
        !list.is_empty() && list.iter().all(|entry| entry.get_ref().is_table())
    });
    if headed && T::NAME.starts_with('[') {
        let key = node.key;
        let what = format!("[[{key}]] needs single brackets: write [{key}]");
        return reader.refuse(node, Fault::new("wrong-type", what));
    }
    let names: Vec<_> = T::KEYS.iter().map(Key::name).collect();
    let kind = format!("a table in curly brackets, with {}", names.join(", "));
    reader.wrong_type(node, &kind)
}

/// Reads the entries of a table that stands at `span`.
pub fn read_entries<T: Table>(
    table: &DeTable<'_>,
    span: std::ops::Range<usize>,
    reader: &mut Reader,
) -> T {
    let mut meant = Vec::new();
    for (key, _) in table {
        let name = key.get_ref().as_ref();
        if !T::KEYS.iter().any(|known| known.name() == name) {
            let place = reader.place(key.span());
            let fault = unknown::<T>(name);
            meant.extend(fault.meant.clone());
            reader.report(fault.at(place).read(name));
        }
    }
    for key in T::KEYS.iter().filter(|key| key.required) {
        let name = key.name();
        // A key that is there and only misspelt is told once.
        let misspelt = meant.contains(&name);
        if !misspelt && !table.keys().any(|there| *there.get_ref() == name.as_str()) {
            let what = format!("{} lacks `{name}`", T::NAME);
            let place = reader.place(span.clone());
            reader.report(Fault::new("missing-key", what).at(place).help(key.about));
        }
    }
    T::from_entries(Entries { table }, reader)
}

/// What is wrong with a key that the table does not have.
fn unknown<T: Table>(name: &str) -> Fault {
    let known: Vec<_> = T::KEYS.iter().map(Key::name).collect();
    let what = format!("`{name}` is no key of {}", T::NAME);
    let fault = Fault::new("unknown-key", what);
    let meant = nearest(name, known.iter().map(String::as_str));
    match T::home_of(name) {
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
    for key in T::KEYS {
        let mut schema = (key.schema)();
        if let Some(object) = schema.as_object_mut() {
            object.insert("description".into(), json!(key.about));
            if let Some(default) = key.default {
                object.insert("default".into(), default());
            }
        }
        properties.insert(key.name(), schema);
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

/// Declares tables. A key is one line under its description:
/// `optional size: SizeLength = "11 pt";` (the default is left out where it depends on other keys).
///
/// Tables of one file begin with `homes path::of::a_function;`, which finds the table that has a key of some name.
macro_rules! tables {
    (homes $home_of:path; $(
        $(#[doc = $about:literal])+
        $name:ident $called:literal {
            $(
                $(#[doc = $doc:literal])+
                $need:ident $field:ident: $kind:ty $(= $default:tt)?;
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
            const ABOUT: &'static str = tables!(@text $($about)+);
            const KEYS: &'static [$crate::reading::Key] = &[ $(
                $crate::reading::Key {
                    field: stringify!($field),
                    about: tables!(@text $($doc)+),
                    required: tables!(@$need),
                    default: tables!(@default $($default)?),
                    schema: <$kind as $crate::reading::Value>::schema,
                },
            )* ];

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
        }
    )+ };
    (@text $($line:literal)+) => { concat!($($line),+).trim_ascii_start() };
    (@required) => { true };
    (@optional) => { false };
    (@default) => { None };
    (@default $default:tt) => { Some(|| serde_json::json!($default)) };
}
pub(crate) use tables;
