//! `services/behind`: a box can be reached when everything stands.
//!
//! What it checks: boxes that a unit on their wall covers, unless the unit is the appliance that is plugged in there, or
//! a hole is cut for the box through its back.
//!
//! Why it matters: a joint or a receptacle behind a fixed back cannot be looked at again, and is forgotten.
//!
//! Source: NEC 314.29, boxes stay accessible.
//!
//! Example: a receptacle at 12 in up behind a base unit.
//!
//! Remedy: a hole through the back, where one unit covers it; the box above the worktop.

use dryfit_measure::{Key, Toward};
use dryfit_plan::{BoxPurpose, Draft, UnitKind};

use super::Checked;
use super::found::found;
use super::piped::stated_at;
use crate::figures::Figures;
use crate::finding::{Finding, Fix, Severity};
use crate::services::PlacedBox;

const RULE: &str = "services/behind";

/// Boxes that cannot be reached.
pub(super) fn check(checked: &Checked<'_>) -> Vec<Finding> {
    checked.services.boxes.iter().filter_map(|placed| of_box(checked, placed)).collect()
}

fn of_box(checked: &Checked<'_>, placed: &PlacedBox) -> Option<Finding> {
    let dryfit_plan::Service::Box(stated) = checked.plan.services.get(&placed.key)? else { return None };
    let hides = |unit: &&Key| {
        let appliance = checked.plan.units.get(*unit).is_some_and(|unit| unit.kind == UnitKind::Appliance);
        let plugged = appliance && stated.serves.as_ref() == Some(*unit);
        !plugged && stated.through.as_ref() != Some(*unit)
    };
    let hidden: Vec<&Key> = placed.behind.iter().filter(hides).collect();
    let first = *hidden.first()?;
    let at = stated_at(checked.plan, &placed.key);
    let what = format!(
        "`{}` at {} up lies behind `{first}`, and nothing in its back lets it be reached",
        placed.key,
        checked.needed(&placed.spot.up)
    );
    let subjects = vec![placed.key.clone(), first.clone()];
    let mut finding = found(RULE, Severity::Stop, subjects, at.clone(), what);
    finding.because = vec![placed.spot.up.clone()];
    if let [only] = hidden.as_slice()
        && has_back(checked, only)
        && stated.through.is_none()
    {
        let label = format!("cut a hole for `{}` through the back of `{only}`", placed.key);
        finding.fixes.push(Fix::of(Draft::of(checked.plan).set(&at.child("through"), only).edit(label)));
    }
    if stated.purpose != BoxPurpose::Light
        && let Some(up) = over_top(checked, placed)
    {
        let up = checked.mark(up, Toward::Up);
        let label = format!("move `{}` to {up} up, above the worktop", placed.key);
        finding.fixes.push(Fix::of(Draft::of(checked.plan).set(&at.child("at").child("up"), up).edit(label)));
    }
    let rules = &checked.services.rules;
    let rule = &rules.wiring().access;
    Some(Finding { source: rules.cite_wiring(&rule.cite, rule.seen), ..finding })
}

fn has_back(checked: &Checked<'_>, unit: &Key) -> bool {
    let built = checked.casework.units.iter().find(|built| built.key == *unit);
    built.is_some_and(|built| built.parts.iter().any(|part| part.role == "back"))
}

/// A height above the worktop before the box at which nothing covers it: halfway to the code's limit.
fn over_top(checked: &Checked<'_>, placed: &PlacedBox) -> Option<dryfit_measure::Length> {
    let (top, _) = checked.top_before(placed)?;
    let least = Figures::of_handbook(checked.plan).dim("box-above-top").length();
    let half = placed.edge(1, 1).length() - placed.spot.up.length();
    let up = top.upper.length() + least * 3 + half;
    let free = |unit: &&crate::placement::PlacedUnit| {
        unit.wall == placed.spot.wall
            && unit.kind != UnitKind::Gap
            && unit.along.length() < placed.edge(0, 1).length()
            && unit.right().length() > placed.edge(0, -1).length()
            && unit.up.length() < up + half
            && unit.top().length() > up - half
    };
    (!checked.placement.units.iter().any(|unit| free(&unit))).then_some(up)
}

#[cfg(test)]
mod tests {
    use super::super::trial::{demo, every_remedy_clears, found, with};
    use super::RULE;

    #[test]
    fn the_boxes_of_the_demo_can_be_reached() {
        assert!(found(&demo(), RULE).is_empty());
    }

    #[test]
    fn a_receptacle_behind_a_base_unit_is_cut_through_or_moved() {
        let plan = with(&demo(), "/services/rc1/box/at/up", "20 in");
        let findings = found(&plan, RULE);
        assert_eq!(findings.len(), 1);
        assert_eq!(
            findings[0].what,
            "`rc1` at 20 in up lies behind `b3`, and nothing in its back lets it be reached"
        );
        assert_eq!(findings[0].fixes.len(), 2);
        every_remedy_clears(&plan, &findings[0]);
    }

    #[test]
    fn one_whose_edge_just_clears_the_box_passes() {
        // boxes end 35 1/4 in up, and half of 3 3/4 is 1 7/8
        assert!(found(&with(&demo(), "/services/rc1/box/at/up", "37 1/8 in"), RULE).is_empty());
        assert_eq!(found(&with(&demo(), "/services/rc1/box/at/up", "37 1/16 in"), RULE).len(), 1);
    }

    #[test]
    fn behind_its_own_appliance_it_is_right() {
        let plan = demo();
        let at = dryfit_measure::Pointer::parse("/services/rc3/box/serves").expect("a pointer");
        let draft = dryfit_plan::Draft::of(&plan).remove(&at);
        let (plan, _) = plan.apply(&draft.edit("nobody's")).expect("still a plan");
        assert_eq!(found(&plan, RULE).len(), 1);
    }
}
