//! A wall from inside, with everything that stands and hangs on it: cumulative marks from one hook, heights from
//! the datum, and the level lines.

use std::collections::BTreeMap;

use dryfit_measure::{Dim, Figure, Key, Length};
use dryfit_plan::{Level, Plan, UnitKind};
use dryfit_stages::Derived;
use dryfit_stages::casework::{BuiltUnit, Face, Part};
use dryfit_stages::placement::PlacedUnit;
use dryfit_stages::release::Until;
use dryfit_stages::survey::WallLine;

use super::scale::scale_bars;
use crate::metrics::text_width;
use crate::paper::{Anchor, Drawing, HatchKind, Pen, Point, Stroke, Weight, Words};
use crate::rows::{RowMark, Side, row_room};
use crate::sketch::{Frame, Margins, Sketch, rectangle};
use crate::solid::ceiling;
use crate::spread::spread;
use crate::tape::measured;

/// Size of the marks, points.
const MARK: f64 = 17.0;
/// Size of names, points.
const NAME: f64 = 18.0;
/// Size of what stands at a level line, points.
const LINE: f64 = 13.0;
/// What the line that is snapped first is called.
const FIRST: &str = "L0, snap it first";

/// One wall; `None` when the survey has none of that key.
pub fn wall(plan: &Plan, derived: &Derived, key: &Key, frame: Frame) -> Option<Drawing> {
    let view = View::of(plan, derived, key)?;
    let line = view.line;
    let length = line.length.length().as_mm_f64();
    let ceiling = [0.0, length].map(|along| view.ceiling(along));
    let (along, above, heights) = (view.along(), view.above(), view.heights());
    let first = text_width(FIRST, LINE, Weight::Bold);
    let right =
        view.lines().iter().map(|(what, _)| text_width(what, LINE, Weight::Regular)).fold(first, f64::max);
    let margins = Margins {
        left: 20.0 + row_room(Side::Left, &heights, MARK),
        right: 16.0 + right,
        bottom: 52.0 + row_room(Side::Below, &along, MARK),
        top: if above.is_empty() { 10.0 } else { 22.0 + row_room(Side::Above, &above, MARK) },
    };
    let top = ceiling[0].max(ceiling[1]);
    let mut sketch = Sketch::new(view.alt(), [[0.0, 0.0], [length, top]], margins, frame);
    view.openings(&mut sketch);
    view.neighbours(&mut sketch);
    view.tops(&mut sketch);
    for unit in &view.units {
        view.unit(&mut sketch, unit);
    }
    sketch.layer("room").outline(
        &[[0.0, 0.0], [length, 0.0], [length, ceiling[1]], [0.0, ceiling[0]]],
        Pen::Heavy,
        Stroke::Solid,
    );
    view.level_lines(&mut sketch, length);
    view.names(&mut sketch);
    sketch.layer("dimensions");
    let (below, beside) = (-sketch.pt(16.0), -sketch.pt(16.0));
    sketch.marks_row(Side::Below, 0.0, below, &along, MARK);
    sketch.marks_row(Side::Left, 0.0, beside, &heights, MARK);
    if !above.is_empty() {
        let over = top + sketch.pt(14.0);
        sketch.marks_row(Side::Above, 0.0, over, &above, MARK);
    }
    scale_bars(&mut sketch, plan.fineness.unit());
    Some(sketch.finish())
}

/// Units on a wall, those deeper in the wall first.
fn units<'d>(derived: &'d Derived, wall: &Key) -> Vec<&'d PlacedUnit> {
    let mut units: Vec<&PlacedUnit> = derived
        .placement
        .units
        .iter()
        .filter(|unit| unit.wall == *wall && unit.kind != UnitKind::Gap)
        .collect();
    units.sort_by_key(|unit| unit.overall_depth().length());
    units
}

/// A wall with what stands and hangs on it.
pub(super) struct View<'d> {
    pub(super) plan: &'d Plan,
    pub(super) derived: &'d Derived,
    pub(super) line: &'d WallLine,
    pub(super) units: Vec<&'d PlacedUnit>,
}

/// A placed box as seen on the wall, mm.
pub(super) fn face(unit: &PlacedUnit) -> [Point; 2] {
    let mm = |dim: &Dim| dim.length().as_mm_f64();
    [[mm(&unit.along), mm(&unit.up)], [mm(&unit.right()), mm(&unit.top())]]
}

impl<'d> View<'d> {
    /// None when the survey has no wall of that key.
    pub(super) fn of(plan: &'d Plan, derived: &'d Derived, key: &Key) -> Option<View<'d>> {
        let line = derived.survey.walls.iter().find(|wall| wall.key == *key)?;
        Some(View { plan, derived, line, units: units(derived, key) })
    }

    /// The figure for a size that was chosen.
    pub(super) fn sized(&self, length: Length) -> Figure {
        crate::tape::sized(length, self.plan.fineness)
    }

    fn figure(&self, length: Length) -> Figure {
        measured(length, self.plan.fineness)
    }

    fn mark(&self, dim: &Dim, what: String) -> RowMark {
        RowMark { at: dim.length().as_mm_f64(), figure: self.figure(dim.length()), what }
    }

    /// The wall's name, as a builder says it.
    pub(super) fn name(&self) -> String {
        let named = self.plan.walls.get(&self.line.key).and_then(|wall| wall.name.clone());
        named.unwrap_or_else(|| format!("wall {}", self.line.key))
    }

    pub(super) fn alt(&self) -> String {
        let told: Vec<String> = self
            .units
            .iter()
            .map(|unit| {
                format!(
                    "{} from {} to {}, {} to {} up",
                    unit.key,
                    self.figure(unit.along.length()).bare(),
                    self.figure(unit.right().length()).bare(),
                    self.figure(unit.up.length()).bare(),
                    self.figure(unit.top().length()).bare()
                )
            })
            .collect();
        format!("The {} from inside, marks from corner {}: {}", self.name(), self.line.left, told.join("; "))
    }

    /// The ceiling over a place on the wall, mm above the datum.
    pub(super) fn ceiling(&self, along: f64) -> f64 {
        ceiling(&self.derived.survey, &self.line.key, Length::from_mm_f64(along)).as_mm_f64()
    }

    pub(super) fn stands(&self, unit: &PlacedUnit) -> bool {
        self.plan.runs.get(&unit.run).is_some_and(|run| run.level == Level::Floor)
    }

    /// Edges of what stands on the floor, and the wall's end.
    fn along(&self) -> Vec<RowMark> {
        let mut marks = self.edges(true);
        marks.push(self.mark(&self.line.length, format!("corner {}", self.line.right)));
        marks
    }

    /// Edges of what hangs.
    fn above(&self) -> Vec<RowMark> {
        let marks = self.edges(false);
        if marks.len() > 1 { marks } else { Vec::new() }
    }

    pub(super) fn edges(&self, standing: bool) -> Vec<RowMark> {
        let mut marks = vec![self.mark(&Dim::zero(), format!("corner {}", self.line.left))];
        for unit in self.units.iter().filter(|unit| self.stands(unit) == standing) {
            marks.push(self.mark(&unit.along, format!("{} left edge", unit.key)));
            marks.push(self.mark(&unit.right(), format!("{} right edge", unit.key)));
        }
        marks.sort_by(|a, b| a.at.total_cmp(&b.at));
        marks
    }

    /// The datum, level lines, and tops of units.
    fn heights(&self) -> Vec<RowMark> {
        let mut marks = vec![self.mark(&Dim::zero(), "datum".into())];
        for (what, up) in self.lines() {
            marks.push(self.mark(up, what));
        }
        for unit in
            self.units.iter().filter(|unit| !matches!(unit.kind, UnitKind::Filler | UnitKind::Appliance))
        {
            marks.push(self.mark(&unit.top(), format!("{} top", unit.key)));
        }
        marks.sort_by(|a, b| a.at.total_cmp(&b.at));
        marks.dedup_by(|a, b| a.figure == b.figure);
        marks
    }

    fn lines(&self) -> Vec<(String, &Dim)> {
        let here = self.derived.placement.lines.iter().filter(|line| line.walls.contains(&self.line.key));
        here.map(|line| (line.what.clone(), &line.up)).collect()
    }

    /// Chain lines, each named at the right with its height over the first that is snapped.
    fn level_lines(&self, sketch: &mut Sketch, length: f64) {
        let lines = self.lines();
        let first = lines.iter().find(|(what, _)| what == "first line").map(|(_, up)| up.length());
        let heights: Vec<f64> = lines.iter().map(|(_, up)| up.length().as_mm_f64()).collect();
        let room: Vec<f64> = lines.iter().map(|_| sketch.pt(34.0)).collect();
        let (out, far) = (length + sketch.pt(8.0), length + sketch.pt(14.0));
        for (((what, up), y), at) in lines.iter().zip(&heights).zip(spread(&heights, &room)) {
            sketch.layer("levels").stroke(&[[0.0, *y], [out, *y]], Pen::Edge, Stroke::Chain);
            if (at - y).abs() > sketch.pt(1.0) {
                sketch.line(&[[out, *y], [far, at]], Pen::Hair);
            }
            let (over, under) = (at + sketch.pt(8.0), at - sketch.pt(9.0));
            sketch.text([far, over], what.clone(), LINE, Weight::Regular, Anchor::Left);
            let Some(first) = first else { continue };
            let by = up.length() - first;
            let words = if by == Length::ZERO {
                vec![Words::Plain(FIRST.into())]
            } else {
                let sign = if by.is_negative() { "L0 \u{2212}" } else { "L0 +" };
                vec![Words::Plain(sign.into()), Words::Figure(self.figure(by.abs()))]
            };
            sketch.words([far, under], words, LINE, Weight::Bold, Anchor::Left);
        }
    }

    /// Windows and doors in the wall, behind everything.
    pub(super) fn openings(&self, sketch: &mut Sketch) {
        for (key, opening) in self.plan.openings.iter().filter(|(_, opening)| opening.wall == self.line.key) {
            let along = opening.along.length.as_mm_f64();
            let low = [along, opening.sill.map_or(0.0, |sill| sill.length.as_mm_f64())];
            let high = [along + opening.width.length.as_mm_f64(), opening.head.length.as_mm_f64()];
            sketch.layer("openings").about(key.as_str()).rectangle(low, high, Pen::Thin, Stroke::Solid);
            let at = [f64::midpoint(low[0], high[0]), f64::midpoint(low[1], high[1])];
            sketch.text(at, opening.name.clone(), LINE, Weight::Regular, Anchor::Centre);
        }
    }

    /// Runs on the walls round the corners, cut through where they reach this wall.
    pub(super) fn neighbours(&self, sketch: &mut Sketch) {
        let length = self.line.length.length();
        for wall in &self.derived.survey.walls {
            let (at_left, corner) = if wall.right == self.line.left {
                (true, wall.length.length())
            } else if wall.left == self.line.right {
                (false, Length::ZERO)
            } else {
                continue;
            };
            for unit in self.derived.placement.units.iter().filter(|unit| unit.wall == wall.key) {
                let edge = if at_left { corner - unit.right().length() } else { unit.along.length() };
                if edge > Length::inches(3, 0, 1) || unit.kind == UnitKind::Filler {
                    continue;
                }
                let depth = unit.frame_plane().length();
                let [low, high] = if at_left { [Length::ZERO, depth] } else { [length - depth, length] };
                let [low, high] = [
                    [low.as_mm_f64(), unit.up.length().as_mm_f64()],
                    [high.as_mm_f64(), unit.top().length().as_mm_f64()],
                ];
                let outline = rectangle(low, high);
                sketch.layer("units").about(unit.key.as_str());
                sketch.face(&outline, Pen::Edge).hatched(&outline, HatchKind::Cut);
            }
        }
    }

    pub(super) fn tops(&self, sketch: &mut Sketch) {
        let runs = |run: &Key| self.plan.runs.get(run).is_some_and(|run| run.along == self.line.key);
        for top in &self.derived.placement.tops {
            let high = top.upper.length();
            let low = high - top.thickness.length();
            for leg in top.legs.iter().filter(|leg| runs(&leg.run)) {
                let [a, b] = [&leg.from, &leg.to].map(|dim| dim.length().as_mm_f64());
                let outline = rectangle([a, low.as_mm_f64()], [b, high.as_mm_f64()]);
                sketch.layer("tops").about(top.key.as_str()).face(&outline, Pen::Edge);
            }
        }
    }

    pub(super) fn unit(&self, sketch: &mut Sketch, unit: &PlacedUnit) {
        let [low, high] = face(unit);
        let outline = rectangle(low, high);
        sketch.layer("units").about(unit.key.as_str());
        let waits = self
            .derived
            .release
            .held
            .iter()
            .any(|held| held.subject == unit.key && matches!(held.until, Until::Readings(_)));
        if waits {
            sketch.outline(&outline, Pen::Thin, Stroke::Dash);
            return;
        }
        match unit.kind {
            UnitKind::Filler => {
                sketch.face(&outline, Pen::Edge).hatched(&outline, HatchKind::Waste);
            }
            UnitKind::Appliance => {
                sketch.face(&outline, Pen::Edge);
                sketch.stroke(&[outline[0], outline[2]], Pen::Hair, Stroke::Dots);
                sketch.stroke(&[outline[1], outline[3]], Pen::Hair, Stroke::Dots);
            }
            _ => {
                sketch.face(&outline, Pen::Edge);
                if let Some(built) = self.derived.casework.units.iter().find(|built| built.key == unit.key) {
                    fronts(sketch, unit, built);
                }
            }
        }
    }

    /// Keys, over everything but the level lines.
    pub(super) fn names(&self, sketch: &mut Sketch) {
        for unit in &self.units {
            let [low, high] = face(unit);
            let at = [f64::midpoint(low[0], high[0]), f64::midpoint(low[1], high[1])];
            let wide = (high[0] - low[0]) / sketch.pt(1.0);
            let size = if wide > 40.0 { NAME } else { LINE };
            sketch.layer("names").about(unit.key.as_str());
            if wide > 20.0 {
                sketch.text(at, unit.key.as_str(), size, Weight::Bold, Anchor::Centre);
            }
        }
    }
}

/// The doors and drawer fronts of a unit, each with its lower left and upper right corners, mm.
pub(super) fn leaves<'b>(unit: &PlacedUnit, built: &'b BuiltUnit) -> BTreeMap<&'b str, [Point; 2]> {
    let origin =
        [(unit.along.length() + unit.overhang[0].length()).as_mm_f64(), unit.up.length().as_mm_f64()];
    let mut leaves: BTreeMap<&str, [Point; 2]> = BTreeMap::new();
    let before = |part: &&Part| part.good_face == Face::Front && part.solid.min[1].is_negative();
    for part in built.parts.iter().filter(before) {
        let at = |corner: [Length; 3]| [origin[0] + corner[0].as_mm_f64(), origin[1] + corner[2].as_mm_f64()];
        let (low, high) = (at(part.solid.min), at(part.solid.max));
        let leaf = leaves.entry(part.role.split('/').next().unwrap_or_default()).or_insert([low, high]);
        for k in 0..2 {
            leaf[0][k] = leaf[0][k].min(low[k]);
            leaf[1][k] = leaf[1][k].max(high[k]);
        }
    }
    leaves
}

/// Frame, doors and drawer fronts as their parts stand.
fn fronts(sketch: &mut Sketch, unit: &PlacedUnit, built: &BuiltUnit) {
    let origin =
        [(unit.along.length() + unit.overhang[0].length()).as_mm_f64(), unit.up.length().as_mm_f64()];
    let seen = |part: &Part| {
        let at = |corner: [Length; 3]| [origin[0] + corner[0].as_mm_f64(), origin[1] + corner[2].as_mm_f64()];
        [at(part.solid.min), at(part.solid.max)]
    };
    let before = |part: &&Part| part.good_face == Face::Front && part.solid.min[1].is_negative();
    let mut leaves: BTreeMap<&str, Vec<&Part>> = BTreeMap::new();
    for part in built.parts.iter().filter(before) {
        let leaf = part.role.split('/').next().unwrap_or_default();
        leaves.entry(leaf).or_default().push(part);
    }
    // the frame lies behind the doors
    if let Some(frame) = leaves.remove("frame") {
        for part in frame {
            let [a, b] = seen(part);
            sketch.rectangle(a, b, Pen::Hair, Stroke::Solid);
        }
    }
    for parts in leaves.values() {
        let all: Vec<[Point; 2]> = parts.iter().map(|part| seen(part)).collect();
        let low = all.iter().fold([f64::MAX; 2], |low, [a, _]| [low[0].min(a[0]), low[1].min(a[1])]);
        let high = all.iter().fold([f64::MIN; 2], |high, [_, b]| [high[0].max(b[0]), high[1].max(b[1])]);
        sketch.face(&rectangle(low, high), Pen::Thin);
        // the panel as the stiles and rails leave it to be seen
        let strips =
            |upright: bool| all.iter().filter(move |[a, b]| (b[1] - a[1] > b[0] - a[0]) == upright).copied();
        let inner_left =
            strips(true).filter(|[a, _]| a[0] - low[0] < 1.0).map(|[_, b]| b[0]).fold(f64::MIN, f64::max);
        let inner_right =
            strips(true).filter(|[_, b]| high[0] - b[0] < 1.0).map(|[a, _]| a[0]).fold(f64::MAX, f64::min);
        let inner_low =
            strips(false).filter(|[a, _]| a[1] - low[1] < 1.0).map(|[_, b]| b[1]).fold(f64::MIN, f64::max);
        let inner_high =
            strips(false).filter(|[_, b]| high[1] - b[1] < 1.0).map(|[a, _]| a[1]).fold(f64::MAX, f64::min);
        if parts.len() > 2 && inner_left < inner_right && inner_low < inner_high {
            sketch.rectangle([inner_left, inner_low], [inner_right, inner_high], Pen::Hair, Stroke::Solid);
        }
    }
}
