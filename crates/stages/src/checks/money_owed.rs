//! `money/owed`: what went back to the shop was credited.
//!
//! What it checks: returns of which no credit is stated.
//!
//! Why it matters: a credit that nobody asks for is never paid.
//!
//! Source: what the plan states.
//!
//! Example: a warped board went back on 7 March, and nothing was credited for it.
//!
//! Severity: *note*.
//!
//! Remedy: enter its share of what its line cost as the credit, when the shop has paid it back.

use dryfit_measure::Pointer;
use dryfit_plan::Draft;

use super::Checked;
use super::found::found;
use crate::finding::{Finding, Fix, Severity};

/// Returns without a credit.
pub(super) fn check(checked: &Checked<'_>) -> Vec<Finding> {
    let told = checked.ledger.owed.iter().map(|owed| {
        let at = Pointer::root().child("receipts").child(owed.receipt.as_str()).child("returns");
        let at = at.child(owed.back.as_str());
        let what = format!(
            "`{}` of receipt `{}` went back and is not credited: {}",
            owed.back, owed.receipt, owed.money
        );
        let subjects = vec![owed.receipt.clone(), owed.back.clone()];
        let mut finding = found("money/owed", Severity::Note, subjects, at.clone(), what);
        let draft = Draft::of(checked.plan).set(&at.child("credit"), owed.money - owed.tax);
        let draft = draft.set(&at.child("tax"), owed.tax);
        finding.fixes.push(Fix::of(draft.edit(format!("{} was credited", owed.money))));
        finding
    });
    told.collect()
}

#[cfg(test)]
mod tests {
    use super::super::trial::{demo, derive, every_remedy_clears, found, without};

    const RULE: &str = "money/owed";

    #[test]
    fn a_return_is_owed_until_it_is_credited() {
        assert!(found(&demo(), RULE).is_empty());
        let plan = without(&demo(), "/receipts/c1/returns/t1/credit");
        let findings = found(&plan, RULE);
        assert_eq!(findings.len(), 1);
        every_remedy_clears(&plan, &findings[0]);
        // the remedy gives back what the line cost, to the cent
        let credited = plan.apply(&findings[0].fixes[0].edit).expect("it applies").0;
        assert_eq!(derive(&credited).ledger.paid, derive(&demo()).ledger.paid);
    }
}
