//! Taking a finding's remedy: the edit, the plan after it, and what it changes.

use dryfit_measure::Pointer;
use dryfit_plan::{Edit, EditRefused};
use dryfit_stages::{Finding, Fix};

use crate::file::forward;
use crate::open::Project;

/// A plan after a remedy.
#[derive(Clone, Debug)]
pub struct Remedied {
    /// What the edit is called.
    pub label: String,
    /// The edit itself.
    pub edit: Edit,
    /// What it changes, place by place.
    pub changes: Vec<Change>,
    /// The project after it.
    pub project: Project,
    /// Ids of findings that were there and are gone.
    pub cleared: Vec<String>,
    /// Ids of findings that were not there before.
    pub raised: Vec<String>,
}

/// One changed place.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Change {
    /// Where in the plan.
    pub at: Pointer,
    /// What stood there, as JSON; none where nothing did.
    pub was: Option<String>,
    /// What stands there now; none where nothing does.
    pub is: Option<String>,
}

/// Why a remedy could not be taken.
#[derive(Debug, thiserror::Error)]
pub enum RemedyFault {
    /// No finding of that id.
    #[error("no finding is called `{asked}`{}", known(found))]
    NoFinding {
        /// What was asked for.
        asked: String,
        /// Ids of the findings there are.
        found: Vec<String>,
    },
    /// The finding offers fewer remedies.
    #[error("`{finding}` has {offered}, so there is no remedy {asked}", offered = remedies(*offered))]
    NoRemedy {
        /// The finding.
        finding: String,
        /// The number asked for, from one.
        asked: usize,
        /// How many there are.
        offered: usize,
    },
    /// The plan has changed since.
    #[error("the remedy does not fit this plan: {0}")]
    Refused(#[from] EditRefused),
}

fn known(found: &[String]) -> String {
    if found.is_empty() {
        "; this plan has none".to_owned()
    } else {
        let list: Vec<String> = found.iter().map(|id| format!("\n  {id}")).collect();
        format!("; this plan has:{}", list.concat())
    }
}

fn remedies(count: usize) -> String {
    match count {
        0 => "no remedy that is an edit".to_owned(),
        1 => "one remedy".to_owned(),
        _ => format!("{count} remedies"),
    }
}

impl Project {
    /// The finding of that id: its rule and subjects, or its rule alone where only one finding has it.
    pub fn finding(&self, id: &str) -> Result<&Finding, RemedyFault> {
        let findings = &self.derived.findings;
        let by_rule: Vec<&Finding> = findings.iter().filter(|finding| finding.rule == id).collect();
        let exact = findings.iter().find(|finding| finding.id() == id);
        match (exact, by_rule.as_slice()) {
            (Some(finding), _) | (None, &[finding]) => Ok(finding),
            _ => Err(RemedyFault::NoFinding {
                asked: id.to_owned(),
                found: findings.iter().map(Finding::id).collect(),
            }),
        }
    }

    /// Remedy `number` (from one) of a finding.
    pub fn fix(&self, id: &str, number: usize) -> Result<&Fix, RemedyFault> {
        let finding = self.finding(id)?;
        let fix = number.checked_sub(1).and_then(|index| finding.fixes.get(index));
        fix.ok_or_else(|| RemedyFault::NoRemedy {
            finding: finding.id(),
            asked: number,
            offered: finding.fixes.len(),
        })
    }

    /// Takes remedy `number` (from one) of a finding; the plan file's comments and layout are kept.
    pub fn remedied(&self, id: &str, number: usize) -> Result<Remedied, RemedyFault> {
        let fix = self.fix(id, number)?;
        let (plan, _inverse) = self.plan.apply(&fix.edit)?;
        let text = forward(&self.text, &fix.edit)?;
        let changes = fix.edit.places().into_iter().map(|at| self.change(&plan, at)).collect();
        let project = self.with(plan, text);
        let ids =
            |project: &Project| -> Vec<String> { project.derived.findings.iter().map(Finding::id).collect() };
        let (before, after) = (ids(self), ids(&project));
        Ok(Remedied {
            label: fix.label.clone(),
            edit: fix.edit.clone(),
            changes,
            cleared: before.iter().filter(|id| !after.contains(id)).cloned().collect(),
            raised: after.into_iter().filter(|id| !before.contains(id)).collect(),
            project,
        })
    }

    fn change(&self, after: &dryfit_plan::Plan, at: Pointer) -> Change {
        let value = |plan: &dryfit_plan::Plan| plan.to_json().pointer(at.as_str()).map(ToString::to_string);
        Change { was: value(&self.plan), is: value(after), at }
    }
}
