//! `money/receipt`: the lines of a receipt and its tax come to what was paid at the till.
//!
//! What it checks: the sum of each receipt's lines and its tax against its total, where that is stated.
//!
//! Why it matters: a line that was left out, or typed wrong, is missing from every sum for good.
//!
//! Source: what the plan states.
//!
//! Example: lines of 68.00 and 21.50 with 5.82 of tax on a receipt of 96.32.
//!
//! Severity: *look*.
//!
//! Remedy: take the sum of the lines for the total; or read the receipt again.

use dryfit_measure::{Money, Pointer};
use dryfit_plan::Edit;

use super::Checked;
use super::found::found;
use crate::finding::{Finding, Fix, Severity};

/// Receipts that do not add up.
pub(super) fn check(checked: &Checked<'_>) -> Vec<Finding> {
    let told = checked.plan.receipts.iter().filter_map(|(key, receipt)| {
        let (total, paid) = (receipt.total?, receipt.paid());
        let off = total - paid;
        let way = match off {
            off if off.is_zero() => return None,
            off if off > Money::ZERO => format!("{off} more than"),
            off => format!("{} less than", -off),
        };
        let what = format!("receipt `{key}` says {total}, {way} the {paid} of its lines and tax");
        let at = Pointer::root().child("receipts").child(key.as_str()).child("total");
        let mut finding = found("money/receipt", Severity::Look, vec![key.clone()], at.clone(), what);
        let label = format!("take {paid} for the total of `{key}`");
        finding.fixes.push(Fix::of(Edit::set(checked.plan, &at, paid, label)));
        Some(finding)
    });
    told.collect()
}

#[cfg(test)]
mod tests {
    use super::super::trial::{demo, every_remedy_clears, found, with};

    const RULE: &str = "money/receipt";

    #[test]
    fn a_cent_is_seen() {
        assert!(found(&demo(), RULE).is_empty());
        for (total, says) in [("95.33", "0.01 more than the 95.32"), ("95.31", "0.01 less than the 95.32")] {
            let plan = with(&demo(), "/receipts/c1/total", total);
            let findings = found(&plan, RULE);
            assert_eq!(findings.len(), 1);
            assert!(findings[0].what.contains(says), "{}", findings[0].what);
            every_remedy_clears(&plan, &findings[0]);
        }
    }
}
