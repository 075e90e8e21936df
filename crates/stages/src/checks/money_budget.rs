//! `money/budget`: no category costs more than was set aside for it.
//!
//! What it checks: what was paid and is still to pay of each category that has a budget, with tax, against the budget.
//!
//! Why it matters: it can be changed as long as the money is not spent.
//!
//! Source: what the plan states.
//!
//! Example: tile comes to 460.20, and 400.00 were set aside.
//!
//! Severity: *look*.
//!
//! Remedy: set aside as much as it comes to.

use dryfit_measure::Pointer;
use dryfit_plan::Edit;
use serde_json::json;

use super::Checked;
use super::found::found;
use crate::finding::{Finding, Fix, Severity};

/// Categories that go over.
pub(super) fn check(checked: &Checked<'_>) -> Vec<Finding> {
    let ledger = checked.ledger;
    let rows = ledger.categories.iter().chain([&ledger.tools]);
    let told = rows.filter_map(|row| {
        let budget = *checked.plan.budget.get(&row.of)?;
        let comes_to = row.forecast();
        if comes_to <= budget {
            return None;
        }
        let name = row.of.name();
        let what = format!(
            "{name} come to {comes_to}, {} more than the {budget} set aside: {} paid, {} still to pay",
            comes_to - budget,
            row.paid,
            row.to_pay
        );
        let key = json!(row.of).as_str().unwrap_or_default().to_owned();
        let at = Pointer::root().child("budget").child(key);
        let mut finding = found("money/budget", Severity::Look, Vec::new(), at.clone(), what);
        let label = format!("set aside {comes_to} for {}", name.to_lowercase());
        finding.fixes.push(Fix::of(Edit::set(checked.plan, &at, comes_to, label)));
        Some(finding)
    });
    told.collect()
}

#[cfg(test)]
mod tests {
    use dryfit_measure::Money;
    use dryfit_plan::Category;

    use super::super::trial::{demo, derive, every_remedy_clears, found, with};

    const RULE: &str = "money/budget";

    #[test]
    fn as_much_as_it_comes_to_is_enough_and_a_cent_less_is_not() {
        let ledger = derive(&demo()).ledger;
        let tile = ledger.categories.iter().find(|row| row.of == Category::Tile).expect("there is tile");
        let plan = with(&demo(), "/budget/tile", tile.forecast());
        assert!(found(&plan, RULE).is_empty());
        let plan = with(&demo(), "/budget/tile", tile.forecast() - Money::from_hundredths(1));
        let findings = found(&plan, RULE);
        assert_eq!(findings.len(), 1, "{findings:?}");
        every_remedy_clears(&plan, &findings[0]);
    }
}
