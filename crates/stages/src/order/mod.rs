//! Stage 9, order of work: which task when, what it waits for, and what may not slip.
//!
//! Tasks are made by the recipes of the handbook from what the plan states and what follows from it; the builder's
//! own wishes change them. One builder, a second person when somebody helps, the week's working hours; waits run
//! on the clock. What is logged as done is done, and the rest begins after it.

mod hours;
mod subjects;
mod trips;

use std::collections::BTreeMap;

pub use dryfit_handbook::TaskKind;
use dryfit_handbook::{TaskRecipe, TwoPeople, task_recipes};
use dryfit_measure::Key;
use dryfit_plan::{Day, Form, Lasting, Plan};
use dryfit_scheduling::{Activity, Budget, Event, Job, Link, Span, Stuck, Use, latest, solve};
use jiff::civil::Date;
pub use trips::Trip;

use crate::casework::Casework;
use crate::layouts::Layouts;
use crate::placement::Placement;
use crate::services::Services;
use crate::surfaces::Surfaces;
use crate::takeoff::Takeoff;
use hours::Hours;
use subjects::{Subject, subjects};
use trips::Taker;

/// What tasks are made from.
#[derive(Clone, Copy, Debug)]
pub struct Basis<'a> {
    /// What is stated.
    pub plan: &'a Plan,
    /// Where everything stands.
    pub placement: &'a Placement,
    /// Every part.
    pub casework: &'a Casework,
    /// Worktops, tile, paint, trim.
    pub surfaces: &'a Surfaces,
    /// What runs in the walls.
    pub services: &'a Services,
    /// What is cut from what.
    pub layouts: &'a Layouts,
    /// What has to be bought.
    pub takeoff: &'a Takeoff,
}

/// The order of work. Ticks are minutes from the midnight before the first day.
#[derive(Clone, Debug)]
pub struct Order {
    /// The first day, if it is stated; else the week begins on any Monday.
    pub start: Option<Day>,
    /// Tasks, by when they begin; those that were done first.
    pub tasks: Vec<Task>,
    /// When the last is finished.
    pub end: i64,
    /// No order ends earlier.
    pub bound: i64,
    /// Minutes of work that are left.
    pub hands: i64,
    /// From when until when the room has no sink.
    pub without_sink: Option<[i64; 2]>,
    /// From when until when it has no power.
    pub without_power: Option<[i64; 2]>,
    /// What has to be ordered, and by when.
    pub order_by: Vec<OrderBy>,
    /// Trips to the shops, by day.
    pub trips: Vec<Trip>,
    /// Names of tasks for which everything before is done.
    pub next: Vec<String>,
    /// Tasks that cannot follow in time on what they are joined to, whatever the order.
    pub loose: Vec<String>,
    origin: Date,
}

/// One task.
#[derive(Clone, Debug)]
pub struct Task {
    /// Its name: `set/b3`.
    pub id: String,
    /// What to do.
    pub does: String,
    /// The same with `{it}` for what it is about.
    pub verb: String,
    /// What it is about: a key, a name; empty for the whole job.
    pub subject: String,
    /// Work, a hold point or a gate.
    pub kind: TaskKind,
    /// Minutes of work.
    pub minutes: i64,
    /// Whether it takes two people.
    pub two_people: bool,
    /// When it begins and is finished.
    pub times: [i64; 2],
    /// When it may be finished at the latest without the whole ending later.
    pub latest: i64,
    /// Whether it was done, and on which day.
    pub done: Option<Day>,
    /// What it waits for: the names of tasks, each with minutes on the clock and what goes on meanwhile.
    pub after: Vec<After>,
    /// Who has to have seen it, or what is measured.
    pub seen: Option<String>,
    /// What can hurt.
    pub caution: Option<String>,
}

/// What a task waits for.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct After {
    /// The name of the task before.
    pub id: String,
    /// Minutes on the clock in between.
    pub wait: i64,
    /// And no more than so many.
    pub within: Option<i64>,
    /// What goes on meanwhile.
    pub what: Option<String>,
}

/// When a good has to be ordered.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct OrderBy {
    /// The good.
    pub good: Key,
    /// The task that needs it first.
    pub task: String,
    /// The tick at which that begins.
    pub needed: i64,
    /// The day by which it has to be ordered.
    pub by: Date,
}

impl Task {
    /// Whether it may not slip.
    pub fn is_critical(&self) -> bool {
        self.done.is_none() && self.latest <= self.times[1]
    }
}

impl Order {
    /// The day of a tick.
    pub fn date(&self, tick: i64) -> Date {
        hours::date(self.origin, tick)
    }

    /// The day of a tick in words: "Sat 14 Mar", or "day 3" where no start is stated.
    pub fn day_name(&self, tick: i64) -> String {
        if self.start.is_none() {
            return format!("day {}", tick.div_euclid(hours::DAY) + 1);
        }
        self.day_name_of(self.date(tick))
    }

    /// A day in words.
    pub fn day_name_of(&self, day: Date) -> String {
        day.strftime("%a %-d %b").to_string()
    }

    /// A task by its name.
    pub fn task(&self, id: &str) -> Option<&Task> {
        self.tasks.iter().find(|task| task.id == id)
    }

    /// The tick at which a day begins.
    pub fn midnight(&self, day: Day) -> i64 {
        hours::tick(self.origin, day.date())
    }

    /// Calendar days that a stretch touches.
    pub fn days([from, to]: [i64; 2]) -> i64 {
        (to - 1).div_euclid(hours::DAY) - from.div_euclid(hours::DAY) + 1
    }
}

/// A task before it has its time.
struct Draft<'a> {
    id: String,
    recipe: Option<&'a TaskRecipe>,
    subject: Subject,
    minutes: i64,
    two_people: bool,
    after: Vec<After>,
    left_out: bool,
}

/// The order of work of a plan.
pub fn order(basis: Basis<'_>) -> Order {
    let plan = basis.plan;
    let hours = Hours::of(plan);
    let drafts = drafts(&basis);
    let place: BTreeMap<&str, usize> =
        drafts.iter().enumerate().map(|(at, draft)| (draft.id.as_str(), at)).collect();
    let done_at = |id: &str| plan.work.get(id).map(|work| hours.done(work));
    let now = drafts.iter().filter_map(|draft| done_at(&draft.id)).max().unwrap_or(0).max(0);
    let open: Vec<usize> = (0..drafts.len()).filter(|at| done_at(&drafts[*at].id).is_none()).collect();
    let index: BTreeMap<usize, usize> = open.iter().enumerate().map(|(index, at)| (*at, index)).collect();

    let mut job = Job { capacities: vec![1, 1], calendars: hours.calendars(), ..Job::default() };
    for at in &open {
        let draft = &drafts[*at];
        let stated = plan.tasks.get(&draft.id).and_then(|wish| wish.not_before);
        let mut release = stated.map_or(now, |day| hours.midnight(day).max(now));
        for after in &draft.after {
            if let Some(done) = done_at(&after.id) {
                release = release.max(done + after.wait);
            }
        }
        for good in needs(plan, draft) {
            release = release.max(comes(plan, &hours, good).unwrap_or(release));
        }
        let with_help = draft.two_people && plan.somebody_helps();
        let mut uses = vec![Use { resource: 0, amount: 1 }];
        if with_help {
            uses.push(Use { resource: 1, amount: 1 });
        }
        let calendar = usize::from(with_help);
        let whole = draft.recipe.is_some_and(|recipe| recipe.unbroken) || with_help;
        let breaks = !(whole && draft.minutes <= hours.longest(calendar));
        let duration = if draft.left_out { 0 } else { draft.minutes };
        job.activities.push(Activity { duration, calendar: Some(calendar), breaks, uses, release });
    }
    let mut from_link = Vec::new();
    for at in &open {
        for after in &drafts[*at].after {
            let Some(before) = place.get(after.id.as_str()).and_then(|before| index.get(before)) else {
                continue;
            };
            from_link.push((drafts[*at].id.clone(), after.within.is_some()));
            job.links.push(Link { most: after.within, ..Link::after(*before, index[at], after.wait) });
        }
    }
    let named = |id: &str| place.get(id).and_then(|at| index.get(at)).copied();
    for (from, to) in [("isolate-water", "pressure"), ("isolate-power", "power-on")] {
        if let (Some(from), Some(to)) = (named(from), named(to)) {
            job.spans.push(Span { from: Event::start(from), to: Event::finish(to) });
        }
    }
    let (answer, loose) = solved(&mut job, &from_link);
    let bound = answer.as_ref().map_or(now, |answer| answer.bound);
    let times: Vec<[i64; 2]> = match &answer {
        Some(answer) => answer.schedule.times.iter().map(|times| [times.start, times.finish]).collect(),
        None => vec![[now, now]; open.len()],
    };
    let late: Vec<i64> = answer.as_ref().and_then(|answer| latest(&job, &answer.schedule).ok()).map_or_else(
        || times.iter().map(|times| times[1]).collect(),
        |late| late.iter().map(|t| t.finish).collect(),
    );

    let next: Vec<String> = open
        .iter()
        .map(|at| &drafts[*at])
        .filter(|draft| {
            draft.after.iter().all(|after| done_at(&after.id).is_some() || named(&after.id).is_none())
        })
        .map(|draft| draft.id.clone())
        .collect();
    let hands = open.iter().map(|at| if drafts[*at].left_out { 0 } else { drafts[*at].minutes }).sum();
    let order_by = order_by(plan, &hours, &drafts, &index, &times);
    let takers: Vec<Taker<'_>> = open
        .iter()
        .zip(&times)
        .filter_map(|(at, times)| {
            let draft = &drafts[*at];
            let recipe = draft.recipe.filter(|_| !draft.left_out)?;
            let good = (recipe.each == "sheet-good").then_some(draft.subject.key.as_str());
            Some(Taker { categories: &recipe.takes, good, begins: times[0] })
        })
        .collect();
    let begins = times.iter().map(|times| times[0]).min().unwrap_or(now);
    let trips = trips::trips(basis.takeoff, &takers, begins);
    let mut tasks: Vec<Task> = drafts
        .into_iter()
        .enumerate()
        .filter(|(_, draft)| !draft.left_out)
        .map(|(at, draft)| {
            let done = plan.work.get(&draft.id).map(|work| work.done);
            let when = index.get(&at).map_or_else(
                || {
                    let finish = done_at(&draft.id).unwrap_or(now);
                    [finish - draft.minutes, finish]
                },
                |index| times[*index],
            );
            let wish = plan.tasks.get(&draft.id);
            let hold = wish.and_then(|wish| wish.hold.clone());
            Task {
                latest: index.get(&at).map_or(when[1], |index| late[*index]),
                times: when,
                done,
                kind: match (&hold, draft.recipe) {
                    (Some(_), _) => TaskKind::Hold,
                    (None, Some(recipe)) => recipe.kind,
                    (None, None) => TaskKind::Work,
                },
                verb: draft.recipe.map_or_else(|| draft.subject.name.clone(), |recipe| recipe.does.clone()),
                subject: draft.subject.short(),
                does: match draft.recipe {
                    Some(recipe) => recipe.does.replace("{it}", &draft.subject.name),
                    None => draft.subject.name.clone(),
                },
                seen: hold.or_else(|| draft.recipe.and_then(|recipe| recipe.seen.clone())),
                caution: draft.recipe.and_then(|recipe| recipe.caution.clone()),
                id: draft.id,
                minutes: draft.minutes,
                two_people: draft.two_people,
                after: draft.after,
            }
        })
        .collect();
    tasks.sort_by(|a, b| (a.done.is_none(), a.times, &a.id).cmp(&(b.done.is_none(), b.times, &b.id)));
    let stretch = |from: &str, to: &str| {
        let of = |id: &str| tasks.iter().find(|task| task.id == id);
        let (from, to) = (of(from)?, of(to)?);
        to.done.is_none().then_some([from.times[0], to.times[1]])
    };
    Order {
        start: plan.calendar.start,
        end: times.iter().map(|times| times[1]).max().unwrap_or(now),
        bound,
        hands,
        without_sink: stretch("isolate-water", "pressure"),
        without_power: stretch("isolate-power", "power-on"),
        order_by,
        trips,
        next,
        loose,
        origin: hours.origin,
        tasks,
    }
}

/// The schedule; where greatest lags or wishes cannot be kept, one without them, and the tasks that this concerns.
fn solved(job: &mut Job, from_link: &[(String, bool)]) -> (Option<dryfit_scheduling::Answer>, Vec<String>) {
    let budget = Budget { steps: 40, seed: 1 };
    match solve(job, budget) {
        Ok(answer) => return (Some(answer), Vec::new()),
        Err(Stuck::Cycle(members)) => {
            // the builder's own wishes come last: what runs in a circle is let go
            let inside =
                |link: &Link| members.contains(&link.from.activity) && members.contains(&link.to.activity);
            job.links.retain(|link| !inside(link));
        }
        Err(_) => {}
    }
    let mut loose: Vec<String> =
        from_link.iter().filter(|(_, within)| *within).map(|(id, _)| id.clone()).collect();
    loose.dedup();
    for link in &mut job.links {
        link.most = None;
    }
    (solve(job, budget).ok(), loose)
}

/// Every task of the plan, still without times.
fn drafts<'a>(basis: &Basis<'_>) -> Vec<Draft<'a>> {
    let plan = basis.plan;
    let mut drafts: Vec<Draft<'a>> = Vec::new();
    for recipe in task_recipes() {
        for subject in subjects(basis, recipe) {
            let id = if subject.key.is_empty() {
                recipe.id.clone()
            } else {
                format!("{}/{}", recipe.id, subject.key)
            };
            let wish = plan.tasks.get(&id);
            let counted = i64::from(recipe.fixed) + i64::from(recipe.minutes) * subject.count / 1000;
            let minutes =
                wish.and_then(|wish| wish.takes).map_or(counted, |takes| i64::from(takes.minutes()));
            let by_rule = match recipe.two_people {
                TwoPeople::Never => false,
                TwoPeople::Heavy => subject.heavy,
                TwoPeople::Always => true,
            };
            let mut after = Vec::new();
            for before in &recipe.after {
                let same =
                    drafts.iter().filter(|draft| draft.recipe.is_some_and(|other| other.id == before.task));
                for draft in same.filter(|draft| subject.follows(&draft.subject)) {
                    let minutes = |text: &Option<String>| {
                        text.as_deref()
                            .and_then(|text| text.parse::<Lasting>().ok())
                            .map(|time| i64::from(time.minutes()))
                    };
                    after.push(After {
                        id: draft.id.clone(),
                        wait: minutes(&before.wait).unwrap_or(0),
                        within: minutes(&before.within),
                        what: before.what.clone(),
                    });
                }
            }
            let two_people = wish.and_then(|wish| wish.two_people).unwrap_or(by_rule);
            let left_out = wish.is_some_and(|wish| wish.left_out);
            drafts.push(Draft { id, recipe: Some(recipe), subject, minutes, two_people, after, left_out });
        }
    }
    for (id, wish) in &plan.tasks {
        let known = drafts.iter().any(|draft| draft.id == *id);
        if let (false, Some(does)) = (known, &wish.does) {
            drafts.push(Draft {
                id: id.clone(),
                recipe: None,
                subject: Subject::named(does),
                minutes: wish.takes.map_or(60, |takes| i64::from(takes.minutes())),
                two_people: wish.two_people.unwrap_or(false),
                after: Vec::new(),
                left_out: wish.left_out,
            });
        }
    }
    let wished = |id: &str| After { id: id.to_owned(), wait: 0, within: None, what: None };
    for (id, wish) in &plan.tasks {
        for before in &wish.after {
            if let Some(draft) = drafts.iter_mut().find(|draft| draft.id == *id) {
                draft.after.push(wished(before));
            }
        }
        for later in &wish.before {
            if let Some(draft) = drafts.iter_mut().find(|draft| draft.id == *later) {
                draft.after.push(wished(id));
            }
        }
    }
    drafts
}

/// Goods with a lead time that a task cannot begin without.
fn needs<'a>(plan: &'a Plan, draft: &Draft<'_>) -> Vec<&'a Key> {
    let Some(recipe) = draft.recipe else { return Vec::new() };
    let unit = || plan.units.iter().find(|(key, _)| key.as_str() == draft.subject.key).map(|(_, unit)| unit);
    let good = match recipe.id.as_str() {
        "sink" | "place" => unit().and_then(|unit| unit.holds.as_ref()),
        "cut" => plan.goods.keys().find(|key| key.as_str() == draft.subject.key),
        "spread" => plan
            .tops
            .iter()
            .find(|(key, _)| key.as_str() == draft.subject.key)
            .and_then(|(_, top)| top.facing.as_ref()),
        _ => None,
    };
    good.filter(|good| !plan.lots.values().any(|lot| lot.good == **good)).into_iter().collect()
}

/// The tick at which a good that was ordered or promised is there.
fn comes(plan: &Plan, hours: &Hours, good: &Key) -> Option<i64> {
    let delivery = plan.calendar.deliveries.get(good)?;
    let lead = plan.goods.get(good).and_then(|good| good.lead_days).unwrap_or(0);
    let day = delivery
        .comes
        .map(Day::date)
        .or_else(|| delivery.ordered.map(|day| hours::working_days(day.date(), i32::from(lead))));
    day.map(|day| hours::tick(hours.origin, day))
}

fn order_by(
    plan: &Plan,
    hours: &Hours,
    drafts: &[Draft<'_>],
    index: &BTreeMap<usize, usize>,
    times: &[[i64; 2]],
) -> Vec<OrderBy> {
    let mut first: BTreeMap<&Key, (i64, &str)> = BTreeMap::new();
    for (at, draft) in drafts.iter().enumerate() {
        let Some(index) = index.get(&at) else { continue };
        for good in needs(plan, draft) {
            let entry = (times[*index][0], draft.id.as_str());
            let known = first.entry(good).or_insert(entry);
            *known = (*known).min(entry);
        }
    }
    first
        .into_iter()
        .filter_map(|(good, (needed, task))| {
            let known = plan.goods.get(good)?;
            let lead = known.lead_days.filter(|days| *days > 0)?;
            let ordered = plan.calendar.deliveries.contains_key(good);
            let by = hours::working_days(hours::date(hours.origin, needed), -i32::from(lead));
            let sold = !matches!(known.form, Form::Supply {});
            (!ordered && sold).then(|| OrderBy { good: good.clone(), task: task.to_owned(), needed, by })
        })
        .collect()
}
