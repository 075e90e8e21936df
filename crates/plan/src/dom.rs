//! What a file says before it is a plan: values by key, each with its place in the text.

use std::ops::Range;

use dryfit_measure::Pointer;
use toml::de::{DeTable, DeValue};

/// One value and where it stands; text that was not a file (JSON values) has no places.
#[derive(Clone, Debug, PartialEq)]
pub(crate) struct Node {
    pub span: Option<Range<usize>>,
    pub value: Value,
}

/// What a value is.
#[derive(Clone, Debug, PartialEq)]
pub(crate) enum Value {
    Null,
    Text(String),
    Integer(i128),
    Float(f64),
    Bool(bool),
    /// A date or time written without quotes, as it was written.
    Date(String),
    List(Vec<Node>),
    Table(Vec<Entry>),
}

/// One key of a table with its value.
#[derive(Clone, Debug, PartialEq)]
pub(crate) struct Entry {
    pub key: String,
    pub span: Option<Range<usize>>,
    pub node: Node,
}

impl Node {
    /// A table without keys.
    pub fn empty() -> Node {
        Node { span: None, value: Value::Table(Vec::new()) }
    }

    pub fn of_toml(table: &toml::Spanned<DeTable<'_>>) -> Node {
        Node { span: Some(table.span()), value: Value::Table(entries(table.get_ref())) }
    }

    pub fn of_json(json: &serde_json::Value) -> Node {
        let value = match json {
            serde_json::Value::Null => Value::Null,
            serde_json::Value::Bool(truth) => Value::Bool(*truth),
            serde_json::Value::Number(number) => match number.as_i128() {
                Some(integer) => Value::Integer(integer),
                None => Value::Float(number.as_f64().unwrap_or(f64::NAN)),
            },
            serde_json::Value::String(text) => Value::Text(text.clone()),
            serde_json::Value::Array(items) => Value::List(items.iter().map(Node::of_json).collect()),
            serde_json::Value::Object(members) => {
                let entry = |(key, json): (&String, _)| Entry {
                    key: key.clone(),
                    span: None,
                    node: Node::of_json(json),
                };
                Value::Table(members.iter().map(entry).collect())
            }
        };
        Node { span: None, value }
    }

    pub fn is_table(&self) -> bool {
        matches!(self.value, Value::Table(_))
    }

    /// The value of `key`, where this is a table that has it.
    pub fn get(&self, key: &str) -> Option<&Entry> {
        match &self.value {
            Value::Table(entries) => entries.iter().find(|entry| entry.key == key),
            _ => None,
        }
    }

    /// Where the thing at `place` is named: its key, or itself in a list.
    pub fn span_at(&self, place: &Pointer) -> Option<Range<usize>> {
        let mut here = self;
        let mut span = self.span.clone();
        for segment in place.segments() {
            (here, span) = match &here.value {
                Value::Table(_) => here.get(&segment).map(|entry| (&entry.node, entry.span.clone()))?,
                Value::List(items) => {
                    let item = items.get(segment.parse::<usize>().ok()?)?;
                    (item, item.span.clone())
                }
                _ => return None,
            };
        }
        span
    }

    /// A number, a truth or a date as text.
    pub fn written(&self) -> Option<String> {
        match &self.value {
            Value::Integer(number) => Some(number.to_string()),
            Value::Float(number) => Some(number.to_string()),
            Value::Bool(truth) => Some(truth.to_string()),
            Value::Date(date) => Some(date.clone()),
            Value::Null | Value::Text(_) | Value::List(_) | Value::Table(_) => None,
        }
    }

    /// What it is, as a fault says it.
    pub fn described(&self) -> String {
        match &self.value {
            Value::Null => "nothing".to_owned(),
            Value::Text(text) => format!("text: `{}`", shortened(text)),
            Value::Integer(number) => format!("a number: `{number}`"),
            Value::Float(number) => format!("a number: `{number}`"),
            Value::Bool(truth) => format!("`{truth}`"),
            Value::Date(date) => format!("a date without quotes: `{date}`"),
            Value::List(_) => "a list".to_owned(),
            Value::Table(_) => "a table".to_owned(),
        }
    }
}

fn entries(table: &DeTable<'_>) -> Vec<Entry> {
    let named = table.iter();
    let mut all: Vec<Entry> = named
        .map(|(key, value)| Entry {
            key: key.get_ref().to_string(),
            span: Some(key.span()),
            node: of_value(value),
        })
        .collect();
    // the order of the file, which the parser's table does not keep
    all.sort_by_key(|entry| entry.span.as_ref().map(|span| span.start));
    all
}

fn of_value(value: &toml::Spanned<DeValue<'_>>) -> Node {
    let read = match value.get_ref() {
        DeValue::String(text) => Value::Text(text.to_string()),
        DeValue::Integer(integer) => match i128::from_str_radix(integer.as_str(), integer.radix()) {
            Ok(number) => Value::Integer(number),
            // more digits than any number of ours has
            Err(_) => Value::Float(integer.as_str().parse().unwrap_or(f64::INFINITY)),
        },
        DeValue::Float(float) => Value::Float(float.as_str().parse().unwrap_or(f64::NAN)),
        DeValue::Boolean(truth) => Value::Bool(*truth),
        DeValue::Datetime(date) => Value::Date(date.to_string()),
        DeValue::Array(items) => Value::List(items.iter().map(of_value).collect()),
        DeValue::Table(table) => Value::Table(entries(table)),
    };
    Node { span: Some(value.span()), value: read }
}

/// Somebody's text on one line, cut after forty characters.
pub(crate) fn shortened(text: &str) -> String {
    const MOST: usize = 40;
    let clean = |c: char| if c.is_control() || matches!(c, '\u{2028}' | '\u{2029}') { ' ' } else { c };
    let mut out: String = text.chars().take(MOST).map(clean).collect();
    if text.chars().nth(MOST).is_some() {
        out.push_str("..");
    }
    out
}
