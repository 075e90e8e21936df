//! The search: several ranks at once, each schedule pulled back and forth, then the best one changed and tried
//! again.
//!
//! Forward-backward improvement (Tormos & Lova 2001; Valls, Ballestin & Quintanilla 2005): shifting a schedule
//! against its end and then back against its start never makes it longer and often makes it shorter.

use std::collections::BTreeSet;

use crate::bound::bound;
use crate::generate::generate;
use crate::job::Job;
use crate::mirror::mirrored;
use crate::network::{Network, Stuck, Times};
use crate::rng::Rng;

/// What a search may spend.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Budget {
    /// Schedules to try after the quick answer; 0 is the quick answer alone.
    pub steps: u64,
    /// Seed of every random choice.
    pub seed: u64,
}

/// When each activity starts and finishes, by index.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Schedule {
    /// By activity.
    pub times: Vec<Times>,
}

impl Schedule {
    /// When the last is finished.
    pub fn end(&self) -> i64 {
        self.times.iter().map(|times| times.finish).max().unwrap_or(0)
    }
}

/// A schedule and what is known of it.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Answer {
    /// A schedule that keeps every lag, calendar and capacity.
    pub schedule: Schedule,
    /// No schedule ends earlier.
    pub bound: i64,
    /// Whether this one ends then.
    pub proven: bool,
    /// Schedules that were tried.
    pub steps: u64,
}

/// The best schedule found: it ends early, and its spans are short; a tick of either weighs the same.
///
/// # Errors
/// When there is none, or none was found that keeps the greatest lags.
///
/// # Panics
/// If a link, use or calendar names what is not there.
pub fn solve(job: &Job, budget: Budget) -> Result<Answer, Stuck> {
    let forward = Network::new(job, []);
    forward.sound()?;
    let floors = vec![i64::MIN / 4; forward.count()];
    let early = forward.all_times(&forward.earliest(&floors)?)?;
    let bound = bound(job, &early);
    let end = horizon(job, &early);
    let back = mirrored(job, end);
    let mut search = Search {
        job,
        forward: &forward,
        backward: &Network::new(&back, []),
        end,
        bound,
        floors,
        best: None,
        stuck: None,
        steps: 0,
    };
    search.quick(&early);
    search.improve(budget);
    search.shorten();
    let Search { best, stuck, steps, .. } = search;
    match best {
        Some((_, schedule)) => Ok(Answer { proven: schedule.end() == bound, schedule, bound, steps }),
        None => Err(stuck.unwrap_or(Stuck::Cycle(Vec::new()))),
    }
}

/// A tick after everything, to count backwards from.
fn horizon(job: &Job, early: &[Times]) -> i64 {
    let closes = job.calendars.iter().filter_map(|calendar| Some(calendar.windows().last()?[1])).max();
    let work: i64 = job.activities.iter().map(|it| it.duration).sum();
    let lags: i64 = job.links.iter().map(|link| link.least.max(0)).sum();
    closes.unwrap_or(0).max(early.iter().map(|times| times.finish).max().unwrap_or(0) + work + lags)
}

/// Places at which a later start is tried, in each round.
const LOOKS: i64 = 12;

/// The end with the length of all spans, and then the end: a day less in a span is worth a day more in all.
type Cost = (i64, i64);

struct Search<'a> {
    job: &'a Job,
    forward: &'a Network<'a>,
    backward: &'a Network<'a>,
    end: i64,
    bound: i64,
    floors: Vec<i64>,
    best: Option<(Cost, Schedule)>,
    stuck: Option<Stuck>,
    steps: u64,
}

impl Search<'_> {
    fn cost(&self, schedule: &Schedule) -> Cost {
        let at = |event: crate::job::Event| schedule.times[event.activity].at(event.end);
        let spans: i64 = self.job.spans.iter().map(|span| (at(span.to) - at(span.from)).max(0)).sum();
        (schedule.end() + spans, schedule.end())
    }

    fn proven(&self) -> bool {
        self.best.as_ref().is_some_and(|(_, schedule)| schedule.end() <= self.bound)
    }

    /// Tries a rank; gives the schedule, pulled back and forth, and keeps it if it is the best.
    fn attempt(&mut self, rank: &[i64]) -> Option<(Cost, Schedule)> {
        let mut found = self.generated(rank)?;
        while let Some(shifted) = self.shifted(&found.1) {
            let better = shifted.0 < found.0;
            if shifted.0 <= found.0 {
                found = shifted;
            }
            if !better {
                break;
            }
        }
        if self.best.as_ref().is_none_or(|(cost, _)| found.0 < *cost) {
            self.best = Some(found.clone());
        }
        Some(found)
    }

    fn generated(&mut self, rank: &[i64]) -> Option<(Cost, Schedule)> {
        self.steps += 1;
        match generate(self.forward, rank, &self.floors) {
            Ok(times) => {
                let schedule = Schedule { times };
                Some((self.cost(&schedule), schedule))
            }
            Err(stuck) => {
                self.stuck.get_or_insert(stuck);
                None
            }
        }
    }

    /// The schedule pushed against its end, and back against its start.
    fn shifted(&mut self, schedule: &Schedule) -> Option<(Cost, Schedule)> {
        let rank: Vec<i64> = schedule.times.iter().map(|times| self.end - times.finish).collect();
        let floor = self.end - schedule.end();
        self.steps += 1;
        let back = generate(self.backward, &rank, &vec![floor; rank.len()]).ok()?;
        let rank: Vec<i64> = back.iter().map(|times| self.end - times.finish).collect();
        self.generated(&rank)
    }

    /// A handful of ranks of which each is good for some jobs.
    fn quick(&mut self, early: &[Times]) {
        let count = early.len();
        let end = early.iter().map(|times| times.finish).max().unwrap_or(0);
        let late =
            self.forward.latest(end).unwrap_or_else(|_| early.iter().map(|times| times.start).collect());
        let followers = followers(self.forward);
        let duration = |at: usize| self.job.activities[at].duration;
        let work: Vec<i64> = (0..count)
            .map(|at| duration(at) + followers[at].iter().map(|other| duration(*other)).sum::<i64>())
            .collect();
        let ranks: Vec<Vec<i64>> = vec![
            late.clone(),
            (0..count).map(|at| late[at] + duration(at)).collect(),
            (0..count).map(|at| late[at] - early[at].start).collect(),
            (0..count).map(|at| -work[at]).collect(),
            followers.iter().map(|after| -i64::try_from(after.len()).unwrap_or(i64::MAX)).collect(),
            early.iter().map(|times| times.start).collect(),
        ];
        for rank in ranks {
            self.attempt(&rank);
        }
    }

    /// Changes the rank of a few activities of the schedule at hand, and goes on from what came out unless it is
    /// worse; comes back to the best when it has strayed for long.
    fn improve(&mut self, budget: Budget) {
        let last = self.steps + budget.steps;
        let mut rng = Rng::new(budget.seed);
        let count = self.forward.count();
        let mut here = self.best.clone();
        let mut idle = 0;
        while self.steps < last && count > 1 && !(self.proven() && self.job.spans.is_empty()) {
            let before = self.steps;
            let mut rank: Vec<i64> = match &here {
                Some((_, schedule)) => schedule.times.iter().map(|times| times.start * 2).collect(),
                None => (0..count).map(|_| i64::try_from(rng.below(count)).unwrap_or(0)).collect(),
            };
            for _ in 0..=rng.below(3) {
                let (moved, to) = (rng.below(count), rng.below(count));
                rank[moved] = rank[to] + if rng.below(2) == 0 { 1 } else { -1 };
            }
            if let Some(found) = self.attempt(&rank)
                && here.as_ref().is_none_or(|(cost, _)| found.0 <= *cost || rng.below(40) == 0)
            {
                if here.as_ref().is_some_and(|(cost, _)| found.0 < *cost) {
                    idle = 0;
                }
                here = Some(found);
            }
            idle += self.steps - before;
            if idle > 600 {
                idle = 0;
                here.clone_from(&self.best);
            }
        }
    }

    /// Lets what ends a span go before other work, and what begins it begin as late as pays.
    fn shorten(&mut self) {
        let followers = followers(self.forward);
        for span in &self.job.spans {
            let ends = span.to.activity;
            for with_all_before in [false, true] {
                let Some((cost, schedule)) = &self.best else { return };
                let (least, early) = (*cost, self.end);
                let first = |at: usize| at == ends || (with_all_before && followers[at].contains(&ends));
                let times = schedule.times.iter().enumerate();
                let rank: Vec<i64> =
                    times.map(|(at, times)| times.start - if first(at) { early } else { 0 }).collect();
                if let Some(found) = self.generated(&rank).filter(|found| found.0 < least) {
                    self.best = Some(found);
                }
            }
            let at = span.from.activity;
            let Some((cost, schedule)) = self.best.clone() else { return };
            // others may change places with it: only the links bind
            let Ok(late) = self.forward.latest(schedule.end()) else { return };
            // what lies between goes first once it has begun; what has nothing to do with it is done before
            let within = |other: usize| {
                followers[at].contains(&other) && (other == ends || followers[other].contains(&ends))
            };
            let times = schedule.times.iter().enumerate();
            let first_within: Vec<i64> =
                times.map(|(other, times)| times.start - if within(other) { self.end } else { 0 }).collect();
            let as_it_is: Vec<i64> = schedule.times.iter().map(|times| times.start).collect();
            let (first, last) = (schedule.times[at].start, late[at]);
            let (mut least, mut kept) = (cost, self.floors[at]);
            // a later start may fail where one later still does not: look along the whole stretch, then about the best
            let mut step = (last - first) / LOOKS;
            let mut from = first;
            while step > 0 {
                for look in 1..=LOOKS {
                    self.floors[at] = from + look * step;
                    for rank in [&as_it_is, &first_within] {
                        if let Some(found) = self.generated(rank).filter(|found| found.0 < least) {
                            least = found.0;
                            kept = self.floors[at];
                            self.best = Some(found);
                        }
                    }
                }
                from = kept.max(first);
                step /= LOOKS;
            }
            self.floors[at] = kept;
        }
    }
}

/// What comes after each activity, near or far.
fn followers(network: &Network<'_>) -> Vec<BTreeSet<usize>> {
    let count = network.count();
    let direct: Vec<Vec<usize>> = network
        .out
        .iter()
        .map(|arcs| arcs.iter().filter(|arc| arc.lag >= 0).map(|arc| arc.to.activity).collect())
        .collect();
    (0..count)
        .map(|at| {
            let mut seen = BTreeSet::new();
            let mut stack = direct[at].clone();
            while let Some(other) = stack.pop() {
                if other != at && seen.insert(other) {
                    stack.extend(&direct[other]);
                }
            }
            seen
        })
        .collect()
}
