//! `fit/tip-up`: a tall unit can be tipped up under the ceiling where it stands.
//!
//! What it checks: the diagonal of the unit's side, with its frame and base on, against the ceiling's lowest
//! point over the floor that it tilts through: its own width, from the wall out to its own height.
//!
//! Why it matters: a cupboard is built lying down. One that is lower than the room still jams on its way up,
//! when it is finished and too heavy to think.
//!
//! Source: geometry. The diagonal of a side `h` high and `d` deep is the root of `h` squared plus `d` squared.
//!
//! Example: 80 in high and 24 in deep needs 83 9/16 in; under a ceiling of 82 in it cannot be tipped up.
//!
//! Remedy: a unit just low enough.

use dryfit_measure::{Dim, Length, Stated, Toward};
use dryfit_plan::{Edit, Height};

use super::Checked;
use super::found::{found, unit_at};
use crate::finding::{Finding, Fix, Severity};
use crate::placement::PlacedUnit;

/// Tall units that cannot be tipped up.
pub(super) fn check(checked: &Checked<'_>) -> Vec<Finding> {
    let tall = checked.placement.units.iter().filter(|unit| unit.kind.is_tall());
    tall.filter_map(|unit| tipped(checked, unit)).collect()
}

fn tipped(checked: &Checked<'_>, unit: &PlacedUnit) -> Option<Finding> {
    let ceiling = checked.lowest_ceiling(unit, unit.height.length())?.named("lowest ceiling where it tilts");
    let diagonal = Dim::hypot(&unit.height, &unit.frame_plane()).named("diagonal when tipped up");
    let short = (&diagonal - &ceiling).named("too high by");
    if short.length() <= Length::ZERO {
        return None;
    }
    let what = format!(
        "`{}` cannot be tipped up: its diagonal is {}, the ceiling is at {}",
        unit.key,
        checked.needed(&diagonal),
        checked.available(&ceiling)
    );
    let at = unit_at(&unit.key).child("height");
    let mut finding = found("fit/tip-up", Severity::Stop, vec![unit.key.clone()], at, what);
    finding.fixes = lower(checked, unit, &ceiling).into_iter().collect();
    finding.because = vec![diagonal, ceiling];
    finding.short_by = Some(short);
    Some(finding)
}

/// The highest unit on the builder's marks that still tips up.
fn lower(checked: &Checked<'_>, unit: &PlacedUnit, ceiling: &Dim) -> Option<Fix> {
    let (ceiling, depth) = (ceiling.length().as_mm_f64(), unit.frame_plane().length().as_mm_f64());
    let height = Length::from_mm_f64((ceiling.powi(2) - depth.powi(2)).max(0.0).sqrt());
    let fineness = checked.plan.fineness;
    let height = height.rounded(fineness, Toward::Down).length;
    let stated = Stated { length: height, unit: fineness.unit() };
    (height > Length::ZERO).then(|| {
        let label = format!("make `{}` {stated} high", unit.key);
        Fix::of(Edit::set(checked.plan, &unit_at(&unit.key).child("height"), Height::Given(stated), label))
    })
}

#[cfg(test)]
mod tests {
    use super::super::trial::{demo, derive, every_remedy_clears, found, with};
    use dryfit_measure::{Dim, Key, Length};

    /// The demo's tall unit at a height of so many sixteenths.
    fn high(sixteenths: i64) -> dryfit_plan::Plan {
        let text = dryfit_measure::Stated {
            length: Length::sixty_fourths(sixteenths * 4),
            unit: dryfit_measure::Unit::Inch,
        };
        with(&demo(), "/units/t1/height/given", text)
    }

    #[test]
    fn the_demo_tips_up() {
        assert!(found(&demo(), "fit/tip-up").is_empty());
    }

    #[test]
    fn one_as_high_as_the_room_does_not_and_its_remedy_mends_it() {
        let plan = high(88 * 16);
        let findings = found(&plan, "fit/tip-up");
        assert_eq!(findings.len(), 1);
        assert!(
            findings[0].what.starts_with("`t1` cannot be tipped up: its diagonal is "),
            "{}",
            findings[0].what
        );
        every_remedy_clears(&plan, &findings[0]);
    }

    #[test]
    fn exactly_at_the_limit_it_passes_and_a_mark_higher_it_does_not() {
        let plan = high(88 * 16);
        let remedy = &found(&plan, "fit/tip-up")[0].fixes[0];
        let (mended, _) = plan.apply(&remedy.edit).expect("it applies");
        let derived = derive(&mended);
        let unit = derived.placement.unit(&Key::literal("t1")).expect("placed");
        let sixteenths = unit.height.length().nm() / Length::sixty_fourths(4).nm();
        let diagonal = Dim::hypot(&unit.height, &unit.frame_plane());
        assert!(diagonal.length() > Length::inches(80, 0, 1), "still a tall unit");
        assert!(found(&high(sixteenths), "fit/tip-up").is_empty());
        assert_eq!(found(&high(sixteenths + 1), "fit/tip-up").len(), 1);
    }
}
