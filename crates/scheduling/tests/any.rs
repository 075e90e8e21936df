//! Any small job: the verifier passes what the solver gives, nothing beats the bound, and trying every start finds
//! nothing better.

use dryfit_scheduling::{
    Activity, Answer, Budget, Calendar, Event, Fault, Job, Link, Schedule, Span, Times, Use, latest, solve,
    verify,
};
use proptest::prelude::*;

fn calendar() -> impl Strategy<Value = Calendar> {
    // a week of ten ticks, with two windows, repeated
    (0..3_i64, 2..4_i64, 6..8_i64, 1..3_i64).prop_map(|(from, long, again, short)| {
        let week = |week: i64| {
            [[week * 10 + from, week * 10 + from + long], [week * 10 + again, week * 10 + again + short]]
        };
        Calendar::new((0..40).flat_map(week))
    })
}

/// Jobs whose links run from lower to higher numbers; those with a greatest lag run on the clock.
fn job(most: usize, lags: bool) -> impl Strategy<Value = Job> {
    let activity = (0..5_i64, prop::option::of(0..2_usize), any::<bool>(), 0..3_i64, 0..2_i64, 0..6_i64);
    (2..=most).prop_flat_map(move |count| {
        let link = (0..count, 0..count, any::<bool>(), any::<bool>(), -1..5_i64, prop::option::of(3..9_i64));
        let all = (
            prop::collection::vec(activity.clone(), count),
            prop::collection::vec(link, 0..=count),
            prop::collection::vec(calendar(), 2),
        );
        all.prop_map(move |(activities, links, calendars)| {
            let activity = |(duration, calendar, breaks, one, two, release): (
                i64,
                Option<usize>,
                bool,
                i64,
                i64,
                i64,
            )| {
                let breaks = breaks || duration > 2;
                let uses = [(0, one), (1, two)];
                let uses = uses.into_iter().filter(|(_, amount)| *amount > 0);
                let uses = uses.map(|(resource, amount)| Use { resource, amount }).collect();
                Activity { duration, calendar, breaks, uses, release }
            };
            let links = links.into_iter().filter(|link| link.0 < link.1);
            let links = links.map(|(from, to, from_start, to_finish, least, most)| Link {
                from: if from_start { Event::start(from) } else { Event::finish(from) },
                to: if to_finish { Event::finish(to) } else { Event::start(to) },
                least,
                most: most.filter(|most| lags && *most >= least),
            });
            Job {
                activities: activities.into_iter().map(activity).collect(),
                links: links.collect(),
                capacities: vec![2, 1],
                calendars,
                spans: vec![Span { from: Event::start(0), to: Event::finish(1) }],
            }
        })
    })
}

fn finish(job: &Job, activity: usize, start: i64) -> Option<i64> {
    let it = &job.activities[activity];
    let Some(calendar) = it.calendar.filter(|_| it.duration > 0) else { return Some(start + it.duration) };
    let mut left = it.duration;
    let works =
        |tick: i64| job.calendars[calendar].windows().iter().any(|[from, to]| *from <= tick && tick < *to);
    if !works(start) {
        return None;
    }
    (start..start + 400)
        .find(|tick| {
            left -= i64::from(works(*tick));
            left == 0
        })
        .map(|tick| tick + 1)
}

/// The earliest end of all, by trying every start up to a tick.
fn tried(job: &Job, until: i64) -> Option<i64> {
    fn go(job: &Job, until: i64, times: &mut Vec<Times>, best: &mut Option<i64>) {
        let next = times.len();
        if next == job.activities.len() {
            let schedule = Schedule { times: times.clone() };
            if verify(job, &schedule).is_empty() {
                *best = Some(best.map_or(schedule.end(), |best| best.min(schedule.end())));
            }
            return;
        }
        for start in 0..until {
            let Some(finish) = finish(job, next, start).filter(|finish| *finish <= best.unwrap_or(until))
            else {
                continue;
            };
            times.push(Times { start, finish });
            go(job, until, times, best);
            times.pop();
        }
    }
    let mut best = None;
    go(job, until, &mut Vec::new(), &mut best);
    best
}

fn sound(job: &Job, answer: &Answer) -> Result<(), TestCaseError> {
    prop_assert_eq!(verify(job, &answer.schedule), []);
    prop_assert!(answer.bound <= answer.schedule.end());
    let late = latest(job, &answer.schedule).expect("a schedule that stands has late times");
    for (early, late) in answer.schedule.times.iter().zip(&late) {
        prop_assert!(early.start <= late.start && late.finish <= answer.schedule.end());
    }
    prop_assert!(late.iter().zip(&answer.schedule.times).any(|(late, early)| late.finish == early.finish));
    Ok(())
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 300, failure_persistence: None, ..ProptestConfig::default() })]

    #[test]
    fn any_job_without_greatest_lags_is_solved(job in job(14, false)) {
        let answer = solve(&job, Budget { steps: 20, seed: 7 }).expect("links run one way");
        sound(&job, &answer)?;
        let again = solve(&job, Budget { steps: 20, seed: 7 }).expect("links run one way");
        prop_assert_eq!(&again, &answer);
        // what shortens spans may find an earlier end by chance
        let plain = Job { spans: Vec::new(), ..job };
        let ends = [0, 20].map(|steps| solve(&plain, Budget { steps, seed: 7 }).map(|found| found.schedule.end()));
        prop_assert!(ends[0].as_ref().ok() >= ends[1].as_ref().ok());
    }

    #[test]
    fn any_answer_to_a_job_with_greatest_lags_keeps_them(job in job(9, true)) {
        if let Ok(answer) = solve(&job, Budget { steps: 50, seed: 7 }) {
            sound(&job, &answer)?;
        }
    }
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 60, failure_persistence: None, ..ProptestConfig::default() })]

    /// Up to tick 40.
    #[test]
    fn three_activities_end_as_early_as_trying_every_start(job in job(3, true)) {
        let job = Job { spans: Vec::new(), ..job };
        let best = tried(&job, 40);
        let end = solve(&job, Budget { steps: 300, seed: 7 }).ok().map(|answer| answer.schedule.end());
        prop_assert_eq!(end.filter(|end| *end <= 40), best);
    }
}

/// The verifier sees each kind of fault.
#[test]
fn a_spoilt_schedule_is_seen() {
    let work = |duration| Activity {
        duration,
        calendar: Some(0),
        uses: vec![Use { resource: 0, amount: 1 }],
        release: 1,
        ..Activity::default()
    };
    let job = Job {
        activities: vec![work(2), work(2)],
        links: vec![Link { most: Some(4), ..Link::after(0, 1, 1) }],
        capacities: vec![1],
        calendars: vec![Calendar::new([[0, 3], [4, 7], [8, 12]])],
        spans: Vec::new(),
    };
    let schedule = |a: (i64, i64), b: (i64, i64)| Schedule {
        times: [a, b].map(|(start, finish)| Times { start, finish }).to_vec(),
    };
    assert_eq!(verify(&job, &schedule((1, 3), (4, 6))), []);
    assert_eq!(verify(&job, &schedule((0, 2), (4, 6))), [Fault::Released(0)]);
    assert_eq!(verify(&job, &schedule((1, 3), (4, 7))), [Fault::Duration(1)]);
    assert_eq!(verify(&job, &schedule((2, 5), (8, 10))), [Fault::Broken(0)]);
    assert_eq!(verify(&job, &schedule((1, 3), (8, 10))), [Fault::Link(0)]);
    assert_eq!(verify(&job, &schedule((4, 6), (5, 7))), [Fault::Link(0), Fault::Resource(0, 5)]);
    assert_eq!(verify(&job, &Schedule { times: Vec::new() }), [Fault::Count]);
}

/// A chain with a wait in it, and other work that would fill the wait: a span that is shorter by more than the end
/// comes later is taken, one that is shorter by less is not.
#[test]
fn a_shorter_span_is_worth_as_much_of_a_later_end() {
    let work =
        |duration| Activity { duration, uses: vec![Use { resource: 0, amount: 1 }], ..Activity::default() };
    let solved = |before: i64, wait: i64| {
        let job = Job {
            // 1 begins the span and 2 ends it; 0 has to be done before 2
            activities: vec![work(before), work(1), work(1)],
            links: vec![Link::after(1, 2, wait), Link::after(0, 2, 0)],
            capacities: vec![1],
            spans: vec![Span { from: Event::start(1), to: Event::finish(2) }],
            ..Job::default()
        };
        let answer = solve(&job, Budget { steps: 0, seed: 1 }).expect("no cycle");
        let times = &answer.schedule.times;
        (answer.schedule.end(), times[2].finish - times[1].start)
    };
    // at once: end 12, span 12; after the work: end 13, span 3
    assert_eq!(solved(10, 1), (13, 3));
    // after the work: end 13, span 12; at once: end 12, span 12
    assert_eq!(solved(1, 10), (12, 12));
}

/// What begins a span gives way to work that has nothing to do with it, as long as the end stays.
#[test]
fn a_span_begins_as_late_as_the_end_allows() {
    let work =
        |duration| Activity { duration, uses: vec![Use { resource: 0, amount: 1 }], ..Activity::default() };
    let job = Job {
        activities: vec![work(1), work(2), work(10)],
        links: vec![Link::after(0, 1, 0)],
        capacities: vec![1],
        spans: vec![Span { from: Event::start(0), to: Event::finish(1) }],
        ..Job::default()
    };
    let answer = solve(&job, Budget { steps: 0, seed: 1 }).expect("no cycle");
    let times = &answer.schedule.times;
    assert_eq!((answer.schedule.end(), times[1].finish - times[0].start), (13, 3));
}
