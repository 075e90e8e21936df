//! `fit/appliance-height`: an appliance goes under what is above it, with its feet out and its air.
//!
//! What it checks: height, feet screwed out and air above against the underside of the worktop over its run, or
//! where there is none of the lowest unit that hangs over it.
//!
//! Why it matters: the worktop is the last thing to go on and the first to be found too low.
//!
//! Source: the appliance's record in the plan.
//!
//! Example: 34 5/8 in high on feet of 1/8 in with 1/2 in of air needs 35 1/4 in; under boxes of 34 1/2 in it does
//! not go in.
//!
//! Severity: *stop* where the appliance itself does not go in, *look* where only air is lacking.
//!
//! Remedy: boxes under the worktop as high as the appliance asks for; a unit above hung higher.

use dryfit_measure::{Key, Length, Pointer, Toward};
use dryfit_plan::{Draft, Height, Level, UnitKind};

use super::Checked;
use super::found::{found, unit_at};
use crate::finding::{Finding, Fix, Severity};
use crate::placement::{ApplianceSize, PlacedTop, PlacedUnit, appliance};

/// Appliances that are too high for their place.
pub(super) fn check(checked: &Checked<'_>) -> Vec<Finding> {
    checked.placement.units.iter().filter_map(|unit| too_high(checked, unit)).collect()
}

/// What is above an appliance.
enum Above<'a> {
    Top(&'a PlacedTop),
    Unit(&'a PlacedUnit),
}

fn too_high(checked: &Checked<'_>, unit: &PlacedUnit) -> Option<Finding> {
    let stated = checked.plan.units.get(&unit.key).filter(|unit| unit.kind == UnitKind::Appliance)?;
    let size = |size| appliance(checked.plan, stated, size);
    let body = size(ApplianceSize::Height)? + size(ApplianceSize::Feet).unwrap_or_default();
    let needed = &body + size(ApplianceSize::AirTop)?;
    let above = above(checked, unit)?;
    let (under, name) = match &above {
        Above::Top(top) => (&top.upper - &top.thickness, format!("the underside of worktop `{}`", top.key)),
        Above::Unit(other) => (other.up.clone(), format!("the bottom of `{}`", other.key)),
    };
    let room = &under - &unit.up;
    let short = &needed - &room;
    if !short.length().is_positive() {
        return None;
    }
    let tight = body.length() > room.length();
    let (asked, air) = if tight { (&body, "") } else { (&needed, " with air above") };
    let what = format!(
        "`{}` needs {} of height{air}, and {name} is {} up",
        unit.key,
        checked.needed(asked),
        checked.available(&room)
    );
    let (other, at, fixes) = match above {
        Above::Top(top) => {
            let at = Pointer::root().child("tops").child(top.key.as_str()).child("over");
            (top.key.clone(), at, raise_boxes(checked, unit, &top.key))
        }
        Above::Unit(over) => {
            let at = unit_at(&unit.key).child("holds");
            (over.key.clone(), at, raise_run(checked, over, short.length()))
        }
    };
    let severity = if tight { Severity::Stop } else { Severity::Look };
    let mut finding = found("fit/appliance-height", severity, vec![unit.key.clone(), other], at, what);
    finding.fixes = fixes.into_iter().collect();
    finding.because = [
        needed.named("height on its feet, with air").placed(unit.key.as_str()),
        room.named("room for its height").placed(unit.key.as_str()),
    ]
    .into();
    finding.short_by = Some(short.named("too high by").placed(unit.key.as_str()));
    Some(finding)
}

/// The worktop over an appliance's run, unless the appliance is stated to be a height of its own; else the
/// lowest unit over it.
fn above<'a>(checked: &Checked<'a>, unit: &PlacedUnit) -> Option<Above<'a>> {
    let over = |top: &&PlacedTop| {
        let named = checked.plan.tops.get(&top.key).is_some_and(|top| top.over.contains(&unit.run));
        let own = checked.plan.units[&unit.key].height.is_some();
        let leg = top.legs.iter().any(|leg| {
            leg.run == unit.run
                && leg.from.length() < unit.right().length()
                && leg.to.length() > unit.along.length()
        });
        leg || (named && !own)
    };
    if let Some(top) = checked.placement.tops.iter().find(over) {
        return Some(Above::Top(top));
    }
    let hangs = |other: &&PlacedUnit| {
        other.wall == unit.wall
            && other.kind != UnitKind::Gap
            && other.up.length() > unit.up.length()
            && other.along.length() < unit.right().length()
            && other.right().length() > unit.along.length()
    };
    checked.placement.units.iter().filter(hangs).min_by_key(|other| other.up.length()).map(Above::Unit)
}

/// All boxes under the worktop as high as the appliance asks for.
fn raise_boxes(checked: &Checked<'_>, unit: &PlacedUnit, top: &Key) -> Option<Fix> {
    let plan = checked.plan;
    let runs = &plan.tops.get(top)?.over;
    if !matches!(plan.runs.get(&unit.run)?.level, Level::Floor) {
        return None;
    }
    let mut draft = Draft::of(plan);
    for run in runs.iter().filter(|run| plan.runs.contains_key(run)) {
        let at = Pointer::root().child("runs").child(run.as_str()).child("height");
        draft = draft.set(&at, Height::Clears(unit.key.clone()));
    }
    Some(Fix::of(draft.edit(format!("make the boxes under `{top}` as high as `{}` needs", unit.key))))
}

/// The run of the unit above so much higher.
fn raise_run(checked: &Checked<'_>, over: &PlacedUnit, by: Length) -> Option<Fix> {
    checked.plan.runs.get(&over.run)?;
    let up = checked.mark(over.up.length() + by, Toward::Up);
    let at = Pointer::root().child("runs").child(over.run.as_str()).child("level");
    let label = format!("hang `{}` {up} up", over.run);
    Some(Fix::of(Draft::of(checked.plan).set(&at, Level::Up(up)).edit(label)))
}

#[cfg(test)]
mod tests {
    use super::super::trial::{demo, every_remedy_clears, found, with};
    use crate::finding::Severity;
    use dryfit_plan::{Height, Plan};

    const RULE: &str = "fit/appliance-height";

    /// The demo with boxes of one stated height under its worktop.
    fn boxes(height: &str) -> Plan {
        let given = || Height::Given(height.parse().expect("a length"));
        ["left", "back", "right"]
            .iter()
            .fold(demo(), |plan, run| with(&plan, &format!("/runs/{run}/height"), given()))
    }

    #[test]
    fn boxes_that_clear_the_fridge_clear_it() {
        assert!(found(&demo(), RULE).is_empty());
    }

    #[test]
    fn exactly_at_the_limit_it_passes_and_a_mark_lower_it_does_not() {
        // 34 5/8 + 1/8 + 1/2 = 35 1/4
        assert!(found(&boxes("35 1/4 in"), RULE).is_empty());
        let findings = found(&boxes("35 3/16 in"), RULE);
        assert_eq!(findings.len(), 1);
        assert_eq!(findings[0].severity, Severity::Look);
    }

    #[test]
    fn under_usual_boxes_it_does_not_go_in_and_its_remedy_mends_it() {
        let plan = boxes("34 1/2 in");
        let findings = found(&plan, RULE);
        assert_eq!(
            findings[0].what,
            "`a1` needs 34 3/4 in of height, and the underside of worktop `slate` is 34 1/2 in up"
        );
        assert_eq!(findings[0].severity, Severity::Stop);
        every_remedy_clears(&plan, &findings[0]);
    }

    #[test]
    fn without_a_worktop_what_hangs_above_counts() {
        let plan = with(&demo(), "/tops/slate/over", ["left", "back"]);
        let plan =
            with(&plan, "/runs/shelf-low/level", dryfit_plan::Level::Up("35 in".parse().expect("a length")));
        let plan = with(&plan, "/units/u1/width/given", "12 in");
        let findings = found(&plan, RULE);
        assert_eq!(findings.len(), 1, "{findings:?}");
        assert_eq!(
            findings[0].what,
            "`a1` needs 35 1/4 in of height with air above, and the bottom of `s1` is 35 in up"
        );
        every_remedy_clears(&plan, &findings[0]);
    }
}
