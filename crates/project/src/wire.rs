//! What is sent to other programs: wire types, apart from the run-time ones.

use dryfit_measure::because;
use dryfit_stages::{Finding, Severity};
use serde::Serialize;

use crate::open::Project;

/// The answer of `check --json`.
#[derive(Clone, Debug, Serialize)]
pub struct Report {
    /// Version of this form.
    pub format: u32,
    /// The plan's name.
    pub name: String,
    /// Findings by place, waived ones included.
    pub findings: Vec<FindingReport>,
}

/// One finding.
#[derive(Clone, Debug, Serialize)]
pub struct FindingReport {
    /// Rule and subjects: what `fix` takes.
    pub id: String,
    /// stop, look, note.
    pub severity: &'static str,
    /// The rule.
    pub rule: String,
    /// Where it can be changed (JSON Pointer).
    pub at: String,
    /// What, needed against available.
    pub what: String,
    /// The numbers it rests on, one line each.
    pub because: Vec<String>,
    /// Where the rule comes from.
    pub source: String,
    /// The builder's reason to leave it.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub waived: Option<String>,
    /// Remedies, in the order in which `fix --remedy` counts them.
    pub fixes: Vec<FixReport>,
}

/// One remedy.
#[derive(Clone, Debug, Serialize)]
pub struct FixReport {
    /// The instruction.
    pub label: String,
    /// The edit (RFC 6902).
    pub patch: serde_json::Value,
}

impl Project {
    /// The findings as other programs read them.
    pub fn report(&self) -> Report {
        let one = |finding: &Finding| FindingReport {
            id: finding.id(),
            severity: match finding.severity {
                Severity::Stop => "stop",
                Severity::Look => "look",
                Severity::Note => "note",
            },
            rule: finding.rule.to_owned(),
            at: finding.at.to_string(),
            what: finding.what.clone(),
            because: finding.because.iter().map(|dim| because(dim, self.plan.fineness)).collect(),
            source: finding.source.to_string(),
            waived: finding.waived.clone(),
            fixes: finding
                .fixes
                .iter()
                .map(|fix| FixReport {
                    label: fix.label.clone(),
                    patch: serde_json::to_value(&fix.edit.patch).unwrap_or_default(),
                })
                .collect(),
        };
        Report {
            format: 1,
            name: self.plan.name.clone(),
            findings: self.derived.findings.iter().map(one).collect(),
        }
    }
}

impl Report {
    /// As JSON, indented, with a line end.
    pub fn to_json(&self) -> String {
        let mut json = serde_json::to_string_pretty(self).unwrap_or_default();
        json.push('\n');
        json
    }
}
