//! The JSON Schema that lies beside the demo is the one that the program reads plans by. `UPDATE=1` writes it
//! anew.

use std::path::Path;

#[test]
fn the_schema_in_the_examples_is_fresh() {
    let schema = versefold::book::plan_file::schema::schema();
    let text = serde_json::to_string_pretty(&schema).expect("JSON") + "\n";
    let path = Path::new(env!("CARGO_MANIFEST_DIR")).join("examples/concertina.schema.json");
    let stale = crate::support::golden::differs(&path, &text);
    assert_eq!(stale, None, "{}", stale.clone().unwrap_or_default());
}
