//! `casework/hinge-overlay`: without a frame, doors lap their sides by what their hinges are made for.
//!
//! What it checks: the side's measured thickness less half the gap between fronts, against the hinge's own overlay,
//! within what a hinge can be set sideways (the figure `hinge-adjust`). A hinge's overlay is its fixed distance plus
//! the boring distance less the height of its plate.
//!
//! Why it matters: a hinge made for another lap leaves a gap that no screw closes, or doors that rub.
//!
//! Source: hinge makers' literature for what an overlay is; the range of the setting is common practice, no source.
//!
//! Example: an 18.2 mm side and a 3 mm gap make a lap of 16.7 mm: a hinge for 16.5 can be set to it.
//!
//! Remedy: a hinge that is made for it, or the gap that this hinge makes.

use dryfit_measure::{Dim, Length, Pointer, Stated};
use dryfit_plan::{Build, Edit, Form, FrontFit, Role};

use super::Checked;
use super::found::{found, unit_at};
use crate::casework::{BuiltUnit, OperationKind};
use crate::figures::Figures;
use crate::finding::{Finding, Fix, Severity};

/// Doors whose hinges are made for another lap, unit by unit.
pub(super) fn check(checked: &Checked<'_>) -> Vec<Finding> {
    checked.casework.units.iter().filter_map(|built| other_lap(checked, built)).collect()
}

fn other_lap(checked: &Checked<'_>, built: &BuiltUnit) -> Option<Finding> {
    let unit = checked.plan.units.get(&built.key)?;
    let recipe_key = unit.recipe.as_ref()?;
    let recipe = checked.plan.recipes.get(recipe_key)?;
    let hung = |kind| built.parts.iter().any(|part| part.operations.iter().any(|done| done.kind == kind));
    if recipe.build != Build::Frameless || recipe.fit != FrontFit::Overlay || !hung(OperationKind::HingeCup) {
        return None;
    }
    let side = built.parts.iter().find(|part| part.role == "side.left")?;
    let figures = Figures::of_unit(checked.plan, &built.key);
    let half = figures.dim("front-gap").split(2).remove(0).named("half the gap");
    let lap = (side.thickness.clone().named("side") - half).named("lap of the doors");
    let good = crate::placement::role(checked.plan, unit, Role::Hinge)?;
    let Form::Hinge { overlay, .. } = &checked.plan.goods.get(good)?.form else { return None };
    let at =
        Pointer::root().child("goods").child(good.as_str()).child("form").child("hinge").child("overlay");
    let made_for = Dim::taped(overlay.length, at).named("overlay of the hinge");
    let adjust = figures.dim("hinge-adjust");
    let off = (lap.length() - made_for.length()).abs();
    if off <= adjust.length() {
        return None;
    }
    let what = format!(
        "the doors of `{}` lap their sides by {}, the hinge `{good}` is made for {overlay} and can be set by {}",
        built.key,
        checked.available(&lap),
        checked.available(&adjust)
    );
    let place = if unit.roles.contains_key(&Role::Hinge) {
        unit_at(&built.key)
    } else {
        Pointer::root().child("recipes").child(recipe_key.as_str())
    };
    let place = place.child("roles").child("hinge");
    let mut finding =
        found("casework/hinge-overlay", Severity::Stop, vec![built.key.clone()], place.clone(), what);
    let suits = |form: &Form| match form {
        Form::Hinge { overlay, .. } => (overlay.length - lap.length()).abs() <= adjust.length(),
        _ => false,
    };
    let hinges = checked.plan.goods.iter().filter(|(_, good)| suits(&good.form));
    finding.fixes = hinges
        .take(3)
        .map(|(key, good)| {
            Fix::of(Edit::set(checked.plan, &place, key.as_str(), format!("use `{key}`, {}", good.name)))
        })
        .collect();
    finding.fixes.extend(gap(checked, built, side.thickness.length() - made_for.length()));
    finding.because = vec![lap.clone(), made_for];
    finding.short_by = Some(Dim::worked(off - adjust.length(), "more than it can be set", [(lap, 1.0)]));
    Some(finding)
}

/// The gap between fronts that this hinge makes, where anyone would want it: 2 to 6 mm (common practice, no source).
fn gap(checked: &Checked<'_>, built: &BuiltUnit, half: Length) -> Option<Fix> {
    let gap = half * 2;
    if gap < Length::mm(2) || gap > Length::mm(6) {
        return None;
    }
    let stated = Stated { length: gap, unit: checked.plan.entry_unit };
    let at = unit_at(&built.key).child("figures").child("front-gap");
    let label = format!("leave gaps of {stated} between the fronts of `{}`", built.key);
    Some(Fix::of(Edit::set(checked.plan, &at, stated, label)))
}

#[cfg(test)]
mod tests {
    use super::super::trial::{every_remedy_clears, found, frameless, with};
    use dryfit_plan::Plan;

    const RULE: &str = "casework/hinge-overlay";

    fn hinge(overlay: &str) -> Plan {
        with(&frameless(), "/goods/hinge/form/hinge/overlay", overlay)
    }

    #[test]
    fn the_hinges_of_the_demo_suit_its_sides() {
        // C-hinge: overlay = fixed distance + boring distance - plate height (hinge makers' literature):
        // 11.5 + 5 - 0 = 16.5 for a full overlay hinge on its lowest plate
        assert!(found(&frameless(), RULE).is_empty());
    }

    #[test]
    fn within_what_it_can_be_set_it_passes_and_a_hair_beyond_it_does_not() {
        // sides 18.2, gap 3: a lap of 16.7; hinges can be set by 2
        assert!(found(&hinge("14.7 mm"), RULE).is_empty());
        let plan = hinge("14.6 mm");
        let findings = found(&plan, RULE);
        assert_eq!(findings.len(), 6, "every unit with doors");
        assert!(findings[0].fixes.is_empty(), "a gap of 7.2 mm is none that anyone wants");
    }

    #[test]
    fn another_hinge_of_the_plan_mends_it() {
        let half = serde_json::json!({ "name": "half lap hinge", "form": { "hinge": {
            "overlay": "8 mm", "cup": "35 mm", "cup_in": "22.5 mm" } },
            "packs": { "pair": { "holds": 2, "price": "6.80" } } });
        let plan = with(&frameless(), "/goods/half-hinge", half);
        let plan = with(&plan, "/recipes/frameless/roles/hinge", "half-hinge");
        let findings = found(&plan, RULE);
        assert!(!findings.is_empty());
        every_remedy_clears(&plan, &findings[0]);
    }

    #[test]
    fn a_gap_that_suits_the_hinge_mends_it() {
        let plan = with(&frameless(), "/recipes/frameless/figures/front-gap", "8 mm");
        let findings = found(&plan, RULE);
        assert!(!findings.is_empty());
        every_remedy_clears(&plan, &findings[0]);
    }
}
