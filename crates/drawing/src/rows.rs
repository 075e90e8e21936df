//! Rows of cumulative marks: all from one hook, ticks on the edges, numbers beyond, pushed apart where they crowd.

use dryfit_measure::Figure;

use crate::metrics::{figure_width, words_height};
use crate::paper::{Anchor, Pen, Point, Shape, Words};
use crate::sketch::Sketch;
use crate::spread::spread_between;

/// A number on a row.
#[derive(Clone, Debug)]
pub struct RowMark {
    /// Where on the thing, mm along the row.
    pub at: f64,
    /// What the tape reads there.
    pub figure: Figure,
    /// What is there, for the table beside the drawing.
    pub what: String,
}

/// On which side of the thing a row stands.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Side {
    /// Under it, along x.
    Below,
    /// Over it, along x.
    Above,
    /// At its left, along y.
    Left,
}

/// How far the numbers are from the line of the row, and the bend of their leaders, points.
const OUT: f64 = 13.0;
/// Half a tick, points.
const TICK: f64 = 5.0;

/// Paper that a row takes beyond its line, points.
pub fn row_room(side: Side, marks: &[RowMark], size: f64) -> f64 {
    let most = |of: &dyn Fn(&Figure) -> f64| marks.iter().map(|mark| of(&mark.figure)).fold(0.0, f64::max);
    match side {
        Side::Left => OUT + most(&|figure| figure_width(figure, size)) + 4.0,
        _ => OUT + most(&|figure| words_height(&[Words::Figure(*figure)], size)) + 4.0,
    }
}

impl Sketch {
    /// Puts a row down: its line at `line` (y of a row along x, x of one along y), its hook at `zero`.
    ///
    /// Marks that read the same are one. The numbers stay on the paper: where it is too short for them all they
    /// are set smaller, never over each other.
    pub fn marks_row(
        &mut self,
        side: Side,
        zero: f64,
        line: f64,
        marks: &[RowMark],
        size: f64,
    ) -> &mut Sketch {
        let mut once: Vec<&RowMark> = Vec::new();
        let mut sorted: Vec<&RowMark> = marks.iter().collect();
        sorted.sort_by(|a, b| a.at.total_cmp(&b.at));
        for mark in sorted {
            if once.last().is_none_or(|last| last.figure != mark.figure) {
                once.push(mark);
            }
        }
        let (Some(first), Some(last)) = (once.first(), once.last()) else { return self };
        let axis = usize::from(side == Side::Left);
        let [low, high] = self.extent();
        let room = (high[axis] - low[axis]) * self.points_per_mm();
        let lengths = |size: f64| -> Vec<f64> {
            let length = |mark: &&RowMark| match side {
                Side::Left => words_height(&[Words::Figure(mark.figure)], size) + size * 0.25,
                _ => figure_width(&mark.figure, size) + size * 0.45,
            };
            once.iter().map(length).collect()
        };
        let total: f64 = lengths(size).iter().sum();
        let size = if total > room { size * room / total } else { size };
        let sizes: Vec<f64> = lengths(size).into_iter().map(|points| self.pt(points)).collect();
        let wanted: Vec<f64> = once.iter().map(|mark| mark.at).collect();
        let places = spread_between(&wanted, &sizes, low[axis], high[axis]);

        let beyond = if side == Side::Above { 1.0 } else { -1.0 };
        let point = |along: f64, out: f64| -> Point {
            if axis == 0 { [along, line + out * beyond] } else { [line - out, along] }
        };
        let ends = [point(first.at.min(zero), 0.0), point(last.at.max(zero), 0.0)];
        self.line(&ends, Pen::Thin);
        self.shape(Shape::Hook { at: point(zero, 0.0), turn: if axis == 0 { 0.0 } else { 90.0 } });
        let tall =
            once.iter().map(|mark| words_height(&[Words::Figure(mark.figure)], size)).fold(0.0, f64::max);
        let (tick, out) = (self.pt(TICK), self.pt(OUT));
        for (mark, place) in once.into_iter().zip(places) {
            self.line(&[point(mark.at, -tick), point(mark.at, tick)], Pen::Edge);
            let moved = (place - mark.at).abs() > self.pt(1.5);
            if moved {
                self.line(&[point(mark.at, tick), point(place, out)], Pen::Hair);
            }
            let anchor = if axis == 0 { Anchor::Centre } else { Anchor::Right };
            let middle = if axis == 0 { out + self.pt(tall / 2.0 + 1.0) } else { out + self.pt(2.0) };
            self.figure(point(place, middle), mark.figure, size, anchor);
            self.row(mark.what.clone(), mark.figure);
        }
        self
    }
}
