//! The JSON that `check` prints, as a JSON Schema: read off the types that are printed, whose comments describe it.

use schemars::Schema;
use schemars::generate::SchemaSettings;
use schemars::transform::{RecursiveTransform, RestrictFormats};
use serde_json::{Value, json};

use super::json::JsonReport;

/// What holds for every number.
const UNITS: &str = "Lengths and positions are in `units.length`, forces in `units.force`, couples in `units.moment`, unless a \
                     field says otherwise. Axes are right-handed. `null` stands only where the field says what it means.";

/// The JSON Schema of what `check --format json` prints: one report, or an array of them.
pub fn schema() -> Value {
    let settings = SchemaSettings::draft2020_12()
        .for_serialize()
        .with_transform(RestrictFormats::default())
        .with_transform(RecursiveTransform(on_one_line));
    let dialect = settings.meta_schema.clone();
    let mut generator = settings.into_generator();
    let report = generator.subschema_for::<JsonReport>();
    json!({
        "$schema": dialect,
        "title": "Sixhold check",
        "description": UNITS,
        "anyOf": [report, { "type": "array", "items": report }],
        "$defs": generator.take_definitions(true),
    })
}

/// A description without the line breaks of the comment that it was.
fn on_one_line(schema: &mut Schema) {
    if let Some(Value::String(description)) = schema.get_mut("description") {
        *description = description.replace('\n', " ");
    }
}
