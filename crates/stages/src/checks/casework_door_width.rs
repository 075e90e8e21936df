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

use dryfit_measure::Pointer;
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
    let front = checked.plan.units.get(&built.key)?.fronts.as_ref()?;
    let most = Figures::of_unit(checked.plan, &built.key).dim("door-width-most");
    let at = unit_at(&built.key).child("fronts");
    let mut wide = Vec::new();
    for (at, name, height) in doors(front, &at) {
        let opening = built.openings.iter().find(|opening| opening.front == name);
        wide.extend(
            opening.filter(|one| one.width.length() > most.length()).map(|one| (at, &one.width, height)),
        );
    }
    let (_, widest, _) = wide.iter().max_by_key(|(_, width, _)| width.length())?;
    let what = format!(
        "the door of `{}` closes an opening {} wide, one door should close at most {}",
        built.key,
        checked.needed(widest),
        checked.available(&most)
    );
    let mut finding = found("casework/door-width", Severity::Look, vec![built.key.clone()], at, what);
    finding.because = vec![(*widest).clone(), most.clone()];
    finding.short_by = Some((*widest - &most).named("too wide by"));
    let draft = wide
        .into_iter()
        .fold(Draft::of(checked.plan), |draft, (at, _, height)| draft.set(&at, Front::Pair { height }));
    finding.fixes.push(Fix::of(draft.edit(format!("close it with two doors in `{}`", built.key))));
    Some(finding)
}

/// Every single door of a front: where it is stated, the name of its opening, and its stated height.
fn doors(front: &Front, at: &Pointer) -> Vec<(Pointer, String, Option<dryfit_measure::Stated>)> {
    match front {
        Front::Door { height, .. } => vec![(at.clone(), "front".to_owned(), *height)],
        Front::Down { parts, .. } => parts
            .iter()
            .flat_map(|(key, part)| {
                let at = at.child("down").child("parts").child(key.as_str());
                let named = doors(part, &at).into_iter();
                named.map(|(at, _, height)| (at, key.to_string(), height)).collect::<Vec<_>>()
            })
            .collect(),
        _ => Vec::new(),
    }
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
