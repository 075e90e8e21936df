//! The same job seen from its end: starts are finishes, and what came first comes last.

use crate::job::{Activity, Arc, End, Event, Job, Link};

/// The job backwards from `end`. Releases are left out: what is gained backwards is an order, not a schedule.
pub(crate) fn mirrored(job: &Job, end: i64) -> Job {
    let turned = |event: Event| Event {
        activity: event.activity,
        end: match event.end {
            End::Start => End::Finish,
            End::Finish => End::Start,
        },
    };
    let link =
        |Arc { from, to, lag }: Arc| Link { from: turned(to), to: turned(from), least: lag, most: None };
    Job {
        activities: job
            .activities
            .iter()
            .map(|it| Activity { release: i64::MIN / 4, ..it.clone() })
            .collect(),
        links: job.arcs().into_iter().map(link).collect(),
        capacities: job.capacities.clone(),
        calendars: job.calendars.iter().map(|calendar| calendar.mirrored(end)).collect(),
        spans: Vec::new(),
    }
}
