//! The verifier: it looks at a schedule tick by tick and shares no code with what made it.

use std::collections::BTreeSet;

use crate::job::{End, Event, Job};
use crate::search::Schedule;

/// What is wrong with a schedule.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Fault {
    /// It is for another number of activities.
    Count,
    /// This activity starts before it may.
    Released(usize),
    /// This activity does not last as long as it has to, or works when there is no working time.
    Duration(usize),
    /// This activity is broken off though it may not be.
    Broken(usize),
    /// This link, by index, does not hold.
    Link(usize),
    /// There is too little of this resource at this tick.
    Resource(usize, i64),
}

/// Everything that is wrong with a schedule; nothing if it may be worked by.
pub fn verify(job: &Job, schedule: &Schedule) -> Vec<Fault> {
    if schedule.times.len() != job.activities.len() {
        return vec![Fault::Count];
    }
    let mut faults = Vec::new();
    for (index, (activity, times)) in job.activities.iter().zip(&schedule.times).enumerate() {
        if times.start < activity.release {
            faults.push(Fault::Released(index));
        }
        let Some(calendar) = activity.calendar.filter(|_| activity.duration != 0) else {
            if times.finish - times.start != activity.duration {
                faults.push(Fault::Duration(index));
            }
            continue;
        };
        let mut worked = 0;
        let mut first = false;
        let mut last = false;
        let mut pieces = 0;
        for [open, close] in job.calendars[calendar].windows() {
            let from = if *open > times.start { *open } else { times.start };
            let to = if *close < times.finish { *close } else { times.finish };
            if from < to {
                worked += to - from;
                pieces += 1;
                first |= from == times.start;
                last |= to == times.finish;
            }
        }
        if worked != activity.duration || !first || !last {
            faults.push(Fault::Duration(index));
        }
        if pieces > 1 && !activity.breaks {
            faults.push(Fault::Broken(index));
        }
    }
    let when = |event: Event| match event.end {
        End::Start => schedule.times[event.activity].start,
        End::Finish => schedule.times[event.activity].finish,
    };
    for (index, link) in job.links.iter().enumerate() {
        let lag = when(link.to) - when(link.from);
        if lag < link.least || link.most.is_some_and(|most| lag > most) {
            faults.push(Fault::Link(index));
        }
    }
    let ticks: BTreeSet<i64> = schedule.times.iter().map(|times| times.start).collect();
    for tick in ticks {
        let mut used = vec![0; job.capacities.len()];
        for (activity, times) in job.activities.iter().zip(&schedule.times) {
            if times.start <= tick && tick < times.finish {
                for one in &activity.uses {
                    used[one.resource] += one.amount;
                }
            }
        }
        for (resource, used) in used.iter().enumerate() {
            if *used > job.capacities[resource] {
                faults.push(Fault::Resource(resource, tick));
            }
        }
    }
    faults
}
