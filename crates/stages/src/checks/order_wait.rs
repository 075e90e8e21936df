//! `order/wait`: what glue, mortar, grout and paint need is waited for.
//!
//! What it checks: every task that is logged as done against those before it that are: whether it was finished so
//! long after them as they need to dry or harden, its own hours on top.
//!
//! Why it matters: grout over mortar that has not set works the tile loose.
//!
//! Source: common practice, no source; the handbook's waits are those of data sheets.
//!
//! Example: grouted in the evening of the day on which the tile was set, where it needs 24 h.
//!
//! Severity: *look*.
//!
//! Remedy: the later of the two logged when the wait was over, if the log is wrong.

use dryfit_measure::Pointer;
use dryfit_plan::{Day, Edit, Work};

use super::Checked;
use super::found::found;
use crate::finding::{Finding, Fix, Severity};

/// Waits that were not waited for.
pub(super) fn check(checked: &Checked<'_>) -> Vec<Finding> {
    let order = checked.order;
    let mut findings = Vec::new();
    for task in order.tasks.iter().filter(|task| task.done.is_some()) {
        let waits = task.after.iter().filter(|after| after.wait > 0).filter_map(|after| {
            let before = order.task(&after.id).filter(|before| before.done.is_some())?;
            let least = before.times[1] + after.wait + task.minutes;
            (task.times[1] < least).then_some((after, before, least))
        });
        let Some((after, before, least)) = waits.max_by_key(|(_, _, least)| *least) else { continue };
        let hours = after.wait / 60;
        let gone = (task.times[0] - before.times[1]).max(0) / 60;
        let meanwhile = after.what.as_ref().map(|what| format!(": {what}")).unwrap_or_default();
        let what = format!(
            "`{}` was begun {gone} h after `{}`, and has to wait {hours} h{meanwhile}",
            task.id, after.id
        );
        let at = Pointer::root().child("work").child(&task.id);
        let mut finding = found("order/wait", Severity::Look, Vec::new(), at.child("done"), what);
        if let Some(work) = checked.plan.work.get(&task.id) {
            // the end of the day on which it may be finished: a log has days, and hours only where they are stated
            let day = Day::from(order.date(least + 24 * 60));
            let label = format!("log `{}` as done on {day}", task.id);
            let later = Work { done: day, at: None, ..work.clone() };
            finding.fixes.push(Fix::of(Edit::set(checked.plan, &at, later, label)));
        }
        findings.push(finding);
    }
    findings
}

#[cfg(test)]
mod tests {
    use super::super::trial::{demo, every_remedy_clears, found, with};
    use dryfit_plan::Plan;
    use serde_json::json;

    const RULE: &str = "order/wait";

    /// Where a task is logged.
    fn logged(task: &str) -> String {
        format!("/{}/{task}", "work")
    }

    /// A room in which the openings were measured so long after the last box was built.
    fn measured(at: &str) -> Plan {
        let plan = with(&demo(), &logged("build~1b1"), json!({ "done": "2026-03-21", "at": "12:00" }));
        with(&plan, &logged("openings"), json!({ "done": "2026-03-21", "at": at }))
    }

    #[test]
    fn an_hour_in_clamps_and_half_an_hour_of_measuring_is_the_least() {
        assert!(found(&measured("13:30"), RULE).is_empty());
        let early = measured("13:29");
        let findings = found(&early, RULE);
        assert_eq!(findings.len(), 1);
        assert_eq!(
            findings[0].what,
            "`openings` was begun 0 h after `build/b1`, and has to wait 1 h: glue in clamps"
        );
        every_remedy_clears(&early, &findings[0]);
    }
}
