//! From a plan to the text of its file.

use serde_json::{Map, Value as Json};
use toml_edit::{Array, DocumentMut, InlineTable, Item, Table, Value};

use crate::Plan;

impl Plan {
    /// The plan as the text of a file: always the same for the same plan, one thing a line where it can be, the
    /// goods and recipes under headings of their own.
    ///
    /// ```
    /// # use dryfit_plan::Plan;
    /// # let plan = Plan::from_toml(include_str!("../../../demos/potting-room.toml")).unwrap().plan;
    /// let text = plan.to_toml();
    /// assert!(text.starts_with("format = 1\nname = \"Potting room\"\nentry_unit = \"in\"\n"));
    /// assert_eq!(Plan::from_toml(&text).unwrap().plan, plan);
    /// ```
    pub fn to_toml(&self) -> String {
        let mut document = DocumentMut::new();
        if let Json::Object(members) = self.to_json() {
            for (key, json) in &members {
                if !is_empty_table(json) {
                    document.insert(key, item(&[key], json));
                }
            }
        }
        document.to_string()
    }
}

fn is_empty_table(json: &Json) -> bool {
    json.as_object().is_some_and(Map::is_empty)
}

/// How the thing at a path of keys is laid out: under a heading, or on the line of its key.
fn has_heading(path: &[&str]) -> bool {
    match path {
        ["code" | "money"] => false,
        [_]
        | ["goods" | "recipes" | "receipts", _]
        | ["receipts", _, "lines" | "returns"]
        | ["recipes", _, "roles" | "figures"] => true,
        _ => false,
    }
}

/// A value laid out as the thing at a path of keys is.
pub(crate) fn item(path: &[&str], json: &Json) -> Item {
    match json {
        Json::Object(members) if has_heading(path) => Item::Table(table(path, members)),
        other => Item::Value(inline(other)),
    }
}

fn table(path: &[&str], members: &Map<String, Json>) -> Table {
    let mut table = Table::new();
    table.decor_mut().set_prefix("\n");
    let below = |key| [path, &[key]].concat();
    let (headed, plain): (Vec<_>, Vec<_>) =
        members.iter().partition(|(key, json)| json.is_object() && has_heading(&below(key)));
    // a heading that has nothing but headings below it goes without saying
    table.set_implicit(plain.is_empty() && !headed.is_empty());
    for (key, json) in plain.into_iter().chain(headed) {
        table.insert(key, item(&below(key), json));
    }
    table
}

/// A value on one line.
pub(crate) fn inline(json: &Json) -> Value {
    match json {
        // a plan states what is known; what is not is left out
        Json::Null => Value::from(""),
        Json::Bool(truth) => Value::from(*truth),
        Json::Number(number) => match number.as_i64() {
            Some(integer) => Value::from(integer),
            None => Value::from(number.as_f64().unwrap_or(f64::NAN)),
        },
        Json::String(text) => Value::from(text.as_str()),
        Json::Array(items) => Value::Array(items.iter().map(inline).collect::<Array>()),
        Json::Object(members) => {
            let members = members.iter().map(|(key, json)| (key.as_str(), inline(json)));
            Value::InlineTable(members.collect::<InlineTable>())
        }
    }
}
