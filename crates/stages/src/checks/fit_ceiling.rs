//! `fit/ceiling`: every unit ends under the ceiling over it.
//!
//! What it checks: the top of each unit against the lowest ceiling over its four corners. Tall units are held
//! against more than that by `fit/tip-up`, and each cause is told once.
//!
//! Why it matters: a ceiling that falls an inch over the length of a run is not seen, and takes the last unit.
//!
//! Source: geometry.
//!
//! Example: a top at 84 3/4 in under a ceiling that falls to 84 in is 3/4 in too high.
//!
//! Remedy: a unit just low enough; a shelf hung lower.

use dryfit_measure::{Dim, Length, Pointer, Stated, Toward};
use dryfit_plan::{Edit, Height, Level, UnitKind};

use super::Checked;
use super::found::{found, unit_at};
use crate::finding::{Finding, Fix, Severity};
use crate::placement::PlacedUnit;

/// Units that reach into the ceiling.
pub(super) fn check(checked: &Checked<'_>) -> Vec<Finding> {
    // a filler is as high as the unit it stands beside; a tall unit has to be tipped up, which takes more
    let own = |unit: &&PlacedUnit| !matches!(unit.kind, UnitKind::Filler | UnitKind::Tall);
    let units = checked.placement.units.iter().filter(own);
    units.filter_map(|unit| too_high(checked, unit)).collect()
}

fn too_high(checked: &Checked<'_>, unit: &PlacedUnit) -> Option<Finding> {
    let ceiling = checked.lowest_ceiling(unit, unit.frame_plane().length())?;
    let top = unit.top();
    let short = (&top - &ceiling).named("too high by");
    if !short.length().is_positive() {
        return None;
    }
    let what = format!(
        "`{}` reaches into the ceiling: its top is at {}, the ceiling at {}",
        unit.key,
        checked.needed(&top),
        checked.available(&ceiling)
    );
    let at = unit_at(&unit.key).child("height");
    let mut finding = found("fit/ceiling", Severity::Stop, vec![unit.key.clone()], at.clone(), what);
    let fineness = checked.plan.fineness;
    let height = (ceiling.length() - unit.up.length()).rounded(fineness, Toward::Down).length;
    if unit.kind == UnitKind::FloatingShelf {
        finding.fixes.extend(lower(checked, unit, short.length()));
    } else if height * 2 >= unit.height.length() {
        // less than half a unit is another unit
        let stated = Stated { length: height, unit: fineness.unit() };
        let label = format!("make `{}` {stated} high", unit.key);
        finding.fixes.push(Fix::of(Edit::set(checked.plan, &at, Height::Given(stated), label)));
    }
    finding.because = vec![top, ceiling];
    finding.short_by = Some(short);
    Some(finding)
}

/// A shelf stays as thick as it is: its run is hung lower.
fn lower(checked: &Checked<'_>, unit: &PlacedUnit, by: Length) -> Option<Fix> {
    let up = checked.mark(unit.up.length() - by, Toward::Down);
    let at = Pointer::root().child("runs").child(unit.run.as_str()).child("level");
    let label = format!("hang `{}` {up} up", unit.run);
    up.length.is_positive().then(|| Fix::of(Edit::set(checked.plan, &at, Level::Up(up), label)))
}

impl Checked<'_> {
    /// The lowest ceiling over a unit's floor, from the wall out to `reach`: over its corners, since a ceiling is
    /// a plane on the low side of its readings.
    pub(super) fn lowest_ceiling(&self, unit: &PlacedUnit, reach: Length) -> Option<Dim> {
        let edges = [unit.along.length(), unit.right().length()];
        let corners = edges.into_iter().flat_map(|along| [(along, Length::ZERO), (along, reach)]);
        let over = corners.filter_map(|(along, out)| {
            let at = self.survey.point_on_wall(&unit.wall, along, Length::ZERO, out)?;
            self.survey.levels.ceiling_over(at)
        });
        Dim::least_of(over).map(|dim| dim.named("lowest ceiling over it"))
    }
}

#[cfg(test)]
mod tests {
    use super::super::trial::{demo, derive, every_remedy_clears, found, with};
    use dryfit_measure::{Key, Length, Stated, Unit};
    use dryfit_plan::Plan;

    fn high(sixteenths: i64) -> Plan {
        let height = Stated { length: Length::sixty_fourths(sixteenths * 4), unit: Unit::Inch };
        with(&demo(), "/units/u1/height/given", height)
    }

    #[test]
    fn the_demo_ends_under_its_ceiling() {
        assert!(found(&demo(), "fit/ceiling").is_empty());
    }

    #[test]
    fn a_unit_through_the_ceiling_is_found_and_mended() {
        let plan = high(60 * 16);
        let findings = found(&plan, "fit/ceiling");
        assert_eq!(findings.len(), 1);
        assert!(
            findings[0].what.starts_with("`u1` reaches into the ceiling: its top is at "),
            "{}",
            findings[0].what
        );
        every_remedy_clears(&plan, &findings[0]);
    }

    #[test]
    fn a_tall_unit_through_the_ceiling_is_told_of_once() {
        let plan = with(&demo(), "/units/t1/height/given", "100 in");
        assert!(found(&plan, "fit/ceiling").is_empty());
        assert_eq!(found(&plan, "fit/tip-up").len(), 1);
    }

    #[test]
    fn a_shelf_is_hung_lower() {
        let plan = with(&demo(), "/runs/shelf-high/level/up", "94 in");
        let findings = found(&plan, "fit/ceiling");
        assert_eq!(findings.len(), 1);
        assert!(
            findings[0].fixes[0].label.starts_with("hang `shelf-high` "),
            "{}",
            findings[0].fixes[0].label
        );
        every_remedy_clears(&plan, &findings[0]);
    }

    #[test]
    fn at_the_last_mark_under_it_passes_and_one_above_does_not() {
        let plan = high(60 * 16);
        let (mended, _) = plan.apply(&found(&plan, "fit/ceiling")[0].fixes[0].edit).expect("it applies");
        let derived = derive(&mended);
        let unit = derived.placement.unit(&Key::literal("u1")).expect("placed");
        let sixteenths = unit.height.length().nm() / Length::sixty_fourths(4).nm();
        assert!(found(&high(sixteenths), "fit/ceiling").is_empty());
        assert_eq!(found(&high(sixteenths + 1), "fit/ceiling").len(), 1);
    }
}
