//! `order/open-time`: what has to follow within a time follows within it.
//!
//! What it checks: whether there is an order in which every greatest lag is kept: contact adhesive is joined while
//! it is tacky, in hours in which both can be done.
//!
//! Why it matters: adhesive that has dried out holds nothing, and a sheet of laminate goes with it.
//!
//! Source: common practice, no source.
//!
//! Example: spreading takes 45 min, it is tacky after 20, and joining takes 45: an evening of an hour holds no
//! such stretch.
//!
//! Severity: *look*.
//!
//! Remedy: a Saturday with hours enough.

use dryfit_measure::Pointer;
use dryfit_plan::{Edit, WorkingHours};

use super::Checked;
use super::found::found;
use crate::finding::{Finding, Fix, Severity};

/// Tasks that cannot follow in time.
pub(super) fn check(checked: &Checked<'_>) -> Vec<Finding> {
    let Some(first) = checked.order.loose.first() else { return Vec::new() };
    let at = Pointer::root().child("calendar").child("hours").child("saturday");
    let what = format!("`{first}` cannot follow in time on what it is joined to: no working hours hold both");
    let mut finding = found("order/open-time", Severity::Look, Vec::new(), at.clone(), what);
    if let Ok(hours) = "09:00-17:00".parse::<WorkingHours>() {
        let label = "work on Saturdays from 9 to 17";
        finding.fixes.push(Fix::of(Edit::set(checked.plan, &at, [hours], label)));
    }
    vec![finding]
}

#[cfg(test)]
mod tests {
    use super::super::trial::{demo, every_remedy_clears, found, with};
    use dryfit_plan::Plan;
    use serde_json::json;

    const RULE: &str = "order/open-time";

    /// The demo with help at any time, and one evening a day.
    fn evenings(until: &str) -> Plan {
        let hours = [format!("19:00-{until}")];
        let plan = with(&demo(), "/shop/helper", true);
        with(&plan, "/calendar/hours", json!({ "monday": hours, "thursday": hours }))
    }

    #[test]
    fn the_evening_that_just_holds_both_is_enough_and_a_minute_less_is_not() {
        // 45 min to spread, 20 to wait, 45 to join
        assert!(found(&evenings("20:50"), RULE).is_empty());
        let short = evenings("20:49");
        let findings = found(&short, RULE);
        assert_eq!(findings.len(), 1);
        every_remedy_clears(&short, &findings[0]);
    }
}
