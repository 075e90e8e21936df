//! What there is to order and to do, as iCalendar (RFC 5545).
//!
//! A task stands at its time by the clock on the wall; what has no day yet is a to-do. The stamp of every entry is the latest day that the plan states, never the clock.

use dryfit_plan::Day;
use dryfit_stages::release::Until;
use icalendar::{Calendar, Component, Event, Property, Todo};

use crate::open::Project;

/// The calendar of a project.
pub(super) fn calendar(project: &Project) -> String {
    let mut calendar = Calendar::empty();
    for property in [("VERSION", "2.0"), ("PRODID", "-//Dryfit//export//EN"), ("CALSCALE", "GREGORIAN")] {
        calendar.append_property(property);
    }
    calendar.name(&project.plan.name);
    let stamp = stamp(project);
    for entry in entries(project) {
        match &entry.when {
            When::Open => {
                calendar.push(filled(Todo::new(), &entry, &stamp));
            }
            When::By(day) => {
                let mut due = Property::new("DUE", day);
                due.add_parameter("VALUE", "DATE");
                let mut todo = filled(Todo::new(), &entry, &stamp);
                todo.append_property(due);
                calendar.push(todo);
            }
            When::Between([from, to]) => {
                let mut event = filled(Event::new(), &entry, &stamp);
                event.add_property("DTSTART", from).add_property("DTEND", to);
                calendar.push(event);
            }
        }
    }
    calendar.to_string()
}

/// An entry with what each has; the library would put a random id and the clock's time where none are given.
fn filled<C: Component>(mut component: C, entry: &Entry, stamp: &str) -> C {
    component
        .add_property("UID", format!("{}@dryfit.invalid", entry.id))
        .add_property("DTSTAMP", stamp)
        .summary(&entry.what)
        .description(&entry.why);
    component
}

/// When an entry is.
enum When {
    /// No day is known.
    Open,
    /// By the end of a day: `20260314`.
    By(String),
    /// From and to, by the clock on the wall, wherever it hangs: `20260314T090000`.
    Between([String; 2]),
}

/// Something to do.
struct Entry {
    /// The same every time it is exported, so that a calendar that takes it twice shows it once.
    id: String,
    what: String,
    why: String,
    when: When,
}

/// Tasks at their times, what has to be ordered by when, and what is waited for. Without a first day, orders carry
/// their lead alone and what may be cut is to do.
fn entries(project: &Project) -> Vec<Entry> {
    let order = &project.derived.order;
    let mut entries = if order.start.is_some() { planned(project) } else { undated(project) };
    for held in &project.derived.release.held {
        let until = match &held.until {
            Until::Readings(readings) => format!("these readings are taken: {}", readings.join("; ")),
            Until::Openings => "its openings are measured as built".to_owned(),
            Until::UnitsSet => "the units are fixed and measured over all".to_owned(),
        };
        entries.push(Entry {
            id: format!("held-{}-{}", held.subject, held.what.replace(' ', "-")),
            what: format!("{} {}: hold", held.subject, held.what),
            why: format!("until {until}"),
            when: When::Open,
        });
    }
    entries
}

/// The order of work, what is done already left out, and the last days to order.
fn planned(project: &Project) -> Vec<Entry> {
    let order = &project.derived.order;
    let mut entries = Vec::new();
    for by in &order.order_by {
        let name = project.plan.goods.get(&by.good).map_or_else(|| by.good.to_string(), |it| it.name.clone());
        entries.push(Entry {
            id: format!("order-{}", by.good),
            what: format!("order {name}"),
            why: format!("needed on {} for {}", order.day_name(by.needed), by.task),
            when: When::By(by.by.strftime("%Y%m%d").to_string()),
        });
    }
    for task in order.tasks.iter().filter(|task| task.done.is_none()) {
        let clock = |tick: i64| {
            let minute = tick.rem_euclid(24 * 60);
            format!("{}T{:02}{:02}00", order.date(tick).strftime("%Y%m%d"), minute / 60, minute % 60)
        };
        let said = [&task.seen, &task.caution].into_iter().flatten().cloned();
        let two = task.two_people.then(|| "two people".to_owned());
        entries.push(Entry {
            id: format!("task-{}", task.id.replace('/', "-")),
            what: task.does.clone(),
            why: said.chain(two).collect::<Vec<_>>().join("; "),
            when: When::Between(task.times.map(clock)),
        });
    }
    entries
}

/// Goods that take days to come, and what may be cut.
fn undated(project: &Project) -> Vec<Entry> {
    let mut entries = Vec::new();
    for line in project.derived.takeoff.lines.iter().filter(|line| line.is_bought()) {
        let Some(good) = project.plan.goods.get(&line.good) else { continue };
        if let Some(days) = good.lead_days.filter(|days| *days > 0) {
            let plural = if days == 1 { "" } else { "s" };
            entries.push(Entry {
                id: format!("order-{}-{}", line.good, line.category.name().replace(' ', "-")),
                what: format!("order {}: {days} working day{plural} before it is wanted", good.name),
                why: line.why.clone(),
                when: When::Open,
            });
        }
    }
    for ready in &project.derived.release.cut_today {
        entries.push(Entry {
            id: format!("cut-{}", ready.unit),
            what: format!("cut {} {}", ready.unit, ready.what),
            why: format!("release {}: all its sizes are known", project.derived.release.number),
            when: When::Open,
        });
    }
    entries
}

/// The latest day that the plan states, as a stamp.
fn stamp(project: &Project) -> String {
    let plan = &project.plan;
    let asked = plan.goods.values().flat_map(|good| good.packs.values()).filter_map(|pack| pack.asked_on);
    let epochs = plan.epochs.values().filter_map(|epoch| epoch.date);
    let day: Option<Day> = asked.chain(epochs).max();
    let day = day.map_or_else(|| "19700101".to_owned(), |day| day.to_string().replace('-', ""));
    format!("{day}T000000Z")
}
