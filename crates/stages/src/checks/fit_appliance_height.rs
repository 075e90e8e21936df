//! `fit/appliance-height`: an appliance has its feet and its air under the worktop.
//!
//! What it checks: the height of the space under the worktop against the appliance with its feet screwed out and
//! its air above.
//!
//! Why it matters: boxes are built to the brochure's height, and the feet were forgotten.
//!
//! Source: common practice; the maker's sheet, as it was copied into the plan, rules.
//!
//! Example: 34 5/8 in high, feet 1/8 in and 1/2 in of air want 35 1/4 in under the worktop.
//!
//! Remedy: a run as high as its appliance asks.

use dryfit_measure::{Key, Pointer};
use dryfit_plan::{ApplianceForm, Edit, Height};

use super::Checked;
use super::appliance::{appliances, taped};
use super::found::found;
use crate::finding::{Finding, Fix, Severity};
use crate::placement::PlacedUnit;

/// Appliances whose spaces are too low.
pub(super) fn check(checked: &Checked<'_>) -> Vec<Finding> {
    appliances(checked).filter_map(|(unit, good, form)| low(checked, unit, good, form)).collect()
}

fn low(checked: &Checked<'_>, unit: &PlacedUnit, good: &Key, form: &ApplianceForm) -> Option<Finding> {
    let mut needed = taped(good, "height", form.height, "appliance, feet screwed in")
        + taped(good, "air_top", form.air_top, "air above");
    if let Some(feet) = form.feet {
        needed = needed + taped(good, "feet", feet, "feet screwed out");
    }
    let needed = needed.named("appliance with its feet and air");
    let short = (&needed - &unit.height).named("too low by");
    if !short.length().is_positive() {
        return None;
    }
    let what = format!(
        "`{}` is too low for `{good}`: needs {} under the worktop, has {}",
        unit.key,
        checked.needed(&needed),
        checked.available(&unit.height)
    );
    let at = Pointer::root().child("runs").child(unit.run.as_str()).child("height");
    let mut finding = found("fit/appliance-height", Severity::Stop, vec![unit.key.clone()], at.clone(), what);
    let label = format!("let run `{}` be as high as `{}` asks", unit.run, unit.key);
    let clears = Edit::set(checked.plan, &at, Height::Clears(unit.key.clone()), label);
    finding.fixes.push(Fix::of(clears));
    finding.because = vec![needed, unit.height.clone()];
    finding.short_by = Some(short);
    Some(finding)
}

#[cfg(test)]
mod tests {
    use super::super::trial::{demo, every_remedy_clears, found, with};
    use dryfit_plan::Plan;

    fn high(height: &str) -> Plan {
        with(&demo(), "/runs/right/height", serde_json::json!({ "given": height }))
    }

    #[test]
    fn the_demo_gives_its_fridge_room() {
        assert!(found(&demo(), "fit/appliance-height").is_empty());
    }

    #[test]
    fn exactly_as_high_as_it_with_feet_and_air_is_enough() {
        // 34 5/8 + 1/8 + 1/2
        assert!(found(&high("35 1/4 in"), "fit/appliance-height").is_empty());
        let plan = high("35 3/16 in");
        let findings = found(&plan, "fit/appliance-height");
        assert_eq!(
            findings[0].what,
            "`a1` is too low for `seed-fridge`: needs 35 1/4 in under the worktop, has 35 3/16 in"
        );
        every_remedy_clears(&plan, &findings[0]);
    }
}
