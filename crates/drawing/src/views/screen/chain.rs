//! Chains of dimensions: one line, slanting ticks at every edge, a number over each stretch.

use dryfit_measure::Figure;

use crate::metrics::figure_width;
use crate::paper::{Anchor, Pen, Point, Weight, Words};
use crate::sketch::Sketch;

/// Size of the numbers, points.
pub(super) const NUMBER: f64 = 15.0;
/// From the line to the middle of a number, points.
const OUT: f64 = 11.0;
/// Half a tick, points.
const TICK: f64 = 4.5;

/// One stretch of a chain.
pub(super) struct Stretch {
    /// Where it begins and ends, mm along the chain.
    pub ends: [f64; 2],
    /// Its number.
    pub figure: Figure,
    /// What the number stands for; none where nothing is to be pressed.
    pub about: Option<String>,
    /// What it is, for the table.
    pub what: String,
}

/// Which way a chain runs.
#[derive(Clone, Copy, PartialEq, Eq)]
pub(super) enum Way {
    /// Along x; its numbers above the line.
    Across,
    /// Along y; its numbers read from the right, left of the line.
    Up,
}

/// Puts a chain down: its line at `line`, extension lines from `thing` on.
pub(super) fn chain(sketch: &mut Sketch, way: Way, line: f64, thing: f64, stretches: &[Stretch]) {
    let at = |along: f64, off: f64| -> Point {
        match way {
            Way::Across => [along, line + off],
            Way::Up => [line - off, along],
        }
    };
    let on_thing = |along: f64, gap: f64| -> Point {
        let side = if thing > line { gap } else { -gap };
        match way {
            Way::Across => [along, thing - side],
            Way::Up => [thing - side, along],
        }
    };
    let (Some(first), Some(last)) = (stretches.first(), stretches.last()) else { return };
    sketch.layer("chain");
    sketch.line(&[at(first.ends[0], 0.0), at(last.ends[1], 0.0)], Pen::Thin);
    let mut edges: Vec<f64> = stretches.iter().flat_map(|one| one.ends).collect();
    edges.sort_by(f64::total_cmp);
    edges.dedup_by(|a, b| (*a - *b).abs() < 0.01);
    let (tick, gap) = (sketch.pt(TICK), sketch.pt(5.0));
    for edge in edges {
        sketch.line(&[on_thing(edge, gap), at(edge, 0.0)], Pen::Hair);
        let slant = match way {
            Way::Across => [[edge - tick, line - tick], [edge + tick, line + tick]],
            Way::Up => [[line - tick, edge - tick], [line + tick, edge + tick]],
        };
        sketch.line(&slant, Pen::Edge);
    }
    let mut lowered = false;
    for one in stretches {
        let middle = f64::midpoint(one.ends[0], one.ends[1]);
        let room = (one.ends[1] - one.ends[0]) / sketch.pt(1.0);
        // what does not fit goes under the line; of two such neighbours one goes further down
        let fits = room > figure_width(&one.figure, NUMBER) + 8.0;
        let off = match (fits, lowered) {
            (true, _) => OUT,
            (false, false) => -OUT - 1.0,
            (false, true) => -2.0 * OUT - 6.0,
        };
        lowered = !fits && !lowered;
        let turn = if way == Way::Up { 90.0 } else { 0.0 };
        sketch.layer("numbers");
        if let Some(about) = &one.about {
            sketch.about(about.clone());
        }
        let words = vec![Words::Figure(one.figure)];
        let off = sketch.pt(off);
        sketch.turned(at(middle, off), words, (NUMBER, Weight::Regular), Anchor::Centre, turn);
        sketch.row(one.what.clone(), one.figure);
    }
}
