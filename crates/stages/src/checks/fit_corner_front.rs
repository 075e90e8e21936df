//! `fit/corner-front`: in an inside corner the first front of each run that opens clears the other run.
//!
//! What it checks: the edge of the first door, drawer or appliance door, seen from the corner, against how far
//! the other run reaches with its boxes, frames, fronts and pulls, and the air kept before them
//! (`corner-clear`). Both runs are asked. A run that is too wide already says so itself, and is not asked at the
//! end where it is.
//!
//! Why it matters: a drawer behind its neighbour's pull opens an inch and no further, which shows when the
//! worktop is on.
//!
//! Source: geometry.
//!
//! Example: beside boxes of 24 in with fronts of 3/4 in, pulls of 1 1/4 in and 1/4 in of air, a drawer front has
//! to begin 26 1/4 in from the corner; after a filler of 1 in and a reveal of 1 in it begins at 26.
//!
//! Remedy: a wider filler in the corner; where there is none, a filler.

use dryfit_measure::{Dim, Key, Length, Toward};
use dryfit_plan::{Draft, End, Unit, UnitKind, Width};

use super::Checked;
use super::found::{found, unit_at};
use crate::figures::Figures;
use crate::finding::{Finding, Fix, Severity};
use crate::placement::{ApplianceSize, PlacedRun, PlacedUnit, appliance, reveal};

/// Fronts that open into another run.
pub(super) fn check(checked: &Checked<'_>) -> Vec<Finding> {
    let ends = checked.placement.runs.iter().flat_map(|run| [(run, 0), (run, 1)]);
    ends.filter_map(|(run, side)| caught(checked, run, side)).collect()
}

fn caught(checked: &Checked<'_>, run: &PlacedRun, side: usize) -> Option<Finding> {
    let kept = run.kept_clear[side].as_ref()?;
    if side == 1 && run.spare.length().is_negative() {
        return None;
    }
    let mut units: Vec<&PlacedUnit> = checked.placement.units_of(&run.key).collect();
    if side == 1 {
        units.reverse();
    }
    let (first, reveal) =
        (units.iter().enumerate()).find_map(|(k, unit)| Some((k, edge_to_front(checked, unit)?)))?;
    let unit = units[first];
    let (edge, short) = if side == 0 {
        let edge = &unit.along + reveal;
        (edge.clone(), kept - edge)
    } else {
        let edge = unit.right() - reveal;
        (edge.clone(), edge - kept)
    };
    if !short.length().is_positive() {
        return None;
    }
    let short = short.named("caught by").placed(unit.key.as_str());
    let edge = edge.named("edge of its front").placed(unit.key.as_str());
    let subjects = vec![run.key.clone(), unit.key.clone()];
    let filler = units[..first].iter().rev().find(|unit| unit.kind == UnitKind::Filler);
    let lacks = match filler {
        Some(filler) => format!(
            "filler `{}` has to be {} wide, and is {}",
            filler.key,
            checked.needed(&(&filler.width + &short)),
            checked.available(&filler.width)
        ),
        None => format!("it lacks {}, and no filler keeps it clear", checked.needed(&short)),
    };
    let what =
        format!("the first front of `{}` opens into {}: {lacks}", unit.key, round_corner(checked, run, side));
    let at = unit_at(filler.map_or(&unit.key, |filler| &filler.key)).child("width");
    let mut finding = found("fit/corner-front", Severity::Stop, subjects, at, what);
    finding.fixes = match filler {
        Some(filler) => wider(checked, filler, &units, short.length()),
        None => fill(checked, unit, side, short.length()).into_iter().collect(),
    };
    finding.because = vec![edge, kept.clone()];
    finding.short_by = Some(short);
    Some(finding)
}

/// The run round a corner, by its key.
fn round_corner(checked: &Checked<'_>, run: &PlacedRun, side: usize) -> String {
    let ends = checked.plan.runs.get(&run.key).map(|run| [&run.left, &run.right]);
    match ends.map(|ends| ends[side]) {
        Some(End::Corner { with, .. }) => format!("run `{with}`"),
        _ => "the run round the corner".to_owned(),
    }
}

/// From the edge of a unit to the edge of the first of its fronts that opens; none where none does.
fn edge_to_front(checked: &Checked<'_>, unit: &PlacedUnit) -> Option<Dim> {
    let stated = checked.plan.units.get(&unit.key)?;
    match unit.kind {
        UnitKind::Appliance => {
            let own = appliance(checked.plan, stated, ApplianceSize::Width)?;
            (&unit.width - own).split(2).pop()
        }
        kind if kind.is_box() => reveal(checked.plan, &unit.key, stated),
        _ => None,
    }
}

/// The filler so much wider. `units` are those of its run from the corner on.
fn wider(checked: &Checked<'_>, filler: &PlacedUnit, units: &[&PlacedUnit], by: Length) -> Vec<Fix> {
    let clears = |unit: &&&PlacedUnit| checked.plan.units[&unit.key].width == Width::ClearsCorner;
    let before = units.iter().take_while(clears).count();
    let place = units.iter().position(|unit| unit.key == filler.key);
    let width = checked.mark(filler.width.length() + by, Toward::Up);
    let to = if place == Some(before) { Width::ClearsCorner } else { Width::Given(width) };
    checked.widen(filler, to, width.length, &[])
}

/// A filler on the corner's side of a unit.
fn fill(checked: &Checked<'_>, unit: &PlacedUnit, side: usize, by: Length) -> Option<Fix> {
    let plan = checked.plan;
    let recipe = plan.units.get(&unit.key)?.recipe.clone()?;
    let key = (1..).find_map(|n| {
        let key = Key::new(&format!("f{n}")).ok()?;
        (!plan.units.contains_key(&key)).then_some(key)
    })?;
    let least = Figures::of_unit(plan, &unit.key).dim("corner-filler-least").length();
    let width = checked.mark(by.max(least), Toward::Up);
    let filler = Unit {
        kind: UnitKind::Filler,
        name: None,
        recipe: Some(recipe),
        holds: None,
        width: Width::Given(width),
        height: None,
        depth: None,
        fronts: None,
        shelves: 0,
        dividers: 0,
        lid: false,
        roles: std::collections::BTreeMap::new(),
        figures: std::collections::BTreeMap::new(),
    };
    let mut order = plan.runs.get(&unit.run)?.order.clone();
    let place = order.iter().position(|other| *other == unit.key)?;
    order.insert(place + side, key.clone());
    let run = dryfit_measure::Pointer::root().child("runs").child(unit.run.as_str()).child("order");
    let label = format!("put a filler of {width} beside `{}`", unit.key);
    let draft = Draft::of(plan).set(&unit_at(&key), filler).set(&run, order);
    Some(Fix::of(draft.edit(label)))
}

#[cfg(test)]
mod tests {
    use super::super::trial::{demo, derive, every_remedy_clears, found, with};
    use dryfit_measure::{Key, Length, Stated, Unit};
    use dryfit_plan::{Draft, Plan, Width};

    const RULE: &str = "fit/corner-front";

    #[test]
    fn the_demo_opens_in_both_corners() {
        assert!(found(&demo(), RULE).is_empty());
    }

    #[test]
    fn a_narrow_filler_is_found_in_whichever_run_it_stands() {
        let narrow = |plan: &Plan, key: &str, width: &str| {
            with(plan, &format!("/units/{key}/width"), Width::Given(width.parse().expect("a length")))
        };
        let corner = |gap: &str, filler: &str| narrow(&narrow(&demo(), gap, "24 in"), filler, "3/4 in");
        let plans = [
            (narrow(&demo(), "f1", "3/4 in"), "left", "b2"),
            (narrow(&demo(), "f2", "3/4 in"), "right", "a1"),
            (corner("k1", "f5"), "back", "b3"),
            (corner("k2", "f6"), "back", "b5"),
        ];
        for (plan, run, unit) in plans {
            let findings = found(&plan, RULE);
            assert_eq!(findings.len(), 1, "{run} {unit}");
            assert_eq!(findings[0].subjects, [Key::literal(run), Key::literal(unit)]);
            every_remedy_clears(&plan, &findings[0]);
        }
    }

    #[test]
    fn without_a_filler_one_is_offered() {
        let order = dryfit_measure::Pointer::parse("/runs/left/order").expect("a pointer");
        let plan = demo();
        let edit = Draft::of(&plan).set(&order, ["e1", "b1", "b2"]).edit("no filler");
        let (plan, _) = plan.apply(&edit).expect("still a plan");
        let findings = found(&plan, RULE);
        assert_eq!(findings.len(), 1);
        assert!(findings[0].fixes[0].label.starts_with("put a filler of 3 in beside `b2`"));
        every_remedy_clears(&plan, &findings[0]);
    }

    #[test]
    fn exactly_at_the_limit_it_passes_and_closer_it_does_not() {
        // with a filler of 1 in: as much less air as it lacks, and it lacks nothing
        let plan = with(&demo(), "/units/f1/width", Width::Given("1 in".parse().expect("a length")));
        let air = |nm: i64| {
            let air = Stated { length: Length::from_nm(nm), unit: Unit::Millimetre };
            with(&plan, "/units/b2/figures", std::collections::BTreeMap::from([("corner-clear", air)]))
        };
        let lacks = |nm: i64| {
            let findings = found(&air(nm), RULE);
            findings.first().map_or(0, |finding| finding.short_by.as_ref().expect("a length").length().nm())
        };
        // the corner is not quite square, so that the last nanometres take a second step
        let first = 6_350_000 - lacks(6_350_000);
        let limit = first - lacks(first);
        assert!(limit > 0 && limit < 6_350_000);
        assert!(found(&air(limit), RULE).is_empty());
        assert_eq!(found(&air(limit + 1_000), RULE).len(), 1, "a thousandth of a millimetre closer");
    }

    #[test]
    fn the_edge_of_the_front_is_where_casework_puts_its_doors() {
        // what the reveal says, against the door's own solid
        let derived = derive(&demo());
        let key = Key::literal("b1");
        let unit = derived.placement.unit(&key).expect("placed");
        let reveal = super::reveal(&demo(), &key, &demo().units[&key]).expect("its pair opens").length();
        let built = derived.casework.units.iter().find(|built| built.key == key).expect("built");
        let doors = built.parts.iter().filter(|part| part.role.starts_with("door"));
        let left = doors.map(|part| part.solid.min[0]).min().expect("it has doors");
        assert_eq!(left + built.overhang[0].length(), reveal);
        assert!(unit.width.length() > reveal * 2);
    }
}
