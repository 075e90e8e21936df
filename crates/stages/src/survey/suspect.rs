//! Which readings are suspect, and what they probably were.
//!
//! Data snooping (Baarda 1968): the reading with the greatest standardized residual, if that is beyond the
//! limit, is left out and the rest looked at again, until nothing more is suspect. Where leaving one out is not
//! enough, the readings of one line may all be wrong in the same way: lines are then left out whole. A slip is offered only where
//! putting the re-read number in that one place makes the whole network pass.

use std::collections::BTreeMap;

use dryfit_measure::Key;
use dryfit_plan::Plan;

use super::adjust::{Adjusted, adjust};
use super::blunder::{Checks, SUSPECT, check, passes};
use super::measured::{Solved, predict};
use super::network::{Equation, Network, Observation};
use super::observe::{Observed, Taken};
use super::reread::misreadings;
use super::{Fit, LikelySlip};

/// The most suspects that are followed up.
const MOST: usize = 4;

/// One suspect, and those that cannot be told apart from it: indices into [`Observed::taken`].
#[derive(Clone, Debug)]
pub(crate) struct Suspect {
    /// The suspect first.
    pub group: Vec<usize>,
    /// By how much it is off if it alone is wrong: read less true, mm.
    pub error: f64,
    /// What to set aside, each set by itself, for the rest to pass or to have one suspect fewer.
    pub aside: Vec<Vec<usize>>,
    /// What members of the group may have been.
    pub slips: Vec<(usize, LikelySlip)>,
}

/// The suspects of a solved network, the worst first.
pub(crate) fn suspects(plan: &Plan, observed: &Observed, solved: &Solved) -> Vec<Suspect> {
    let mut network = solved.network.clone();
    let mut adjusted = solved.adjusted.clone();
    let mut checks = solved.checks.clone();
    // the reading behind each observation that is still in
    let mut behind: Vec<Option<usize>> = (0..network.observations.len())
        .map(|o| observed.taken.iter().position(|t| t.observation == Some(o)))
        .collect();
    let mut found: Vec<Suspect> = Vec::new();
    while found.len() < MOST {
        let Some(worst) = worst(&checks, &behind) else { break };
        let Some(reading) = behind[worst] else { break };
        let ties = checks.ties(worst).into_iter().filter_map(|o| behind[o]);
        let group: Vec<usize> = std::iter::once(reading).chain(ties).collect();
        let error = -adjusted.residuals[worst] / checks.each[worst].redundancy;
        let alone = found.is_empty();
        let slips = if alone { slips(plan, observed, solved, &group) } else { vec![] };
        let cures = |&&index: &&usize| {
            let Some(o) = behind.iter().position(|b| *b == Some(index)) else { return false };
            passes_without(&network, &adjusted, o)
        };
        let mut aside: Vec<Vec<usize>> = group.iter().filter(cures).map(|&index| vec![index]).collect();
        if aside.is_empty() && alone {
            let lines = lines_off(observed, solved);
            if !lines.is_empty() {
                let group = lines.iter().flatten().copied().collect();
                return vec![Suspect { group, error, aside: lines, slips }];
            }
        }
        if aside.is_empty() {
            aside.push(vec![reading]);
        }
        found.push(Suspect { group, error, aside, slips });
        network.observations.remove(worst);
        behind.remove(worst);
        adjusted = adjust(&network, &adjusted.x);
        if !adjusted.loose.is_empty() || !adjusted.converged {
            break;
        }
        checks = check(&network.observations, &adjusted);
    }
    found
}

/// Heights (mm) that differ by no more are one height.
const ONE_HEIGHT: f64 = 25.0;

/// Lines that were read more than once with the same mistake each time (the wrong corner, the tape over a pipe):
/// those without whose readings, all together, the rest passes.
fn lines_off(observed: &Observed, solved: &Solved) -> Vec<Vec<usize>> {
    let mut lines: Vec<Vec<usize>> = Vec::new();
    for (index, taken) in observed.taken.iter().enumerate().filter(|(_, t)| t.observation.is_some()) {
        let known =
            lines.iter_mut().find(|line| is_one_line(observed.taken[line[0]].equation, taken.equation));
        match known {
            Some(line) => line.push(index),
            None => lines.push(vec![index]),
        }
    }
    lines.retain(|line| {
        let mut network = solved.network.clone();
        let mut out: Vec<usize> =
            line.iter().filter_map(|&index| observed.taken[index].observation).collect();
        out.sort_unstable();
        for observation in out.into_iter().rev() {
            network.observations.remove(observation);
        }
        line.len() > 1 && {
            let again = adjust(&network, &solved.adjusted.x);
            again.loose.is_empty() && network_passes(&network, &again)
        }
    });
    lines
}

fn is_one_line(a: Equation, b: Equation) -> bool {
    let line = |equation| match equation {
        Equation::Distance { from, to, height, .. } => Some((from.min(to), from.max(to), height)),
        _ => None,
    };
    line(a).zip(line(b)).is_some_and(|(a, b)| (a.0, a.1) == (b.0, b.1) && (a.2 - b.2).abs() <= ONE_HEIGHT)
}

/// Writes ties and slips beside the readings they are about.
pub(crate) fn mark(
    plan: &Plan,
    observed: &Observed,
    solved: &Solved,
    suspects: &[Suspect],
    fits: &mut BTreeMap<Key, Fit>,
) {
    let key = |index: usize| &observed.taken[index].key;
    for suspect in suspects {
        for &member in &suspect.group {
            let others = suspect.group.iter().filter(|&&o| o != member).map(|&o| key(o).clone());
            if let Some(fit) = fits.get_mut(key(member)).filter(|fit| fit.ties.is_empty()) {
                fit.ties = others.collect();
            }
        }
        for (member, slip) in &suspect.slips {
            if let Some(fit) = fits.get_mut(key(*member)) {
                fit.likely = Some(slip.clone());
            }
        }
    }
    for taken in &observed.taken {
        if let Some(slip) = slip_of_aside(plan, taken, solved)
            && let Some(fit) = fits.get_mut(&taken.key)
        {
            fit.likely = Some(slip);
        }
    }
}

/// The reading with the greatest standardized residual, if that is beyond the limit. Assumptions are no readings.
fn worst(checks: &Checks, behind: &[Option<usize>]) -> Option<usize> {
    let size = |o: usize| checks.each[o].w.abs();
    let readings = (0..behind.len()).filter(|&o| behind[o].is_some() && size(o) > SUSPECT);
    readings.reduce(|a, b| if size(b) > size(a) { b } else { a })
}

/// For each reading of a group, the slip that fits best, if it alone makes the network pass.
fn slips(plan: &Plan, observed: &Observed, solved: &Solved, group: &[usize]) -> Vec<(usize, LikelySlip)> {
    let slip = |&index: &usize| {
        let taken = &observed.taken[index];
        let observation = taken.observation?;
        let check = solved.checks.each[observation];
        // where the rest of the network asks for it to be, and how sure that is
        let asked = taken.read + solved.adjusted.residuals[observation] / check.redundancy.max(1e-6);
        let spread = taken.weight.own / check.redundancy.max(1e-6).sqrt();
        let fits = candidates(plan, taken).into_iter().filter_map(|slip| {
            let length = slip.length.as_mm_f64();
            if (length - asked).abs() > SUSPECT * spread {
                return None;
            }
            let mut network = solved.network.clone();
            network.observations[observation].read = length;
            let again = adjust(&network, &solved.adjusted.x);
            network_passes(&network, &again).then_some((again.ssq, slip))
        });
        let best = fits.reduce(|a, b| if b.0 < a.0 { b } else { a })?;
        Some((index, best.1))
    };
    group.iter().filter_map(slip).collect()
}

/// The slip that would explain a reading which was set aside, if the network passes without it, and with it put right
/// so. A reading of another state of the room was no slip: the room was another.
fn slip_of_aside(plan: &Plan, taken: &Taken, solved: &Solved) -> Option<LikelySlip> {
    let aside = plan.readings.get(&taken.key).is_some_and(|reading| reading.set_aside.is_some());
    if !aside || taken.observation.is_some() || !network_passes(&solved.network, &solved.adjusted) {
        return None;
    }
    let (asked, variance) = predict(&solved.network, &solved.adjusted, taken.equation);
    let spread = taken.weight.own.hypot(variance.max(0.0).sqrt());
    let off = |slip: &LikelySlip| (slip.length.as_mm_f64() - asked).abs();
    if (taken.read - asked).abs() <= SUSPECT * spread {
        return None;
    }
    let fits = candidates(plan, taken).into_iter().filter(|slip| off(slip) <= SUSPECT * spread);
    let passing = fits.filter(|slip| {
        let mut network = solved.network.clone();
        let (equation, read) = (taken.equation, slip.length.as_mm_f64());
        network.observations.push(Observation { equation, read, sigma: taken.weight.own });
        network_passes(&network, &adjust(&network, &solved.adjusted.x))
    });
    passing.reduce(|a, b| if off(&b) < off(&a) { b } else { a })
}

fn candidates(plan: &Plan, taken: &Taken) -> Vec<LikelySlip> {
    let Some(reading) = plan.readings.get(&taken.key) else { return vec![] };
    let body = plan.instruments.get(&reading.by).and_then(|i| i.body).map(|body| body.length);
    misreadings(reading, body)
}

/// Whether what is left passes once one observation is taken out.
pub(crate) fn passes_without(network: &Network, adjusted: &Adjusted, observation: usize) -> bool {
    let mut network = network.clone();
    network.observations.remove(observation);
    let again = adjust(&network, &adjusted.x);
    again.loose.is_empty() && network_passes(&network, &again)
}

/// The global test, and no reading suspect.
fn network_passes(network: &Network, adjusted: &Adjusted) -> bool {
    let checks = check(&network.observations, adjusted);
    passes(adjusted.ssq, adjusted.redundancy()) && checks.each.iter().all(|check| check.w.abs() <= SUSPECT)
}
