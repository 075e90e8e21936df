//! The field: what is to be covered, what stands in it, and what is kept open along its sides.

use crate::shape::{Point, Ring, Shape, area2, difference, intersection, total2, union};

/// A polygon to be covered.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Field {
    /// Its sides in order, either way round.
    pub outline: Vec<Side>,
    /// What is left out.
    pub holes: Vec<Hole>,
}

/// One side, from its point to the next side's.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Side {
    /// Where it begins.
    pub from: Point,
    /// What is kept open along it.
    pub gap: i64,
}

/// A hole.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Hole {
    /// Its outline, either way round.
    pub ring: Ring,
    /// What is kept open round it.
    pub gap: i64,
    /// Whether it bounds the field as its sides do, so that a strip along it is as bad as one along a side. A small
    /// hole that something covers does not: no start spares the pieces round it.
    pub bounds: bool,
}

/// What is left of a field to be covered.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Net {
    /// Inside the sides and what counts as one, less the gaps there.
    pub bounded: Vec<Shape>,
    /// The same less all holes and their gaps: this is covered.
    pub open: Vec<Shape>,
    /// Twice the area of the field.
    pub field2: i128,
    /// Twice that of the holes in it.
    pub holes2: i128,
    /// Twice that of the gaps.
    pub gaps2: i128,
}

impl Field {
    /// A rectangle from the origin, with one gap all round and nothing in it.
    pub fn rectangle(size: [i64; 2], gap: i64) -> Field {
        let corners = [[0, 0], [size[0], 0], size, [0, size[1]]];
        Field { outline: corners.map(|from| Side { from, gap }).to_vec(), holes: Vec::new() }
    }

    /// Takes gaps and holes off. A field that is no polygon leaves nothing.
    pub fn net(&self) -> Net {
        let sides = counter_clockwise(&self.outline);
        let ring: Ring = sides.iter().map(|side| side.from).collect();
        // a ring that crosses itself becomes the simple shapes that it winds round
        let field = union(&[Shape::of(ring)], &[]);
        let rings = |bounds: &dyn Fn(&Hole) -> bool| -> Vec<Shape> {
            let bare = self.holes.iter().filter(|hole| bounds(hole));
            bare.map(|hole| Shape::of(hole.ring.clone())).collect()
        };
        let holes = intersection(&field, &union(&rings(&|_| true), &[]));
        let grown = |hole: &Hole| rim(&outside(hole));
        let mut rims = rim(&sides);
        rims.extend(self.holes.iter().filter(|hole| hole.bounds).flat_map(grown));
        let bounded = difference(&difference(&field, &rings(&|hole| hole.bounds)), &rims);
        let mut small = rings(&|hole| !hole.bounds);
        small.extend(self.holes.iter().filter(|hole| !hole.bounds).flat_map(grown));
        let open = difference(&bounded, &small);
        let bare = difference(&field, &holes);
        let gaps = difference(&bare, &open);
        Net { field2: total2(&field), holes2: total2(&holes), gaps2: total2(&gaps), bounded, open }
    }
}

/// The sides counter-clockwise, each gap still with its own side.
fn counter_clockwise(sides: &[Side]) -> Vec<Side> {
    let points: Ring = sides.iter().map(|side| side.from).collect();
    if area2(&points) >= 0 {
        return sides.to_vec();
    }
    let n = sides.len();
    (0..n).rev().map(|i| Side { from: sides[(i + 1) % n].from, gap: sides[i].gap }).collect()
}

/// The sides of a hole with its outside to their left.
fn outside(hole: &Hole) -> Vec<Side> {
    let sides: Vec<Side> = hole.ring.iter().map(|from| Side { from: *from, gap: hole.gap }).collect();
    let mut sides = counter_clockwise(&sides);
    sides.reverse();
    sides
}

/// The strips along sides, to their left, as wide as their gaps. In a corner two strips end where their inner edges
/// meet.
fn rim(sides: &[Side]) -> Vec<Shape> {
    let n = sides.len();
    let mut strips = Vec::new();
    for i in 0..n {
        let (before, here, after) = (sides[(i + n - 1) % n], sides[i], sides[(i + 1) % n]);
        if here.gap <= 0 || here.from == after.from {
            continue;
        }
        let end = sides[(i + 2) % n].from;
        let start = inner(before.from, here.from, after.from, [before.gap, here.gap], 1);
        let stop = inner(here.from, after.from, end, [here.gap, after.gap], 0);
        strips.push(Shape::of(vec![here.from, after.from, stop, start]));
        // on a side shorter than its gap the inner edge runs backwards; square ends then cover what it leaves
        let [dx, dy] = normal(here.from, after.from).map(|part| (part * here.gap as f64).round() as i64);
        let square = |p: Point| [p[0] + dx, p[1] + dy];
        strips.push(Shape::of(vec![here.from, after.from, square(after.from), square(here.from)]));
    }
    strips.retain(|strip| strip.area2() > 0);
    union(&strips, &[])
}

/// A step of one to the left of the way from one point to another.
fn normal(from: Point, to: Point) -> [f64; 2] {
    let [dx, dy] = [(to[0] - from[0]) as f64, (to[1] - from[1]) as f64];
    let length = dx.hypot(dy).max(1.0);
    [-dy / length, dx / length]
}

/// Where the inner edges of the strips along `a`-`b` and `b`-`c` meet; where they do so far off or nowhere, the end
/// of the strip `own` square to its side.
fn inner(a: Point, b: Point, c: Point, gaps: [i64; 2], own: usize) -> Point {
    let normals = [normal(a, b), normal(b, c)];
    let gaps = gaps.map(|gap| gap.max(0) as f64);
    let [first, next] = normals;
    let turn = first[0] * next[1] - first[1] * next[0];
    let meet =
        [(gaps[0] * next[1] - gaps[1] * first[1]) / turn, (gaps[1] * first[0] - gaps[0] * next[0]) / turn];
    let far = 8.0 * gaps[0].max(gaps[1]);
    let step = if turn.abs() > 1e-6 && meet[0].hypot(meet[1]) <= far {
        meet
    } else {
        normals[own].map(|part| part * gaps[own])
    };
    [0, 1].map(|axis| b[axis] + step[axis].round() as i64)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::shape::Rect;

    #[test]
    fn a_rectangle_loses_its_gap_all_round() {
        let net = Field::rectangle([1000, 600], 10).net();
        assert_eq!(net.open, [Rect { low: [10, 10], high: [990, 590] }.shape()]);
        assert_eq!(net.field2, net.gaps2 + net.open[0].area2());
    }

    #[test]
    fn each_side_has_its_own_gap_whichever_way_it_is_told() {
        let corners = [[0, 0], [1000, 0], [1000, 600], [0, 600]];
        let mut outline: Vec<Side> =
            corners.iter().zip([1, 2, 3, 0]).map(|(from, gap)| Side { from: *from, gap }).collect();
        let expected = [Rect { low: [0, 1], high: [998, 597] }.shape()];
        assert_eq!(Field { outline: outline.clone(), holes: vec![] }.net().open, expected);
        outline.reverse();
        // reversed, a side begins where it ended: gaps move with it
        let gaps: Vec<i64> = outline.iter().map(|side| side.gap).collect();
        for (i, side) in outline.iter_mut().enumerate() {
            side.gap = gaps[(i + 1) % 4];
        }
        assert_eq!(Field { outline, holes: vec![] }.net().open, expected);
    }

    #[test]
    fn an_inner_corner_keeps_its_gap_and_so_does_a_hole() {
        // an L: the corner at 500, 300 juts in
        let corners = [[0, 0], [1000, 0], [1000, 300], [500, 300], [500, 600], [0, 600]];
        let outline = corners.map(|from| Side { from, gap: 10 }).to_vec();
        let hole = |bounds| Hole { ring: Rect::at([100, 100], [50, 50]).ring(), gap: 5, bounds };
        let net = Field { outline: outline.clone(), holes: vec![hole(false)] }.net();
        assert!(net.bounded[0].outer.contains(&[490, 290]));
        assert!(net.bounded[0].holes.is_empty());
        assert_eq!(net.open[0].holes, [vec![[95, 95], [95, 155], [155, 155], [155, 95]]]);
        assert_eq!(net.holes2, 5000);
        assert_eq!(net.field2, net.holes2 + net.gaps2 + net.open[0].area2());
        let net = Field { outline, holes: vec![hole(true)] }.net();
        assert_eq!(net.bounded, net.open);
    }

    #[test]
    fn what_is_no_polygon_leaves_nothing() {
        assert!(Field::default().net().open.is_empty());
        assert!(Field::rectangle([0, 50], 3).net().open.is_empty());
        assert!(Field::rectangle([10, 10], 6).net().open.is_empty());
    }
}
