//! Why a type refused a value, as serde reports it.

use std::fmt;

use serde::de::{self, Expected, Unexpected};

use crate::dom::shortened;

/// Why a value was refused.
#[derive(Debug)]
pub(super) enum Refusal {
    /// Not yet noted: what was expected and found, perhaps with `; write ..`.
    Said(String),
    /// A table lacks this key.
    Lacks(&'static str),
    /// Noted, with its place.
    Noted,
}

impl fmt::Display for Refusal {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Refusal::Said(what) => f.write_str(what),
            Refusal::Lacks(key) => write!(f, "missing key: `{key}`"),
            Refusal::Noted => f.write_str("noted"),
        }
    }
}

impl std::error::Error for Refusal {}

impl de::Error for Refusal {
    fn custom<T: fmt::Display>(what: T) -> Refusal {
        Refusal::Said(what.to_string())
    }

    fn invalid_type(found: Unexpected<'_>, expected: &dyn Expected) -> Refusal {
        let found = match found {
            Unexpected::Bool(truth) => format!("`{truth}`"),
            Unexpected::Unsigned(number) => format!("a number: `{number}`"),
            Unexpected::Signed(number) => format!("a number: `{number}`"),
            Unexpected::Float(number) => format!("a number: `{number}`"),
            Unexpected::Str(text) => format!("text: `{}`", shortened(text)),
            Unexpected::Seq => "a list".to_owned(),
            Unexpected::Map => "a table".to_owned(),
            _ => "nothing".to_owned(),
        };
        Refusal::Said(format!("expected {expected}, found {found}"))
    }

    fn invalid_value(found: Unexpected<'_>, expected: &dyn Expected) -> Refusal {
        Refusal::invalid_type(found, expected)
    }

    fn missing_field(key: &'static str) -> Refusal {
        Refusal::Lacks(key)
    }
}
