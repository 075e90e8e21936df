//! Serial schedule generation: one activity after the other is put at the first time at which it fits.
//!
//! With greatest lags an activity may find no place in time. Then those that stand too early are taken up with all
//! that was placed at their time or later, and put down again no earlier than the lag asks (unscheduling, after
//! Franck, Neumann & Schwindt 2001, "Truncated branch-and-bound, schedule-construction, and
//! schedule-improvement procedures for resource-constrained project scheduling").

use std::collections::VecDeque;

use crate::job::End;
use crate::network::{Network, Stuck, Times};

/// The schedule in which activities are placed in the order of their `rank` (least first) as far as the links
/// allow, none before its floor.
pub(crate) fn generate(network: &Network<'_>, rank: &[i64], floors: &[i64]) -> Result<Vec<Times>, Stuck> {
    let count = network.count();
    let mut floors = floors.to_vec();
    let mut starts = network.earliest(&floors)?;
    let mut placed: Vec<Option<Times>> = vec![None; count];
    let mut taken_up = 0;
    while let Some(next) = next(network, rank, &starts, &placed) {
        let times = fit(network, next, starts[next], &placed)?;
        starts[next] = times.start;
        placed[next] = Some(times);
        let mut early: Vec<(usize, i64)> = Vec::new();
        network.raise(&mut starts, VecDeque::from([next]), |other, start| {
            let stands = placed[other].is_some();
            if stands {
                early.push((other, start));
            }
            !stands
        })?;
        while let Some(first) = early.iter().map(|(other, _)| starts[*other]).min() {
            taken_up += 1;
            if taken_up > 8 * count {
                return Err(Stuck::TooLate(next));
            }
            for (other, start) in early.drain(..) {
                floors[other] = floors[other].max(start);
            }
            for place in &mut placed {
                if place.is_some_and(|times| times.start >= first) {
                    *place = None;
                }
            }
            let from: Vec<i64> =
                (0..count).map(|at| placed[at].map_or(floors[at], |times| times.start)).collect();
            starts = network.earliest(&from)?;
            for (at, place) in placed.iter().enumerate() {
                if let Some(times) = place
                    && starts[at] > times.start
                {
                    early.push((at, starts[at]));
                    starts[at] = times.start;
                }
            }
        }
    }
    placed.into_iter().enumerate().map(|(at, times)| times.ok_or(Stuck::TooLate(at))).collect()
}

/// The first by rank of what has everything before it placed; where links run in circles, of all.
fn next(network: &Network<'_>, rank: &[i64], starts: &[i64], placed: &[Option<Times>]) -> Option<usize> {
    let waits = |at: &usize| {
        let arcs = network.into[*at].iter();
        // what only has to finish after something may well begin before it
        arcs.filter(|arc| arc.lag >= 0 && arc.to.end == End::Start)
            .any(|arc| placed[arc.from.activity].is_none())
    };
    let open = (0..placed.len()).filter(|at| placed[*at].is_none());
    let first = open.clone().filter(|at| !waits(at)).min_by_key(|at| (rank[*at], *at));
    first.or_else(|| open.min_by_key(|at| (starts[*at], rank[*at], *at)))
}

/// The first time from here on at which there is enough of what an activity uses.
fn fit(network: &Network<'_>, activity: usize, from: i64, placed: &[Option<Times>]) -> Result<Times, Stuck> {
    let timing = network.job.timing(activity);
    let mut start = timing.start_from(from).ok_or(Stuck::NoTime(activity))?;
    loop {
        let times = network.times(activity, start).ok_or(Stuck::NoTime(activity))?;
        match full_until(network, activity, times, placed)? {
            None => return Ok(times),
            Some(tick) => start = timing.start_from(tick).ok_or(Stuck::NoTime(activity))?,
        }
    }
}

/// Until when there is too little of something that an activity uses, if there is.
fn full_until(
    network: &Network<'_>,
    activity: usize,
    times: Times,
    placed: &[Option<Times>],
) -> Result<Option<i64>, Stuck> {
    let mut until: Option<i64> = None;
    if times.start == times.finish {
        return Ok(None);
    }
    for one in &network.job.activities[activity].uses {
        let capacity = network.job.capacities[one.resource];
        if one.amount > capacity {
            return Err(Stuck::NoTime(activity));
        }
        let overlapping: Vec<(Times, i64)> = placed
            .iter()
            .enumerate()
            .filter_map(|(other, place)| {
                let other_times = (*place)?;
                let amount: i64 = network.job.activities[other]
                    .uses
                    .iter()
                    .filter(|use_| use_.resource == one.resource)
                    .map(|use_| use_.amount)
                    .sum();
                let meets = other_times.start < times.finish && times.start < other_times.finish;
                (amount > 0 && meets && other_times.start < other_times.finish)
                    .then_some((other_times, amount))
            })
            .collect();
        let points = overlapping.iter().map(|(other, _)| other.start.max(times.start));
        for point in points {
            let at_point = |(other, _): &&(Times, i64)| other.start <= point && point < other.finish;
            let used: i64 = overlapping.iter().filter(at_point).map(|(_, amount)| amount).sum();
            if used + one.amount > capacity {
                let free = overlapping.iter().filter(at_point).map(|(other, _)| other.finish).min();
                until = until.max(free);
            }
        }
    }
    Ok(until)
}
