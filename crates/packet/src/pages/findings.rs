//! What the checks found, gravest first.

use serde::Serialize;

use dryfit_measure::because;
use dryfit_stages::{Finding, Severity};

use crate::data::{Body, Page};
use crate::material::Material;
use crate::names::counted;
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

/// The page of the findings; none when there is nothing to say.
pub(crate) fn findings(m: &Material<'_>) -> Option<Page> {
    let mut all: Vec<&Finding> = m.derived.findings.iter().collect();
    if all.is_empty() {
        return None;
    }
    // within a severity they keep the order of their places
    all.sort_by_key(|finding| (finding.waived.is_some(), finding.severity));
    let rows = all.iter().map(|finding| row(m, finding)).collect();
    Some(Page::new("findings", "Findings", tally(&all), Body::Findings(Findings { rows })))
}

/// "1 stop, 3 looks, 1 left as it is".
fn tally(all: &[&Finding]) -> String {
    let of = |severity| all.iter().filter(|f| f.waived.is_none() && f.severity == severity).count();
    let mut words = Vec::new();
    for (severity, one) in [(Severity::Stop, "stop"), (Severity::Look, "look"), (Severity::Note, "note")] {
        if of(severity) > 0 {
            words.push(counted(of(severity), one));
        }
    }
    let waived = all.iter().filter(|f| f.waived.is_some()).count();
    if waived > 0 {
        words.push(format!("{waived} left as it is, each with its reason"));
    }
    words.join(", ")
}

fn row(m: &Material<'_>, finding: &Finding) -> FindingRow {
    let mut at = Words::new();
    for (i, key) in finding.subjects.iter().enumerate() {
        if i > 0 {
            at = at.plain(", ");
        }
        at = at.and(m.names.subject(key));
    }
    FindingRow {
        severity: word(finding.severity),
        what: finding.what.replace('`', "").into(),
        at,
        because: finding
            .because
            .iter()
            .take(2)
            .map(|dim| m.names.tidy(&because(dim, m.names.finest())).into())
            .collect(),
        source: finding.source.to_string(),
        fixes: finding.fixes.iter().map(|fix| fix.label.replace('`', "").into()).collect(),
        waived: finding.waived.clone(),
    }
}

fn word(severity: Severity) -> &'static str {
    match severity {
        Severity::Stop => "stop",
        Severity::Look => "look",
        Severity::Note => "note",
    }
}
