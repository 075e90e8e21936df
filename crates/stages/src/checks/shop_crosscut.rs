//! `shop/crosscut`: every crosscut can be made with what the shop has.
//!
//! What it checks: each crosscut of the layouts: the saw crosscuts that wide, or the guide is as long as the cut.
//! Limits that are not stated are not checked.
//!
//! Why it matters: a wide panel pushed over a small saw by its short edge turns, and kicks.
//!
//! Source: what the plan states of the shop.
//!
//! Example: a crosscut over a whole sheet is 48 in; a saw that crosscuts 24 in leaves it to a guide.
//!
//! Severity: *look*.
//!
//! Remedy: a guide as long as the cut.

use super::Checked;
use super::sawn;
use crate::finding::Finding;
use crate::layouts::CutWay;

/// Goods with crosscuts that the shop cannot make.
pub(super) fn check(checked: &Checked<'_>) -> Vec<Finding> {
    let Some(most) = checked.plan.shop.crosscut else { return Vec::new() };
    checked.beyond(
        "shop/crosscut",
        CutWay::Cross,
        ("crosscut", most.length),
        |_, cut| sawn::length(cut),
        |good, wide, _| format!("`{good}` has to be crosscut over {wide}"),
    )
}

#[cfg(test)]
mod tests {
    use super::super::trial::{demo, derive, every_remedy_clears, found, with};
    use super::sawn;
    use crate::layouts::CutWay;
    use dryfit_measure::{Length, Stated, Unit};
    use dryfit_plan::Plan;

    const RULE: &str = "shop/crosscut";

    /// The demo's shop with a guide and a saw of these lengths.
    fn shop(guide: Length, saw: Length) -> Plan {
        let inches = |length| Stated { length, unit: Unit::Inch };
        with(&with(&demo(), "/shop/straightedge", inches(guide)), "/shop/crosscut", inches(saw))
    }

    #[test]
    fn the_shop_of_the_demo_crosscuts_everything() {
        assert!(found(&demo(), RULE).is_empty());
    }

    #[test]
    fn exactly_the_longest_crosscut_passes_and_a_mark_less_does_not() {
        let layouts = derive(&demo()).layouts;
        let cuts = layouts.sheets.iter().flat_map(|stack| &stack.sheets).flat_map(|sheet| &sheet.cuts);
        let longest = cuts.filter(|cut| cut.way == CutWay::Cross).map(sawn::length).max().expect("crosscuts");
        let short = Length::inches(1, 0, 1);
        assert!(found(&shop(short, longest), RULE).is_empty());
        assert!(found(&shop(longest, short), RULE).is_empty());
        let plan = shop(short, longest - Length::inches(0, 1, 16));
        let findings = found(&plan, RULE);
        assert!(!findings.is_empty());
        assert!(findings[0].what.contains(": the saw takes 48 15/16 in"), "{}", findings[0].what);
        every_remedy_clears(&plan, &findings[0]);
    }
}
