//! Findings: what the program has to say about a plan, always with a reason and, where there is one, a remedy.

use std::collections::BTreeMap;

use dryfit_handbook::Source;
use dryfit_measure::{Dim, Key, Pointer};
use dryfit_plan::{Edit, Plan};

/// How grave a finding is.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Severity {
    /// It will not go together, or is unsafe.
    Stop,
    /// It may not.
    Look,
    /// Worth knowing.
    Note,
}

/// One thing to know about a plan. Its identity is its rule and its subjects.
#[derive(Clone, Debug)]
pub struct Finding {
    /// How grave.
    pub severity: Severity,
    /// The rule: "fit/tip-up".
    pub rule: &'static str,
    /// Keys of what it is about, in plan order; with the rule, its identity.
    pub subjects: Vec<Key>,
    /// The place in the plan where it can be changed.
    pub at: Pointer,
    /// What, needed against available; lower case, no full stop, in the builder's units.
    pub what: String,
    /// The numbers it rests on, most telling first; their chains are printed folded.
    pub because: Vec<Dim>,
    /// Where the rule comes from.
    pub source: Source,
    /// How short it is of passing, where that is a length: a waiver lapses when it grows.
    pub short_by: Option<Dim>,
    /// What would clear it; each can be applied as it stands.
    pub fixes: Vec<Fix>,
    /// The builder's written reason, where a waiver holds.
    pub waived: Option<String>,
}

/// One way to clear a finding.
#[derive(Clone, Debug)]
pub struct Fix {
    /// What it does, as an instruction: "make `b4` 23 1/2 in wide".
    pub label: String,
    /// The edit of the plan that does it.
    pub edit: Edit,
}

impl Finding {
    /// A stop about a statement that cannot be carried out as it stands, with nothing behind it but the plan.
    pub fn unresolved(rule: &'static str, subjects: Vec<Key>, at: Pointer, what: String) -> Finding {
        Finding {
            severity: Severity::Stop,
            rule,
            subjects,
            at,
            what,
            because: Vec::new(),
            source: Source::Plan,
            short_by: None,
            fixes: Vec::new(),
            waived: None,
        }
    }

    /// `rule:subject,subject`, or the rule alone where it is about the whole plan: how a command line names this
    /// finding.
    pub fn id(&self) -> String {
        let keys: Vec<&str> = self.subjects.iter().map(Key::as_str).collect();
        if keys.is_empty() { self.rule.to_owned() } else { format!("{}:{}", self.rule, keys.join(",")) }
    }
}

/// Findings as they are shown: each once, by place, gravest first at one place, with the waivers that hold.
pub fn settled(plan: &Plan, findings: Vec<Finding>) -> Vec<Finding> {
    let mut settled: BTreeMap<(Pointer, Severity, String), Finding> = BTreeMap::new();
    for mut finding in findings {
        finding.waived = waiver(plan, &finding);
        settled.entry((finding.at.clone(), finding.severity, finding.id())).or_insert(finding);
    }
    settled.into_values().collect()
}

/// The builder's reason to leave a finding: a waiver of its rule and subjects, which lapses when the number that
/// was short then is shorter now.
fn waiver(plan: &Plan, finding: &Finding) -> Option<String> {
    let decision = plan
        .decisions
        .values()
        .find(|decision| decision.rule == finding.rule && decision.subjects == finding.subjects)?;
    let worse = match (decision.short_by, &finding.short_by) {
        (Some(then), Some(now)) => now.length() > then.length,
        (Some(_) | None, None) => false,
        (None, Some(_)) => true,
    };
    (!worse).then(|| decision.reason.clone())
}
