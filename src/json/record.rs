//! Records: each is declared once, and its struct, what is written and its schema follow from that.

use serde_json::Value as Json;

use super::{Defs, Value};

/// A JSON object with fixed keys.
pub trait JsonRecord: Value {
    /// Its name; its schema is called so without the `Record` at the end.
    const NAME: &'static str;
    /// What it holds.
    const ABOUT: &'static str;

    /// Its keys in order, each with its schema; the records within are added to `defs`.
    fn keys(defs: &mut Defs) -> Vec<(&'static str, Json)>;
}

/// The schema of a key: that of its kind, described.
pub(crate) fn described<T: Value>(defs: &mut Defs, about: &'static str) -> Json {
    let mut schema = T::schema(defs);
    if let Some(object) = schema.as_object_mut() {
        object.insert("description".into(), about.into());
    }
    schema
}

/// Declares records. A key is one line under its description, `size_pt: Figure,`; last may stand other records whose
/// keys it has too, `..written: Written,`. A record may borrow what it tells of: `struct LayoutRecord<'l>`.
macro_rules! records {
    ($(
        $(#[doc = $about:literal])+
        $visible:vis struct $name:ident $(<$life:lifetime>)? {
            $( $(#[doc = $doc:literal])+ $key:ident: $kind:ty, )*
            $( ..$whole:ident: $whole_kind:ty, )*
        }
    )+) => { $(
        $(#[doc = $about])+
        #[derive(Clone, Debug, serde::Serialize)]
        $visible struct $name $(<$life>)? {
            $( $(#[doc = $doc])+ pub $key: $kind, )*
            $(
                /// Its keys stand beside the others.
                #[serde(flatten)]
                pub $whole: $whole_kind,
            )*
        }

        impl $(<$life>)? $crate::json::JsonRecord for $name $(<$life>)? {
            const NAME: &'static str = stringify!($name);
            const ABOUT: &'static str = concat!($($about),+).trim_ascii_start();

            fn keys(
                defs: &mut $crate::json::Defs,
            ) -> Vec<(&'static str, serde_json::Value)> {
                let own = vec![ $( (
                    stringify!($key),
                    $crate::json::described::<$kind>(defs, concat!($($doc),+).trim_ascii_start()),
                ), )* ];
                let whole: Vec<Vec<(&'static str, serde_json::Value)>> =
                    vec![ $( <$whole_kind as $crate::json::JsonRecord>::keys(defs), )* ];
                own.into_iter().chain(whole.into_iter().flatten()).collect()
            }
        }

        impl $(<$life>)? $crate::json::Value for $name $(<$life>)? {
            fn schema(defs: &mut $crate::json::Defs) -> serde_json::Value {
                $crate::json::record_schema::<Self>(defs)
            }
        }
    )+ };
}
pub(crate) use records;
