//! The JSON Schema of a plan, made from its types.

use schemars::generate::SchemaSettings;
use serde_json::Value;

use crate::{FORMAT, Plan};

/// The JSON Schema (draft 2020-12) of a plan's JSON, and so of its file: always the same for the same program.
///
/// It says what keys and words there are, and the shape of lengths and amounts. It is for editors and for other
/// programs; [`Plan::from_toml`] checks more.
///
/// ```
/// let schema = dryfit_plan::schema();
/// assert_eq!(schema["$schema"], "https://json-schema.org/draft/2020-12/schema");
/// assert_eq!(schema["properties"]["format"]["const"], 1);
/// ```
pub fn schema() -> Value {
    let schema = SchemaSettings::draft2020_12().into_generator().into_root_schema_for::<Plan>();
    let mut json = schema.to_value();
    json["properties"]["format"] = serde_json::json!({
        "description": "Version of the file form.",
        "type": "integer",
        "const": FORMAT,
    });
    json
}
