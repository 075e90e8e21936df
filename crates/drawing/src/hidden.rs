//! What can be seen of lines among facets, from far away in one direction: exact stretches, not pixels.
#![allow(clippy::many_single_char_names, reason = "corners, axes and shares, as geometry calls them")]

use crate::paper::Point;

/// Three numbers: a place in the room (mm), or one as it is seen: to the right, up, and towards the eye.
pub(crate) type Seen = [f64; 3];

/// A direction of looking, in parallel projection.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Eye {
    right: Seen,
    up: Seen,
    toward: Seen,
}

/// Nearer to the eye than this is before something, mm.
const BEFORE: f64 = 0.2;
/// Cells of the grid that facets are looked up in, along each side.
const CELLS: usize = 48;

impl Eye {
    /// Looks from above at `down` degrees below the horizon; the paper's x runs at `turn` degrees from the room's.
    pub fn new(turn: f64, down: f64) -> Eye {
        let (st, ct) = turn.to_radians().sin_cos();
        let (sd, cd) = down.to_radians().sin_cos();
        Eye { right: [ct, st, 0.0], up: [-st * sd, ct * sd, cd], toward: [st * cd, -ct * cd, sd] }
    }

    /// Where a place of the room is seen.
    pub fn see(&self, at: Seen) -> Seen {
        [self.right, self.up, self.toward].map(|axis| dot(axis, at))
    }

    /// How much a direction looks towards the eye, -1 to 1.
    pub fn faces(&self, normal: Seen) -> f64 {
        dot(self.toward, normal)
    }
}

fn dot(a: Seen, b: Seen) -> f64 {
    (0..3).map(|k| a[k] * b[k]).sum()
}

/// Facets as triangles that hide what is behind them.
pub(crate) struct Screens {
    triangles: Vec<[Seen; 3]>,
    low: Point,
    step: Point,
    cells: Vec<Vec<u32>>,
}

impl Screens {
    /// Of triangles as they are seen; those seen edge on hide nothing.
    pub fn new(triangles: Vec<[Seen; 3]>) -> Screens {
        let mut low = [f64::MAX; 2];
        let mut high = [f64::MIN; 2];
        for point in triangles.iter().flatten() {
            for axis in 0..2 {
                low[axis] = low[axis].min(point[axis]);
                high[axis] = high[axis].max(point[axis]);
            }
        }
        let step = [0, 1].map(|axis| ((high[axis] - low[axis]) / CELLS as f64).max(1e-6));
        let mut screens =
            Screens { triangles: Vec::new(), low, step, cells: vec![Vec::new(); CELLS * CELLS] };
        for triangle in triangles.into_iter().filter(|triangle| turn(triangle).abs() > 1e-6) {
            let index = u32::try_from(screens.triangles.len()).unwrap_or(u32::MAX);
            for cell in screens.covered(&triangle) {
                screens.cells[cell].push(index);
            }
            screens.triangles.push(triangle);
        }
        screens
    }

    /// The cells that the box round some points touches.
    fn covered(&self, points: &[Seen]) -> Vec<usize> {
        let range = |axis: usize| {
            let cell = |at: f64| {
                let cell = ((at - self.low[axis]) / self.step[axis]).clamp(0.0, CELLS as f64 - 1.0);
                (0..CELLS).rev().find(|k| *k as f64 <= cell).unwrap_or(0)
            };
            let low = points.iter().map(|point| point[axis]).fold(f64::MAX, f64::min);
            let high = points.iter().map(|point| point[axis]).fold(f64::MIN, f64::max);
            cell(low)..=cell(high)
        };
        let (columns, rows) = (range(0), range(1));
        rows.flat_map(|row| columns.clone().map(move |column| row * CELLS + column)).collect()
    }

    /// The stretches of a line that nothing hides.
    pub fn visible(&self, a: Seen, b: Seen) -> Vec<[Seen; 2]> {
        let mut near: Vec<u32> =
            self.covered(&[a, b]).into_iter().flat_map(|cell| self.cells[cell].iter().copied()).collect();
        near.sort_unstable();
        near.dedup();
        let mut hidden: Vec<[f64; 2]> =
            near.into_iter().filter_map(|index| hidden_by(&self.triangles[index as usize], a, b)).collect();
        hidden.sort_by(|p, q| p[0].total_cmp(&q[0]));
        let at = |t: f64| [0, 1, 2].map(|k| a[k] + t * (b[k] - a[k]));
        let length = (b[0] - a[0]).hypot(b[1] - a[1]);
        // shorter than a fifth of a millimetre is a crumb of rounding
        let least = if length > 0.0 { 0.2 / length } else { 2.0 };
        let mut seen = Vec::new();
        let mut from = 0.0;
        for [begin, end] in hidden {
            if begin - from > least {
                seen.push([at(from), at(begin)]);
            }
            from = f64::max(from, end);
        }
        if 1.0 - from > least {
            seen.push([at(from), b]);
        }
        seen
    }

    /// Whether a place is not hidden.
    pub fn sees(&self, at: Seen) -> bool {
        self.covered(&[at]).into_iter().flat_map(|cell| &self.cells[cell]).all(|index| {
            let triangle = &self.triangles[*index as usize];
            let shares = weights(triangle, [at[0], at[1]]);
            let before: f64 = (0..3).map(|k| shares[k] * triangle[k][2]).sum();
            shares.iter().any(|share| *share < 0.0) || before <= at[2] + BEFORE
        })
    }
}

/// Twice the area of a triangle as it is seen, positive counter-clockwise.
fn turn([a, b, c]: &[Seen; 3]) -> f64 {
    (b[0] - a[0]) * (c[1] - a[1]) - (b[1] - a[1]) * (c[0] - a[0])
}

/// The shares of a triangle's corners in a point of its plane: all of them positive inside it.
fn weights(triangle: &[Seen; 3], [x, y]: Point) -> [f64; 3] {
    let whole = turn(triangle);
    let at = [x, y, 0.0];
    let [a, b, c] = *triangle;
    [turn(&[at, b, c]) / whole, turn(&[a, at, c]) / whole, turn(&[a, b, at]) / whole]
}

/// The stretch of a line (0 to 1) that a triangle hides. All that counts is linear along the line.
fn hidden_by(triangle: &[Seen; 3], a: Seen, b: Seen) -> Option<[f64; 2]> {
    let (begin, end) = (weights(triangle, [a[0], a[1]]), weights(triangle, [b[0], b[1]]));
    let depth = |shares: [f64; 3], at: Seen| -> f64 {
        (0..3).map(|k| shares[k] * triangle[k][2]).sum::<f64>() - at[2] - BEFORE
    };
    let (mut from, mut to) = (0.0_f64, 1.0_f64);
    // a hair beyond its sides, so that nothing shines through between two triangles of one facet
    let sides = (0..3).map(|k| (begin[k] + 1e-7, end[k] + 1e-7));
    for (first, last) in sides.chain([(depth(begin, a), depth(end, b))]) {
        if first < 0.0 && last < 0.0 {
            return None;
        }
        let cross = first / (first - last);
        if first < 0.0 {
            from = from.max(cross);
        } else if last < 0.0 {
            to = to.min(cross);
        }
    }
    (from < to).then_some([from, to])
}

#[cfg(test)]
mod tests {
    use super::*;

    fn screen() -> Screens {
        // a square of 10 by 10, 5 before the paper
        let at = |x: f64, y: f64| [x, y, 5.0];
        Screens::new(vec![
            [at(0.0, 0.0), at(10.0, 0.0), at(10.0, 10.0)],
            [at(0.0, 0.0), at(10.0, 10.0), at(0.0, 10.0)],
        ])
    }

    #[test]
    fn a_line_behind_a_square_shows_its_ends() {
        let seen = screen().visible([-5.0, 5.0, 0.0], [15.0, 5.0, 0.0]);
        assert_eq!(seen.len(), 2, "{seen:?}");
        assert!((seen[0][1][0]).abs() < 1e-3 && (seen[1][0][0] - 10.0).abs() < 1e-3, "{seen:?}");
    }

    #[test]
    fn the_diagonal_seam_hides_too() {
        assert_eq!(screen().visible([1.0, 1.0, 0.0], [9.0, 9.0, 0.0]), Vec::<[Seen; 2]>::new());
    }

    #[test]
    fn a_line_in_the_square_or_before_it_is_seen() {
        assert_eq!(screen().visible([0.0, 0.0, 5.0], [10.0, 0.0, 5.0]).len(), 1);
        assert_eq!(screen().visible([2.0, 2.0, 6.0], [8.0, 3.0, 9.0]).len(), 1);
        assert!(screen().sees([5.0, 4.0, 5.0]) && !screen().sees([5.0, 4.0, 4.0]));
    }

    #[test]
    fn a_line_that_comes_through_shows_its_front() {
        let seen = screen().visible([5.0, 2.0, 0.0], [5.0, 8.0, 10.0]);
        assert_eq!(seen.len(), 1);
        assert!((seen[0][0][1] - 5.0).abs() < 0.2, "{seen:?}");
    }

    #[test]
    fn the_axes_of_an_eye_are_square_and_right_handed() {
        let eye = Eye::new(35.0, 30.0);
        let [r, u, t] = [eye.right, eye.up, eye.toward];
        assert!(dot(r, u).abs() < 1e-12 && dot(r, t).abs() < 1e-12 && dot(u, t).abs() < 1e-12);
        let cross = [r[1] * u[2] - r[2] * u[1], r[2] * u[0] - r[0] * u[2], r[0] * u[1] - r[1] * u[0]];
        assert!((0..3).all(|k| (cross[k] - t[k]).abs() < 1e-12));
    }

    /// Whether a ray from a place towards the eye meets a box (slabs, one axis after the other): another way to the
    /// same answer, without triangles or a grid.
    fn covered(eye: &Eye, at: Seen, [low, high]: &[Seen; 2]) -> bool {
        let (mut from, mut to) = (BEFORE, f64::MAX);
        for k in 0..3 {
            let (a, b) = ((low[k] - at[k]) / eye.toward[k], (high[k] - at[k]) / eye.toward[k]);
            (from, to) = (from.max(a.min(b)), to.min(a.max(b)));
        }
        from < to
    }

    proptest::proptest! {
        /// Along lines through boxes thrown at random, what is drawn is what a ray says is seen, a hair from where it
        /// changes.
        #[test]
        fn what_is_drawn_is_what_rays_see(
            boxes in proptest::collection::vec(
                (proptest::array::uniform3(0_i32..60), proptest::array::uniform3(4_i32..30)), 1..6),
            ends in proptest::array::uniform6(-10_i32..100),
            turn in 10_i32..80,
        ) {
            let eye = Eye::new(f64::from(turn), 32.0);
            let boxes: Vec<[Seen; 2]> = boxes
                .into_iter()
                .map(|(low, size)| {
                    let low = low.map(f64::from);
                    [low, [0, 1, 2].map(|k| low[k] + f64::from(size[k]))]
                })
                .collect();
            let mut triangles = Vec::new();
            for [low, high] in &boxes {
                let mm = |at: &Seen| at.map(dryfit_measure::Length::from_mm_f64);
                for facet in crate::solid::Body::cut_box(mm(low), mm(high), &[]).facets {
                    let points: Vec<Seen> =
                        facet.outline.iter().map(|at| eye.see(at.map(dryfit_measure::Length::as_mm_f64))).collect();
                    triangles.extend(facet.triangles().into_iter().map(|three| three.map(|k| points[k])));
                }
            }
            let screens = Screens::new(triangles);
            let [a, b] = [[ends[0], ends[1], ends[2]], [ends[3], ends[4], ends[5]]].map(|at| at.map(f64::from));
            let (from, to) = (eye.see(a), eye.see(b));
            proptest::prop_assume!((to[0] - from[0]).hypot(to[1] - from[1]) > 1.0);
            let stretches = screens.visible(from, to);
            for step in 1..40 {
                let t = f64::from(step) / 40.0;
                let at = [0, 1, 2].map(|k| a[k] + t * (b[k] - a[k]));
                // grown and shrunk boxes that disagree: too near a border to say
                let hidden = |by: f64| boxes.iter().any(|[low, high]| {
                    covered(&eye, at, &[low.map(|x| x - by), high.map(|x| x + by)])
                });
                if hidden(0.5) != hidden(-0.5) {
                    continue;
                }
                let on_paper = eye.see(at);
                let drawn = stretches.iter().any(|[p, q]| {
                    let whole = (to[0] - from[0]).hypot(to[1] - from[1]);
                    let place = |r: &Seen| (r[0] - from[0]).hypot(r[1] - from[1]) / whole;
                    place(p) <= t && t <= place(q)
                });
                proptest::prop_assert_eq!(drawn, !hidden(0.0), "at {:?} {:?}", at, on_paper);
            }
        }
    }
}
