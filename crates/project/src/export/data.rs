//! What follows from the plan as JSON, for programs: wire types, apart from the run-time ones.

use dryfit_measure::{Length, because};
use dryfit_plan::Hand;
use dryfit_stages::layouts::Rect;
use serde::Serialize;

use super::tables::{millimetres, unit_name};
use crate::open::Project;
use crate::wire::Report;

#[derive(Serialize)]
struct Derived<'a> {
    /// Version of this form.
    format: u32,
    name: &'a str,
    /// What `text` is in.
    unit: &'static str,
    dimensions: Vec<Dimension>,
    parts: Vec<Part<'a>>,
    sheets: Vec<Sheet>,
    buying: Vec<Buy>,
    tasks: Vec<Task<'a>>,
    trips: Vec<Trip>,
    costs: Vec<Cost>,
    findings: Report,
}

/// One sheet or board: its pieces and what is kept of it.
#[derive(Serialize)]
struct Sheet {
    good: String,
    length: Shown,
    width: Shown,
    cuts: usize,
    pieces: Vec<Piece>,
    offcuts: Vec<Piece>,
}

/// A piece as it lies, from the sheet's corner.
#[derive(Serialize)]
struct Piece {
    path: String,
    x_mm: String,
    y_mm: String,
    length: Shown,
    width: Shown,
}

/// A task with the minutes from the midnight before the first day, and its day where the first one is stated.
#[derive(Serialize)]
struct Task<'a> {
    id: &'a str,
    does: &'a str,
    begins: i64,
    ends: i64,
    day: Option<String>,
    minutes: i64,
    two_people: bool,
    after: Vec<&'a str>,
}

#[derive(Serialize)]
struct Trip {
    day: Option<String>,
    goods: Vec<String>,
}

/// A category of the account, tools apart from the materials.
#[derive(Serialize)]
struct Cost {
    category: &'static str,
    planned: String,
    paid: String,
    to_pay: String,
}

/// A derived dimension: what `why` takes, split at the dot.
#[derive(Serialize)]
struct Dimension {
    place: String,
    #[serde(rename = "dimension")]
    what: &'static str,
    #[serde(flatten)]
    length: Shown,
    because: String,
}

/// A length: as the tape shows it, and exactly.
#[derive(Serialize)]
struct Shown {
    text: String,
    mm: String,
}

#[derive(Serialize)]
struct Part<'a> {
    path: String,
    name: &'a str,
    hand: Option<&'static str>,
    good: &'a str,
    length: Shown,
    width: Shown,
    thickness: Shown,
}

#[derive(Serialize)]
struct Buy {
    good: String,
    needed: String,
    on_hand: String,
    packs: Vec<(String, u32)>,
    price: Option<String>,
    why: String,
}

/// All of it, indented, with a line end.
pub(super) fn derived(project: &Project) -> String {
    let (plan, derived) = (&project.plan, &project.derived);
    let shown =
        |length: Length| Shown { text: super::tables::text(length, plan.fineness), mm: millimetres(length) };
    let all = derived.dims();
    let dimensions = all.iter().map(|one| Dimension {
        place: one.place.clone(),
        what: one.dimension,
        length: shown(one.dim.length()),
        because: because(one.dim, plan.fineness),
    });
    let units = derived.casework.units.iter();
    let parts =
        units.flat_map(|unit| unit.parts.iter().map(move |part| (unit, part))).map(|(unit, part)| Part {
            path: format!("{}/{}", unit.key, part.role),
            name: &part.name,
            hand: part.hand.map(|hand| match hand {
                Hand::Left => "left",
                Hand::Right => "right",
            }),
            good: part.good.as_str(),
            length: shown(part.length.length()),
            width: shown(part.width.length()),
            thickness: shown(part.thickness.length()),
        });
    let buying = derived.takeoff.lines.iter().map(|line| Buy {
        good: line.good.to_string(),
        needed: line.needed.figure(plan.entry_unit),
        on_hand: line.on_hand.figure(plan.entry_unit),
        packs: line.packs.iter().map(|pack| (pack.pack.to_string(), pack.count)).collect(),
        price: line.price.map(|price| price.to_string()),
        why: line.why.clone(),
    });
    let stacks = derived.layouts.sheets.iter().chain(&derived.layouts.boards);
    let sheets = stacks.flat_map(|stack| stack.sheets.iter().map(move |sheet| (stack, sheet))).map(
        |(stack, sheet)| {
            let piece = |path: &str, rect: &Rect| Piece {
                path: path.to_owned(),
                x_mm: millimetres(rect.x),
                y_mm: millimetres(rect.y),
                length: shown(rect.length),
                width: shown(rect.width),
            };
            Sheet {
                good: stack.good.to_string(),
                length: shown(sheet.length),
                width: shown(sheet.width),
                cuts: sheet.cuts.len(),
                pieces: sheet.pieces.iter().map(|one| piece(&one.path, &one.rect)).collect(),
                offcuts: sheet.offcuts.iter().map(|one| piece(&one.name, &one.rect)).collect(),
            }
        },
    );
    let order = &derived.order;
    let day = |tick: i64| order.start.map(|_| order.date(tick).to_string());
    let tasks = order.tasks.iter().map(|task| Task {
        id: &task.id,
        does: &task.does,
        begins: task.times[0],
        ends: task.times[1],
        day: day(task.times[0]),
        minutes: task.minutes,
        two_people: task.two_people,
        after: task.after.iter().map(|after| after.id.as_str()).collect(),
    });
    let trips = order
        .trips
        .iter()
        .map(|trip| Trip { day: day(trip.day), goods: trip.goods.iter().map(ToString::to_string).collect() });
    let ledger = &derived.ledger;
    let costs = ledger.categories.iter().chain([&ledger.tools]).map(|row| Cost {
        category: row.of.name(),
        planned: row.planned.to_string(),
        paid: row.paid.to_string(),
        to_pay: row.to_pay.to_string(),
    });
    let whole = Derived {
        format: 1,
        name: &plan.name,
        unit: unit_name(plan.entry_unit),
        dimensions: dimensions.collect(),
        parts: parts.collect(),
        sheets: sheets.collect(),
        buying: buying.collect(),
        tasks: tasks.collect(),
        trips: trips.collect(),
        costs: costs.collect(),
        findings: project.report(),
    };
    // plain data: it can always be written
    let mut json = serde_json::to_string_pretty(&whole).unwrap_or_default();
    json.push('\n');
    json
}
