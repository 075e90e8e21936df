//! What the checks found, gravest first.

use serde::Serialize;

use crate::words::Words;

/// What the checks found.
#[derive(Clone, Debug, Serialize)]
#[serde(rename_all = "kebab-case")]
pub struct Findings {
    /// One row a finding.
    pub rows: Vec<FindingRow>,
}

/// One finding.
#[derive(Clone, Debug, Serialize)]
#[serde(rename_all = "kebab-case")]
pub struct FindingRow {
    /// "stop", "look" or "note": the sign and the word.
    pub severity: &'static str,
    /// Needed against available.
    pub what: Words,
    /// Where.
    pub at: Words,
    /// The folded chain of its numbers.
    pub because: Vec<Words>,
    /// The rule's standard and clause.
    pub source: String,
    /// One action a line.
    pub fixes: Vec<Words>,
    /// The builder's reason to leave it.
    pub waived: Option<String>,
}
