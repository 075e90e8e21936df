//! Reading JSON with every fault collected: where (a JSON Pointer, RFC 6901), what, and what to do about it.

use serde_json::{Map, Value};
use std::fmt;

/// Longest length that is read, in the job's units. Areas and sums of areas then fit `i128` by a wide margin.
pub const MAX_LENGTH: i64 = 1_000_000_000_000;
/// Highest price that is read, in the job's price units.
pub const MAX_PRICE: i64 = 1_000_000_000_000;
/// Most pieces (the sum of the parts' quantities) that one job may ask for.
pub const MAX_PIECES: i64 = 100_000;
/// Most entries of one list of a job.
pub const MAX_ENTRIES: usize = 100_000;

/// One fault met while reading a job or a layout.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub struct ReadFault {
    /// JSON Pointer to the value at fault; empty for the whole text.
    pub path: String,
    /// What is wrong with it.
    pub what: String,
    /// What would mend it.
    pub remedy: String,
}

impl fmt::Display for ReadFault {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let path = if self.path.is_empty() { "/" } else { &self.path };
        write!(f, "{path}: {}; {}", self.what, self.remedy)
    }
}

/// Parse the text itself.
pub(crate) fn parse(text: &str) -> Result<Value, Vec<ReadFault>> {
    serde_json::from_str(text).map_err(|e| {
        let what = format!("not JSON at line {}, column {}", e.line(), e.column());
        vec![ReadFault { path: String::new(), what, remedy: "write one JSON object".into() }]
    })
}

/// Collects faults while a value is walked.
#[derive(Default)]
pub(crate) struct Faults {
    pub list: Vec<ReadFault>,
}

impl Faults {
    pub fn add(&mut self, path: &str, what: impl Into<String>, remedy: impl Into<String>) {
        self.list.push(ReadFault { path: path.into(), what: what.into(), remedy: remedy.into() });
    }

    /// The value if nothing was found wrong, else the faults in the order in which they were met.
    pub fn done<T>(self, value: Option<T>) -> Result<T, Vec<ReadFault>> {
        match value {
            Some(v) if self.list.is_empty() => Ok(v),
            _ => Err(self.list),
        }
    }

    pub fn object<'a>(&mut self, v: &'a Value, path: &str) -> Option<&'a Map<String, Value>> {
        let o = v.as_object();
        if o.is_none() {
            self.add(path, format!("expected an object, found {}", kind(v)), "write { ... }");
        }
        o
    }

    /// A list that must be there; `None` (with a fault) when it is not, or is too long.
    pub fn list<'a>(&mut self, o: &'a Map<String, Value>, path: &str, key: &str) -> Option<&'a [Value]> {
        match o.get(key) {
            None => self.missing(path, key, "write a list [ ... ]"),
            Some(Value::Array(a)) if a.len() > MAX_ENTRIES => {
                let what = format!("{} entries, at most {MAX_ENTRIES} are read", a.len());
                self.add(&join(path, key), what, "gather equal entries with qty, or split the job");
                return None;
            }
            Some(Value::Array(a)) => return Some(a),
            Some(v) => self.add(
                &join(path, key),
                format!("expected a list, found {}", kind(v)),
                "write a list [ ... ]",
            ),
        }
        None
    }

    fn missing(&mut self, path: &str, key: &str, remedy: &str) {
        self.add(&join(path, key), "is missing", remedy);
    }

    /// A whole number from `least` to `most`.
    pub fn int(
        &mut self,
        o: &Map<String, Value>,
        path: &str,
        key: &str,
        least: i64,
        most: i64,
    ) -> Option<i64> {
        match o.get(key) {
            None => {
                self.missing(path, key, &format!("write a whole number from {least} to {most}"));
                None
            }
            Some(v) => self.int_value(v, &join(path, key), least, most),
        }
    }

    /// A whole number, or `default` where the key is absent or null.
    pub fn int_or(
        &mut self,
        o: &Map<String, Value>,
        path: &str,
        key: &str,
        least: i64,
        most: i64,
        default: i64,
    ) -> Option<i64> {
        match o.get(key) {
            None | Some(Value::Null) => Some(default),
            Some(v) => self.int_value(v, &join(path, key), least, most),
        }
    }

    /// A whole number that may be null or absent; the outer `None` is a fault.
    #[allow(clippy::option_option)]
    pub fn int_opt(
        &mut self,
        o: &Map<String, Value>,
        path: &str,
        key: &str,
        least: i64,
        most: i64,
    ) -> Option<Option<i64>> {
        match o.get(key) {
            None | Some(Value::Null) => Some(None),
            Some(v) => self.int_value(v, &join(path, key), least, most).map(Some),
        }
    }

    pub fn int_value(&mut self, v: &Value, path: &str, least: i64, most: i64) -> Option<i64> {
        let remedy = format!("write a whole number from {least} to {most}");
        let Value::Number(n) = v else {
            self.add(path, format!("expected a whole number, found {}", kind(v)), remedy);
            return None;
        };
        match n.as_i64() {
            Some(i) if (least..=most).contains(&i) => Some(i),
            Some(i) => {
                let what = if i < least {
                    format!("{i} is less than {least}")
                } else {
                    format!("{i} is over {most}")
                };
                self.add(path, what, remedy);
                None
            }
            None if n.is_u64() => {
                self.add(path, format!("{n} is over {most}"), remedy);
                None
            }
            None => {
                self.add(
                    path,
                    format!("{n} is not a whole number"),
                    "write it in a finer unit, such as 0.1 mm or 1/64 in",
                );
                None
            }
        }
    }

    /// A text that is not empty. Whole numbers are not taken for texts.
    pub fn text(&mut self, o: &Map<String, Value>, path: &str, key: &str) -> Option<String> {
        match o.get(key) {
            None => {
                self.missing(path, key, "write a name in quotes");
                None
            }
            Some(Value::String(s)) if !s.is_empty() => Some(s.clone()),
            Some(Value::String(_)) => {
                self.add(&join(path, key), "is empty", "write a name in quotes");
                None
            }
            Some(v) => {
                self.add(
                    &join(path, key),
                    format!("expected text, found {}", kind(v)),
                    "write a name in quotes",
                );
                None
            }
        }
    }

    /// A text, or `default` where the key is absent or null.
    pub fn text_or(
        &mut self,
        o: &Map<String, Value>,
        path: &str,
        key: &str,
        default: &str,
    ) -> Option<String> {
        match o.get(key) {
            None | Some(Value::Null) => Some(default.into()),
            Some(Value::String(s)) => Some(s.clone()),
            Some(v) => {
                self.add(
                    &join(path, key),
                    format!("expected text, found {}", kind(v)),
                    "write it in quotes, or leave it out",
                );
                None
            }
        }
    }

    /// True or false, false where the key is absent or null.
    pub fn flag(&mut self, o: &Map<String, Value>, path: &str, key: &str) -> Option<bool> {
        match o.get(key) {
            None | Some(Value::Null) => Some(false),
            Some(Value::Bool(b)) => Some(*b),
            Some(v) => {
                self.add(
                    &join(path, key),
                    format!("expected true or false, found {}", kind(v)),
                    "write true or false",
                );
                None
            }
        }
    }

    /// A fault for each id that was used before in the same list.
    pub fn unique<'a>(&mut self, ids: impl Iterator<Item = (String, &'a str)>) {
        let mut first: std::collections::BTreeMap<&str, String> = std::collections::BTreeMap::new();
        for (path, id) in ids {
            if let Some(before) = first.get(id) {
                self.add(
                    &path,
                    format!("id `{id}` is already used at {before}"),
                    "give each entry an id of its own",
                );
            } else {
                first.insert(id, path);
            }
        }
    }

    /// A fault when the quantities of a list sum to more than [`MAX_PIECES`].
    pub fn total_pieces(&mut self, path: &str, quantities: impl Iterator<Item = i64>) {
        let total: i64 = quantities.fold(0, i64::saturating_add);
        if total > MAX_PIECES {
            self.add(path, format!("{total} pieces, at most {MAX_PIECES} are read"), "split the job");
        }
    }
}

/// `path` and one more step of a JSON Pointer, escaped as RFC 6901 asks.
pub(crate) fn join(path: &str, key: &str) -> String {
    format!("{path}/{}", key.replace('~', "~0").replace('/', "~1"))
}

fn kind(v: &Value) -> &'static str {
    match v {
        Value::Null => "null",
        Value::Bool(_) => "true or false",
        Value::Number(_) => "a number",
        Value::String(_) => "text",
        Value::Array(_) => "a list",
        Value::Object(_) => "an object",
    }
}
