//! The room from above: as it was measured, and as it will stand.
//!
//! The walls lie as the survey found them, out of square and all; hatching shows where they are cut through.

use dryfit_measure::{Figure, Key, Length};
use dryfit_plan::{Level, Plan, Swing, UnitKind};
use dryfit_stages::Derived;
use dryfit_stages::placement::PlacedUnit;

use super::scale::scale_bars;
use crate::metrics::text_width;
use crate::paper::{Anchor, Drawing, HatchKind, Pen, Point, Shape, Stroke, Weight, Words};
use crate::patch::Patch;
use crate::sketch::{Frame, Margins, Sketch};
use crate::tape;

/// Size of the names of walls at the sides, points.
const SIDE: f64 = 12.5;
/// How far from a wall at the side its name stands, points.
const OUT: f64 = 38.0;
/// Thickness that walls are drawn with, points.
const WALL: f64 = 9.0;
/// Size of the lengths of walls, points.
const SPAN: f64 = 17.0;
/// Size of other numbers, points.
const NUMBER: f64 = 15.0;

/// The room as measured: lengths of walls and diagonals, how far corners are from square, heights of the floor.
/// `None` without a room.
pub fn measured(plan: &Plan, derived: &Derived, frame: Frame) -> Option<Drawing> {
    let survey = &derived.survey;
    // names of walls at the sides stand on both sides of their middle
    let name = |wall: &Key| plan.walls.get(wall).and_then(|stated| stated.name.as_deref());
    let names = survey.walls.iter().filter_map(|wall| name(&wall.key));
    let side = names.map(|name| text_width(name, SIDE, Weight::Bold) / 2.0).fold(28.0, f64::max);
    let side = side + WALL + OUT + 4.0;
    let margins = Margins { left: side.max(84.0), right: side, bottom: 52.0, top: 34.0 };
    let alt = format!("The room from above, as measured: {}", lengths(plan, derived));
    let mut sketch = sketch(derived, alt, margins, frame)?;
    walls(&mut sketch, plan, derived);
    for run in &derived.placement.runs {
        let units =
            derived.placement.units.iter().filter(|unit| unit.run == run.key && unit.up.length().is_zero());
        for unit in units.filter(|unit| unit.kind != UnitKind::Gap) {
            if let Some(outline) = footprint(derived, unit, unit.depth.length()) {
                sketch.layer("runs").outline(&outline, Pen::Hair, Stroke::Dash);
            }
        }
    }
    // what has its place by measure comes first, words that may move after it
    let mut taken = levels(&mut sketch, plan, derived);
    for (i, corner) in survey.corners.iter().enumerate() {
        square(&mut sketch, plan, derived, i, &mut taken);
        let inward = inward(derived, i);
        let out = sketch.pt(20.0);
        let at = [corner.at[0] - inward[0] * out, corner.at[1] - inward[1] * out];
        sketch.layer("corners").about(corner.key.to_string());
        sketch.text(at, corner.key.to_string(), 15.0, Weight::Bold, Anchor::Centre);
    }
    diagonals(&mut sketch, plan, derived, &mut taken);
    spans(&mut sketch, plan, derived);
    scale_bars(&mut sketch, plan.fineness.unit());
    Some(sketch.finish())
}

/// The room as it will stand, what is cut today hatched, what is held back dashed. `None` without a room.
pub fn floor(plan: &Plan, derived: &Derived, frame: Frame) -> Option<Drawing> {
    let margins = Margins { left: 16.0, right: 16.0, bottom: 26.0, top: 16.0 };
    let today: Vec<String> = derived.release.cut_today.iter().map(|ready| ready.unit.to_string()).collect();
    let alt = format!("The room from above, with the units that are cut today hatched: {}", today.join(", "));
    let mut sketch = sketch(derived, alt, margins, frame)?;
    furnished(&mut sketch, plan, derived, true);
    Some(sketch.finish())
}

/// Walls, worktops, what stands and over it what hangs, openings; what is cut today hatched where that is asked.
pub(super) fn furnished(sketch: &mut Sketch, plan: &Plan, derived: &Derived, today: bool) {
    walls(sketch, plan, derived);
    for top in &derived.placement.tops {
        sketch.layer("tops").about(top.key.to_string()).outline(&top.outline, Pen::Thin, Stroke::Solid);
    }
    let hangs =
        |unit: &&PlacedUnit| plan.runs.get(&unit.run).is_some_and(|run| !matches!(run.level, Level::Floor));
    let all = &derived.placement.units;
    let standing = all.iter().filter(|unit| !hangs(unit));
    for unit in standing.chain(all.iter().filter(hangs)).filter(|unit| unit.kind != UnitKind::Gap) {
        draw_unit(sketch, plan, derived, unit, today);
    }
    openings(sketch, plan, derived);
}

fn lengths(plan: &Plan, derived: &Derived) -> String {
    let named = derived.survey.walls.iter().map(|wall| {
        let name = plan.walls.get(&wall.key).and_then(|stated| stated.name.clone());
        let name = name.unwrap_or_else(|| wall.key.to_string());
        format!("{name} {}", figure(plan, wall.length.length()).bare())
    });
    named.collect::<Vec<_>>().join("; ")
}

fn figure(plan: &Plan, length: Length) -> Figure {
    tape::measured(length, plan.fineness)
}

pub(super) fn sketch(derived: &Derived, alt: String, margins: Margins, frame: Frame) -> Option<Sketch> {
    let corners = &derived.survey.corners;
    let first = corners.first()?.at;
    let (mut low, mut high) = (first, first);
    for corner in corners {
        for k in 0..2 {
            low[k] = low[k].min(corner.at[k]);
            high[k] = high[k].max(corner.at[k]);
        }
    }
    (corners.len() > 2).then(|| Sketch::new(alt, [low, high], margins, frame))
}

/// Unit vector from one point to another.
pub(super) fn toward(from: Point, to: Point) -> Point {
    let length = (to[0] - from[0]).hypot(to[1] - from[1]).max(1e-9);
    [(to[0] - from[0]) / length, (to[1] - from[1]) / length]
}

/// From a corner into the room, halfway between its walls.
pub(super) fn inward(derived: &Derived, i: usize) -> Point {
    let corners = &derived.survey.corners;
    let count = corners.len();
    let (here, before, after) =
        (corners[i].at, corners[(i + count - 1) % count].at, corners[(i + 1) % count].at);
    let (a, b) = (toward(here, before), toward(here, after));
    let sum = [a[0] + b[0], a[1] + b[1]];
    let length = sum[0].hypot(sum[1]);
    // a corner that points into the room has its walls on the other side
    let turn = (here[0] - before[0]) * (after[1] - here[1]) - (here[1] - before[1]) * (after[0] - here[0]);
    let sign = if turn < 0.0 { -1.0 } else { 1.0 };
    if length > 1e-6 { [sign * sum[0] / length, sign * sum[1] / length] } else { [-b[1], b[0]] }
}

/// The inside line heavy, the wall behind it hatched.
pub(super) fn walls(sketch: &mut Sketch, plan: &Plan, derived: &Derived) {
    let corners: Vec<Point> = derived.survey.corners.iter().map(|corner| corner.at).collect();
    let thick = sketch.pt(WALL);
    // corners of the outer face: out along the bisector, as far as makes the wall equally thick
    let outer: Vec<Point> = (0..corners.len())
        .map(|i| {
            let into = inward(derived, i);
            let along = toward(corners[i], corners[(i + 1) % corners.len()]);
            let sine = (along[0] * into[1] - along[1] * into[0]).abs().max(0.2);
            [corners[i][0] - into[0] * thick / sine, corners[i][1] - into[1] * thick / sine]
        })
        .collect();
    sketch.layer("walls");
    for i in 0..corners.len() {
        let j = (i + 1) % corners.len();
        sketch.hatched(&[corners[i], corners[j], outer[j], outer[i]], HatchKind::Cut);
    }
    sketch.outline(&outer, Pen::Thin, Stroke::Solid);
    sketch.outline(&corners, Pen::Heavy, Stroke::Solid);
    openings(sketch, plan, derived);
}

/// Doors and windows: the wall taken away, jambs, the leaf and its swing.
fn openings(sketch: &mut Sketch, plan: &Plan, derived: &Derived) {
    let thick = sketch.pt(WALL);
    for (key, opening) in &plan.openings {
        let (from, to) = (opening.along.length, opening.along.length + opening.width.length);
        let at =
            |along: Length| derived.survey.point_on_wall(&opening.wall, along, Length::ZERO, Length::ZERO);
        let (Some(a), Some(b)) = (at(from), at(to)) else { continue };
        let along = toward(a, b);
        let out = [along[1], -along[0]];
        // out of the room is on the other side of where a point before the wall lies
        let front = derived.survey.point_on_wall(&opening.wall, from, Length::ZERO, Length::INCH);
        let out = match front {
            Some(front) if (front[0] - a[0]) * out[0] + (front[1] - a[1]) * out[1] > 0.0 => {
                [-out[0], -out[1]]
            }
            _ => out,
        };
        let beyond = |p: Point, far: f64| [p[0] + out[0] * far, p[1] + out[1] * far];
        sketch.layer("openings").about(key.to_string());
        let gap =
            [beyond(a, -sketch.pt(1.4)), beyond(b, -sketch.pt(1.4)), beyond(b, thick), beyond(a, thick)];
        sketch.face(&gap, Pen::Hair);
        sketch.line(&[a, beyond(a, thick)], Pen::Edge);
        sketch.line(&[b, beyond(b, thick)], Pen::Edge);
        match opening.leaf {
            // outside there is no paper for it
            Some(leaf) if leaf.swings == Swing::Out => {}
            Some(leaf) => {
                // left and right are as seen from inside, along the wall from its left-hand corner
                let (hinge, strike) = if leaf.hinge == dryfit_plan::Hand::Left { (a, b) } else { (b, a) };
                let width = (b[0] - a[0]).hypot(b[1] - a[1]);
                let open = beyond(hinge, -width);
                sketch.line(&[hinge, open], Pen::Edge);
                let angle = |p: Point| (p[1] - hinge[1]).atan2(p[0] - hinge[0]);
                let (mut from, mut to) = (angle(open), angle(strike));
                if (to - from).rem_euclid(std::f64::consts::TAU) > std::f64::consts::PI {
                    std::mem::swap(&mut from, &mut to);
                }
                let to = from + (to - from).rem_euclid(std::f64::consts::TAU);
                sketch.shape(Shape::Arc {
                    at: hinge,
                    radius: width,
                    from,
                    to,
                    pen: Pen::Hair,
                    stroke: Stroke::Dash,
                });
            }
            None => {
                for share in [0.33, 0.67] {
                    sketch.line(&[beyond(a, thick * share), beyond(b, thick * share)], Pen::Thin);
                }
            }
        }
    }
}

/// A unit's outline on the floor, so far out from the wall.
fn footprint(derived: &Derived, unit: &PlacedUnit, out: Length) -> Option<[Point; 4]> {
    let up = unit.up.length();
    let (left, right) = (unit.along.length(), unit.right().length());
    let at = |along, out| derived.survey.point_on_wall(&unit.wall, along, up, out);
    Some([at(left, Length::ZERO)?, at(right, Length::ZERO)?, at(right, out)?, at(left, out)?])
}

fn draw_unit(sketch: &mut Sketch, plan: &Plan, derived: &Derived, unit: &PlacedUnit, ready: bool) {
    let depth = unit.depth.length() + unit.frame.length();
    let Some(outline) = footprint(derived, unit, depth) else { return };
    let hangs = plan.runs.get(&unit.run).is_some_and(|run| !matches!(run.level, Level::Floor));
    let today = ready && derived.release.cut_today.iter().any(|ready| ready.unit == unit.key);
    let stroke = if hangs { Stroke::Dash } else { Stroke::Solid };
    sketch.layer("units").about(unit.key.to_string());
    if !hangs {
        sketch.face(&outline, Pen::Edge);
    }
    if today {
        sketch.hatched(&outline, HatchKind::Cut);
    }
    sketch.outline(&outline, if hangs { Pen::Thin } else { Pen::Edge }, stroke);
    let front = unit.front.length();
    if front.is_positive()
        && !hangs
        && let Some(reach) = footprint(derived, unit, depth + front)
    {
        sketch.line(&[outline[2], reach[2], reach[3], outline[3]], Pen::Thin);
    }
    let shown = !matches!(unit.kind, UnitKind::Filler | UnitKind::EndPanel | UnitKind::FloatingShelf);
    if !shown {
        return;
    }
    // what hangs is named towards the wall, what stands below it towards the front
    let share = if hangs { 0.4 } else { 0.66 };
    let mix = |k: usize| {
        let wall = f64::midpoint(outline[0][k], outline[1][k]);
        let front = f64::midpoint(outline[2][k], outline[3][k]);
        wall + share * (front - wall)
    };
    let size = if hangs { 11.0 } else { 14.0 };
    sketch.text([mix(0), mix(1)], unit.key.to_string(), size, Weight::Bold, Anchor::Centre);
}

/// Lengths of the walls, outside them.
fn spans(sketch: &mut Sketch, plan: &Plan, derived: &Derived) {
    let corners = &derived.survey.corners;
    sketch.layer("dimensions");
    for (i, wall) in derived.survey.walls.iter().enumerate() {
        let (a, b) = (corners[i].at, corners[(i + 1) % corners.len()].at);
        let along = toward(a, b);
        let name = plan.walls.get(&wall.key).and_then(|stated| stated.name.clone());
        let name = name.unwrap_or_else(|| wall.key.to_string());
        let number = figure(plan, wall.length.length());
        let middle = [f64::midpoint(a[0], b[0]), f64::midpoint(a[1], b[1])];
        // the room lies counter-clockwise: outside is at the right of the wall
        let out = [along[1], -along[0]];
        let level = along[1].abs() < 0.7;
        let far = sketch.pt(WALL + if level { 14.0 } else { OUT });
        let at = [middle[0] + out[0] * far, middle[1] + out[1] * far];
        if level {
            let words = vec![Words::Plain(name.clone()), Words::Figure(number)];
            sketch.words(at, words, SPAN, Weight::Bold, Anchor::Centre);
        } else {
            sketch.figure([at[0], at[1] + sketch.pt(11.0)], number, SPAN, Anchor::Centre);
            sketch.text([at[0], at[1] - sketch.pt(11.0)], name.clone(), SIDE, Weight::Bold, Anchor::Centre);
        }
        sketch.row(name, number);
    }
}

/// Diagonals of a four-cornered room, their lengths along them.
fn diagonals(sketch: &mut Sketch, plan: &Plan, derived: &Derived, taken: &mut Vec<Patch>) {
    let corners = &derived.survey.corners;
    if corners.len() != 4 {
        return;
    }
    sketch.layer("diagonals");
    let face = (NUMBER, Weight::Bold);
    for (i, j) in [(0, 2), (1, 3)] {
        let (a, b) = (corners[i].at, corners[j].at);
        sketch.stroke(&[a, b], Pen::Thin, Stroke::Dots);
        let length = Length::from_mm_f64((b[0] - a[0]).hypot(b[1] - a[1]));
        let mut turn = (b[1] - a[1]).atan2(b[0] - a[0]).to_degrees();
        if turn.abs() > 90.0 {
            turn -= 180.0 * turn.signum();
        }
        let number = figure(plan, length);
        let words = vec![Words::Figure(number)];
        let patch = |share: f64| {
            let at = [a[0] + share * (b[0] - a[0]), a[1] + share * (b[1] - a[1])];
            Patch { turn, ..sketch.patch(at, &words, face, Anchor::Centre) }
        };
        let shares = [0.36, 0.64, 0.32, 0.68, 0.28, 0.72, 0.4, 0.6, 0.24, 0.76];
        let patch = free(shares.map(patch), taken);
        sketch.turned(patch.centre, words, face, Anchor::Centre, turn);
        sketch.row(format!("{} to {}", corners[i].key, corners[j].key), number);
        taken.push(patch);
    }
}

/// The first that lies on nothing, else the one that lies least on others.
fn free<const N: usize>(among: [Patch; N], taken: &[Patch]) -> Patch {
    let clash = |patch: &Patch| taken.iter().map(|other| patch.clash(other).max(0.0)).sum::<f64>();
    let mut best = among[0];
    for patch in among {
        if clash(&patch) + 1e-9 < clash(&best) {
            best = patch;
        }
    }
    best
}

/// The square's mark in a corner, and the gap at the end of its blade.
fn square(sketch: &mut Sketch, plan: &Plan, derived: &Derived, i: usize, taken: &mut Vec<Patch>) {
    let corners = &derived.survey.corners;
    let count = corners.len();
    let here = corners[i].at;
    let side = sketch.pt(14.0);
    let [a, b] = [(i + 1) % count, (i + count - 1) % count].map(|j| toward(here, corners[j].at));
    let at = |u: f64, v: f64| [here[0] + a[0] * u + b[0] * v, here[1] + a[1] * u + b[1] * v];
    sketch.layer("corners").line(&[at(side, 0.0), at(side, side), at(0.0, side)], Pen::Hair);
    let gap = corners[i].square_gap;
    let number = figure(plan, if gap.is_negative() { -gap } else { gap });
    let into = inward(derived, i);
    let words = if number.length().is_zero() {
        vec![Words::Plain("square".to_owned())]
    } else {
        let way = if gap.is_negative() { "shut" } else { "open" };
        vec![Words::Plain(way.to_owned()), Words::Figure(number)]
    };
    let face = (NUMBER, Weight::Semibold);
    let far =
        [[58.0, 30.0], [58.0, 46.0], [84.0, 26.0], [50.0, 62.0], [104.0, 40.0], [70.0, 78.0], [60.0, 94.0]];
    let patches = far.map(|[x, y]| {
        let place = [here[0] + into[0].signum() * sketch.pt(x), here[1] + into[1].signum() * sketch.pt(y)];
        sketch.patch(place, &words, face, Anchor::Centre)
    });
    let patch = free(patches, taken);
    sketch.words(patch.centre, words, NUMBER, Weight::Semibold, Anchor::Centre);
    sketch.row(format!("corner {}, from square", corners[i].key), number);
    taken.push(patch);
}

/// Heights of the floor against the datum, and the datum itself; the paper that they take.
fn levels(sketch: &mut Sketch, plan: &Plan, derived: &Derived) -> Vec<Patch> {
    let levels = &derived.survey.levels;
    let mut taken = Vec::new();
    sketch.layer("floor");
    for point in &levels.floor {
        let [x, y] = point.at;
        let number = figure(plan, point.height.length());
        sketch.about(point.reading.to_string());
        if levels.datum.as_ref() == Some(&point.reading) {
            let half = sketch.pt(7.0);
            sketch.shape(Shape::Fill {
                points: vec![[x - half, y + half], [x + half, y + half], [x, y - half]],
            });
            sketch.text([x, y - sketch.pt(17.0)], "0 high", 13.0, Weight::Semibold, Anchor::Centre);
            let (wide, tall) = (sketch.pt(24.0), sketch.pt(18.0));
            taken.push(Patch { centre: [x, y - sketch.pt(9.0)], half: [wide, tall], turn: 0.0 });
        } else {
            let at = [x + sketch.pt(7.0), y];
            sketch.shape(Shape::Dot { at: [x, y] });
            sketch.figure(at, number, NUMBER, Anchor::Left);
            let patch = sketch.patch(at, &[Words::Figure(number)], (NUMBER, Weight::Bold), Anchor::Left);
            taken.push(patch.grown(sketch.pt(5.0)));
        }
        sketch.row(format!("floor at {}", point.reading), number);
    }
    taken
}
