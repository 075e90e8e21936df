//! `order/delivery`: what has to come is ordered so early that nothing waits for it.
//!
//! What it checks: the day by which each good with lead days has to be ordered against the first day of the work.
//!
//! Why it matters: a room that stands open waits for a sheet of laminate.
//!
//! Source: what the plan states of the good.
//!
//! Example: laminate comes five working days after it is ordered, and is needed on the third day.
//!
//! Severity: *look*.
//!
//! Remedy: order it on that day, before the work begins.

use dryfit_measure::Pointer;
use dryfit_plan::{Day, Edit};

use super::Checked;
use super::found::found;
use crate::finding::{Finding, Fix, Severity};

/// Goods that would have to be ordered before the first day.
pub(super) fn check(checked: &Checked<'_>) -> Vec<Finding> {
    let Some(start) = checked.order.start else { return Vec::new() };
    let late = checked.order.order_by.iter().filter(|one| one.by < start.date());
    let told = late.map(|one| {
        let what = format!(
            "`{}` is needed for `{}` on {}, so it has to be ordered by {}, and the work begins on {start}",
            one.good,
            one.task,
            checked.order.date(one.needed),
            one.by
        );
        let at =
            Pointer::root().child("calendar").child("deliveries").child(one.good.as_str()).child("ordered");
        let mut finding = found("order/delivery", Severity::Look, vec![one.good.clone()], at.clone(), what);
        let label = format!("order `{}` on {}", one.good, one.by);
        finding.fixes.push(Fix::of(Edit::set(checked.plan, &at, Day::from(one.by), label)));
        finding
    });
    told.collect()
}

#[cfg(test)]
mod tests {
    use super::super::trial::{demo, derive, every_remedy_clears, found, with};

    const RULE: &str = "order/delivery";

    #[test]
    fn ordered_on_the_first_day_is_in_time_and_a_working_day_more_is_not() {
        assert!(found(&demo(), RULE).is_empty());
        let plan = |lead: u16| with(&demo(), "/goods/laminate/lead_days", lead);
        let start = demo().calendar.start.expect("stated").date();
        let by = |lead: u16| {
            let order = derive(&plan(lead)).order;
            order.order_by.iter().find(|one| one.good.as_str() == "laminate").map(|one| one.by)
        };
        let most = (5..200).take_while(|lead| by(*lead) >= Some(start)).last().expect("some lead is in time");
        assert!(found(&plan(most), RULE).is_empty());
        let findings = found(&plan(most + 1), RULE);
        assert_eq!(findings.len(), 1);
        every_remedy_clears(&plan(most + 1), &findings[0]);
    }
}
