//! What no schedule can beat.

use crate::job::Job;
use crate::network::Times;

/// No schedule ends earlier: neither before its longest chain of links, nor before the work that shares one
/// resource and one calendar is done one after the other.
pub(crate) fn bound(job: &Job, early: &[Times]) -> i64 {
    let chain = early.iter().map(|times| times.finish).max().unwrap_or(0);
    let calendars = (0..job.calendars.len()).map(Some).chain([None]);
    let by_work = calendars.flat_map(|calendar| {
        job.capacities.iter().enumerate().filter_map(move |(resource, capacity)| {
            let amount = |at: usize| {
                let uses = job.activities[at].uses.iter().filter(|one| one.resource == resource);
                uses.map(|one| one.amount).sum::<i64>()
            };
            let users: Vec<usize> = (0..job.activities.len())
                .filter(|at| {
                    job.activities[*at].calendar == calendar && job.activities[*at].duration * amount(*at) > 0
                })
                .collect();
            let from = users.iter().map(|at| early[*at].start).min()?;
            let work: i64 = users.iter().map(|at| job.activities[*at].duration * amount(*at)).sum();
            let work = (work + capacity - 1).div_euclid((*capacity).max(1));
            match calendar {
                Some(calendar) => {
                    let calendar = &job.calendars[calendar];
                    calendar.when_worked(calendar.worked_before(from) + work)
                }
                None => Some(from + work),
            }
        })
    });
    by_work.max().unwrap_or(chain).max(chain)
}
