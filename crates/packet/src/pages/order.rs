//! The order of work: one rail of tasks, waits, hold points and gates, day by day.

use dryfit_stages::casework::Gate;
use dryfit_stages::order::{Order as Stage, Task as Planned, TaskKind};
use serde::Serialize;

use crate::data::{Body, Page};
use crate::material::Material;
use crate::names::counted;
use crate::pages::{Total, gate_number};
use crate::words::Words;

/// The order of work.
#[derive(Clone, Debug, Serialize)]
#[serde(rename_all = "kebab-case")]
pub struct Order {
    /// The rail, from the first day on.
    pub rows: Vec<OrderRow>,
    /// What has to be ordered by when.
    pub order_by: Vec<Words>,
    /// Hours, days of waiting, days without a sink.
    pub totals: Vec<Total>,
}

/// One stop on the rail.
#[derive(Clone, Debug, Serialize)]
#[serde(rename_all = "kebab-case")]
pub struct OrderRow {
    /// `work`, `hold`, `gate` or `wait`.
    pub sort: &'static str,
    /// Its number, of work and of gates.
    pub number: u32,
    /// What to do, what is seen, what dries.
    pub what: Words,
    /// The day it begins: "Sat 14 Mar"; empty where it is that of the row above.
    pub day: String,
    /// Hours of work, or of waiting.
    pub hours: String,
    /// Whether it takes two people.
    pub two: bool,
    /// Whether it may not slip.
    pub critical: bool,
    /// Whether it is done.
    pub done: bool,
}

/// The page of the order of work; none where there is nothing to do.
pub(crate) fn order(m: &Material<'_>) -> Option<Page> {
    let order = &m.derived.order;
    let first = order.tasks.first()?;
    let mut rows: Vec<OrderRow> = Vec::new();
    let (mut tasks, mut others) = (0, 0);
    let mut at = 0;
    let mut last_day = String::new();
    while let Some(task) = order.tasks.get(at) {
        let alike = |other: &&Planned| {
            other.verb == task.verb && other.done.is_some() == task.done.is_some() && !task.subject.is_empty()
        };
        let group: Vec<&Planned> = match order.tasks[at..].iter().take_while(alike).collect::<Vec<_>>() {
            none if none.is_empty() => vec![task],
            some => some,
        };
        at += group.len();
        rows.extend(wait(order, &group));
        let day = order.day_name(group[0].times[0]);
        let number = match task.kind {
            // as the other pages number them
            TaskKind::Gate => match task.id.as_str() {
                "openings" => gate_number(Gate::Openings),
                "units-set" => gate_number(Gate::UnitsSet),
                _ => {
                    others += 1;
                    gate_number(Gate::UnitsSet) + others
                }
            },
            TaskKind::Hold => 0,
            TaskKind::Work => {
                tasks += 1;
                tasks
            }
        };
        let subjects: Vec<&str> = group.iter().map(|task| task.subject.as_str()).collect();
        let what = Words::bold(task.verb.replace("{it}", &subjects.join(", ")));
        let what = match &task.seen {
            Some(seen) => what.plain(format!("  {seen}")),
            None => what,
        };
        rows.push(OrderRow {
            sort: match task.kind {
                TaskKind::Work => "work",
                TaskKind::Hold => "hold",
                TaskKind::Gate => "gate",
            },
            number,
            what,
            day: if day == last_day { String::new() } else { day.clone() },
            hours: hours(group.iter().map(|task| task.minutes).sum()),
            two: group.iter().any(|task| task.two_people),
            critical: group.iter().any(|task| task.is_critical()),
            done: task.done.is_some(),
        });
        last_day = day;
    }
    let inputs = format!(
        "{} to {}; a bar at the left: it may not slip. Black: stop until its boxes are filled. Octagon: until it is seen",
        order.day_name(first.times[0]),
        order.day_name(order.end - 1)
    );
    let order_by = order
        .order_by
        .iter()
        .map(|one| {
            let (good, needed) = (m.names.good(&one.good), order.day_name(one.needed));
            if order.start.is_some() {
                return Words::bold(order.day_name_of(one.by)).plain(format!(" {good}, needed on {needed}"));
            }
            // without a first day there are no dates, but it comes no sooner
            let lead = m.plan.goods.get(&one.good).and_then(|good| good.lead_days).unwrap_or(0);
            let days = counted(usize::from(lead), "working day");
            Words::bold(days).plain(format!(" before {needed}: {good}"))
        })
        .collect();
    let body = Order { rows, order_by, totals: totals(order) };
    Some(Page::new("order", "Order of work", inputs, Body::Order(body)))
}

/// What has to be waited for before a row; none where other work lasted a day longer than that.
fn wait(order: &Stage, group: &[&Planned]) -> Option<OrderRow> {
    let open = group.iter().filter(|task| task.done.is_none());
    let waits = open.flat_map(|task| task.after.iter().map(move |after| (*task, after)));
    let binds = |(task, after): &(&Planned, &dryfit_stages::order::After)| {
        let before = order.task(&after.id).filter(|before| before.done.is_none());
        after.wait > 0 && before.is_some_and(|before| task.times[0] - before.times[1] <= after.wait + 24 * 60)
    };
    let (_, longest) = waits.filter(binds).max_by_key(|(_, after)| after.wait)?;
    let within =
        longest.within.map(|within| format!(", and no longer than {within} min")).unwrap_or_default();
    Some(OrderRow {
        sort: "wait",
        number: 0,
        what: format!("{}{within}", longest.what.as_deref().unwrap_or("wait")).into(),
        day: String::new(),
        hours: if longest.wait < 60 {
            format!("wait {} min", longest.wait)
        } else {
            format!("wait {} h", longest.wait / 60)
        },
        two: false,
        critical: false,
        done: false,
    })
}

/// Hours of work, to the half.
fn hours(minutes: i64) -> String {
    let halves = (minutes + 15).div_euclid(30).max(1);
    if halves % 2 == 0 { (halves / 2).to_string() } else { format!("{}.5", halves / 2) }
}

fn totals(order: &Stage) -> Vec<Total> {
    let days = |stretch| Stage::days(stretch);
    let counted = |count: i64| if count == 1 { "1 day".to_owned() } else { format!("{count} days") };
    let mut totals = vec![Total { figure: format!("{} h", hours(order.hands)), label: "of hands".into() }];
    if let Some(stretch) = order.without_sink {
        totals.push(Total { figure: counted(days(stretch)), label: "without a sink".into() });
    }
    if let Some(stretch) = order.without_power {
        totals.push(Total { figure: counted(days(stretch)), label: "without power".into() });
    }
    totals.push(Total { figure: order.day_name(order.end - 1), label: "ready".into() });
    totals
}
