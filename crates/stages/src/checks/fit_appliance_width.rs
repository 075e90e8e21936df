//! `fit/appliance-width`: an appliance goes between its neighbours, with its air.
//!
//! What it checks: the width of an appliance and the air that its maker asks for at each side against the space
//! that it stands in. Appliances side by side share the air between them, of which the greater counts; beside a
//! free end there is air enough.
//!
//! Why it matters: too tight by a little is found when everything else is fixed. Without air it runs hot, and a
//! door that opens past its side scrapes.
//!
//! Source: the appliance's record in the plan.
//!
//! Example: two of 27 in with 1 in of air need 57 in, three times the air and not four.
//!
//! Severity: *stop* where the appliances themselves do not go in, *look* where only air is lacking.
//!
//! Remedy: a wider space.

use dryfit_measure::{Dim, Key, Toward};
use dryfit_plan::{UnitKind, Width};

use super::Checked;
use super::found::{found, unit_at};
use crate::finding::{Finding, Severity};
use crate::placement::{ApplianceSize, Beside, PlacedUnit, appliance};

/// Appliances in too narrow a space.
pub(super) fn check(checked: &Checked<'_>) -> Vec<Finding> {
    let mut abreast: Vec<Vec<Stands<'_>>> = Vec::new();
    for unit in &checked.placement.units {
        let Some(stands) = Stands::of(checked, unit) else { continue };
        match abreast.last_mut() {
            Some(row) if row.last().is_some_and(|last| last.is_beside(unit)) => row.push(stands),
            _ => abreast.push(vec![stands]),
        }
    }
    abreast.iter().filter_map(|row| squeezed(checked, row)).collect()
}

/// An appliance in its space.
struct Stands<'a> {
    unit: &'a PlacedUnit,
    width: Dim,
    air: Dim,
}

impl<'a> Stands<'a> {
    fn of(checked: &Checked<'_>, unit: &'a PlacedUnit) -> Option<Stands<'a>> {
        let stated = checked.plan.units.get(&unit.key).filter(|unit| unit.kind == UnitKind::Appliance)?;
        let size = |size| appliance(checked.plan, stated, size);
        Some(Stands { unit, width: size(ApplianceSize::Width)?, air: size(ApplianceSize::AirSide)? })
    }

    fn is_beside(&self, next: &PlacedUnit) -> bool {
        self.unit.run == next.run && self.unit.beside[1] == Beside::Unit(next.key.clone())
    }
}

fn squeezed(checked: &Checked<'_>, row: &[Stands<'_>]) -> Option<Finding> {
    let (first, last) = (row.first()?, row.last()?);
    let end = |stands: &Stands<'_>, side: usize| {
        if stands.unit.beside[side] == Beside::Free { Dim::zero() } else { stands.air.clone() }
    };
    let between = row.windows(2).map(|pair| {
        let [a, b] = [&pair[0].air, &pair[1].air];
        if a.length() == b.length() { a.clone() } else { Dim::greatest([a.clone(), b.clone()]) }
    });
    let bodies: Dim = row.iter().map(|stands| &stands.width).sum();
    let needed = &bodies + end(first, 0) + between.sum::<Dim>() + end(last, 1);
    let space: Dim = row.iter().map(|stands| &stands.unit.width).sum();
    let short = &needed - &space;
    if !short.length().is_positive() {
        return None;
    }
    let keys: Vec<Key> = row.iter().map(|stands| stands.unit.key.clone()).collect();
    let names: Vec<String> = keys.iter().map(|key| format!("`{key}`")).collect();
    let place = names.join(" and ");
    let needed = needed.named("width with air").placed(place.clone());
    let space = space.named("space").placed(place.clone());
    let tight = bodies.length() > space.length();
    let what = match (row.len() > 1, tight) {
        (false, false) => ["needs", " with air at its sides", "its"],
        (false, true) => ["needs", "", "its"],
        (true, false) => ["need", " with air between and at their sides", "their"],
        (true, true) => ["need", "", "their"],
    };
    let [needs, air, whose] = what;
    let (least, has) = (if tight { &bodies } else { &needed }, checked.available(&space));
    let what = format!("{place} {needs} {}{air}, and {whose} space is {has}", checked.needed(least));
    let severity = if tight { Severity::Stop } else { Severity::Look };
    let at = unit_at(&first.unit.key).child("width");
    let mut finding = found("fit/appliance-width", severity, keys.clone(), at, what);
    finding.fixes = row
        .iter()
        .flat_map(|stands| {
            let width = checked.mark(stands.unit.width.length() + short.length(), Toward::Up);
            checked.widen(stands.unit, Width::Given(width), width.length, &keys)
        })
        .collect();
    finding.because = vec![needed, space];
    finding.short_by = Some(short.named("too narrow by").placed(place));
    Some(finding)
}

#[cfg(test)]
mod tests {
    use super::super::trial::{demo, every_remedy_clears, found, with};
    use crate::finding::Severity;
    use dryfit_measure::Pointer;
    use dryfit_plan::{Draft, Plan};

    const RULE: &str = "fit/appliance-width";

    #[test]
    fn the_seed_fridge_goes_in_with_not_a_hair_to_spare() {
        // 23 and twice 1/2 in 24: exactly at the limit
        assert!(found(&demo(), RULE).is_empty());
    }

    #[test]
    fn a_mark_narrower_lacks_air_and_much_narrower_does_not_go_in() {
        for (width, severity) in
            [("23 15/16 in", Severity::Look), ("23 in", Severity::Look), ("22 15/16 in", Severity::Stop)]
        {
            let plan = with(&demo(), "/units/a1/width/given", width);
            let findings = found(&plan, RULE);
            assert_eq!(findings.len(), 1, "{width}");
            assert_eq!(findings[0].severity, severity, "{width}");
            every_remedy_clears(&plan, &findings[0]);
        }
        let plan = with(&demo(), "/units/a1/width/given", "23 1/2 in");
        assert_eq!(
            found(&plan, RULE)[0].what,
            "`a1` needs 24 in with air at its sides, and its space is 23 1/2 in"
        );
    }

    #[test]
    fn where_nothing_gives_way_a_neighbour_is_made_narrower() {
        let plan = with(&demo(), "/units/a1/width/given", "22 in");
        let plan =
            with(&plan, "/units/b6/width", dryfit_plan::Width::Given("16 in".parse().expect("a length")));
        let plan =
            with(&plan, "/units/f3/width", dryfit_plan::Width::Given("1 in".parse().expect("a length")));
        let findings = found(&plan, RULE);
        assert!(!findings[0].fixes.is_empty());
        every_remedy_clears(&plan, &findings[0]);
    }

    /// Two appliances of 27 in with 1 in of air side by side in spaces of these widths.
    fn pair(left: &str, right: &str) -> Plan {
        let at = |text: &str| Pointer::parse(text).expect("a pointer");
        let plan = demo();
        let draft = Draft::of(&plan)
            .set(&at("/goods/seed-fridge/form/appliance/width"), "27 in")
            .set(&at("/goods/seed-fridge/form/appliance/air_side"), "1 in")
            .set(&at("/units/a1/width/given"), left)
            .set(&at("/units/a2/kind"), "appliance")
            .set(&at("/units/a2/holds"), "seed-fridge")
            .set(&at("/units/a2/width/given"), right)
            .set(&at("/units/t1/width/given"), "12 in")
            .set(&at("/runs/right/order"), ["f2", "a1", "a2", "b6", "f3"]);
        plan.apply(&draft.edit("a pair")).expect("still a plan").0
    }

    #[test]
    fn a_pair_needs_57_inches() {
        // 2 x 27 + 3 x 1 = 57: common practice; the air is a maker's figure
        assert!(found(&pair("28 1/2 in", "28 1/2 in"), RULE).is_empty());
        let findings = found(&pair("28 1/2 in", "28 7/16 in"), RULE);
        assert_eq!(findings.len(), 1);
        assert_eq!(
            findings[0].what,
            "`a1` and `a2` need 57 in with air between and at their sides, and their space is 56 15/16 in"
        );
    }
}
