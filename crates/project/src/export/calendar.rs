//! What there is to order and to do, as iCalendar (RFC 5545).
//!
//! What has no day yet is a to-do. The stamp of every entry is the latest day that the plan states, never the clock.

use dryfit_plan::Day;
use dryfit_stages::release::Until;
use icalendar::{Calendar, Component, Todo};

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
        let mut todo = Todo::new();
        // the crate puts random ids and the clock's time where none are given
        todo.uid(&format!("{}@dryfit.invalid", entry.id))
            .add_property("DTSTAMP", &stamp)
            .summary(&entry.what)
            .description(&entry.why);
        calendar.push(todo);
    }
    calendar.to_string()
}

/// Something to do.
struct Entry {
    /// The same every time it is exported, so that a calendar that takes it twice shows it once.
    id: String,
    what: String,
    why: String,
}

/// What has to be ordered because it takes days to come, what may be cut, and what is waited for.
fn entries(project: &Project) -> Vec<Entry> {
    let mut entries = Vec::new();
    for line in project.derived.takeoff.lines.iter().filter(|line| line.is_bought()) {
        let Some(good) = project.plan.goods.get(&line.good) else { continue };
        if let Some(days) = good.lead_days.filter(|days| *days > 0) {
            let plural = if days == 1 { "" } else { "s" };
            entries.push(Entry {
                id: format!("order-{}-{}", line.good, line.category.name().replace(' ', "-")),
                what: format!("order {}: {days} working day{plural} before it is wanted", good.name),
                why: line.why.clone(),
            });
        }
    }
    for ready in &project.derived.release.cut_today {
        entries.push(Entry {
            id: format!("cut-{}", ready.unit),
            what: format!("cut {} {}", ready.unit, ready.what),
            why: format!("release {}: all its sizes are known", project.derived.release.number),
        });
    }
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
