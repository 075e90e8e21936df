//! `fit/collision`: no two things are in one place.
//!
//! What it checks: boxes with their frames, appliances in their spaces, and worktops, each against those of every
//! other run: as upright boxes in the room as measured, corners out of square and all. Touching is legal. What
//! only opens into something is asked by the rules of corners and doors.
//!
//! Why it matters: two runs that were drawn apart meet on the wall.
//!
//! Source: geometry.
//!
//! Example: a shelf from 48 in along, beside a wall unit that ends at 49 1/2 in, is 1 1/2 in inside it.
//!
//! Remedy: the run ends at what it hits, or meets it in the corner; what hangs is hung above it.

use dryfit_measure::{Dim, Key, Length, Pointer, Toward};
use dryfit_plan::{Draft, End, Hand, Level, UnitKind};

use super::Checked;
use super::found::{found, unit_at};
use crate::finding::{Finding, Fix, Severity};
use crate::placement::{Extent, PlacedTop, PlacedUnit, Plot, Solid, TopLeg};

/// Overlaps no deeper than this are touching: the room is worked out in floating-point millimetres.
const TOUCHING: f64 = 0.01;

/// Things that are in one place.
pub(super) fn check(checked: &Checked<'_>) -> Vec<Finding> {
    let solid = |unit: &&PlacedUnit| {
        unit.kind.is_box() || matches!(unit.kind, UnitKind::Appliance | UnitKind::FloatingShelf)
    };
    let solids: Vec<(&PlacedUnit, Solid)> = (checked.placement.units.iter())
        .filter(solid)
        .filter_map(|unit| Some((unit, unit.solid(checked.survey, Extent::Frame)?)))
        .collect();
    let mut findings = Vec::new();
    for (i, (one, solid)) in solids.iter().enumerate() {
        for (other, its) in &solids[i + 1..] {
            if one.run != other.run && overlap_of(solid, its).is_some() {
                findings.push(of_units(checked, one, other));
            }
        }
        findings.extend(checked.placement.tops.iter().filter_map(|top| of_top(checked, one, solid, top)));
    }
    findings
}

/// How far one upright box would have to be moved to be out of another, mm; none where they only touch.
///
/// Two convex boxes are apart where their shadows on some side's normal are.
fn overlap_of(a: &Solid, b: &Solid) -> Option<f64> {
    let mut least = a.up[1].min(b.up[1]) - a.up[0].max(b.up[0]);
    for quad in [&a.plan, &b.plan] {
        for (from, to) in quad.iter().zip(quad.iter().cycle().skip(1)) {
            let side = [to[0] - from[0], to[1] - from[1]];
            let length = side[0].hypot(side[1]);
            if length < 1e-9 {
                return None;
            }
            let across = [-side[1] / length, side[0] / length];
            let shadow = |quad: &[[f64; 2]; 4]| {
                let along = quad.iter().map(|at| at[0] * across[0] + at[1] * across[1]);
                along.fold([f64::MAX, f64::MIN], |[low, high], at| [low.min(at), high.max(at)])
            };
            let ([low, high], [its_low, its_high]) = (shadow(&a.plan), shadow(&b.plan));
            least = least.min(high.min(its_high) - low.max(its_low));
        }
    }
    (least > TOUCHING).then_some(least)
}

/// How far two stretches overlap.
fn shared(a: [&Dim; 2], b: [&Dim; 2]) -> Dim {
    Dim::least([a[1] - b[0], b[1] - a[0]])
}

fn of_units(checked: &Checked<'_>, one: &PlacedUnit, other: &PlacedUnit) -> Finding {
    let subjects = vec![one.key.clone(), other.key.clone()];
    let at = Pointer::root().child("runs").child(other.run.as_str());
    let (what, because, short) = if one.wall == other.wall {
        let up = shared([&one.up, &one.top()], [&other.up, &other.top()]).named("overlap in height");
        let along = shared([&one.along, &one.right()], [&other.along, &other.right()]);
        let along = along.named("overlap along the wall");
        let least = if along.length() < up.length() { along } else { up };
        let least = least.placed(format!("{} and {}", one.key, other.key));
        let by = checked.needed(&least);
        let what = format!("`{}` and `{}` are in one place: they overlap by {by}", one.key, other.key);
        (what, vec![least.clone()], Some(least))
    } else {
        let what = format!("`{}` and `{}` are in one place, round the corner", one.key, other.key);
        let depths = [one, other].map(|unit| unit.frame_plane().placed(unit.key.as_str()));
        (what, depths.to_vec(), None)
    };
    let mut finding = found("fit/collision", Severity::Stop, subjects, at, what);
    // a shelf gives way before a box
    let mut ways = [(other, one), (one, other)];
    ways.sort_by_key(|(moved, _)| moved.kind != UnitKind::FloatingShelf);
    for (moved, kept) in ways {
        finding.fixes.extend(end_at(checked, moved, kept));
        finding.fixes.extend(in_corner(checked, moved, kept));
        finding.fixes.extend(above(checked, moved, kept));
    }
    finding.because = because;
    finding.short_by = short;
    finding
}

fn run_at(run: &Key, name: &str) -> Pointer {
    Pointer::root().child("runs").child(run.as_str()).child(name)
}

/// The run of one unit ending at the other, where it is the last on that side.
fn end_at(checked: &Checked<'_>, moved: &PlacedUnit, kept: &PlacedUnit) -> Option<Fix> {
    if moved.wall != kept.wall {
        return None;
    }
    let run = checked.plan.runs.get(&moved.run)?;
    let middle = |unit: &PlacedUnit| unit.along.length() + unit.right().length();
    let left = middle(kept) < middle(moved);
    let (last, end, name) =
        if left { (run.order.first(), &run.left, "left") } else { (run.order.last(), &run.right, "right") };
    // one that ends where its last unit ends cannot be moved by its end
    if last != Some(&moved.key) || matches!(end, End::Unit(_) | End::Corner { .. } | End::Open) {
        return None;
    }
    // a run that ends at this one cannot be what this one ends at
    let kept_run = checked.plan.runs.get(&kept.run)?;
    let hangs_on = |end: &End| matches!(end, End::Unit(key) if run.order.contains(key));
    if hangs_on(&kept_run.left) || hangs_on(&kept_run.right) {
        return None;
    }
    let label = format!("let `{}` end at `{}`", moved.run, kept.key);
    let draft = Draft::of(checked.plan).set(&run_at(&moved.run, name), End::Unit(kept.key.clone()));
    Some(Fix::of(draft.edit(label)))
}

/// Two runs that each go up to the wall meeting in the corner instead, `kept` up to the wall.
fn in_corner(checked: &Checked<'_>, moved: &PlacedUnit, kept: &PlacedUnit) -> Option<Fix> {
    let moved_run = checked.plan.runs.get(&moved.run)?;
    let kept_run = checked.plan.runs.get(&kept.run)?;
    let beside = |hand| checked.survey.beside(&moved.wall, hand) == Some(&kept.wall);
    let (ends, names) = match (beside(Hand::Left), beside(Hand::Right)) {
        (false, true) => ([&moved_run.right, &kept_run.left], ["right", "left"]),
        (true, false) => ([&moved_run.left, &kept_run.right], ["left", "right"]),
        _ => return None,
    };
    if ends.iter().all(|end| matches!(end, End::Corner { .. })) || moved_run.level != kept_run.level {
        return None;
    }
    let corner = |with: &Key| End::Corner { with: with.clone(), owner: kept.run.clone() };
    let draft = Draft::of(checked.plan)
        .set(&run_at(&moved.run, names[0]), corner(&kept.run))
        .set(&run_at(&kept.run, names[1]), corner(&moved.run));
    let label = format!("let `{}` and `{}` meet in the corner, `{1}` up to the wall", moved.run, kept.run);
    Some(Fix::of(draft.edit(label)))
}

/// The run of one unit hung above the other, where all of it then ends under the ceiling.
fn above(checked: &Checked<'_>, moved: &PlacedUnit, kept: &PlacedUnit) -> Option<Fix> {
    let run = checked.plan.runs.get(&moved.run).filter(|run| run.level != Level::Floor)?;
    let up = checked.mark(kept.top().length(), Toward::Up);
    let fits = |key: &Key| {
        let Some(unit) = checked.placement.unit(key) else { return true };
        let ceiling = checked.lowest_ceiling(unit, unit.frame_plane().length());
        ceiling.is_none_or(|ceiling| up.length + unit.height.length() <= ceiling.length())
    };
    if up.length <= moved.up.length() || !run.order.iter().all(fits) {
        return None;
    }
    let label = format!("hang `{}` {up} up, above `{}`", moved.run, kept.key);
    Some(Fix::of(Draft::of(checked.plan).set(&run_at(&moved.run, "level"), Level::Up(up)).edit(label)))
}

/// A unit that reaches into a worktop it does not stand under.
fn of_top(checked: &Checked<'_>, unit: &PlacedUnit, solid: &Solid, top: &PlacedTop) -> Option<Finding> {
    let hit = |leg: &&TopLeg| {
        leg.run != unit.run && slab(checked, top, leg).is_some_and(|slab| overlap_of(solid, &slab).is_some())
    };
    top.legs.iter().find(hit)?;
    let under = (&top.upper - &top.thickness).named("underside of the worktop");
    let short = shared([&unit.up, &unit.top()], [&under, &top.upper]).named("overlap in height");
    let what = format!(
        "`{}` is in the place of the worktop: it goes from {} to {} up, the worktop from {} to {}",
        unit.key,
        checked.available(&unit.up),
        checked.needed(&unit.top()),
        checked.available(&under),
        checked.needed(&top.upper)
    );
    let subjects = vec![unit.key.clone(), top.key.clone()];
    let mut finding = found("fit/collision", Severity::Stop, subjects, unit_at(&unit.key), what);
    let above = Level::AboveTop(top.key.clone());
    let run = checked.plan.runs.get(&unit.run)?;
    if run.level != Level::Floor && run.level != above {
        let label = format!("hang `{}` above `{}`", unit.run, top.key);
        let draft = Draft::of(checked.plan).set(&run_at(&unit.run, "level"), above);
        finding.fixes.push(Fix::of(draft.edit(label)));
    }
    finding.because = vec![unit.up.clone(), unit.top(), under, top.upper.clone()];
    finding.short_by = Some(short.placed(unit.key.as_str()));
    Some(finding)
}

/// A leg of a worktop as an upright box.
fn slab(checked: &Checked<'_>, top: &PlacedTop, leg: &TopLeg) -> Option<Solid> {
    let run = checked.placement.run(&leg.run)?;
    let plot = Plot::of(checked.survey, &run.wall)?;
    let [from, to, out] = [&leg.from, &leg.to, &leg.depth].map(|dim| dim.length().as_mm_f64());
    let up = [top.upper.length() - top.thickness.length(), top.upper.length()].map(Length::as_mm_f64);
    Some(Solid { plan: [plot.at(to, 0.0), plot.at(from, 0.0), plot.at(from, out), plot.at(to, out)], up })
}

#[cfg(test)]
mod tests {
    use super::super::trial::{demo, derive, every_remedy_clears, found, with};
    use super::*;
    use dryfit_measure::{Stated, Unit};
    use dryfit_plan::Plan;

    const RULE: &str = "fit/collision";

    /// The demo with its lower shelf run up to the wall, through the jar cupboard, so high up.
    fn through(up: Length) -> Plan {
        let plan = with(&demo(), "/runs/shelf-low/left", End::Wall);
        with(&plan, "/runs/shelf-low/level", Level::Up(Stated { length: up, unit: Unit::Inch }))
    }

    #[test]
    fn nothing_in_the_demo_is_in_the_place_of_another() {
        assert!(found(&demo(), RULE).is_empty());
    }

    #[test]
    fn a_shelf_on_the_cupboard_touches_it_and_a_mark_lower_it_is_in_its_place() {
        let top = derive(&demo()).placement.unit(&Key::literal("u1")).expect("placed").top().length();
        assert!(found(&through(top), RULE).is_empty());
        let plan = through(top - Length::inches(0, 1, 16));
        let findings = found(&plan, RULE);
        assert_eq!(findings.len(), 1);
        assert_eq!(findings[0].what, "`s1` and `u1` are in one place: they overlap by 1/16 in");
        assert_eq!(findings[0].fixes[0].label, "let `shelf-low` end at `u1`");
        every_remedy_clears(&plan, &findings[0]);
    }

    #[test]
    fn what_hangs_into_the_worktop_is_hung_above_it() {
        let plan = with(&demo(), "/runs/shelf-low/level", Level::Up("34 in".parse().expect("a length")));
        let findings = found(&plan, RULE);
        let told =
            findings.iter().find(|finding| finding.subjects[1].as_str() == "slate").expect("it is told");
        let what = &told.what;
        assert!(what.starts_with("`s1` is in the place of the worktop: it goes from 34 in to "), "{what}");
        every_remedy_clears(&plan, told);
    }

    #[test]
    fn runs_that_go_through_each_other_in_a_corner_meet_there_instead() {
        let plan = with(&demo(), "/runs/left/right", End::Wall);
        let plan = with(&plan, "/runs/back/left", End::Wall);
        let plan = with(&plan, "/runs/back/order", ["b3", "b4", "b5", "f6", "k2"]);
        let findings = found(&plan, RULE);
        let told = findings.iter().find(|finding| finding.what.starts_with("`b3` and `b2` are in one place"));
        let told = told.expect("they are told");
        assert_eq!(told.fixes.len(), 2, "either of the two up to the wall");
        for fix in &told.fixes {
            let (mended, _) = plan.apply(&fix.edit).expect("it applies");
            let left = found(&mended, RULE);
            assert!(!left.iter().any(|left| left.id() == told.id()), "{} leaves it", fix.label);
        }
    }

    #[test]
    fn a_shelf_round_the_corner_is_hung_above_what_it_hits() {
        let shelf = serde_json::json!({ "kind": "floating-shelf", "recipe": "painted", "width": { "given": "24 in" } });
        let run = serde_json::json!({
            "along": "BC", "level": { "up": "70 in" }, "order": ["s3"], "left": "open", "right": "wall"
        });
        let plan = demo();
        let draft = Draft::of(&plan)
            .set(&Pointer::parse("/units/s3").expect("a pointer"), shelf)
            .set(&Pointer::parse("/runs/corner-shelf").expect("a pointer"), run);
        let (plan, _) = plan.apply(&draft.edit("a shelf in the corner")).expect("still a plan");
        let findings = found(&plan, RULE);
        assert_eq!(findings.len(), 1, "{findings:?}");
        assert!(findings[0].fixes.iter().any(|fix| fix.label.starts_with("hang `corner-shelf` ")));
        every_remedy_clears(&plan, &findings[0]);
    }

    #[test]
    fn boxes_turned_against_each_other_overlap_where_they_do() {
        // a square of 10, and one turned by 45 degrees whose corner is so far from the left
        let upright = |plan| Solid { plan, up: [0.0, 1e3] };
        let square = upright([[10.0, 10.0], [0.0, 10.0], [0.0, 0.0], [10.0, 0.0]]);
        let turned = |x: f64| upright([[x + 10.0, 5.0], [x + 5.0, 10.0], [x, 5.0], [x + 5.0, 0.0]]);
        assert!((overlap_of(&square, &turned(9.5)).expect("they overlap") - 0.5).abs() < 1e-9);
        assert!(overlap_of(&square, &turned(10.0)).is_none(), "a corner on a face touches");
        assert!(overlap_of(&square, &turned(10.5)).is_none());
    }
}
