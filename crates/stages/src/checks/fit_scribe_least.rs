//! `fit/scribe-least`: what is scribed to a wall is wide enough to be scribed.
//!
//! What it checks: the width of a filler beside a wall against the figure `wall-scribe-least`.
//!
//! Why it matters: a strip much narrower than that splits under the plane, and leaves nothing to take away where
//! the wall bulges.
//!
//! Source: common practice.
//!
//! Example: a scribe of 1/2 in is less than 3/4 in.
//!
//! Remedy: a wider filler.

use dryfit_measure::Toward;
use dryfit_plan::{UnitKind, Width};

use super::Checked;
use super::found::{found, unit_at};
use crate::figures::Figures;
use crate::finding::{Finding, Severity};
use crate::placement::{Beside, PlacedUnit};

/// Fillers too narrow to be scribed.
pub(super) fn check(checked: &Checked<'_>) -> Vec<Finding> {
    let walled = |unit: &&PlacedUnit| {
        unit.kind == UnitKind::Filler && unit.beside.iter().any(|beside| matches!(beside, Beside::Wall(_)))
    };
    checked.placement.units.iter().filter(walled).filter_map(|unit| narrow(checked, unit)).collect()
}

fn narrow(checked: &Checked<'_>, unit: &PlacedUnit) -> Option<Finding> {
    let stated = checked.plan.units.get(&unit.key)?;
    let least = Figures::of_unit(checked.plan, &unit.key).dim("wall-scribe-least");
    let short = (&least - &unit.width).named("too narrow by").placed(unit.key.as_str());
    if !short.length().is_positive() {
        return None;
    }
    let what = format!(
        "`{}` is too narrow to be scribed to the wall: it should be at least {} wide, and is {}",
        unit.key,
        checked.needed(&least),
        checked.available(&unit.width)
    );
    let at = unit_at(&unit.key).child("width");
    let mut finding = found("fit/scribe-least", Severity::Look, vec![unit.key.clone()], at, what);
    let width = checked.mark(least.length(), Toward::Up);
    finding.fixes = checked.widen(unit, Width::Given(width), width.length, &[]);
    // what is left over may well be more than the least
    if matches!(stated.width, Width::Given(_)) && !finding.fixes.is_empty() {
        let scribe = checked.widen(unit, Width::Scribe, width.length, &[]);
        finding.fixes.splice(0..0, scribe.into_iter().take(1));
    }
    finding.because = vec![least, unit.width.clone()];
    finding.short_by = Some(short);
    Some(finding)
}

#[cfg(test)]
mod tests {
    use super::super::trial::{demo, every_remedy_clears, found, with};
    use dryfit_plan::{Plan, Width};

    const RULE: &str = "fit/scribe-least";

    fn scribe(width: &str) -> Plan {
        with(&demo(), "/units/f3/width", Width::Given(width.parse().expect("a length")))
    }

    #[test]
    fn the_scribes_of_the_demo_are_wide_enough() {
        assert!(found(&demo(), RULE).is_empty());
    }

    #[test]
    fn exactly_the_least_passes_and_a_mark_less_does_not() {
        assert!(found(&scribe("3/4 in"), RULE).is_empty());
        let plan = scribe("11/16 in");
        let findings = found(&plan, RULE);
        assert_eq!(
            findings[0].what,
            "`f3` is too narrow to be scribed to the wall: it should be at least 3/4 in wide, and is 11/16 in"
        );
        assert_eq!(findings[0].fixes.len(), 2);
        every_remedy_clears(&plan, &findings[0]);
    }

    #[test]
    fn a_filler_in_a_corner_is_no_scribe() {
        let plan = with(&demo(), "/units/f1/width", Width::Given("1/2 in".parse().expect("a length")));
        assert!(found(&plan, RULE).is_empty());
    }
}
