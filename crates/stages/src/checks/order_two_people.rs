//! `order/two-people`: somebody can help with what takes two people.
//!
//! What it checks: whether a task that takes two is left while nobody helps at any time that the builder works.
//!
//! Why it matters: what is held overhead by one who also drives the screws comes down.
//!
//! Source: common practice, no source.
//!
//! Example: a wall unit is to be hung, and no helper is stated.
//!
//! Severity: *look*.
//!
//! Remedy: a second person whenever there is work. A helper with hours of their own does it too.

use dryfit_measure::Pointer;
use dryfit_plan::Edit;

use super::Checked;
use super::found::found;
use crate::finding::{Finding, Fix, Severity};

/// Tasks for two where there is one.
pub(super) fn check(checked: &Checked<'_>) -> Vec<Finding> {
    if checked.plan.somebody_helps() {
        return Vec::new();
    }
    let tasks: Vec<String> = checked
        .order
        .tasks
        .iter()
        .filter(|task| task.two_people && task.done.is_none())
        .map(|task| format!("`{}`", task.id))
        .collect();
    let Some(first) = tasks.first() else { return Vec::new() };
    let more = if tasks.len() > 1 { format!(" and {} more", tasks.len() - 1) } else { String::new() };
    let at = Pointer::root().child("shop").child("helper");
    let what = format!("{first}{more} take two people, and nobody helps");
    let mut finding = found("order/two-people", Severity::Look, Vec::new(), at.clone(), what);
    finding.fixes.push(Fix::of(Edit::set(checked.plan, &at, true, "have a second person for the lifts")));
    vec![finding]
}

#[cfg(test)]
mod tests {
    use super::super::trial::{demo, every_remedy_clears, found, with};

    const RULE: &str = "order/two-people";

    #[test]
    fn a_neighbour_on_saturdays_is_enough_and_nobody_is_not() {
        assert!(found(&demo(), RULE).is_empty());
        let alone = with(&demo(), "/calendar/helpers/h1/hours/saturday", Vec::<String>::new());
        let findings = found(&alone, RULE);
        assert_eq!(findings.len(), 1);
        assert!(findings[0].what.ends_with("take two people, and nobody helps"), "{}", findings[0].what);
        every_remedy_clears(&alone, &findings[0]);
    }
}
