//! The observation equations: what each reading should say for given corners, leans and tapes, and how that
//! changes with each of them.
//!
//! A wall at height `h` is its floor line moved out of the room by `lean * h`. A corner at that height is where
//! two such lines cross: `P + h (lb ua - la ub) / sin(turn)`, with `ua`, `ub` the directions of the wall that
//! arrives and of the wall that leaves, `la`, `lb` their leans, and the turn between them. All derivatives are
//! written out; nothing is differenced.

use std::ops::Range;

/// Sine of the turn below which two walls are taken as one straight wall in two pieces (15 degrees): where their
/// lines cross says little, for a hair's difference in lean moves it by feet. Such a corner goes out with the mean
/// lean.
pub(crate) const STRAIGHT: f64 = 0.26;

/// A room to be adjusted: `corners` corners, counter-clockwise.
///
/// The unknowns stand in one list: x and y of each corner (mm), the lean of each wall (mm/mm, wall `i` leaves
/// corner `i`), then scale (mm/mm) and hook error (mm) of each tape. Those not in `free` keep their values.
#[derive(Clone, Debug)]
pub(crate) struct Network {
    pub corners: usize,
    pub tapes: usize,
    pub free: Vec<usize>,
    pub observations: Vec<Observation>,
}

/// One equation, the value it should have (mm, or mm/mm for a lean), and its standard deviation.
#[derive(Clone, Debug)]
pub(crate) struct Observation {
    pub equation: Equation,
    pub read: f64,
    pub sigma: f64,
}

/// What an observation is of.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) enum Equation {
    /// From corner to corner at one height, with the tape's scale, and with its hook where that was used.
    Distance { from: usize, to: usize, height: f64, tape: Option<usize>, hook: bool },
    /// How far a wall stands out at a height, against the floor.
    Lean { wall: usize, height: f64 },
    /// What an unknown is taken to be where readings do not say.
    Assumed { unknown: usize },
}

/// A corner at a height, and its derivatives: by x and y of the corner before it, of itself and of the one
/// after it, and by the leans of the walls that arrive and leave.
pub(crate) struct Raised {
    pub at: [f64; 2],
    pub by: [(usize, [f64; 2]); 8],
}

impl Network {
    /// A network with nothing observed, all unknowns free but the gauge: the first corner at the origin, the
    /// second on the x axis.
    pub fn new(corners: usize, tapes: usize) -> Network {
        let mut network = Network { corners, tapes, free: vec![], observations: vec![] };
        network.free = (0..network.unknowns()).filter(|u| ![0, 1, 3].contains(u)).collect();
        network
    }

    /// How many unknowns there are, free or not.
    pub fn unknowns(&self) -> usize {
        self.corners * 3 + self.tapes * 2
    }

    /// The unknowns that are coordinates.
    pub fn coordinates(&self) -> Range<usize> {
        0..self.corners * 2
    }

    /// The unknown that is a wall's lean.
    pub fn lean(&self, wall: usize) -> usize {
        self.corners * 2 + wall
    }

    /// The unknown that is a tape's scale; its hook error follows.
    pub fn scale(&self, tape: usize) -> usize {
        self.corners * 3 + tape * 2
    }

    /// What `equation` gives at `x`, and its derivative by every unknown added to `row`, which comes in as zeros.
    pub fn evaluate(&self, x: &[f64], equation: Equation, row: &mut [f64]) -> f64 {
        match equation {
            Equation::Distance { from, to, height, tape, hook } => {
                let (p, q) = (self.raised(x, from, height), self.raised(x, to, height));
                let d = [q.at[0] - p.at[0], q.at[1] - p.at[1]];
                let length = d[0].hypot(d[1]);
                let e = if length > 0.0 { [d[0] / length, d[1] / length] } else { [0.0, 0.0] };
                let stretch = tape.map_or(1.0, |tape| 1.0 + x[self.scale(tape)]);
                for (end, sign) in [(&p, -stretch), (&q, stretch)] {
                    for (unknown, by) in end.by {
                        row[unknown] += sign * (e[0] * by[0] + e[1] * by[1]);
                    }
                }
                let Some(tape) = tape else { return length };
                let scale = self.scale(tape);
                row[scale] += length;
                if hook {
                    row[scale + 1] += 1.0;
                }
                length * stretch + if hook { x[scale + 1] } else { 0.0 }
            }
            Equation::Lean { wall, height } => {
                row[self.lean(wall)] += height;
                x[self.lean(wall)] * height
            }
            Equation::Assumed { unknown } => {
                row[unknown] += 1.0;
                x[unknown]
            }
        }
    }

    /// A corner at a height.
    pub fn raised(&self, x: &[f64], corner: usize, height: f64) -> Raised {
        let n = self.corners;
        let (before, after) = ((corner + n - 1) % n, (corner + 1) % n);
        let point = |i: usize| [x[2 * i], x[2 * i + 1]];
        let here = point(corner);
        let arrives = Course::between(point(before), here);
        let leaves = Course::between(here, point(after));
        let (la, lb) = (x[self.lean(before)], x[self.lean(corner)]);
        let (ua, ub) = (arrives.direction, leaves.direction);
        let sine = ua[0] * ub[1] - ua[1] * ub[0];
        let cosine = ua[0] * ub[0] + ua[1] * ub[1];
        // per unit of height: the shift, and its derivatives by the two leans and the two headings
        let (shift, by_la, by_lb, by_heading_a, by_heading_b);
        if sine.abs() < STRAIGHT {
            let out = [f64::midpoint(ua[1], ub[1]), -f64::midpoint(ua[0], ub[0])];
            let mean = f64::midpoint(la, lb);
            shift = [out[0] * mean, out[1] * mean];
            by_la = [out[0] / 2.0, out[1] / 2.0];
            by_lb = by_la;
            by_heading_a = [ua[0] * mean / 2.0, ua[1] * mean / 2.0];
            by_heading_b = [ub[0] * mean / 2.0, ub[1] * mean / 2.0];
        } else {
            let left = |u: [f64; 2]| [-u[1], u[0]];
            let (va, vb) = (left(ua), left(ub));
            let each = |f: &dyn Fn(usize) -> f64| [f(0), f(1)];
            shift = each(&|k| (lb * ua[k] - la * ub[k]) / sine);
            by_la = each(&|k| -ub[k] / sine);
            by_lb = each(&|k| ua[k] / sine);
            by_heading_a = each(&|k| (lb * va[k] + shift[k] * cosine) / sine);
            by_heading_b = each(&|k| -(la * vb[k] + shift[k] * cosine) / sine);
        }
        // a heading turns by (left . step) / length when an end steps
        let turn = |course: &Course, by: [f64; 2]| {
            let [ux, uy] = course.direction;
            let per = height / course.length;
            // derivative of (x, y) of the shift by (x, y) of the far end; the near end's is the negative
            [[-uy * by[0] * per, -uy * by[1] * per], [ux * by[0] * per, ux * by[1] * per]]
        };
        let a = turn(&arrives, by_heading_a);
        let b = turn(&leaves, by_heading_b);
        let neg = |v: [f64; 2]| [-v[0], -v[1]];
        let own = |k: usize, base: [f64; 2]| [base[0] + a[k][0] - b[k][0], base[1] + a[k][1] - b[k][1]];
        let by = [
            (2 * before, neg(a[0])),
            (2 * before + 1, neg(a[1])),
            (2 * corner, own(0, [1.0, 0.0])),
            (2 * corner + 1, own(1, [0.0, 1.0])),
            (2 * after, b[0]),
            (2 * after + 1, b[1]),
            (self.lean(before), [by_la[0] * height, by_la[1] * height]),
            (self.lean(corner), [by_lb[0] * height, by_lb[1] * height]),
        ];
        Raised { at: [here[0] + shift[0] * height, here[1] + shift[1] * height], by }
    }
}

/// One wall's floor line as a direction and a length.
struct Course {
    direction: [f64; 2],
    length: f64,
}

impl Course {
    fn between(from: [f64; 2], to: [f64; 2]) -> Course {
        let d = [to[0] - from[0], to[1] - from[1]];
        // two corners in one place give no direction; any will do, and a finite one keeps the rest finite
        let length = d[0].hypot(d[1]).max(1e-6);
        Course { direction: [d[0] / length, d[1] / length], length }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Central differences against the written-out derivatives, on a crooked five-cornered room.
    #[test]
    fn derivatives_are_those_of_the_equations() {
        let network = Network::new(5, 1);
        let mut x = vec![0.0, 0.0, 3000.0, 12.0, 3100.0, 1500.0, 1900.0, 2700.0, -40.0, 2650.0];
        x.extend([0.004, -0.006, 0.002, 0.009, -0.001, 3e-4, 0.4]);
        let mut equations =
            vec![Equation::Lean { wall: 3, height: 1200.0 }, Equation::Assumed { unknown: 7 }];
        for from in 0..5 {
            for to in from + 1..5 {
                for height in [0.0, 900.0, 2000.0] {
                    equations.push(Equation::Distance { from, to, height, tape: Some(0), hook: from != 2 });
                }
            }
        }
        for equation in equations {
            let mut row = vec![0.0; x.len()];
            network.evaluate(&x, equation, &mut row);
            for unknown in 0..x.len() {
                let step = if unknown < 10 || unknown == 16 { 1e-3 } else { 1e-6 };
                let at = |by: f64| {
                    let mut moved = x.clone();
                    moved[unknown] += by;
                    network.evaluate(&moved, equation, &mut vec![0.0; x.len()])
                };
                let differenced = (at(step) - at(-step)) / (2.0 * step);
                let off = (differenced - row[unknown]).abs();
                assert!(off < 1e-5 * (1.0 + row[unknown].abs()), "{equation:?} by {unknown}: {off}");
            }
        }
    }

    #[test]
    fn straight_corner_moves_with_both_pieces() {
        let network = Network::new(4, 0);
        let mut x = vec![0.0, 0.0, 1000.0, 0.0, 2000.0, 0.0, 1000.0, 1500.0];
        x.extend([0.01, 0.01, 0.0, 0.0]);
        let raised = network.raised(&x, 1, 1000.0);
        assert!((raised.at[1] + 10.0).abs() < 1e-9 && (raised.at[0] - 1000.0).abs() < 1e-9);
    }
}
