//! A worktop from above: its legs in the angles of the room, what they are cut from, seams, cut-outs.

use dryfit_measure::Length;
use dryfit_plan::Plan;
use dryfit_stages::Derived;
use dryfit_stages::placement::Plot;
use dryfit_stages::surfaces::worktop::{TopPart, TopPiece, WorkLeg, Worktop};

use super::scale::scale_bars;
use crate::paper::{Anchor, Drawing, HatchKind, Pen, Point, Shape, Stroke, Weight, Words};
use crate::sketch::{Frame, Margins, Sketch};
use crate::tape;

/// Size of lengths along edges, points.
const EDGE: f64 = 16.0;
/// Size of numbers beside a cut-out, points.
const NUMBER: f64 = 15.0;

/// A worktop with the walls it lies against. `None` where it has no legs.
pub fn worktop(plan: &Plan, derived: &Derived, top: &Worktop, frame: Frame) -> Option<Drawing> {
    let points: Vec<Point> = top.legs.iter().flat_map(|leg| leg.outline.iter().copied()).collect();
    let first = *points.first()?;
    let (mut low, mut high) = (first, first);
    for point in &points {
        for k in 0..2 {
            low[k] = low[k].min(point[k]);
            high[k] = high[k].max(point[k]);
        }
    }
    let margins = Margins { left: 46.0, right: 46.0, bottom: 44.0, top: 34.0 };
    let mut sketch = Sketch::new(alt(plan, top), [low, high], margins, frame);
    for leg in &top.legs {
        sketch.layer("worktop").about(format!("{}/{}", top.key, leg.run));
        sketch.face(&leg.outline, Pen::Heavy);
    }
    for piece in &top.pieces {
        joints(&mut sketch, top, piece);
    }
    for seam in &top.seams {
        sketch.layer("seams").about(format!("{}/{}", top.key, seam.name));
        sketch.line(&seam.line, Pen::Named);
    }
    for leg in &top.legs {
        holes(&mut sketch, plan, derived, leg);
        edges(&mut sketch, plan, derived, leg);
    }
    for (i, seam) in top.seams.iter().enumerate() {
        let number = u32::try_from(i + 1).unwrap_or(u32::MAX);
        let at = mix(seam.line[0], seam.line[1], 0.5);
        sketch.layer("seams").shape(Shape::Balloon { at, number });
    }
    scale_bars(&mut sketch, plan.fineness.unit());
    Some(sketch.finish())
}

fn alt(plan: &Plan, top: &Worktop) -> String {
    let legs = top.legs.iter().map(|leg| {
        let figure = |length: Length| tape::measured(length, plan.fineness).bare().to_string();
        let long = |edge: &[dryfit_measure::Dim; 2]| figure(edge[1].length() - edge[0].length());
        let (back, front, deep) = (long(&leg.back), long(&leg.front), figure(leg.depth.length()));
        let sinks = leg.holes.len();
        format!(
            "leg {}, {back} long at the wall, {front} at the front, {deep} deep, {sinks} cut-outs",
            leg.name
        )
    });
    let legs: Vec<String> = legs.collect();
    format!("Worktop {} from above: {}. {} seams", top.key, legs.join("; "), top.seams.len())
}

/// The middle of four corners.
fn middle_of(outline: &[Point; 4]) -> Point {
    [0, 1].map(|k| outline.iter().map(|point| point[k]).sum::<f64>() / 4.0)
}

fn mix(a: Point, b: Point, share: f64) -> Point {
    [a[0] + share * (b[0] - a[0]), a[1] + share * (b[1] - a[1])]
}

/// Joints of the upper layer dashed, strips of the lower ones dotted.
fn joints(sketch: &mut Sketch, top: &Worktop, piece: &TopPiece) {
    if piece.outline.len() < 4 {
        return;
    }
    let stroke = match piece.what {
        TopPart::Substrate if piece.layer == 1 => Stroke::Dash,
        TopPart::Strip => Stroke::Dots,
        _ => return,
    };
    sketch.layer("layers").about(format!("{}/{}", top.key, piece.role));
    sketch.outline(&piece.outline, Pen::Thin, stroke);
}

/// A cut-out with its pilot holes, and where it is from the left-hand end and from the front edge.
fn holes(sketch: &mut Sketch, plan: &Plan, derived: &Derived, leg: &WorkLeg) {
    let Some(plot) = Plot::of(&derived.survey, &leg.wall) else { return };
    let at = |along: f64, out: f64| plot.at(along, out);
    for hole in &leg.holes {
        let mm = |dim: &dryfit_measure::Dim| dim.length().as_mm_f64();
        let (left, right, back, front) = (mm(&hole.left), mm(&hole.right), mm(&hole.back), mm(&hole.front));
        let outline = [at(left, front), at(right, front), at(right, back), at(left, back)];
        sketch.layer("cut-outs").about(format!("{}/cutout", hole.unit));
        sketch.face(&outline, Pen::Edge);
        sketch.hatched(&outline, HatchKind::Waste);
        for [along, out] in &hole.pilots {
            let radius = hole.radius.length().as_mm_f64();
            let at = at(mm(along), mm(out));
            sketch.shape(Shape::Circle { at, radius, pen: Pen::Thin, stroke: Stroke::Solid });
        }
        let figure = |length: Length| tape::measured(length, plan.fineness);
        let middle = middle_of(&outline);
        let line = sketch.points_per_mm().recip() * 10.0;
        let width = vec![Words::Figure(figure(hole.width.length())), Words::Plain("\u{d7}".into())];
        sketch.words([middle[0], middle[1] + line], width, NUMBER, Weight::Bold, Anchor::Centre);
        sketch.figure([middle[0], middle[1] - line], figure(hole.depth.length()), NUMBER, Anchor::Centre);
        let from_left = hole.left.length() - leg.back[0].length();
        let reach = f64::midpoint(mm(&leg.back[0]), left);
        let line = f64::midpoint(back, front);
        sketch.layer("dimensions").line(&[at(mm(&leg.back[0]), line), at(left, line)], Pen::Thin);
        sketch.figure(at(reach, line), figure(from_left), NUMBER, Anchor::Centre);
        sketch.row(format!("cut-out over {}, from the left-hand end", hole.unit), figure(from_left));
        let web = leg.depth.length() - hole.front.length();
        let beside = right + sketch.points_per_mm().recip() * 20.0;
        sketch.line(&[at(beside, front), at(beside, mm(&leg.depth))], Pen::Thin);
        sketch.figure(at(beside, f64::midpoint(front, mm(&leg.depth))), figure(web), NUMBER, Anchor::Centre);
        sketch.row(format!("cut-out over {}, behind the front edge", hole.unit), figure(web));
    }
}

/// Lengths of a leg's edges: at the wall behind it, at the front before it; and its name and depth.
fn edges(sketch: &mut Sketch, plan: &Plan, derived: &Derived, leg: &WorkLeg) {
    let Some(plot) = Plot::of(&derived.survey, &leg.wall) else { return };
    let mm = |dim: &dryfit_measure::Dim| dim.length().as_mm_f64();
    let point = sketch.points_per_mm().recip();
    let middle = |edge: &[dryfit_measure::Dim; 2]| f64::midpoint(mm(&edge[0]), mm(&edge[1]));
    let figure = |length: Length| tape::measured(length, plan.fineness);
    let [from, to] = [plot.at(mm(&leg.back[0]), 0.0), plot.at(mm(&leg.back[1]), 0.0)];
    let mut turn = (to[1] - from[1]).atan2(to[0] - from[0]).to_degrees();
    if turn.abs() > 91.0 {
        turn -= 180.0 * turn.signum();
    }
    let face = (EDGE, Weight::Bold);
    let back = figure(leg.back[1].length() - leg.back[0].length());
    let front = figure(leg.front[1].length() - leg.front[0].length());
    sketch.layer("dimensions").about(leg.name.clone());
    // at the wall, outside it, where nothing else is
    let (near, before) = (-14.0 * point, mm(&leg.depth) + 14.0 * point);
    sketch.turned(plot.at(middle(&leg.back), near), vec![Words::Figure(back)], face, Anchor::Centre, turn);
    sketch.turned(
        plot.at(middle(&leg.front), before),
        vec![Words::Figure(front)],
        face,
        Anchor::Centre,
        turn,
    );
    sketch.row(format!("{}, at the wall", leg.name), back);
    sketch.row(format!("{}, at the front edge", leg.name), front);
    sketch.row(format!("{}, from the wall to the front edge", leg.name), figure(leg.depth.length()));
    // the name where no cut-out is
    let ends = [mm(&leg.front[0]), mm(&leg.front[1])];
    let place = leg.holes.first().map_or(f64::midpoint(ends[0], ends[1]), |hole| {
        let right = mm(&hole.right);
        let left = mm(&hole.left);
        if ends[1] - right > left - ends[0] {
            right + 0.55 * (ends[1] - right)
        } else {
            ends[0] + 0.2 * (left - ends[0])
        }
    });
    let name = vec![Words::Plain(leg.name.clone())];
    let deep = f64::midpoint(mm(&leg.behind), mm(&leg.depth)) - 8.0 * point;
    sketch.turned(plot.at(place, deep), name, (15.0, Weight::Bold), Anchor::Centre, turn);
    let words = vec![Words::Figure(figure(leg.depth.length())), Words::Plain("deep".into())];
    sketch.turned(plot.at(place, deep + 18.0 * point), words, (15.0, Weight::Regular), Anchor::Centre, turn);
}
