//! The room as measured: the network solved from its best first guess, and the survey that follows from it.

use std::collections::BTreeMap;

use dryfit_measure::{Length, Pointer, Unit};
use dryfit_plan::Plan;
use nalgebra::DMatrix;

use super::adjust::{Adjusted, adjust, hold_loose};
use super::blunder::{Checks, check, passes};
use super::ellipse::{ellipse, minimum_trace};
use super::network::{Equation, Network, Observation};
use super::observe::{Observed, sketch};
use super::start::{guesses, is_simple, twice_area};
use super::walk::Ring;
use super::{Corner, Fit, Levels, Survey, WallLine};

/// A solved network.
#[derive(Clone, Debug)]
pub(crate) struct Solved {
    /// The network; where readings left the shape open, with the corners that were held.
    pub network: Network,
    pub adjusted: Adjusted,
    pub checks: Checks,
    /// Observations that hold a corner where readings leave its place open.
    pub held: Vec<usize>,
}

/// Solves the network from each first guess and keeps the best outcome that is a room.
pub(crate) fn solve(observed: &Observed, ring: &Ring) -> Solved {
    let network = &observed.network;
    let start = |at: &[[f64; 2]]| {
        let mut x = vec![0.0; network.unknowns()];
        for (i, p) in at.iter().enumerate() {
            (x[2 * i], x[2 * i + 1]) = (p[0], p[1]);
        }
        x
    };
    let mut best: Option<Adjusted> = None;
    for guess in guesses(&sketch(network, ring)) {
        let tried = adjust(network, &start(&guess.at));
        let rank = |a: &Adjusted| {
            let at = corners(&a.x, ring.len());
            (!(is_simple(&at) && twice_area(&at) > 0.0), !a.converged)
        };
        let better = |known: &Adjusted| {
            let (new, old) = (rank(&tried), rank(known));
            new < old || (new == old && tried.ssq < known.ssq - 0.01)
        };
        if tried.x.iter().all(|v| v.is_finite()) && best.as_ref().is_none_or(better) {
            best = Some(tried);
        }
    }
    let best = best.unwrap_or_else(|| adjust(network, &vec![0.0; network.unknowns()]));
    finish(network.clone(), best)
}

/// Holds what is open, and checks the outcome.
pub(crate) fn finish(mut network: Network, mut adjusted: Adjusted) -> Solved {
    let mut held = Vec::new();
    if !adjusted.loose.is_empty() {
        let more = hold_loose(&network, &adjusted);
        held = (network.observations.len()..network.observations.len() + more.len()).collect();
        network.observations.extend(more);
        adjusted = adjust(&network, &adjusted.x);
    }
    let checks = check(&network.observations, &adjusted);
    Solved { network, adjusted, checks, held }
}

/// The corners among the unknowns.
pub(crate) fn corners(x: &[f64], n: usize) -> Vec<[f64; 2]> {
    (0..n).map(|i| [x[2 * i], x[2 * i + 1]]).collect()
}

/// The survey that follows from a solved network, without its levels and its advice.
pub(crate) fn room(plan: &Plan, ring: &Ring, observed: &Observed, solved: &Solved) -> Survey {
    let n = ring.len();
    let (network, adjusted) = (&solved.network, &solved.adjusted);
    let at = corners(&adjusted.x, n);
    let redundancy = adjusted.redundancy();
    let rise = plan.room.floor_buildup.map_or(Length::ZERO, |b| b.length);
    let columns = columns(ring, observed, solved);
    let (covariance, gain) = unknowns(network, adjusted, &columns);
    let free = minimum_trace(&at, &covariance);
    let blade = blade(plan);
    let corner = |i: usize| Corner {
        key: ring.corners[i].clone(),
        at: at[i],
        ellipse: ellipse(&free, i),
        square_gap: Length::ZERO,
    };
    let wall = |i: usize| WallLine {
        key: ring.wall_key(i),
        left: ring.corners[(i + 1) % n].clone(),
        right: ring.corners[i].clone(),
        lean: adjusted.x[network.lean(i)],
        length: dryfit_measure::Dim::zero(),
        known_up_to: known_up_to(observed, ring, i),
    };
    let mut survey = Survey {
        corners: (0..n).map(corner).collect(),
        walls: (0..n).map(wall).collect(),
        fits: fits(observed, solved),
        redundancy,
        sigma0: if redundancy == 0 { 0.0 } else { (adjusted.ssq / redundancy as f64).sqrt() },
        passes: passes(adjusted.ssq, redundancy),
        levels: Levels::none(),
        next: vec![],
        rise,
        covariance,
        gain,
        used_covariance: used_covariance(network, adjusted, &columns),
        used: columns.into_iter().map(|(_, at)| at).collect(),
        also: observed.also.iter().cloned().chain(buildup_place(plan)).collect(),
    };
    for i in 0..n {
        survey.walls[i].length = survey.length_at_floor(i);
        let gap = survey.square_gap(&survey.corners[i].key, blade);
        survey.corners[i].square_gap = gap.map_or(Length::ZERO, |gap| gap.length());
    }
    survey
}

/// The length of the blade that squares are told by: 24 in, or 600 mm. Common practice.
fn blade(plan: &Plan) -> Length {
    match plan.entry_unit {
        Unit::Inch => Length::inches(24, 0, 1),
        Unit::Millimetre => Length::mm(600),
    }
}

fn buildup_place(plan: &Plan) -> Option<Pointer> {
    plan.room.floor_buildup.map(|_| Pointer::root().child("room").child("floor_buildup"))
}

/// The observations whose values the answer is traced to, each with its place in the plan.
fn columns(ring: &Ring, observed: &Observed, solved: &Solved) -> Vec<(usize, Pointer)> {
    let readings = observed.taken.iter().filter_map(|t| t.observation.map(|o| (o, t.at.clone())));
    let plumb = observed.plumb.iter().map(|&(wall, o)| (o, ring.place(wall)));
    // x and y of one corner may both be open: two values, so two places
    let held = solved.held.iter().filter_map(|&o| match solved.network.observations[o].equation {
        Equation::Assumed { unknown } => {
            Some((o, ring.corner_place(unknown / 2).child(["x", "y"][unknown % 2])))
        }
        _ => None,
    });
    readings.chain(plumb).chain(held).collect()
}

/// What an observation's value is counted in when it stands in a column: a wall taken for plumb as the offset
/// (mm) at a metre's height.
fn per_column(network: &Network, observation: &Observation) -> f64 {
    match observation.equation {
        Equation::Assumed { unknown } if !network.coordinates().contains(&unknown) => 1e-3,
        _ => 1.0,
    }
}

/// Covariance and gain over corners and leans, with what was fixed as zeros.
fn unknowns(
    network: &Network,
    adjusted: &Adjusted,
    columns: &[(usize, Pointer)],
) -> (DMatrix<f64>, DMatrix<f64>) {
    let room = network.corners * 3;
    let full = adjusted.gain(&network.observations);
    let mut covariance = DMatrix::zeros(room, room);
    let mut gain = DMatrix::zeros(room, columns.len());
    let inside: Vec<(usize, usize)> =
        network.free.iter().copied().enumerate().filter(|(_, unknown)| *unknown < room).collect();
    for &(a, row) in &inside {
        for &(b, column) in &inside {
            covariance[(row, column)] = adjusted.covariance[(a, b)];
        }
        for (k, (o, _)) in columns.iter().enumerate() {
            gain[(row, k)] = full[(a, *o)] * per_column(network, &network.observations[*o]);
        }
    }
    (covariance, gain)
}

/// Covariance of the values in the columns: each one's own variance, and what readings of one tape share.
fn used_covariance(network: &Network, adjusted: &Adjusted, columns: &[(usize, Pointer)]) -> DMatrix<f64> {
    let k = columns.len();
    let room = network.corners * 3;
    let mut covariance = DMatrix::zeros(k, k);
    for (i, (o, _)) in columns.iter().enumerate() {
        let observation = &network.observations[*o];
        let sigma = observation.sigma / per_column(network, observation);
        covariance[(i, i)] = sigma * sigma;
    }
    for observation in &network.observations {
        let Equation::Assumed { unknown } = observation.equation else { continue };
        let Some(common) = network.free.iter().position(|u| *u == unknown && *u >= room) else { continue };
        let variance = observation.sigma * observation.sigma;
        for (i, (a, _)) in columns.iter().enumerate() {
            for (j, (b, _)) in columns.iter().enumerate() {
                let by = |o: usize| adjusted.jacobian[(o, common)];
                covariance[(i, j)] += by(*a) * by(*b) * variance;
            }
        }
    }
    covariance
}

/// The greatest height at which a wall was read.
fn known_up_to(observed: &Observed, ring: &Ring, wall: usize) -> Option<Length> {
    let heights =
        observed.taken.iter().filter(|t| t.observation.is_some()).filter_map(|t| match t.equation {
            Equation::Distance { from, to, height, .. } if ring.between(from, to) == Some(wall) => {
                Some(height)
            }
            Equation::Lean { wall: leaning, height } if leaning == wall => Some(height),
            _ => None,
        });
    heights.max_by(f64::total_cmp).map(Length::from_mm_f64)
}

/// How each reading fits.
fn fits(observed: &Observed, solved: &Solved) -> BTreeMap<dryfit_measure::Key, Fit> {
    let fit = |taken: &super::observe::Taken| {
        let fit = match taken.observation {
            Some(o) => {
                let check = solved.checks.each[o];
                Fit {
                    at: taken.at.clone(),
                    residual: Length::from_mm_f64(solved.adjusted.residuals[o]),
                    sigma: taken.weight.own,
                    redundancy: check.redundancy,
                    w: check.w,
                    least_detectable: check.least_detectable,
                    used: true,
                    ties: vec![],
                    likely: None,
                }
            }
            None => aside(taken, solved),
        };
        (taken.key.clone(), fit)
    };
    observed.taken.iter().map(fit).collect()
}

/// How a reading that took no part stands against the adjusted room.
fn aside(taken: &super::observe::Taken, solved: &Solved) -> Fit {
    let (predicted, variance) = predict(&solved.network, &solved.adjusted, taken.equation);
    let residual = predicted - taken.read;
    let deviation = taken.weight.own.hypot(variance.max(0.0).sqrt());
    Fit {
        at: taken.at.clone(),
        residual: Length::from_mm_f64(residual),
        sigma: taken.weight.own,
        redundancy: 1.0,
        w: residual / deviation,
        least_detectable: None,
        used: false,
        ties: vec![],
        likely: None,
    }
}

/// What an equation should give in the adjusted room, and the variance of that.
pub(crate) fn predict(network: &Network, adjusted: &Adjusted, equation: Equation) -> (f64, f64) {
    let mut row = vec![0.0; network.unknowns()];
    let value = network.evaluate(&adjusted.x, equation, &mut row);
    let by = nalgebra::DVector::from_iterator(network.free.len(), network.free.iter().map(|&u| row[u]));
    (value, by.dot(&(&adjusted.covariance * &by)))
}
