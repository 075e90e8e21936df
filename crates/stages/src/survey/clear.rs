//! Lengths in the adjusted room: walls, clear widths, reach into corners, distances, angles.
//!
//! Along a wall is measured from the plumb line over its left-hand corner at the floor, seen from inside; out
//! from the plumb plane over its floor line. A unit stands plumb, its back against the wall where that comes
//! in furthest over the unit's height. Clear width is the least right edge less the greatest left edge over the
//! unit's height and depth, both from that one plumb line: taken at two heights, each width alone may be more.
//!
//! Edges are straight in height and in depth, so that their extremes lie at the ends of both; every end is a
//! candidate of its own, and the loser keeps its place in the reason.

use dryfit_measure::{Dim, Key, Length, Pointer};
use dryfit_plan::Hand;

use super::Survey;
use super::tangent::{Point, Tangent};

/// Room for a unit along a wall.
#[derive(Clone, Debug)]
pub struct Clear {
    /// Where it begins, along the wall: the greatest left edge.
    pub left: Dim,
    /// Where it ends: the least right edge.
    pub right: Dim,
    /// The one less the other.
    pub width: Dim,
}

/// A point in the room.
#[derive(Clone, Debug)]
pub enum Spot {
    /// In a corner, so far above the datum.
    Corner {
        /// The corner.
        corner: Key,
        /// Above the datum.
        up: Length,
    },
    /// On or before a wall.
    Wall {
        /// The wall.
        wall: Key,
        /// From its left-hand corner at the floor.
        along: Length,
        /// Above the datum.
        up: Length,
        /// From the wall's face at that height, into the room.
        out: Length,
    },
}

/// A wall's own axes: from its left-hand corner at the floor, along, and out into the room.
struct Axes {
    origin: Point,
    along: Point,
    out: Point,
    lean: Tangent,
    length: f64,
}

/// A point of another wall as seen along this one.
struct Edge {
    at: Tangent,
    label: String,
}

impl Survey {
    /// The index of a wall.
    pub fn wall(&self, key: &Key) -> Option<usize> {
        self.walls.iter().position(|wall| wall.key == *key)
    }

    /// The index of a corner.
    pub fn corner(&self, key: &Key) -> Option<usize> {
        self.corners.iter().position(|corner| corner.key == *key)
    }

    /// The wall that meets `wall` in the corner at one of its ends, seen from inside.
    pub fn beside(&self, wall: &Key, side: Hand) -> Option<&Key> {
        let (i, n) = (self.wall(wall)?, self.walls.len());
        let other = if side == Hand::Left { (i + 1) % n } else { (i + n - 1) % n };
        Some(&self.walls[other].key)
    }

    /// Length of a wall between its corners at the floor.
    pub fn wall_length(&self, wall: &Key) -> Option<Dim> {
        Some(self.walls[self.wall(wall)?].length.clone())
    }

    /// Room for a unit along a wall that reaches over these heights above the datum and so far out.
    ///
    /// `within` names the stretch of wall that is meant where the room juts in before it; none means the middle.
    /// None if there is no such wall.
    pub fn clear(
        &self,
        wall: &Key,
        within: Option<[Length; 2]>,
        up: [Length; 2],
        out: Length,
    ) -> Option<Clear> {
        let i = self.wall(wall)?;
        let axes = self.axes(i);
        let heights = self.heights(up);
        let middle = match within {
            Some([from, to]) => f64::midpoint(from.as_mm_f64(), to.as_mm_f64()),
            None => axes.length / 2.0,
        };
        let (mut lefts, mut rights) = (Vec::new(), Vec::new());
        let strip = strip(&axes, &heights, out.as_mm_f64());
        let n = self.walls.len();
        for (name, height) in heights.iter().map(|(name, height)| (*name, *height)) {
            for j in (0..n).filter(|&j| j != i) {
                for edge in self.edges(&axes, j, height, name, &strip) {
                    let neighbour = j == (i + 1) % n || j == (i + n - 1) % n;
                    if edge.at.value < middle {
                        lefts.push((neighbour, edge));
                    } else {
                        rights.push((neighbour, edge));
                    }
                }
            }
        }
        for (corner, found) in [((i + 1) % n, &mut lefts), (i, &mut rights)] {
            // round an outside corner nothing bounds the wall but its own end
            if self.angle(corner).value > std::f64::consts::PI || !found.iter().any(|(own, _)| *own) {
                found.extend(self.ends(&axes, corner, &heights).into_iter().map(|edge| (true, edge)));
            }
        }
        let left = self.extreme(&lefts, false).map(|dim| dim.named("left edge").placed(wall.as_str()));
        let right = self.extreme(&rights, true).map(|dim| dim.named("right edge").placed(wall.as_str()));
        let left = left.unwrap_or_else(|| self.dim(&Tangent::constant(0.0, self.unknowns())));
        let right = right.unwrap_or_else(|| self.walls[i].length.clone());
        let width = (&right - &left).named("clear width").placed(wall.as_str());
        Some(Clear { left, right, width })
    }

    /// The width of [`Survey::clear`].
    pub fn clear_width(
        &self,
        wall: &Key,
        within: Option<[Length; 2]>,
        up: [Length; 2],
        out: Length,
    ) -> Option<Dim> {
        Some(self.clear(wall, within, up, out)?.width)
    }

    /// How far something on the wall round the corner reaches along `wall`: where a run must begin (left), or
    /// end (right), so as to clear what stands `depth` out from that wall, over these heights and this far out.
    pub fn reach(&self, wall: &Key, side: Hand, depth: &Dim, up: [Length; 2], out: Length) -> Option<Dim> {
        let (i, n) = (self.wall(wall)?, self.walls.len());
        let axes = self.axes(i);
        let j = if side == Hand::Left { (i + 1) % n } else { (i + n - 1) % n };
        let other = self.axes(j);
        let heights = self.heights(up);
        let strip = strip(&axes, &heights, out.as_mm_f64());
        // the other run stands against its wall where that comes in furthest
        let stands = furthest_in(&other, &heights);
        let k = self.constant(1.0);
        let across = axes.along.dot(&other.out);
        if across.value.abs() < 1e-6 {
            return None;
        }
        let slope = &k / &across;
        let slope_out = axes.out.dot(&other.out);
        let base = other.origin.less(&axes.origin).dot(&other.out);
        let fronts = strip.iter().map(|(name, o)| {
            // where the plumb plane `stands + depth` out from the other wall crosses the line `o` out from this
            let at = &(&(&base + &stands) - &(o * &slope_out)) * &slope;
            let turned = &at + &slope.times(depth.length().as_mm_f64());
            let fixed = self.dim_with(at.value, &turned.by).named(format!("corner at the {name}"));
            fixed + depth.scaled(slope.value, "slant of the corner")
        });
        let found = if side == Hand::Left { Dim::greatest_of(fronts) } else { Dim::least_of(fronts) };
        let name = if side == Hand::Left { "beyond the corner" } else { "up to the corner" };
        found.map(|dim| dim.named(name).placed(wall.as_str()))
    }

    /// The distance between two points.
    pub fn distance(&self, from: &Spot, to: &Spot) -> Option<Dim> {
        let (from, to) = (self.point(from)?, self.point(to)?);
        let plan = to.0.less(&from.0);
        let rise = self.constant((to.1 - from.1).as_mm_f64());
        let length = (&plan.dot(&plan) + &(&rise * &rise)).sqrt();
        Some(self.dim(&length))
    }

    /// The angle inside a corner, radians.
    pub fn corner_angle(&self, corner: &Key) -> Option<f64> {
        Some(self.angle(self.corner(corner)?).value)
    }

    /// How far a corner is from square (or from the nearest eighth of a turn, where it is no square corner): the
    /// gap at the end of a blade so long, positive when the corner is open.
    pub fn square_gap(&self, corner: &Key, blade: Length) -> Option<Dim> {
        let angle = self.angle(self.corner(corner)?);
        let eighth = std::f64::consts::FRAC_PI_4;
        let meant = if is_nearly_square(angle.value) { 2.0 } else { 1.0 } * eighth;
        let off = angle.plus(-(angle.value / meant).round() * meant);
        let gap = off.tan().times(blade.as_mm_f64());
        Some(self.dim(&gap).named("gap to the square").placed(corner.as_str()))
    }

    /// Where a place on or before a wall lies in the room, mm: along from the left-hand corner at the floor, up
    /// from the datum, out from the face at that height.
    pub fn point_on_wall(&self, wall: &Key, along: Length, up: Length, out: Length) -> Option<[f64; 2]> {
        let spot = Spot::Wall { wall: wall.clone(), along, up, out };
        self.point(&spot).map(|(at, _)| [at.x.value, at.y.value])
    }

    /// Length of wall `i` at the floor, before its record is there.
    pub(super) fn length_at_floor(&self, i: usize) -> Dim {
        let n = self.corners.len();
        let length = self.corner_at(i, 0.0).less(&self.corner_at((i + 1) % n, 0.0)).norm();
        self.dim(&length).named("length").placed(self.walls[i].key.as_str())
    }

    fn unknowns(&self) -> usize {
        self.corners.len() * 3
    }

    fn constant(&self, value: f64) -> Tangent {
        Tangent::constant(value, self.unknowns())
    }

    /// Corners and leans in the order of the covariance.
    fn x(&self) -> Vec<f64> {
        let at = self.corners.iter().flat_map(|corner| corner.at);
        at.chain(self.walls.iter().map(|wall| wall.lean)).collect()
    }

    /// Both ends of a range above the datum, as heights above the floor of the readings.
    fn heights(&self, up: [Length; 2]) -> Vec<(&'static str, f64)> {
        let [low, high] = up.map(|up| (up + self.rise).as_mm_f64());
        if (high - low).abs() < 1e-6 { vec![("", low)] } else { vec![("bottom", low), ("top", high)] }
    }

    /// A corner at a height above the floor of the readings.
    pub(super) fn corner_at(&self, i: usize, height: f64) -> Point {
        let x = self.x();
        let n = self.corners.len();
        let corner = |k: usize| Point { x: Tangent::unknown(&x, 2 * k), y: Tangent::unknown(&x, 2 * k + 1) };
        let here = corner(i);
        if height == 0.0 {
            return here;
        }
        let (before, after) = ((i + n - 1) % n, (i + 1) % n);
        let a = here.less(&corner(before)).unit();
        let b = corner(after).less(&here).unit();
        let lean = |wall: usize| Tangent::unknown(&x, 2 * n + wall).times(height);
        let (la, lb) = (lean(before), lean(i));
        let sine = a.cross(&b);
        if sine.value.abs() < super::network::STRAIGHT {
            let mean = (&la + &lb).times(0.5);
            let out = Point { x: (&a.y + &b.y).times(0.5), y: (&a.x + &b.x).times(-0.5) };
            return here.along(&out, &mean);
        }
        here.along(&a, &(&lb / &sine)).along(&b, &-&(&la / &sine))
    }

    fn axes(&self, i: usize) -> Axes {
        let n = self.corners.len();
        let (right, left) = (self.corner_at(i, 0.0), self.corner_at((i + 1) % n, 0.0));
        let run = right.less(&left);
        let along = run.unit();
        // seen from inside, the room is behind us as we look at the wall: to the right of left-to-right
        let out = along.left().reversed();
        let x = self.x();
        Axes { lean: Tangent::unknown(&x, 2 * n + i), length: run.norm().value, origin: left, along, out }
    }

    /// The angle inside corner `i`.
    fn angle(&self, i: usize) -> Tangent {
        let n = self.corners.len();
        let here = self.corner_at(i, 0.0);
        let to = self.corner_at((i + 1) % n, 0.0).less(&here);
        let back = self.corner_at((i + n - 1) % n, 0.0).less(&here);
        let angle = Tangent::atan2(&to.cross(&back), &to.dot(&back));
        if angle.value < 0.0 { angle.plus(std::f64::consts::TAU) } else { angle }
    }

    /// Where wall `j`, at a height, bounds the strip before a wall: the ends of the piece of it that lies there.
    fn edges(
        &self,
        axes: &Axes,
        j: usize,
        height: f64,
        name: &'static str,
        strip: &[(&'static str, Tangent)],
    ) -> Vec<Edge> {
        let n = self.corners.len();
        let ends = [self.corner_at(j, height), self.corner_at((j + 1) % n, height)];
        let seen = ends.map(|p| {
            let from = p.less(&axes.origin);
            (from.dot(&axes.along), from.dot(&axes.out))
        });
        let [(s0, o0), (s1, o1)] = &seen;
        let (back, front) = (&strip[0].1, &strip[1].1);
        let (least, most) = (o0.value.min(o1.value), o0.value.max(o1.value));
        // a wall along the back or the front of the strip does not reach into it
        if most <= back.value + 1.0 || least >= front.value - 1e-9 {
            return vec![];
        }
        let mut found = Vec::new();
        let key = &self.walls[j].key;
        let where_ = |part: &str| {
            let part = if name.is_empty() { part.to_owned() } else { format!("{part}, {name}") };
            format!("{key} at the {part}")
        };
        for (label, o) in strip {
            // the neighbour's line goes on behind a wall that leans away, down to the back of the strip
            let within = o.value >= least - 1e-9 && o.value <= most + 1e-9;
            let behind = *label == "wall" && o.value < least && (most - least).abs() > 1e-9;
            if (most - least).abs() > 1e-9 && (within || (behind && least < 25.0)) {
                let part = &(o - o0) / &(o1 - o0);
                let at = s0 + &(&part * &(s1 - s0));
                found.push(Edge { at, label: where_(label) });
            }
        }
        for ((s, o), corner) in seen.iter().zip([j, (j + 1) % n]) {
            let inside = o.value > back.value + 1e-9 && o.value < front.value - 1e-9;
            // the corner that it shares with the wall itself is no edge of its own
            if inside && o.value > 25.0 {
                found.push(Edge { at: s.clone(), label: where_(self.corners[corner].key.as_str()) });
            }
        }
        found
    }

    /// Where a wall's own end stands at each height.
    fn ends(&self, axes: &Axes, corner: usize, heights: &[(&'static str, f64)]) -> Vec<Edge> {
        let end = |(name, height): &(&'static str, f64)| {
            let at = self.corner_at(corner, *height).less(&axes.origin).dot(&axes.along);
            let label = format!("{} {name}", self.corners[corner].key);
            Edge { at, label: label.trim_end().to_owned() }
        };
        heights.iter().map(end).collect()
    }

    /// The greatest left or least right edge. Edges of walls further round that are behind all the neighbour's
    /// are left out.
    fn extreme(&self, edges: &[(bool, Edge)], least: bool) -> Option<Dim> {
        let own = edges.iter().filter(|(neighbour, _)| *neighbour).map(|(_, edge)| edge.at.value);
        let bound =
            if least { own.fold(f64::NEG_INFINITY, f64::max) } else { own.fold(f64::INFINITY, f64::min) };
        let counts = |(neighbour, edge): &(bool, Edge)| {
            *neighbour
                || !bound.is_finite()
                || if least { edge.at.value <= bound } else { edge.at.value >= bound }
        };
        let dims: Vec<Dim> = edges
            .iter()
            .filter(|edge| counts(edge))
            .map(|(_, edge)| self.dim(&edge.at).named(edge.label.clone()))
            .collect();
        if least { Dim::least_of(dims) } else { Dim::greatest_of(dims) }
    }

    /// A point of the room with its derivatives, and its height above the datum.
    fn point(&self, spot: &Spot) -> Option<(Point, Length)> {
        match spot {
            Spot::Corner { corner, up } => {
                let i = self.corner(corner)?;
                Some((self.corner_at(i, (*up + self.rise).as_mm_f64()), *up))
            }
            Spot::Wall { wall, along, up, out } => {
                let axes = self.axes(self.wall(wall)?);
                let face = axes.lean.times(-(*up + self.rise).as_mm_f64());
                let at = axes.origin.along(&axes.along, &self.constant(along.as_mm_f64()));
                Some((at.along(&axes.out, &face.plus(out.as_mm_f64())), *up))
            }
        }
    }

    /// A derived length as a dimension: how it moves with each reading, and which other places it rests on.
    pub(super) fn dim(&self, length: &Tangent) -> Dim {
        self.dim_with(length.value, &length.by)
    }

    /// No length, for the reason of every reading: what rests on the room in ways too slight for a slope.
    pub(super) fn nothing_long(&self) -> Dim {
        self.dim(&Tangent::constant(0.0, self.unknowns())).named("places in the room")
    }

    fn dim_with(&self, value: f64, by: &[f64]) -> Dim {
        let slope = |column: usize| -> f64 {
            by.iter().enumerate().filter(|(_, d)| **d != 0.0).map(|(u, d)| d * self.gain[(u, column)]).sum()
        };
        let used = self.used.iter().enumerate().map(|(k, at)| (at.clone(), slope(k)));
        let also = self.also.iter().map(|at| (at.clone(), 0.0));
        let readings: Vec<(Pointer, f64)> = used.chain(also).collect();
        Dim::adjusted(Length::from_mm_f64(value), readings)
    }
}

/// Whether an angle is meant for a quarter turn or several: within twenty degrees, nearer than to an eighth.
fn is_nearly_square(angle: f64) -> bool {
    let quarter = std::f64::consts::FRAC_PI_2;
    let off = (angle / quarter).round() * quarter - angle;
    off.abs() < 0.35
}

/// How far a wall comes into the room over these heights at most, against its floor line.
fn furthest_in(axes: &Axes, heights: &[(&'static str, f64)]) -> Tangent {
    let at = |(_, height): &(&str, f64)| axes.lean.times(-height);
    let all = heights.iter().map(at).max_by(|a, b| a.value.total_cmp(&b.value));
    all.unwrap_or_else(|| axes.lean.times(0.0))
}

/// From where to where a unit reaches out from the wall's floor line: its back stands against the wall where
/// that comes in furthest; where it stands back, what is behind the unit still belongs to it.
fn strip(axes: &Axes, heights: &[(&'static str, f64)], out: f64) -> Vec<(&'static str, Tangent)> {
    let stands = furthest_in(axes, heights);
    let back = heights.iter().map(|(_, height)| axes.lean.times(-height));
    let back = back.min_by(|a, b| a.value.total_cmp(&b.value)).unwrap_or_else(|| stands.clone());
    vec![("wall", back), ("front", stands.plus(out))]
}
