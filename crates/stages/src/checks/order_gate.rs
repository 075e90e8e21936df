//! `order/gate`: nothing is done before the gates and hold points that it waits for.
//!
//! What it checks: every task that is logged as done against the gates and hold points before it: each has to be
//! logged too, and not later. So a wall that was closed before the inspection, a top that was cut before the units
//! were fixed, and a door that was made before its opening was measured are told.
//!
//! Why it matters: what was made from a planned number does not fit the real one, and what was closed unseen may
//! have to be opened.
//!
//! Source: common practice, no source.
//!
//! Example: the garden wall is logged as closed, and nobody has seen its pipes.
//!
//! Severity: *stop* for a hold point, *look* for a gate.
//!
//! Remedy: the gate logged on that day, if it was passed.

use dryfit_handbook::TaskKind;
use dryfit_measure::{Key, Pointer};
use dryfit_plan::{Edit, Work};

use super::Checked;
use super::found::found;
use crate::finding::{Finding, Fix, Severity};

/// Gates that were passed by.
pub(super) fn check(checked: &Checked<'_>) -> Vec<Finding> {
    let order = checked.order;
    let mut findings = Vec::new();
    for gate in order.tasks.iter().filter(|task| task.kind != TaskKind::Work) {
        let passed = |done: dryfit_plan::Day| gate.done.is_none_or(|gated| gated > done);
        let follower = order
            .tasks
            .iter()
            .filter(|task| task.after.iter().any(|after| after.id == gate.id))
            .filter_map(|task| Some((task, task.done.filter(|done| passed(*done))?)))
            .min_by_key(|(task, done)| (*done, &task.id));
        let Some((task, done)) = follower else { continue };
        let (severity, sort) = match gate.kind {
            TaskKind::Hold => (Severity::Stop, "hold point"),
            _ => (Severity::Look, "gate"),
        };
        let state = gate.done.map_or("is not logged".to_owned(), |gated| format!("is logged on {gated}"));
        let what =
            format!("`{}` was done on {done}, and the {sort} before it, {}, {state}", task.id, gate.does);
        let at = Pointer::root().child("work").child(&gate.id);
        // each gate is a finding of its own
        let subjects = Key::new(&gate.id).ok().into_iter().collect();
        let mut finding = found("order/gate", severity, subjects, at.clone(), what);
        let note = gate.seen.as_ref().map(|seen| format!("seen: {seen}"));
        let logged = Work { done, at: None, took: None, note };
        let label = format!("log `{}` on {done}, if it was passed then", gate.id);
        finding.fixes.push(Fix::of(Edit::set(checked.plan, &at, logged, label)));
        findings.push(finding);
    }
    findings
}

#[cfg(test)]
mod tests {
    use super::super::trial::{demo, every_remedy_clears, found, with};
    use crate::finding::Severity;
    use serde_json::json;

    const RULE: &str = "order/gate";

    /// Where a task is logged.
    fn logged(task: &str) -> String {
        format!("/{}/{task}", "work")
    }

    #[test]
    fn a_wall_closed_before_it_was_seen_is_a_stop() {
        let plan = with(&demo(), &logged("close~1BC"), json!({ "done": "2026-03-22" }));
        let findings = found(&plan, RULE);
        assert_eq!(findings.len(), 1, "{findings:?}");
        assert_eq!(findings[0].severity, Severity::Stop);
        assert_eq!(
            findings[0].what,
            "`close/BC` was done on 2026-03-22, and the hold point before it, rough-in inspected, pipes under \
             pressure, is not logged"
        );
        let seen = |day: &str| with(&plan, &logged("inspect"), json!({ "done": day }));
        // the day itself is in time, the next is not
        let of = |plan: &dryfit_plan::Plan| {
            found(plan, RULE).iter().filter(|finding| finding.what.starts_with("`close")).count()
        };
        assert_eq!([of(&seen("2026-03-22")), of(&seen("2026-03-23"))], [0, 1]);
    }

    #[test]
    fn a_top_before_the_units_are_measured_is_told_and_logging_the_gate_clears_it() {
        let plan = with(&demo(), &logged("top~1slate"), json!({ "done": "2026-04-11" }));
        let findings = found(&plan, RULE);
        assert_eq!(findings.len(), 1, "{findings:?}");
        assert_eq!(findings[0].severity, Severity::Look);
        every_remedy_clears(&plan, &findings[0]);
        assert!(found(&demo(), RULE).is_empty());
    }
}
