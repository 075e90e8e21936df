//! What to measure next: the reading that shrinks the worst uncertainty most, or nothing when the room is known
//! well enough.
//!
//! The variance of any length after one more reading is `q'Cq - (q'Cg)^2 / (s^2 + g'Cg)`, with `C` the
//! covariance now, `q` and `g` the derivatives of the length and of the reading, `s` the reading's deviation.

use dryfit_measure::{Fineness, Length, Toward};
use dryfit_plan::Plan;
use nalgebra::{DMatrix, DVector};

use super::network::{Equation, Network};
use super::walk::Ring;
use super::{NextReading, Survey};

/// Two standard deviations that a scribe or a filler takes up: 1/8 in. Common practice, no source.
const WELL_ENOUGH: f64 = 3.175;
/// Heights (mm) at which rooms are read and units end: counter, and over head.
const HEIGHTS: [f64; 2] = [914.4, 2032.0];
/// The most readings that are proposed at once.
const MOST: usize = 3;
/// Deviation of a reading to come, mm: a class II tape over a wall, read to a sixteenth.
const TO_COME: f64 = 0.8;

/// A length or a reading, in words, and its derivative by each unknown.
struct Probe {
    equation: Equation,
    by: DVector<f64>,
}

/// The readings that would help most, best first; none when twice the deviation of every wall's length, at every
/// height that something stands at, is within what a scribe takes up.
pub(crate) fn next(plan: &Plan, ring: &Ring, survey: &Survey) -> Vec<NextReading> {
    let n = ring.len();
    let network = Network::new(n, 0);
    let x: Vec<f64> = survey
        .corners
        .iter()
        .flat_map(|corner| corner.at)
        .chain(survey.walls.iter().map(|wall| wall.lean))
        .collect();
    let probe = |equation: Equation| {
        let mut row = vec![0.0; x.len()];
        network.evaluate(&x, equation, &mut row);
        Probe { equation, by: DVector::from_vec(row) }
    };
    let span = |from: usize, to: usize, height: f64| Equation::Distance {
        from,
        to,
        height,
        tape: None,
        hook: false,
    };
    let mut heights = vec![0.0, HEIGHTS[0]];
    if plan.units.values().any(|unit| unit.kind.hangs() || unit.kind.is_tall()) {
        heights.push(HEIGHTS[1]);
    }
    let mut wanted: Vec<Probe> = Vec::new();
    for wall in 0..n {
        wanted.extend(heights.iter().map(|&height| probe(span(wall, (wall + 1) % n, height))));
    }
    let candidates = candidates(ring, &heights[1..], &span).into_iter().map(probe).collect::<Vec<_>>();
    let mut covariance = survey.covariance.clone();
    let mut found = Vec::new();
    while found.len() < MOST {
        let worst = |c: &DMatrix<f64>| {
            let sizes = wanted.iter().map(|q| variance(c, &q.by));
            sizes.enumerate().reduce(|a, b| if b.1 > a.1 * (1.0 + 1e-9) { b } else { a })
        };
        let Some((which, now)) = worst(&covariance) else { break };
        if 2.0 * now.sqrt() <= WELL_ENOUGH || !now.is_finite() {
            break;
        }
        let after = |g: &Probe| {
            let c = with(&covariance, &g.by, TO_COME);
            let then = worst(&c).map_or(now, |w| w.1);
            (then, variance(&c, &wanted[which].by), c)
        };
        let tried = candidates.iter().map(|g| (g, after(g)));
        let best = tried.reduce(|a, b| {
            let key = |t: &(&Probe, (f64, f64, DMatrix<f64>))| (t.1.0 + 0.1 * t.1.1) * (1.0 + 1e-9);
            if key(&b) < (a.1.0 + 0.1 * a.1.1) { b } else { a }
        });
        let Some((probe, (_, then, c))) = best else { break };
        // not worth a trip up the ladder
        if then > now * 0.9 {
            break;
        }
        found.push(NextReading {
            what: words(plan, ring, probe.equation),
            why: format!(
                "{} is known to {} now (twice its standard deviation); this would make it {}",
                words(plan, ring, wanted[which].equation),
                twice(plan, now),
                twice(plan, then)
            ),
        });
        covariance = c;
    }
    found
}

/// The readings without which the shape stays open, in words: for each open direction the span or diagonal that
/// says most about it.
pub(crate) fn settling(plan: &Plan, ring: &Ring, survey: &Survey, open: usize) -> Vec<String> {
    let network = Network::new(ring.len(), 0);
    let x: Vec<f64> = survey
        .corners
        .iter()
        .flat_map(|corner| corner.at)
        .chain(survey.walls.iter().map(|wall| wall.lean))
        .collect();
    let span = |from: usize, to: usize, height: f64| Equation::Distance {
        from,
        to,
        height,
        tape: None,
        hook: false,
    };
    let mut covariance = survey.covariance.clone();
    let mut found = Vec::new();
    for _ in 0..open {
        let tried = candidates(ring, &HEIGHTS[..1], &span).into_iter().filter_map(|equation| {
            let Equation::Distance { from, to, .. } = equation else { return None };
            let mut row = vec![0.0; x.len()];
            network.evaluate(&x, equation, &mut row);
            let by = DVector::from_vec(row);
            // a wall is easier to tape than a diagonal
            let ease = if ring.between(from, to).is_some() { 1.5 } else { 1.0 };
            Some((variance(&covariance, &by) * ease, by, equation))
        });
        let Some((_, by, equation)) = tried.reduce(|a, b| if b.0 > a.0 * (1.0 + 1e-9) { b } else { a })
        else {
            break;
        };
        covariance = with(&covariance, &by, TO_COME);
        found.push(words(plan, ring, equation));
    }
    found
}

/// Every wall and diagonal at these heights, and every wall's lean.
fn candidates(ring: &Ring, heights: &[f64], span: &dyn Fn(usize, usize, f64) -> Equation) -> Vec<Equation> {
    let n = ring.len();
    let mut all = Vec::new();
    for &height in heights {
        all.extend((0..n).map(|wall| span(wall, (wall + 1) % n, height)));
        for from in 0..n {
            let far = (from + 2..n).filter(|to| ring.between(from, *to).is_none());
            all.extend(far.map(|to| span(from, to, height)));
        }
    }
    all.extend((0..n).map(|wall| Equation::Lean { wall, height: HEIGHTS[1] }));
    all
}

fn variance(covariance: &DMatrix<f64>, by: &DVector<f64>) -> f64 {
    by.dot(&(covariance * by)).max(0.0)
}

/// The covariance after one more reading.
fn with(covariance: &DMatrix<f64>, by: &DVector<f64>, sigma: f64) -> DMatrix<f64> {
    let column = covariance * by;
    let scale = sigma * sigma + by.dot(&column);
    covariance - &column * column.transpose() / scale
}

/// Twice a deviation, to the plan's fineness, never less than it is.
fn twice(plan: &Plan, variance: f64) -> String {
    let finest = if plan.fineness.step() >= Length::MM {
        Fineness::usual(plan.fineness.unit())
    } else {
        plan.fineness
    };
    format!("within {}", Length::from_mm_f64(2.0 * variance.sqrt()).figure(finest, Toward::Up))
}

/// A reading in words.
pub(crate) fn words(plan: &Plan, ring: &Ring, equation: Equation) -> String {
    let up = |height: f64| Length::from_mm_f64(height).figure(plan.fineness, Toward::Nearest).to_string();
    let wall = |wall: usize| {
        let key = ring.wall_key(wall);
        let name = plan.walls.get(&key).and_then(|wall| wall.name.clone());
        name.map_or_else(|| format!("wall {key}"), |name| format!("{name} ({key})"))
    };
    match equation {
        Equation::Distance { from, to, height, .. } => {
            let at = if height == 0.0 { "at the floor".to_owned() } else { format!("at {} up", up(height)) };
            if let Some(between) = ring.between(from, to) {
                return format!("{} {at}", wall(between));
            }
            let (a, b) = (&ring.corners[from], &ring.corners[to]);
            format!("diagonal {} to {} {at}", a.min(b), a.max(b))
        }
        Equation::Lean { wall: leaning, height } => {
            format!("lean of {} over {}", wall(leaning), up(height))
        }
        Equation::Assumed { .. } => "an assumption".to_owned(),
    }
}
