//! A unit taken apart: its parts drawn as boxes, pulled away from the middle, each with its number.
//!
//! Seen from the front, the right and above, in parallel projection: lengths along one axis keep their
//! proportion, so that what is longer also looks longer. Parts nearer to the eye hide those behind them.

use std::collections::BTreeMap;

use dryfit_stages::casework::{BuiltUnit, Part};

use crate::paper::{Drawing, Pen, Point, Shape};
use crate::sketch::{Frame, Margins, Sketch};

/// Points kept round the parts for their balloons.
const AROUND: f64 = 26.0;
/// Radius of a balloon, and what is kept free round it, points.
const BALLOON: f64 = 10.5;
/// A number with more parts than this has a balloon on the first of them only.
const ALL_MARKED: usize = 2;

type Corner = [f64; 3];

/// A part as it is drawn: its box after it was pulled away.
struct Apart<'a> {
    part: &'a Part,
    number: u32,
    min: Corner,
    max: Corner,
    /// Recesses of joints, pulled away with it.
    cuts: Vec<[Corner; 2]>,
}

/// Where a point of the unit lies on the paper: x to the right and a little down, y up to the right, z up.
fn project([x, y, z]: Corner) -> Point {
    let (sx, cx) = 14f64.to_radians().sin_cos();
    let (sy, cy) = 32f64.to_radians().sin_cos();
    [x * cx + y * cy * 0.62, z - x * sx + y * sy * 0.62]
}

/// The numbered parts of a unit, taken apart. `numbers` gives the number of each role; parts without one are left
/// out. `None` where nothing is numbered.
pub fn exploded(
    unit: &BuiltUnit,
    numbers: &BTreeMap<&str, u32>,
    alt: impl Into<String>,
    frame: Frame,
) -> Option<Drawing> {
    let parts: Vec<Apart<'_>> = in_order(apart(unit, numbers));
    let mut extent: Option<[Point; 2]> = None;
    for corner in parts.iter().flat_map(corners) {
        let p = project(corner);
        let [low, high] = extent.unwrap_or([p, p]);
        extent = Some([[low[0].min(p[0]), low[1].min(p[1])], [high[0].max(p[0]), high[1].max(p[1])]]);
    }
    let extent = extent?;
    let margins = Margins { left: AROUND, right: AROUND, bottom: AROUND, top: AROUND };
    let mut sketch = Sketch::new(alt, extent, margins, frame);
    for part in &parts {
        sketch.layer("parts").about(format!("{}/{}", unit.key, part.part.role));
        for face in faces(part) {
            sketch.face(&face, Pen::Edge);
        }
        for recess in recesses(part) {
            sketch.outline(&recess, Pen::Thin, crate::paper::Stroke::Solid);
        }
    }
    let around = sketch.pt(AROUND);
    let paper = [extent[0].map(|low| low - around), extent[1].map(|high| high + around)];
    balloons(&mut sketch, &parts, paper);
    Some(sketch.finish())
}

/// The numbered parts with their boxes pulled away from the middle of the unit.
fn apart<'a>(unit: &'a BuiltUnit, numbers: &BTreeMap<&str, u32>) -> Vec<Apart<'a>> {
    let shown = unit.parts.iter().filter_map(|part| Some((part, *numbers.get(part.role.as_str())?)));
    let shown: Vec<(&Part, u32)> = shown.collect();
    let mm = |corner: &[dryfit_measure::Length; 3]| corner.map(dryfit_measure::Length::as_mm_f64);
    let (mut low, mut high) = ([f64::MAX; 3], [f64::MIN; 3]);
    for (part, _) in &shown {
        for axis in 0..3 {
            low[axis] = low[axis].min(mm(&part.solid.min)[axis]);
            high[axis] = high[axis].max(mm(&part.solid.max)[axis]);
        }
    }
    let size: Corner = [0, 1, 2].map(|axis| (high[axis] - low[axis]).max(1.0));
    let least = size.iter().copied().fold(f64::MAX, f64::min).max(size[0] * 0.5);
    shown
        .into_iter()
        .map(|(part, number)| {
            let (min, max) = (mm(&part.solid.min), mm(&part.solid.max));
            // from -1 on the low side of the unit to 1 on its high side
            let place = [0, 1, 2].map(|axis| {
                let middle = f64::midpoint(low[axis], high[axis]);
                (f64::midpoint(min[axis], max[axis]) - middle) / (size[axis] / 2.0)
            });
            let shift = match part.solid.axes[2] {
                0 => [place[0] * size[0] * 0.42, 0.0, 0.0],
                1 if max[1] <= 1.0 => [place[0] * size[0] * 0.16, -size[1] * 0.62, place[2] * least * 0.14],
                1 if place[1] > 0.0 => [0.0, place[1] * size[1] * 0.55, place[2] * least * 0.10],
                1 => [0.0, place[1] * size[1] * 0.30, place[2] * least * 0.30],
                _ => [0.0, 0.0, place[2] * least * 0.30],
            };
            let moved = |corner: Corner| [0, 1, 2].map(|axis| corner[axis] + shift[axis]);
            let cuts = part.solid.cut.iter().map(|[a, b]| [moved(mm(a)), moved(mm(b))]).collect();
            Apart { part, number, min: moved(min), max: moved(max), cuts }
        })
        .collect()
}

fn corners(part: &Apart<'_>) -> Vec<Corner> {
    let pick = |high: bool, axis: usize| if high { part.max[axis] } else { part.min[axis] };
    (0..8).map(|i| [pick(i & 1 > 0, 0), pick(i & 2 > 0, 1), pick(i & 4 > 0, 2)]).collect()
}

/// From the back to the front: a part comes before those that may hide it.
fn in_order(mut parts: Vec<Apart<'_>>) -> Vec<Apart<'_>> {
    // nearness to an eye at the front, the right and above
    let near = |part: &Apart<'_>| {
        let middle = [0, 1, 2].map(|axis| f64::midpoint(part.min[axis], part.max[axis]));
        middle[0] * 0.5 - middle[1] + middle[2] * 0.5
    };
    parts.sort_by(|a, b| near(a).total_cmp(&near(b)));
    let before = |a: &Apart<'_>, b: &Apart<'_>| {
        let behind =
            a.max[0] <= b.min[0] + 0.01 || a.min[1] >= b.max[1] - 0.01 || a.max[2] <= b.min[2] + 0.01;
        let hides = b.max[0] <= a.min[0] + 0.01 || b.min[1] >= a.max[1] - 0.01 || b.max[2] <= a.min[2] + 0.01;
        behind && !hides && silhouettes_meet(a, b)
    };
    let mut ordered = Vec::with_capacity(parts.len());
    while !parts.is_empty() {
        let free =
            (0..parts.len()).find(|&i| (0..parts.len()).all(|j| j == i || !before(&parts[j], &parts[i])));
        ordered.push(parts.remove(free.unwrap_or(0)));
    }
    ordered
}

fn silhouettes_meet(a: &Apart<'_>, b: &Apart<'_>) -> bool {
    let extent = |part: &Apart<'_>| {
        let mut low = [f64::MAX; 2];
        let mut high = [f64::MIN; 2];
        for p in corners(part).into_iter().map(project) {
            for axis in 0..2 {
                low[axis] = low[axis].min(p[axis]);
                high[axis] = high[axis].max(p[axis]);
            }
        }
        [low, high]
    };
    let ([al, ah], [bl, bh]) = (extent(a), extent(b));
    (0..2).all(|axis| al[axis] < bh[axis] && bl[axis] < ah[axis])
}

/// A rectangle that is flat along `axis` at `at`, between two corners.
fn flat(axis: usize, at: f64, low: Corner, high: Corner) -> Vec<Point> {
    let (u, v) = ((axis + 1) % 3, (axis + 2) % 3);
    let corner = |a: f64, b: f64| {
        let mut corner = [0.0; 3];
        corner[axis] = at;
        corner[u] = a;
        corner[v] = b;
        project(corner)
    };
    vec![corner(low[u], low[v]), corner(high[u], low[v]), corner(high[u], high[v]), corner(low[u], high[v])]
}

/// The notch at the front, lower corner of a side, if it has one: how far back and up it goes.
fn notch(part: &Apart<'_>) -> Option<[f64; 2]> {
    part.cuts.iter().find_map(|[low, high]| {
        let through = low[0] <= part.min[0] + 0.01 && high[0] >= part.max[0] - 0.01;
        let corner = low[1] <= part.min[1] + 0.01 && low[2] <= part.min[2] + 0.01;
        (part.part.solid.axes[2] == 0 && through && corner).then_some([high[1], high[2]])
    })
}

/// The faces that the eye sees: above, in front, at the right.
fn faces(part: &Apart<'_>) -> Vec<Vec<Point>> {
    let (min, max) = (part.min, part.max);
    let top = flat(2, max[2], min, max);
    let Some([back, up]) = notch(part) else {
        return vec![top, flat(1, min[1], min, max), flat(0, max[0], min, max)];
    };
    let x = max[0];
    let outline =
        [[min[1], up], [min[1], max[2]], [max[1], max[2]], [max[1], min[2]], [back, min[2]], [back, up]];
    vec![
        top,
        flat(1, back, min, [max[0], back, up]),
        flat(1, min[1], [min[0], min[1], up], max),
        outline.iter().map(|[y, z]| project([x, *y, *z])).collect(),
    ]
}

/// Recesses as they show on the faces that the eye sees.
fn recesses(part: &Apart<'_>) -> Vec<Vec<Point>> {
    let mut shown = Vec::new();
    for [low, high] in &part.cuts {
        let within = |axis: usize| high[axis] - low[axis] < part.max[axis] - part.min[axis] - 0.01;
        let opens = [
            (0, high[0] >= part.max[0] - 0.01),
            (1, low[1] <= part.min[1] + 0.01),
            (2, high[2] >= part.max[2] - 0.01),
        ];
        for (axis, open) in opens {
            // the recess has to be in the broad face and not go through
            if open && axis == usize::from(part.part.solid.axes[2]) && within(axis) {
                let at = if axis == 1 { part.min[1] } else { part.max[axis] };
                shown.push(flat(axis, at, *low, *high));
            }
        }
    }
    shown
}

/// Whether a point lies in an outline.
fn inside(outline: &[Point], [x, y]: Point) -> bool {
    let mut within = false;
    for (i, a) in outline.iter().enumerate() {
        let b = outline[(i + 1) % outline.len()];
        if (a[1] > y) != (b[1] > y) && x < (b[0] - a[0]) * (y - a[1]) / (b[1] - a[1]) + a[0] {
            within = !within;
        }
    }
    within
}

/// A point on the part that nothing in front of it hides, as near its middle as there is one.
fn seen(faces: &[Vec<Vec<Point>>], index: usize) -> Option<Point> {
    let hidden = |p: Point| faces[index + 1..].iter().flatten().any(|face| inside(face, p));
    let mut best: Option<(f64, Point)> = None;
    for face in &faces[index] {
        let [corner, along, up] = [face[0], face[1], face[face.len() - 1]];
        let length = |to: Point| (to[0] - corner[0]).hypot(to[1] - corner[1]);
        // broad faces first: a number on an edge could be anybody's
        let broad = (length(along) * length(up)).sqrt() * 0.002;
        for step in 0..121 {
            let share = [step / 11 + 1, step % 11 + 1].map(|n| f64::from(n) / 12.0);
            let at = [0, 1]
                .map(|k| corner[k] + share[0] * (along[k] - corner[k]) + share[1] * (up[k] - corner[k]));
            let worth = (share[0] - 0.5).abs() + (share[1] - 0.5).abs() - broad;
            if best.is_none_or(|(known, _)| worth < known) && inside(face, at) && !hidden(at) {
                best = Some((worth, at));
            }
        }
    }
    best.map(|(_, p)| p)
}

/// A balloon for each number, off the parts where there is paper, joined to its part by a leader.
fn balloons(sketch: &mut Sketch, parts: &[Apart<'_>], [low, high]: [Point; 2]) {
    let faces: Vec<Vec<Vec<Point>>> = parts.iter().map(faces).collect();
    let mut wanted: Vec<(u32, Point)> = Vec::new();
    let mut numbers: Vec<u32> = parts.iter().map(|part| part.number).collect();
    numbers.sort_unstable();
    numbers.dedup();
    for number in numbers {
        let all: Vec<usize> = (0..parts.len()).filter(|i| parts[*i].number == number).collect();
        let marked = if all.len() > ALL_MARKED { &all[..1] } else { &all[..] };
        wanted.extend(marked.iter().filter_map(|i| Some((number, seen(&faces, *i)?))));
    }
    let (near, far) = (sketch.pt(22.0), sketch.pt(7.0));
    let apart = sketch.pt(2.0 * BALLOON + 2.0);
    let rim = sketch.pt(BALLOON + 1.0);
    let mut placed: Vec<Point> = Vec::new();
    let mut put: Vec<(u32, Point, Point)> = Vec::new();
    let dots: Vec<Point> = wanted.iter().map(|(_, p)| *p).collect();
    for (number, anchor) in wanted {
        let mut best: Option<(f64, Point)> = None;
        for ring in 0..16 {
            for turn in 0..24 {
                let (sin, cos) = (f64::from(turn) * 15f64.to_radians()).sin_cos();
                let reach = near + far * f64::from(ring);
                let at = [anchor[0] + reach * cos, anchor[1] + reach * sin];
                let on_paper = (0..2).all(|k| at[k] - rim >= low[k] && at[k] + rim <= high[k]);
                let free = placed.iter().all(|other| (other[0] - at[0]).hypot(other[1] - at[1]) >= apart)
                    && dots.iter().all(|dot| (dot[0] - at[0]).hypot(dot[1] - at[1]) >= rim * 1.15);
                if !on_paper || !free {
                    continue;
                }
                let covered = (0..8)
                    .map(|k| (f64::from(k) * 45f64.to_radians()).sin_cos())
                    .filter(|(s, c)| {
                        let p = [at[0] + rim * c, at[1] + rim * s];
                        faces.iter().flatten().any(|face| inside(face, p))
                    })
                    .count() as f64;
                let crossing = put.iter().filter(|(_, a, b)| cross(*a, *b, anchor, at)).count() as f64;
                let cost = covered * 9.0 + f64::from(ring) * 5.0 + crossing * 60.0;
                if best.is_none_or(|(known, _)| cost < known) {
                    best = Some((cost, at));
                }
            }
        }
        // on paper that is too small for all of them a number lies on its part, but it is there
        let at = best.map_or(anchor, |(_, at)| at);
        placed.push(at);
        put.push((number, anchor, at));
    }
    sketch.layer("numbers");
    for (number, anchor, at) in put {
        sketch.line(&[anchor, at], Pen::Hair);
        sketch.shape(Shape::Dot { at: anchor });
        sketch.shape(Shape::Balloon { at, number });
    }
}

/// Whether two stretches cross.
fn cross(a: Point, b: Point, c: Point, d: Point) -> bool {
    let side = |p: Point, q: Point, r: Point| (q[0] - p[0]) * (r[1] - p[1]) - (q[1] - p[1]) * (r[0] - p[0]);
    side(a, b, c) * side(a, b, d) < 0.0 && side(c, d, a) * side(c, d, b) < 0.0
}
