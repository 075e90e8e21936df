//! Where legs meet: the line of each seam, how far from square its ends are cut, and what is near it.

use dryfit_measure::{Dim, Key};
use dryfit_plan::UnitKind;

use super::leg::Shape;
use super::{Hole, LegEnd, Seam, SeamCut, WorkLeg};
use crate::placement::{Extent, Placement, Plot};

/// All seams of a worktop, leg by leg.
pub(super) fn seams(shape: &Shape<'_>, placement: &Placement, legs: &[WorkLeg]) -> Vec<Seam> {
    let mut seams = Vec::new();
    for leg in legs {
        for side in [0, 1] {
            let (cut, with) = match &leg.ends[side] {
                LegEnd::Butt(with) => (SeamCut::Butt, with),
                // a mitre is one seam, told with the leg on its left
                LegEnd::Mitre(with) if side == 1 => (SeamCut::Mitre, with),
                _ => continue,
            };
            seams.extend(corner(shape, placement, legs, (leg, side), cut, with));
        }
        for (key, along) in &leg.seams {
            let within = along.length() > leg.back[0].length() && along.length() < leg.back[1].length();
            if within {
                seams.extend(across(shape, placement, legs, leg, key, along));
            }
        }
    }
    seams
}

fn corner(
    shape: &Shape<'_>,
    placement: &Placement,
    legs: &[WorkLeg],
    (leg, side): (&WorkLeg, usize),
    cut: SeamCut,
    with: &Key,
) -> Option<Seam> {
    // corners of the outline: front left, front right, back right, back left
    let line = if side == 0 { [leg.outline[0], leg.outline[3]] } else { [leg.outline[1], leg.outline[2]] };
    let slant = &leg.front[side] - &leg.back[side];
    let depth = &leg.depth - &leg.behind;
    let off = slant.length().as_mm_f64().abs().atan2(depth.length().as_mm_f64()).to_degrees();
    let other = legs.iter().find(|other| other.run == *with);
    let other_off = match cut {
        SeamCut::Mitre => {
            let other = other?;
            let slant = (&other.front[1 - side] - &other.back[1 - side]).length().as_mm_f64().abs();
            slant.atan2((&other.depth - &other.behind).length().as_mm_f64()).to_degrees()
        }
        _ => 0.0,
    };
    let length = Dim::hypot(&slant, &depth).named("seam").placed(leg.name.as_str());
    Some(seam(
        shape,
        placement,
        legs,
        Seam {
            name: format!("{} to {with}", leg.name),
            cut,
            run: leg.run.clone(),
            with: with.clone(),
            line,
            length,
            off_square: [off, other_off],
            bolts: 0,
            cutout: None,
            over: None,
        },
    ))
}

fn across(
    shape: &Shape<'_>,
    placement: &Placement,
    legs: &[WorkLeg],
    leg: &WorkLeg,
    key: &Key,
    along: &Dim,
) -> Option<Seam> {
    let plot = Plot::of(shape.survey, &leg.wall)?;
    let at = |out: &Dim| plot.at(along.length().as_mm_f64(), out.length().as_mm_f64());
    let line = [at(&leg.depth), at(&leg.behind)];
    let length = (&leg.depth - &leg.behind).named("seam").placed(key.as_str());
    Some(seam(
        shape,
        placement,
        legs,
        Seam {
            name: key.to_string(),
            cut: SeamCut::Across,
            run: leg.run.clone(),
            with: leg.run.clone(),
            line,
            length,
            off_square: [0.0, 0.0],
            bolts: 0,
            cutout: None,
            over: None,
        },
    ))
}

/// With its bolts and what is near it.
fn seam(shape: &Shape<'_>, placement: &Placement, legs: &[WorkLeg], seam: Seam) -> Seam {
    let pitch = shape.figures.dim("seam-bolt-pitch").length();
    let bolts =
        if pitch.is_positive() { u32::try_from(seam.length.length().needs(pitch)).unwrap_or(2) } else { 2 };
    let near = legs
        .iter()
        .filter(|leg| leg.run == seam.run || leg.run == seam.with)
        .flat_map(|leg| leg.holes.iter().map(move |hole| (leg, hole)))
        .filter_map(|(leg, hole)| Some((hole.unit.clone(), distance(shape, leg, hole, &seam)?)))
        .min_by_key(|(_, far)| far.length());
    let over = placement
        .units
        .iter()
        .filter(|unit| unit.kind == UnitKind::Appliance && unit.top().length() <= shape.placed.upper.length())
        .find(|unit| {
            unit.solid(shape.survey, Extent::Box).is_some_and(|solid| crosses(&solid.plan, seam.line))
        })
        .map(|unit| unit.key.clone());
    Seam { bolts: bolts.max(2), cutout: near, over, ..seam }
}

/// From a seam to a cut-out, in the room.
fn distance(shape: &Shape<'_>, leg: &WorkLeg, hole: &Hole, seam: &Seam) -> Option<Dim> {
    let plot = Plot::of(shape.survey, &leg.wall)?;
    let mm = |dim: &Dim| dim.length().as_mm_f64();
    let quad = [
        plot.at(mm(&hole.left), mm(&hole.front)),
        plot.at(mm(&hole.right), mm(&hole.front)),
        plot.at(mm(&hole.right), mm(&hole.back)),
        plot.at(mm(&hole.left), mm(&hole.back)),
    ];
    let far = if crosses(&quad, seam.line) {
        0.0
    } else {
        let edges = (0..4).map(|i| [quad[i], quad[(i + 1) % 4]]);
        edges
            .flat_map(|edge| {
                let of_ends = seam.line.map(|p| from_segment(p, edge));
                let of_corners = edge.map(|p| from_segment(p, seam.line));
                of_ends.into_iter().chain(of_corners)
            })
            .fold(f64::INFINITY, f64::min)
    };
    // along the wall the one moves with the other
    let sign = if mm(&hole.left) > mm(&leg.back[0]) + mm(&leg.back[1]) / 2.0 { -1.0 } else { 1.0 };
    let cause = leg.seams.iter().find(|(key, _)| key.as_str() == seam.name).map(|(_, along)| along.clone());
    let mut inputs = vec![(hole.left.clone(), sign), (hole.width.clone(), 0.0), (hole.back.clone(), 0.0)];
    inputs.push((cause.unwrap_or_else(|| leg.back[0].clone()), -sign));
    inputs.extend([(seam.length.clone(), 0.0), (leg.depth.clone(), 0.0), (leg.back[1].clone(), 0.0)]);
    let length = dryfit_measure::Length::from_mm_f64(far);
    Some(
        Dim::worked(length, "distance from the seam", inputs)
            .named("seam to cut-out")
            .placed(hole.unit.as_str()),
    )
}

type Point = [f64; 2];

/// How far a point is from a segment.
fn from_segment(p: Point, [a, b]: [Point; 2]) -> f64 {
    let along = [b[0] - a[0], b[1] - a[1]];
    let square = along[0] * along[0] + along[1] * along[1];
    let share = if square < 1e-12 {
        0.0
    } else {
        (((p[0] - a[0]) * along[0] + (p[1] - a[1]) * along[1]) / square).clamp(0.0, 1.0)
    };
    (p[0] - a[0] - share * along[0]).hypot(p[1] - a[1] - share * along[1])
}

/// Whether a segment has a stretch inside a convex outline; touching it does not count.
fn crosses(outline: &[Point], [a, b]: [Point; 2]) -> bool {
    let twice: f64 = (0..outline.len())
        .map(|i| {
            let (p, q) = (outline[i], outline[(i + 1) % outline.len()]);
            p[0] * q[1] - p[1] * q[0]
        })
        .sum();
    let turn = twice.signum();
    let (mut from, mut to) = (0.0_f64, 1.0_f64);
    for i in 0..outline.len() {
        let (p, q) = (outline[i], outline[(i + 1) % outline.len()]);
        let normal = [-(q[1] - p[1]) * turn, (q[0] - p[0]) * turn];
        let inside = |x: Point| (x[0] - p[0]) * normal[0] + (x[1] - p[1]) * normal[1];
        let (at_a, at_b) = (inside(a), inside(b));
        if at_a <= 0.0 && at_b <= 0.0 {
            return false;
        }
        let share = at_a / (at_a - at_b);
        if at_a < 0.0 {
            from = from.max(share);
        } else if at_b < 0.0 {
            to = to.min(share);
        }
    }
    to - from > 1e-9
}

#[cfg(test)]
mod tests {
    use super::*;

    const SQUARE: [Point; 4] = [[0.0, 0.0], [10.0, 0.0], [10.0, 10.0], [0.0, 10.0]];

    #[test]
    fn a_seam_crosses_what_it_has_a_stretch_inside_of() {
        assert!(crosses(&SQUARE, [[5.0, -5.0], [5.0, 15.0]]));
        assert!(crosses(&SQUARE, [[5.0, 2.0], [5.0, 3.0]]));
        assert!(!crosses(&SQUARE, [[15.0, -5.0], [15.0, 15.0]]));
        // along an edge it only touches
        assert!(!crosses(&SQUARE, [[10.0, -5.0], [10.0, 15.0]]));
        let clockwise: Vec<Point> = SQUARE.into_iter().rev().collect();
        assert!(crosses(&clockwise, [[5.0, -5.0], [5.0, 15.0]]));
    }

    #[test]
    fn a_point_is_as_far_from_a_segment_as_from_its_nearest_place() {
        assert!((from_segment([5.0, 3.0], [[0.0, 0.0], [10.0, 0.0]]) - 3.0).abs() < 1e-12);
        assert!((from_segment([13.0, 4.0], [[0.0, 0.0], [10.0, 0.0]]) - 5.0).abs() < 1e-12);
    }
}
