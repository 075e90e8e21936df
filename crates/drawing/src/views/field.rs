//! A field of tile or planks: every piece, cut ones hatched, the lines to snap, and where they are from one corner.

use dryfit_measure::{Figure, Key, Length};
use dryfit_plan::Plan;
use dryfit_stages::Derived;
use dryfit_stages::surfaces::{CutRow, LaidField, PlankField, TileField};

use super::scale::scale_bars;
use crate::paper::{Anchor, Drawing, HatchKind, Pen, Point, Shape, Stroke, Weight};
use crate::rows::{RowMark, Side, row_room};
use crate::sketch::{Frame, Margins, Sketch};
use crate::tape::measured;

/// Size of the marks, points.
const MARK: f64 = 17.0;
/// Size of the names of rows, points.
const NAME: f64 = 13.0;

/// One field; `None` where the job has none of that key, or nothing of it is covered.
pub fn field(plan: &Plan, derived: &Derived, key: &Key, frame: Frame) -> Option<Drawing> {
    let field = derived.surfaces.fields.iter().find(|field| field.key == *key)?;
    let outline = points(&field.outline);
    let (low, high) = extent(&outline)?;
    let view = View { plan, field };
    let (along, up) = (view.along(low, high), view.up(low, high));
    let margins = Margins {
        left: 24.0 + row_room(Side::Left, &up, MARK),
        right: 12.0,
        bottom: 52.0 + row_room(Side::Below, &along, MARK),
        top: 12.0,
    };
    let mut sketch = Sketch::new(view.alt(), [low, high], margins, frame);
    match (field.tile(), field.planks()) {
        (Some(tile), _) => view.tiles(&mut sketch, tile),
        (_, Some(planks)) => view.planks(&mut sketch, planks),
        _ => return None,
    }
    for (what, hole) in &field.holes {
        sketch.layer("holes").about(what.clone());
        sketch.outline(&points(hole), Pen::Thin, Stroke::Dash);
    }
    sketch.layer("outline").about(key.as_str()).outline(&outline, Pen::Heavy, Stroke::Solid);
    if let Some(tile) = field.tile() {
        view.lines(&mut sketch, tile, low, high);
    }
    sketch.layer("dimensions");
    let (below, beside) = (low[1] - sketch.pt(18.0), low[0] - sketch.pt(18.0));
    sketch.marks_row(Side::Below, low[0].min(0.0), below, &along, MARK);
    sketch.marks_row(Side::Left, low[1].min(0.0).max(low[1]), beside, &up, MARK);
    scale_bars(&mut sketch, plan.fineness.unit());
    Some(sketch.finish())
}

fn mm(nm: i64) -> f64 {
    Length::from_nm(nm).as_mm_f64()
}

fn points(ring: &[[i64; 2]]) -> Vec<Point> {
    ring.iter().map(|point| point.map(mm)).collect()
}

fn extent(points: &[Point]) -> Option<(Point, Point)> {
    let first = *points.first()?;
    Some(points.iter().fold((first, first), |(low, high), p| {
        ([low[0].min(p[0]), low[1].min(p[1])], [high[0].max(p[0]), high[1].max(p[1])])
    }))
}

struct View<'d> {
    plan: &'d Plan,
    field: &'d LaidField,
}

impl View<'_> {
    fn figure(&self, length: Length) -> Figure {
        measured(length, self.plan.fineness)
    }

    fn mark(&self, at: f64, what: impl Into<String>) -> RowMark {
        RowMark { at, figure: self.figure(Length::from_mm_f64(at)), what: what.into() }
    }

    fn along(&self, low: Point, high: Point) -> Vec<RowMark> {
        let mut marks = vec![self.mark(low[0], "left end"), self.mark(high[0], "right end")];
        if let Some(tile) = self.field.tile() {
            marks.push(self.mark(tile.lines[0].length().as_mm_f64(), "first line, along"));
        }
        marks.sort_by(|a, b| a.at.total_cmp(&b.at));
        marks
    }

    fn up(&self, low: Point, high: Point) -> Vec<RowMark> {
        let mut marks = vec![self.mark(low[1], "lower end"), self.mark(high[1], "upper end")];
        if let Some(tile) = self.field.tile() {
            marks.push(self.mark(tile.lines[1].length().as_mm_f64(), "first line, up"));
        }
        let level = self.field.planks().filter(|planks| !planks.upright);
        if let Some(course) = level.and_then(|planks| planks.courses.courses.first()) {
            marks.push(self.mark(mm(course.across[1]), "top of the first course"));
        }
        marks.sort_by(|a, b| a.at.total_cmp(&b.at));
        marks
    }

    fn alt(&self) -> String {
        let name = &self.field.name;
        match (self.field.tile(), self.field.planks()) {
            (Some(tile), _) => format!(
                "{name}: {} whole tiles and {} cut pieces; first lines at {} along and {} up",
                tile.whole,
                tile.reused.from.len(),
                self.figure(tile.lines[0].length()),
                self.figure(tile.lines[1].length())
            ),
            (_, Some(planks)) => format!(
                "{name}: {} pieces in {} courses, the first {} and the last {} wide",
                planks.pieces(),
                planks.courses.courses.len(),
                self.figure(planks.ends[0].length()),
                self.figure(planks.ends[1].length())
            ),
            _ => name.clone(),
        }
    }

    fn tiles(&self, sketch: &mut Sketch, tile: &TileField) {
        for piece in &tile.laid.pieces {
            sketch.layer("pieces").about(tile.path(&self.field.key, piece));
            let outline = points(&piece.shape.outer);
            if !piece.whole {
                sketch.hatched(&outline, HatchKind::Cut);
            }
            for ring in piece.shape.rings() {
                sketch.outline(&points(ring), Pen::Thin, Stroke::Solid);
            }
        }
        for row in &tile.rows {
            self.name(sketch, tile, row);
        }
    }

    /// The name of a cut row, where its strip is broad enough to hold it.
    fn name(&self, sketch: &mut Sketch, tile: &TileField, row: &CutRow) {
        let narrow = row.from.min(row.to).as_mm_f64();
        if narrow < sketch.pt(NAME + 6.0) {
            return;
        }
        let upright = matches!(row.side, "left" | "right");
        let axis = usize::from(!upright);
        let pieces = tile.laid.pieces.iter().filter(|piece| !piece.whole);
        let ends = pieces.map(|piece| piece.shape.bounds()).map(|rect| {
            if matches!(row.side, "left" | "lower") { mm(rect.low[axis]) } else { mm(rect.high[axis]) }
        });
        let outer = if matches!(row.side, "left" | "lower") {
            ends.fold(f64::MAX, f64::min) + narrow / 2.0
        } else {
            ends.fold(f64::MIN, f64::max) - narrow / 2.0
        };
        let Some((low, high)) = extent(&points(&self.field.outline)) else { return };
        // clear of the lines, which are near the middle
        let share = low[1 - axis] + (high[1 - axis] - low[1 - axis]) * 0.3;
        let at = if upright { [outer, share] } else { [share, outer] };
        let words = vec![crate::paper::Words::Plain(format!("{} row", row.side))];
        let turn = if upright { 90.0 } else { 0.0 };
        sketch.layer("names").turned(at, words, (NAME, Weight::Bold), Anchor::Centre, turn);
    }

    fn planks(&self, sketch: &mut Sketch, planks: &PlankField) {
        for (at, course) in planks.courses.courses.iter().enumerate() {
            let ripped = course.reveal < planks.reveal.length().nm();
            for plank in &course.planks {
                sketch.layer("pieces").about(PlankField::path(&self.field.key, at, plank.number));
                let outline = points(&plank.shape.outer);
                if ripped {
                    sketch.hatched(&outline, HatchKind::Cut);
                }
                sketch.outline(&outline, Pen::Thin, Stroke::Solid);
            }
        }
    }

    /// The two lines to snap, and the ring where tiling begins.
    fn lines(&self, sketch: &mut Sketch, tile: &TileField, low: Point, high: Point) {
        let [x, y] = tile.lines.each_ref().map(|line| line.length().as_mm_f64());
        let over = sketch.pt(8.0);
        sketch.layer("lines").about(self.field.key.as_str());
        sketch.stroke(&[[x, low[1] - over], [x, high[1] + over]], Pen::Heavy, Stroke::Chain);
        sketch.stroke(&[[low[0] - over, y], [high[0] + over, y]], Pen::Heavy, Stroke::Chain);
        sketch.shape(Shape::Balloon { at: [x, y], number: 1 });
    }
}
