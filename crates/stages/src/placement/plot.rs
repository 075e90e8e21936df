//! Places along walls and boxes of units in room coordinates, for drawing and for checks.

use dryfit_measure::{Key, Length};

use super::PlacedUnit;
use crate::survey::Survey;

/// A wall's floor line as it lies in the room: millimetres, seen from above.
#[derive(Clone, Copy, Debug)]
pub struct Plot {
    /// The left-hand corner at the floor.
    origin: [f64; 2],
    /// Along the wall, to the right as seen from inside.
    along: [f64; 2],
    /// Out from it, into the room.
    out: [f64; 2],
}

impl Plot {
    /// The line of a wall; none if the survey has no such wall.
    pub fn of(survey: &Survey, wall: &Key) -> Option<Plot> {
        let line = &survey.walls[survey.wall(wall)?];
        let at = |key: &Key| survey.corner(key).map(|i| survey.corners[i].at);
        let (left, right) = (at(&line.left)?, at(&line.right)?);
        let run = [right[0] - left[0], right[1] - left[1]];
        let length = run[0].hypot(run[1]);
        if length < 1e-9 {
            return None;
        }
        let along = [run[0] / length, run[1] / length];
        Some(Plot { origin: left, along, out: [along[1], -along[0]] })
    }

    /// A place on the floor plan: so far along and so far out.
    pub fn at(&self, along: f64, out: f64) -> [f64; 2] {
        [0, 1].map(|axis| self.origin[axis] + along * self.along[axis] + out * self.out[axis])
    }

    /// Where the line `out` from this wall crosses the line `other_out` from another; half-way between their
    /// nearest places where they are parallel.
    pub fn meet(&self, out: f64, other: &Plot, other_out: f64) -> [f64; 2] {
        let (here, there) = (self.at(0.0, out), other.at(0.0, other_out));
        let cross = |a: [f64; 2], b: [f64; 2]| a[0] * b[1] - a[1] * b[0];
        let turn = cross(self.along, other.along);
        if turn.abs() < 1e-9 {
            return [f64::midpoint(here[0], there[0]), f64::midpoint(here[1], there[1])];
        }
        let far = cross([there[0] - here[0], there[1] - here[1]], other.along) / turn;
        self.at(far, out)
    }
}

/// How much of a unit a solid takes in.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Extent {
    /// The box alone.
    Box,
    /// Box and face frame.
    Frame,
    /// Box, frame, fronts, pulls and handles.
    OverAll,
}

/// An upright box in the room: millimetres.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Solid {
    /// Its corners on the floor plan, counter-clockwise seen from above: back right, back left, front left, front
    /// right, as seen from the unit's front.
    pub plan: [[f64; 2]; 4],
    /// From and to, up from the datum.
    pub up: [f64; 2],
}

impl PlacedUnit {
    /// The unit as an upright box in the room; none if the survey lacks its wall.
    ///
    /// A unit stands plumb, and its back is where the wall's floor line is. Along the wall it is its frame's
    /// width, save for [`Extent::Box`].
    pub fn solid(&self, survey: &Survey, extent: Extent) -> Option<Solid> {
        let plot = Plot::of(survey, &self.wall)?;
        let (left, right) = match extent {
            Extent::Box => (&self.along + &self.overhang[0], self.right() - &self.overhang[1]),
            Extent::Frame | Extent::OverAll => (self.along.clone(), self.right()),
        };
        let out = match extent {
            Extent::Box => self.depth.clone(),
            Extent::Frame => self.frame_plane(),
            Extent::OverAll => self.overall_depth(),
        };
        let [left, right, out] = [left, right, out].map(|dim| dim.length().as_mm_f64());
        let plan = [plot.at(right, 0.0), plot.at(left, 0.0), plot.at(left, out), plot.at(right, out)];
        let up = [self.up.length(), self.top().length()].map(Length::as_mm_f64);
        Some(Solid { plan, up })
    }
}
