//! The room from above for a screen: as it was surveyed, each reading where it was taken; and as it is laid out.

use dryfit_measure::Key;
use dryfit_plan::{Plan, Subject};
use dryfit_stages::Derived;

use super::chain::NUMBER;
use crate::paper::{Anchor, Drawing, Pen, Point, Shape, Stroke, Weight, Words};
use crate::sketch::{Frame, Margins, Sketch};
use crate::views::floor::{furnished, inward, sketch, toward, walls};

/// How many times larger than it is a corner's doubt is drawn: as much as makes the largest be seen.
pub fn ring_scale(derived: &Derived) -> u32 {
    let largest = derived.survey.corners.iter().map(|corner| corner.ellipse[0]).fold(0.0, f64::max) * WITHIN;
    // about a twelfth of a small room
    [1, 2, 5, 10, 20, 50, 100, 200]
        .into_iter()
        .rev()
        .find(|times| largest * f64::from(*times) < 160.0)
        .unwrap_or(1)
}

/// So many standard deviations hold 95 % of a bivariate normal distribution: the root of 2 ln 20.
const WITHIN: f64 = 2.448;

/// The room as surveyed: the first reading of each wall and diagonal along it, and a ring of doubt at each corner.
/// `None` without a room.
pub fn survey_room(plan: &Plan, derived: &Derived, frame: Frame) -> Option<Drawing> {
    let margins = Margins { left: 74.0, right: 74.0, bottom: 62.0, top: 56.0 };
    let mut sketch = sketch(derived, "The room from above, with what was read".into(), margins, frame)?;
    walls(&mut sketch, plan, derived);
    rings(&mut sketch, derived);
    letters(&mut sketch, derived, 34.0);
    for (a, b, reading) in spans(plan) {
        let corner =
            |key: &Key| derived.survey.corners.iter().find(|corner| corner.key == *key).map(|c| c.at);
        let (Some(from), Some(to)) = (corner(a), corner(b)) else { continue };
        let joined = derived
            .survey
            .walls
            .iter()
            .any(|wall| (wall.left == *a && wall.right == *b) || (wall.left == *b && wall.right == *a));
        let stated = &plan.readings[reading];
        let figure = stated.length.figure(None, dryfit_measure::Toward::Nearest);
        let about = format!("/readings/{reading}/length");
        if joined {
            beside(&mut sketch, derived, from, to, figure, about);
        } else {
            across(&mut sketch, from, to, figure, about);
        }
        sketch.row(format!("{reading}, {a} to {b}"), figure);
    }
    Some(sketch.finish())
}

/// The first reading in use of each pair of corners.
fn spans(plan: &Plan) -> Vec<(&Key, &Key, &Key)> {
    let mut found: Vec<(&Key, &Key, &Key)> = Vec::new();
    for (key, reading) in plan.readings.iter().filter(|(_, reading)| reading.set_aside.is_none()) {
        let (Subject::Span { from, to } | Subject::Diagonal { from, to }) = &reading.of else { continue };
        let known = |(a, b, _): &(&Key, &Key, &Key)| (*a == from && *b == to) || (*a == to && *b == from);
        if !found.iter().any(known) {
            found.push((from, to, key));
        }
    }
    found
}

/// A dimension line outside a wall with its number.
fn beside(
    sketch: &mut Sketch,
    derived: &Derived,
    a: Point,
    b: Point,
    figure: dryfit_measure::Figure,
    about: String,
) {
    let along = toward(a, b);
    let mut out = [along[1], -along[0]];
    let corners = &derived.survey.corners;
    let count = corners.len() as f64;
    let centre =
        corners.iter().fold([0.0, 0.0], |sum, c| [sum[0] + c.at[0] / count, sum[1] + c.at[1] / count]);
    let middle = [f64::midpoint(a[0], b[0]), f64::midpoint(a[1], b[1])];
    if (centre[0] - middle[0]) * out[0] + (centre[1] - middle[1]) * out[1] > 0.0 {
        out = [-out[0], -out[1]];
    }
    let off = |p: Point, points: f64, sketch: &Sketch| {
        let far = sketch.pt(points);
        [p[0] + out[0] * far, p[1] + out[1] * far]
    };
    sketch.layer("chain");
    let (from, to) = (off(a, 26.0, sketch), off(b, 26.0, sketch));
    sketch.line(&[from, to], Pen::Thin);
    let tick = sketch.pt(4.5);
    for end in [from, to] {
        let slant = [along[0] + out[0], along[1] + out[1]];
        sketch.line(
            &[
                [end[0] - slant[0] * tick, end[1] - slant[1] * tick],
                [end[0] + slant[0] * tick, end[1] + slant[1] * tick],
            ],
            Pen::Edge,
        );
    }
    let mut turn = along[1].atan2(along[0]).to_degrees();
    if turn > 90.1 {
        turn -= 180.0;
    } else if turn <= -89.9 {
        turn += 180.0;
    }
    let at = off(middle, 38.0, sketch);
    sketch.layer("numbers").about(about);
    sketch.turned(at, vec![Words::Figure(figure)], (NUMBER, Weight::Regular), Anchor::Centre, turn);
}

/// A dashed line across the room with its number on it.
fn across(sketch: &mut Sketch, a: Point, b: Point, figure: dryfit_measure::Figure, about: String) {
    sketch.layer("diagonals").stroke(&[a, b], Pen::Thin, Stroke::Dash);
    let mut turn = (b[1] - a[1]).atan2(b[0] - a[0]).to_degrees();
    if turn.abs() > 90.0 {
        turn -= 180.0 * turn.signum();
    }
    let at = [a[0] + 0.34 * (b[0] - a[0]), a[1] + 0.34 * (b[1] - a[1])];
    sketch.layer("numbers").about(about);
    sketch.turned(at, vec![Words::Figure(figure)], (NUMBER, Weight::Regular), Anchor::Centre, turn);
}

/// Where each corner may really be, 19 times in 20.
fn rings(sketch: &mut Sketch, derived: &Derived) {
    sketch.layer("rings");
    let times = f64::from(ring_scale(derived));
    for corner in &derived.survey.corners {
        let [a, b, turn] = corner.ellipse;
        let (a, b) = (a * WITHIN * times, b * WITHIN * times);
        let points: Vec<Point> = (0..36)
            .map(|i| {
                let angle = f64::from(i) * std::f64::consts::TAU / 36.0;
                let (x, y) = (a * angle.cos(), b * angle.sin());
                [
                    corner.at[0] + x * turn.cos() - y * turn.sin(),
                    corner.at[1] + x * turn.sin() + y * turn.cos(),
                ]
            })
            .collect();
        sketch.outline(&points, Pen::Thin, Stroke::Dash);
    }
}

fn letters(sketch: &mut Sketch, derived: &Derived, out: f64) {
    for (i, corner) in derived.survey.corners.iter().enumerate() {
        let into = inward(derived, i);
        let far = sketch.pt(out);
        let at = [corner.at[0] - into[0] * far, corner.at[1] - into[1] * far];
        sketch.layer("corners").about(corner.key.to_string());
        sketch.text(at, corner.key.to_string(), 18.0, Weight::Semibold, Anchor::Centre);
    }
}

/// The room as it is laid out, looked at from inside towards one wall. `None` without a room.
pub fn layout_room(plan: &Plan, derived: &Derived, wall: Option<&Key>, frame: Frame) -> Option<Drawing> {
    let margins = Margins { left: 26.0, right: 26.0, bottom: 26.0, top: 26.0 };
    let mut sketch = sketch(derived, "The room from above, as it will stand".into(), margins, frame)?;
    furnished(&mut sketch, plan, derived, false);
    letters(&mut sketch, derived, 18.0);
    if let Some(line) = derived.survey.walls.iter().find(|line| Some(&line.key) == wall) {
        let ends = [&line.left, &line.right].map(|key| derived.survey.corners.iter().find(|c| c.key == *key));
        if let [Some(a), Some(b)] = ends {
            let along = toward(a.at, b.at);
            let far = sketch.pt(13.0);
            // seen from inside the left-hand corner comes first, so the room is at the right of this way
            let off = |p: Point| [p[0] - along[1] * far, p[1] + along[0] * far];
            sketch.layer("looked-at").shape(Shape::Line {
                points: vec![off(a.at), off(b.at)],
                closed: false,
                pen: Pen::Named,
                stroke: Stroke::Solid,
                paper: false,
            });
        }
    }
    Some(sketch.finish())
}
