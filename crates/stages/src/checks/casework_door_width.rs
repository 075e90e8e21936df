//! `casework/door-width`: one door is no wider than its hinges hold straight.
//!
//! What it checks: the opening of every single door against the figure `door-width-most`.
//!
//! Why it matters: a wide door hangs by its edge, sags, and swings into the room as far as it is wide.
//!
//! Source: common practice, no source.
//!
//! Example: an opening of 27 in wants two doors.
//!
//! Remedy: a pair.

use dryfit_plan::{Draft, Front};

use super::Checked;
use super::found::{found, unit_at};
use crate::casework::BuiltUnit;
use crate::figures::Figures;
use crate::finding::{Finding, Fix, Severity};

/// Units with single doors that are too wide, each named once by its widest.
pub(super) fn check(checked: &Checked<'_>) -> Vec<Finding> {
    checked.casework.units.iter().filter_map(|built| too_wide(checked, built)).collect()
}

fn too_wide(checked: &Checked<'_>, built: &BuiltUnit) -> Option<Finding> {
    let most = Figures::of_unit(checked.plan, &built.key).dim("door-width-most");
    let mut wide = Vec::new();
    for leaf in checked.leaves(&built.key) {
        let Front::Door { height, .. } = leaf.front else { continue };
        let opening = built.openings.iter().find(|opening| opening.front == leaf.path);
        let opening = opening.filter(|opening| opening.width.length() > most.length());
        wide.extend(opening.map(|opening| (leaf.at, &opening.width, *height)));
    }
    let (_, widest, _) = wide.iter().max_by_key(|(_, width, _)| width.length())?;
    let what = format!(
        "the door of `{}` closes an opening {} wide, one door should close at most {}",
        built.key,
        checked.needed(widest),
        checked.available(&most)
    );
    let at = unit_at(&built.key).child("fronts");
    let mut finding = found("casework/door-width", Severity::Look, vec![built.key.clone()], at, what);
    finding.because = vec![(*widest).clone(), most.clone()];
    finding.short_by = Some((*widest - &most).named("too wide by"));
    let draft = wide
        .into_iter()
        .fold(Draft::of(checked.plan), |draft, (at, _, height)| draft.set(&at, Front::Pair { height }));
    finding.fixes.push(Fix::of(draft.edit(format!("close it with two doors in `{}`", built.key))));
    Some(finding)
}

#[cfg(test)]
mod tests {
    use super::super::trial::{demo, every_remedy_clears, found, with};
    use dryfit_plan::Plan;

    /// The demo's tall cupboard, so wide: its opening is 3 in narrower.
    fn wide(width: &str) -> Plan {
        with(&demo(), "/units/t1/width", serde_json::json!({ "given": width }))
    }

    #[test]
    fn the_doors_of_the_demo_are_narrow_enough() {
        assert!(found(&demo(), "casework/door-width").is_empty());
    }

    #[test]
    fn a_door_in_a_split_part_of_a_front_is_seen_too() {
        let plan = wide("30 in");
        let inner = serde_json::json!({ "down": { "order": ["a", "b"], "parts": {
            "a": { "door": { "hinge": "left" } }, "b": { "door": { "hinge": "left" } } } } });
        let plan = with(&plan, "/units/t1/fronts/down/parts/d1", inner);
        let findings = found(&plan, "casework/door-width");
        assert_eq!(findings.len(), 1);
        every_remedy_clears(&plan, &findings[0]);
        let alone = serde_json::json!({ "down": { "order": ["a"], "parts": { "a": { "door": { "hinge": "left" } } } } });
        let plan = with(
            &plan,
            "/units/t1/fronts",
            serde_json::json!({ "down": { "order": ["d"], "parts": { "d": alone } } }),
        );
        assert_eq!(found(&plan, "casework/door-width").len(), 1, "two levels down and nowhere else");
    }

    #[test]
    fn exactly_at_the_limit_one_door_will_do() {
        assert!(found(&wide("27 in"), "casework/door-width").is_empty());
        let plan = wide("27 1/16 in");
        let findings = found(&plan, "casework/door-width");
        assert!(!findings.is_empty());
        assert!(
            findings[0].what.ends_with("24 1/16 in wide, one door should close at most 24 in"),
            "{}",
            findings[0].what
        );
        every_remedy_clears(&plan, &findings[0]);
    }
}
