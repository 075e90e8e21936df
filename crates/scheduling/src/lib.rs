//! Schedules: which activity when, so that all is done as early as it can be.
//!
//! Activities have durations, least and greatest lags between their starts and finishes, renewable resources, and
//! calendars: work goes on in working time, waits run on the clock. [`solve`] gives an answer at once and a better
//! one for every step of search it is paid; [`critical_path`] gives early and late times without resources,
//! [`latest`] those of a schedule that keeps its order; [`verify`] shares no code with any of them.
//!
//! Knows nothing of rooms, trades or dates: whole ticks in, whole ticks out. Knows no clock and no files: the same
//! job, steps and seed give the same schedule.

mod bound;
mod calendar;
mod generate;
mod job;
mod mirror;
mod network;
mod rng;
mod search;
mod verify;

pub use calendar::Calendar;
pub use job::{Activity, End, Event, Job, Link, Span, Use};
pub use network::{Stuck, Times, critical_path, latest};
pub use search::{Answer, Budget, Schedule, solve};
pub use verify::{Fault, verify};
