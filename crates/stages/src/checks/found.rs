//! What every rule needs to say what it found.

use dryfit_handbook::{Source, rule};
use dryfit_measure::{Dim, Key, Pointer, Toward};

use super::Checked;
use crate::finding::{Finding, Severity};

/// Where a unit is stated.
pub(super) fn unit_at(key: &Key) -> Pointer {
    Pointer::root().child("units").child(key.as_str())
}

/// A finding of a rule of the handbook, still without numbers and remedies.
pub(super) fn found(
    id: &'static str,
    severity: Severity,
    subjects: Vec<Key>,
    at: Pointer,
    what: String,
) -> Finding {
    Finding {
        severity,
        rule: id,
        subjects,
        at,
        what,
        because: Vec::new(),
        source: rule(id).map_or(Source::Practice, |rule| rule.source.clone()),
        short_by: None,
        fixes: Vec::new(),
        waived: None,
    }
}

impl Checked<'_> {
    /// A length that is needed, rounded up to the builder's marks.
    pub(super) fn needed(&self, dim: &Dim) -> String {
        dim.length().figure(self.plan.fineness, Toward::Up).to_string()
    }

    /// A length that is available, rounded down to the builder's marks.
    pub(super) fn available(&self, dim: &Dim) -> String {
        dim.length().figure(self.plan.fineness, Toward::Down).to_string()
    }
}
