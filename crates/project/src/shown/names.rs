//! What things are called on the page.

use dryfit_measure::{Key, Length, Money};
use dryfit_plan::{Plan, Subject};

use super::number::{Run, number};

/// "garden wall", else "wall B–C".
pub(super) fn wall(plan: &Plan, key: &Key) -> String {
    match plan.walls.get(key) {
        Some(wall) => wall.name.clone().unwrap_or_else(|| format!("wall {}–{}", wall.from, wall.to)),
        None => format!("wall {key}"),
    }
}

/// "B–C": a wall by its corners.
pub(super) fn corners(plan: &Plan, key: &Key) -> String {
    plan.walls.get(key).map_or_else(|| key.to_string(), |wall| format!("{}–{}", wall.from, wall.to))
}

/// What stands behind a unit's key: its name, else what it is.
pub(super) fn unit(plan: &Plan, key: &Key) -> String {
    let Some(unit) = plan.units.get(key) else { return String::new() };
    unit.name.clone().unwrap_or_else(|| dryfit_packet::kind(unit.kind).to_owned())
}

/// Money with its sign.
pub(super) fn money(plan: &Plan, money: Money) -> String {
    money.with(plan.money.currency).to_string()
}

/// What a reading is of, as runs: "A–B, 36 up".
pub(super) fn reading(plan: &Plan, of: &Subject, height: Option<Length>) -> Vec<Run> {
    let place = |at: &dryfit_plan::Place| {
        let mut runs = vec![Run::Text(format!("{}, ", corners(plan, &at.wall)))];
        runs.push(Run::Number(number(at.along.length, plan.fineness)));
        runs.push(Run::Text(" along".into()));
        runs
    };
    let mut runs = match of {
        Subject::Span { from, to } | Subject::Diagonal { from, to } => {
            vec![Run::Text(format!("{from}–{to}"))]
        }
        Subject::Lean { wall } => vec![Run::Text(format!("lean of {}", corners(plan, wall)))],
        Subject::Floor { at } => [vec![Run::Text("floor, ".into())], place(at)].concat(),
        Subject::Ceiling { at } => [vec![Run::Text("ceiling, ".into())], place(at)].concat(),
    };
    if let Some(height) = height {
        runs.push(Run::Text(", ".into()));
        runs.push(Run::Number(number(height, plan.fineness)));
        runs.push(Run::Text(" up".into()));
    }
    runs
}
