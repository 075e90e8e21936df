//! `money/batch`: what has to be of one batch was bought of one batch.
//!
//! What it checks: the batches that receipts and lots state of a good whose pieces have to match.
//!
//! Why it matters: paint and tile of two batches differ in shade, and it shows on one wall.
//!
//! Source: what the plan states of the good; ANSI A137.1 sorts tile by shade.
//!
//! Example: two boxes of tile of batch 14C, and one of 15A.
//!
//! Severity: *look*.
//!
//! Remedy: no edit makes one batch of two: take one of them back, or mix them before any is used.

use std::collections::BTreeSet;

use dryfit_measure::Pointer;

use super::Checked;
use super::found::found;
use crate::finding::{Finding, Severity};

/// Goods that were bought of several batches.
pub(super) fn check(checked: &Checked<'_>) -> Vec<Finding> {
    let plan = checked.plan;
    let told = checked.takeoff.lines.iter().filter(|line| line.one_batch).filter_map(|line| {
        // what went back, all of it, is not there to be mixed in
        let kept = plan.receipts.values().flat_map(|receipt| {
            receipt.lines.iter().filter(|(key, bought)| {
                let back = receipt.returns.values().filter(|back| back.line == **key);
                back.map(|back| back.count).sum::<u32>() < bought.count
            })
        });
        let bought = kept
            .filter(|(_, it)| it.good.as_ref() == Some(&line.good))
            .filter_map(|(_, it)| it.batch.as_ref());
        let here =
            plan.lots.values().filter(|lot| lot.good == line.good).filter_map(|lot| lot.batch.as_ref());
        let batches: BTreeSet<&str> = bought.chain(here).map(String::as_str).collect();
        if batches.len() < 2 {
            return None;
        }
        let named: Vec<&str> = batches.into_iter().collect();
        let what = format!("`{}` has to be of one batch, and there is {}", line.good, named.join(" and "));
        let at = Pointer::root().child("goods").child(line.good.as_str());
        Some(found("money/batch", Severity::Look, vec![line.good.clone()], at, what))
    });
    told.collect()
}

#[cfg(test)]
mod tests {
    use serde_json::json;

    use super::super::trial::{demo, found, with};

    const RULE: &str = "money/batch";

    #[test]
    fn two_batches_of_a_paint_are_seen_and_one_is_none() {
        let bought = |second: &str| {
            let line = |batch: &str| json!({ "good": "cabinet-paint", "pack": "quart", "money": "31.00", "batch": batch });
            let plan = with(&demo(), "/receipts/c2/lines/x", line("14C"));
            with(&plan, "/receipts/c2/lines/y", line(second))
        };
        assert!(found(&bought("14C"), RULE).is_empty());
        // what is taken back clears it, when all of it is
        let back = |count: u32| {
            let plan = with(&bought("15A"), "/receipts/c2/lines/y/count", 2);
            let back = json!({ "line": "y", "count": count, "on": "2026-03-08" });
            found(&with(&plan, "/receipts/c2/returns/z", back), RULE).len()
        };
        assert_eq!([back(1), back(2)], [1, 0]);
        let findings = found(&bought("15A"), RULE);
        assert_eq!(findings.len(), 1);
        assert_eq!(findings[0].what, "`cabinet-paint` has to be of one batch, and there is 14C and 15A");
    }
}
