//! `fit/above-top`: what hangs over a worktop leaves room to work on it.
//!
//! What it checks: the bottom of each wall unit and floating shelf over a worktop, against the worktop's upper
//! face and the figure `above-top`.
//!
//! Why it matters: a shelf hung by eye takes the light and the tall jug; it is lifted once it has been filled.
//!
//! Source: common practice, no source; published kitchen dimensions agree on 18 in.
//!
//! Example: over a worktop at 36 in a unit whose bottom is at 50 in leaves 14 in, 4 in less than it should.
//!
//! Severity: *look*: it goes together, and is a nuisance.
//!
//! Remedy: its run hung so far above the worktop.

use dryfit_measure::{Length, Pointer, Toward};
use dryfit_plan::{Edit, Level};

use super::Checked;
use super::found::{found, unit_at};
use crate::figures::Figures;
use crate::finding::{Finding, Fix, Severity};
use crate::placement::{PlacedTop, PlacedUnit};

/// Units that hang too low over a worktop.
pub(super) fn check(checked: &Checked<'_>) -> Vec<Finding> {
    let hangs = |unit: &&PlacedUnit| unit.kind.hangs();
    let hung = checked.placement.units.iter().filter(hangs);
    let pairs = hung.flat_map(|unit| checked.placement.tops.iter().map(move |top| (unit, top)));
    pairs.filter_map(|(unit, top)| too_low(checked, unit, top)).collect()
}

fn too_low(checked: &Checked<'_>, unit: &PlacedUnit, top: &PlacedTop) -> Option<Finding> {
    let over = top.legs.iter().any(|leg| {
        checked.placement.run(&leg.run).is_some_and(|run| run.wall == unit.wall)
            && leg.from.length() < unit.right().length()
            && leg.to.length() > unit.along.length()
    });
    let clear = (&unit.up - &top.upper).named("clear above the worktop").placed(unit.key.as_str());
    let wanted = Figures::of_top(checked.plan, &top.key).dim("above-top").named("clear that is wanted");
    let short = (&wanted - &clear).named("too low by").placed(unit.key.as_str());
    // one that reaches into the worktop is told by what it hits
    if !over || clear.length().is_negative() || !short.length().is_positive() {
        return None;
    }
    let what = format!(
        "`{}` hangs {} above the worktop, it should be at least {}",
        unit.key,
        checked.available(&clear),
        checked.needed(&wanted)
    );
    let subjects = vec![unit.key.clone(), top.key.clone()];
    let mut finding = found("fit/above-top", Severity::Look, subjects, unit_at(&unit.key), what);
    finding.fixes = higher(checked, unit, top, wanted.length()).into_iter().collect();
    finding.because = vec![clear, wanted];
    finding.short_by = Some(short);
    Some(finding)
}

/// The run above the worktop, where everything in it then still ends under the ceiling.
fn higher(checked: &Checked<'_>, unit: &PlacedUnit, top: &PlacedTop, clear: Length) -> Option<Fix> {
    let up = checked.mark(top.upper.length() + clear, Toward::Up).length;
    let fits = |unit: &PlacedUnit| {
        let ceiling = checked.lowest_ceiling(unit, unit.frame_plane().length());
        ceiling.is_none_or(|ceiling| up + unit.height.length() <= ceiling.length())
    };
    let at = Pointer::root().child("runs").child(unit.run.as_str()).child("level");
    let label = format!("hang `{}` above `{}`", unit.run, top.key);
    let fit = checked.placement.units_of(&unit.run).all(fits);
    fit.then(|| Fix::of(Edit::set(checked.plan, &at, Level::AboveTop(top.key.clone()), label)))
}

#[cfg(test)]
mod tests {
    use super::super::trial::{demo, derive, every_remedy_clears, found, with};
    use dryfit_measure::{Key, Length, Stated, Unit};
    use dryfit_plan::{Level, Plan};

    const RULE: &str = "fit/above-top";

    /// The demo with its lower shelf so far above the worktop.
    fn above(clear: Length) -> Plan {
        let plan = demo();
        let upper = derive(&plan).placement.tops[0].upper.length();
        let up = Stated { length: upper + clear, unit: Unit::Inch };
        with(&plan, "/runs/shelf-low/level", Level::Up(up))
    }

    #[test]
    fn the_demo_leaves_room_to_work() {
        assert!(found(&demo(), RULE).is_empty());
    }

    #[test]
    fn exactly_the_figure_passes_and_a_mark_lower_does_not() {
        let exact = Length::inches(18, 0, 1);
        assert!(found(&above(exact), RULE).is_empty());
        let plan = above(exact - Length::inches(0, 1, 16));
        let findings = found(&plan, RULE);
        assert_eq!(findings.len(), 1);
        assert_eq!(findings[0].subjects, [Key::literal("s1"), Key::literal("slate")]);
        assert_eq!(findings[0].what, "`s1` hangs 17 15/16 in above the worktop, it should be at least 18 in");
        assert_eq!(findings[0].fixes.len(), 1);
        every_remedy_clears(&plan, &findings[0]);
    }

    #[test]
    fn where_the_ceiling_leaves_no_room_it_is_not_hung_into_it() {
        let plan = with(&demo(), "/units/u1/height/given", "47 in");
        let plan = with(&plan, "/runs/upper/level", Level::Up("45 in".parse().expect("a length")));
        let findings = found(&plan, RULE);
        assert_eq!(findings.len(), 1);
        assert!(findings[0].fixes.is_empty());
    }
}
