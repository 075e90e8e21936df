//! What is to be scheduled.

use crate::calendar::{Calendar, Timing};

/// Activities, the links between them, and what they need.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Job {
    /// The activities; others name them by their index.
    pub activities: Vec<Activity>,
    /// Least and greatest lags.
    pub links: Vec<Link>,
    /// How much there is of each resource at any time.
    pub capacities: Vec<i64>,
    /// Working times.
    pub calendars: Vec<Calendar>,
    /// Stretches of time that should be short; a tick less of one is worth a tick more until the end of all.
    pub spans: Vec<Span>,
}

/// One activity.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Activity {
    /// Ticks, of its calendar if it has one.
    pub duration: i64,
    /// Its working time; none: it runs on the clock.
    pub calendar: Option<usize>,
    /// Whether it may be left at the end of a window and gone on with in the next. What it uses stays in use.
    pub breaks: bool,
    /// What it uses from its start to its finish.
    pub uses: Vec<Use>,
    /// It does not start before.
    pub release: i64,
}

/// So much of a resource.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Use {
    /// Which.
    pub resource: usize,
    /// How much.
    pub amount: i64,
}

/// The start or the finish of an activity.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum End {
    /// When it begins.
    Start,
    /// When it is done.
    Finish,
}

/// A moment in an activity.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub struct Event {
    /// Of which activity.
    pub activity: usize,
    /// Which of its ends.
    pub end: End,
}

/// How far apart two events are, on the clock.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Link {
    /// The one.
    pub from: Event,
    /// The other.
    pub to: Event,
    /// The other comes no sooner than so long after the one; less than nothing: no more than so long before it.
    pub least: i64,
    /// And no later than so long after it.
    pub most: Option<i64>,
}

/// A stretch between two events that should be short.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Span {
    /// Where it begins.
    pub from: Event,
    /// Where it ends.
    pub to: Event,
}

impl Event {
    /// The start of an activity.
    pub const fn start(activity: usize) -> Event {
        Event { activity, end: End::Start }
    }

    /// The finish of an activity.
    pub const fn finish(activity: usize) -> Event {
        Event { activity, end: End::Finish }
    }
}

impl Link {
    /// `to` starts no sooner than `lag` after `from` is done.
    pub const fn after(from: usize, to: usize, lag: i64) -> Link {
        Link { from: Event::finish(from), to: Event::start(to), least: lag, most: None }
    }
}

/// A link as one inequality: `to` is no earlier than `from` and so much.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) struct Arc {
    pub from: Event,
    pub to: Event,
    pub lag: i64,
}

impl Job {
    pub(crate) fn timing(&self, activity: usize) -> Timing<'_> {
        let it = &self.activities[activity];
        // a moment needs no working time
        let calendar = it.calendar.filter(|_| it.duration > 0).map(|calendar| &self.calendars[calendar]);
        Timing { duration: it.duration, calendar, breaks: it.breaks }
    }

    pub(crate) fn arcs(&self) -> Vec<Arc> {
        let least = self.links.iter().map(|link| Arc { from: link.from, to: link.to, lag: link.least });
        let most = self.links.iter().filter_map(|link| {
            let most = link.most?;
            Some(Arc { from: link.to, to: link.from, lag: -most })
        });
        least.chain(most).collect()
    }
}
