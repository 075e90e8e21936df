//! Faults of the text before it says anything: quotes, brackets, keys stated twice.

use crate::dom::Node;
use crate::fault::{Fault, Spot};

/// The faults that the parser found.
pub(crate) fn faults(text: &str, _root: &Node, errors: &[toml::de::Error]) -> Vec<Fault> {
    errors
        .iter()
        .map(|e| Fault {
            spot: e.span().map(|span| Spot::new(text, span)),
            at: None,
            what: e.message().to_owned(),
            remedy: None,
        })
        .collect()
}

/// The one fault that stops a JSON parser.
pub(crate) fn json_fault(text: &str, e: &serde_json::Error) -> Fault {
    let said = e.to_string();
    let what = said.rsplit_once(" at line ").map_or(said.as_str(), |(what, _)| what);
    let line_start = text.split_inclusive('\n').take(e.line().saturating_sub(1)).map(str::len).sum::<usize>();
    let at = line_start + e.column().saturating_sub(1);
    Fault {
        spot: Some(Spot::new(text, at..at + 1)),
        at: None,
        what: format!("not JSON: {}", what.to_lowercase()),
        remedy: None,
    }
}
