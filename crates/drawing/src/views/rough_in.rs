//! A wall before it is closed: studs, pipes, cables and boxes to their centres, where nothing is drilled, and the
//! screws that units will hang by.

use dryfit_measure::{Dim, Figure, Key, Length};
use dryfit_plan::{BoxPurpose, Plan};
use dryfit_stages::Derived;
use dryfit_stages::services::{Band, NodeKind, PlacedBox, PlacedRun, RunKind, WallMap};
use dryfit_stages::survey::WallLine;

use super::scale::scale_bars;
use crate::metrics::{text_width, words_width};
use crate::paper::{Anchor, Drawing, HatchKind, Pen, Point, Shape, Stroke, Weight, Words};
use crate::rows::{RowMark, Side, row_room};
use crate::sketch::{Frame, Margins, Sketch, rectangle};
use crate::tape::measured;

/// Size of the marks, points.
const MARK: f64 = 17.0;
/// Size of words, points.
const WORD: f64 = 13.0;
/// What ends so near the ceiling, mm, goes through it.
const AT_CEILING: f64 = 150.0;
/// Size of letters in symbols, points.
const LETTER: f64 = 11.0;

/// One wall's rough-in; `None` where nothing runs in it and no box is on it.
pub fn rough_in(plan: &Plan, derived: &Derived, key: &Key, frame: Frame) -> Option<Drawing> {
    let line = derived.survey.walls.iter().find(|wall| wall.key == *key)?;
    let on_wall = |placed: &&PlacedBox| placed.spot.wall == *key && placed.is_in_wall();
    let boxes: Vec<&PlacedBox> = derived.services.boxes.iter().filter(on_wall).collect();
    let map = derived.services.map(key);
    if map.is_none() && boxes.is_empty() {
        return None;
    }
    let view = View { plan, derived, line, map, boxes };
    let length = line.length.length().as_mm_f64();
    let ceiling = [0.0, length].map(|along| view.ceiling(along));
    let (along, heights) = (view.along(), view.heights());
    let right = view.first_line().map_or(0.0, |_| text_width("L0 40", WORD, Weight::Bold) + 34.0);
    let margins = Margins {
        left: 20.0 + row_room(Side::Left, &heights, MARK),
        right: 12.0 + right,
        bottom: 46.0 + row_room(Side::Below, &along, MARK),
        top: 8.0,
    };
    let top = ceiling[0].max(ceiling[1]);
    let mut sketch = Sketch::new(view.alt(), [[0.0, 0.0], [length, top]], margins, frame);
    let wall = [[0.0, 0.0], [length, 0.0], [length, ceiling[1]], [0.0, ceiling[0]]];
    view.studs(&mut sketch);
    view.openings(&mut sketch);
    view.bands(&mut sketch, &wall);
    view.runs(&mut sketch, top);
    sketch.layer("room").outline(&wall, Pen::Heavy, Stroke::Solid);
    view.levels(&mut sketch, length);
    view.screws(&mut sketch);
    view.symbols(&mut sketch);
    view.warning(&mut sketch);
    sketch.layer("dimensions");
    let (below, beside) = (-sketch.pt(16.0), -sketch.pt(16.0));
    sketch.marks_row(Side::Below, 0.0, below, &along, MARK);
    sketch.marks_row(Side::Left, 0.0, beside, &heights, MARK);
    scale_bars(&mut sketch, plan.fineness.unit());
    Some(sketch.finish())
}

struct View<'d> {
    plan: &'d Plan,
    derived: &'d Derived,
    line: &'d WallLine,
    map: Option<&'d WallMap>,
    boxes: Vec<&'d PlacedBox>,
}

fn mm(dim: &Dim) -> f64 {
    dim.length().as_mm_f64()
}

impl View<'_> {
    fn figure(&self, length: Length) -> Figure {
        measured(length, self.plan.fineness)
    }

    fn mark(&self, dim: &Dim, what: String) -> RowMark {
        RowMark { at: mm(dim), figure: self.figure(dim.length()), what }
    }

    fn name(&self) -> String {
        let named = self.plan.walls.get(&self.line.key).and_then(|wall| wall.name.clone());
        named.unwrap_or_else(|| format!("wall {}", self.line.key))
    }

    /// Runs with something in this wall.
    fn here(&self) -> impl Iterator<Item = &PlacedRun> {
        let here = |run: &&PlacedRun| run.nodes.iter().any(|node| node.spot.wall == self.line.key);
        self.derived.services.runs.iter().filter(here)
    }

    fn alt(&self) -> String {
        let mut told: Vec<String> = Vec::new();
        for run in self.here() {
            for node in run.nodes.iter().filter(|node| node.kind == NodeKind::Stub) {
                told.push(format!(
                    "{} {} along, {} up",
                    run.kind.word(),
                    self.figure(node.spot.along.length()).bare(),
                    self.figure(node.spot.up.length()).bare()
                ));
            }
        }
        told.extend(self.boxes.iter().map(|placed| {
            format!(
                "{} {} along, {} up",
                word(placed.purpose),
                self.figure(placed.spot.along.length()).bare(),
                self.figure(placed.spot.up.length()).bare()
            )
        }));
        format!(
            "Rough-in of the {} from inside, marks from corner {}, to centres: {}. Bands along pipes and cables are not drilled",
            self.name(),
            self.line.left,
            told.join("; ")
        )
    }

    /// The ceiling over a place on the wall, mm above the datum; eight feet where nobody measured it.
    fn ceiling(&self, along: f64) -> f64 {
        let survey = &self.derived.survey;
        let at = survey.point_on_wall(&self.line.key, Length::from_mm_f64(along), Length::ZERO, Length::ZERO);
        let over = at.and_then(|at| survey.levels.ceiling_over(at));
        over.map_or(Length::inches(96, 0, 1), |dim| dim.length()).as_mm_f64()
    }

    fn along(&self) -> Vec<RowMark> {
        let mut marks = vec![self.mark(&Dim::zero(), format!("corner {}", self.line.left))];
        for run in self.here() {
            for node in run.nodes.iter().filter(|node| self.shows(node)) {
                marks.push(self.mark(&node.spot.along, format!("{} {}, centre", run.kind.word(), node.key)));
            }
        }
        for placed in &self.boxes {
            marks.push(
                self.mark(&placed.spot.along, format!("{} {}, centre", word(placed.purpose), placed.key)),
            );
        }
        marks.push(self.mark(&self.line.length, format!("corner {}", self.line.right)));
        marks
    }

    fn heights(&self) -> Vec<RowMark> {
        let mut marks = vec![self.mark(&Dim::zero(), "datum".into())];
        for run in self.here() {
            let told = run.nodes.iter().filter(|node| self.shows(node));
            // what a drain falls to stands in the table
            let told = told.filter(|node| !run.kind.is_pipe() || node.kind != NodeKind::At);
            for node in told {
                let high = self.ceiling(mm(&node.spot.along)) - AT_CEILING;
                if (0.0..high).contains(&mm(&node.spot.up)) {
                    marks.push(self.mark(&node.spot.up, format!("{} {} up", run.kind.word(), node.key)));
                }
            }
        }
        for placed in &self.boxes {
            marks.push(self.mark(&placed.spot.up, format!("{} {} up", word(placed.purpose), placed.key)));
        }
        marks
    }

    /// Whether a node is marked: stubs, and turns in the wall. What only joins or ends in a box is marked there.
    fn shows(&self, node: &dryfit_stages::services::PlacedNode) -> bool {
        node.spot.wall == self.line.key
            && matches!(node.kind, NodeKind::Stub | NodeKind::At | NodeKind::Trap | NodeKind::Standpipe)
    }

    /// Studs as they stand, as far as the plan knows them.
    fn studs(&self, sketch: &mut Sketch) {
        let Some(framing) = self.plan.walls.get(&self.line.key).and_then(|wall| wall.framing.as_ref()) else {
            return;
        };
        let (first, apart) = (framing.first.length, framing.studs.length);
        // closer than these they would be no studs
        if apart < Length::inches(4, 0, 1) {
            return;
        }
        let half = Length::inches(0, 3, 4).as_mm_f64();
        sketch.layer("studs");
        let length = self.line.length.length();
        for number in 0..200 {
            let centre = first + apart * number;
            if centre >= length {
                break;
            }
            let x = centre.as_mm_f64();
            if x - half <= 0.0 {
                continue;
            }
            for side in [x - half, x + half] {
                sketch.line(&[[side, 0.0], [side, self.ceiling(side)]], Pen::Hair);
            }
        }
    }

    fn openings(&self, sketch: &mut Sketch) {
        for (key, opening) in self.plan.openings.iter().filter(|(_, opening)| opening.wall == self.line.key) {
            let along = opening.along.length.as_mm_f64();
            let low = [along, opening.sill.map_or(0.0, |sill| sill.length.as_mm_f64())];
            let high = [along + opening.width.length.as_mm_f64(), opening.head.length.as_mm_f64()];
            sketch.layer("openings").about(key.as_str()).face(&rectangle(low, high), Pen::Thin);
            let at = [f64::midpoint(low[0], high[0]), f64::midpoint(low[1], high[1])];
            sketch.text(at, opening.name.clone(), WORD, Weight::Regular, Anchor::Centre);
        }
    }

    fn bands(&self, sketch: &mut Sketch, wall: &[Point]) {
        for band in self.map.into_iter().flat_map(|map| &map.bands) {
            let outline = clipped(&banded(band), wall);
            if outline.len() > 2 {
                sketch.layer("do-not-drill").about(band.run.as_str());
                sketch.outline(&outline, Pen::Hair, Stroke::Solid).hatched(&outline, HatchKind::Crossed);
            }
        }
    }

    fn runs(&self, sketch: &mut Sketch, top: f64) {
        for band in self.map.into_iter().flat_map(|map| &map.bands) {
            let pen = match band.kind {
                RunKind::Drain | RunKind::Vent | RunKind::Duct => Pen::Heavy,
                _ => Pen::Edge,
            };
            let found = self.derived.services.run(&band.run).is_some_and(|run| run.found);
            let stroke = if found { Stroke::Dash } else { Stroke::Solid };
            let ends = [band.from, band.to].map(|end| {
                let [x, y] = end.map(Length::as_mm_f64);
                [x, y.clamp(0.0, top)]
            });
            sketch.layer("pipes").about(band.run.as_str()).stroke(&ends, pen, stroke);
        }
    }

    fn first_line(&self) -> Option<&Dim> {
        let lines = &self.derived.placement.lines;
        let here = lines.iter().filter(|line| line.walls.contains(&self.line.key));
        here.min_by_key(|line| !line.is_first()).map(|line| &line.up)
    }

    /// The first level line, the worktop that will stand here, and the middle of its sinks.
    fn levels(&self, sketch: &mut Sketch, length: f64) {
        if let Some(up) = self.first_line() {
            let y = mm(up);
            let out = length + sketch.pt(8.0);
            sketch.layer("levels").stroke(&[[0.0, y], [out, y]], Pen::Edge, Stroke::Chain);
            let words = vec![Words::Plain("L0".into()), Words::Figure(self.figure(up.length()))];
            sketch.words([out + sketch.pt(4.0), y], words, WORD, Weight::Bold, Anchor::Left);
        }
        for top in &self.derived.placement.tops {
            let here = |run: &Key| self.plan.runs.get(run).is_some_and(|run| run.along == self.line.key);
            for leg in top.legs.iter().filter(|leg| here(&leg.run)) {
                let y = mm(&top.upper);
                let [a, b] = [mm(&leg.from), mm(&leg.to)];
                sketch.layer("tops").about(top.key.as_str()).stroke(
                    &[[a, y], [b, y]],
                    Pen::Thin,
                    Stroke::Dash,
                );
                let words =
                    vec![Words::Plain("worktop".into()), Words::Figure(self.figure(top.upper.length()))];
                let wide = sketch.pt(words_width(&words, LETTER, Weight::Regular));
                let under = y - sketch.pt(11.0);
                let at = [self.free_along(sketch, [a, b], under, wide), under];
                sketch.words(at, words, LETTER, Weight::Regular, Anchor::Centre);
            }
        }
        for window in self.derived.services.windows.iter().filter(|w| w.outlet.wall == self.line.key) {
            let x = mm(&window.outlet.along);
            sketch.layer("sinks").about(window.unit.as_str());
            sketch.stroke(&[[x, 0.0], [x, mm(&window.rim)]], Pen::Thin, Stroke::Dots);
            let at = [x + sketch.pt(22.0), sketch.pt(8.0)];
            sketch.text(at, "sink centre", LETTER, Weight::Regular, Anchor::Left);
        }
    }

    /// The middle of a stretch so wide at a height of the wall that no box, pipe or screw is in it; where there is none,
    /// that with the fewest.
    fn free_along(&self, sketch: &Sketch, [from, to]: [f64; 2], y: f64, wide: f64) -> f64 {
        let near = |at: f64| (at - y).abs() < sketch.pt(16.0);
        let mut taken: Vec<f64> = Vec::new();
        let boxes = self.boxes.iter().filter(|placed| near(mm(&placed.spot.up)));
        taken.extend(boxes.map(|placed| mm(&placed.spot.along)));
        for band in self.map.into_iter().flat_map(|map| &map.bands) {
            let [a, b] = [band.from, band.to].map(|end| end.map(Length::as_mm_f64));
            if a[1].min(b[1]) < y && a[1].max(b[1]) > y {
                taken.extend([a[0], b[0]]);
            }
        }
        let screws = self.derived.services.screws.iter();
        let screws = screws.filter(|screw| screw.wall == self.line.key && near(mm(&screw.up)));
        taken.extend(screws.map(|screw| mm(&screw.along)));
        let half = wide / 2.0 + sketch.pt(4.0);
        let middle = |part: i32| from + half + (to - from - 2.0 * half) * f64::from(part) / 40.0;
        let crowd = |x: f64| taken.iter().filter(|at| (**at - x).abs() < half).count();
        let places = (0..=40).map(middle);
        places.min_by_key(|x| crowd(*x)).unwrap_or(f64::midpoint(from, to))
    }

    /// A cross for every place where a unit is screwed to a stud.
    fn screws(&self, sketch: &mut Sketch) {
        let arm = sketch.pt(3.0);
        for screw in self.derived.services.screws.iter().filter(|screw| screw.wall == self.line.key) {
            let [x, y] = [mm(&screw.along), mm(&screw.up)];
            sketch.layer("screws").about(screw.unit.as_str());
            sketch.line(&[[x - arm, y - arm], [x + arm, y + arm]], Pen::Thin);
            sketch.line(&[[x - arm, y + arm], [x + arm, y - arm]], Pen::Thin);
        }
    }

    fn symbols(&self, sketch: &mut Sketch) {
        let radius = sketch.pt(8.0);
        for placed in &self.boxes {
            let [x, y] = [mm(&placed.spot.along), mm(&placed.spot.up)];
            let (wide, high) = (sketch.pt(6.0), sketch.pt(9.0));
            sketch.layer("boxes").about(placed.key.as_str());
            sketch.face(&rectangle([x - wide, y - high], [x + wide, y + high]), Pen::Edge);
            match placed.purpose {
                BoxPurpose::Receptacle => {
                    let slot = sketch.pt(4.0);
                    for side in [-sketch.pt(2.2), sketch.pt(2.2)] {
                        sketch.line(&[[x + side, y - slot / 2.0], [x + side, y + slot / 2.0]], Pen::Edge);
                    }
                }
                purpose => {
                    sketch.text([x, y], letter(purpose), LETTER, Weight::Bold, Anchor::Centre);
                }
            }
        }
        for run in self.here() {
            let ends = run.nodes.iter().filter(|node| {
                node.spot.wall == self.line.key && matches!(node.kind, NodeKind::Stub | NodeKind::Standpipe)
            });
            for node in ends {
                let at = [mm(&node.spot.along), mm(&node.spot.up)];
                sketch.layer("pipes").about(run.key.as_str());
                sketch.face(&ring(at, radius), Pen::Edge);
                sketch.shape(Shape::Text {
                    at,
                    words: vec![Words::Plain(run.kind.letter().into())],
                    size: LETTER,
                    weight: Weight::Bold,
                    anchor: Anchor::Centre,
                    turn: 0.0,
                    halo: false,
                });
            }
        }
    }

    /// The words that must not be missed, where the wall is emptiest above the worktop.
    fn warning(&self, sketch: &mut Sketch) {
        if self.map.is_none() {
            return;
        }
        let words = "DO NOT DRILL in the crossed bands";
        let half = sketch.pt(text_width(words, WORD, Weight::Bold)) / 2.0;
        let length = mm(&self.line.length);
        let x = (length / 2.0).clamp(half.min(length / 2.0), (length - half).max(length / 2.0));
        let free = |y: f64| {
            let apart = sketch.pt(16.0);
            let boxed = self.boxes.iter().any(|placed| (mm(&placed.spot.up) - y).abs() < apart * 1.4);
            let lines = self.first_line().is_some_and(|up| (mm(up) - y).abs() < apart);
            let opening =
                self.plan.openings.values().filter(|opening| opening.wall == self.line.key).any(|o| {
                    let middle =
                        o.sill.map_or(0.0, |sill| sill.length.as_mm_f64()) + o.head.length.as_mm_f64();
                    (middle / 2.0 - y).abs() < apart
                });
            let level = self.map.into_iter().flat_map(|map| &map.bands).any(|band| {
                let [a, b] = [band.from[1], band.to[1]].map(Length::as_mm_f64);
                (a - b).abs() < 100.0 && (a - y).abs() < apart
            });
            !boxed && !lines && !opening && !level
        };
        let high = self.ceiling(x);
        let places = (8..36).map(|part| high * f64::from(part) / 40.0);
        let wanted = high * 0.6;
        let y = places.filter(|y| free(*y)).min_by(|a, b| (a - wanted).abs().total_cmp(&(b - wanted).abs()));
        if let Some(y) = y {
            sketch.layer("do-not-drill").text([x, y], words, WORD, Weight::Bold, Anchor::Centre);
        }
    }
}

fn word(purpose: BoxPurpose) -> &'static str {
    match purpose {
        BoxPurpose::Receptacle => "receptacle",
        BoxPurpose::Switch => "switch",
        BoxPurpose::Light => "lamp",
        BoxPurpose::Junction => "junction box",
    }
}

fn letter(purpose: BoxPurpose) -> &'static str {
    match purpose {
        BoxPurpose::Receptacle => "R",
        BoxPurpose::Switch => "S",
        BoxPurpose::Light => "L",
        BoxPurpose::Junction => "J",
    }
}

/// A circle as an outline that hides what is under it.
fn ring(at: Point, radius: f64) -> Vec<Point> {
    (0..24)
        .map(|step| {
            let angle = std::f64::consts::TAU * f64::from(step) / 24.0;
            [at[0] + radius * angle.cos(), at[1] + radius * angle.sin()]
        })
        .collect()
}

/// A band round its middle line, as wide at its ends as at its sides.
fn banded(band: &Band) -> [Point; 4] {
    let [a, b] = [band.from, band.to].map(|end| end.map(Length::as_mm_f64));
    let half = band.half.length().as_mm_f64();
    let long = (b[0] - a[0]).hypot(b[1] - a[1]);
    let way = if long > 0.0 { [(b[0] - a[0]) / long, (b[1] - a[1]) / long] } else { [0.0, 1.0] };
    let at = |end: Point, on: f64, off: f64| {
        [end[0] + way[0] * on - way[1] * off, end[1] + way[1] * on + way[0] * off]
    };
    [at(a, -half, -half), at(b, half, -half), at(b, half, half), at(a, -half, half)]
}

/// What of an outline lies inside another that is convex and counter-clockwise (Sutherland and Hodgman).
fn clipped(outline: &[Point], inside: &[Point]) -> Vec<Point> {
    let mut left: Vec<Point> = outline.to_vec();
    for i in 0..inside.len() {
        let (a, b) = (inside[i], inside[(i + 1) % inside.len()]);
        let side = |p: Point| (b[0] - a[0]) * (p[1] - a[1]) - (b[1] - a[1]) * (p[0] - a[0]);
        let before = std::mem::take(&mut left);
        for j in 0..before.len() {
            let (p, q) = (before[j], before[(j + 1) % before.len()]);
            let (at_p, at_q) = (side(p), side(q));
            if at_p >= 0.0 {
                left.push(p);
            }
            if (at_p >= 0.0) != (at_q >= 0.0) {
                let part = at_p / (at_p - at_q);
                left.push([p[0] + (q[0] - p[0]) * part, p[1] + (q[1] - p[1]) * part]);
            }
        }
    }
    left
}

#[cfg(test)]
mod tests {
    use super::clipped;
    use crate::sketch::rectangle;

    #[test]
    fn what_lies_outside_is_cut_off() {
        let wall = rectangle([0.0, 0.0], [100.0, 50.0]);
        let area = |outline: &[[f64; 2]]| {
            let twice: f64 = (0..outline.len())
                .map(|i| {
                    let (p, q) = (outline[i], outline[(i + 1) % outline.len()]);
                    p[0] * q[1] - p[1] * q[0]
                })
                .sum();
            twice / 2.0
        };
        assert!((area(&clipped(&rectangle([-10.0, 10.0], [20.0, 70.0]), &wall)) - 800.0).abs() < 1e-9);
        assert!((area(&clipped(&rectangle([10.0, 10.0], [20.0, 20.0]), &wall)) - 100.0).abs() < 1e-9);
        assert!(clipped(&rectangle([110.0, 0.0], [120.0, 50.0]), &wall).is_empty());
    }
}
