//! From the plan's readings to observations: which readings take part, what each is of, how good it is.

use std::collections::{BTreeMap, BTreeSet};

use dryfit_measure::{Key, Pointer};
use dryfit_plan::{Held, Plan, Reading, Subject};

use super::network::{Equation, Network, Observation};
use super::start::Sketch;
use super::walk::Ring;
use super::weigh::{Weight, shared, weigh};

/// Standard deviation of a wall's lean that nobody read: 1/2 in over 8 ft. Common practice, no source.
pub(crate) const LEAN_DOUBT: f64 = 12.7 / 2438.4;

/// A reading of the room's plan: a span, a diagonal or a lean.
#[derive(Clone, Debug)]
pub(crate) struct Taken {
    pub key: Key,
    pub at: Pointer,
    pub equation: Equation,
    pub read: f64,
    pub weight: Weight,
    /// Its observation in the network; none where it does not take part.
    pub observation: Option<usize>,
}

/// The network that a plan's readings make.
#[derive(Clone, Debug)]
pub(crate) struct Observed {
    pub network: Network,
    /// Every reading of the room's plan, in the order of its keys.
    pub taken: Vec<Taken>,
    /// Walls whose lean nobody read, and the observation that takes each for plumb.
    pub plumb: Vec<(usize, usize)>,
    /// Places that weigh in without a reading of their own: instruments.
    pub also: BTreeSet<Pointer>,
}

/// The place of a reading.
pub(crate) fn place(key: &Key) -> Pointer {
    Pointer::root().child("readings").child(key)
}

/// Gathers what the readings observe.
pub(crate) fn observe(plan: &Plan, ring: &Ring) -> Observed {
    let epoch = epoch(plan, ring);
    let mut tapes: BTreeMap<&Key, usize> = BTreeMap::new();
    let mut taken = Vec::new();
    for (key, reading) in &plan.readings {
        let instrument = plan.instruments.get(&reading.by);
        let tape = instrument.filter(|i| shared(i).is_some()).map(|_| {
            let next = tapes.len();
            *tapes.entry(&reading.by).or_insert(next)
        });
        let Some(equation) = equation(reading, ring, tape) else { continue };
        let read = reading.length.length.as_mm_f64();
        let weight = weigh(reading, instrument);
        taken.push(Taken { key: key.clone(), at: place(key), equation, read, weight, observation: None });
    }
    let mut network = Network::new(ring.len(), tapes.len());
    let mut also = BTreeSet::new();
    for taken in &mut taken {
        let reading = &plan.readings[&taken.key];
        let sensible = taken.read > 0.0 || matches!(taken.equation, Equation::Lean { .. });
        if reading.set_aside.is_some() || epoch.as_ref().is_some_and(|e| *e != reading.epoch) || !sensible {
            continue;
        }
        if plan.instruments.contains_key(&reading.by) {
            also.insert(Pointer::root().child("instruments").child(&reading.by));
        }
        taken.observation = Some(network.observations.len());
        network.observations.push(Observation {
            equation: taken.equation,
            read: taken.read,
            sigma: taken.weight.own,
        });
    }
    let leans: BTreeSet<usize> = taken
        .iter()
        .filter(|t| t.observation.is_some())
        .filter_map(|t| if let Equation::Lean { wall, .. } = t.equation { Some(wall) } else { None })
        .collect();
    let mut plumb = Vec::new();
    for wall in (0..ring.len()).filter(|wall| !leans.contains(wall)) {
        plumb.push((wall, network.observations.len()));
        let equation = Equation::Assumed { unknown: network.lean(wall) };
        network.observations.push(Observation { equation, read: 0.0, sigma: LEAN_DOUBT });
    }
    for (key, tape) in &tapes {
        let Some(common) = plan.instruments.get(*key).and_then(shared) else { continue };
        for (step, sigma) in [common.scale, common.hook].into_iter().enumerate() {
            let equation = Equation::Assumed { unknown: network.scale(*tape) + step };
            network.observations.push(Observation { equation, read: 0.0, sigma });
        }
    }
    Observed { network, taken, plumb, also }
}

/// What a reading is an equation of; none for floor and ceiling, and for what names no corner or wall.
pub(crate) fn equation(reading: &Reading, ring: &Ring, tape: Option<usize>) -> Option<Equation> {
    let height = reading.height.map_or(0.0, |h| h.length.as_mm_f64());
    match &reading.of {
        Subject::Span { from, to } | Subject::Diagonal { from, to } => {
            let (from, to) = (ring.corner(from)?, ring.corner(to)?);
            let hook = tape.is_some() && reading.how != Held::BurntInch;
            (from != to).then_some(Equation::Distance { from, to, height, tape, hook })
        }
        // over no height a wall has no lean
        Subject::Lean { wall } if height.abs() >= 1.0 => {
            Some(Equation::Lean { wall: ring.wall(wall)?, height })
        }
        _ => None,
    }
}

/// The epoch with the most spans and diagonals; of equals the first by key. Walls move between epochs, so that
/// readings of two do not belong in one adjustment.
pub(crate) fn epoch(plan: &Plan, ring: &Ring) -> Option<Key> {
    let mut counts: BTreeMap<&Key, usize> = BTreeMap::new();
    for reading in plan.readings.values().filter(|r| r.set_aside.is_none()) {
        if matches!(equation(reading, ring, None), Some(Equation::Distance { .. })) {
            *counts.entry(&reading.epoch).or_default() += 1;
        }
    }
    let most = counts.values().copied().max()?;
    counts.into_iter().find(|(_, count)| *count == most).map(|(key, _)| key.clone())
}

/// What the first guess starts from: the mean of each wall's and each chord's readings, whatever their height.
pub(crate) fn sketch(network: &Network, ring: &Ring) -> Sketch {
    let mut means: BTreeMap<(usize, usize), (f64, f64)> = BTreeMap::new();
    for observation in &network.observations {
        if let Equation::Distance { from, to, .. } = observation.equation {
            let mean = means.entry((from.min(to), from.max(to))).or_default();
            *mean = (mean.0 + observation.read, mean.1 + 1.0);
        }
    }
    let mut sketch = Sketch { walls: vec![None; ring.len()], chords: vec![] };
    for ((from, to), (sum, count)) in means {
        match ring.between(from, to) {
            Some(wall) => sketch.walls[wall] = Some(sum / count),
            None => sketch.chords.push((from, to, sum / count)),
        }
    }
    sketch
}
