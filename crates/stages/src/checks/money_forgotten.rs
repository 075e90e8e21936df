//! `money/forgotten`: everything that gets used up on such a job is on the list.
//!
//! What it checks: the handbook's table of what a job uses up, by what this one counts, against the goods of the plan
//! that serve as such.
//!
//! Why it matters: rags, blades and tape are the fifth trip to the shop.
//!
//! Source: common practice, no source.
//!
//! Example: 25 sheets are cut, and no dust mask is on the list.
//!
//! Severity: *note*.
//!
//! Remedy: put all of them among the goods, without a price yet.

use dryfit_measure::Pointer;
use dryfit_plan::Draft;

use super::Checked;
use super::found::found;
use crate::finding::{Finding, Fix, Severity};

/// The most that are named.
const NAMED: usize = 4;

/// What nobody thought of.
pub(super) fn check(checked: &Checked<'_>) -> Vec<Finding> {
    let missing = &checked.takeoff.forgotten;
    if missing.is_empty() {
        return Vec::new();
    }
    let mut names: Vec<String> = missing.iter().take(NAMED).map(|it| it.consumable.name.clone()).collect();
    if let Some(more) = missing.len().checked_sub(NAMED).filter(|more| *more > 0) {
        names.push(format!("{more} more"));
    }
    let what = format!("this job uses up what is not on the list: {}", names.join(", "));
    let at = Pointer::root().child("goods");
    let mut finding = found("money/forgotten", Severity::Note, Vec::new(), at.clone(), what);
    let named = missing.iter().filter_map(|one| Some((checked.plan.free_key(one.id)?, one.good())));
    let draft = Draft::of(checked.plan);
    let draft = named.fold(draft, |draft, (key, good)| draft.set(&at.child(key.as_str()), good));
    let label = format!("put the {} of them among the goods", missing.len());
    finding.fixes.push(Fix::of(draft.edit(label)));
    vec![finding]
}

#[cfg(test)]
mod tests {
    use super::super::trial::{demo, every_remedy_clears, found, frameless, without};

    const RULE: &str = "money/forgotten";

    #[test]
    fn what_serves_is_not_forgotten() {
        assert!(found(&demo(), RULE).is_empty());
        let saw = demo()
            .goods
            .iter()
            .find(|(_, good)| good.serves.as_deref() == Some("saw-blade"))
            .map(|it| it.0.clone());
        let plan = without(&demo(), &format!("/goods/{}", saw.expect("the demo has one")));
        let findings = found(&plan, RULE);
        assert_eq!(findings.len(), 1);
        assert_eq!(findings[0].what, "this job uses up what is not on the list: fine-tooth saw blade");
        every_remedy_clears(&plan, &findings[0]);
    }

    #[test]
    fn one_remedy_puts_all_of_them_on_the_list() {
        let mut plan = frameless();
        plan.goods.retain(|_, good| good.serves.is_none());
        let findings = found(&plan, RULE);
        assert_eq!(findings.len(), 1);
        every_remedy_clears(&plan, &findings[0]);
    }
}
