//! `fit/door-swing`: a door of the room that opens inwards opens square to its wall.
//!
//! What it checks: the quarter circle that the leaf sweeps, against every unit over all, pulls included, that
//! stands lower than the door's head. Touching is legal.
//!
//! Why it matters: a door that stops at a pull after half its way is found when the appliance comes.
//!
//! Source: geometry.
//!
//! Example: a door of 32 in with its hinges 40 in from a corner meets boxes 24 in deep on the wall round it.
//!
//! Severity: *look*: it still opens, less far.
//!
//! Remedy: a leaf that swings out; hinges on its other side, where that sweeps nothing.

use dryfit_measure::{Dim, Key, Length, Pointer, Toward};
use dryfit_plan::{Edit, Hand, Opening, Swing, UnitKind};

use super::Checked;
use super::found::found;
use crate::finding::{Finding, Fix, Severity};
use crate::placement::{Extent, PlacedUnit, Plot};

/// Doors that meet a unit before they stand open.
pub(super) fn check(checked: &Checked<'_>) -> Vec<Finding> {
    checked.plan.openings.iter().filter_map(|(key, opening)| caught(checked, key, opening)).collect()
}

fn caught(checked: &Checked<'_>, key: &Key, opening: &Opening) -> Option<Finding> {
    let leaf = opening.leaf.filter(|leaf| leaf.swings == Swing::In)?;
    let (unit, into) = first_met(checked, opening, leaf.hinge)?;
    let at = Pointer::root().child("openings").child(key.as_str());
    let width = Dim::taped(opening.width.length, at.child("width")).named("width of the leaf");
    let free = (opening.width.length - into).figure(checked.plan.fineness, Toward::Down);
    let what = format!(
        "the {} does not open square: it sweeps {} from its hinges, and `{}` is {free} from them",
        opening.name,
        checked.needed(&width),
        unit.key
    );
    let at = at.child("leaf");
    let subjects = vec![key.clone(), unit.key.clone()];
    let mut finding = found("fit/door-swing", Severity::Look, subjects, at.clone(), what);
    let (other, named) = match leaf.hinge {
        Hand::Left => (Hand::Right, "right"),
        Hand::Right => (Hand::Left, "left"),
    };
    if first_met(checked, opening, other).is_none() {
        let label = format!("hang the {} on its {named}", opening.name);
        finding.fixes.push(Fix::of(Edit::set(checked.plan, &at.child("hinge"), other, label)));
    }
    let label = format!("let the {} swing out", opening.name);
    finding.fixes.push(Fix::of(Edit::set(checked.plan, &at.child("swings"), Swing::Out, label)));
    finding.because = vec![width, unit.overall_depth().placed(unit.key.as_str())];
    Some(finding)
}

/// The unit that a leaf hung on this side would meet first, and how far it reaches into the leaf's sweep.
fn first_met<'a>(checked: &Checked<'a>, opening: &Opening, hinge: Hand) -> Option<(&'a PlacedUnit, Length)> {
    let plot = Plot::of(checked.survey, &opening.wall)?;
    let (near, width) = (opening.along.length.as_mm_f64(), opening.width.length.as_mm_f64());
    let (at, closes) = match hinge {
        Hand::Left => (near, 1.0),
        Hand::Right => (near + width, -1.0),
    };
    // the leaf's own axes: towards its other jamb, and into the room
    let origin = plot.at(at, 0.0);
    let from_hinges = |place: [f64; 2]| [place[0] - origin[0], place[1] - origin[1]];
    let (shut, open) = (from_hinges(plot.at(at + closes, 0.0)), from_hinges(plot.at(at, 1.0)));
    let stands = |unit: &&PlacedUnit| {
        unit.kind != UnitKind::Gap
            && unit.up.length() < opening.head.length
            && unit.width.length().is_positive()
    };
    let meets = |unit: &'a PlacedUnit| {
        let solid = unit.solid(checked.survey, Extent::OverAll)?;
        let outline = solid.plan.map(|corner| {
            let to = from_hinges(corner);
            [to[0] * shut[0] + to[1] * shut[1], to[0] * open[0] + to[1] * open[1]]
        });
        let into = width - distance(&clip(&clip(&outline, 0), 1))?;
        // a thousandth of a millimetre is touching
        (into > 1e-3).then(|| (unit, Length::from_mm_f64(into)))
    };
    checked.placement.units.iter().filter(stands).filter_map(meets).max_by_key(|(_, into)| *into)
}

/// What of a convex outline lies where this coordinate is not below zero.
fn clip(outline: &[[f64; 2]], axis: usize) -> Vec<[f64; 2]> {
    let mut kept = Vec::new();
    for (from, to) in outline.iter().zip(outline.iter().cycle().skip(1)) {
        if from[axis] >= 0.0 {
            kept.push(*from);
        }
        if (from[axis] < 0.0) != (to[axis] < 0.0) {
            let part = from[axis] / (from[axis] - to[axis]);
            kept.push([0, 1].map(|k| from[k] + (to[k] - from[k]) * part));
        }
    }
    kept
}

/// The least distance of a convex outline from the origin, on whose edge or outside of which that lies; none for
/// an outline without an area.
fn distance(outline: &[[f64; 2]]) -> Option<f64> {
    let sides = outline.iter().zip(outline.iter().cycle().skip(1));
    let area: f64 = sides.clone().map(|(a, b)| a[0] * b[1] - a[1] * b[0]).sum();
    let nearest = sides.map(|(a, b)| {
        let side = [b[0] - a[0], b[1] - a[1]];
        let square = side[0] * side[0] + side[1] * side[1];
        let part = if square > 0.0 { -(a[0] * side[0] + a[1] * side[1]) / square } else { 0.0 };
        let part = part.clamp(0.0, 1.0);
        (a[0] + side[0] * part).hypot(a[1] + side[1] * part)
    });
    (area.abs() > 1e-6).then(|| nearest.fold(f64::MAX, f64::min))
}

#[cfg(test)]
mod tests {
    use super::super::trial::{demo, derive, every_remedy_clears, found, with};
    use super::*;
    use dryfit_measure::{Stated, Unit};
    use dryfit_plan::Plan;

    const RULE: &str = "fit/door-swing";

    /// The demo's door opening inwards, its hinges on that side, so far from the corner beside the tall cupboard.
    fn inwards(along: Stated, hinge: &str) -> Plan {
        let plan = with(&demo(), "/openings/door/leaf/swings", "in");
        let plan = with(&plan, "/openings/door/leaf/hinge", hinge);
        with(&plan, "/openings/door/along", along)
    }

    fn inches(text: &str) -> Stated {
        text.parse().expect("a length")
    }

    #[test]
    fn the_door_of_the_demo_opens() {
        assert!(found(&demo(), RULE).is_empty());
        assert!(found(&inwards(inches("50 in"), "right"), RULE).is_empty());
    }

    #[test]
    fn a_door_that_sweeps_a_pull_is_told_and_mended() {
        let plan = inwards(inches("22 in"), "right");
        let findings = found(&plan, RULE);
        assert_eq!(findings.len(), 1, "{findings:?}");
        let what = &findings[0].what;
        assert!(
            what.starts_with("the door does not open square: it sweeps 32 in from its hinges, and `"),
            "{what}"
        );
        every_remedy_clears(&plan, &findings[0]);
    }

    #[test]
    fn exactly_where_the_pull_ends_it_passes_and_a_thousandth_closer_it_does_not() {
        let at = |um: i64| Stated { length: Length::um(um), unit: Unit::Millimetre };
        let told = |um: i64| !found(&inwards(at(um), "right"), RULE).is_empty();
        let (mut caught, mut free) = (558_800, 800_000);
        assert!(told(caught) && !told(free));
        while free - caught > 1 {
            let middle = i64::midpoint(free, caught);
            if told(middle) { caught = middle } else { free = middle }
        }
        // hung on the right, the leaf shut reaches from the corner what its opening's near jamb is away from it: so
        // the limit is how far along the door wall the tall cupboard reaches, its pulls included
        let plan = inwards(at(free), "right");
        let derived = derive(&plan);
        let plot = Plot::of(&derived.survey, &Key::literal("DA")).expect("the door wall");
        let hinges = plot.at(Length::um(free).as_mm_f64() + inches("32 in").length.as_mm_f64(), 0.0);
        let nearest = derived.placement.units.iter().filter(|unit| unit.run.as_str() == "right");
        let corners = nearest.filter_map(|unit| unit.solid(&derived.survey, Extent::OverAll));
        let far = |at: [f64; 2]| (at[0] - hinges[0]).hypot(at[1] - hinges[1]);
        let least = corners.flat_map(|solid| solid.plan).map(far).fold(f64::MAX, f64::min);
        assert!(
            (least - 812.8).abs() < 0.01,
            "the nearest corner is as far away as the leaf is wide: {least}"
        );
    }

    #[test]
    fn a_quarter_circle_and_a_box() {
        let rect = |x: f64, y: f64| vec![[x, y], [x + 5.0, y], [x + 5.0, y + 5.0], [x, y + 5.0]];
        let near = |outline: Vec<[f64; 2]>| distance(&clip(&clip(&outline, 0), 1));
        assert!((near(rect(3.0, 4.0)).expect("an area") - 5.0).abs() < 1e-12, "its corner, by 3, 4, 5");
        assert!((near(rect(-2.0, 7.0)).expect("an area") - 7.0).abs() < 1e-12, "straight before the hinges");
        assert!(near(rect(-9.0, 7.0)).is_none(), "behind the open leaf");
        assert!(near(rect(-2.0, -2.0)).expect("an area").abs() < 1e-12, "on the hinges");
    }
}
