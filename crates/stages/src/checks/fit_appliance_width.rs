//! `fit/appliance-width`: an appliance has its air at both sides.
//!
//! What it checks: the width of the space against the appliance and its air at both sides.
//!
//! Why it matters: a space as wide as the brochure says takes the appliance once, and never lets it out again;
//! without its air it runs hot.
//!
//! Source: common practice; the maker's sheet, as it was copied into the plan, rules.
//!
//! Example: 23 in with 1/2 in of air at each side wants 24 in.
//!
//! Remedy: a space that is wide enough.

use dryfit_measure::{Key, Stated, Toward};
use dryfit_plan::{ApplianceForm, Edit, Width};

use super::Checked;
use super::appliance::{appliances, taped};
use super::found::{found, unit_at};
use crate::finding::{Finding, Fix, Severity};
use crate::placement::PlacedUnit;

/// Appliances whose spaces are too narrow.
pub(super) fn check(checked: &Checked<'_>) -> Vec<Finding> {
    appliances(checked).filter_map(|(unit, good, form)| narrow(checked, unit, good, form)).collect()
}

fn narrow(checked: &Checked<'_>, unit: &PlacedUnit, good: &Key, form: &ApplianceForm) -> Option<Finding> {
    let air = taped(good, "air_side", form.air_side, "air at a side");
    let needed = (&taped(good, "width", form.width, "appliance") + &air * 2).named("appliance with its air");
    let short = (&needed - &unit.width).named("too narrow by");
    if !short.length().is_positive() {
        return None;
    }
    let what = format!(
        "`{}` is too narrow for `{good}`: needs {}, has {}",
        unit.key,
        checked.needed(&needed),
        checked.available(&unit.width)
    );
    let at = unit_at(&unit.key).child("width");
    let mut finding = found("fit/appliance-width", Severity::Stop, vec![unit.key.clone()], at.clone(), what);
    let fineness = checked.plan.fineness;
    let width = needed.length().rounded(fineness, Toward::Up).length;
    let wide = Stated { length: width, unit: fineness.unit() };
    let label = format!("make `{}` {wide} wide", unit.key);
    finding.fixes.push(Fix::of(Edit::set(checked.plan, &at, Width::Given(wide), label)));
    finding.because = vec![needed, unit.width.clone()];
    finding.short_by = Some(short);
    Some(finding)
}

#[cfg(test)]
mod tests {
    use super::super::trial::{demo, every_remedy_clears, found, with};
    use dryfit_plan::Plan;

    fn wide(width: &str) -> Plan {
        with(&demo(), "/units/a1/width", serde_json::json!({ "given": width }))
    }

    #[test]
    fn the_demo_gives_its_fridge_room() {
        assert!(found(&demo(), "fit/appliance-width").is_empty());
    }

    #[test]
    fn exactly_as_wide_as_it_and_its_air_is_enough() {
        // 23 + 2 x 1/2
        assert!(found(&wide("24 in"), "fit/appliance-width").is_empty());
        let plan = wide("23 15/16 in");
        let findings = found(&plan, "fit/appliance-width");
        assert_eq!(findings[0].what, "`a1` is too narrow for `seed-fridge`: needs 24 in, has 23 15/16 in");
        every_remedy_clears(&plan, &findings[0]);
    }
}
