//! `order/sink`: the room is without its sink no longer than is wished.
//!
//! What it checks: the days from when the water is shut off until it has been proved on again.
//!
//! Why it matters: that is how long whoever lives there carries water.
//!
//! Source: what the plan states.
//!
//! Example: 30 days, where 10 were hoped for.
//!
//! Severity: *look*.
//!
//! Remedy: the days that it takes, if they can be borne; more hours in the week shorten them.

use dryfit_measure::Pointer;
use dryfit_plan::Edit;

use super::Checked;
use super::found::found;
use crate::finding::{Finding, Fix, Severity};
use crate::order::Order;

/// More days without a sink than are wished.
pub(super) fn check(checked: &Checked<'_>) -> Vec<Finding> {
    let (Some(most), Some(stretch)) = (checked.plan.calendar.without_sink, checked.order.without_sink) else {
        return Vec::new();
    };
    let days = Order::days(stretch);
    if days <= i64::from(most) {
        return Vec::new();
    }
    let at = Pointer::root().child("calendar").child("without_sink");
    let what = format!("{days} days without a sink, and {most} were hoped for");
    let mut finding = found("order/sink", Severity::Look, Vec::new(), at.clone(), what);
    let label = format!("be {days} days without a sink");
    finding.fixes.push(Fix::of(Edit::set(checked.plan, &at, days, label)));
    vec![finding]
}

#[cfg(test)]
mod tests {
    use super::super::trial::{demo, derive, every_remedy_clears, found, with};
    use crate::order::Order;

    const RULE: &str = "order/sink";

    #[test]
    fn as_many_days_as_hoped_for_are_enough_and_one_less_is_not() {
        let days = Order::days(derive(&demo()).order.without_sink.expect("it has a sink"));
        assert!(found(&with(&demo(), "/calendar/without_sink", days), RULE).is_empty());
        let plan = with(&demo(), "/calendar/without_sink", days - 1);
        let findings = found(&plan, RULE);
        assert_eq!(findings.len(), 1);
        every_remedy_clears(&plan, &findings[0]);
    }
}
