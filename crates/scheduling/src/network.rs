//! Early and late times: what the links and calendars alone allow (the critical path method).

use std::collections::VecDeque;

use crate::job::{Arc, End, Event, Job};
use crate::search::Schedule;

/// Why there is no schedule.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Stuck {
    /// The lags of these activities, one after the other, cannot all be kept.
    Cycle(Vec<usize>),
    /// This activity finds no working time that is long enough, its calendar ends before, or it uses more of
    /// something than there is.
    NoTime(usize),
    /// The greatest lag to this activity could not be kept beside what others use.
    TooLate(usize),
}

/// A start and a finish.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Times {
    /// When it begins.
    pub start: i64,
    /// When it is done.
    pub finish: i64,
}

impl Times {
    /// The time of one end.
    pub fn at(self, end: End) -> i64 {
        match end {
            End::Start => self.start,
            End::Finish => self.finish,
        }
    }
}

/// A job with its inequalities sorted by activity.
#[derive(Clone, Debug)]
pub(crate) struct Network<'a> {
    pub job: &'a Job,
    pub out: Vec<Vec<Arc>>,
    pub into: Vec<Vec<Arc>>,
}

impl<'a> Network<'a> {
    pub fn new(job: &'a Job, more: impl IntoIterator<Item = Arc>) -> Network<'a> {
        let empty = vec![Vec::new(); job.activities.len()];
        let mut network = Network { job, out: empty.clone(), into: empty };
        for arc in job.arcs().into_iter().chain(more) {
            network.out[arc.from.activity].push(arc);
            network.into[arc.to.activity].push(arc);
        }
        network
    }

    /// Lags that contradict each other whatever the calendars: a circle of them that is longer than nothing.
    pub fn sound(&self) -> Result<(), Stuck> {
        let node = |event: Event| 2 * event.activity + usize::from(event.end == End::Finish);
        let mut out: Vec<Vec<(usize, i64)>> = vec![Vec::new(); 2 * self.count()];
        for (activity, it) in self.job.activities.iter().enumerate() {
            let (start, finish) = (node(Event::start(activity)), node(Event::finish(activity)));
            out[start].push((finish, it.duration));
            if self.job.timing(activity).calendar.is_none() {
                out[finish].push((start, -it.duration));
            }
        }
        for arc in self.out.iter().flatten() {
            out[node(arc.from)].push((node(arc.to), arc.lag));
        }
        let mut at = vec![0_i64; out.len()];
        let mut cause = vec![usize::MAX; out.len()];
        for round in 0..=out.len() {
            let mut moved = None;
            for from in 0..out.len() {
                for (to, lag) in &out[from] {
                    if at[from] + lag > at[*to] {
                        at[*to] = at[from] + lag;
                        cause[*to] = from;
                        moved = Some(*to);
                    }
                }
            }
            match moved {
                None => return Ok(()),
                Some(node) if round == out.len() => {
                    let mut members: Vec<usize> =
                        cycle(&cause, node).into_iter().map(|node| node / 2).collect();
                    members.dedup();
                    if members.len() > 1 && members.first() == members.last() {
                        members.pop();
                    }
                    return Err(Stuck::Cycle(members));
                }
                Some(_) => {}
            }
        }
        Ok(())
    }

    /// How often a time may move before lags and calendars are taken never to agree. Without calendars each
    /// activity moves at most once for every other; with them, once more for every window that is passed.
    fn patience(&self) -> usize {
        let windows = self.job.calendars.iter().map(|calendar| calendar.windows().len()).max();
        (self.count() + 1) * (1 + windows.unwrap_or(0))
    }

    pub fn count(&self) -> usize {
        self.job.activities.len()
    }

    pub fn times(&self, activity: usize, start: i64) -> Option<Times> {
        Some(Times { start, finish: self.job.timing(activity).finish(start)? })
    }

    /// The first start with which `event` is no earlier.
    fn start_for(&self, event: Event, tick: i64) -> Option<i64> {
        let timing = self.job.timing(event.activity);
        match event.end {
            End::Start => timing.start_from(tick),
            End::Finish => timing.start_to_finish_from(tick),
        }
    }

    /// The last start with which `event` is no later.
    fn start_until(&self, event: Event, tick: i64) -> Option<i64> {
        let timing = self.job.timing(event.activity);
        match event.end {
            End::Start => timing.start_until(tick),
            End::Finish => timing.start_to_finish_by(tick),
        }
    }

    /// The earliest starts that are no earlier than these floors, nor than any release.
    pub fn earliest(&self, floors: &[i64]) -> Result<Vec<i64>, Stuck> {
        let mut starts = Vec::with_capacity(self.count());
        for (activity, floor) in floors.iter().enumerate() {
            let from = self.job.activities[activity].release.max(*floor);
            let start = self.job.timing(activity).start_from(from);
            starts.push(
                start
                    .filter(|start| self.times(activity, *start).is_some())
                    .ok_or(Stuck::NoTime(activity))?,
            );
        }
        self.raise(&mut starts, (0..self.count()).collect(), |_, _| true)?;
        Ok(starts)
    }

    /// Raises starts until every inequality out of the activities in `queue` holds. `may` is asked before each
    /// raise; what may not be raised is left.
    pub fn raise(
        &self,
        starts: &mut [i64],
        mut queue: VecDeque<usize>,
        mut may: impl FnMut(usize, i64) -> bool,
    ) -> Result<(), Stuck> {
        let (count, patience) = (self.count(), self.patience());
        let mut queued = vec![false; count];
        for activity in &queue {
            queued[*activity] = true;
        }
        let mut raised = vec![0_usize; count];
        while let Some(activity) = queue.pop_front() {
            queued[activity] = false;
            let times = self.times(activity, starts[activity]).ok_or(Stuck::NoTime(activity))?;
            for arc in &self.out[activity] {
                let other = arc.to.activity;
                let wanted = times.at(arc.from.end) + arc.lag;
                let start = self.start_for(arc.to, wanted).ok_or(Stuck::NoTime(other))?;
                if start <= starts[other] || !may(other, start) {
                    continue;
                }
                starts[other] = start;
                raised[other] += 1;
                if raised[other] > patience {
                    return Err(Stuck::TooLate(other));
                }
                if !queued[other] {
                    queued[other] = true;
                    queue.push_back(other);
                }
            }
        }
        Ok(())
    }

    /// The latest starts with which nothing finishes after `end`.
    pub fn latest(&self, end: i64) -> Result<Vec<i64>, Stuck> {
        let (count, patience) = (self.count(), self.patience());
        let mut starts = Vec::with_capacity(count);
        for activity in 0..count {
            let start = self.job.timing(activity).start_to_finish_by(end);
            starts.push(start.ok_or(Stuck::NoTime(activity))?);
        }
        let mut queue: VecDeque<usize> = (0..count).collect();
        let mut lowered = vec![0_usize; count];
        while let Some(activity) = queue.pop_front() {
            let times = self.times(activity, starts[activity]).ok_or(Stuck::NoTime(activity))?;
            for arc in &self.into[activity] {
                let other = arc.from.activity;
                let wanted = times.at(arc.to.end) - arc.lag;
                let start = self.start_until(arc.from, wanted).ok_or(Stuck::NoTime(other))?;
                if start < starts[other] {
                    starts[other] = start;
                    lowered[other] += 1;
                    if lowered[other] > patience {
                        return Err(Stuck::TooLate(other));
                    }
                    queue.push_back(other);
                }
            }
        }
        Ok(starts)
    }

    pub fn all_times(&self, starts: &[i64]) -> Result<Vec<Times>, Stuck> {
        let times = starts.iter().enumerate();
        times.map(|(activity, start)| self.times(activity, *start).ok_or(Stuck::NoTime(activity))).collect()
    }
}

/// The activities of the cycle that leads to this one, in the order of their links.
fn cycle(cause: &[usize], from: usize) -> Vec<usize> {
    let mut at = from;
    for _ in 0..cause.len() {
        at = *cause.get(at).unwrap_or(&at);
        if at == usize::MAX {
            return vec![from];
        }
    }
    let (first, mut members) = (at, vec![at]);
    loop {
        at = cause[at];
        if at == first || at == usize::MAX {
            break;
        }
        members.push(at);
    }
    members.reverse();
    members
}

/// Early and late times by the links and calendars alone, as if there were enough of every resource; late ones so
/// that the whole still ends as early as it can.
///
/// # Errors
/// When the lags cannot all be kept, or a calendar has no room.
///
/// ```
/// use dryfit_scheduling::{Activity, Job, Link, critical_path};
/// let work = |duration| Activity { duration, ..Activity::default() };
/// let job = Job {
///     activities: vec![work(3), work(1), work(2)],
///     links: vec![Link::after(0, 2, 0), Link::after(1, 2, 0)],
///     ..Job::default()
/// };
/// let (early, late) = critical_path(&job)?;
/// assert_eq!(early[2].finish, 5);
/// assert_eq!((early[1].start, late[1].start), (0, 2));
/// # Ok::<(), dryfit_scheduling::Stuck>(())
/// ```
pub fn critical_path(job: &Job) -> Result<(Vec<Times>, Vec<Times>), Stuck> {
    let network = Network::new(job, []);
    network.sound()?;
    let early = network.all_times(&network.earliest(&vec![i64::MIN / 4; network.count()])?)?;
    let end = early.iter().map(|times| times.finish).max().unwrap_or(0);
    let late = network.all_times(&network.latest(end)?)?;
    Ok((early, late))
}

/// How late each activity of a schedule may be without the whole ending later, as long as those that cannot go on
/// side by side keep their order. What has the same times early and late may not slip.
///
/// # Errors
/// Not for a schedule that [`crate::verify`] accepts.
pub fn latest(job: &Job, schedule: &Schedule) -> Result<Vec<Times>, Stuck> {
    let times = &schedule.times;
    let apart = |a: usize, b: usize| {
        let uses = |of: usize, resource: usize| {
            let uses = job.activities[of].uses.iter().filter(move |one| one.resource == resource);
            uses.map(|one| one.amount).sum::<i64>()
        };
        let cannot = |(resource, capacity): (usize, &i64)| {
            let (first, second) = (uses(a, resource), uses(b, resource));
            first > 0 && second > 0 && first + second > *capacity
        };
        job.capacities.iter().enumerate().any(cannot)
    };
    let mut kept = Vec::new();
    for (a, first) in times.iter().enumerate() {
        for (b, second) in times.iter().enumerate() {
            let lasts = first.finish > first.start && second.finish > second.start;
            if a != b && lasts && first.finish <= second.start && apart(a, b) {
                kept.push(Arc { from: Event::finish(a), to: Event::start(b), lag: 0 });
            }
        }
    }
    let network = Network::new(job, kept);
    network.all_times(&network.latest(schedule.end())?)
}
