//! The cover: what may be cut today, what is done in the room, what is held back, and five totals.

use dryfit_drawing::Drawing;
use dryfit_measure::Key;
use dryfit_stages::casework::Gate;
use dryfit_stages::layouts::SheetStack;
use dryfit_stages::release::Until;
use dryfit_stages::{Finding, Severity};
use serde::Serialize;

use crate::data::{Body, Page};
use crate::drawings;
use crate::material::{Material, key};
use crate::names::counted;
use crate::pages::{board_page, gate_number};
use crate::words::Words;

/// The cover.
#[derive(Clone, Debug, Serialize)]
#[serde(rename_all = "kebab-case")]
pub struct Cover {
    /// What will not go together, or is unsafe; a banner when there is any.
    pub stops: Vec<Words>,
    /// What may be cut.
    pub today: Vec<Task>,
    /// What is done in the room.
    pub room: Vec<Task>,
    /// What may not be cut yet.
    pub held: Vec<HeldBack>,
    /// Sheets, boards, money.
    pub totals: Vec<Total>,
    /// The room, with what is cut today hatched.
    pub drawing: Option<Drawing>,
}

/// A line to tick.
#[derive(Clone, Debug, Serialize)]
#[serde(rename_all = "kebab-case")]
pub struct Task {
    /// What.
    pub what: Words,
    /// Keys of the pages it is on.
    pub pages: Vec<String>,
}

/// A line of what is held back.
#[derive(Clone, Debug, Serialize)]
#[serde(rename_all = "kebab-case")]
pub struct HeldBack {
    /// What.
    pub what: Words,
    /// What would release it.
    pub until: Words,
    /// The number of its gate, where it is one.
    pub gate: Option<u32>,
    /// Keys of the pages on which the gate's boxes are.
    pub pages: Vec<String>,
    /// A box to write a reading in.
    pub blank: bool,
}

/// A number that sums up.
#[derive(Clone, Debug, Serialize)]
#[serde(rename_all = "kebab-case")]
pub struct Total {
    /// The number: "3", "$697".
    pub figure: String,
    /// What it counts.
    pub label: Words,
}

/// How many stops the banner says in full.
const STOPS: usize = 2;

/// The cover. `others` are the pages behind it, which it refers to.
pub(crate) fn cover(m: &Material<'_>, others: &[Page]) -> Page {
    let release = &m.derived.release;
    let cover = Cover {
        stops: stops(&m.derived.findings),
        today: today(m, others),
        room: in_the_room(m),
        held: held(m, others),
        totals: totals(m),
        drawing: drawings::cover(m),
    };
    let inputs = Words::bold(m.plan.name.clone()).plain(" · only what is true today");
    Page::new("cover", format!("Release {}", release.number), inputs, Body::Cover(cover))
}

fn stops(findings: &[Finding]) -> Vec<Words> {
    let grave = |f: &&Finding| f.severity == Severity::Stop && f.waived.is_none();
    let all: Vec<&Finding> = findings.iter().filter(grave).collect();
    let mut said: Vec<Words> = all.iter().take(STOPS).map(|f| f.what.replace('`', "").into()).collect();
    if all.len() > STOPS {
        said.push(format!("and {} more", all.len() - STOPS).into());
    }
    if let Some(last) = said.pop() {
        said.push(last.plain(", ").pages(["findings".to_owned()]));
    }
    said
}

/// The pages of a unit: its own, its parts', not those of sheets.
fn pages_of(unit: &Key, others: &[Page]) -> Vec<String> {
    let own = key::unit(unit);
    let (steps, parts) = (key::steps(unit), key::part(unit, ""));
    others
        .iter()
        .map(|page| &page.key)
        .filter(|key| **key == own || **key == steps || key.starts_with(&parts))
        .cloned()
        .collect()
}

fn today(m: &Material<'_>, others: &[Page]) -> Vec<Task> {
    let units = m.derived.release.cut_today.iter().map(|ready| Task {
        what: m.names.unit(&ready.unit).plain(format!(": {}", ready.what.replace(" and ", ", "))),
        pages: pages_of(&ready.unit, others),
    });
    let layouts = &m.derived.layouts;
    let sheets = layouts
        .sheets
        .iter()
        .map(|stack| stack_task(m, stack, "sheet", |stack, i| key::sheet(&stack.good, i)));
    let boards =
        layouts.boards.iter().map(|stack| stack_task(m, stack, "board", |stack, i| board_page(m, stack, i)));
    units.chain(sheets).chain(boards).filter(|task| !task.pages.is_empty()).collect()
}

/// The sheets of one good that hold anything to cut today.
fn stack_task(
    m: &Material<'_>,
    stack: &SheetStack,
    one: &str,
    page: impl Fn(&SheetStack, usize) -> String,
) -> Task {
    let ready: Vec<usize> = (0..stack.sheets.len())
        .filter(|index| stack.sheets[*index].pieces.iter().any(|piece| m.waits(&piece.path).is_none()))
        .collect();
    let mut pages: Vec<String> = ready.iter().map(|index| page(stack, *index)).collect();
    pages.dedup();
    Task { what: format!("{}, {}", m.names.good_thin(&stack.good), counted(ready.len(), one)).into(), pages }
}

fn in_the_room(m: &Material<'_>) -> Vec<Task> {
    let lined = |wall: &&dryfit_stages::survey::WallLine| {
        m.derived.placement.lines.iter().any(|line| line.walls.contains(&wall.key))
    };
    let walls = m.derived.survey.walls.iter().filter(lined).map(|wall| Task {
        what: format!("level lines, {}", m.names.wall(&wall.key)).into(),
        pages: vec![key::wall(&wall.key)],
    });
    walls.collect()
}

/// What is held back, rows that wait for the same merged.
fn held(m: &Material<'_>, others: &[Page]) -> Vec<HeldBack> {
    let mut rows: Vec<(String, &Until, Vec<&Key>)> = Vec::new();
    for held in &m.derived.release.held {
        let same = |row: &&mut (String, &Until, Vec<&Key>)| row.0 == held.what && alike(row.1, &held.until);
        match rows.iter_mut().find(same) {
            Some((_, _, subjects)) => subjects.push(&held.subject),
            None => rows.push((held.what.clone(), &held.until, vec![&held.subject])),
        }
    }
    rows.iter().map(|(what, until, subjects)| held_row(m, what, until, subjects, others)).collect()
}

fn alike(a: &Until, b: &Until) -> bool {
    match (a, b) {
        (Until::Readings(a), Until::Readings(b)) => a == b,
        (Until::Openings, Until::Openings) | (Until::UnitsSet, Until::UnitsSet) => true,
        _ => false,
    }
}

fn held_row(m: &Material<'_>, what: &str, until: &Until, subjects: &[&Key], others: &[Page]) -> HeldBack {
    let what = if what == "all of it" { String::new() } else { format!(" {what}") };
    let named = match subjects {
        [one] => m.names.subject(one),
        several => {
            let names: Vec<String> = several.iter().map(|key| m.names.short(key)).collect();
            Words::bold(names.join(", "))
        }
    };
    let (until, gate, pages, blank) = match until {
        Until::Readings(readings) => (readings.join("; "), None, Vec::new(), true),
        Until::Openings => {
            let pages = subjects.iter().map(|unit| boxes_page(unit, others)).collect();
            ("openings as built".to_owned(), Some(gate_number(Gate::Openings)), pages, false)
        }
        Until::UnitsSet => (
            "units fixed, measured over all".to_owned(),
            Some(gate_number(Gate::UnitsSet)),
            Vec::new(),
            false,
        ),
    };
    HeldBack { what: named.plain(what), until: until.into(), gate, pages, blank }
}

/// The page of a unit on which the boxes of its openings are.
fn boxes_page(unit: &Key, others: &[Page]) -> String {
    let steps = key::steps(unit);
    if others.iter().any(|page| page.key == steps) { steps } else { key::unit(unit) }
}

fn totals(m: &Material<'_>) -> Vec<Total> {
    let bought = |stacks: &[SheetStack]| stacks.iter().map(SheetStack::bought).sum::<usize>();
    let layouts = &m.derived.layouts;
    let mut totals = Vec::new();
    for (count, label) in [(bought(&layouts.sheets), "sheet"), (bought(&layouts.boards), "board")] {
        if count > 0 {
            let label = if count == 1 { label.to_owned() } else { format!("{label}s") };
            totals.push(Total { figure: count.to_string(), label: label.into() });
        }
    }
    totals.push(Total {
        figure: m.names.money_whole(m.derived.takeoff.total),
        label: Words::from("to buy, ").pages(["buy".to_owned()]),
    });
    totals
}
