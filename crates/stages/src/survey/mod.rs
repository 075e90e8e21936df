//! Stage 1, survey: from readings to the room as it is, and how sure that is.
//!
//! Coordinates: millimetres as `f64` inside the adjustment only; what leaves the stage are [`Dim`]s whose
//! reason is *adjusted* with the weight of every reading. The room lies counter-clockwise whatever the sense of
//! the walk, origin at the first corner of the walk, x along the wall that leaves it with the room on its
//! left, y into the room, z up from the datum.
//!
//! Corner positions are those at the floor where the readings' heights begin; a wall at a height is its floor
//! line moved out by its lean. Heights above the datum are `rise` less than heights above that floor.

#![expect(
    clippy::many_single_char_names,
    clippy::similar_names,
    reason = "points, directions and angles are called as in the formulas"
)]

mod adjust;
mod blunder;
mod clear;
mod ellipse;
mod findings;
mod levels;
mod measured;
mod network;
mod next;
mod observe;
mod references;
mod reread;
mod spread;
mod start;
mod suspect;
mod tangent;
mod walk;
mod weigh;

#[cfg(test)]
mod judged;
#[cfg(test)]
mod properties;
#[cfg(test)]
mod published;
#[cfg(test)]
mod tests;

use std::collections::BTreeMap;

use dryfit_measure::{Dim, Key, Length, Pointer};
use dryfit_plan::Plan;
use nalgebra::DMatrix;

pub use clear::{Clear, Spot};

use crate::finding::Finding;

/// The adjusted room.
#[derive(Clone, Debug)]
pub struct Survey {
    /// Corners, counter-clockwise from the first of the walk.
    pub corners: Vec<Corner>,
    /// Walls, counter-clockwise; wall `i` joins corner `i` and corner `i + 1`.
    pub walls: Vec<WallLine>,
    /// Every reading of corners and walls, with how it fits, by key.
    pub fits: BTreeMap<Key, Fit>,
    /// How many readings more than unknowns.
    pub redundancy: usize,
    /// Square root of the weighted sum of squared residuals over the redundancy.
    pub sigma0: f64,
    /// Whether the whole network passes the global test (chi squared, 95 %).
    pub passes: bool,
    /// The floor and ceiling as measured.
    pub levels: Levels,
    /// What would help most to measure next; empty when it is measured well enough.
    pub next: Vec<NextReading>,
    /// The datum above the floor that readings' heights count from: the build-up to come.
    pub rise: Length,
    /// Covariance of the unknowns (mm2): x, y of each corner in order, then the lean of each wall (mm/mm).
    pub covariance: DMatrix<f64>,
    /// Derivative of each unknown by each used reading, rows as in `covariance`, columns as `used`.
    pub gain: DMatrix<f64>,
    /// What the columns of `gain` stand for: readings, then walls taken for plumb because nobody read their
    /// lean (an offset at a metre's height), then `x` or `y` of corners whose place the readings leave open.
    pub used: Vec<Pointer>,
    /// Covariance of what `used` stands for, mm2: readings of one tape share its scale and hook.
    pub used_covariance: DMatrix<f64>,
    /// Places that weigh in without a value of their own: the instruments.
    pub also: Vec<Pointer>,
}

/// One corner, at the floor.
#[derive(Clone, Debug)]
pub struct Corner {
    /// Its key in the walk.
    pub key: Key,
    /// Where it is, mm.
    pub at: [f64; 2],
    /// Half axes (mm, one sigma) and direction (radians) of its ellipse, from the minimum-trace solution.
    pub ellipse: [f64; 3],
    /// How far the corner is from square: the gap at the end of a 24 in (or 600 mm) blade, positive when open.
    pub square_gap: Length,
}

/// One wall's inside face as a line, seen from inside.
#[derive(Clone, Debug)]
pub struct WallLine {
    /// Its key.
    pub key: Key,
    /// The corner at its left-hand end, seen from inside.
    pub left: Key,
    /// The corner at its right-hand end.
    pub right: Key,
    /// Away from the room per unit of height, positive when the top leans away.
    pub lean: f64,
    /// Length between its corners at the floor.
    pub length: Dim,
    /// Heights at which a span of it was read, or from which a lean reaches.
    pub known_up_to: Option<Length>,
}

/// How one reading fits.
#[derive(Clone, Debug)]
pub struct Fit {
    /// Where it stands in the plan.
    pub at: Pointer,
    /// Adjusted minus read.
    pub residual: Length,
    /// Standard deviation of the reading's own part, mm: without the scale and hook it shares with others.
    pub sigma: f64,
    /// Its redundancy number, 0 (nothing checks it) to 1; 1 for a reading that took no part.
    pub redundancy: f64,
    /// Standardized residual (Baarda); beyond 3.29 it is suspect.
    pub w: f64,
    /// Least error of it that would be detected (alpha 0.001, power 0.80), mm; none where nothing checks it.
    pub least_detectable: Option<f64>,
    /// Whether it took part.
    pub used: bool,
    /// The other readings that cannot be told apart from it, when it is suspect.
    pub ties: Vec<Key>,
    /// What it probably was, when re-reading the text explains it and it alone makes the network pass.
    pub likely: Option<LikelySlip>,
}

/// What a wrong reading probably was.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct LikelySlip {
    /// The length that the network asks for.
    pub length: Length,
    /// How it came about: "6 read as 8".
    pub how: String,
}

/// Floor and ceiling.
#[derive(Clone, Debug)]
pub struct Levels {
    /// Floor heights as read, each against the datum (zero is the datum, negative is lower).
    pub floor: Vec<LevelPoint>,
    /// Ceiling heights above the datum.
    pub ceiling: Vec<LevelPoint>,
    /// Which floor reading is the datum: the high point under the units.
    pub datum: Option<Key>,
    /// Ceiling height above the datum that was given as about, for where nobody has measured it.
    pub about: Option<Dim>,
    /// What the places of these readings rest on: nothing long, named by every reading of the room.
    pub places: Dim,
}

/// One measured height.
#[derive(Clone, Debug)]
pub struct LevelPoint {
    /// The reading.
    pub reading: Key,
    /// Where in the room, mm.
    pub at: [f64; 2],
    /// Above the datum.
    pub height: Dim,
}

/// A reading that would help.
#[derive(Clone, Debug)]
pub struct NextReading {
    /// What to measure, in words: "wall B-C at 56 in up".
    pub what: String,
    /// Why it would help, with the number it would improve.
    pub why: String,
}

/// The room of a plan, and what there is to say about its readings.
pub fn survey(plan: &Plan) -> (Survey, Vec<Finding>) {
    let ring = walk::Ring::of(plan);
    let mut findings = references::unknown(plan, &ring);
    if ring.len() < 3 {
        return (Survey::empty(), findings);
    }
    let observed = observe::observe(plan, &ring);
    let solved = measured::solve(&observed, &ring);
    let suspects = suspect::suspects(plan, &observed, &solved);
    let mut survey = measured::room(plan, &ring, &observed, &solved);
    suspect::mark(plan, &observed, &solved, &suspects, &mut survey.fits);
    survey.levels = levels::levels(plan, &survey, observe::epoch(plan, &ring).as_ref());
    survey.next = next::next(plan, &ring, &survey);
    findings.extend(findings::findings(plan, &ring, &observed, &solved, &suspects, &survey));
    (survey, findings)
}

impl Survey {
    /// No room at all.
    fn empty() -> Survey {
        Survey {
            corners: vec![],
            walls: vec![],
            fits: BTreeMap::new(),
            redundancy: 0,
            sigma0: 0.0,
            passes: true,
            levels: Levels::none(),
            next: vec![],
            rise: Length::ZERO,
            covariance: DMatrix::zeros(0, 0),
            gain: DMatrix::zeros(0, 0),
            used: vec![],
            used_covariance: DMatrix::zeros(0, 0),
            also: vec![],
        }
    }
}

impl Levels {
    /// Nothing read.
    fn none() -> Levels {
        Levels { floor: vec![], ceiling: vec![], datum: None, about: None, places: Dim::zero() }
    }
}
