//! `shop/rip`: every rip can be made with what the shop has.
//!
//! What it checks: each rip of the layouts: the fence goes that far from the blade, or the guide is as long as the
//! cut. A factory edge is trimmed with the rest of the sheet at the fence. Limits that are not stated are not
//! checked.
//!
//! Why it matters: the layout is the shopping list: a cut that cannot be made turns it into waste paper.
//!
//! Source: what the plan states of the shop.
//!
//! Example: a strip of 35 in from a sheet of 96 in needs a fence that goes to 35 in, or a guide of 96 in.
//!
//! Severity: *look*: the shop that sells the sheet can make the cut.
//!
//! Remedy: a guide as long as the cut.

use super::Checked;
use crate::finding::Finding;
use crate::layouts::CutWay;

/// Goods with rips that the shop cannot make.
pub(super) fn check(checked: &Checked<'_>) -> Vec<Finding> {
    let Some(most) = checked.plan.shop.rip else { return Vec::new() };
    checked.beyond(
        "shop/rip",
        CutWay::Rip,
        ("rip", most.length),
        |sheet, cut| cut.setting.unwrap_or(sheet.width),
        |good, wide, long| format!("`{good}` has to be ripped {wide} from the fence, over {long}"),
    )
}

#[cfg(test)]
mod tests {
    use super::super::trial::{demo, every_remedy_clears, found, with};
    use dryfit_measure::Pointer;
    use dryfit_plan::{Draft, Plan};

    const RULE: &str = "shop/rip";

    /// The demo's shop with a guide and a fence of these lengths.
    fn shop(guide: &str, fence: &str) -> Plan {
        with(&with(&demo(), "/shop/straightedge", guide), "/shop/rip", fence)
    }

    #[test]
    fn the_shop_of_the_demo_rips_everything() {
        assert!(found(&demo(), RULE).is_empty());
    }

    #[test]
    fn a_guide_as_long_as_the_sheet_will_do_and_a_shorter_one_will_not() {
        assert!(found(&shop("145 in", "1 in"), RULE).is_empty(), "exactly as long as the longest cut");
        let plan = shop("144 in", "30 in");
        let findings = found(&plan, RULE);
        assert!(!findings.is_empty());
        let what = &findings[0].what;
        assert!(what.ends_with("over 145 in: the saw takes 30 in, and the guide is 144 in long"), "{what}");
        every_remedy_clears(&plan, &findings[0]);
    }

    #[test]
    fn without_a_guide_the_fence_has_to_go_as_far_as_the_sheet_is_wide() {
        let plan = demo();
        let at = Pointer::parse("/shop/straightedge").expect("a pointer");
        let (plan, _) = plan.apply(&Draft::of(&plan).remove(&at).edit("no guide")).expect("still a plan");
        assert!(found(&with(&plan, "/shop/rip", "49 in"), RULE).is_empty(), "exactly the sheet's width");
        let plan = with(&plan, "/shop/rip", "48 15/16 in");
        let findings = found(&plan, RULE);
        let what = &findings[0].what;
        assert!(what.ends_with("the saw takes 48 15/16 in, and there is no guide"), "{what}");
        every_remedy_clears(&plan, &findings[0]);
    }
}
