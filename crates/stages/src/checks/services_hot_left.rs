//! `services/hot-left`: hot water comes out on the left of cold.
//!
//! What it checks: the stubs of hot and cold that serve one unit, along the wall.
//!
//! Why it matters: whoever turns the left tap expects hot water, and is scalded at the right one.
//!
//! Source: IRC P2722.2 and its like, from memory.
//!
//! Example: hot at 65 in, cold at 73 in.
//!
//! Remedy: the two stubs exchanged.

use dryfit_plan::Draft;

use super::Checked;
use super::found::found;
use crate::finding::{Finding, Fix, Severity};
use crate::services::{PlacedRun, RunKind};

const RULE: &str = "services/hot-left";

/// Hot water on the right.
pub(super) fn check(checked: &Checked<'_>) -> Vec<Finding> {
    let hot = checked.services.runs.iter().filter(|run| run.kind == RunKind::Hot && !run.found);
    hot.filter_map(|hot| of_pair(checked, hot)).collect()
}

fn of_pair(checked: &Checked<'_>, hot: &PlacedRun) -> Option<Finding> {
    let serves = hot.serves.as_ref()?;
    let cold = |run: &&PlacedRun| run.kind == RunKind::Cold && run.serves.as_ref() == Some(serves);
    let cold = checked.services.runs.iter().find(cold)?;
    let (left, right) = (hot.stub()?, cold.stub()?);
    let [here, there] = [&left.spot.along, &right.spot.along];
    if left.spot.wall != right.spot.wall || here.length() < there.length() {
        return None;
    }
    let what = format!(
        "hot water for `{serves}` comes out {} along, and cold {} along, on its left",
        checked.needed(here),
        checked.available(there)
    );
    let subjects = vec![hot.key.clone(), cold.key.clone()];
    let mut finding = found(RULE, Severity::Look, subjects, left.at.child("along"), what);
    if !cold.found && here.length() > there.length() {
        let draft = checked.slid(Draft::of(checked.plan), hot, here.length(), there.length());
        let draft = checked.slid(draft, cold, there.length(), here.length());
        finding.fixes = vec![Fix::of(draft.edit(format!("exchange `{}` and `{}`", hot.key, cold.key)))];
    }
    finding.because = vec![here.clone(), there.clone()];
    let rules = &checked.services.rules;
    let rule = &rules.plumbing().hand;
    Some(Finding { source: rules.cite(&rule.cite, rule.seen), ..finding })
}

#[cfg(test)]
mod tests {
    use super::super::trial::{demo, every_remedy_clears, found, with};
    use super::RULE;

    #[test]
    fn hot_is_on_the_left_of_the_demo() {
        assert!(found(&demo(), RULE).is_empty());
    }

    #[test]
    fn exchanged_it_is_told_and_put_right() {
        let set = |plan, node: &str, along: &str| with(&plan, &format!("/services/{node}/along"), along);
        let plan = set(demo(), "hot/pipe/nodes/y3/stub", "75 in");
        let plan = set(plan, "hot/pipe/nodes/y2/at", "75 in");
        let plan = set(plan, "hot/pipe/nodes/y1/at", "75 in");
        let findings = found(&plan, RULE);
        assert_eq!(
            findings[0].what,
            "hot water for `b4` comes out 75 in along, and cold 73 in along, on its left"
        );
        every_remedy_clears(&plan, &findings[0]);
        assert!(found(&set(demo(), "hot/pipe/nodes/y3/stub", "72 15/16 in"), RULE).is_empty());
        assert_eq!(found(&set(demo(), "hot/pipe/nodes/y3/stub", "73 in"), RULE).len(), 1);
    }
}
