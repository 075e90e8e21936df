//! `fit/appliance-depth`: an appliance stands no prouder than the worktop over it.
//!
//! What it checks: air behind, body and handle against the depth of the worktop over the appliance.
//!
//! Why it matters: what stands proud takes from the walkway, and catches hips; hoses and plugs behind are
//! forgotten when a depth is read from a label.
//!
//! Source: the appliance's record in the plan.
//!
//! Example: 33 in deep with 5 1/2 in behind it reaches 38 1/2 in out, 13 1/2 in before a worktop of 25 in.
//!
//! Severity: *note*: it goes together, and most appliances do stand proud.
//!
//! Remedy: none in the plan; a shallower appliance, or a wider walkway.

use dryfit_plan::UnitKind;

use super::Checked;
use super::found::{found, unit_at};
use crate::finding::{Finding, Severity};
use crate::placement::PlacedUnit;

/// Appliances that stand proud of their worktop.
pub(super) fn check(checked: &Checked<'_>) -> Vec<Finding> {
    let appliances = checked.placement.units.iter().filter(|unit| unit.kind == UnitKind::Appliance);
    appliances.filter_map(|unit| proud(checked, unit)).collect()
}

fn proud(checked: &Checked<'_>, unit: &PlacedUnit) -> Option<Finding> {
    let leg = checked.placement.tops.iter().flat_map(|top| &top.legs).find(|leg| {
        leg.run == unit.run
            && leg.from.length() < unit.right().length()
            && leg.to.length() > unit.along.length()
    })?;
    let reach = unit.overall_depth();
    let short = (&reach - &leg.depth).named("proud by").placed(unit.key.as_str());
    if !short.length().is_positive() {
        return None;
    }
    let handle = if unit.pull.length().is_positive() { ", handle included" } else { "" };
    let what = format!(
        "`{}` stands {} proud of the worktop{handle}: it reaches {} out, the worktop {}",
        unit.key,
        checked.needed(&short),
        checked.needed(&reach),
        checked.available(&leg.depth)
    );
    let at = unit_at(&unit.key).child("holds");
    let mut finding = found("fit/appliance-depth", Severity::Note, vec![unit.key.clone()], at, what);
    finding.because = vec![reach, leg.depth.clone()];
    finding.short_by = Some(short);
    Some(finding)
}

#[cfg(test)]
mod tests {
    use super::super::trial::{demo, found};
    use crate::finding::Severity;
    use dryfit_measure::Pointer;
    use dryfit_plan::{Draft, Plan};

    const RULE: &str = "fit/appliance-depth";

    /// The demo's fridge so deep, with so much behind it and no handle; the worktop is 25 in deep.
    fn deep(depth: &str, behind: &str) -> Plan {
        let at = |name: &str| {
            Pointer::parse(&format!("/goods/seed-fridge/form/appliance/{name}")).expect("a pointer")
        };
        let plan = demo();
        let draft =
            Draft::of(&plan).set(&at("depth"), depth).set(&at("air_back"), behind).remove(&at("handle"));
        plan.apply(&draft.edit("another fridge")).expect("still a plan").0
    }

    #[test]
    fn the_seed_fridge_stands_proud_with_its_handle() {
        // 1 + 23 5/8 + 1 1/2 = 26 1/8; boxes of 23 1/4, frames of 3/4 and 1 of overhang make 25
        let findings = found(&demo(), RULE);
        assert_eq!(findings.len(), 1);
        assert_eq!(findings[0].severity, Severity::Note);
        assert_eq!(
            findings[0].what,
            "`a1` stands 1 1/8 in proud of the worktop, handle included: it reaches 26 1/8 in out, the worktop 25 in"
        );
    }

    #[test]
    fn exactly_at_the_limit_it_passes_and_a_mark_deeper_it_does_not() {
        assert!(found(&deep("24 in", "1 in"), RULE).is_empty());
        assert_eq!(found(&deep("24 1/16 in", "1 in"), RULE).len(), 1);
    }

    #[test]
    fn a_full_size_appliance_with_its_elbow_reaches_38_inches_and_a_half() {
        // 33 in deep and 5 1/2 in for the elbow behind it: 38 1/2, from makers' sheets
        let findings = found(&deep("33 in", "5 1/2 in"), RULE);
        assert_eq!(
            findings[0].what,
            "`a1` stands 13 1/2 in proud of the worktop: it reaches 38 1/2 in out, the worktop 25 in"
        );
    }
}
