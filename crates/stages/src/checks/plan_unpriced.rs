//! `plan/unpriced`: everything that has to be bought has a price.
//!
//! What it checks: goods on the buying list that are not on hand and of which no pack has a price.
//!
//! Why it matters: the sum at the foot of the list is taken for what the room costs.
//!
//! Source: what the plan states.
//!
//! Example: a sink without a price is left out of the sum.
//!
//! Severity: *note*.
//!
//! Remedy: none that the program knows: ask, and state what was said.

use dryfit_measure::Pointer;

use super::Checked;
use super::found::found;
use crate::finding::{Finding, Severity};

/// The most goods that are named.
const NAMED: usize = 3;

/// What the sum leaves out.
pub(super) fn check(checked: &Checked<'_>) -> Vec<Finding> {
    let goods = &checked.takeoff.unpriced;
    let mut names: Vec<String> = goods.iter().take(NAMED).map(|key| format!("`{key}`")).collect();
    if let Some(more) = goods.len().checked_sub(NAMED).filter(|more| *more > 0) {
        names.push(format!("{more} more"));
    }
    let (listed, them) = match names.as_slice() {
        [] => return Vec::new(),
        [one] => (one.clone(), "it"),
        [most @ .., last] => (format!("{} and {last}", most.join(", ")), "them"),
    };
    let what = format!("no price is stated for {listed}: the sum of what to buy leaves {them} out");
    // no subjects: its identity does not change with each price that is asked
    vec![found("plan/unpriced", Severity::Note, Vec::new(), Pointer::root().child("goods"), what)]
}

#[cfg(test)]
mod tests {
    use super::super::trial::{demo, found, with};
    use dryfit_measure::Pointer;
    use dryfit_plan::{Draft, Plan};

    const RULE: &str = "plan/unpriced";

    /// The demo without the prices of these packs.
    fn without(packs: &[&str]) -> Plan {
        let plan = demo();
        let draft = packs.iter().fold(Draft::of(&plan), |draft, pack| {
            draft.remove(&Pointer::parse(&format!("/goods/{pack}/price")).expect("a pointer"))
        });
        plan.apply(&draft.edit("not asked yet")).expect("still a plan").0
    }

    #[test]
    fn everything_in_the_demo_has_a_price() {
        assert!(found(&demo(), RULE).is_empty());
    }

    #[test]
    fn what_has_none_is_named_once() {
        let one = found(&without(&["sink/packs/one"]), RULE);
        assert_eq!(one.len(), 1);
        assert_eq!(one[0].what, "no price is stated for `sink`: the sum of what to buy leaves it out");
        let goods = [
            "sink/packs/one",
            "hinge/packs/pair",
            "pull/packs/one",
            "glue/packs/bottle",
            "ply-6/packs/sheet",
        ];
        let many = found(&without(&goods), RULE);
        assert_eq!(many.len(), 1);
        assert_eq!(
            many[0].what,
            "no price is stated for `ply-6`, `hinge`, `pull` and 2 more: the sum of what to buy leaves them out"
        );
    }

    #[test]
    fn what_is_on_hand_needs_none() {
        let stocked = |count: u32| {
            let lot = serde_json::json!({ "good": "sink", "count": count });
            with(&without(&["sink/packs/one"]), "/lots/l1", lot)
        };
        assert!(found(&stocked(1), RULE).is_empty());
        assert_eq!(found(&stocked(0), RULE).len(), 1);
    }
}
