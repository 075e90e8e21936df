//! `safety/lift`: one person can lift the heaviest unit into its place.
//!
//! What it checks: the mass of each box against the recommended weight limit of the revised NIOSH lifting
//! equation, at the distances of this lift: hands half its depth and eight inches before the ankles; from 15 in
//! above the floor for what stands, from a bench 30 in high for what is hung. Grip fair, once, no twist. Holding
//! a box overhead while it is screwed on is outside the equation: that wants two people or a ledger in any case.
//!
//! Why it matters: backs are not replaced.
//!
//! Source: NIOSH 94-110, Applications Manual for the Revised NIOSH Lifting Equation (rev. 2021).
//!
//! Example: a tall cupboard of 174 lb is eight times what one person should lift at 20 in.
//!
//! Remedy: a second person.

use dryfit_measure::{Mass, Pointer};
use dryfit_plan::{Edit, UnitKind};

use super::Checked;
use super::found::found;
use crate::casework::BuiltUnit;
use crate::finding::{Finding, Fix, Severity};
use crate::placement::PlacedUnit;

/// The recommended weight limit in pounds, distances in inches: `h` from the ankles to the hands, `v` the height
/// of the hands at the start, `d` how far they travel upwards; multipliers of frequency and grip.
pub(super) fn weight_limit(h: f64, v: f64, d: f64, frequency: f64, grip: f64) -> f64 {
    let horizontal = (10.0 / h.max(10.0)).min(1.0);
    let vertical = 1.0 - 0.0075 * (v - 30.0).abs();
    let distance = (0.82 + 1.8 / d.max(10.0)).min(1.0);
    51.0 * horizontal * vertical * distance * frequency * grip
}

/// Grip on the edges of a box: fair, hands under 30 in (NIOSH 94-110, coupling multiplier).
const FAIR: f64 = 0.95;

/// The unit that is worst to lift alone, where it is too heavy and nobody helps.
pub(super) fn check(checked: &Checked<'_>) -> Vec<Finding> {
    if checked.plan.somebody_helps() {
        return Vec::new();
    }
    let lifts = checked.casework.units.iter().filter_map(|built| {
        let placed = checked.placement.unit(&built.key)?;
        Some((built, index(built, placed)?))
    });
    let mut heavy: Vec<(&BuiltUnit, Lift)> = lifts.filter(|(_, lift)| lift.index() > 1.0).collect();
    heavy.sort_by(|a, b| b.1.index().total_cmp(&a.1.index()));
    let Some((worst, lift)) = heavy.first() else { return Vec::new() };
    let unit = checked.plan.fineness.unit();
    let others = match heavy.len() - 1 {
        0 => String::new(),
        1 => "; one more unit is too heavy for one".to_owned(),
        others => format!("; {others} more units are too heavy for one"),
    };
    let what = format!(
        "`{}` weighs {}, and one person should lift {} there: it is {:.1} times as much{others}",
        worst.key,
        worst.mass.figure(unit),
        Mass::from_pounds(lift.limit).figure(unit),
        lift.index()
    );
    let at = Pointer::root().child("shop").child("helper");
    let mut finding = found("safety/lift", Severity::Look, vec![worst.key.clone()], at.clone(), what);
    finding.fixes.push(Fix::of(Edit::set(checked.plan, &at, true, "have a second person for the lifts")));
    vec![finding]
}

struct Lift {
    load: f64,
    limit: f64,
}

impl Lift {
    /// Load over limit: the lifting index.
    fn index(&self) -> f64 {
        self.load / self.limit
    }
}

fn index(built: &BuiltUnit, placed: &PlacedUnit) -> Option<Lift> {
    let h = placed.depth.length().as_inches_f64() / 2.0 + 8.0;
    let (v, d) = match placed.kind {
        UnitKind::Wall => (30.0, placed.up.length().as_inches_f64() - 30.0),
        kind if kind.is_box() => (15.0, 10.0),
        _ => return None,
    };
    Some(Lift { load: built.mass.as_pounds_f64(), limit: weight_limit(h, v, d, 1.0, FAIR) })
}

#[cfg(test)]
mod tests {
    use super::super::trial::{demo, every_remedy_clears, found, with};
    use super::weight_limit;

    #[test]
    fn the_published_worked_lifts() {
        // K-niosh-12: H 25 cm, V 55, D 95, FM 0.88, CM 0.95: 15.7 kg (NIOSH 94-110 worked example, metric form)
        let kg = weight_limit(25.0 / 2.54, 55.0 / 2.54, 95.0 / 2.54, 0.88, 0.95) * 0.453_592;
        assert!((kg - 15.677).abs() < 0.3, "{kg}");
        // K-niosh-20: H 20 in, V 6, D 16, CM 0.95: published 18.4 lb from rounded multipliers, 18.52 unrounded
        assert!((weight_limit(20.0, 6.0, 16.0, 1.0, 0.95) - 18.5236).abs() < 0.15);
        // K-niosh-pp: manual example 1, from memory: 16.3 lb from rounded multipliers
        assert!((weight_limit(23.0, 15.0, 49.0, 1.0, 0.95) - 16.3).abs() < 0.35);
        // K-panel-li: a 90 lb sheet at the best of all lifts: 90 / 51
        assert!((90.0 / weight_limit(10.0, 30.0, 10.0, 1.0, 1.0) - 1.7647).abs() < 0.001);
    }

    #[test]
    fn alone_the_heaviest_is_named_and_a_second_person_clears_it() {
        let plan = with(&demo(), "/calendar/helpers/h1/hours/saturday", Vec::<String>::new());
        let findings = found(&plan, "safety/lift");
        assert_eq!(findings.len(), 1);
        assert!(findings[0].what.starts_with("`t1` weighs "), "{}", findings[0].what);
        every_remedy_clears(&plan, &findings[0]);
        assert!(found(&with(&plan, "/shop/helper", true), "safety/lift").is_empty());
    }

    #[test]
    fn exactly_at_the_limit_a_lift_is_not_too_heavy() {
        let limit = weight_limit(20.0, 15.0, 10.0, 1.0, 0.95);
        let at = super::Lift { load: limit, limit };
        assert!(at.index() <= 1.0);
    }
}
