//! `casework/leg-height`: a box on legs stands level on legs that go so low and so high.
//!
//! What it checks: the figure `leg-height` and what the floor falls away under the unit, against the range of its
//! legs.
//!
//! Why it matters: a leg that is screwed out further than its thread holds lets go when someone leans on the top.
//!
//! Source: geometry.
//!
//! Example: legs for 140 to 175 mm under a box 150 mm up: where the floor is 26 mm low they do not reach.
//!
//! Remedy: a height that these legs reach, or other legs.

use dryfit_measure::{Dim, Key, Length, Pointer, Toward};
use dryfit_plan::{Edit, Form, Role, ToeBuild, UnitKind};

use super::Checked;
use super::found::{found, unit_at};
use crate::casework::BuiltUnit;
use crate::figures::Figures;
use crate::finding::{Finding, Fix, Severity};

/// Units whose legs do not reach the floor, or cannot go as low as they should.
pub(super) fn check(checked: &Checked<'_>) -> Vec<Finding> {
    checked.casework.units.iter().filter_map(|built| unreached(checked, built)).collect()
}

fn unreached(checked: &Checked<'_>, built: &BuiltUnit) -> Option<Finding> {
    let unit = checked.plan.units.get(&built.key)?;
    let recipe_key = unit.recipe.as_ref()?;
    let recipe = checked.plan.recipes.get(recipe_key)?;
    if recipe.toe != ToeBuild::Legs || !unit.kind.is_box() || unit.kind == UnitKind::Wall {
        return None;
    }
    let good = crate::placement::role(checked.plan, unit, Role::Leg)?;
    let Form::Leg { least, most } = &checked.plan.goods.get(good)?.form else { return None };
    let leg = |length: Length, name: &'static str, what: &'static str| {
        let at = Pointer::root().child("goods").child(good.as_str()).child("form").child("leg").child(name);
        Dim::taped(length, at).named(what)
    };
    let (least, most) =
        (leg(least.length, "least", "leg screwed in"), leg(most.length, "most", "leg screwed out"));
    let height = Figures::of_unit(checked.plan, &built.key).dim("leg-height");
    let floors = floors(checked, &built.key);
    let low = Dim::least_of(floors.clone()).unwrap_or_default();
    let high = Dim::greatest_of(floors).unwrap_or_default();
    let [longest, shortest] = [(&height - low).named("longest leg"), (&height - high).named("shortest leg")];
    let (needed, short, word) = if longest.length() > most.length() {
        (&longest, (&longest - &most).named("too short by"), "reach")
    } else if shortest.length() < least.length() {
        (&shortest, (&least - &shortest).named("too long by"), "go down to")
    } else {
        return None;
    };
    let what = format!(
        "the legs of `{}` go from {} to {}, and have to {word} {}",
        built.key,
        checked.needed(&least),
        checked.available(&most),
        checked.needed(needed)
    );
    let at = unit_at(&built.key).child("figures").child("leg-height");
    let mut finding = found("casework/leg-height", Severity::Stop, vec![built.key.clone()], at.clone(), what);
    let by = if word == "reach" { -short.length() } else { short.length() };
    let toward = if word == "reach" { Toward::Down } else { Toward::Up };
    let other = checked.mark(height.length() + by, toward);
    let slack = most.length() - least.length() >= longest.length() - shortest.length();
    if slack && other.length.is_positive() {
        let label = format!("stand `{}` {other} up", built.key);
        finding.fixes.push(Fix::of(Edit::set(checked.plan, &at, other, label)));
    }
    let place = Pointer::root().child("recipes").child(recipe_key.as_str()).child("roles").child("leg");
    let suits = |form: &Form| match form {
        Form::Leg { least, most } => most.length >= longest.length() && least.length <= shortest.length(),
        _ => false,
    };
    let others = checked.plan.goods.iter().filter(|(_, other)| suits(&other.form)).take(3);
    finding.fixes.extend(others.map(|(key, other)| {
        Fix::of(Edit::set(checked.plan, &place, key.as_str(), format!("use `{key}`, {}", other.name)))
    }));
    finding.because = vec![needed.clone(), least, most];
    finding.short_by = Some(short);
    Some(finding)
}

/// The floor under both ends of a unit, against the datum.
fn floors(checked: &Checked<'_>, key: &Key) -> Vec<Dim> {
    let Some(placed) = checked.placement.unit(key) else { return Vec::new() };
    let out = placed.depth.length().div_floor(2);
    let ends = [placed.along.length(), placed.right().length()];
    let floor = |along: Length| {
        let at = checked.survey.point_on_wall(&placed.wall, along, Length::ZERO, out)?;
        checked.survey.levels.floor_at(at)
    };
    ends.into_iter().filter_map(floor).collect()
}

#[cfg(test)]
mod tests {
    use super::super::trial::{demo, every_remedy_clears, found, frameless, with};
    use dryfit_plan::Plan;

    const RULE: &str = "casework/leg-height";

    /// The demo with legs that go so high.
    fn legs(most: &str) -> Plan {
        with(&frameless(), "/goods/leg/form/leg/most", most)
    }

    #[test]
    fn the_legs_of_the_demo_reach_its_floor() {
        assert!(found(&frameless(), RULE).is_empty());
        assert!(found(&demo(), RULE).is_empty(), "what stands on notched sides has no legs");
    }

    #[test]
    fn legs_that_just_reach_will_do_and_shorter_ones_will_not() {
        // the floor is 7 mm low at the slope wall: 150 + 7
        assert!(found(&legs("157 mm"), RULE).is_empty());
        let plan = legs("156.9 mm");
        let findings = found(&plan, RULE);
        assert!(!findings.is_empty());
        every_remedy_clears(&plan, &findings[0]);
    }

    #[test]
    fn legs_that_do_not_go_low_enough_are_found_and_other_legs_will_do() {
        let plan = with(&frameless(), "/goods/leg/form/leg/least", "152 mm");
        let findings = found(&plan, RULE);
        assert!(!findings.is_empty());
        every_remedy_clears(&plan, &findings[0]);
        let short = serde_json::json!({ "name": "leg, low", "form": { "leg": { "least": "120 mm", "most": "160 mm" } },
            "packs": { "four": { "holds": 4, "price": "9.80" } } });
        let plan = with(&plan, "/goods/leg-low", short);
        let findings = found(&plan, RULE);
        assert!(findings[0].fixes.iter().any(|fix| fix.label.starts_with("use `leg-low`")));
        every_remedy_clears(&plan, &findings[0]);
    }
}
