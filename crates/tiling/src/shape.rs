//! Polygons with holes on whole nanometres, and what is common to two of them, or to one alone.

use i_overlay::core::fill_rule::FillRule;
use i_overlay::core::overlay::Overlay;
use i_overlay::core::overlay_rule::OverlayRule;
use i_overlay::i_float::int::point::IntPoint;

/// A point, nanometres: x to the right, y up.
pub type Point = [i64; 2];

/// A closed line through points; the last is joined to the first.
pub type Ring = Vec<Point>;

/// A polygon in one piece: an outer ring counter-clockwise, and holes clockwise.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Shape {
    /// The outer ring.
    pub outer: Ring,
    /// The holes.
    pub holes: Vec<Ring>,
}

/// An upright rectangle.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub struct Rect {
    /// Lower left corner.
    pub low: Point,
    /// Upper right corner.
    pub high: Point,
}

impl Rect {
    /// From its lower left corner and its sides.
    pub fn at(low: Point, size: [i64; 2]) -> Rect {
        Rect { low, high: [low[0] + size[0], low[1] + size[1]] }
    }

    /// Width and height.
    pub fn size(&self) -> [i64; 2] {
        [self.high[0] - self.low[0], self.high[1] - self.low[1]]
    }

    /// Its corners, counter-clockwise from the lower left.
    pub fn ring(&self) -> Ring {
        let ([x1, y1], [x2, y2]) = (self.low, self.high);
        vec![[x1, y1], [x2, y1], [x2, y2], [x1, y2]]
    }

    /// As a shape.
    pub fn shape(&self) -> Shape {
        Shape { outer: self.ring(), holes: Vec::new() }
    }

    /// Twice its area.
    pub fn area2(&self) -> i128 {
        let [w, h] = self.size();
        2 * i128::from(w) * i128::from(h)
    }

    /// The least that holds all these points; none of no points.
    pub fn around<'p>(points: impl IntoIterator<Item = &'p Point>) -> Option<Rect> {
        let mut points = points.into_iter();
        let first = *points.next()?;
        Some(points.fold(Rect { low: first, high: first }, |all, p| Rect {
            low: [all.low[0].min(p[0]), all.low[1].min(p[1])],
            high: [all.high[0].max(p[0]), all.high[1].max(p[1])],
        }))
    }
}

impl Shape {
    /// A shape without holes, whichever way its ring runs.
    pub fn of(mut ring: Ring) -> Shape {
        if area2(&ring) < 0 {
            ring.reverse();
        }
        Shape { outer: ring, holes: Vec::new() }
    }

    /// Twice its area, holes taken off.
    pub fn area2(&self) -> i128 {
        area2(&self.outer) + self.holes.iter().map(|hole| area2(hole)).sum::<i128>()
    }

    /// Its rings, the outer first.
    pub fn rings(&self) -> impl Iterator<Item = &Ring> {
        std::iter::once(&self.outer).chain(&self.holes)
    }

    /// The least upright rectangle round it.
    pub fn bounds(&self) -> Rect {
        Rect::around(&self.outer).unwrap_or(Rect { low: [0, 0], high: [0, 0] })
    }
}

/// Twice the area of a ring, negative where it runs clockwise.
pub fn area2(ring: &[Point]) -> i128 {
    let next = ring.iter().cycle().skip(1);
    ring.iter()
        .zip(next)
        .map(|(a, b)| i128::from(a[0]) * i128::from(b[1]) - i128::from(a[1]) * i128::from(b[0]))
        .sum()
}

/// Twice the area of several shapes that do not overlap.
pub(crate) fn total2(shapes: &[Shape]) -> i128 {
    shapes.iter().map(Shape::area2).sum()
}

/// The sides of a ring.
pub(crate) fn sides(ring: &[Point]) -> impl Iterator<Item = [Point; 2]> {
    ring.iter().zip(ring.iter().cycle().skip(1)).map(|(a, b)| [*a, *b])
}

/// What both have.
pub fn intersection(a: &[Shape], b: &[Shape]) -> Vec<Shape> {
    overlay(a, b, OverlayRule::Intersect)
}

/// What the first has and the second has not.
pub fn difference(a: &[Shape], b: &[Shape]) -> Vec<Shape> {
    overlay(a, b, OverlayRule::Difference)
}

/// What one of them has at least.
pub fn union(a: &[Shape], b: &[Shape]) -> Vec<Shape> {
    overlay(a, b, OverlayRule::Union)
}

fn overlay(a: &[Shape], b: &[Shape], rule: OverlayRule) -> Vec<Shape> {
    let contours = |shapes: &[Shape]| -> Vec<Vec<IntPoint<i64>>> {
        let ring = |ring: &Ring| ring.iter().map(|p| IntPoint::new(p[0], p[1])).collect();
        shapes.iter().flat_map(Shape::rings).map(ring).collect()
    };
    let (a, b) = (contours(a), contours(b));
    let found = Overlay::<i64>::from_subj_and_clip(&a, &b).overlay(rule, FillRule::NonZero);
    let ring = |contour: Vec<IntPoint<i64>>| -> Ring { contour.iter().map(|p| [p.x, p.y]).collect() };
    let shape = |contours: Vec<Vec<IntPoint<i64>>>| {
        let mut rings = contours.into_iter().map(ring);
        let outer = from_least(rings.next()?);
        Some(Shape { outer, holes: rings.map(from_least).collect() })
    };
    found.into_iter().filter_map(shape).filter(|shape| shape.area2() > 0).collect()
}

/// The same ring begun at its least point, so that equal rings are equal.
fn from_least(mut ring: Ring) -> Ring {
    if let Some((at, _)) = ring.iter().enumerate().min_by_key(|(_, p)| **p) {
        ring.rotate_left(at);
    }
    ring
}

/// Which side of the line from `a` to `b` a point lies on: above zero is left.
pub(crate) fn side_of(a: Point, b: Point, p: Point) -> i128 {
    let wide = |n: i64| i128::from(n);
    (wide(b[0]) - wide(a[0])) * (wide(p[1]) - wide(a[1]))
        - (wide(b[1]) - wide(a[1])) * (wide(p[0]) - wide(a[0]))
}

/// Whether a side passes through the inside of a rectangle.
pub(crate) fn crosses([a, b]: [Point; 2], rect: &Rect) -> bool {
    let apart =
        |axis: usize| a[axis].max(b[axis]) <= rect.low[axis] || a[axis].min(b[axis]) >= rect.high[axis];
    if apart(0) || apart(1) {
        return false;
    }
    let corners = rect.ring();
    let at = |corner: &Point| side_of(a, b, *corner);
    !(corners.iter().all(|corner| at(corner) >= 0) || corners.iter().all(|corner| at(corner) <= 0))
}

/// Whether a point that lies on no side is inside: how often the shapes' rings wind round it.
pub(crate) fn holds(shapes: &[Shape], p: Point) -> bool {
    let mut winding = 0;
    for [a, b] in shapes.iter().flat_map(Shape::rings).flat_map(|ring| sides(ring)) {
        if a[1] <= p[1] && b[1] > p[1] && side_of(a, b, p) > 0 {
            winding += 1;
        } else if a[1] > p[1] && b[1] <= p[1] && side_of(a, b, p) < 0 {
            winding -= 1;
        }
    }
    winding != 0
}

#[cfg(test)]
mod tests {
    use super::*;

    fn square(low: i64, high: i64) -> Shape {
        Rect { low: [low, low], high: [high, high] }.shape()
    }

    #[test]
    fn areas_of_known_shapes() {
        assert_eq!(square(0, 10).area2(), 200);
        assert_eq!(area2(&[[0, 0], [4, 0], [0, 3]]), 12);
        assert_eq!(Shape::of(vec![[0, 3], [4, 0], [0, 0]]).area2(), 12);
    }

    #[test]
    fn what_is_cut_out_and_what_is_left_make_the_whole() {
        let (a, b) = (vec![square(0, 10)], vec![square(4, 20)]);
        let (both, left, all) = (intersection(&a, &b), difference(&a, &b), union(&a, &b));
        assert_eq!((total2(&both), total2(&left), total2(&all)), (72, 128, 640));
        let ring = difference(&a, &[square(2, 5)]);
        assert_eq!((ring.len(), ring[0].holes.len(), ring[0].area2()), (1, 1, 182));
        assert!(holds(&ring, [1, 1]) && !holds(&ring, [3, 3]) && !holds(&ring, [11, 3]));
    }

    #[test]
    fn a_side_that_only_touches_a_rectangle_does_not_cross_it() {
        let rect = Rect { low: [0, 0], high: [10, 10] };
        assert!(crosses([[-5, 5], [15, 6]], &rect));
        assert!(!crosses([[0, 0], [10, 0]], &rect));
        assert!(!crosses([[10, 0], [20, 30]], &rect));
        assert!(!crosses([[-1, 1], [1, -1]], &rect), "through a corner");
        assert!(crosses([[3, 3], [4, 4]], &rect));
    }
}
